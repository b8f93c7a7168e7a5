//! Coating families, read from the embedded table.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use super::data;
use crate::coating::{Key, Label, Property};

/// The law that a coating dries or cures by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Law {
    /// Water leaves a film, first from its surface, then from within.
    WaterFilm,
    /// Two parts react.
    Epoxy,
    /// Solvent airs off a thin line; no formula is offered for another room.
    Airing,
    /// A lamp's light cures it.
    Lamp,
    /// Vapour of the air cures it, from its surface inwards.
    MoistureCure,
}

/// How a coating goes on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Applied {
    /// Flooded to the edge and held there as a dome.
    Flooded,
    /// Brushed as a thin film.
    Brushed,
    /// Drawn, as ink is; the amount is not counted.
    Drawn,
}

/// A family of coatings: what is assumed until the maker's file says otherwise.
#[derive(Debug, Clone, PartialEq)]
pub struct Family {
    /// What run files call it.
    pub name: String,
    /// The law that it dries or cures by.
    pub law: Law,
    /// How it goes on.
    pub applied: Applied,
    /// Which cautions go with it.
    pub cautions: String,
    /// Its properties.
    pub properties: BTreeMap<Key, Property>,
    /// What its labels usually say.
    pub label: Label,
}

// The embedded file can't change after the build and a test reads it, so a fault in it can't reach a user.
static FAMILIES: LazyLock<Vec<Family>> =
    LazyLock::new(|| data::families().expect("the embedded families are read by a test"));

/// Every family.
#[must_use]
pub fn families() -> &'static [Family] {
    &FAMILIES
}

/// The family called `name`.
#[must_use]
pub fn family(name: &str) -> Option<&'static Family> {
    families().iter().find(|family| family.name == name)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::coating::Source;
    use crate::stage::Stage;

    #[test]
    fn every_embedded_family_is_read_whole() {
        let families = data::families().unwrap();
        assert_eq!(families.len(), 7);
        for family in &families {
            assert!(
                crate::coating::cautions(&family.cautions).is_some(),
                "{}",
                family.name
            );
            assert!(
                Stage::ALL
                    .iter()
                    .any(|&stage| family.label.stage(stage).is_some())
            );
            for (key, property) in &family.properties {
                assert_eq!(
                    key.check(property.value),
                    Ok(()),
                    "{} {}",
                    family.name,
                    key.name()
                );
                let Some([least, most]) = property.range else {
                    continue;
                };
                assert_eq!((least.kind, most.kind), (key.kind(), key.kind()));
                let inside = least.si <= property.value.si && property.value.si <= most.si;
                assert!(
                    inside,
                    "{} {} outside its own range",
                    family.name,
                    key.name()
                );
            }
        }
    }

    #[test]
    fn what_floods_can_dome_and_what_is_brushed_has_a_film() {
        use Key::{BrimAngle, PullBackAngle, Solids, SurfaceTension, TargetAngle, WetFilm};
        for family in families() {
            let needed: &[Key] = match family.applied {
                Applied::Flooded => &[
                    SurfaceTension,
                    PullBackAngle,
                    TargetAngle,
                    BrimAngle,
                    Solids,
                ],
                Applied::Brushed => &[WetFilm],
                Applied::Drawn => &[],
            };
            for key in needed {
                assert!(
                    family.properties.contains_key(key),
                    "{} {}",
                    family.name,
                    key.name()
                );
            }
        }
    }

    #[test]
    fn trade_times_say_that_they_have_no_source() {
        let glaze = family("water-based dome glaze").unwrap();
        let handle = glaze.label.stage(Stage::Handle).unwrap();
        assert_eq!(handle.source, Source::CommonPractice);
        assert_eq!(handle.source.to_string(), "common practice, no source");
    }
}
