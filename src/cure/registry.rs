//! Every law by the name that `data/coatings.toml` gives it.

use super::airing::Airing;
use super::epoxy::Epoxy;
use super::lamp::Lamp;
use super::law::{Law, LawError, Properties};
use super::moisture::MoistureCure;
use super::water_film::WaterFilm;

/// Makes one law from a coating's properties.
type Maker = fn(&Properties) -> Result<Box<dyn Law>, LawError>;

/// Every law by name: a new family adds a row.
const LAWS: &[(&str, Maker)] = &[
    (WaterFilm::NAME, WaterFilm::from_properties),
    (Epoxy::NAME, Epoxy::from_properties),
    (Airing::NAME, Airing::from_properties),
    (Lamp::NAME, Lamp::from_properties),
    (MoistureCure::NAME, MoistureCure::from_properties),
];

/// The law of this name with a coating's properties.
///
/// `property` answers a key of `data/coatings.toml` in SI units (temperatures
/// in °C), or nothing. The keys each law asks for:
///
/// | law | keys |
/// | --- | --- |
/// | `water film` | `solids`, `water_diffusivity`, `diffusion_energy`, `film_forming_minimum` |
/// | `epoxy` | none |
/// | `airing` | none |
/// | `lamp` | `critical_dose`, `penetration_depth`, `lamp_irradiance` |
/// | `moisture cure` | `permeation_energy` |
///
/// ```
/// let law = brimful::cure::law("epoxy", &|_| None)?;
/// assert_eq!(law.name(), "epoxy");
/// # Ok::<(), brimful::cure::LawError>(())
/// ```
///
/// # Errors
/// [`LawError::Unknown`] for another name, [`LawError::Missing`] and
/// [`LawError::OutOfRange`] for the coating's properties.
pub fn law(name: &str, property: &dyn Fn(&str) -> Option<f64>) -> Result<Box<dyn Law>, LawError> {
    let (law, make) = LAWS
        .iter()
        .find(|(known, _)| *known == name)
        .ok_or_else(|| LawError::Unknown {
            name: name.to_owned(),
            known: names().collect(),
        })?;
    make(&Properties {
        law,
        read: property,
    })
}

/// Names of all the laws.
pub fn names() -> impl Iterator<Item = &'static str> {
    LAWS.iter().map(|(name, _)| *name)
}
