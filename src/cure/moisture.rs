//! One-part coatings that the moisture of the air cures.
//!
//! Vapour dissolves in the coat, diffuses through what is cured and reacts at a sharp
//! front, which moves inwards as Comyn (1998) has it (abstract read; the form from
//! memory, sure):
//!
//! ```text
//! z = sqrt(2 V P p t)                                    depth cured after t
//! t/t_ref = (z/z_ref)^2 (p_ref/p) exp(E_P/R (1/T - 1/296.15 K))
//! ```
//!
//! V, the volume that a mole of water cures, and P, the permeability, drop out of the
//! ratio but for P's energy `E_P`. Nothing was found to check it with beyond this
//! scaling. It is the other way round from drying: dry air slows this family, and cold
//! slows it twice, for cold air holds less vapour. Moving air and neighbours hardly
//! matter in an open room; in a closed box the pieces use the vapour up.
//!
//! | stage | depth |
//! | --- | --- |
//! | dust-free, tack-free | a skin, [`SKIN`], however deep the coat |
//! | all others | the whole coat |
//!
//! Cyanoacrylates cure by another mechanism and are not covered.

use super::air::Air;
use super::epoxy::glass::arrhenius;
use super::law::{Doubt, Hindrance, Law, LawError, Process, Properties};
use super::psychro::{saturation_pressure, vapour_pressure};
use super::situation::Situation;
use super::warning::Warning;
use crate::quantity::{Humidity, Length, MolarEnergy, Pressure, Temperature};
use crate::stage::Stage;

/// How deep the skin is that feels dry: our own reading. A ratio does not depend on
/// it, unless one of the coats is thinner.
pub const SKIN: Length = Length::from_mm(0.1);
/// From here on isocyanate products foam, and no more speed is promised.
pub const FOAMS_FROM: Humidity = Humidity::from_percent(80.0);

/// The air that the clock is set by: 23 °C.
const STATED_AT: Temperature = Temperature::from_celsius(23.0);
/// And 50 %.
const HALF: f64 = 0.5;
/// Energies of permeation that are covered, `[J/mol]`.
const ENERGIES: (f64, f64) = (0.0, 200e3);

/// Where vapour gets into a coat.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Faces {
    /// One face at least lies open to the air, or on something that vapour goes through.
    #[default]
    Open,
    /// It lies between metal or glass on both.
    ClosedIn,
}

/// The law of moisture-curing coatings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MoistureCure {
    energy: MolarEnergy,
    energies: [MolarEnergy; 2],
    faces: Faces,
}

impl MoistureCure {
    /// Name of the law in `data/coatings.toml`.
    pub const NAME: &'static str = "moisture cure";

    /// A coating of this energy of permeation, which may lie anywhere between the two
    /// `energies`.
    ///
    /// # Errors
    /// [`LawError::OutOfRange`] for an energy outside 0 to 200 kJ/mol.
    pub fn new(energy: MolarEnergy, energies: [MolarEnergy; 2]) -> Result<Self, LawError> {
        for energy in energies.into_iter().chain([energy]) {
            LawError::check("energy of permeation", energy.j_per_mol(), ENERGIES)?;
        }
        Ok(Self {
            energy,
            energies,
            faces: Faces::Open,
        })
    }

    /// The same between other faces.
    #[must_use]
    pub fn between(self, faces: Faces) -> Self {
        Self { faces, ..self }
    }

    /// From the properties of a family in `data/coatings.toml`.
    pub(super) fn from_properties(from: &Properties) -> Result<Box<dyn Law>, LawError> {
        let energy = MolarEnergy::from_j_per_mol(from.need("permeation_energy")?);
        let ends = ["permeation_energy.low", "permeation_energy.high"]
            .map(|key| (from.read)(key).map_or(energy, MolarEnergy::from_j_per_mol));
        Ok(Box::new(Self::new(energy, ends)?))
    }

    /// How deep a coat must be cured for a stage.
    #[must_use]
    pub fn depth(stage: Stage, coat: Length) -> Length {
        match stage {
            Stage::DustFree | Stage::TackFree if coat > SKIN => SKIN,
            _ => coat,
        }
    }

    fn with_energy(&self, energy: MolarEnergy) -> Box<dyn Law> {
        Box::new(Self { energy, ..*self })
    }
}

/// How many times faster than at 23 °C and 50 % the front moves, as depth squared,
/// in any air: `(p/p_ref) exp(-E_P/R (1/T - 1/296.15 K))`, `[1]`.
#[must_use]
pub fn pace(air: &Air, energy: MolarEnergy) -> f64 {
    faster(vapour_pressure(air), air.temperature(), energy)
}

fn faster(vapour: Pressure, here: Temperature, energy: MolarEnergy) -> f64 {
    // p/p_ref, p_ref = 1404 Pa
    let vapour = vapour / (saturation_pressure(STATED_AT) * HALF);
    vapour * arrhenius(energy, STATED_AT, here)
}

/// The front's square, `[mm2]`, on a clock that takes a second for 1 mm2 at 23 °C and 50 %.
struct Front {
    faster: f64,
}

impl Process for Front {
    fn seconds(&self, from: f64, to: f64) -> Option<f64> {
        let left = (to - from).max(0.0);
        if left > 0.0 && self.faster <= 0.0 {
            return None;
        }
        Some(if left > 0.0 { left / self.faster } else { 0.0 })
    }

    fn after(&self, from: f64, seconds: f64) -> f64 {
        from + self.faster * seconds
    }
}

impl Law for MoistureCure {
    fn name(&self) -> &'static str {
        Self::NAME
    }

    fn goal(&self, stage: Stage, situation: &Situation) -> f64 {
        Self::depth(stage, situation.wet_depth()).mm().powi(2)
    }

    /// Air damper than [`FOAMS_FROM`] is taken to be no faster than that, and
    /// [`Warning::MayFoam`] says so.
    fn process(&self, situation: &Situation) -> Result<Box<dyn Process + '_>, LawError> {
        LawError::check("depth of a coat", situation.wet_depth().m(), (1e-6, 0.05))?;
        let air = situation.air();
        let here = air.temperature();
        let most = saturation_pressure(here) * FOAMS_FROM.fraction();
        let vapour = vapour_pressure(&air);
        let vapour = if vapour > most { most } else { vapour };
        let faster = match self.faces {
            Faces::Open => faster(vapour, here, self.energy),
            Faces::ClosedIn => 0.0,
        };
        Ok(Box::new(Front { faster }))
    }

    fn why_never(&self, _: Stage, _: &Situation) -> Hindrance {
        match self.faces {
            Faces::Open => Hindrance::NoVapour,
            Faces::ClosedIn => Hindrance::ClosedIn,
        }
    }

    /// A sealed box is starved of vapour: how soon is not worked out, so no date.
    fn refusal(&self, _: Stage, situation: &Situation) -> Option<Hindrance> {
        let shut = situation.enclosure()?;
        shut.is_sealed().then_some(Hindrance::NoVapour)
    }

    fn doubts(&self) -> Vec<Doubt> {
        let [low, high] = self.energies.map(|energy| self.with_energy(energy));
        vec![Doubt {
            what: "how vapour goes through it in the cold",
            low,
            high,
        }]
    }

    fn warnings(&self, situation: &Situation) -> Vec<Warning> {
        let humidity = situation.air().humidity();
        let foams = (humidity >= FOAMS_FROM).then_some(Warning::MayFoam { humidity });
        // of a sealed box there are no times that could be those of the open room
        let open = situation.enclosure().filter(|shut| !shut.is_sealed());
        let boxed = open.map(|_| Warning::BoxNotCounted);
        foams
            .into_iter()
            .chain(boxed)
            .chain([Warning::NeedsVapour])
            .collect()
    }
}
