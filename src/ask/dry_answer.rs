//! The answer to how long a coat takes in a room.

use std::collections::BTreeMap;

use serde::Serialize;

use super::number::{celsius, clock, g, h, k, m_per_s, min, mm, percent};
use super::{CautionAnswer, HelpAnswer, LampAnswer};
use crate::coating::Law;
use crate::cure::bubbles::BubbleCheck;
use crate::cure::law::Band;
use crate::cure::{Enclosure, Warning};
use crate::drying::{Days, SecondLook};
use crate::quantity::{Humidity, Length, Mass, Speed, Temperature, TemperatureDifference, Time};
use crate::stage::Stage;
use jiff::civil::Time as Clock;

/// How many times the label's time, within a band.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Ratio {
    /// Low end.
    pub low: f64,
    /// The figure to plan with.
    pub likely: f64,
    /// High end.
    pub high: f64,
}

impl From<Band> for Ratio {
    fn from(band: Band) -> Self {
        Self {
            low: band.low,
            likely: band.likely,
            high: band.high,
        }
    }
}

impl From<Ratio> for Band {
    fn from(ratio: Ratio) -> Self {
        Self {
            low: ratio.low,
            likely: ratio.likely,
            high: ratio.high,
        }
    }
}

/// The air of a room, or of a label.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct RoomAnswer {
    /// Temperature of the air.
    #[serde(rename = "temperature_c", serialize_with = "celsius")]
    pub temperature: Temperature,
    /// Relative humidity.
    #[serde(rename = "humidity_percent", serialize_with = "percent")]
    pub humidity: Humidity,
    /// Speed of the air past the coat.
    #[serde(rename = "air_speed_m_per_s", serialize_with = "m_per_s")]
    pub air_speed: Speed,
}

/// A coat and the air over it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct CoatAnswer {
    /// The air.
    pub room: RoomAnswer,
    /// Wet film thickness, mean over the surface.
    #[serde(rename = "depth_mm", serialize_with = "mm")]
    pub depth: Length,
}

/// One stage: on the label, and here.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StageAnswer {
    /// The stage.
    #[serde(serialize_with = "stage_name")]
    pub stage: Stage,
    /// The label's time.
    #[serde(rename = "label_h", serialize_with = "h")]
    pub label: Time,
    /// Where the label's time comes from.
    pub source: String,
    /// How many times the label's time it takes here; none where it never gets there.
    pub ratio: Option<Ratio>,
    /// How long it takes here.
    #[serde(rename = "here_h", serialize_with = "h")]
    pub here: Option<Time>,
}

// serde hands every field over by reference
#[expect(
    clippy::trivially_copy_pass_by_ref,
    reason = "the signature is serde's"
)]
pub(super) fn stage_name<S: serde::Serializer>(stage: &Stage, to: S) -> Result<S::Ok, S::Error> {
    to.serialize_str(stage.name())
}

// serde hands every field over by reference
#[expect(
    clippy::ref_option,
    clippy::trivially_copy_pass_by_ref,
    reason = "the signature is serde's"
)]
fn stage_or_none<S: serde::Serializer>(stage: &Option<Stage>, to: S) -> Result<S::Ok, S::Error> {
    match stage {
        Some(stage) => to.serialize_str(stage.name()),
        None => to.serialize_none(),
    }
}

/// One cause of the factor.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct PartAnswer {
    /// `depth`, `size`, `crowding`, `temperature`, `humidity`, `air_speed` or `pressure`.
    pub cause: &'static str,
    /// What it multiplies the time by; none where it stops the coat, or another cause has.
    pub times: Option<f64>,
    /// Whether this is the cause that stops it.
    pub stops: bool,
}

/// Pot life of a mix: on the label, and here.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct PotLife {
    /// How many times the label's.
    pub ratio: Ratio,
    /// On the label, or as the family's labels usually say.
    #[serde(rename = "label_min", serialize_with = "min")]
    pub label: Option<Time>,
    /// The mass that the label's holds for.
    #[serde(rename = "label_mass_g", serialize_with = "g")]
    pub mass: Mass,
    /// Whether the label names no mass, so that this one is assumed.
    pub mass_is_assumed: bool,
    /// Here.
    #[serde(rename = "here_min", serialize_with = "min")]
    pub here: Option<Time>,
}

/// How the time from first principles stands to the label's own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Agreement {
    /// Within the factor of 2 that first principles are good to.
    Agrees,
    /// The water is gone in less than half the label's time.
    Sooner,
    /// The water takes more than twice the label's time.
    Later,
}

/// Time to the last stage from first principles: good to a factor of 1.5 to 2,
/// a check on the label and not for planning.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct FirstPrinciples {
    /// At the label's conditions.
    #[serde(rename = "label_h", serialize_with = "h")]
    pub label: Time,
    /// Here; none where it never gets there.
    #[serde(rename = "here_h", serialize_with = "h")]
    pub here: Option<Time>,
    /// The label's own time for the whole; none where it has none.
    #[serde(rename = "told_h", serialize_with = "h")]
    pub told: Option<Time>,
    /// How the first stands to it.
    pub agreement: Option<Agreement>,
}

/// A warning.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WarningAnswer {
    /// Its short fixed name.
    pub code: &'static str,
    /// Its words, in metric units.
    pub text: String,
    /// The warning itself.
    #[serde(skip)]
    pub warning: Warning,
}

impl From<Warning> for WarningAnswer {
    fn from(warning: Warning) -> Self {
        Self {
            code: warning.code(),
            text: warning.to_string(),
            warning,
        }
    }
}

/// What was assumed where the question did not say.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(tag = "what", rename_all = "snake_case")]
pub enum Assumption {
    /// The coat is as deep as domes often are (typical, from memory).
    DomeDepth {
        /// So deep.
        #[serde(rename = "depth_mm", serialize_with = "mm")]
        depth: Length,
    },
    /// The wet film is the family's usual one.
    UsualFilm {
        /// So thick.
        #[serde(rename = "depth_mm", serialize_with = "mm")]
        depth: Length,
    },
    /// The label's times hold for a coat of this depth.
    LabelDepth {
        /// So deep.
        #[serde(rename = "depth_mm", serialize_with = "mm")]
        depth: Length,
    },
    /// The label's times hold for a coat of this depth, and this thinner one takes no
    /// longer here than such a coat would.
    NoLonger {
        /// So deep.
        #[serde(rename = "depth_mm", serialize_with = "mm")]
        depth: Length,
    },
    /// The piece is a round blank.
    RoundBlank {
        /// Its diameter.
        #[serde(rename = "diameter_mm", serialize_with = "mm")]
        diameter: Length,
    },
    /// The piece is a sheet.
    Sheet {
        /// Its length.
        #[serde(rename = "length_mm", serialize_with = "mm")]
        length: Length,
        /// Its width.
        #[serde(rename = "width_mm", serialize_with = "mm")]
        width: Length,
    },
    /// The piece lies alone.
    Alone,
    /// Each of the pieces in a box lies apart.
    EachAlone,
    /// The label means an ordinary still room.
    LabelStill,
}

/// Pieces in straight rows on their tray, while they are wet and the air is still.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct OnTrayAnswer {
    /// Rows of them.
    pub rows: u32,
    /// Pieces in a full row.
    pub columns: u32,
    /// How many times as slowly as the one at a corner the slowest dries.
    pub slowest_times: f64,
}

/// When to look for bubbles.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct BubblesAnswer {
    /// How long after the pour.
    #[serde(rename = "look_min", serialize_with = "min")]
    pub look: Time,
    /// Not later than this; none before a lamp.
    #[serde(rename = "not_later_min", serialize_with = "min")]
    pub not_later: Option<Time>,
    /// Bubbles of at least this have risen by then.
    #[serde(rename = "risen_mm", serialize_with = "mm")]
    pub risen: Length,
    /// Whether some that can be seen are still inside by then.
    pub too_soon: bool,
    /// The clock time of the look, where that of the pour is known.
    #[serde(serialize_with = "clock")]
    pub look_at: Option<Clock>,
    /// Pour by then, to look before going to sleep; where that is known.
    #[serde(serialize_with = "clock")]
    pub pour_by: Option<Clock>,
    /// Whether the look comes before the maker is asleep; nothing where that is not known.
    pub awake: Option<bool>,
    /// The check itself.
    #[serde(skip)]
    pub check: BubbleCheck,
}

impl BubblesAnswer {
    /// A check of a coat poured at a clock time by a maker who sleeps from another on.
    pub(super) fn of(check: BubbleCheck, poured: Option<Clock>, asleep: Option<Clock>) -> Self {
        let minutes = |clock: Clock| f64::from(clock.hour()) * 60.0 + f64::from(clock.minute());
        let clock = |minutes: f64| {
            #[expect(clippy::cast_possible_truncation, reason = "less than a day's minutes")]
            let minutes = minutes.rem_euclid(1440.0) as i64;
            jiff::civil::Time::midnight()
                .checked_add(jiff::SignedDuration::from_mins(minutes))
                .ok()
        };
        let (look, latest) = (check.look.min(), asleep.map(minutes));
        // hours until the maker is asleep, counted from the pour
        let awake = poured
            .zip(latest)
            .map(|(poured, latest)| look <= (latest - minutes(poured)).rem_euclid(1440.0));
        Self {
            look_at: poured.and_then(|poured| clock((minutes(poured) + look).ceil())),
            pour_by: latest.and_then(|latest| clock((latest - look).floor())),
            awake,
            look: check.look,
            not_later: check.not_later,
            risen: check.risen,
            too_soon: check.too_soon,
            check,
        }
    }
}

/// The stage that is waited for in a room 3 K colder than told and 15 points damper, or drier
/// where it cures by the air's own vapour.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct SecondAnswer {
    /// The stage that is waited for.
    #[serde(serialize_with = "stage_name")]
    pub stage: Stage,
    /// How many times the label's time; none where it never gets there.
    pub factor: Option<f64>,
    /// How long that is.
    #[serde(rename = "here_h", serialize_with = "h")]
    pub here: Option<Time>,
    /// Whether that room is drier, not damper.
    pub drier: bool,
    /// The same.
    #[serde(skip)]
    pub told: SecondLook,
}

/// The same pour on each day of a record.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct DaysAnswer {
    /// The stage that the times are for.
    #[serde(serialize_with = "stage_name")]
    pub stage: Stage,
    /// On one day in ten, no longer than this; none for never.
    #[serde(rename = "quick_h", serialize_with = "h")]
    pub quick: Option<Time>,
    /// On the middle day.
    #[serde(rename = "middle_h", serialize_with = "h")]
    pub middle: Option<Time>,
    /// On nine days in ten, no longer than this.
    #[serde(rename = "slow_h", serialize_with = "h")]
    pub slow: Option<Time>,
    /// Days on which it gets there.
    pub reached: usize,
    /// All the days that can be told of.
    pub of: usize,
    /// Days at the record's end that can't.
    pub untold: usize,
    /// The same.
    #[serde(skip)]
    pub told: Days,
}

impl From<Days> for DaysAnswer {
    fn from(days: Days) -> Self {
        Self {
            stage: days.stage,
            quick: days.quick,
            middle: days.middle,
            slow: days.slow,
            reached: days.reached,
            of: days.of,
            untold: days.untold,
            told: days,
        }
    }
}

/// The room that a time needs.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Needed {
    /// The stage that it is asked for.
    #[serde(serialize_with = "stage_name")]
    pub stage: Stage,
    /// The time asked for.
    #[serde(rename = "within_h", serialize_with = "h")]
    pub within: Time,
    /// The least of each change that would do alone; empty where it is done by then
    /// already, or where none would do.
    pub rooms: Vec<HelpAnswer>,
}

/// How long a coat takes in a room, and why.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "each is a fact of its own that JSON tells"
)]
pub struct DryAnswer {
    /// The coating.
    pub coating: String,
    /// The law that it dries or cures by.
    #[serde(skip)]
    pub law: Law,
    /// Whether the coating is poured as a dome.
    #[serde(skip)]
    pub is_dome: bool,
    /// Whether physics gives the ratio; if not, the label's time is kept as it is.
    pub worked_out: bool,
    /// The coat here.
    pub here: CoatAnswer,
    /// Whether the room stays as it is; else `here` is the air of the pour.
    pub steady: bool,
    /// What was odd in the record of the room's air.
    pub notices: Vec<String>,
    /// The box that it is shut in.
    #[serde(skip)]
    pub shut_in: Option<Enclosure>,
    /// How unevenly the pieces on its tray dry while they are wet; none for one alone.
    pub on_tray: Option<OnTrayAnswer>,
    /// When it is poured, by the clock, where that is known.
    #[serde(serialize_with = "clock")]
    pub poured_at: Option<Clock>,
    /// The coat that the label's times are for.
    pub reference: CoatAnswer,
    /// How many times the label's time the whole takes; none where it never gets there.
    pub factor: Option<f64>,
    /// The band of the factor.
    pub band: Option<Ratio>,
    /// The causes of the factor, which multiply to it.
    pub parts: Vec<PartAnswer>,
    /// While water is leaving: how many times the label's. It is told even
    /// where the film would not form.
    pub wet_stage: Option<Ratio>,
    /// The figure to plan with of the same.
    pub wet_stage_factor: Option<f64>,
    /// Hours to each stage that the label has and that is reached here.
    pub hours: BTreeMap<&'static str, f64>,
    /// The label's stages that are never reached here, as things stand.
    pub never: Vec<&'static str>,
    /// The same with the label's times, bands and sources.
    pub stages: Vec<StageAnswer>,
    /// Whether drying is so slow that the figures say no more than that.
    pub very_slow: bool,
    /// Where it is too cold: the room must be this warm.
    #[serde(rename = "warm_enough_c", serialize_with = "celsius")]
    pub warm_enough: Option<Temperature>,
    /// Where it is too damp: it dries below this humidity.
    #[serde(rename = "dries_below_percent", serialize_with = "percent")]
    pub dries_below: Option<Humidity>,
    /// When to look for bubbles; none for a coat that is not poured.
    pub bubbles: Option<BubblesAnswer>,
    /// What the lamp does; none for a coat that no lamp cures.
    pub lamp: Option<LampAnswer>,
    /// Pot life, for coatings that are mixed.
    pub pot_life: Option<PotLife>,
    /// Dew point of the air; none for air without water.
    #[serde(rename = "dew_point_c", serialize_with = "celsius")]
    pub dew_point: Option<Temperature>,
    /// How far the room is above its dew point, in kelvins.
    #[serde(rename = "dew_point_margin_k", serialize_with = "k")]
    pub dew_point_margin: Option<TemperatureDifference>,
    /// The same 15 points damper and 3 K colder.
    pub second_look: Option<SecondAnswer>,
    /// How the days of a record differ.
    pub days: Option<DaysAnswer>,
    /// The least room that would have it done in the time asked for.
    pub needed: Option<Needed>,
    /// Time from first principles.
    pub first_principles: Option<FirstPrinciples>,
    /// What to warn of.
    pub warnings: Vec<WarningAnswer>,
    /// The stage that the factor and the helps' times are for.
    #[serde(serialize_with = "stage_or_none")]
    pub whole: Option<Stage>,
    /// What would help, the greatest help first.
    pub help: Vec<HelpAnswer>,
    /// What was assumed.
    pub assumed: Vec<Assumption>,
    /// What to take care of; the first line says what comes before this list.
    pub cautions: Vec<CautionAnswer>,
}
