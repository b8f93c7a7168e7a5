//! The label's conditions against the room as it is: how many times longer, and why.

use super::air::AirValue;
use super::case::Case;
use super::law::{Band, Basis, Hindrance, Law, LawError, Reached};
use super::psychro::dew_point;
use super::situation::Situation;
use super::warning::Warning;
use crate::quantity::{Humidity, Temperature, TemperatureDifference, Time};
use crate::stage::Stage;

/// A surface must stay this far above the dew point while a coat is fresh.
///
/// Source: coating practice, quoted beside ISO 8502-4 and ISO 12944-7.
pub const DEW_POINT_MARGIN: TemperatureDifference = TemperatureDifference::from_k(3.0);

/// A ratio above this is not worth a figure: "very slow".
pub const SLOWEST_WORTH_A_FIGURE: f64 = 4.0;

/// A coat in this room against the same coat at its label's conditions.
#[derive(Debug, Clone, PartialEq)]
pub struct Comparison {
    /// Each stage with its own ratio, earliest first.
    pub stages: Vec<StageComparison>,
    /// The whole coat, and what makes it up.
    pub factor: Factor,
    /// How far the figures may be trusted as a plan.
    pub pace: Pace,
    /// What the ratios rest on.
    pub basis: Basis,
    /// What to warn of.
    pub warnings: Vec<Warning>,
}

/// One stage here against the same stage at the label's conditions.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StageComparison {
    /// The stage.
    pub stage: Stage,
    /// How many times the label's time it takes.
    pub outcome: Outcome,
    /// Time from first principles at the label's conditions, where there is
    /// one. A sanity check, good to a factor of 1.5 to 2; plan with the label's time.
    pub first_principles_at_label: Option<Time>,
    /// The same here.
    pub first_principles_here: Option<Time>,
}

/// How many times the label's time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Outcome {
    /// So many times, within a band.
    Times(Band),
    /// Never, as things stand.
    Never(Hindrance),
}

impl Outcome {
    /// The figure to plan with, if there is one.
    #[must_use]
    pub fn likely(&self) -> Option<f64> {
        match self {
            Self::Times(band) => Some(band.likely),
            Self::Never(_) => None,
        }
    }
}

/// The factor of the whole, split into causes.
#[derive(Debug, Clone, PartialEq)]
pub struct Factor {
    /// How many times the label's time.
    pub whole: Outcome,
    /// The causes, in the order in which they were changed from the label's
    /// to here's: depth, size, crowding, temperature (at the same relative
    /// humidity), humidity, air speed, pressure, the lamp, and a box where there is
    /// one; in air that changes these are its means until the coat is there, and its
    /// ups and downs come last. Where every effect is a number they multiply to the
    /// ratio of the whole. They are those of drying or curing alone: a film too cold
    /// to form has them too.
    pub parts: Vec<Part>,
}

/// One cause and what it does.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Part {
    /// The cause.
    pub cause: Cause,
    /// Its effect.
    pub effect: Effect,
    /// Whether there is more of it here than on the label: deeper, warmer, damper.
    pub more: bool,
}

/// What may differ between the label's conditions and a room.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cause {
    /// Wet film thickness.
    Depth,
    /// Size of the wet surface.
    Size,
    /// Neighbours on the tray.
    Crowding,
    /// Temperature, at the same relative humidity.
    Temperature,
    /// Relative humidity.
    Humidity,
    /// Air speed.
    AirSpeed,
    /// Air pressure, which is height above the sea.
    Pressure,
    /// The lamp's irradiance at the piece.
    Light,
    /// A box around the pieces: its own slower air, and their vapour that it keeps.
    Enclosure,
    /// The air's ups and downs about its mean.
    Swing,
}

impl Cause {
    /// Every cause that can be changed alone, in the order of [`Factor::parts`].
    pub(super) const ALONE: [Self; 9] = [
        Self::Depth,
        Self::Size,
        Self::Crowding,
        Self::Temperature,
        Self::Humidity,
        Self::AirSpeed,
        Self::Pressure,
        Self::Light,
        Self::Enclosure,
    ];

    /// The situation `from` with this one thing as it is in `to`.
    pub(super) fn change(self, from: Situation, to: &Situation) -> Situation {
        let air = |value| from.in_air(from.air().taking(value, &to.air()));
        match self {
            Self::Depth => from.at_depth(to.wet_depth()),
            Self::Size => from.exposed(to.exposure().without_neighbours()),
            Self::Crowding => from.exposed(to.exposure()),
            Self::Temperature => air(AirValue::Temperature),
            Self::Humidity => air(AirValue::Humidity),
            Self::AirSpeed => air(AirValue::Speed),
            Self::Pressure => air(AirValue::Pressure),
            Self::Light => from.lit_by(to.light()),
            Self::Enclosure => from.enclosed(to.enclosure()),
            Self::Swing => from,
        }
    }

    /// Whether there is more of it in `to`.
    pub(super) fn is_more(self, from: &Situation, to: &Situation) -> bool {
        let (old, new) = (from.air(), to.air());
        let (one, other) = (from.exposure(), to.exposure());
        match self {
            Self::Depth => to.wet_depth() > from.wet_depth(),
            Self::Size => other.footprint().area() > one.footprint().area(),
            Self::Crowding => other.tray().map(|it| it.pieces) > one.tray().map(|it| it.pieces),
            Self::Temperature => new.temperature() > old.temperature(),
            Self::Humidity => new.humidity() > old.humidity(),
            Self::AirSpeed => new.speed() > old.speed(),
            Self::Pressure => new.pressure() > old.pressure(),
            Self::Light => to.light() > from.light(),
            Self::Enclosure => to.enclosure().is_some(),
            Self::Swing => true,
        }
    }
}

/// What one cause does to the time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Effect {
    /// It multiplies it.
    Times(f64),
    /// With this change the coat no longer gets there.
    Stops(Hindrance),
    /// Not told, because a cause before it stops the coat already.
    AlreadyStopped,
}

/// How far a comparison may be trusted as a plan.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Pace {
    /// The figures hold within their band.
    Normal,
    /// Very slow (from 80 % humidity for water-based coats, or more than four
    /// times the label): the figures say no more than that.
    VerySlow,
    /// It will not dry properly; no date.
    WillNotDry {
        /// At or above this humidity.
        above: Humidity,
    },
    /// It makes no headway; no date.
    NoHeadway,
    /// Too cold; no date.
    TooCold {
        /// Air this warm would do, if any would.
        warm_enough: Option<Temperature>,
    },
}

/// Compares a coat here with the same coat at its label's conditions.
///
/// # Errors
/// [`LawError::OutOfRange`] where either situation is outside what the law
/// covers, [`LawError::LabelNever`] where the label's own conditions never get there.
pub fn compare(law: &dyn Law, label: &Situation, here: &Situation) -> Result<Comparison, LawError> {
    Case::steady(law, label, here).compare()
}

/// The law's own time at the label's conditions, from what it says of a stage there.
pub(super) fn at_label(reached: Reached) -> Result<Time, LawError> {
    match reached {
        Reached::After(lapse) => Ok(lapse),
        Reached::Never(why) => Err(LawError::LabelNever(why)),
    }
}

/// How far a comparison may be trusted.
pub(super) fn pace(whole: &Outcome, warnings: &[Warning]) -> Pace {
    let very_damp = warnings
        .iter()
        .any(|w| matches!(w, Warning::VeryDamp { .. }));
    match *whole {
        Outcome::Never(Hindrance::TooDamp { dries_below }) => {
            Pace::WillNotDry { above: dries_below }
        }
        Outcome::Never(Hindrance::TooColdToForm { warm_enough, .. }) => {
            Pace::TooCold { warm_enough }
        }
        Outcome::Never(
            Hindrance::NoHeadway
            | Hindrance::NoVapour
            | Hindrance::ClosedIn
            | Hindrance::Stalls { .. }
            | Hindrance::NotWithin { .. },
        ) => Pace::NoHeadway,
        Outcome::Never(Hindrance::TooColdToCure { move_to, .. }) => Pace::TooCold {
            warm_enough: Some(move_to),
        },
        Outcome::Times(band) if very_damp || band.likely > SLOWEST_WORTH_A_FIGURE => Pace::VerySlow,
        Outcome::Times(_) => Pace::Normal,
    }
}

/// What to warn of in one air, for a coat of which `never` says why it never gets there.
pub(super) fn warnings(law: &dyn Law, here: &Situation, never: Option<Hindrance>) -> Vec<Warning> {
    let surface = here.surface();
    let dew = dew_point(&here.air())
        .filter(|&dew_point| surface - dew_point < DEW_POINT_MARGIN)
        .map(|dew_point| Warning::DewPoint { surface, dew_point });
    let hindrance = match never {
        None | Some(Hindrance::NoHeadway) => None,
        Some(Hindrance::NoVapour) => Some(Warning::NoVapour),
        Some(Hindrance::ClosedIn) => Some(Warning::ClosedIn),
        Some(Hindrance::Stalls { share_left, .. }) => {
            here.filling().map(|filling| Warning::BoxStalls {
                share_left,
                takes_up: filling.takes_up(),
            })
        }
        Some(Hindrance::NotWithin { lasts }) => Some(Warning::NotWithin { lasts }),
        Some(Hindrance::TooDamp { dries_below }) => Some(Warning::WillNotDry {
            humidity: here.air().humidity(),
            dries_below,
        }),
        Some(Hindrance::TooColdToForm {
            film,
            minimum,
            warm_enough,
        }) => Some(Warning::FilmForming {
            film,
            minimum,
            warm_enough,
        }),
        Some(Hindrance::TooColdToCure {
            air,
            below,
            move_to,
        }) => Some(Warning::TooColdToCure {
            air,
            below,
            move_to,
        }),
    };
    hindrance
        .into_iter()
        .chain(dew)
        .chain(law.warnings(here))
        .collect()
}
