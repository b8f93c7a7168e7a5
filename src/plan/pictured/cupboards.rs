//! How damp the air gets in a cupboard or under a lid while coats dry in it.

use super::coat::Coat;
use super::follow::{At, Follow};
use super::shut_in::ShutIn;
use crate::coating::{Coating, Law as LawName};
use crate::cure::Enclosure;
use crate::cure::air::Air;
use crate::cure::enclosure::Filling;
use crate::cure::psychro::saturation_density;
use crate::cure::situation::Spell;
use crate::cure::water_film::WaterFilm;
use crate::drying::{self, Drier, Outlook};
use crate::plan::{Plan, PlanError, StepPlan};
use crate::quantity::{AirChanges, Humidity, Temperature, TemperatureDifference, Time};
use crate::run::Run;
use crate::stage::Stage;

/// One box that water-based coats dry in.
#[derive(Debug, Clone, PartialEq)]
pub struct CupboardPlan {
    /// The tray whose lid it is. `None`: the room's cupboard.
    pub tray: Option<String>,
    /// The step whose coats are in it, of several the slowest.
    pub step: String,
    /// Its coating.
    pub coating: String,
    /// The stage that times are for.
    pub stage: Stage,
    /// The box, and the wet pieces in it.
    pub enclosure: Enclosure,
    /// The least and the most of the room around it while the picture lasts.
    pub room: ([Temperature; 2], [Humidity; 2]),
    /// The humidity that the label's times are for.
    pub label: Humidity,
    /// From here on drying counts as very slow.
    pub limit: Humidity,
    /// The box as it is, and with its air changed more often.
    pub airings: Vec<AiringPlan>,
    /// Until when it is followed: past the time of its slowest coat, unless that is over five times
    /// the next one's, or never.
    pub ends: Time,
}

/// The air in a box that is aired so often.
#[derive(Debug, Clone, PartialEq)]
pub struct AiringPlan {
    /// Why it is looked at.
    pub why: Why,
    /// How often its air is replaced.
    pub air_changes: AirChanges,
    /// Relative humidity in it, from the pour on.
    pub humidity: Vec<(Time, Humidity)>,
    /// The most that it settles at, and when it is first within a point of it. What it leaps to as the room
    /// cools all at once is left out.
    pub most: (Time, Humidity),
    /// How damp it leaps then, where that is a point or more past the most.
    pub leaps_to: Option<Humidity>,
    /// How long the coat takes in it. `None`: it never gets there.
    pub takes: Option<Time>,
}

/// Why an airing is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Why {
    /// The box is so.
    AsIs,
    /// The fewest air changes that keep it under the limit.
    UnderTheLimit,
    /// The fewest air changes with which the wet stage takes a quarter longer at most.
    LittleLonger,
}

/// So often a box is looked at.
const LOOKS: u32 = 140;
/// And so often where only the most is asked after.
const FEWER: u32 = 40;
/// A box that is full long before is followed for no more than so many of its time constants.
const FILLED: f64 = 120.0;
/// So often the gap between too few air changes and enough is halved.
const HALVINGS: u32 = 5;
/// How damp a box leaps for so long as its room cools all at once, which no room does, counts for
/// nothing when airing is sought.
const LEAP: Time = Time::from_h(1.0);
/// A room that cools by more than this from one hour to the next does so all at once.
const COOLS: TemperatureDifference = TemperatureDifference::from_k(1.0);
/// And so often too few are doubled.
const DOUBLINGS: u32 = 6;
/// For so many times the label's time at the most a box is followed to find how damp it gets.
const LONGEST: f64 = 3.0;
/// A coat that takes so many times as long as any other runs out of the picture: the others would
/// be a stroke at its left edge.
const FAR: f64 = 5.0;
/// A room that stays as it is does so for so many times the label's time.
const FOREVER: f64 = 1000.0;
/// Pictures of boxes go on for so many times what their slowest coat takes.
const ROOM: f64 = 1.05;
/// And for so many times where one runs out of them.
const MORE_ROOM: f64 = 1.25;

/// The boxes that a run's water-based coats dry in: lids over trays and the room's cupboard, each
/// with its slowest step. None in the open. In a room that changes they go through the air that the
/// plan's times are for.
///
/// # Errors
/// None yet: a box that can't be followed has no picture.
pub fn cupboards(run: &Run, plan: &Plan) -> Result<Vec<CupboardPlan>, PlanError> {
    let mut found: Vec<(Enclosure, &StepPlan, Coat)> = Vec::new();
    for step in &plan.steps {
        let Some(own) = own(run, step).filter(|own| own.law() == LawName::WaterFilm) else {
            continue;
        };
        let Some(coat) = Coat::of(own, step) else {
            continue;
        };
        let Some(enclosure) = coat.timed.here.enclosure() else {
            continue;
        };
        match found.iter_mut().find(|(known, ..)| *known == enclosure) {
            Some(known) if rank(&coat) > rank(&known.2) => *known = (enclosure, step, coat),
            Some(_) => {}
            None => found.push((enclosure, step, coat)),
        }
    }
    Ok(found
        .into_iter()
        .filter_map(|(enclosure, step, coat)| {
            cupboard(run, (step, own(run, step)?), (enclosure, &coat))
        })
        .collect())
}

/// A step's coating.
fn own<'r>(run: &'r Run, step: &StepPlan) -> Option<&'r Coating> {
    let mut coatings = run.coatings.iter();
    let own = coatings.find(|own| Some(&own.name) == step.coating.as_ref())?;
    Some(&own.coating)
}

/// Of coats that are never there the deepest is the one to look at.
fn rank(coat: &Coat) -> (f64, f64) {
    (coat.slowness(), coat.timed.here.wet_depth().m())
}

/// What fills a box is the coat's own water, whatever coat its label is taken for.
fn of_its_own_depth(step: &StepPlan, coat: &Coat) -> Outlook {
    let timed = coat.timed;
    match step.depth.filter(|own| *own < timed.here.wet_depth()) {
        Some(own) => Outlook {
            label: timed.label.at_depth(own),
            here: timed.here.at_depth(own),
            ..timed.clone()
        },
        None => timed.clone(),
    }
}

fn cupboard(
    run: &Run,
    (step, coating): (&StepPlan, &Coating),
    (enclosure, coat): (Enclosure, &Coat),
) -> Option<CupboardPlan> {
    let own = of_its_own_depth(step, coat);
    let coat = &Coat::told(coating, step, &own)?;
    let air = coat.timed.here.air();
    let limit = WaterFilm::VERY_DAMP;
    let unit = coat.label / coat.lapse;
    let filling = enclosure.filling(&coat.timed.here.exposure(), &air);
    let longest = coat.label * LONGEST;
    let filled = filling.time_constant() * (FILLED * unit);
    let longest = if filled < longest { filled } else { longest };
    let drier = Drier::new(coating, &run.room.over_time).ok()?;
    let shut_in = |shut_in| drying::Coat {
        depth: coat.timed.here.wet_depth(),
        label_depth: None,
        lies: coat.timed.here.exposure(),
        shut_in,
        light: None,
    };
    let changing = drier.spells(&shut_in(Some(enclosure))).ok()?;
    let steady = [Spell {
        air,
        lasts: coat.label * FOREVER,
    }];
    let takes = |changes| {
        let aired = enclosure.with_air_changes(changes).ok();
        let told = drier.glance(&shut_in(aired)).ok()?;
        let mut stages = told.stages.into_iter();
        Some(stages.find(|told| told.stage == coat.stage)?.here?.likely)
    };
    let followed = match changing {
        Some(_) => coat.label * LONGEST,
        None => longest,
    };
    // what is slower than that fills its box for longer
    let followed = match takes(enclosure.air_changes()) {
        Some(takes) if takes > followed => takes,
        _ => followed,
    };
    let boxed = Boxed {
        coat,
        enclosure,
        spells: changing.unwrap_or(&steady),
        unit,
        fills: longest,
        ends: followed,
    };
    let wanted = [
        (Why::UnderTheLimit, boxed.least_under(limit)),
        (
            Why::LittleLonger,
            boxed.least_slowed(WaterFilm::SLOWED_BY_A_BOX),
        ),
    ];
    let mut asked = vec![(Why::AsIs, enclosure.air_changes())];
    for (why, changes) in wanted {
        let more = changes.map(rounded_up).filter(|changes| {
            asked
                .iter()
                .all(|(_, known)| changes.per_h() > 1.05 * known.per_h())
        });
        asked.extend(more.map(|changes| (why, changes)));
    }
    let times: Vec<Option<Time>> = asked.iter().map(|(_, changes)| takes(*changes)).collect();
    let ends = ends(&times, longest);
    let airings = asked
        .iter()
        .zip(times)
        .map(|(&(why, changes), takes)| {
            let humidity = Boxed { ends, ..boxed }.inside(changes, LOOKS)?;
            let leaps_to = most(&humidity)?.1;
            let settles = boxed.settles_in(changes);
            let lasting = most(&boxed.lasting(&humidity, settles)).or_else(|| most(&humidity))?;
            Some(AiringPlan {
                why,
                air_changes: changes,
                most: lasting,
                leaps_to: Some(leaps_to).filter(|leap| leap.percent() >= lasting.1.percent() + 1.0),
                humidity,
                takes,
            })
        })
        .collect::<Option<Vec<_>>>()?;
    Some(CupboardPlan {
        tray: ShutIn::of(run, enclosure).lid_of,
        step: step.name.clone(),
        coating: step.coating.clone()?,
        stage: coat.stage,
        enclosure,
        room: around(boxed.spells, ends),
        label: coat.timed.label.air().humidity(),
        limit,
        airings,
        ends,
    })
}

/// Until when a picture goes on for coats that take so long; `None` is never.
fn ends(times: &[Option<Time>], otherwise: Time) -> Time {
    let mut there: Vec<Time> = times.iter().flatten().copied().collect();
    there.sort_by(|a, b| b.s().total_cmp(&a.s()));
    match there.as_slice() {
        [] => otherwise,
        [slowest, ..] if there.len() < times.len() => *slowest * MORE_ROOM,
        [slowest, next, ..] if slowest.s() > FAR * next.s() => *next * MORE_ROOM,
        [slowest, ..] => *slowest * ROOM,
    }
}

/// A coat in its box, followed until an end.
#[derive(Clone, Copy)]
struct Boxed<'a> {
    coat: &'a Coat<'a>,
    enclosure: Enclosure,
    /// The room's air from the pour on.
    spells: &'a [Spell],
    unit: f64,
    /// Until when it fills, at the most.
    fills: Time,
    ends: Time,
}

impl Boxed<'_> {
    /// Times to look at it: dense at first, when it fills, and evenly after that.
    fn times(&self, looks: u32) -> Vec<Time> {
        let share = |look: u32, of: u32| f64::from(look) / f64::from(of);
        let (fills, first) = if self.fills < self.ends {
            (self.fills, looks / 2)
        } else {
            (self.ends, looks)
        };
        let later = looks - first;
        let filling = (0..=first).map(|look| fills * share(look, first).powi(2));
        let full = (1..=later).map(|look| fills + (self.ends - fills) * share(look, later));
        let mut times: Vec<Time> = filling.chain(full).collect();
        // a box leaps with its room's air: a look before, one right after, one when that is past
        for leap in self.leaps() {
            let past = Some(leap + LEAP).filter(|past| *past < self.ends);
            times.extend([leap, leap + Time::from_s(1.0)].into_iter().chain(past));
        }
        times.sort_by(|a, b| a.s().total_cmp(&b.s()));
        times
    }

    /// When the room's air changes, until the end.
    fn leaps(&self) -> impl Iterator<Item = Time> {
        let ends = self.spells.iter().scan(Time::ZERO, |at, spell| {
            *at = *at + spell.lasts;
            Some(*at)
        });
        ends.take_while(|&at| at + Time::from_s(1.0) < self.ends)
    }

    /// A course without so long after each time that its room cools all at once.
    fn lasting(&self, course: &[(Time, Humidity)], settles: Time) -> Vec<(Time, Humidity)> {
        let leaps: Vec<Time> = self.coolings().collect();
        let lasts = |at: Time| !leaps.iter().any(|leap| at > *leap && at < *leap + settles);
        let lasting = course.iter().filter(|(at, _)| lasts(*at));
        lasting.copied().collect()
    }

    /// How long the box takes to settle after a leap: by then no whole per cent is left of it.
    fn settles_in(&self, changes: AirChanges) -> Time {
        let aired = self.enclosure.with_air_changes(changes);
        let here = self.coat.timed.here;
        aired.map_or(LEAP, |aired| {
            let filling = aired.filling(&here.exposure(), &here.air());
            let settled = filling.time_constant() * (8.0 * self.unit);
            if settled > LEAP { settled } else { LEAP }
        })
    }

    /// When the room's air cools all at once, until the end.
    fn coolings(&self) -> impl Iterator<Item = Time> {
        let next = self.spells.iter().skip(1);
        let cools = (self.spells.iter().zip(next))
            .map(|(now, next)| now.air.temperature() - next.air.temperature() > COOLS);
        (self.leaps().zip(cools)).filter_map(|(at, cools)| cools.then_some(at))
    }

    /// Relative humidity where it is aired so often.
    fn inside(&self, changes: AirChanges, looks: u32) -> Option<Vec<(Time, Humidity)>> {
        let asked = self.times(looks);
        let here = self.coat.timed.here;
        let follow = Follow {
            law: self.coat.law.as_ref(),
            here: here.enclosed(self.enclosure.with_air_changes(changes).ok()),
            unit: self.unit,
            asked: &asked,
        };
        let found = follow.through(self.spells.iter().copied());
        let humidity = |at: At| {
            let share = at.standing.vapour / saturation_density(at.air.temperature());
            (at.time, Humidity::from_fraction(share))
        };
        Some(found.ok()?.into_iter().map(humidity).collect())
    }

    /// How the box fills in some air of the room.
    fn filling(&self, air: &Air) -> Filling {
        self.enclosure
            .filling(&self.coat.timed.here.exposure(), air)
    }

    /// The fewest air changes with which the wet stage takes so many times as long at the most,
    /// whatever air the room has.
    fn least_slowed(&self, times: f64) -> Option<AirChanges> {
        let needed = until(self.spells, self.ends).map(|air| {
            let least = self.filling(&air).least_air_changes(times);
            least.map(AirChanges::per_h)
        });
        most_of(needed).map(AirChanges::from_per_h)
    }

    /// The fewest air changes, within a twentieth, that keep the air inside under a limit; `None`
    /// where the room itself is as damp, or far more would not do. Pieces that stay wet and as warm
    /// as the air, which they don't, would need
    ///
    /// ```text
    /// n Vb (c - c_out) = k A (cs - c),   c = limit cs
    /// ```
    fn least_under(&self, limit: Humidity) -> Option<AirChanges> {
        let enough = until(self.spells, self.ends).map(|air| {
            let outside = air.humidity().fraction();
            // k A, as the flow of fresh air with which the wet stage takes twice as long
            let doubles = self.filling(&air).least_air_changes(2.0)?;
            let times = (1.0 - limit.fraction()) / (limit.fraction() - outside);
            (outside < limit.fraction()).then(|| doubles.per_h() * times)
        });
        let does = |per_h: f64| {
            let course = self.inside(AirChanges::from_per_h(per_h), FEWER)?;
            Some(most(&self.lasting(&course, LEAP))?.1 < limit)
        };
        let mut enough = most_of(enough)?;
        let mut too_few = enough / 4.0;
        // where its room cools a box leaps over what it comes to in air that stays
        let mut doubled = 0;
        while !does(enough)? {
            doubled += 1;
            if doubled > DOUBLINGS {
                return None;
            }
            (too_few, enough) = (enough, enough * 2.0);
        }
        for _ in 0..HALVINGS {
            let middle = (too_few * enough).sqrt();
            if does(middle)? {
                enough = middle;
            } else {
                too_few = middle;
            }
        }
        Some(AirChanges::from_per_h(enough))
    }
}

/// The most of several; none where one is none.
fn most_of(several: impl Iterator<Item = Option<f64>>) -> Option<f64> {
    several.reduce(|a, b| Some(a?.max(b?))).flatten()
}

/// The airs of the room until an end.
fn until(spells: &[Spell], ends: Time) -> impl Iterator<Item = Air> {
    let mut begins = Time::ZERO;
    let before = spells.iter().take_while(move |spell| {
        let before = begins < ends;
        begins = begins + spell.lasts;
        before
    });
    before.map(|spell| spell.air)
}

/// The least and the most of the room's air until an end.
fn around(spells: &[Spell], ends: Time) -> ([Temperature; 2], [Humidity; 2]) {
    let air: Vec<Air> = until(spells, ends).collect();
    let span = |of: fn(&Air) -> f64| {
        let all = air.iter().map(of);
        all.fold(
            [f64::INFINITY, f64::NEG_INFINITY],
            |[least, most], value| [least.min(value), most.max(value)],
        )
    };
    (
        span(|air| air.temperature().celsius()).map(Temperature::from_celsius),
        span(|air| air.humidity().fraction()).map(Humidity::from_fraction),
    )
}

/// The most, and when it is first within a point of it.
fn most(humidity: &[(Time, Humidity)]) -> Option<(Time, Humidity)> {
    let most = humidity
        .iter()
        .map(|(_, humidity)| humidity.percent())
        .fold(f64::NEG_INFINITY, f64::max);
    let (time, _) = humidity
        .iter()
        .find(|(_, humidity)| humidity.percent() >= most - 1.0)?;
    Some((*time, Humidity::from_percent(most)))
}

/// Rounded up to two figures, as nobody sets an opening finer.
fn rounded_up(changes: AirChanges) -> AirChanges {
    let per_h = changes.per_h();
    let power = 10f64.powf(per_h.log10().floor() - 1.0);
    AirChanges::from_per_h((per_h / power - 1e-9).ceil() * power)
}
