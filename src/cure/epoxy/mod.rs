//! Two-part amine epoxy by the simple rule: an Arrhenius shift of the label's time.
//!
//! Thickness and air hardly change how fast a thin coat of epoxy cures; warmth does:
//!
//! ```text
//! t = t_label exp(E/R (1/T - 1/T_label)),   E = 55 +-10 kJ/mol
//! ```
//!
//! Energies published for such systems lie between 44 and 71 kJ/mol. Below 15 °C
//! the coat turns glassy before it has reacted, and no time is promised.

pub mod glass;
pub mod kinetics;

use super::blush::{Blush, Risk};
use super::law::{Band, Doubt, Hindrance, Law, LawError, Process, Properties};
use super::numeric::GAS_CONSTANT;
use super::situation::Situation;
use super::warning::Warning;
use crate::quantity::{MolarEnergy, Temperature};
use crate::stage::Stage;

/// The law of two-part epoxy.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Epoxy {
    energy: EnergyBand,
}

/// An energy of activation with its band, each 20 to 150 kJ/mol, in rising order.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EnergyBand {
    /// Low end.
    pub low: MolarEnergy,
    /// The figure to plan with.
    pub likely: MolarEnergy,
    /// High end.
    pub high: MolarEnergy,
}

impl Epoxy {
    /// Name of the law in `data/coatings.toml`.
    pub const NAME: &'static str = "epoxy";
    /// No time to handle or to cure is promised below this: the coat turns glassy first.
    pub const PROMISES_FROM: Temperature = Temperature::from_celsius(15.0);
    /// Where to move a coat that is too cold.
    pub const MOVE_TO: Temperature = Temperature::from_celsius(20.0);

    /// A coating of this cure energy.
    ///
    /// # Errors
    /// [`LawError::OutOfRange`] for energies outside 20 to 150 kJ/mol or out of order.
    pub fn new(energy: EnergyBand) -> Result<Self, LawError> {
        let (low, likely, high) = (
            energy.low.j_per_mol(),
            energy.likely.j_per_mol(),
            energy.high.j_per_mol(),
        );
        LawError::check("cure_energy", likely, (20e3, 150e3))?;
        LawError::check("cure_energy.low", low, (20e3, likely))?;
        LawError::check("cure_energy.high", high, (likely, 150e3))?;
        Ok(Self { energy })
    }

    /// From the properties of a family in `data/coatings.toml`.
    pub(super) fn from_properties(from: &Properties) -> Result<Box<dyn Law>, LawError> {
        Ok(Box::new(Self::new(EnergyBand {
            low: MolarEnergy::from_j_per_mol(from.need("cure_energy.low")?),
            likely: MolarEnergy::from_j_per_mol(from.need("cure_energy")?),
            high: MolarEnergy::from_j_per_mol(from.need("cure_energy.high")?),
        })?))
    }

    /// How many times longer than at `label` the same reaction takes at `here`.
    #[must_use]
    pub fn slowing(&self, label: Temperature, here: Temperature) -> Band {
        let by = |energy: MolarEnergy| {
            // exp(E/R (1/T - 1/T_label))
            (energy.j_per_mol() / GAS_CONSTANT * (1.0 / here.kelvin() - 1.0 / label.kelvin())).exp()
        };
        let (a, b) = (by(self.energy.low), by(self.energy.high));
        Band {
            low: a.min(b),
            likely: by(self.energy.likely),
            high: a.max(b),
        }
    }
}

/// The share of the reaction that is done, on a clock of which the whole is one
/// second at [`CLOCK`].
struct Reaction {
    slowing: f64,
}

impl Process for Reaction {
    fn seconds(&self, from: f64, to: f64) -> Option<f64> {
        Some((to - from).max(0.0) * self.slowing)
    }

    fn after(&self, from: f64, seconds: f64) -> f64 {
        from + seconds / self.slowing
    }
}

/// The temperature at which a lapse of this law counts as 1.
const CLOCK: Temperature = Temperature::from_celsius(23.0);

impl Law for Epoxy {
    fn name(&self) -> &'static str {
        Self::NAME
    }

    fn stages(&self) -> &'static [Stage] {
        &Stage::ALL
    }

    fn start(&self, _: &Situation) -> f64 {
        0.0
    }

    fn goal(&self, _: Stage, _: &Situation) -> f64 {
        1.0
    }

    fn process(&self, situation: &Situation) -> Result<Box<dyn Process + '_>, LawError> {
        let slowing = self.slowing(CLOCK, situation.air().temperature()).likely;
        Ok(Box::new(Reaction { slowing }))
    }

    /// The reaction always goes on, if slowly.
    fn why_never(&self, _: Stage, _: &Situation) -> Hindrance {
        Hindrance::NoHeadway
    }

    /// Tack-free follows the gel, which the cold only slows; the others need
    /// more of the reaction than a cold coat ever reaches.
    fn refusal(&self, stage: Stage, situation: &Situation) -> Option<Hindrance> {
        let air = situation.air().temperature();
        (!stage.is_of_surface() && air < Self::PROMISES_FROM).then_some(Hindrance::TooColdToCure {
            air,
            below: Self::PROMISES_FROM,
            move_to: Self::MOVE_TO,
        })
    }

    fn doubts(&self) -> Vec<Doubt> {
        let with = |energy| -> Box<dyn Law> {
            Box::new(Self {
                energy: EnergyBand {
                    low: energy,
                    likely: energy,
                    high: energy,
                },
            })
        };
        vec![Doubt {
            what: "cure energy",
            low: with(self.energy.low),
            high: with(self.energy.high),
        }]
    }

    fn warnings(&self, situation: &Situation) -> Vec<Warning> {
        let blush = Blush::judge(situation);
        (blush.risk() > Risk::Low)
            .then_some(Warning::Blush(blush))
            .into_iter()
            .collect()
    }

    fn pot_life(&self, label: &Situation, here: &Situation) -> Option<Band> {
        Some(self.slowing(label.air().temperature(), here.air().temperature()))
    }
}
