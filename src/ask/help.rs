//! What would help a coat along.

use serde::Serialize;

use super::number::{celsius, h, m_per_s, mm, percent};
use super::{Ratio, WarningAnswer};
use crate::cure::help::{Change, Help};
use crate::quantity::{Humidity, Length, Speed, Temperature, Time};

/// One thing that would help, with what it gives.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct HelpAnswer {
    /// `warm`, `dry`, `move_air`, `wider_gaps`, `spread_out`, `thinner`, `two_coats` or `begin_later`.
    pub change: &'static str,
    /// The room's temperature then, where it is warmed.
    #[serde(rename = "temperature_c", serialize_with = "celsius")]
    pub temperature: Option<Temperature>,
    /// The room's humidity then, where it is warmed or dried.
    #[serde(rename = "humidity_percent", serialize_with = "percent")]
    pub humidity: Option<Humidity>,
    /// The air's speed then, where it is moved.
    #[serde(rename = "air_speed_m_per_s", serialize_with = "m_per_s")]
    pub air_speed: Option<Speed>,
    /// Wet depth of one thinner coat, or of each of two.
    #[serde(rename = "each_mm", serialize_with = "mm")]
    pub each: Option<Length>,
    /// Most pieces on a tray then.
    pub pieces: Option<u32>,
    /// How much later to pour.
    #[serde(rename = "later_h", serialize_with = "h")]
    pub later: Option<Time>,
    /// The change itself.
    #[serde(skip)]
    pub told: Change,
    /// How many times the label's time the whole then takes.
    pub ratio: Ratio,
    /// How long the whole then takes; none where the label has no time for it.
    #[serde(rename = "hours", serialize_with = "h")]
    pub takes: Option<Time>,
    /// What is to be said against it.
    pub caution: Option<WarningAnswer>,
}

impl HelpAnswer {
    /// A change, where the label's time for the whole is `label`.
    pub(super) fn of(help: Help, label: Option<Time>) -> Self {
        let nothing = Self {
            change: "spread_out",
            temperature: None,
            humidity: None,
            air_speed: None,
            each: None,
            pieces: None,
            later: None,
            told: help.change,
            ratio: help.ratio.into(),
            takes: label.map(|label| label * help.ratio.likely),
            caution: help.caution.map(Into::into),
        };
        match help.change {
            Change::SpreadOut => nothing,
            Change::TakeOut => Self {
                change: "take_out",
                ..nothing
            },
            Change::Warm { to, humidity, .. } => Self {
                change: "warm",
                temperature: Some(to),
                humidity: Some(humidity),
                ..nothing
            },
            Change::Dry { to, .. } => Self {
                change: "dry",
                humidity: Some(to),
                ..nothing
            },
            Change::Move { to } => Self {
                change: "move_air",
                air_speed: Some(to),
                ..nothing
            },
            Change::WiderGaps { pieces } => Self {
                change: "wider_gaps",
                pieces: Some(pieces),
                ..nothing
            },
            Change::Thinner { to } => Self {
                change: "thinner",
                each: Some(to),
                ..nothing
            },
            Change::BeginLater { by } => Self {
                change: "begin_later",
                later: Some(by),
                ..nothing
            },
            Change::TwoCoats { each } => Self {
                change: "two_coats",
                each: Some(each),
                ..nothing
            },
        }
    }
}
