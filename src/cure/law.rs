//! One interface over every way a coat dries or cures.
//!
//! A new family of coatings is one file with one type that implements [`Law`],
//! and one row in the registry beside it.

use super::situation::{Situation, Spell};
use super::warning::Warning;
use crate::quantity::{Humidity, Temperature, Time};
use std::fmt::Debug;

/// A point in a coat's life, as ASTM D1640 and ISO 9117 define them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Stage {
    /// Tack-free: a light touch no longer sticks or pulls.
    TackFree,
    /// Dry to handle (dry-hard): may be picked up without marking.
    Handle,
    /// May take another coat.
    Recoat,
    /// Dry-through: the thumb, pressed and turned, leaves no mark.
    Through,
}

/// What a law says of a stage.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Reached {
    /// It is reached after this long.
    After(Lapse),
    /// It is never reached as things stand.
    Never(Hindrance),
}

/// How long a stage takes, on the law's own clock.
///
/// Two lapses of one law may be divided by each other; only some laws know the
/// time itself from first principles.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lapse {
    relative: f64,
    time: Option<Time>,
}

impl Lapse {
    /// A time from first principles.
    #[must_use]
    pub fn of(time: Time) -> Self {
        Self {
            relative: time.s(),
            time: Some(time),
        }
    }
    /// A lapse known only as a multiple of the same law's other lapses.
    #[must_use]
    pub fn relative(times: f64) -> Self {
        Self {
            relative: times,
            time: None,
        }
    }
    /// The time itself, where the law knows it. Good to a factor of 1.5 to 2.
    #[must_use]
    pub fn time(&self) -> Option<Time> {
        self.time
    }
    /// How long one unit of the law's clock is, if this lapse takes so long in truth.
    pub(super) fn unit(&self, takes: Time) -> Time {
        takes / self.relative
    }
    /// This lapse in truth, with a clock of that unit.
    pub(super) fn in_units(&self, unit: Time) -> Time {
        unit * self.relative
    }
    /// This lapse as a multiple of another of the same law.
    #[must_use]
    pub fn over(&self, other: &Self) -> f64 {
        self.relative / other.relative
    }
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
}

/// A ratio with the band it lies in, `low <= likely <= high`, all `[1]`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band {
    /// Low end.
    pub low: f64,
    /// The figure to plan with.
    pub likely: f64,
    /// High end.
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
    /// A ratio give or take a share of itself.
    #[must_use]
    pub fn within(ratio: f64, share: f64) -> Self {
        Self {
            low: ratio * (1.0 - share),
            likely: ratio,
            high: ratio * (1.0 + share),
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

/// How one kind of coating dries or cures.
pub trait Law: Debug + Send + Sync {
    /// Its name in `data/coatings.toml`.
    fn name(&self) -> &'static str;

    /// The stages it speaks of, earliest first. Never empty; the last is the whole.
    fn stages(&self) -> &'static [Stage];

    /// When a stage is reached.
    ///
    /// # Errors
    /// [`LawError::OutOfRange`] where the situation is outside what the law covers.
    fn reach(&self, stage: Stage, situation: &Situation) -> Result<Reached, LawError>;

    /// The lapse through air that changes, on the law's own clock: `situation`
    /// with its air replaced by each spell's in turn. `None` if the spells end first.
    ///
    /// Unless a law says otherwise, each spell does its share of the work
    /// whatever went before, and none where the stage would never be reached.
    ///
    /// # Errors
    /// As [`reach`](Self::reach).
    fn through(
        &self,
        stage: Stage,
        situation: &Situation,
        spells: &mut dyn Iterator<Item = Spell>,
    ) -> Result<Option<Lapse>, LawError> {
        let (mut passed, mut done) = (0.0, 0.0);
        for spell in spells {
            let lasts = spell.lasts.s();
            if let Reached::After(whole) = self.reach(stage, &situation.in_air(spell.air))? {
                let left = (1.0 - done) * whole.relative;
                if left <= lasts {
                    return Ok(Some(Lapse::relative(passed + left)));
                }
                done += lasts / whole.relative;
            }
            passed += lasts;
        }
        Ok(None)
    }

    /// Why no date should be given at all, whatever [`reach`](Self::reach) says.
    fn refusal(&self, _situation: &Situation) -> Option<Hindrance> {
        None
    }

    /// The ratio of two lapses with its band; `ratio` is their plain quotient.
    fn band(&self, stage: Stage, label: &Situation, here: &Situation, ratio: f64) -> Band;

    /// What to warn of, beside what holds for every coating.
    fn warnings(&self, _situation: &Situation) -> Vec<Warning> {
        Vec::new()
    }

    /// Pot life as a multiple of the label's, for coatings that are mixed.
    fn pot_life(&self, _label: &Situation, _here: &Situation) -> Option<Band> {
        None
    }

    /// What its ratios rest on.
    fn basis(&self) -> Basis {
        Basis::Physics
    }
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
