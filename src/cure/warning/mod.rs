//! What a maker should be told about a coat in its room. The words are here
//! and nowhere else.

mod words;

use super::blush::{Blush, Risk};
use crate::quantity::{AirChanges, AirFlow, Humidity, Length, Mass, Share, Temperature, Time};

/// A warning, with the figures behind it. Show it with `{}`.
#[derive(Debug, Clone, PartialEq)]
pub enum Warning {
    /// The piece is nearly cold enough for dew: less than 3 K above the dew point.
    DewPoint {
        /// Temperature of the piece.
        surface: Temperature,
        /// Dew point of the air.
        dew_point: Temperature,
    },
    /// The wet film is colder than its film-forming minimum.
    FilmForming {
        /// Temperature of the wet film.
        film: Temperature,
        /// The film-forming minimum.
        minimum: Temperature,
        /// Air this warm, with the same water in it, would do.
        warm_enough: Option<Temperature>,
    },
    /// Blush or haze is to be expected more than usual.
    Blush(Blush),
    /// Air so damp that drying is very slow.
    VeryDamp {
        /// Relative humidity of the air.
        humidity: Humidity,
        /// Above this it would not dry at all.
        will_not_dry_above: Humidity,
    },
    /// Air in which the coat will not dry properly.
    WillNotDry {
        /// Relative humidity of the air.
        humidity: Humidity,
        /// It dries below this.
        dries_below: Humidity,
    },
    /// Too cold for the resin to cure, however long one waits.
    TooColdToCure {
        /// Temperature of the air.
        air: Temperature,
        /// No time is promised below this.
        below: Temperature,
        /// Move it to at least this.
        move_to: Temperature,
    },
    /// Hours so cold that the resin hardly cures on; it is there in the end for the warmer ones.
    HardlyCures {
        /// Temperature of the air.
        air: Temperature,
        /// If it stayed below this no time would be promised.
        below: Temperature,
        /// At least this warm would do.
        move_to: Temperature,
    },
    /// The coat is outside the depths the model was checked at.
    UncheckedDepth {
        /// Wet film thickness.
        depth: Length,
    },
    /// Once its surface is there, hours come that are too cold for the film to form.
    ColdLater {
        /// How long the surface stays open.
        open: Time,
        /// How long after the pour the cold begins.
        cold: Time,
    },
    /// It lies in a box, which is not worked out for this kind of coating.
    BoxNotCounted,
    /// It is not there when the record of the room's air ends.
    NotWithin {
        /// How long the record lasts from the pour on.
        lasts: Time,
    },
    /// Some hours of the room's air bring this.
    During {
        /// The worst of it.
        worst: Box<Self>,
        /// How long after the pour it first does.
        first: Time,
        /// For how long in all.
        lasts: Time,
        /// Of how long.
        of: Time,
    },
    /// The pieces are colder than air that is heated around them.
    PiecesStayCold {
        /// Temperature of the pieces before they warm.
        pieces: Temperature,
        /// Dew point of the air, which heating leaves as it is.
        dew_point: Temperature,
    },
    /// A mix that, left in its cup, comes to make heat faster than it can lose it.
    CupRunsAway {
        /// How much was mixed.
        mass: Mass,
        /// When it gels in the cup.
        gels: Time,
    },
    /// A mix that can't be worked with as long as is wanted.
    PotLifeShort {
        /// How long it can be worked with.
        working: Time,
        /// How long is wanted.
        wanted: Time,
        /// The most to mix at once so that it would be enough, if any mix would do.
        at_most: Option<Mass>,
    },
    /// Deeper than the lamp's light reaches in any sensible time.
    BeyondTheLamp {
        /// Wet film thickness.
        depth: Length,
    },
    /// Air keeps a thin layer of a lamp-cured coat tacky.
    TackyLayer,
    /// What a lamp's light does not reach does not cure.
    LightMustReach,
    /// A coat that vapour cures, in air so damp that it may foam.
    MayFoam {
        /// Relative humidity of the air.
        humidity: Humidity,
    },
    /// A coat that vapour cures must lie open to it.
    NeedsVapour,
    /// A coat that vapour cures, in air that holds none.
    NoVapour,
    /// A coat that vapour cures, where none gets to it.
    ClosedIn,
    /// A sealed box whose air takes up no more water long before the coat is dry.
    BoxStalls {
        /// Share of its water that stays in the coat.
        share_left: Share,
        /// Water that the air in the box takes up in all.
        takes_up: Mass,
    },
    /// A box that keeps much of the vapour of its pieces.
    BoxSlows {
        /// How many times longer the wet stage takes in it, `[1]`.
        times: f64,
        /// Relative humidity it comes to while the pieces are wet.
        humidity: Humidity,
        /// Fewest air changes for a quarter longer at most.
        least: AirChanges,
        /// The same as a flow of fresh air.
        fresh: AirFlow,
    },
    /// Moving air does little for a coat this thick and may skin it over.
    FanDoesLittle {
        /// Share of the time that it saves.
        saves: Share,
    },
}

impl Warning {
    /// A short fixed name, for machine-readable output.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::DewPoint { .. } => "dew-point",
            Self::FilmForming { .. } => "film-forming",
            Self::Blush(blush) => match blush.risk() {
                Risk::High => "blush-high",
                Risk::Raised => "blush-raised",
                Risk::Low => "blush-low",
            },
            Self::VeryDamp { .. } => "very-damp",
            Self::WillNotDry { .. } => "will-not-dry",
            Self::TooColdToCure { .. } => "too-cold-to-cure",
            Self::HardlyCures { .. } => "hardly-cures",
            Self::UncheckedDepth { .. } => "unchecked-depth",
            Self::NotWithin { .. } => "not-within",
            Self::BoxNotCounted => "box-not-counted",
            Self::ColdLater { .. } => "cold-later",
            Self::PiecesStayCold { .. } => "pieces-stay-cold",
            Self::During { worst, .. } => worst.code(),
            Self::CupRunsAway { .. } => "cup-runs-away",
            Self::PotLifeShort { .. } => "pot-life-short",
            Self::BeyondTheLamp { .. } => "beyond-the-lamp",
            Self::TackyLayer => "tacky-layer",
            Self::LightMustReach => "light-must-reach",
            Self::MayFoam { .. } => "may-foam",
            Self::NeedsVapour => "needs-vapour",
            Self::NoVapour => "no-vapour",
            Self::ClosedIn => "closed-in",
            Self::BoxStalls { .. } => "box-stalls",
            Self::BoxSlows { .. } => "box-slows",
            Self::FanDoesLittle { .. } => "fan-does-little",
        }
    }

    /// Whether it is of a coat that is still wet: dew, or a high risk of blush.
    pub(super) fn is_of_wet_coats(&self) -> bool {
        match self {
            Self::DewPoint { .. } => true,
            Self::Blush(blush) => blush.risk() == Risk::High,
            Self::During { worst, .. } => worst.is_of_wet_coats(),
            _ => false,
        }
    }

    /// The worse of two of its own kind. A box is told with the dampest that it gets, which need not be in
    /// the hours in which it slows its coats most.
    pub(super) fn worse(self, other: Self) -> Self {
        let damp = |of: &Self| match of {
            Self::BoxSlows { humidity, .. } => Some(*humidity),
            _ => None,
        };
        let dampest = match (damp(&self), damp(&other)) {
            (Some(a), Some(b)) if b > a => Some(b),
            (a, _) => a,
        };
        let mut worse = if other.severity() > self.severity() {
            other
        } else {
            self
        };
        if let (Self::BoxSlows { humidity, .. }, Some(dampest)) = (&mut worse, dampest) {
            *humidity = dampest;
        }
        worse
    }

    /// How bad it is among warnings of its own kind: more is worse.
    pub(super) fn severity(&self) -> f64 {
        match self {
            Self::DewPoint { surface, dew_point } => (*dew_point - *surface).k(),
            Self::FilmForming { film, minimum, .. } => (*minimum - *film).k(),
            Self::VeryDamp { humidity, .. }
            | Self::WillNotDry { humidity, .. }
            | Self::MayFoam { humidity } => humidity.fraction(),
            Self::TooColdToCure { air, below, .. } | Self::HardlyCures { air, below, .. } => {
                (*below - *air).k()
            }
            Self::Blush(blush) => blush.severity(),
            Self::BoxStalls { share_left, .. } => share_left.fraction(),
            Self::BoxSlows { times, .. } => *times,
            Self::UncheckedDepth { .. }
            | Self::FanDoesLittle { .. }
            | Self::BeyondTheLamp { .. }
            | Self::TackyLayer
            | Self::LightMustReach
            | Self::NeedsVapour
            | Self::NoVapour
            | Self::BoxNotCounted
            | Self::ClosedIn
            | Self::NotWithin { .. }
            | Self::ColdLater { .. }
            | Self::PiecesStayCold { .. }
            | Self::CupRunsAway { .. }
            | Self::PotLifeShort { .. }
            | Self::During { .. } => 0.0,
        }
    }
}
