//! Which weeks of a record are fit to coat in.

use serde::Serialize;

use super::care::care;
use super::dry::{Setting, setting};
use super::dry_answer::stage_name;
use super::number::{celsius, h, percent};
use super::{CautionAnswer, DryQuestion, DryRefusal};
use crate::coating::Law as LawName;
use crate::drying::{Drier, SLOWEST_FIT, Stretch, Week};
use crate::quantity::{Humidity, Share, Temperature, Time};
use crate::stage::Stage;

/// Which weeks are fit to lay a coat in.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SeasonAnswer {
    /// The coating.
    pub coating: String,
    /// The stage that must be reached.
    #[serde(serialize_with = "stage_name")]
    pub stage: Stage,
    /// In no more than this: the label's time, 1.5 times over.
    #[serde(rename = "within_h", serialize_with = "h")]
    pub within: Time,
    /// How many times the label's time that is.
    pub times_the_label: f64,
    /// What would spoil it while it is wet: `dew`, `blush`, `cold film`, those that its kind minds.
    pub spoilt_by: Vec<&'static str>,
    /// Every week in which it can be told, in order.
    pub weeks: Vec<WeekAnswer>,
    /// What was odd in the record.
    pub notices: Vec<String>,
    /// What to take care of.
    pub cautions: Vec<CautionAnswer>,
}

/// One week.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WeekAnswer {
    /// Its Monday.
    pub monday: String,
    /// Hours of it from which a start could be told.
    #[serde(rename = "hours_h", serialize_with = "h")]
    pub hours: Time,
    /// Share of them from which a coat is there in time, clear of what would spoil it.
    #[serde(rename = "fit_percent", serialize_with = "share")]
    pub fit: Share,
    /// Share from which it is in time, but what spoils it comes while it is wet.
    #[serde(rename = "spoilt_percent", serialize_with = "share")]
    pub spoilt: Share,
    /// Mean temperature of the room.
    #[serde(rename = "temperature_c", serialize_with = "celsius")]
    pub temperature: Temperature,
    /// Humidity of its mean vapour at that temperature.
    #[serde(rename = "humidity_percent", serialize_with = "percent")]
    pub humidity: Humidity,
    /// The week itself.
    #[serde(skip)]
    pub week: Week,
}

// serde hands every field over by reference
#[expect(
    clippy::trivially_copy_pass_by_ref,
    reason = "the signature is serde's"
)]
fn share<S: serde::Serializer>(share: &Share, to: S) -> Result<S::Ok, S::Error> {
    to.serialize_f64(share.percent())
}

/// Why there is no answer.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum NoSeason {
    /// The coat or its label can't be worked with.
    #[error(transparent)]
    Dry(#[from] DryRefusal),
    /// The label has no time to hold a week against.
    #[error("the label gives no time, so there is nothing to hold a week against")]
    NoLabelTime,
    /// Nothing is claimed of this coating in another room.
    #[error("how {0} takes to another room is not worked out, so no week can be told from another")]
    NotWorkedOut(String),
}

/// Which weeks of a record are fit to lay a coat in; the question's own room is that of
/// the record's first stretch.
///
/// # Errors
/// [`NoSeason`].
pub fn season(question: &DryQuestion, record: &[Stretch]) -> Result<SeasonAnswer, NoSeason> {
    let Setting { coat, .. } = setting(question)?;
    let coating = &question.coating;
    let drier = Drier::new(coating, &question.room).map_err(DryRefusal::from)?;
    if !drier.is_worked_out() {
        return Err(NoSeason::NotWorkedOut(coating.family().name.clone()));
    }
    let season = drier.season(&coat, record).map_err(DryRefusal::from)?;
    let season = season.ok_or(NoSeason::NoLabelTime)?;
    Ok(SeasonAnswer {
        coating: coating.family().name.clone(),
        stage: season.stage,
        within: season.within,
        times_the_label: SLOWEST_FIT,
        spoilt_by: spoilt_by(coating.law()),
        weeks: season.weeks.into_iter().map(week).collect(),
        notices: question.notices.clone(),
        cautions: care(coating.family()),
    })
}

/// What spoils a wet coat that follows a law.
fn spoilt_by(law: LawName) -> Vec<&'static str> {
    match law {
        LawName::Epoxy => vec!["dew", "blush"],
        LawName::WaterFilm => vec!["dew", "cold film"],
        LawName::MoistureCure | LawName::Lamp | LawName::Airing => vec!["dew"],
    }
}

fn week(week: Week) -> WeekAnswer {
    WeekAnswer {
        monday: week.monday.to_string(),
        hours: week.hours,
        fit: week.fit,
        spoilt: week.spoilt,
        temperature: week.temperature,
        humidity: week.humidity,
        week,
    }
}
