//! How long a coating takes in rooms as warm and as damp as may be.

use super::coat::Coat;
use super::levels::Field;
use super::round_times::round_times;
use super::shut_in::ShutIn;
use crate::cure::air::{COLDEST, WARMEST};
use crate::cure::compare::DEW_POINT_MARGIN;
use crate::cure::hours::mean_air;
use crate::cure::law::{Hindrance, Reached};
use crate::cure::psychro::saturation_pressure;
use crate::drying::{self, TimeBand};
use crate::plan::abreast::on_all_cores;
use crate::plan::{Plan, PlanError};
use crate::quantity::{Humidity, Length, Temperature, Time};
use crate::run::{Run, Told};
use crate::stage::Stage;

/// A place among rooms.
pub type InAir = (Temperature, Humidity);

/// How long one coating takes in rooms that stay as they are.
#[derive(Debug, Clone, PartialEq)]
pub struct RoomMap {
    /// The coating, by name.
    pub coating: String,
    /// The step that lays it, of several the slowest.
    pub step: String,
    /// The blank on which it is slowest.
    pub on: Option<String>,
    /// How deep the coat lies there.
    pub depth: Length,
    /// How deep the coat is whose times these are, where that is another: a thinner coat takes no longer
    /// than the usual one.
    pub as_deep: Option<Length>,
    /// The stage that the times are for.
    pub stage: Stage,
    /// The label's air, and its time.
    pub label: (InAir, Time),
    /// This coat in the label's air: another depth, another tray. `None`: never.
    pub at_label: Option<Time>,
    /// The run's room: one place, or one by day and one by night.
    pub here: Vec<RoomPoint>,
    /// The box that it lies in, with the air of such a room around it. `None`: in the open.
    pub shut_in: Option<ShutIn>,
    /// How long it takes in the run's room, as the plan has it. `None`: never.
    pub takes: Option<TimeBand>,
    /// Coldest and driest, warmest and dampest of the rooms.
    pub span: [InAir; 2],
    /// Lines of rooms in which it takes equally long, the quickest first.
    pub lines: Vec<EqualTime>,
    /// From this line up a piece is less than 3 °C warmer than the dew point.
    pub dew: Vec<InAir>,
    /// In air from this on it never gets there. `None`: damp air does not stop it.
    pub too_damp: Option<Humidity>,
    /// Where it is too cold, if anywhere.
    pub too_cold: Option<TooCold>,
}

/// The run's room among others.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RoomPoint {
    /// When it is so.
    pub when: When,
    /// Where it lies.
    pub at: InAir,
    /// How long it would take in air that stayed so. `None`: never.
    pub takes: Option<Time>,
}

/// When a room is as told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum When {
    /// Always.
    Always,
    /// By day.
    Day,
    /// By night.
    Night,
    /// Over all of its record, on average.
    OnAverage,
}

/// Rooms in which a coat takes equally long.
#[derive(Debug, Clone, PartialEq)]
pub struct EqualTime {
    /// How long.
    pub takes: Time,
    /// They lie on these.
    pub runs: Vec<Vec<InAir>>,
}

/// Rooms that are too cold.
#[derive(Debug, Clone, PartialEq)]
pub struct TooCold {
    /// What the cold does.
    pub why: Cold,
    /// Rooms left of this line are too cold; from the driest to the dampest.
    pub edge: Vec<InAir>,
}

/// What cold does to a coat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Cold {
    /// The wet film is colder than this, its film-forming minimum, and dries white or cracked.
    NoFilm(Temperature),
    /// The resin turns glassy before it has cured; no time is promised below this.
    Glassy(Temperature),
}

/// One map for each of a run's coatings that the air of its room matters to, for its slowest
/// step. None for ink, whose label's time is kept in any room, for what a lamp
/// cures, which minds the room little, and for a coat that gets there in no room at
/// all, as in a sealed box.
///
/// # Errors
/// None yet: what can't be told in some air has no line there.
pub fn rooms(run: &Run, plan: &Plan) -> Result<Vec<RoomMap>, PlanError> {
    let slowest = run.coatings.iter().filter_map(|coating| {
        let steps = plan.steps.iter();
        let own = steps.filter(|step| step.coating.as_ref() == Some(&coating.name));
        own.filter_map(|step| Coat::of(&coating.coating, step))
            .max_by(|a, b| a.slowness().total_cmp(&b.slowness()))
    });
    let asked: Vec<Asked> = slowest.filter_map(|coat| Asked::of(run, coat)).collect();
    let asks: Vec<(usize, Ask)> = asked
        .iter()
        .enumerate()
        .flat_map(|(which, asked)| asked.asks().map(move |ask| (which, ask)))
        .collect();
    let parts = on_all_cores(
        &asks,
        |found: &mut Vec<(usize, Row)>, number, (which, ask)| {
            found.push((number, asked[*which].row(*ask)));
        },
    );
    let mut rows: Vec<(usize, Row)> = parts.into_iter().flatten().collect();
    rows.sort_by_key(|(number, _)| *number);
    let mut rows = rows.into_iter().map(|(_, row)| row);
    Ok(asked
        .into_iter()
        .filter_map(|asked| {
            let count = asked.asks().count();
            asked.map(rows.by_ref().take(count))
        })
        .collect())
}

/// The rooms that a coat is asked after in.
struct Asked<'p> {
    coat: Coat<'p>,
    shut_in: Option<ShutIn>,
    /// `[°C]`.
    temperatures: Vec<f64>,
    /// `[1]`.
    humidities: Vec<f64>,
    /// Those at which it is asked where it is too cold, `[1]`.
    cold_at: Vec<f64>,
    span: [InAir; 2],
    too_damp: Option<Humidity>,
    here: Vec<RoomPoint>,
}

/// What is worked out of one humidity.
enum Row {
    /// The logarithm of each temperature's time in seconds.
    Times(Vec<f64>),
    /// Below which temperature it is too cold.
    TooCold(Option<(f64, Cold)>),
}

/// A humidity, and what is asked of it.
#[derive(Clone, Copy)]
enum Ask {
    Times(f64),
    TooCold(f64),
}

/// Columns are so far apart where damp air stops the coat, `[°C]`; with these and the rows, lines
/// are within 1 % of their time.
const APART: f64 = 6.0;
/// And where it does not: a resin that turns glassy bends more.
const NEARER: f64 = 5.0;
/// Maps begin and end at whole multiples of this, `[°C]`.
const WHOLE: f64 = 5.0;
/// Rows are so far apart where damp air does not stop the coat, `[1]`.
const ROWS: f64 = 0.05;
/// Rows at which it is asked where it is too cold are so far apart, `[1]`: the edge is nearly
/// straight.
const COLD_ROWS: f64 = 0.16;
/// It is found so near, `[°C]`.
const NEAR: f64 = 0.03;
/// Rows close in on a humidity that stops it: each leaves so much of the last one's gap.
const CLOSER: f64 = 0.62;
/// The last row before it leaves so much of it.
const CLOSEST: f64 = 0.004;
/// Every map shows rooms of these temperatures, `[°C]`, and of these humidities, `[1]`.
const SHOWN: [(f64, f64); 2] = [(5.0, 35.0), (0.2, 1.0)];

impl<'p> Asked<'p> {
    fn of(run: &Run, coat: Coat<'p>) -> Option<Self> {
        let here = places(run, &coat);
        let label = coat.timed.label.air();
        let mut all: Vec<InAir> = here.iter().map(|point| point.at).collect();
        all.push((label.temperature(), label.humidity()));
        let least = |shown: f64, value: &dyn Fn(&InAir) -> f64, step: f64| {
            let least = all.iter().map(value).fold(f64::INFINITY, f64::min);
            shown.min((least / step).floor() * step)
        };
        let most = |shown: f64, value: &dyn Fn(&InAir) -> f64, step: f64| {
            let most = all.iter().map(value).fold(f64::NEG_INFINITY, f64::max);
            shown.max((most / step).ceil() * step)
        };
        let celsius = |at: &InAir| at.0.celsius();
        let [(cold, warm), (dry, damp)] = SHOWN;
        let cold = least(cold, &celsius, WHOLE).max(COLDEST.celsius());
        let warm = most(warm, &celsius, WHOLE).min(WARMEST.celsius());
        let dry = least(dry, &|at| at.1.fraction(), 0.1);
        let saturated = coat.air((
            Temperature::from_celsius(warm),
            Humidity::from_fraction(1.0),
        ))?;
        let too_damp = match coat
            .law
            .reach(coat.stage, &coat.timed.here.in_air(saturated))
        {
            Ok(Reached::Never(Hindrance::TooDamp { dries_below })) => Some(dries_below),
            _ => None,
        };
        let humidities = match too_damp {
            Some(limit) => closing_in(dry, limit.fraction()),
            None => evenly(dry, damp, ROWS),
        };
        let place = |celsius, fraction| {
            (
                Temperature::from_celsius(celsius),
                Humidity::from_fraction(fraction),
            )
        };
        Some(Self {
            temperatures: evenly(cold, warm, too_damp.map_or(NEARER, |_| APART)),
            humidities,
            cold_at: evenly(dry, damp, COLD_ROWS),
            span: [place(cold, dry), place(warm, damp)],
            too_damp,
            here,
            shut_in: (coat.timed.here.enclosure()).map(|shut| ShutIn::of(run, shut)),
            coat,
        })
    }

    fn asks(&self) -> impl Iterator<Item = Ask> {
        let times = self.humidities.iter().map(|&row| Ask::Times(row));
        times.chain(self.cold_at.iter().map(|&row| Ask::TooCold(row)))
    }

    fn row(&self, ask: Ask) -> Row {
        let (Ask::Times(humidity) | Ask::TooCold(humidity)) = ask;
        let air = |celsius: f64| {
            let place = (
                Temperature::from_celsius(celsius),
                Humidity::from_fraction(humidity),
            );
            self.coat.air(place)
        };
        match ask {
            Ask::Times(_) => Row::Times(
                (self.temperatures.iter())
                    .map(|&celsius| {
                        let takes = air(celsius).and_then(|air| self.coat.by_process(air));
                        takes.map_or(f64::INFINITY, |takes| takes.s().ln())
                    })
                    .collect(),
            ),
            Ask::TooCold(_) => {
                Row::TooCold(self.too_cold(&|celsius| self.coat.refusal(air(celsius)?)))
            }
        }
    }

    /// The temperature below which a coat is refused, to [`NEAR`].
    fn too_cold(&self, refusal: &dyn Fn(f64) -> Option<Hindrance>) -> Option<(f64, Cold)> {
        let [mut cold, mut warm] = self.span.map(|(temperature, _)| temperature.celsius());
        let why = match refusal(cold)? {
            Hindrance::TooColdToForm { minimum, .. } => Cold::NoFilm(minimum),
            Hindrance::TooColdToCure { below, .. } => Cold::Glassy(below),
            _ => return None,
        };
        if refusal(warm).is_some() {
            return Some((warm, why));
        }
        while warm - cold > NEAR {
            let middle = f64::midpoint(cold, warm);
            if refusal(middle).is_some() {
                cold = middle;
            } else {
                warm = middle;
            }
        }
        Some((warm, why))
    }

    fn map(self, rows: impl Iterator<Item = Row>) -> Option<RoomMap> {
        let coat = &self.coat;
        let (mut times, mut too_cold) = (Vec::new(), Vec::new());
        for row in rows {
            match row {
                Row::Times(row) => times.push(row),
                Row::TooCold(row) => too_cold.push(row),
            }
        }
        let field = Field {
            x: self.temperatures.clone(),
            y: self.humidities.clone(),
            values: times,
        };
        let edge = self.edge(&too_cold);
        let times = told(&field, edge.as_ref(), self.too_damp);
        let fine = field.finer(4);
        let lines: Vec<EqualTime> = round_times(times?)
            .into_iter()
            .map(|takes| EqualTime {
                takes,
                runs: fine
                    .level(takes.s().ln())
                    .iter()
                    .map(|line| run_of(line))
                    .collect(),
            })
            .filter(|line| !line.runs.is_empty())
            .collect();
        let label = coat.timed.label.air();
        let at = (label.temperature(), label.humidity());
        let taken = coat.timed.here.wet_depth();
        let depth = coat.step.depth.unwrap_or(taken);
        Some(RoomMap {
            coating: coat.step.coating.clone()?,
            step: coat.step.name.clone(),
            on: coat.step.slowest_on.clone(),
            depth,
            as_deep: Some(taken).filter(|taken| (*taken / depth - 1.0).abs() > 1e-6),
            stage: coat.stage,
            label: (at, coat.label),
            at_label: coat.air(at).and_then(|air| coat.in_air(air)),
            shut_in: self.shut_in,
            takes: coat.takes(),
            span: self.span,
            lines,
            dew: dew(self.span),
            too_damp: self.too_damp,
            too_cold: edge,
            here: self.here,
        })
    }
}

impl Asked<'_> {
    /// Where it is too cold, row by row.
    fn edge(&self, rows: &[Option<(f64, Cold)>]) -> Option<TooCold> {
        let (_, why) = rows.iter().flatten().next()?;
        let coldest = self.span[0].0.celsius();
        let edge: Vec<(f64, f64)> = rows
            .iter()
            .map(|row| row.map_or(coldest, |(below, _)| below))
            .zip(self.cold_at.iter().copied())
            .collect();
        Some(TooCold {
            why: *why,
            edge: run_of(&edge),
        })
    }
}

/// Where the run's room lies.
fn places(run: &Run, coat: &Coat) -> Vec<RoomPoint> {
    let point = |when, at: InAir| RoomPoint {
        when,
        at,
        takes: coat.air(at).and_then(|air| coat.in_air(air)),
    };
    match (&run.room.told, &run.room.over_time) {
        (Told::DayAndNight { day, night, .. }, _) => vec![
            point(When::Day, (day.temperature, day.humidity)),
            point(When::Night, (night.temperature, night.humidity)),
        ],
        (Told::Recorded(_), drying::Room::Changing(changing)) => {
            let spells = changing.spells().iter();
            let mean = mean_air(spells.map(|spell| (spell, spell.lasts.s())));
            let mean = mean.map(|air| (air.temperature(), air.humidity()));
            mean.map(|at| point(When::OnAverage, at))
                .into_iter()
                .collect()
        }
        (_, over_time) => {
            let air = over_time.first_air();
            vec![point(When::Always, (air.temperature(), air.humidity()))]
        }
    }
}

/// Values so far apart at the most, from one to another.
fn evenly(from: f64, to: f64, apart: f64) -> Vec<f64> {
    let parts = ((to - from) / apart - 1e-9).ceil().max(1.0);
    let mut at = 0.0;
    let mut all = Vec::new();
    while at <= parts {
        all.push(from + (to - from) * at / parts);
        at += 1.0;
    }
    all
}

/// Values that close in on a limit.
fn closing_in(from: f64, limit: f64) -> Vec<f64> {
    let mut gap = limit - from;
    let mut all = Vec::new();
    while gap > CLOSEST * limit {
        all.push(limit - gap);
        gap *= CLOSER;
    }
    all
}

/// The least and the greatest time that a map's lines are for; near a humidity that stops
/// the coat times grow without end, and lines for them would lie on one another.
fn told(
    field: &Field,
    too_cold: Option<&TooCold>,
    too_damp: Option<Humidity>,
) -> Option<(f64, f64)> {
    let dampest = too_damp.map_or(1.0, |limit| limit.fraction() - 0.03);
    // the edge of what is too cold goes one way only
    let cold = |humidity: f64| {
        let edge = too_cold.map_or(&[][..], |cold| &cold.edge);
        let drier = edge.iter().rev().find(|(_, at)| at.fraction() <= humidity);
        drier.map_or(f64::NEG_INFINITY, |(below, _)| below.celsius())
    };
    let mut found: Option<(f64, f64)> = None;
    for (row, &humidity) in field.values.iter().zip(&field.y) {
        if humidity > dampest {
            continue;
        }
        for (time, celsius) in row.iter().zip(&field.x) {
            if time.is_finite() && *celsius >= cold(humidity) {
                let (least, most) = found.unwrap_or((*time, *time));
                found = Some((least.min(*time), most.max(*time)));
            }
        }
    }
    found
}

/// A line in degrees and shares as a run of rooms.
fn run_of(line: &[(f64, f64)]) -> Vec<InAir> {
    let room = |&(celsius, fraction): &(f64, f64)| {
        (
            Temperature::from_celsius(celsius),
            Humidity::from_fraction(fraction),
        )
    };
    line.iter().map(room).collect()
}

/// Rooms in which a piece as warm as the air is just so much warmer than the dew point as it
/// must be: `RH = ps(T - 3)/ps(T)`.
fn dew([(cold, dry), (warm, _)]: [InAir; 2]) -> Vec<InAir> {
    evenly(cold.celsius(), warm.celsius(), WHOLE / 2.0)
        .into_iter()
        .map(Temperature::from_celsius)
        .map(|air| {
            let dew_point = air - DEW_POINT_MARGIN;
            let humidity = saturation_pressure(dew_point) / saturation_pressure(air);
            (air, Humidity::from_fraction(humidity))
        })
        .filter(|(_, humidity)| *humidity >= dry)
        .collect()
}
