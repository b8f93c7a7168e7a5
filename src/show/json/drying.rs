//! The room and the drying of a plan as JSON.

use super::hours;
use super::keys::{
    BandJson, DaysJson, DryingJson, HelpJson, HoursJson, PartJson, RoomJson, StageJson,
    WorseRoomJson,
};
use crate::cure::compare::{Cause, Effect, Outcome, Pace};
use crate::cure::help::Change;
use crate::plan::{Drying, Outlook, StageTimes};
use crate::quantity::{Time, Units};
use crate::run::{Room, Told};
use crate::show::words;

pub(super) fn drying(drying: &Drying, units: Units) -> DryingJson {
    match drying {
        Drying::NotNeeded => DryingJson::default(),
        Drying::Unknown(why) => DryingJson {
            not_told: Some(why.to_string()),
            ..DryingJson::default()
        },
        Drying::Timed(timed) => timed_json(timed, units),
    }
}

/// The room; where its air changes, temperature and humidity are the day's, or left out.
pub(super) fn room(room: &Room) -> RoomJson<'_> {
    let air_m_per_s = room.air.draught().film_speed().m_per_s();
    let nothing = RoomJson {
        temperature_c: None,
        humidity_percent: None,
        night_temperature_c: None,
        night_humidity_percent: None,
        air_m_per_s,
        record: None,
        from: None,
        to: None,
        pour: None,
        notices: &[],
        shut_in_l: room.shut_in.map(|shut| shut.volume().l()),
        air_changes_per_h: room.shut_in.map(|shut| shut.air_changes().per_h()),
        shut_in_pieces: room.shut_in.map(|shut| shut.pieces()),
    };
    match &room.told {
        Told::Steady(here) => RoomJson {
            temperature_c: Some(here.temperature.celsius()),
            humidity_percent: Some(here.humidity.percent()),
            ..nothing
        },
        Told::DayAndNight { day, night, pour } => RoomJson {
            temperature_c: Some(day.temperature.celsius()),
            humidity_percent: Some(day.humidity.percent()),
            night_temperature_c: Some(night.temperature.celsius()),
            night_humidity_percent: Some(night.humidity.percent()),
            pour: Some(pour.to_string()),
            ..nothing
        },
        Told::Recorded(record) => RoomJson {
            record: Some(&record.file),
            from: Some(record.begins.to_string()),
            to: Some(record.ends.to_string()),
            pour: Some(record.pour.to_string()),
            notices: &record.notices,
            ..nothing
        },
    }
}

fn timed_json(timed: &Outlook, units: Units) -> DryingJson {
    let here = |times: &StageTimes| times.here.map(|band| band.likely.h());
    DryingJson {
        factor: timed.factor.whole.likely(),
        factor_band: outcome(&timed.factor.whole),
        pace: Some(match timed.pace {
            Pace::Normal => "normal",
            Pace::VerySlow => "very slow",
            Pace::WillNotDry { .. } => "will not dry",
            Pace::TooCold { .. } => "too cold",
            Pace::NoHeadway => "no headway",
        }),
        hours: by_stage(timed, here),
        label_hours: by_stage(timed, |times| Some(times.label.h())),
        stages: timed.stages.iter().map(stage).collect(),
        parts: timed
            .factor
            .parts
            .iter()
            .map(|part| PartJson {
                cause: match part.cause {
                    Cause::Depth => "depth",
                    Cause::Size => "size",
                    Cause::Crowding => "crowding",
                    Cause::Temperature => "temperature",
                    Cause::Humidity => "humidity",
                    Cause::AirSpeed => "air",
                    Cause::Pressure => "pressure",
                    Cause::Light => "light",
                    Cause::Enclosure => "box",
                    Cause::Swing => "swing",
                },
                times: match part.effect {
                    Effect::Times(ratio) => Some(ratio),
                    Effect::Stops(_) | Effect::AlreadyStopped => None,
                },
                stops: matches!(part.effect, Effect::Stops(_)),
            })
            .collect(),
        pot_life_min: timed.pot_life.map(|life| BandJson {
            low: life.lasts().low.min(),
            likely: life.lasts().likely.min(),
            high: life.lasts().high.min(),
        }),
        look_for_bubbles_min: timed.bubbles.map(|check| check.look.min()),
        look_not_later_min: timed.bubbles.and_then(|check| Some(check.not_later?.min())),
        under_a_lamp: timed.before_the_lamp() > Time::ZERO,
        in_worse_room: timed.second_look.map(|look| WorseRoomJson {
            stage: look.stage.name(),
            drier: look.drier,
            reached: look.here.is_some(),
            here_h: look.here.map(|here| BandJson {
                low: here.low.h(),
                likely: here.likely.h(),
                high: here.high.h(),
            }),
        }),
        days: timed.days.map(|days| DaysJson {
            stage: days.stage.name(),
            quick_h: days.quick.map(Time::h),
            middle_h: days.middle.map(Time::h),
            slow_h: days.slow.map(Time::h),
            reached: days.reached,
            of: days.of,
            untold: days.untold,
        }),
        helps: timed.helps.iter().map(|it| help(it, units)).collect(),
        not_told: None,
    }
}

fn by_stage(timed: &Outlook, hours: impl Fn(&StageTimes) -> Option<f64>) -> HoursJson {
    let stages = timed.stages.iter();
    stages
        .filter_map(|times| Some((times.stage.name(), hours(times)?)))
        .collect()
}

fn stage(times: &StageTimes) -> StageJson {
    StageJson {
        stage: times.stage.name(),
        label_h: times.label.h(),
        source: times.source.to_string(),
        ratio: outcome(&times.ratio),
        here_h: times.here.map(hours),
        here: times.here.as_ref().map(words::span),
        first_principles_at_label_h: times.first_principles_at_label.map(Time::h),
        first_principles_here_h: times.first_principles_here.map(Time::h),
    }
}

fn help(help: &crate::cure::help::Help, units: Units) -> HelpJson {
    let mut json = HelpJson {
        change: "",
        to_c: None,
        to_humidity_percent: None,
        to_m_per_s: None,
        to_depth_mm: None,
        later_h: None,
        ratio: band(&help.ratio),
        text: words::change(&help.change, units),
        caution: (help.caution.as_ref()).map(|it| crate::show::warning::warning(it, units)),
    };
    match help.change {
        Change::Warm { to, humidity, .. } => {
            json.change = "warm the room";
            json.to_c = Some(to.celsius());
            json.to_humidity_percent = Some(humidity.percent());
        }
        Change::Dry { to, .. } => {
            json.change = "dry the air";
            json.to_humidity_percent = Some(to.percent());
        }
        Change::Move { to } => {
            json.change = "move the air";
            json.to_m_per_s = Some(to.m_per_s());
        }
        Change::SpreadOut => json.change = "spread the pieces out",
        Change::TakeOut => json.change = "take the pieces out of their box",
        Change::WiderGaps { .. } => json.change = "wider gaps",
        Change::Thinner { to } => {
            json.change = "one thinner coat";
            json.to_depth_mm = Some(to.mm());
        }
        Change::BeginLater { by } => {
            json.change = "begin later";
            json.later_h = Some(by.h());
        }
        Change::TwoCoats { each } => {
            json.change = "two thinner coats";
            json.to_depth_mm = Some(each.mm());
        }
    }
    json
}

fn outcome(outcome: &Outcome) -> Option<BandJson> {
    match outcome {
        Outcome::Times(times) => Some(band(times)),
        Outcome::Never(_) => None,
    }
}

fn band(band: &crate::cure::law::Band) -> BandJson {
    BandJson {
        low: band.low,
        likely: band.likely,
        high: band.high,
    }
}
