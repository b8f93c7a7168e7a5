//! Ink, pressure-sensitive paper and other steps that only want warmth and
//! fresh air. They are not drying water films and no formula is claimed: the
//! label's time is kept as it stands, and the answer says so.

use super::law::{Basis, Hindrance, Law, LawError, Process, Properties};
use super::situation::Situation;
use super::warning::Warning;
use crate::stage::Stage;

/// The law of steps whose label time is kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Airing;

impl Airing {
    /// Name of the law in `data/coatings.toml`.
    pub const NAME: &'static str = "airing";

    /// From the properties of a family in `data/coatings.toml`: it needs none.
    // the signature is the one that every law shares
    #[expect(
        clippy::unnecessary_wraps,
        reason = "one signature for every law's maker"
    )]
    pub(super) fn from_properties(_: &Properties) -> Result<Box<dyn Law>, LawError> {
        Ok(Box::new(Self))
    }
}

/// The share of the label's time that has gone by, on a clock of which the label
/// is one second.
struct Clock;

impl Process for Clock {
    fn seconds(&self, from: f64, to: f64) -> Option<f64> {
        Some((to - from).max(0.0))
    }

    fn after(&self, from: f64, seconds: f64) -> f64 {
        from + seconds
    }
}

impl Law for Airing {
    fn name(&self) -> &'static str {
        Self::NAME
    }

    fn goal(&self, _: Stage, _: &Situation) -> f64 {
        1.0
    }

    fn process(&self, _: &Situation) -> Result<Box<dyn Process + '_>, LawError> {
        Ok(Box::new(Clock))
    }

    /// A clock always gets there.
    fn why_never(&self, _: Stage, _: &Situation) -> Hindrance {
        Hindrance::NoHeadway
    }

    /// Its solvent has to get away too, which a box hinders by nobody knows how much.
    fn warnings(&self, situation: &Situation) -> Vec<Warning> {
        let boxed = situation.enclosure().map(|_| Warning::BoxNotCounted);
        boxed.into_iter().collect()
    }

    fn basis(&self) -> Basis {
        Basis::LabelOnly
    }
}
