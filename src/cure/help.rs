//! What would make a coat dry or cure sooner, worked out by running it again.

use super::air::Air;
use super::case::Case;
use super::compare::{DEW_POINT_MARGIN, Outcome, SLOWEST_WORTH_A_FIGURE};
use super::law::{Band, LawError};
use super::psychro::{dew_point, same_vapour};
use super::transfer::Tray;
use super::trial::{OrTaken, Trial, sooner};
use super::warning::Warning;
use crate::quantity::{Humidity, Length, Share, Speed, Temperature, Time};

/// One thing a maker can change.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Change {
    /// Heat the room's own air, which keeps its water and so gets drier.
    Warm {
        /// To this temperature, and never cooler.
        to: Temperature,
        /// The relative humidity that it then has; at the pour, where the air changes.
        humidity: Humidity,
        /// Whether only some hours are cooler than that, such as the nights of a room that is warm by day.
        at_times: bool,
    },
    /// Dry the air at the temperature it has.
    Dry {
        /// To this relative humidity, and never damper.
        to: Humidity,
        /// Whether only some hours are damper than that, as nights are.
        at_times: bool,
    },
    /// Move the air.
    Move {
        /// At this speed past the pieces.
        to: Speed,
    },
    /// Put fewer wet pieces on a tray, with wider gaps.
    WiderGaps {
        /// So many on a tray.
        pieces: u32,
    },
    /// Put the wet pieces so far apart that they do not slow each other.
    SpreadOut,
    /// Take the pieces out of their box.
    TakeOut,
    /// One thinner coat.
    Thinner {
        /// Its wet film thickness: as the label means it.
        to: Length,
    },
    /// Two coats of half the depth, one after the other.
    TwoCoats {
        /// Wet film thickness of each.
        each: Length,
    },
    /// Lay the coat later.
    BeginLater {
        /// By this long.
        by: Time,
    },
}

impl Change {
    /// Whether it is the same thing to do, whatever the air then is at the pour.
    fn is_like(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Warm { to, .. }, Self::Warm { to: other, .. }) => to == other,
            (Self::Dry { to, .. }, Self::Dry { to: other, .. }) => to == other,
            (one, other) => one == other,
        }
    }
}

/// A change that helps, with what it gives.
#[derive(Debug, Clone, PartialEq)]
pub struct Help {
    /// The change.
    pub change: Change,
    /// How many times the label's time the whole then takes (both coats, for two).
    pub ratio: Band,
    /// What is to be said against it.
    pub caution: Option<Warning>,
}

/// Temperatures worth trying: a heated room, and the label's own.
const WARMER: [f64; 2] = [18.0, 23.0];
/// Humidities worth trying: the label's own, and what a small dehumidifier reaches in a damp room.
const DRIER: [f64; 2] = [50.0, 60.0];
/// Air speeds worth trying: an open window, a desk fan.
const FASTER: [f64; 2] = [0.3, 1.0];
/// Later hours worth trying, `[h]`.
const LATER: [f64; 6] = [4.0, 8.0, 12.0, 16.0, 20.0, 24.0];
/// A change that saves less than this share of the time is not worth naming.
const WORTH_NAMING: f64 = 0.01;
/// A fan that saves less than this share of a coat's time does little.
const LITTLE: f64 = 0.15;

/// What would help, the greatest help first. Empty where nothing tried would by itself bring
/// the coat to a time that is worth a figure: what leaves it over four times the label's is no help.
///
/// Each is worked out by asking the law again with that one thing changed.
///
/// # Errors
/// As [`Case::compare`].
pub fn what_would_help(case: &Case) -> Result<Vec<Help>, LawError> {
    what_would_help_or(case, None)
}

/// The same where a label can be taken in two ways.
///
/// # Errors
/// As [`Case::compare`].
pub fn what_would_help_or<'a>(
    case: &Case<'a>,
    or: Option<OrTaken<'_, 'a>>,
) -> Result<Vec<Help>, LawError> {
    let now = case.whole()?;
    let mut helps = Vec::new();
    for (change, changed) in changes_or(case, or) {
        // half the depth may be thinner than the law covers: then it is no advice
        if let Ok(Some(ratio)) = gives(change, &changed) {
            helps.extend(weigh(change, ratio, now, case));
        }
    }
    helps.retain(|help: &Help| help.ratio.likely <= SLOWEST_WORTH_A_FIGURE);
    helps.sort_by(|a, b| a.ratio.likely.total_cmp(&b.ratio.likely));
    only_the_best_hour(&mut helps);
    Ok(helps)
}

/// How many times the label's time the ruling stage takes with a change; `None` for never, or
/// where it is no change here.
///
/// # Errors
/// As [`Case::compare`].
pub fn ratio_with<'a>(
    case: &Case<'a>,
    or: Option<OrTaken<'_, 'a>>,
    change: Change,
) -> Result<Option<Band>, LawError> {
    let mut trials = changes_or(case, or).into_iter();
    match trials.find(|(made, _)| *made == change) {
        Some((change, changed)) => gives(change, &changed),
        None => Ok(None),
    }
}

/// The least change of the room alone that has the whole reached within `times` the
/// label's time, its band and all: how warm, how dry, how much moved. Empty where none would do alone,
/// or where it is reached so soon already.
///
/// # Errors
/// As [`Case::compare`].
pub fn room_for(case: &Case, times: f64) -> Result<Vec<Help>, LawError> {
    room_for_or(case, None, times)
}

/// The same where a label can be taken in two ways.
///
/// # Errors
/// As [`Case::compare`].
pub fn room_for_or<'a>(
    case: &Case<'a>,
    or: Option<OrTaken<'_, 'a>>,
    times: f64,
) -> Result<Vec<Help>, LawError> {
    let now = case.whole()?;
    if is_within(&now, times) {
        return Ok(Vec::new());
    }
    // from the coldest and the dampest hour that it meets
    let airs = case.airs()?;
    let coldest = airs.iter().map(|air| air.temperature().celsius());
    let dampest = airs.iter().map(|air| air.humidity().percent());
    let warmer = (coldest.fold(HOTTEST, f64::min), HOTTEST);
    let warmer = least(warmer, times, |celsius| {
        sooner(case, or, |case| {
            warm_to(case, Temperature::from_celsius(celsius))
        })
    });
    let drier = (dampest.fold(DRIEST, f64::max), DRIEST);
    let drier = least(drier, times, |percent| {
        sooner(case, or, |case| {
            dry_to(case, Humidity::from_percent(percent))
        })
    });
    let moved = FASTER
        .into_iter()
        .filter_map(|speed| sooner(case, or, |case| move_at(case, Speed::from_m_per_s(speed))))
        .find_map(|trial| Some((trial.0, within(&trial, times)?)));
    let mut found: Vec<Help> = [warmer, drier, moved]
        .into_iter()
        .flatten()
        .filter_map(|(change, ratio)| weigh(change, ratio, now, case))
        .collect();
    found.sort_by(|a, b| a.ratio.likely.total_cmp(&b.ratio.likely));
    Ok(found)
}

/// Warmest room that is asked for, `[°C]`: more is no room to work in.
const HOTTEST: f64 = 35.0;
/// Driest air that is asked for, `[%]`: a dehumidifier reaches no less at home.
const DRIEST: f64 = 30.0;

/// What a trial gives where that is within so many `times` the label's time.
fn within(trial: &Trial, times: f64) -> Option<Band> {
    gives(trial.0, &trial.1)
        .ok()
        .flatten()
        .filter(|band| band.high <= times)
}

/// Whether a coat is there within so many times the label's time, and all of its band with it.
#[must_use]
pub fn is_within(outcome: &Outcome, times: f64) -> bool {
    matches!(outcome, Outcome::Times(band) if band.high <= times)
}

/// The least of a change, between none of it and the `most`, that is within so many
/// `times`, to a tenth of a degree or a point of humidity.
fn least<'a>(
    (none, most): (f64, f64),
    times: f64,
    trial: impl Fn(f64) -> Option<Trial<'a>>,
) -> Option<(Change, Band)> {
    let mut best = trial(most)?;
    let mut ratio = within(&best, times)?;
    let (mut too_little, mut enough) = (none, most);
    while (enough - too_little).abs() > 0.1 {
        let middle = 0.5 * (too_little + enough);
        let tried = trial(middle)?;
        match within(&tried, times) {
            Some(band) => (best, ratio, enough) = (tried, band, middle),
            None => too_little = middle,
        }
    }
    Some((best.0, ratio))
}

/// What a change gives, where the coat gets there with it.
fn gives(change: Change, changed: &Case) -> Result<Option<Band>, LawError> {
    let outcome = changed.whole()?;
    let Outcome::Times(once) = outcome else {
        return Ok(None);
    };
    Ok(match change {
        Change::TwoCoats { .. } => after_another(changed, once)?,
        Change::BeginLater { by } => waited(changed, &outcome, once, by),
        _ => Some(once),
    })
}

/// The ratio of a second coat on the first, which begins where the first ends.
fn after_another(case: &Case, once: Band) -> Result<Option<Band>, LawError> {
    let Some(first) = case.takes(&Outcome::Times(once)) else {
        return Ok(Some(sum(once, once)));
    };
    let Some(later) = case.begun_later(first) else {
        return Ok(None);
    };
    Ok(match later.whole()? {
        Outcome::Times(second) => Some(sum(once, second)),
        Outcome::Never(_) => None,
    })
}

/// The ratio with the wait counted in.
fn waited(case: &Case, outcome: &Outcome, once: Band, by: Time) -> Option<Band> {
    let takes = case.takes(outcome)?;
    let wait = by / (takes / once.likely);
    Some(Band {
        low: once.low + wait,
        likely: once.likely + wait,
        high: once.high + wait,
    })
}

fn sum(one: Band, other: Band) -> Band {
    Band {
        low: one.low + other.low,
        likely: one.likely + other.likely,
        high: one.high + other.high,
    }
}

/// Keeps a change that helps, with what is to be said against it.
fn weigh(change: Change, ratio: Band, now: Outcome, case: &Case) -> Option<Help> {
    let saves = now.likely().map(|now| 1.0 - ratio.likely / now);
    if saves.is_some_and(|saves| saves < WORTH_NAMING) {
        return None;
    }
    let caution = match change {
        Change::Move { .. } => {
            saves
                .filter(|&saves| saves < LITTLE)
                .map(|saves| Warning::FanDoesLittle {
                    saves: Share::from_fraction(saves),
                })
        }
        Change::Warm { to, .. } => cold_pieces(case, to),
        Change::BeginLater { by } => case.begun_later(by).and_then(|later| wet_in(&later)),
        _ => None,
    };
    Some(Help {
        change,
        ratio,
        caution,
    })
}

/// What settles on a coat while it is wet.
fn wet_in(case: &Case) -> Option<Warning> {
    let warnings = case.compare().ok()?.warnings;
    warnings.into_iter().find(Warning::is_of_wet_coats)
}

/// Heating the air leaves its dew point where it is, and the pieces come after: as long
/// as they are as cold as the coldest hour, dew may settle on them.
fn cold_pieces(case: &Case, to: Temperature) -> Option<Warning> {
    let airs = case.airs().ok()?;
    let margin = |air: &Air| Some(air.temperature() - dew_point(air)?);
    let coldest = airs
        .iter()
        .filter(|air| air.temperature() < to)
        .filter_map(|air| Some((air, margin(air)?)))
        .min_by(|(_, a), (_, b)| a.k().total_cmp(&b.k()))
        .filter(|(_, margin)| *margin < DEW_POINT_MARGIN)?;
    Some(Warning::PiecesStayCold {
        pieces: coldest.0.temperature(),
        dew_point: dew_point(coldest.0)?,
    })
}

/// Of the hours to begin at, only the best is advice.
fn only_the_best_hour(helps: &mut Vec<Help>) {
    let mut told = false;
    helps.retain(|help| {
        let is_hour = matches!(help.change, Change::BeginLater { .. });
        let keep = !(is_hour && told);
        told |= is_hour;
        keep
    });
}

/// Every change that can be made here, each by the way to take the label that is sooner there with it.
fn changes_or<'a>(case: &Case<'a>, or: Option<OrTaken<'_, 'a>>) -> Vec<Trial<'a>> {
    let Some(or) = or else {
        return changes(case);
    };
    let others = changes(or.case);
    let either = changes(case).into_iter().map(|one| {
        let like = others.iter().find(|(made, _)| made.is_like(&one.0));
        or.or(one, |_| like.cloned())
    });
    either.collect()
}

/// Every change that can be made here, with the case that it makes.
fn changes<'a>(case: &Case<'a>) -> Vec<Trial<'a>> {
    let here = case.here();
    let warmer = WARMER.map(|celsius| warm_to(case, Temperature::from_celsius(celsius)));
    let drier = DRIER.map(|percent| dry_to(case, Humidity::from_percent(percent)));
    let faster = FASTER.map(|speed| move_at(case, Speed::from_m_per_s(speed)));
    let later = LATER.map(|hours| {
        let by = Time::from_h(hours);
        Some((Change::BeginLater { by }, case.begun_later(by)?))
    });
    let apart = here.exposure().tray().map(|_| {
        let alone = here.exposure().without_neighbours();
        (Change::SpreadOut, case.lying(here.exposed(alone)))
    });
    let out = here
        .enclosure()
        .map(|_| (Change::TakeOut, case.lying(here.enclosed(None))));
    let gaps = here.exposure().tray().and_then(|tray| {
        let pieces = tray.pieces.div_ceil(2);
        let fewer = here.exposure().on(Tray { pieces, ..tray }).ok()?;
        (pieces < tray.pieces).then(|| {
            (
                Change::WiderGaps { pieces },
                case.lying(here.exposed(fewer)),
            )
        })
    });
    // A coat thinner than the label's is not promised sooner than the label.
    let label = case.label().wet_depth();
    let thinner = (here.wet_depth() > label).then(|| {
        (
            Change::Thinner { to: label },
            case.lying(here.at_depth(label)),
        )
    });
    let each = here.wet_depth() / 2.0;
    let two = (each >= label).then(|| (Change::TwoCoats { each }, case.lying(here.at_depth(each))));
    warmer
        .into_iter()
        .chain(drier)
        .chain(faster)
        .chain([out, apart, gaps, thinner, two])
        .chain(later)
        .flatten()
        .collect()
}

/// The room's own air kept no cooler than this; nothing where it never is.
fn warm_to<'a>(case: &Case<'a>, to: Temperature) -> Option<Trial<'a>> {
    let cooler = |air: &Air| air.temperature() < to;
    let airs = case.airs().ok()?;
    if !airs.iter().any(cooler) {
        return None;
    }
    let at_times = !airs.iter().all(cooler);
    // the pieces warm with their room
    let mut surroundings = case.here().surroundings();
    surroundings.surface = None;
    let warmed = case
        .lying(case.here().with_surroundings(surroundings))
        .in_air(|air| {
            if cooler(&air) {
                same_vapour(&air, to).ok()
            } else {
                Some(air)
            }
        })?;
    let humidity = warmed.here().air().humidity();
    let change = Change::Warm {
        to,
        humidity,
        at_times,
    };
    Some((change, warmed))
}

/// The air kept no damper than this; nothing where it never is.
fn dry_to<'a>(case: &Case<'a>, to: Humidity) -> Option<Trial<'a>> {
    let damper = |air: &Air| air.humidity() > to;
    let airs = case.airs().ok()?;
    if !airs.iter().any(damper) {
        return None;
    }
    let at_times = !airs.iter().all(damper);
    let dried = case.in_air(|air| {
        if damper(&air) {
            air.with_humidity(to).ok()
        } else {
            Some(air)
        }
    })?;
    Some((Change::Dry { to, at_times }, dried))
}

/// The air moved at no less than this; nothing where it always is.
fn move_at<'a>(case: &Case<'a>, to: Speed) -> Option<Trial<'a>> {
    let slower = |air: &Air| air.speed() < to;
    if !case.airs().ok()?.iter().any(slower) {
        return None;
    }
    let moved = case.in_air(|air| {
        if slower(&air) {
            air.with_speed(to).ok()
        } else {
            Some(air)
        }
    })?;
    Some((Change::Move { to }, moved))
}
