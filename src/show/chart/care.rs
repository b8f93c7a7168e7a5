//! The cautions at the foot of a picture.

use crate::coating::{Cautions, comes_first};
use crate::plan::FamilyCautions;

/// What a picture about coatings says of their dangers, in a few words.
///
/// Made only from the cautions themselves, so that no picture about a coating
/// goes out without them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Care(String);

impl Care {
    /// The cautions of every family in a plan; `None` where nothing is coated.
    #[must_use]
    pub fn of_plan(families: &[FamilyCautions]) -> Option<Self> {
        let each: Vec<String> = families
            .iter()
            .map(|family| of_family(&family.key, family.cautions))
            .collect();
        (!each.is_empty()).then(|| Self(format!("{} {}", each.join(" "), comes_first())))
    }

    /// The cautions of one of a plan's coatings.
    #[must_use]
    pub fn of_coating(families: &[FamilyCautions], coating: &str) -> Self {
        let own = families
            .iter()
            .find(|family| family.coatings.iter().any(|name| name == coating));
        own.map_or_else(
            || Self(comes_first().to_owned()),
            |family| Self::of_family(&family.key, family.cautions),
        )
    }

    /// The cautions of one family.
    #[must_use]
    pub fn of_family(key: &str, cautions: Cautions) -> Self {
        Self(format!("{} {}", of_family(key, cautions), comes_first()))
    }

    /// The words.
    #[must_use]
    pub fn words(&self) -> &str {
        &self.0
    }
}

fn of_family(key: &str, cautions: Cautions) -> String {
    let [before, during, after] = cautions.lines.each_ref().map(|line| line.short.as_str());
    format!("Care, {key}: {before}; {during}; {after}.")
}
