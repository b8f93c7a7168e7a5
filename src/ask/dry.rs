//! How long a coat takes in a room.

use super::care::care;
use super::{
    Agreement, Assumption, CoatAnswer, DryAnswer, FirstPrinciples, HelpAnswer, PartAnswer, PotLife,
    Ratio, RoomAnswer, StageAnswer,
};
use crate::coating::{Applied, Coating, Label, Law as LawName};
use crate::cure::air::{Air, AirError, Draught};
use crate::cure::compare::{Cause, Effect, Outcome, Pace, Part};
use crate::cure::law::{Basis, Law, LawError};
use crate::cure::psychro::dew_point;
use crate::cure::transfer::{Exposure, ExposureError, Footprint};
use crate::cure::{Case, Comparison, Situation, compare, what_would_help};
use crate::drying::{law_of, pot_life};
use crate::quantity::{Length, Time};
use crate::stage::Stage;

/// How long a coat takes, asked of one coating in one room.
#[derive(Debug, Clone, PartialEq)]
pub struct DryQuestion {
    /// The coating, with its label.
    pub coating: Coating,
    /// The air of the room.
    pub air: Air,
    /// Wet film thickness here, 0.01 to 6 mm; the family's usual one where it is not said.
    pub depth: Option<Length>,
    /// Wet film thickness that the label's times are for; the family's usual
    /// one where it is not said.
    pub label_depth: Option<Length>,
    /// The blank's wet surface; a usual one where it is not said.
    pub blank: Option<Footprint>,
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
    /// The label's air makes no sense.
    #[error("the label's air: {0}")]
    LabelAir(AirError),
    /// The blank makes no sense as a wet surface.
    #[error(transparent)]
    Exposure(#[from] ExposureError),
    /// The law refuses.
    #[error(transparent)]
    Law(#[from] LawError),
}

/// The pot life of a mixed coating, of the mass that its label means.
fn pot_life_here(
    coating: &Coating,
    law: &dyn Law,
    here: &Situation,
) -> Result<Option<PotLife>, LawError> {
    let Some(label) = pot_life(coating) else {
        return Ok(None);
    };
    let times = label.times_in(law, here.air().temperature())?;
    Ok(times.map(|times| PotLife {
        ratio: times.into(),
        label: Some(label.lasts),
        here: Some(label.lasts * times.likely),
    }))
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
    let setting = Setting::of(question)?;
    let law = law_of(coating)?;
    let comparison = compare(law.as_ref(), &setting.label, &setting.here)?;
    let stages = stages(coating.label(), &comparison);
    let worked_out = comparison.basis == Basis::Physics;
    let help = if worked_out {
        let whole = whole_time(coating.label());
        what_would_help(&Case::steady(law.as_ref(), &setting.label, &setting.here))?
            .into_iter()
            .map(|help| HelpAnswer::of(help, whole))
            .collect()
    } else {
        Vec::new()
    };
    let wet_stage = wet_stage(coating, law.as_ref(), &setting)?;
    let pot_life = pot_life_here(coating, law.as_ref(), &setting.here)?;
    let dew_point = dew_point(&question.air);
    let (warm_enough, dries_below) = match comparison.pace {
        Pace::TooCold { warm_enough } => (warm_enough, None),
        Pace::WillNotDry { above } => (None, Some(above)),
        Pace::Normal | Pace::VerySlow | Pace::NoHeadway => (None, None),
    };
    Ok(DryAnswer {
        coating: coating.family().name.clone(),
        is_dome: coating.family().applied == Applied::Flooded,
        worked_out,
        here: coat(&setting.here),
        reference: coat(&setting.label),
        factor: comparison.factor.whole.likely(),
        band: ratio(comparison.factor.whole),
        parts: comparison.factor.parts.iter().map(part).collect(),
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
        stages,
        very_slow: comparison.pace == Pace::VerySlow,
        warm_enough,
        dries_below,
        pot_life,
        dew_point,
        dew_point_margin: dew_point.map(|dew| question.air.temperature() - dew),
        first_principles: first_principles(&comparison, coating.label()),
        warnings: comparison.warnings.into_iter().map(Into::into).collect(),
        help,
        assumed: setting.assumed,
        cautions: care(coating.family()),
    })
}

/// The coat on its label and here, and what was assumed to put them so.
struct Setting {
    label: Situation,
    here: Situation,
    assumed: Vec<Assumption>,
}

impl Setting {
    fn of(question: &DryQuestion) -> Result<Self, DryRefusal> {
        let coating = &question.coating;
        let applied = coating.family().applied;
        let usual = match applied {
            Applied::Flooded | Applied::Brushed => coating.usual_depth(),
            Applied::Drawn => DRAWN,
        };
        let depth = question.depth.unwrap_or(usual);
        let label_depth = question.label_depth.unwrap_or(coating.label_depth(depth));
        for depth in [depth, label_depth] {
            if !(DEPTHS.0..=DEPTHS.1).contains(&depth) {
                return Err(DryRefusal::Depth(depth));
            }
        }
        let blank = question.blank.unwrap_or(match applied {
            Applied::Brushed => SHEET,
            Applied::Flooded | Applied::Drawn => DISC,
        });
        let exposure = Exposure::alone(blank)?;
        let label = coating.label();
        let air = Air::of_room(label.temperature, label.humidity, Draught::Still)
            .map_err(DryRefusal::LabelAir)?;
        Ok(Self {
            label: Situation::new(air, exposure, label_depth),
            here: Situation::new(question.air, exposure, depth),
            assumed: assumed(question, usual, label_depth, blank),
        })
    }
}

/// What was assumed; nothing where the label's time is kept anyway.
fn assumed(
    question: &DryQuestion,
    usual: Length,
    label_depth: Length,
    blank: Footprint,
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
    let label_depth = Assumption::LabelDepth { depth: label_depth };
    // neighbours, size and moving air are nothing to a lamp and little to moisture's cure
    let law = question.coating.law();
    let in_air = !matches!(law, LawName::Lamp | LawName::MoistureCure);
    let told = [
        question.depth.is_none().then_some(depth),
        question.label_depth.is_none().then_some(label_depth),
        (in_air && question.blank.is_none()).then_some(piece),
        in_air.then_some(Assumption::Alone),
        in_air.then_some(Assumption::LabelStill),
    ];
    told.into_iter().flatten().collect()
}

fn coat(situation: &Situation) -> CoatAnswer {
    let air = situation.air();
    CoatAnswer {
        room: RoomAnswer {
            temperature: air.temperature(),
            humidity: air.humidity(),
            air_speed: air.speed(),
        },
        depth: situation.wet_depth(),
    }
}

fn ratio(outcome: Outcome) -> Option<Ratio> {
    match outcome {
        Outcome::Times(band) => Some(band.into()),
        Outcome::Never(_) => None,
    }
}

/// Each stage that the label has, with its own ratio.
fn stages(label: &Label, comparison: &Comparison) -> Vec<StageAnswer> {
    let outcome = |wanted| {
        let mut stages = comparison.stages.iter();
        stages.find(|compared| compared.stage == wanted)
    };
    Stage::ALL
        .into_iter()
        .filter_map(|stage| {
            let on_label = label.stage(stage)?;
            let ratio = ratio(outcome(stage)?.outcome);
            Some(StageAnswer {
                stage,
                label: on_label.time,
                source: on_label.source.to_string(),
                ratio,
                here: ratio.map(|ratio| on_label.time * ratio.likely),
            })
        })
        .collect()
}

/// The label's time for the whole: its longest but for the surface's.
fn whole_time(label: &Label) -> Option<Time> {
    Stage::ALL
        .into_iter()
        .filter(|stage| !stage.is_of_surface() && *stage != Stage::RecoatUntil)
        .filter_map(|stage| label.stage(stage))
        .map(|stage| stage.time)
        .reduce(|a, b| if b > a { b } else { a })
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

/// How many times the label's while water is leaving, for films that dry by
/// that; whether the film then forms is another question.
fn wet_stage(
    coating: &Coating,
    law: &dyn Law,
    setting: &Setting,
) -> Result<Option<Ratio>, LawError> {
    if coating.law() != LawName::WaterFilm {
        return Ok(None);
    }
    let stage = Stage::TackFree;
    let case = Case::steady(law, &setting.label, &setting.here);
    Ok(ratio(case.process_alone(stage)?))
}

/// Time from first principles to the last stage, where the law knows one,
/// beside the label's own.
fn first_principles(comparison: &Comparison, label: &Label) -> Option<FirstPrinciples> {
    let last = comparison.stages.last()?;
    let at_label = last.first_principles_at_label?;
    let told = whole_time(label);
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
