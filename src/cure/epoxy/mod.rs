//! Two-part amine epoxy: how far its reaction has come.
//!
//! The law follows the conversion of [`kinetics`], from 0. Thickness and air hardly
//! change how fast a thin coat cures, for it is as warm as its base; warmth does. No
//! credit is taken for damp air, though water speeds the reaction up a little (Bashir
//! 2023, abstract, without figures); what damp air does harm is in [`blush`](super::blush).
//!
//! | stage | conversion | from |
//! | --- | --- | --- |
//! | dust-free, tack-free | the gel, 0.577 | a coat is tack-free from about 0.6 (Bashir 2023, abstract) |
//! | recoat | the gel | the next coat goes on while this one is tacky: common practice, no source |
//! | handle | 0.70 | assumed |
//! | recoat until, through, bag, hard | 0.85 | assumed |
//!
//! Below 15 °C the coat turns glassy before it has reacted that far, and no time is
//! promised for what lies past the gel. What is not known well is the resin: sets A
//! and C of [`kinetics`] stand at the two ends.

pub mod glass;
pub mod kinetics;

use super::blush::{Blush, Risk};
use super::law::{Doubt, Hindrance, Law, LawError, Process, Properties};
use super::pot::{Pot, Resin};
use super::situation::Situation;
use super::warning::Warning;
use crate::quantity::{Density, Temperature};
use crate::stage::Stage;
use glass::Glass;
use kinetics::{Freezing, GEL, Isotherm, Kinetics};

/// The law of two-part epoxy.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Epoxy {
    kinetics: Kinetics,
    /// What its mix is like to heat.
    resin: Resin,
}

impl Epoxy {
    /// Name of the law in `data/coatings.toml`.
    pub const NAME: &'static str = "epoxy";
    /// No time past the gel is promised below this: the coat turns glassy first.
    pub const PROMISES_FROM: Temperature = Temperature::from_celsius(15.0);
    /// Where to move a coat that is too cold.
    pub const MOVE_TO: Temperature = Temperature::from_celsius(20.0);
    /// The conversion at which a coat may be handled, `[1]`: assumed.
    pub const HANDLE: f64 = 0.70;
    /// The conversion at which a coat is cured through, `[1]`: assumed.
    pub const THROUGH: f64 = 0.85;

    /// A resin of these kinetics.
    #[must_use]
    pub fn new(kinetics: Kinetics) -> Self {
        Self {
            kinetics,
            resin: Resin::USUAL,
        }
    }

    /// From the properties of a family in `data/coatings.toml`: `density` where it is known, so that
    /// its cups are as dense as its domes.
    #[expect(
        clippy::unnecessary_wraps,
        reason = "one signature for every law's maker"
    )]
    pub(super) fn from_properties(of: &Properties) -> Result<Box<dyn Law>, LawError> {
        let usual = Self::new(Kinetics::usual());
        let density = (of.read)("density").map_or(usual.resin.density, Density::from_kg_per_m3);
        let resin = Resin {
            density,
            ..usual.resin
        };
        Ok(Box::new(Self { resin, ..usual }))
    }

    /// How far a coat must have come, `[1]`.
    #[must_use]
    pub const fn conversion(stage: Stage) -> f64 {
        match stage {
            Stage::DustFree | Stage::TackFree | Stage::Recoat => GEL,
            Stage::Handle => Self::HANDLE,
            Stage::RecoatUntil | Stage::Through | Stage::Bag | Stage::Hard => Self::THROUGH,
        }
    }
}

impl Process for Isotherm {
    fn seconds(&self, from: f64, to: f64) -> Option<f64> {
        Some(Isotherm::seconds(self, from, to)).filter(|seconds| seconds.is_finite())
    }

    fn after(&self, from: f64, seconds: f64) -> f64 {
        Isotherm::after(self, from, seconds)
    }
}

impl Law for Epoxy {
    fn name(&self) -> &'static str {
        Self::NAME
    }

    fn goal(&self, stage: Stage, _: &Situation) -> f64 {
        Self::conversion(stage)
    }

    fn process(&self, situation: &Situation) -> Result<Box<dyn Process + '_>, LawError> {
        let here = situation.air().temperature();
        Ok(Box::new(
            self.kinetics.at(here, Freezing::As(Glass::DOME_RESIN)),
        ))
    }

    /// The reaction always goes on, if slowly.
    fn why_never(&self, _: Stage, _: &Situation) -> Hindrance {
        Hindrance::NoHeadway
    }

    /// The cold only slows the gel; what lies past it needs more of the reaction
    /// than a cold coat reaches in any time worth waiting for.
    fn refusal(&self, stage: Stage, situation: &Situation) -> Option<Hindrance> {
        let air = situation.air().temperature();
        let past_the_gel = Self::conversion(stage) > GEL;
        (past_the_gel && air < Self::PROMISES_FROM).then_some(Hindrance::TooColdToCure {
            air,
            below: Self::PROMISES_FROM,
            move_to: Self::MOVE_TO,
        })
    }

    fn doubts(&self) -> Vec<Doubt> {
        vec![Doubt {
            what: "kind of amine",
            low: Box::new(Self {
                kinetics: Kinetics::low_energy(),
                ..*self
            }),
            high: Box::new(Self {
                kinetics: Kinetics::aliphatic(),
                ..*self
            }),
        }]
    }

    fn warnings(&self, situation: &Situation) -> Vec<Warning> {
        let blush = Blush::judge(situation);
        (blush.risk() > Risk::Low)
            .then_some(Warning::Blush(blush))
            .into_iter()
            .collect()
    }

    fn pot(&self) -> Option<Pot> {
        Some(Pot::new(self.kinetics, self.resin))
    }
}
