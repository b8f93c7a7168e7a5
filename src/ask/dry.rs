//! How long a coat takes in a room.

use super::care::care;
use super::dry_lamp::Lit;
use super::{
    Agreement, Assumption, BubblesAnswer, CoatAnswer, DaysAnswer, DryAnswer, FirstPrinciples,
    HelpAnswer, LampQuestion, LampRefusal, Needed, OnTrayAnswer, PartAnswer, PotLife, Ratio,
    RoomAnswer, SecondAnswer, StageAnswer,
};
use crate::coating::{Applied, Coating, Label, Law as LawName};
use crate::cure::compare::{Cause, Effect, Outcome, Pace, Part};
use crate::cure::law::Basis;
use crate::cure::psychro::dew_point;
use crate::cure::transfer::{Exposure, Footprint, Tray};
use crate::cure::{Enclosure, Situation};
use crate::drying::{Coat, Drier, NoTime, OnTray, Outlook, Room, StageTimes};
use crate::quantity::{Length, Time};
use jiff::civil::Time as Clock;

/// How long a coat takes, asked of one coating in one room.
#[derive(Debug, Clone, PartialEq)]
pub struct DryQuestion {
    /// The coating, with its label.
    pub coating: Coating,
    /// The air of the room.
    pub room: Room,
    /// Wet film thickness here, 0.01 to 6 mm; the family's usual one where it is not said.
    pub depth: Option<Length>,
    /// Wet film thickness that the label's times are for; the family's usual
    /// one where it is not said.
    pub label_depth: Option<Length>,
    /// The blank's wet surface; a usual one where it is not said.
    pub blank: Option<Footprint>,
    /// The tray that it shares; alone where it is not said.
    pub tray: Option<Tray>,
    /// The box that it is shut in; the open room where it is not said.
    pub shut_in: Option<Enclosure>,
    /// The lamp; for what a lamp cures, the family's usual one where it is not said.
    pub lamp: Option<LampQuestion>,
    /// By when it must be there, asked for the room that would do.
    pub within: Option<Time>,
    /// What was odd in the record of the room's air.
    pub notices: Vec<String>,
    /// When it is poured, by the clock.
    pub poured: Option<Clock>,
    /// When the maker goes to sleep.
    pub asleep: Option<Clock>,
}

/// Why there is no answer.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum DryRefusal {
    /// A wet coat is not so deep.
    #[error(
        "a wet coat is from 0.01 mm to 6 mm deep, and {} mm was asked for; were millimetres meant?",
        (.0.mm() * 1000.0).round() / 1000.0
    )]
    Depth(Length),
    /// The coat, its label or its room is outside what can be worked out.
    #[error(transparent)]
    NoTime(#[from] NoTime),
    /// The lamp can't be asked after.
    #[error(transparent)]
    Lamp(#[from] LampRefusal),
}

/// A drawn line; its label's time is kept whatever its depth.
const DRAWN: Length = Length::from_mm(0.05);
/// Wet depths that a question may have.
const DEPTHS: (Length, Length) = (Length::from_mm(0.01), Length::from_mm(6.0));
/// The blank assumed under a dome.
const DISC: Footprint = Footprint::Disc {
    diameter: Length::from_mm(25.0),
};
/// What is assumed under a brushed coat: a sheet of A4.
const SHEET: Footprint = Footprint::Rectangle {
    length: Length::from_mm(297.0),
    width: Length::from_mm(210.0),
};

/// How long a coat takes in a room, why, and what would help.
///
/// # Errors
/// [`DryRefusal`] where a value is outside what can be worked out. A coat that
/// never gets there is an answer, not an error.
pub fn dry(question: &DryQuestion) -> Result<DryAnswer, DryRefusal> {
    let coating = &question.coating;
    let setting = setting(question)?;
    let drier = Drier::new(coating, &question.room)?;
    let outlook = drier.outlook(&setting.coat)?;
    let lamp = setting.lit.answer(setting.coat.depth)?;
    let whole = coating.label().whole();
    let needed = match (question.within, whole) {
        (Some(within), Some((stage, label))) if outlook.basis == Basis::Physics => {
            let helps = drier.room_for(&setting.coat, within / label)?;
            Some(Needed {
                stage,
                within,
                rooms: helps
                    .into_iter()
                    .map(|help| HelpAnswer::of(help, whole.map(|(_, time)| time)))
                    .collect(),
            })
        }
        _ => None,
    };
    Ok(DryAnswer {
        lamp,
        ..answer(question, &setting, outlook, needed)
    })
}

/// Puts an outlook into an answer.
fn answer(
    question: &DryQuestion,
    setting: &Setting<'_>,
    outlook: Outlook,
    needed: Option<Needed>,
) -> DryAnswer {
    let coating = &question.coating;
    let whole = coating.label().whole();
    let stages: Vec<StageAnswer> = outlook.stages.iter().map(stage).collect();
    let wet_stage = outlook.wet_stage.and_then(ratio);
    let air = outlook.here.air();
    let dew_point = dew_point(&air);
    let (warm_enough, dries_below) = match outlook.pace {
        Pace::TooCold { warm_enough } => (warm_enough, None),
        Pace::WillNotDry { above } => (None, Some(above)),
        Pace::Normal | Pace::VerySlow | Pace::NoHeadway => (None, None),
    };
    let steady = matches!(question.room, Room::Steady(_));
    let assumed = assumed(question, setting, &outlook);
    DryAnswer {
        coating: coating.family().name.clone(),
        law: coating.law(),
        is_dome: coating.family().applied == Applied::Flooded,
        worked_out: outlook.basis == Basis::Physics,
        here: coat(&outlook.here, setting.coat.depth),
        steady,
        notices: question.notices.clone(),
        reference: coat(&outlook.label, outlook.label.wet_depth()),
        factor: outlook.factor.whole.likely(),
        band: ratio(outlook.factor.whole),
        parts: outlook.factor.parts.iter().map(part).collect(),
        wet_stage,
        wet_stage_factor: wet_stage.map(|ratio| ratio.likely),
        hours: stages
            .iter()
            .filter_map(|stage| Some((stage.stage.name(), stage.here?.h())))
            .collect(),
        never: stages
            .iter()
            .filter(|stage| stage.here.is_none())
            .map(|stage| stage.stage.name())
            .collect(),
        first_principles: first_principles(&outlook, coating.label()),
        stages,
        very_slow: outlook.pace == Pace::VerySlow,
        warm_enough,
        dries_below,
        pot_life: outlook.pot_life.map(|pot| PotLife {
            ratio: pot.times.into(),
            label: Some(pot.label.lasts),
            mass: pot.label.mass.mass(),
            mass_is_assumed: pot.label.mass.is_assumed(),
            here: Some(pot.lasts().likely),
        }),
        bubbles: outlook
            .bubbles
            .map(|check| BubblesAnswer::of(check, question.poured, question.asleep)),
        lamp: None,
        shut_in: question.shut_in,
        on_tray: OnTray::of(&setting.coat.lies).map(|on| OnTrayAnswer {
            rows: on.rows,
            columns: on.columns,
            slowest_times: on.slowest,
        }),
        poured_at: question.poured,
        dew_point,
        dew_point_margin: dew_point.map(|dew| air.temperature() - dew),
        second_look: outlook.second_look.map(|look| SecondAnswer {
            stage: look.stage,
            factor: look.outcome.likely(),
            here: look.here.map(|here| here.likely),
            drier: look.drier,
            told: look,
        }),
        days: outlook.days.map(DaysAnswer::from),
        needed,
        warnings: outlook.warnings.into_iter().map(Into::into).collect(),
        whole: coating.label().whole().map(|(stage, _)| stage),
        help: outlook
            .helps
            .into_iter()
            .map(|help| HelpAnswer::of(help, whole.map(|(_, time)| time)))
            .collect(),
        assumed,
        cautions: care(coating.family()),
    }
}

/// The coat, and what was assumed to put it so.
pub(super) struct Setting<'q> {
    pub(super) coat: Coat,
    lit: Lit<'q>,
    usual: Length,
    blank: Footprint,
}

/// Where the coat lies, with what the question leaves out.
pub(super) fn setting(question: &DryQuestion) -> Result<Setting<'_>, DryRefusal> {
    let coating = &question.coating;
    let applied = coating.family().applied;
    let usual = match applied {
        Applied::Flooded | Applied::Brushed => coating.usual_depth(),
        Applied::Drawn => DRAWN,
    };
    let depth = question.depth.unwrap_or(usual);
    for depth in [Some(depth), question.label_depth].into_iter().flatten() {
        if !(DEPTHS.0..=DEPTHS.1).contains(&depth) {
            return Err(DryRefusal::Depth(depth));
        }
    }
    let blank = question.blank.unwrap_or(match applied {
        Applied::Brushed => SHEET,
        Applied::Flooded | Applied::Drawn => DISC,
    });
    let lit = Lit::by(coating, question.lamp)?;
    let lies = match question.tray {
        None => Exposure::alone(blank),
        Some(tray) => Exposure::among(blank, tray),
    };
    Ok(Setting {
        coat: Coat {
            depth,
            label_depth: question.label_depth,
            lies: lies.map_err(NoTime::from)?,
            shut_in: question.shut_in,
            light: lit.planned(),
        },
        lit,
        usual,
        blank,
    })
}

/// What was assumed; nothing where the label's time is kept anyway.
fn assumed(
    question: &DryQuestion,
    &Setting {
        coat, usual, blank, ..
    }: &Setting,
    outlook: &Outlook,
) -> Vec<Assumption> {
    let applied = question.coating.family().applied;
    if applied == Applied::Drawn {
        return Vec::new();
    }
    let depth = match applied {
        Applied::Flooded => Assumption::DomeDepth { depth: usual },
        Applied::Brushed | Applied::Drawn => Assumption::UsualFilm { depth: usual },
    };
    let piece = match blank {
        Footprint::Disc { diameter } => Assumption::RoundBlank { diameter },
        Footprint::Rectangle { length, width } => Assumption::Sheet { length, width },
    };
    let taken = outlook.label.wet_depth();
    let label_depth = if coat.depth < taken {
        Assumption::NoLonger { depth: taken }
    } else {
        Assumption::LabelDepth { depth: taken }
    };
    // neighbours, size and moving air are nothing to a lamp and little to moisture's cure
    let law = question.coating.law();
    let in_air = !matches!(law, LawName::Lamp | LawName::MoistureCure);
    let many = question.shut_in.is_some_and(|shut| shut.pieces() > 1);
    let alone = if many {
        Assumption::EachAlone
    } else {
        Assumption::Alone
    };
    let told = [
        question.depth.is_none().then_some(depth),
        question.label_depth.is_none().then_some(label_depth),
        (in_air && question.blank.is_none()).then_some(piece),
        (in_air && question.tray.is_none()).then_some(alone),
        in_air.then_some(Assumption::LabelStill),
    ];
    told.into_iter().flatten().collect()
}

fn coat(situation: &Situation, depth: Length) -> CoatAnswer {
    let air = situation.air();
    CoatAnswer {
        room: RoomAnswer {
            temperature: air.temperature(),
            humidity: air.humidity(),
            air_speed: air.speed(),
        },
        depth,
    }
}

fn ratio(outcome: Outcome) -> Option<Ratio> {
    match outcome {
        Outcome::Times(band) => Some(band.into()),
        Outcome::Never(_) => None,
    }
}

/// One stage with its own ratio.
fn stage(times: &StageTimes) -> StageAnswer {
    StageAnswer {
        stage: times.stage,
        label: times.label,
        source: times.source.to_string(),
        ratio: ratio(times.ratio),
        here: times.here.map(|here| here.likely),
    }
}

fn part(part: &Part) -> PartAnswer {
    let cause = match part.cause {
        Cause::Depth => "depth",
        Cause::Size => "size",
        Cause::Crowding => "crowding",
        Cause::Temperature => "temperature",
        Cause::Humidity => "humidity",
        Cause::AirSpeed => "air_speed",
        Cause::Pressure => "pressure",
        Cause::Light => "light",
        Cause::Enclosure => "box",
        Cause::Swing => "swing",
    };
    let (times, stops) = match part.effect {
        Effect::Times(times) => (Some(times), false),
        Effect::Stops(_) => (None, true),
        Effect::AlreadyStopped => (None, false),
    };
    PartAnswer {
        cause,
        times,
        stops,
    }
}

/// Time from first principles to the last stage, where the law knows one,
/// beside the label's own.
fn first_principles(outlook: &Outlook, label: &Label) -> Option<FirstPrinciples> {
    let last = outlook.stages.last()?;
    let at_label = last.first_principles_at_label?;
    let told = label.whole().map(|(_, time)| time);
    Some(FirstPrinciples {
        label: at_label,
        here: last.first_principles_here,
        told,
        agreement: told.map(|told| agreement(at_label / told)),
    })
}

/// First principles are good to a factor of 2 at the worst.
fn agreement(times: f64) -> Agreement {
    if times < 0.5 {
        Agreement::Sooner
    } else if times > 2.0 {
        Agreement::Later
    } else {
        Agreement::Agrees
    }
}
