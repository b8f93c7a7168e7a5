//! One interface over every way a coat dries or cures.
//!
//! A new family of coatings is one file with one type that implements [`Law`],
//! and one row in the registry beside it.

use super::pot::Pot;
use super::psychro::vapour_density;
use super::situation::Situation;
use super::warning::Warning;
use crate::quantity::{Density, Humidity, Share, Temperature, Time};
use crate::stage::Stage;
use std::fmt::Debug;

/// What a law says of a stage.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Reached {
    /// It is reached after this long, on the law's own clock.
    After(Time),
    /// It is never reached as things stand.
    Never(Hindrance),
}

/// Why a stage is never reached as things stand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Hindrance {
    /// The air is too damp.
    TooDamp {
        /// It does in air drier than this.
        dries_below: Humidity,
    },
    /// The wet film is colder than its film-forming minimum: it would dry white or cracked.
    TooColdToForm {
        /// Temperature of the wet film.
        film: Temperature,
        /// The film-forming minimum.
        minimum: Temperature,
        /// Air as warm as this, carrying the same water, would be warm enough.
        warm_enough: Option<Temperature>,
    },
    /// The resin turns glassy before it has reacted; warmth helps, waiting does not.
    TooColdToCure {
        /// Temperature of the air.
        air: Temperature,
        /// Below this no time is promised.
        below: Temperature,
        /// Move it to at least this.
        move_to: Temperature,
    },
    /// The air holds no vapour for the coat to cure by.
    NoVapour,
    /// No vapour gets to the coat, between faces that let none through.
    ClosedIn,
    /// The air of its sealed box takes up no more water.
    Stalls {
        /// Water per dry polymer by volume, X, that stays in the film, `[1]`.
        at: f64,
        /// The same as a share of what the fresh film held.
        share_left: Share,
    },
    /// It makes no headway as things stand.
    NoHeadway,
    /// It is not there when the record of the room's air ends.
    NotWithin {
        /// How long the record lasts from the pour on.
        lasts: Time,
    },
}

/// A ratio with the band it lies in, `low <= likely <= high`, all `[1]`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band {
    /// Low end.
    pub low: f64,
    /// The figure to plan with.
    pub likely: f64,
    /// High end; infinite where one of the doubts would stop the coat.
    pub high: f64,
}

impl Band {
    /// A ratio without a band.
    #[must_use]
    pub fn exactly(ratio: f64) -> Self {
        Self {
            low: ratio,
            likely: ratio,
            high: ratio,
        }
    }
}

/// What a law's ratios rest on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// Physics of the coat gives the ratio to the label's time.
    Physics,
    /// Nothing is claimed: the label's time is kept as it is.
    LabelOnly,
}

/// One coat while its air stays as it is: how far it has come, and how long that takes.
///
/// How far a coat has come is one number of the law's own, the water still in it
/// or the share of a reaction done; it may fall or rise. Times are seconds on the
/// law's own clock.
pub trait Process {
    /// Time for the coat to come from `from` to `to`, `[s]`; nothing if it is
    /// there already, `None` if it never gets there in this air.
    fn seconds(&self, from: f64, to: f64) -> Option<f64>;

    /// How far a coat that was at `from` has come after so many `seconds`.
    fn after(&self, from: f64, seconds: f64) -> f64;

    /// Takes many coats on by so many `seconds` at once. They stand in order, the
    /// one that has come furthest first, and keep that order.
    fn after_each(&self, coats: &mut [f64], seconds: f64) {
        for coat in coats {
            *coat = self.after(*coat, seconds);
        }
    }
}

/// How far a coat has come, and what the air of its box carries.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Standing {
    /// How far the coat has come, in its law's own measure.
    pub coat: f64,
    /// Vapour in the air around it; means nothing in the open, where it is the room's.
    pub vapour: Density,
}

impl Standing {
    /// A coat that has come so far, in air that is still the room's.
    #[must_use]
    pub fn fresh(coat: f64, situation: &Situation) -> Self {
        Self {
            coat,
            vapour: vapour_density(&situation.air()),
        }
    }
}

/// How a coat came on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Advance {
    /// It came as far as was asked after so many seconds.
    Reached(f64),
    /// It did not; where it stands when the time is up, or nothing changes any more.
    Left(Standing),
}

/// A coat in a box whose air it changes itself, while the air of the room around stays
/// as it is.
pub trait InBox {
    /// Takes a coat on until it has come to `goal`, but for no longer than so many
    /// `seconds`, which may be without end.
    fn until(&self, from: Standing, goal: f64, seconds: f64) -> Advance;
}

/// How one kind of coating dries or cures.
pub trait Law: Debug + Send + Sync {
    /// Its name in `data/coatings.toml`.
    fn name(&self) -> &'static str;

    /// The stages it speaks of, earliest first. Never empty; all of them where a law says nothing.
    fn stages(&self) -> &'static [Stage] {
        &Stage::ALL
    }

    /// The stage whose ratio is told as the factor: the whole coat.
    fn whole(&self) -> Stage {
        Stage::Through
    }

    /// How far a fresh coat has come; not at all where a law says nothing.
    fn start(&self, _: &Situation) -> f64 {
        0.0
    }

    /// How far it must come for a stage.
    fn goal(&self, stage: Stage, situation: &Situation) -> f64;

    /// The coat in the situation's air, kept as it is.
    ///
    /// # Errors
    /// [`LawError::OutOfRange`] where the situation is outside what the law covers.
    fn process(&self, situation: &Situation) -> Result<Box<dyn Process + '_>, LawError>;

    /// The coat in the situation's box, for a law that minds what the coat itself gives
    /// off; nothing in the open, and for laws that don't.
    ///
    /// # Errors
    /// As [`process`](Self::process).
    fn in_box(&self, _situation: &Situation) -> Result<Option<Box<dyn InBox + '_>>, LawError> {
        Ok(None)
    }

    /// Takes a coat on in the situation's air, in its box where it lies in one, until
    /// it has come to `goal`, but for no longer than so many `seconds`.
    ///
    /// # Errors
    /// As [`process`](Self::process).
    fn advance(
        &self,
        situation: &Situation,
        from: Standing,
        goal: f64,
        seconds: f64,
    ) -> Result<Advance, LawError> {
        if let Some(in_box) = self.in_box(situation)? {
            return Ok(in_box.until(from, goal, seconds));
        }
        let process = self.process(situation)?;
        Ok(match process.seconds(from.coat, goal) {
            Some(needed) if needed <= seconds => Advance::Reached(needed),
            _ => Advance::Left(Standing {
                coat: process.after(from.coat, seconds),
                ..from
            }),
        })
    }

    /// Why a stage is never reached, asked where [`Process::seconds`] says so.
    fn why_never(&self, stage: Stage, situation: &Situation) -> Hindrance;

    /// Why no date should be given for a stage, whatever the process says.
    fn refusal(&self, _stage: Stage, _situation: &Situation) -> Option<Hindrance> {
        None
    }

    /// What in the law is not known well: the band of a ratio is found by
    /// running each.
    fn doubts(&self) -> Vec<Doubt> {
        Vec::new()
    }

    /// The band of a ratio as the law would have it, from the one that its
    /// [`doubts`](Self::doubts) and the room's give.
    fn planned(&self, _stage: Stage, _label: &Situation, _here: &Situation, band: Band) -> Band {
        band
    }

    /// Whether its clock is meant to be time itself, from first principles.
    fn tells_time(&self) -> bool {
        false
    }

    /// What to warn of, beside what holds for every coating.
    fn warnings(&self, _situation: &Situation) -> Vec<Warning> {
        Vec::new()
    }

    /// The mix in its cup, for coatings that are mixed.
    fn pot(&self) -> Option<Pot> {
        None
    }

    /// What its ratios rest on.
    fn basis(&self) -> Basis {
        Basis::Physics
    }

    /// How long a fresh coat takes to come as far as `goal` in air that stays as it is, `[s]`;
    /// `None` if it never does.
    ///
    /// # Errors
    /// As [`process`](Self::process).
    fn seconds(&self, situation: &Situation, goal: f64) -> Result<Option<f64>, LawError> {
        let from = Standing::fresh(self.start(situation), situation);
        Ok(match self.in_box(situation)? {
            Some(in_box) => match in_box.until(from, goal, f64::INFINITY) {
                Advance::Reached(seconds) => Some(seconds),
                Advance::Left(_) => None,
            },
            None => self.process(situation)?.seconds(from.coat, goal),
        })
    }

    /// What so many `seconds`, or none, say of a stage.
    fn after(&self, seconds: Option<f64>, stage: Stage, situation: &Situation) -> Reached {
        match seconds {
            Some(seconds) => Reached::After(Time::from_s(seconds)),
            None => Reached::Never(self.why_never(stage, situation)),
        }
    }

    /// When a stage is reached in air that stays as it is.
    ///
    /// # Errors
    /// As [`process`](Self::process).
    fn reach(&self, stage: Stage, situation: &Situation) -> Result<Reached, LawError> {
        let seconds = self.seconds(situation, self.goal(stage, situation))?;
        Ok(self.after(seconds, stage, situation))
    }
}

/// One thing in a law that is not known well, at either end of its range.
#[derive(Debug)]
pub struct Doubt {
    /// What it is.
    pub what: &'static str,
    /// The law with it at one end.
    pub low: Box<dyn Law>,
    /// And at the other.
    pub high: Box<dyn Law>,
}

/// Properties of a coating, by key, each in SI (temperatures in °C).
pub struct Properties<'a> {
    /// Name of the law that asks.
    pub(super) law: &'static str,
    /// Answers a key.
    pub(super) read: &'a dyn Fn(&str) -> Option<f64>,
}

impl Properties<'_> {
    /// The property, or an error that names it.
    pub(super) fn need(&self, key: &'static str) -> Result<f64, LawError> {
        (self.read)(key).ok_or(LawError::Missing {
            law: self.law,
            property: key,
        })
    }
}

/// Why a law could not be made or asked.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum LawError {
    /// No such law.
    #[error("no law of drying or curing is called '{name}'; known are: {}", known.join(", "))]
    Unknown {
        /// The name that was read.
        name: String,
        /// The names there are.
        known: Vec<&'static str>,
    },
    /// A property is not given.
    #[error("the law '{law}' needs the property '{property}'")]
    Missing {
        /// The law.
        law: &'static str,
        /// The property's key.
        property: &'static str,
    },
    /// A number is outside what the law covers.
    #[error("{what} of {value} is outside {low} to {high} (SI units)")]
    OutOfRange {
        /// What it is.
        what: &'static str,
        /// Its value in SI.
        value: f64,
        /// The lowest allowed.
        low: f64,
        /// The highest allowed.
        high: f64,
    },
    /// The label's own conditions would never dry or cure the coat, so nothing can be compared with them.
    #[error(
        "at the label's own conditions the coat never gets there, so there is nothing to compare with"
    )]
    LabelNever(Hindrance),
}

impl LawError {
    /// Refuses a value outside a range, or NaN.
    pub(super) fn check(
        what: &'static str,
        value: f64,
        (low, high): (f64, f64),
    ) -> Result<(), Self> {
        if (low..=high).contains(&value) {
            Ok(())
        } else {
            Err(Self::OutOfRange {
                what,
                value,
                low,
                high,
            })
        }
    }
}
