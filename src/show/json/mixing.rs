//! A plan's mixes as JSON.

use serde::Serialize;

use super::keys::SplitJson;
use super::split;
use super::work::SomeJson;
use crate::drying::Readings;
use crate::plan::{Cupful, Cups, InCup, OneMix, Serves};
use crate::quantity::Time;

#[derive(Serialize)]
pub(super) struct CupsJson<'p> {
    temperature_c: f64,
    label_pot_life_min: f64,
    stirring_min: f64,
    label_mass_g: f64,
    label_mass_is_assumed: bool,
    all_at_once: Option<AllJson>,
    /// The heaviest of the mixes as planned.
    planned: Option<InCupJson>,
    least: Vec<LeastJson>,
    /// What stays in each cup and its tool.
    keeps: SplitJson,
    serves: Vec<ServesJson<'p>>,
}

#[derive(Serialize)]
struct AllJson {
    #[serde(flatten)]
    in_cup: InCupJson,
    wanted_min: f64,
}

/// A mix in its cup, from when its parts meet.
#[derive(Serialize)]
struct InCupJson {
    mass_g: f64,
    gels: TimesJson,
    work: TimesJson,
}

/// By both readings of the label; null where it never does.
#[derive(Serialize)]
struct TimesJson {
    worst_min: Option<f64>,
    plain_min: Option<f64>,
}

#[derive(Serialize)]
struct LeastJson {
    scale_g: f64,
    mix_g: f64,
}

#[derive(Serialize)]
struct ServesJson<'p> {
    step: &'p str,
    piece: &'p str,
    coats_in_all: u64,
    /// What one coat of one piece takes of a mix; on bare ground the first.
    each: SplitJson,
    /// What each coat after that takes; null where it is as much, or there is none.
    further: Option<SplitJson>,
    /// As planned; and the figure behind it, which may be a guess.
    hands_on_s: f64,
    hands_on_figure_s: f64,
    hands_on_is_guessed: bool,
    worst: OneMixJson,
    plain: OneMixJson,
    /// Pieces of any kinds in a mix that has one of this kind, at the most.
    in_a_mix: u64,
    /// Pieces that go through the step, of all kinds.
    in_step: u64,
    /// Which time the piece goes through the step, from 1.
    time: u32,
}

/// Coats of one piece that one mix serves, and how much is mixed for them.
#[derive(Serialize)]
struct OneMixJson {
    coats: u64,
    mix_g: f64,
    /// Its two parts; null where it serves no coat.
    parts: Option<SplitJson>,
}

/// Mixes that hold the same for the same pieces.
#[derive(Serialize)]
pub(super) struct CupfulJson<'p> {
    mixes: u64,
    /// The pieces that each is for.
    pieces: Vec<SomeJson<'p>>,
    /// What goes into each.
    holds: SplitJson,
}

impl<'p> CupfulJson<'p> {
    /// So many mixes like one.
    pub(super) fn of(mixes: u64, cupful: &'p Cupful) -> Self {
        let some = |(piece, count): &'p (String, u64)| SomeJson {
            piece,
            count: *count,
        };
        Self {
            mixes,
            pieces: cupful.pieces.iter().map(some).collect(),
            holds: split(&cupful.holds),
        }
    }
}

impl<'p> CupsJson<'p> {
    pub(super) fn of(cups: &'p Cups) -> Self {
        Self {
            temperature_c: cups.room.celsius(),
            label_pot_life_min: cups.label.lasts.min(),
            label_mass_g: cups.label.mass.mass().g(),
            stirring_min: cups.stirring.min(),
            label_mass_is_assumed: cups.label.mass.is_assumed(),
            all_at_once: cups.all.map(|all| AllJson {
                in_cup: in_cup(all.in_cup),
                wanted_min: all.wanted.min(),
            }),
            planned: cups.planned.map(in_cup),
            least: cups
                .least
                .iter()
                .map(|least| LeastJson {
                    scale_g: least.scale.g(),
                    mix_g: least.mix.g(),
                })
                .collect(),
            keeps: split(&cups.keeps),
            serves: cups.serves.iter().map(serves).collect(),
        }
    }
}

fn in_cup(mix: InCup) -> InCupJson {
    InCupJson {
        mass_g: mix.mass.g(),
        gels: times(mix.gels),
        work: times(mix.working),
    }
}

fn times(both: Readings<Time>) -> TimesJson {
    let finite = |time: Time| Some(time.min()).filter(|minutes| minutes.is_finite());
    TimesJson {
        worst_min: finite(both.worst),
        plain_min: finite(both.plain),
    }
}

fn serves(serves: &Serves) -> ServesJson<'_> {
    let one = |mix: OneMix| OneMixJson {
        coats: mix.coats,
        mix_g: mix.mass.g(),
        parts: mix.parts.as_ref().map(split),
    };
    ServesJson {
        step: &serves.step,
        piece: &serves.piece,
        coats_in_all: serves.coats,
        each: split(&serves.each),
        further: serves.further.as_ref().map(split),
        hands_on_s: serves.hands_on.planned().s(),
        hands_on_figure_s: serves.hands_on.figure.s(),
        hands_on_is_guessed: serves.hands_on.guessed,
        worst: one(serves.most.worst),
        plain: one(serves.most.plain),
        in_a_mix: serves.in_a_mix,
        in_step: serves.in_step,
        time: serves.time,
    }
}
