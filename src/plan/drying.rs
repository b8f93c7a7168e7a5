//! One coat in the run's room against what its label says.

use super::NoTime;
use crate::coating::{Coating, Source};
use crate::cure::air::{Air, Draught};
use crate::cure::compare::{Factor, Outcome, Pace};
use crate::cure::help::Help;
use crate::cure::law::{Band, Basis, Reached};
use crate::cure::transfer::{Exposure, Footprint};
use crate::cure::{self, Case, Situation, compare, what_would_help};
use crate::drying::{self, law_of};
use crate::quantity::{Length, Time};
use crate::run::{self, Room};
use crate::stage::Stage;

/// How long a step's coat takes.
#[derive(Debug, Clone, PartialEq)]
pub enum Drying {
    /// It uses no coating.
    NotNeeded,
    /// Set against the label.
    Timed(Box<Timed>),
    /// It can't be told.
    Unknown(NoTime),
}

impl Drying {
    /// The times, where they can be told.
    #[must_use]
    pub fn timed(&self) -> Option<&Timed> {
        match self {
            Self::Timed(timed) => Some(timed),
            Self::NotNeeded | Self::Unknown(_) => None,
        }
    }
}

/// A coat here against its label.
#[derive(Debug, Clone, PartialEq)]
pub struct Timed {
    /// How far the figures may be trusted as a plan.
    pub pace: Pace,
    /// How many times the label's time the whole takes, and why.
    pub factor: Factor,
    /// The stages that the label names, earliest first.
    pub stages: Vec<StageTimes>,
    /// Pot life here, for a coating that is mixed and whose label names one.
    pub pot_life: Option<TimeBand>,
    /// What the ratios rest on.
    pub basis: Basis,
    /// What to warn of.
    pub warnings: Vec<cure::Warning>,
    /// What would help, the greatest help first.
    pub helps: Vec<Help>,
}

/// One stage of a coat.
#[derive(Debug, Clone, PartialEq)]
pub struct StageTimes {
    /// The stage.
    pub stage: Stage,
    /// The label's time for it.
    pub label: Time,
    /// Where that comes from.
    pub source: Source,
    /// How many times that it takes here.
    pub ratio: Outcome,
    /// The label's time multiplied by that. `None`: never, as things stand.
    pub here: Option<TimeBand>,
    /// From first principles at the label's conditions: a check, good to a factor of 2.
    pub first_principles_at_label: Option<Time>,
    /// The same here.
    pub first_principles_here: Option<Time>,
}

/// A time with the band it lies in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TimeBand {
    /// Low end.
    pub low: Time,
    /// The time to plan with.
    pub likely: Time,
    /// High end.
    pub high: Time,
}

impl TimeBand {
    /// No time at all.
    pub const NONE: Self = Self {
        low: Time::ZERO,
        likely: Time::ZERO,
        high: Time::ZERO,
    };

    /// A label's time, so many times over.
    #[must_use]
    pub fn of(label: Time, ratio: Band) -> Self {
        Self {
            low: label * ratio.low,
            likely: label * ratio.likely,
            high: label * ratio.high,
        }
    }
}

/// A coating in a room, ready for the coats that are laid of it.
pub(super) struct Drier<'r> {
    law: Box<dyn cure::Law>,
    coating: &'r Coating,
    label: Air,
    here: Air,
}

/// One coat: how deep, on what.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Coat {
    pub depth: Length,
    pub on: Footprint,
}

impl<'r> Drier<'r> {
    pub(super) fn new(coating: &'r Coating, room: &Room) -> Result<Self, NoTime> {
        let label = coating.label();
        Ok(Self {
            law: law_of(coating)?,
            coating,
            // Labels mean an ordinary still room.
            label: Air::of_room(label.temperature, label.humidity, Draught::Still)?,
            here: Air::of_room(room.temperature, room.humidity, draught(room.air))?,
        })
    }

    /// The label's situation and the room's.
    fn situations(&self, coat: &Coat) -> Result<(Situation, Situation), NoTime> {
        let alone = Exposure::alone(coat.on)?;
        let label = Situation::new(self.label, alone, self.coating.label_depth(coat.depth));
        Ok((label, label.in_air(self.here).at_depth(coat.depth)))
    }

    /// How slow a coat is, to find the slowest: infinite where it never gets there or can't be told.
    pub(super) fn slowness(&self, coat: &Coat) -> f64 {
        let Ok((label, here)) = self.situations(coat) else {
            return f64::INFINITY;
        };
        let whole = self.law.whole();
        if self.law.refusal(whole, &here).is_some() {
            return f64::INFINITY;
        }
        match (self.law.reach(whole, &label), self.law.reach(whole, &here)) {
            (Ok(Reached::After(label)), Ok(Reached::After(here))) => here / label,
            _ => f64::INFINITY,
        }
    }

    /// The coat here against its label.
    pub(super) fn time(&self, coat: &Coat) -> Result<Timed, NoTime> {
        let (label, here) = self.situations(coat)?;
        let comparison = compare(self.law.as_ref(), &label, &here)?;
        let stages = Stage::ALL
            .into_iter()
            .filter_map(|stage| self.stage(stage, &comparison))
            .collect();
        let pot_life = match drying::pot_life(self.coating) {
            Some(label) => label
                .times_in(self.law.as_ref(), here.air().temperature())?
                .map(|times| TimeBand::of(label.lasts, times)),
            None => None,
        };
        Ok(Timed {
            pace: comparison.pace,
            factor: comparison.factor,
            stages,
            pot_life,
            basis: comparison.basis,
            warnings: comparison.warnings,
            helps: what_would_help(&Case::steady(self.law.as_ref(), &label, &here))?,
        })
    }

    /// A stage that the label names.
    fn stage(&self, stage: Stage, comparison: &cure::Comparison) -> Option<StageTimes> {
        let label = self.coating.label().stage(stage)?;
        let found = comparison
            .stages
            .iter()
            .find(|compared| compared.stage == stage)?;
        Some(StageTimes {
            stage,
            label: label.time,
            source: label.source.clone(),
            ratio: found.outcome,
            here: match found.outcome {
                Outcome::Times(band) => Some(TimeBand::of(label.time, band)),
                Outcome::Never(_) => None,
            },
            first_principles_at_label: found.first_principles_at_label,
            first_principles_here: found.first_principles_here,
        })
    }
}

fn draught(air: run::Air) -> Draught {
    match air {
        run::Air::Sheltered => Draught::Sheltered,
        run::Air::Still => Draught::Still,
        run::Air::Draughty => Draught::OpenWindow,
        run::Air::Fan => Draught::DeskFan,
        run::Air::Moving(speed) => Draught::Measured(speed),
    }
}
