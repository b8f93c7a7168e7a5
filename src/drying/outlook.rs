//! One coat in a room against what its label says.

use super::taken::Taken;
use super::{Awaited, Room, TimeBand, law_of, look, pot_life};
use crate::coating::{Coating, Law as LawName, Source};
use crate::cure::air::{Air, AirError, Draught};
use crate::cure::bubbles::BubbleCheck;
use crate::cure::compare::{Factor, Outcome, Pace};
use crate::cure::help::{Help, room_for_or, what_would_help_or};
use crate::cure::law::{Band, Basis, Law, LawError};
use crate::cure::pot::PotLife;
use crate::cure::situation::Situation;
use crate::cure::transfer::{Exposure, ExposureError};
use crate::cure::{Case, Comparison, Enclosure, OrTaken, Warning};
use crate::quantity::{Irradiance, Length, Share, Temperature, TemperatureDifference, Time};
use crate::stage::Stage;

/// A coat here against its label.
#[derive(Debug, Clone, PartialEq)]
pub struct Outlook {
    /// The coat as the label means it.
    pub label: Situation,
    /// The coat here; in air that changes, in the air of the pour.
    pub here: Situation,
    /// How far the figures may be trusted as a plan.
    pub pace: Pace,
    /// How many times the label's time the whole takes, and why.
    pub factor: Factor,
    /// The stage that this whole is; `None` where the label has no time for one.
    pub whole: Option<Stage>,
    /// The stage that a maker waits for, where that is another and it is looked at closely.
    pub awaited: Option<Awaited>,
    /// The stages that the label names, earliest first.
    pub stages: Vec<StageTimes>,
    /// While water is leaving: how many times the label's time, for films that dry by
    /// that; whether the film then forms is another question.
    pub wet_stage: Option<Outcome>,
    /// Pot life here, for a coating that is mixed and whose label names one.
    pub pot_life: Option<PotLifeHere>,
    /// When to look for bubbles, in the air of the pour; none for a coat that is not poured.
    pub bubbles: Option<BubbleCheck>,
    /// What the ratios rest on.
    pub basis: Basis,
    /// What to warn of.
    pub warnings: Vec<Warning>,
    /// What would help, the greatest help first.
    pub helps: Vec<Help>,
    /// The same where the room is worse than told; none where no time is claimed or
    /// named, or where the room makes no difference.
    pub second_look: Option<SecondLook>,
    /// How the days of a record differ; none in steady air or a single course of it.
    pub days: Option<Days>,
}

/// A mix's pot life.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PotLifeHere {
    /// As the label gives it.
    pub label: PotLife,
    /// How warm the room and the parts are.
    pub room: Temperature,
    /// How many times the label's here.
    pub times: Band,
}

impl PotLifeHere {
    /// How long it lasts here.
    #[must_use]
    pub fn lasts(&self) -> TimeBand {
        TimeBand::of(self.label.lasts, self.times)
    }
}

/// The same coat in a room that is worse than it was said to be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SecondLook {
    /// The stage that a maker waits for.
    pub stage: Stage,
    /// How many times the label's time it then takes.
    pub outcome: Outcome,
    /// The label's time multiplied by that. `None`: never.
    pub here: Option<TimeBand>,
    /// Whether the worse air is drier than told, as it is for what cures by the air's own
    /// vapour, and not damper.
    pub drier: bool,
}

impl SecondLook {
    /// How much damper, or drier: a common margin for bad news (common practice, no source).
    pub const DAMPER: Share = Share::from_percent(15.0);
    /// How much colder (common practice, no source).
    pub const COLDER: TemperatureDifference = TemperatureDifference::from_k(3.0);
}

/// The same pour on each day of a record.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Days {
    /// The stage that the times are for.
    pub stage: Stage,
    /// On one day in ten, no longer than this; nothing for never.
    pub quick: Option<Time>,
    /// On the middle day.
    pub middle: Option<Time>,
    /// On nine days in ten, no longer than this.
    pub slow: Option<Time>,
    /// Days on which it gets there.
    pub reached: usize,
    /// All the days on which a coat could be laid and told of.
    pub of: usize,
    /// Days at the record's end that can't be told of.
    pub untold: usize,
}

/// Why a drying time can't be told.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum NoTime {
    /// The drying law does not cover it.
    #[error(transparent)]
    Law(#[from] LawError),
    /// The label's air is outside what the drying laws take.
    #[error("the label's air: {0}")]
    Air(#[from] AirError),
    /// The piece's size is outside what the drying laws take.
    #[error(transparent)]
    Size(#[from] ExposureError),
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

/// A coating in a room, ready for the coats that are laid of it.
#[derive(Debug)]
pub struct Drier<'r> {
    pub(super) law: Box<dyn Law>,
    pub(super) coating: &'r Coating,
    pub(super) label: Air,
    pub(super) room: &'r Room,
}

/// One coat: how deep, and how it lies in the air.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Coat {
    /// Wet film thickness here.
    pub depth: Length,
    /// Wet film thickness that the label's times are for; `None` where it does not say.
    pub label_depth: Option<Length>,
    /// How it lies here; the label means it alone.
    pub lies: Exposure,
    /// The box it is shut in, if any; the label means none.
    pub shut_in: Option<Enclosure>,
    /// Irradiance at the piece, for what a lamp cures; `None` for the one that the
    /// label's times are taken to mean. Nothing else minds it.
    pub light: Option<Irradiance>,
}

impl<'r> Drier<'r> {
    /// A coating in a room.
    ///
    /// # Errors
    /// [`NoTime`] where the coating's properties or its label's air are outside what
    /// its law covers.
    pub fn new(coating: &'r Coating, room: &'r Room) -> Result<Self, NoTime> {
        let label = coating.label();
        Ok(Self {
            law: law_of(coating)?,
            coating,
            // Labels mean an ordinary still room.
            label: Air::of_room(label.temperature, label.humidity, Draught::Still)?,
            room,
        })
    }

    /// Whether anything is claimed of it in another room than its label's.
    #[must_use]
    pub fn is_worked_out(&self) -> bool {
        self.law.basis() == Basis::Physics
    }

    /// The law it follows.
    pub(super) fn law(&self) -> &dyn Law {
        self.law.as_ref()
    }

    /// The coat here against its label.
    ///
    /// # Errors
    /// [`NoTime`] where it is outside what the law covers.
    pub fn outlook(&self, coat: &Coat) -> Result<Outlook, NoTime> {
        self.looked_at(coat, true)
    }

    /// The same without what would help and how it is in a worse room, which take longest.
    ///
    /// # Errors
    /// As [`outlook`](Self::outlook).
    pub fn glance(&self, coat: &Coat) -> Result<Outlook, NoTime> {
        self.looked_at(coat, false)
    }

    /// How long a mix of the label's mass lasts in a room so warm; `None` where it is not mixed or
    /// its label names no pot life.
    ///
    /// # Errors
    /// As [`outlook`](Self::outlook).
    pub fn pot_life_at(&self, room: Temperature) -> Result<Option<PotLifeHere>, NoTime> {
        let Some(label) = pot_life(self.coating) else {
            return Ok(None);
        };
        let times = label.times_in(self.law.as_ref(), room)?;
        Ok(times.map(|times| PotLifeHere { label, room, times }))
    }

    /// The least change of the room alone that has the whole of a coat there within so many `times` the
    /// label's time, band and all. Empty where none would do alone, or it is there so soon already.
    ///
    /// # Errors
    /// As [`outlook`](Self::outlook).
    pub fn room_for(&self, coat: &Coat, times: f64) -> Result<Vec<Help>, NoTime> {
        let Taken { case, other, .. } = self.taken(coat)?;
        Ok(room_for_or(&case, self.or_taken(other.as_ref()), times)?)
    }

    /// The other way to take the label, held against the first by the stage that a maker waits for.
    fn or_taken<'c, 'a>(&self, other: Option<&'c Case<'a>>) -> Option<OrTaken<'c, 'a>> {
        let (stage, _) = self.ruling()?;
        other.map(|case| OrTaken { case, by: stage })
    }

    fn looked_at(&self, coat: &Coat, closely: bool) -> Result<Outlook, NoTime> {
        let Taken {
            case, other, days, ..
        } = self.taken(coat)?;
        let or = self.or_taken(other.as_ref());
        let mut comparison = case.compare()?;
        // a skin, bubbles and what the law alone tells go by how deep the coat is, whatever coat
        // its label is taken for
        let own = match coat.label_depth {
            None if coat.depth < case.label().wet_depth() => (
                case.label().at_depth(coat.depth),
                case.here().at_depth(coat.depth),
            ),
            _ => (*case.label(), case.here()),
        };
        for told in &mut comparison.stages {
            told.first_principles_at_label = case.first_principles(told.stage, &own.0)?;
            if told.first_principles_here.is_some() {
                told.first_principles_here = case.first_principles(told.stage, &own.1)?;
            }
        }
        let pot_life = self.pot_life_at(case.here().air().temperature())?;
        let claimed = closely && comparison.basis == Basis::Physics;
        let helps = if claimed {
            what_would_help_or(&case, or)?
        } else {
            Vec::new()
        };
        let whole = self.coating.label().whole().map(|(stage, _)| stage);
        let awaited = self.ruling().map(|(stage, _)| stage);
        let awaited = awaited.filter(|stage| claimed && Some(*stage) != whole);
        Ok(Outlook {
            whole,
            awaited: awaited
                .map(|stage| Awaited::of(&case, or, (stage, &helps)))
                .transpose()?,
            label: *case.label(),
            here: case.here(),
            stages: Stage::ALL
                .into_iter()
                .filter_map(|stage| self.stage(stage, &comparison))
                .collect(),
            wet_stage: self.wet_stage(&case)?,
            pot_life,
            bubbles: look::for_bubbles(self.coating, self.law.as_ref(), (&own.0, &own.1))?,
            helps,
            second_look: if claimed {
                self.second_look(&case, other.as_ref())?
            } else {
                None
            },
            days,
            pace: comparison.pace,
            factor: comparison.factor,
            basis: comparison.basis,
            warnings: comparison.warnings,
        })
    }

    /// How long until a stage, likely; in a record, on its middle day. `None` where the label has no time for it, or it is never there.
    ///
    /// # Errors
    /// As [`outlook`](Self::outlook).
    pub fn takes(&self, coat: &Coat, stage: Stage) -> Result<Option<Time>, NoTime> {
        let Some(label) = self.coating.label().stage(stage) else {
            return Ok(None);
        };
        Ok(self
            .case(coat)?
            .likely(stage)?
            .map(|times| label.time * times))
    }

    /// The label's own time until tack-free, if it has one.
    pub(super) fn surface_time(&self) -> Option<Time> {
        Some(self.coating.label().stage(Stage::TackFree)?.time)
    }

    /// The stage that a maker waits for, and the label's time for it.
    pub(super) fn ruling(&self) -> Option<(Stage, Time)> {
        self.coating.label().awaited()
    }

    /// How many times the label's while the coat is wet, for laws that tell time.
    fn wet_stage(&self, case: &Case) -> Result<Option<Outcome>, NoTime> {
        if !self.law.tells_time() {
            return Ok(None);
        }
        Ok(match case.process_alone(Stage::TackFree)? {
            times @ Outcome::Times(_) => Some(times),
            Outcome::Never(_) => None,
        })
    }

    /// The same with the air damper and colder.
    fn second_look<'a>(
        &self,
        case: &Case<'a>,
        other: Option<&Case<'a>>,
    ) -> Result<Option<SecondLook>, NoTime> {
        let Some((stage, label)) = self.ruling() else {
            return Ok(None);
        };
        let drier = self.coating.law() == LawName::MoistureCure;
        let damper = SecondLook::DAMPER.percent();
        let damper = Share::from_percent(if drier { -damper } else { damper });
        let worse = |case: &Case<'a>| case.in_worse_air(damper, SecondLook::COLDER);
        let Some(taken) = worse(case) else {
            return Ok(None);
        };
        let worse = match other.and_then(worse) {
            Some(other) if other.is_sooner(&taken, stage) => other,
            _ => taken,
        };
        let outcome = worse.outcome(stage)?;
        // where the room is nothing to the coat there is nothing to look at
        if outcome == case.outcome(stage)? {
            return Ok(None);
        }
        let here = match outcome {
            Outcome::Times(band) => Some(TimeBand::of(label, band)),
            Outcome::Never(_) => None,
        };
        Ok(Some(SecondLook {
            stage,
            outcome,
            here,
            drier,
        }))
    }

    /// A stage that the label names.
    fn stage(&self, stage: Stage, comparison: &Comparison) -> Option<StageTimes> {
        let label = self.coating.label().stage(stage)?;
        let found = comparison
            .stages
            .iter()
            .find(|compared| compared.stage == stage)?;
        let outcome = match found.outcome {
            // no later than the label says, and sooner where the coat is quicker here
            Outcome::Times(band) if stage == Stage::RecoatUntil => {
                Outcome::Times(Band::exactly(band.low.min(1.0)))
            }
            outcome => outcome,
        };
        Some(StageTimes {
            stage,
            label: label.time,
            source: label.source.clone(),
            ratio: outcome,
            here: match outcome {
                Outcome::Times(band) => Some(TimeBand::of(label.time, band)),
                Outcome::Never(_) => None,
            },
            first_principles_at_label: found.first_principles_at_label,
            first_principles_here: found.first_principles_here,
        })
    }
}
