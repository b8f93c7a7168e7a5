//! Ink, pressure-sensitive paper and other steps that only want warmth and
//! fresh air. They are not drying water films and no formula is claimed: the
//! label's time is kept as it stands, and the answer says so.

use super::law::{Band, Basis, Lapse, Law, LawError, Properties, Reached, Stage};
use super::situation::Situation;

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

impl Law for Airing {
    fn name(&self) -> &'static str {
        Self::NAME
    }

    fn stages(&self) -> &'static [Stage] {
        &[
            Stage::TackFree,
            Stage::Handle,
            Stage::Recoat,
            Stage::Through,
        ]
    }

    fn reach(&self, _: Stage, _: &Situation) -> Result<Reached, LawError> {
        Ok(Reached::After(Lapse::relative(1.0)))
    }

    fn band(&self, _: Stage, _: &Situation, _: &Situation, ratio: f64) -> Band {
        Band::exactly(ratio)
    }

    fn basis(&self) -> Basis {
        Basis::LabelOnly
    }
}
