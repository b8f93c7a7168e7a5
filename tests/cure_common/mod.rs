//! Coatings and trays shared by the tests of drying and curing.
#![allow(dead_code, reason = "each test uses its own part")]

use brimful::cure::epoxy::Epoxy;
use brimful::cure::epoxy::kinetics::Kinetics;
use brimful::cure::transfer::Tray;
use brimful::cure::water_film::{FilmProperties, WaterFilm};
use brimful::quantity::{Diffusivity, Length, MolarEnergy, Share, Temperature};

/// A typical glaze, as the reference tables take it.
pub const GLAZE: FilmProperties = FilmProperties {
    solids: Share::from_percent(50.0),
    water_diffusivity: Diffusivity::from_m2_per_s(2e-11),
    diffusion_energy: MolarEnergy::from_kj_per_mol(45.0),
    film_forming_minimum: Temperature::from_celsius(0.0),
};

pub fn glaze_forming_at(minimum: f64) -> WaterFilm {
    WaterFilm::new(FilmProperties {
        film_forming_minimum: Temperature::from_celsius(minimum),
        ..GLAZE
    })
    .unwrap()
}

pub fn glaze() -> WaterFilm {
    glaze_forming_at(0.0)
}

pub fn epoxy() -> Epoxy {
    Epoxy::new(Kinetics::usual())
}

pub fn tray(pieces: u32) -> Tray {
    Tray {
        length: Length::from_mm(300.0),
        width: Length::from_mm(400.0),
        pieces,
    }
}
