//! How damp the air gets in a cupboard or under a lid while coats dry in it.

use super::follow::Follow;
use super::rooms::Coat;
use crate::coating::Law as LawName;
use crate::cure::Enclosure;
use crate::cure::law::Reached;
use crate::cure::psychro::saturation_density;
use crate::cure::situation::Spell;
use crate::cure::water_film::WaterFilm;
use crate::plan::{Plan, PlanError, StepPlan};
use crate::quantity::{AirChanges, Humidity, Temperature, Time};
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
    /// The room around it, in the air of the pour.
    pub room: (Temperature, Humidity),
    /// The humidity that the label's times are for.
    pub label: Humidity,
    /// From here on drying counts as very slow.
    pub limit: Humidity,
    /// The box as it is, and with its air changed more often.
    pub airings: Vec<AiringPlan>,
    /// Until when it is followed.
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
    /// The most of that, and when it is first within a point of it.
    pub most: (Time, Humidity),
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
const LOOKS: u32 = 160;
/// Pictures of boxes end no later than so many times the label's time.
const LONGEST: f64 = 3.0;

/// The boxes that a run's water-based coats dry in: lids over trays and the room's cupboard, each
/// with its slowest step. None in the open. In air that changes it is that of the pour throughout.
///
/// # Errors
/// None yet: a box that can't be followed has no picture.
pub fn cupboards(run: &Run, plan: &Plan) -> Result<Vec<CupboardPlan>, PlanError> {
    let mut found: Vec<(Enclosure, &StepPlan, Coat)> = Vec::new();
    for step in &plan.steps {
        let own = run
            .coatings
            .iter()
            .find(|own| Some(&own.name) == step.coating.as_ref());
        let Some(own) = own.filter(|own| own.coating.law() == LawName::WaterFilm) else {
            continue;
        };
        let Some(coat) = Coat::of(&own.coating, step) else {
            continue;
        };
        let Some(enclosure) = coat.timed.here.enclosure() else {
            continue;
        };
        match found.iter_mut().find(|(known, ..)| *known == enclosure) {
            Some(known) if coat.slowness() > known.2.slowness() => *known = (enclosure, step, coat),
            Some(_) => {}
            None => found.push((enclosure, step, coat)),
        }
    }
    Ok(found
        .into_iter()
        .filter_map(|(enclosure, step, coat)| cupboard(run, step, (enclosure, &coat)))
        .collect())
}

fn cupboard(
    run: &Run,
    step: &StepPlan,
    (enclosure, coat): (Enclosure, &Coat),
) -> Option<CupboardPlan> {
    let air = coat.timed.here.air();
    let limit = WaterFilm::VERY_DAMP;
    let mut asked = vec![(Why::AsIs, enclosure.air_changes())];
    let wanted = [
        (Why::UnderTheLimit, least_under(enclosure, coat, limit)),
        (Why::LittleLonger, {
            let filling = enclosure.filling(&coat.timed.here.exposure(), &air);
            filling.least_air_changes(WaterFilm::SLOWED_BY_A_BOX)
        }),
    ];
    for (why, changes) in wanted {
        let more = changes.map(rounded_up).filter(|changes| {
            asked
                .iter()
                .all(|(_, known)| changes.per_h() > 1.05 * known.per_h())
        });
        asked.extend(more.map(|changes| (why, changes)));
    }
    let unit = coat.label / coat.lapse;
    let takes = |changes| {
        let here = coat
            .timed
            .here
            .enclosed(enclosure.with_air_changes(changes).ok());
        match coat.law.reach(coat.stage, &here) {
            Ok(Reached::After(lapse)) => Some(lapse * unit),
            _ => None,
        }
    };
    let times: Vec<Option<Time>> = asked.iter().map(|(_, changes)| takes(*changes)).collect();
    let longest = coat.label * LONGEST;
    let ends = times[0].filter(|time| *time < longest).unwrap_or(longest);
    let airings = asked
        .iter()
        .zip(times)
        .map(|(&(why, changes), takes)| {
            let humidity = inside(coat, (enclosure, changes), unit, ends)?;
            Some(AiringPlan {
                why,
                air_changes: changes,
                most: most(&humidity)?,
                humidity,
                takes,
            })
        })
        .collect::<Option<Vec<_>>>()?;
    let under_lid = (run.trays.iter()).find(|tray| {
        tray.lid.is_some_and(|lid| {
            let [length, width] = tray.size;
            let holds = length.m() * width.m() * lid.height.m();
            lid.air_changes == enclosure.air_changes()
                && (holds - enclosure.volume().m3()).abs() < 1e-9
        })
    });
    Some(CupboardPlan {
        tray: under_lid.map(|tray| tray.name.clone()),
        step: step.name.clone(),
        coating: step.coating.clone()?,
        stage: coat.stage,
        enclosure,
        room: (air.temperature(), air.humidity()),
        label: coat.timed.label.air().humidity(),
        limit,
        airings,
        ends,
    })
}

/// Relative humidity in a box that is aired so often: dense in time at first, when it fills.
fn inside(
    coat: &Coat,
    (enclosure, changes): (Enclosure, AirChanges),
    unit: f64,
    ends: Time,
) -> Option<Vec<(Time, Humidity)>> {
    let asked: Vec<Time> = (0..=LOOKS)
        .map(|look| ends * (f64::from(look) / f64::from(LOOKS)).powi(2))
        .collect();
    let air = coat.timed.here.air();
    let follow = Follow {
        law: coat.law.as_ref(),
        here: coat
            .timed
            .here
            .enclosed(enclosure.with_air_changes(changes).ok()),
        unit,
        asked: &asked,
    };
    let found = follow.through([Spell {
        air,
        lasts: ends * 2.0,
    }]);
    let saturated = saturation_density(air.temperature());
    Some(
        found
            .ok()?
            .into_iter()
            .map(|at| {
                let humidity = at.standing.vapour / saturated;
                (at.time, Humidity::from_fraction(humidity))
            })
            .collect(),
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

/// The fewest air changes for the air inside to settle under a limit while the pieces are wet,
/// taken as warm as the air, which is on the side of more; `None` where the room itself is as damp.
///
/// ```text
/// n Vb (c - c_out) = k A (cs - c),   c = limit cs
/// ```
fn least_under(enclosure: Enclosure, coat: &Coat, limit: Humidity) -> Option<AirChanges> {
    let air = coat.timed.here.air();
    let outside = air.humidity().fraction();
    if outside >= limit.fraction() {
        return None;
    }
    let filling = enclosure.filling(&coat.timed.here.exposure(), &air);
    // k A, as the flow of fresh air with which the wet stage takes twice as long
    let doubles = filling.least_air_changes(2.0)?;
    let times = (1.0 - limit.fraction()) / (limit.fraction() - outside);
    Some(AirChanges::from_per_h(doubles.per_h() * times))
}

/// Rounded up to two figures, as nobody sets an opening finer.
fn rounded_up(changes: AirChanges) -> AirChanges {
    let per_h = changes.per_h();
    let power = 10f64.powf(per_h.log10().floor() - 1.0);
    AirChanges::from_per_h((per_h / power - 1e-9).ceil() * power)
}
