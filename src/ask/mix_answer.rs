//! The answer to how much to mix.

use serde::Serialize;

use super::number::{celsius, g, kg_per_m3, min, ml, mm, mm2, percent_share};
use super::{CautionAnswer, WarningAnswer};
use crate::consumption::Split;
use crate::cure::pot::{MostMixed, Outlook, PotLife};
use crate::drying::Readings;
use crate::quantity::{Area, Density, Length, Mass, Share, Temperature, Time};

/// A mix in its two parts, in both measures.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct PartsAnswer {
    /// Part A by weight.
    #[serde(rename = "a_g", serialize_with = "g")]
    pub a_mass: Mass,
    /// Part B by weight.
    #[serde(rename = "b_g", serialize_with = "g")]
    pub b_mass: Mass,
    /// Part A by volume.
    #[serde(rename = "a_ml", serialize_with = "ml")]
    pub a_volume: crate::quantity::Volume,
    /// Part B by volume.
    #[serde(rename = "b_ml", serialize_with = "ml")]
    pub b_volume: crate::quantity::Volume,
}

impl PartsAnswer {
    pub(super) fn of(split: &Split) -> Self {
        Self {
            a_mass: split.a.mass,
            b_mass: split.b.mass,
            a_volume: split.a.volume,
            b_volume: split.b.volume,
        }
    }
}

/// The smallest mix worth weighing on a scale.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct LeastAnswer {
    /// The step of the scale.
    #[serde(rename = "scale_g", serialize_with = "g")]
    pub scale: Mass,
    /// The mix.
    #[serde(rename = "mix_g", serialize_with = "g")]
    pub mix: Mass,
}

/// What the label says of pot life.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct PotLifeLabel {
    /// The pot life.
    #[serde(rename = "pot_life_min", serialize_with = "min")]
    pub lasts: Time,
    /// The mass it holds for.
    #[serde(rename = "mass_g", serialize_with = "g")]
    pub mass: Mass,
    /// Whether the label names no mass, so that this one is assumed.
    pub mass_is_assumed: bool,
    /// The temperature it holds at.
    #[serde(rename = "at_c", serialize_with = "celsius")]
    pub at: Temperature,
}

impl PotLifeLabel {
    pub(super) fn of(label: &PotLife) -> Self {
        Self {
            lasts: label.lasts,
            mass: label.mass.mass(),
            mass_is_assumed: label.mass.is_assumed(),
            at: label.at,
        }
    }
}

/// A time by both readings of the label.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct TimesAnswer {
    /// If the label means a thin coat, where it names no mass.
    #[serde(rename = "worst_min", serialize_with = "min")]
    pub worst: Option<Time>,
    /// If it means its mass in a cup.
    #[serde(rename = "plain_min", serialize_with = "min")]
    pub plain: Option<Time>,
}

impl TimesAnswer {
    fn of(both: Readings<Option<Time>>) -> Self {
        // JSON has no infinity: a mix that never gels has no time
        let finite = |time: Option<Time>| time.filter(|time| time.s().is_finite());
        Self {
            worst: finite(both.worst),
            plain: finite(both.plain),
        }
    }
}

/// What becomes of a mix in its cup, or in a tray.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct CupAnswer {
    /// When it gels; none where it never does.
    pub gels: TimesAnswer,
    /// The longest it should be worked with.
    pub work: TimesAnswer,
    /// When it is 10 K above the room; none where it never is.
    pub warm: TimesAnswer,
    /// Whether at the worst it comes to heat itself faster than the heat gets away.
    pub heats_itself: bool,
    /// The same by the plain reading.
    pub heats_itself_as_labelled: bool,
}

impl CupAnswer {
    pub(super) fn of(outlook: &Readings<Outlook>) -> Self {
        let times =
            |of: fn(&Outlook) -> Option<Time>| TimesAnswer::of(outlook.map(|outlook| of(&outlook)));
        Self {
            gels: times(|outlook| Some(outlook.gel())),
            work: times(|outlook| Some(outlook.working())),
            warm: times(Outlook::warm),
            heats_itself: outlook.worst.runs_away(),
            heats_itself_as_labelled: outlook.plain.runs_away(),
        }
    }
}

/// The same mix spread out in a flat tray.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct TrayAnswer {
    /// How deep it lies.
    #[serde(rename = "depth_mm", serialize_with = "mm")]
    pub depth: Length,
    /// How much of the tray it covers.
    #[serde(rename = "area_mm2", serialize_with = "mm2")]
    pub area: Area,
    /// What becomes of it there.
    #[serde(flatten)]
    pub mix: CupAnswer,
}

/// Whether a mix can be worked with as long as is wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Lasts {
    /// By either reading of the label.
    Yes,
    /// Only if the label means its mass in a cup.
    AsLabelled,
    /// By neither.
    No,
}

/// The most to mix at once.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(tag = "most", rename_all = "snake_case")]
pub enum MostAnswer {
    /// So much, for a greater mix does not last so long.
    ByTime {
        /// The mass.
        #[serde(rename = "mix_g", serialize_with = "g")]
        mass: Mass,
    },
    /// As much as the label's pot life is for: by its time alone more would do, but
    /// of a greater mix the label says nothing, and it heats itself sooner.
    ByLabel {
        /// The mass.
        #[serde(rename = "mix_g", serialize_with = "g")]
        mass: Mass,
    },
    /// No mix lasts so long.
    Nothing,
}

impl MostAnswer {
    pub(super) fn of(most: MostMixed, label: &PotLife) -> Self {
        let named = label.mass.mass();
        match most {
            MostMixed::UpTo(mass) if mass < named => Self::ByTime { mass },
            MostMixed::Anything | MostMixed::UpTo(_) => Self::ByLabel { mass: named },
            MostMixed::Nothing => Self::Nothing,
        }
    }

    /// The mass, where any lasts.
    #[must_use]
    pub fn mass(self) -> Option<Mass> {
        match self {
            Self::ByTime { mass } | Self::ByLabel { mass } => Some(mass),
            Self::Nothing => None,
        }
    }
}

/// The most to mix at once, by both readings of the label.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct MostsAnswer {
    /// If the label means a thin coat, where it names no mass.
    pub worst: MostAnswer,
    /// If it means its mass in a cup.
    pub plain: MostAnswer,
}

impl From<Readings<MostAnswer>> for MostsAnswer {
    fn from(both: Readings<MostAnswer>) -> Self {
        Self {
            worst: both.worst,
            plain: both.plain,
        }
    }
}

/// What was assumed where nobody said.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(tag = "what", rename_all = "snake_case")]
pub enum MixAssumption {
    /// The label's pot life is for this mass, or at the worst for a thin coat.
    LabelMass {
        /// The mass.
        #[serde(rename = "mass_g", serialize_with = "g")]
        mass: Mass,
    },
    /// The room is as warm as the label means.
    Room {
        /// So warm.
        #[serde(rename = "temperature_c", serialize_with = "celsius")]
        room: Temperature,
    },
    /// Its parts are stirred for so long.
    Stirring {
        /// So long.
        #[serde(rename = "stirring_min", serialize_with = "min")]
        stirring: Time,
    },
    /// It is to be worked with for so long.
    Working {
        /// So long.
        #[serde(rename = "wanted_min", serialize_with = "min")]
        wanted: Time,
    },
    /// The cup is filled as high as it is wide, and the parts are as warm as the room.
    Beaker,
    /// The heat of a mix is that of a resin this dense.
    Density {
        /// So dense.
        #[serde(rename = "density_kg_per_m3", serialize_with = "kg_per_m3")]
        density: Density,
    },
}

/// How a mix splits, how long it lasts in its cup, and how much to mix at once.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MixAnswer {
    /// The coating.
    pub coating: String,
    /// How much is mixed.
    #[serde(rename = "mass_g", serialize_with = "g")]
    pub mass: Mass,
    /// The room.
    #[serde(rename = "temperature_c", serialize_with = "celsius")]
    pub room: Temperature,
    /// The two parts.
    pub parts: PartsAnswer,
    /// The step of the scale.
    #[serde(rename = "scale_g", serialize_with = "g")]
    pub scale: Mass,
    /// How far out the smaller part may be on that scale, as a share of it.
    #[serde(rename = "smaller_part_out_percent", serialize_with = "percent_share")]
    pub smaller_part_out: Share,
    /// How far out it may be for a mix to be worth weighing.
    #[serde(rename = "worth_weighing_percent", serialize_with = "percent_share")]
    pub worth_weighing: Share,
    /// The smallest mix worth weighing on that scale, and on a fine one.
    pub least: Vec<LeastAnswer>,
    /// What the label says of pot life.
    pub label: PotLifeLabel,
    /// In a cup filled as high as it is wide.
    pub cup: CupAnswer,
    /// In a flat tray instead.
    pub tray: TrayAnswer,
    /// How long its parts are stirred, from when they meet.
    #[serde(rename = "stirring_min", serialize_with = "min")]
    pub stirring: Time,
    /// How long it is to be worked with after that.
    #[serde(rename = "wanted_min", serialize_with = "min")]
    pub wanted: Time,
    /// Whether the question said so; else it is assumed.
    pub wanted_is_asked: bool,
    /// Whether it can be.
    pub lasts: Lasts,
    /// The most to mix at once so that it can be.
    pub most: MostsAnswer,
    /// What to warn of.
    pub warnings: Vec<WarningAnswer>,
    /// What was assumed.
    pub assumed: Vec<MixAssumption>,
    /// What to take care of; the first line says what comes before this list.
    pub cautions: Vec<CautionAnswer>,
}
