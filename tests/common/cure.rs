//! Coatings and trays shared by the tests of drying and curing.
#![allow(dead_code, reason = "each test uses its own part")]

use brimful::cure::Warning;
use brimful::cure::air::{Air, Draught};
use brimful::cure::compare::Comparison;
use brimful::cure::epoxy::Epoxy;
use brimful::cure::epoxy::kinetics::Kinetics;
use brimful::cure::situation::Situation;
use brimful::cure::transfer::{Exposure, Footprint, Tray};
use brimful::cure::water_film::{FilmProperties, WaterFilm};
use brimful::quantity::{Diffusivity, Humidity, Length, MolarEnergy, Share, Temperature};
use brimful::stage::Stage;

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

pub fn air(celsius: f64, percent: f64) -> Air {
    Air::of_room(
        Temperature::from_celsius(celsius),
        Humidity::from_percent(percent),
        Draught::Still,
    )
    .unwrap()
}

pub fn disc() -> Footprint {
    Footprint::Disc {
        diameter: Length::from_mm(25.0),
    }
}

/// A 2 mm dome on a 25 mm round at its label's conditions.
pub fn dome() -> Situation {
    let alone = Exposure::alone(disc()).unwrap();
    Situation::new(Air::REFERENCE, alone, Length::from_mm(2.0))
}

pub fn likely(comparison: &Comparison, stage: Stage) -> f64 {
    let found = comparison.stages.iter().find(|s| s.stage == stage).unwrap();
    found.outcome.likely().unwrap()
}

pub fn codes(comparison: &Comparison) -> Vec<&'static str> {
    comparison.warnings.iter().map(Warning::code).collect()
}
