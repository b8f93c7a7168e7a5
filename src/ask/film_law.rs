//! The law of drying or curing of a coating, from its properties.

use crate::coating::{Coating, Key, Law as LawName};
use crate::cure::{Law, LawError, airing::Airing, epoxy::Epoxy, law, water_film::WaterFilm};

/// The law that a coating dries or cures by. Properties are looked up by the
/// names of the coating files, and their ranges as `name.low` and `name.high`;
/// a value without a range is both.
///
/// # Errors
/// [`LawError`] where the coating lacks a property or it is out of range.
pub fn law_of(coating: &Coating) -> Result<Box<dyn Law>, LawError> {
    let name = match coating.law() {
        LawName::WaterFilm => WaterFilm::NAME,
        LawName::Epoxy => Epoxy::NAME,
        LawName::Airing => Airing::NAME,
    };
    law(name, &|asked| {
        let (name, end) = asked.split_once('.').unwrap_or((asked, ""));
        let property = coating.property(Key::named(name)?)?;
        let [low, high] = property.range.unwrap_or([property.value; 2]);
        match end {
            "" => Some(property.value.si),
            "low" => Some(low.si),
            "high" => Some(high.si),
            _ => None,
        }
    })
}
