//! How a mix splits, how long it can be worked with in its cup, and how much to mix.

use super::care::care;
use super::mix_answer::{
    CupAnswer, Lasts, LeastAnswer, MixAnswer, MixAssumption, MostAnswer, PartsAnswer, PotLifeLabel,
    TrayAnswer,
};
use crate::coating::{Coating, Key, Source, families};
use crate::consumption::{TwoPart, UseError};
use crate::cure::Warning;
use crate::cure::epoxy::Epoxy;
use crate::cure::law::LawError;
use crate::cure::pot::{Cup, Mix, StatedMass};
use crate::drying::{Mixed, Readings};
use crate::quantity::{Area, Length, Mass, Show, Temperature, Time, Units};

/// How much to mix at once, asked of one coating in one room.
#[derive(Debug, Clone, PartialEq)]
pub struct MixQuestion {
    /// The coating, with its label.
    pub coating: Coating,
    /// How much is mixed at once, 0.1 g to 10 kg.
    pub mass: Mass,
    /// Temperature of the room and of the parts, -20 to 60 °C; the label's where it is not said.
    pub room: Option<Temperature>,
    /// The step of the scale, above 0 and no more than 100 g; 1 g where it is not said.
    pub scale: Option<Mass>,
    /// How long it is to be worked with once it is stirred, a second to a week; 20 min is assumed where it
    /// is not said.
    pub working: Option<Time>,
    /// How deep it would lie in a flat tray, 0.1 to 100 mm; 10 mm where it is not said.
    pub flat: Option<Length>,
}

/// Why there is no answer.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum MixRefusal {
    /// The coating comes ready to use.
    #[error("{coating} is not mixed from two parts, so it has no pot life; mixed are: {}", mixed.join(", "))]
    NotMixed {
        /// The coating.
        coating: String,
        /// Those that are mixed.
        mixed: Vec<&'static str>,
    },
    /// Nobody mixes so much, or weighs so little.
    #[error("a mix is from 0.1 g to 10 kg, and {} was asked for", .0.show(Units::Metric))]
    Mass(Mass),
    /// No room is so warm or so cold.
    #[error("a room is from -20 to 60 °C (-4 to 140 °F), and {} was asked for", .0.show(Units::Metric))]
    Room(Temperature),
    /// No scale for this reads so.
    #[error("a scale reads in steps above nothing and up to 100 g, and {} was asked for", .0.show(Units::Metric))]
    Scale(Mass),
    /// No mix is worked with for so long.
    #[error("a mix is worked with for a second to a week, and {} was asked for", .0.show(Units::Metric))]
    Working(Time),
    /// No tray is filled so deep.
    #[error("a flat tray is filled from 0.1 to 100 mm deep, and {} was asked for", .0.show(Units::Metric))]
    Flat(Length),
    /// The label is outside what can be worked out.
    #[error(transparent)]
    Law(#[from] LawError),
    /// The parts are outside what can be worked out.
    #[error(transparent)]
    Parts(#[from] UseError),
}

/// How long a mix is worked with where the question does not say: a choice of ours.
const USUAL_WORK: Time = Time::from_min(20.0);
/// How deep a mix lies in a flat tray where the question does not say: a choice of ours.
const USUAL_TRAY: Length = Length::from_mm(10.0);
/// A kitchen scale.
const USUAL_SCALE: Mass = Mass::from_g(1.0);
/// A scale that is worth having.
const FINE_SCALE: Mass = Mass::from_g(0.1);

/// A question with its gaps filled, each value in its range.
struct Asked {
    mix: Mix,
    scale: Mass,
    wanted: Time,
    flat: Length,
}

impl Asked {
    fn of(question: &MixQuestion) -> Result<Self, MixRefusal> {
        let room = question
            .room
            .unwrap_or(question.coating.label().temperature);
        let asked = Self {
            mix: Mix {
                mass: question.mass,
                cup: Cup::AsTallAsWide,
                room,
            },
            scale: question.scale.unwrap_or(USUAL_SCALE),
            wanted: question.working.unwrap_or(USUAL_WORK),
            flat: question.flat.unwrap_or(USUAL_TRAY),
        };
        if !(Mix::LEAST..=Mix::MOST).contains(&question.mass) {
            return Err(MixRefusal::Mass(question.mass));
        }
        if !(-20.0..=60.0).contains(&room.celsius()) {
            return Err(MixRefusal::Room(room));
        }
        if !(asked.scale.g() > 0.0 && asked.scale.g() <= 100.0) {
            return Err(MixRefusal::Scale(asked.scale));
        }
        if !(1.0..=604_800.0).contains(&asked.wanted.s()) {
            return Err(MixRefusal::Working(asked.wanted));
        }
        if !(1e-4..=0.1).contains(&asked.flat.m()) {
            return Err(MixRefusal::Flat(asked.flat));
        }
        Ok(asked)
    }
}

/// How a mix splits, how long it lasts in its cup, and how much to mix at once.
///
/// # Errors
/// [`MixRefusal`] for a coating that is not mixed and for values outside their ranges. A
/// mix that does not last as long as is wanted is an answer, not an error.
pub fn mix(question: &MixQuestion) -> Result<MixAnswer, MixRefusal> {
    let coating = &question.coating;
    let (Some(parts), Some(mixed)) = (coating.two_parts(), Mixed::of(coating)?) else {
        return Err(not_mixed(coating));
    };
    let asked = Asked::of(question)?;
    let Asked { mix, wanted, .. } = asked;
    let two = TwoPart::from(parts);
    let split = two.split_mass(mix.mass)?;
    let cup = mixed.outlook(&mix)?;
    let tray = Mix {
        cup: Cup::Tray { depth: asked.flat },
        ..mix
    };
    let lasts = match cup.map(|outlook| mixed.lasts(&outlook, wanted)) {
        Readings { worst: true, .. } => Lasts::Yes,
        Readings { plain: true, .. } => Lasts::AsLabelled,
        Readings { .. } => Lasts::No,
    };
    // where no time is asked for it is to be stirred all the same
    let told = mixed.stirring() + question.working.unwrap_or(Time::ZERO);
    Ok(MixAnswer {
        coating: coating.family().name.clone(),
        mass: mix.mass,
        room: mix.room,
        parts: PartsAnswer::of(&split),
        scale: asked.scale,
        smaller_part_out: split.weighing_error(asked.scale)?,
        worth_weighing: TwoPart::WORTH_WEIGHING,
        least: least(&two, asked.scale)?,
        label: PotLifeLabel::of(&mixed.label()),
        cup: CupAnswer::of(&cup),
        tray: TrayAnswer {
            depth: asked.flat,
            area: Area::from_m2(split.volume().m3() / asked.flat.m()),
            mix: CupAnswer::of(&mixed.outlook(&tray)?),
        },
        stirring: mixed.stirring(),
        wanted,
        wanted_is_asked: question.working.is_some(),
        lasts,
        most: mixed
            .largest_prudent_mix(wanted, mix.cup, mix.room)?
            .map(|most| MostAnswer::of(most, &mixed.label()))
            .into(),
        warnings: (mixed.pots().worst.warnings(&mix, told)?.into_iter())
            .chain(too_cold(mix.room))
            .map(Into::into)
            .collect(),
        assumed: assumed(question, &asked, &mixed),
        cautions: care(coating.family()),
    })
}

/// That what is mixed here would not cure here.
fn too_cold(room: Temperature) -> Option<Warning> {
    let (below, move_to) = (Epoxy::PROMISES_FROM, Epoxy::MOVE_TO);
    (room < below).then_some(Warning::TooColdToCure {
        air: room,
        below,
        move_to,
    })
}

fn not_mixed(coating: &Coating) -> MixRefusal {
    MixRefusal::NotMixed {
        coating: coating.family().name.clone(),
        mixed: families()
            .iter()
            .filter(|family| Coating::of(family).two_parts().is_some())
            .map(|family| family.name.as_str())
            .collect(),
    }
}

/// The smallest mix worth weighing on this scale, and on a fine one.
fn least(two: &TwoPart, scale: Mass) -> Result<Vec<LeastAnswer>, UseError> {
    [scale, FINE_SCALE]
        .into_iter()
        .take(if scale > FINE_SCALE { 2 } else { 1 })
        .map(|scale| {
            Ok(LeastAnswer {
                scale,
                mix: two.smallest_worth_weighing(scale, TwoPart::WORTH_WEIGHING)?,
            })
        })
        .collect()
}

fn assumed(question: &MixQuestion, asked: &Asked, mixed: &Mixed) -> Vec<MixAssumption> {
    let mut assumed = Vec::new();
    if let StatedMass::Assumed(mass) = mixed.label().mass {
        assumed.push(MixAssumption::LabelMass { mass });
    }
    if question.room.is_none() {
        assumed.push(MixAssumption::Room {
            room: asked.mix.room,
        });
    }
    if question.working.is_none() {
        assumed.push(MixAssumption::Working {
            wanted: asked.wanted,
        });
    }
    let told = question.coating.property(Key::Stirring);
    if told.is_some_and(|told| told.source != Source::MakersFile) {
        assumed.push(MixAssumption::Stirring {
            stirring: mixed.stirring(),
        });
    }
    assumed.push(MixAssumption::Beaker);
    assumed.push(MixAssumption::Density {
        density: mixed.pots().plain.resin().density,
    });
    assumed
}
