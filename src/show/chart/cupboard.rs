//! How damp the air gets in a cupboard or under a lid.

use super::board::{Board, Note};
use super::care::Care;
use super::frame::{Frame, PAD, WIDTH};
use super::panel::{Panel, step, time_axis};
use super::rooms::wording::{is, time};
use crate::plan::{AiringPlan, CupboardPlan, Why};
use crate::quantity::{AirChanges, Humidity, Show, Time, Units};
use crate::show::draw::figure::{significant, trimmed};
use crate::show::draw::font;
use crate::show::draw::palette::{BUOY, HEATHER, INK, SLATE, TIDE};
use crate::show::draw::place::Space;
use crate::show::draw::{Anchor, Dash, DrawError, Pen, Picture, Point, Text, Words, line};

/// What a picture of a box shows.
#[derive(Debug, Clone, PartialEq)]
pub struct Cupboard<'a> {
    /// The box, and the air in it over time.
    pub plan: &'a CupboardPlan,
    /// The coating's cautions.
    pub care: Care,
    /// Units for every number.
    pub units: Units,
}

/// Height of the place between the axes, and of the words under it, `[px]`.
const HEIGHT: f64 = 380.0;
const FOOT: f64 = 44.0;

/// Draws the humidity in a box over time: as it is, and with its air changed more often.
///
/// ```
/// use brimful::coating::cautions;
/// use brimful::cure::Enclosure;
/// use brimful::plan::{AiringPlan, CupboardPlan, Why};
/// use brimful::quantity::{AirChanges, Humidity, Temperature, Time, Units, Volume};
/// use brimful::show::chart::{Care, Cupboard, cupboard};
/// use brimful::stage::Stage;
///
/// let (h, rh) = (Time::from_h, Humidity::from_percent);
/// let changes = AirChanges::from_per_h(1.0);
/// let plan = CupboardPlan {
///     tray: None,
///     step: "dome".to_owned(),
///     coating: "kelp glaze".to_owned(),
///     stage: Stage::Handle,
///     enclosure: Enclosure::new(Volume::from_l(60.0), changes, 24)?,
///     room: (Temperature::from_celsius(19.0), rh(55.0)),
///     label: rh(50.0),
///     limit: rh(80.0),
///     airings: vec![AiringPlan {
///         why: Why::AsIs,
///         air_changes: changes,
///         humidity: vec![(h(0.0), rh(55.0)), (h(1.0), rh(90.0)), (h(40.0), rh(70.0))],
///         most: (h(1.0), rh(90.0)),
///         takes: Some(h(40.0)),
///     }],
///     ends: h(40.0),
/// };
/// let care = Care::of_family("water-based", cautions("water-based").unwrap());
/// let picture = cupboard(&Cupboard { plan: &plan, care, units: Units::Metric })?;
/// assert!(picture.words.title.contains("90 %"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// [`DrawError::NotPositive`] where the box is followed for no time, and what
/// [`Picture::draw`] returns.
pub fn cupboard(cupboard: &Cupboard<'_>) -> Result<Picture, DrawError> {
    let plan = cupboard.plan;
    let ends = plan.ends.h();
    if !(ends > 0.0 && ends.is_finite()) {
        return Err(DrawError::NotPositive {
            what: "the time that a box is followed, in hours",
            value: ends,
        });
    }
    let frame = Frame::lay_out(&title(cupboard), &under(cupboard), Some(&cupboard.care))?;
    let top = frame.top() + 24.0;
    let least = plan.label.percent().min(plan.room.1.percent());
    let panel = Panel {
        title: "relative humidity of the air inside, %".to_owned(),
        space: Space {
            left: PAD + 34.0,
            top,
            right: WIDTH - PAD - 22.0,
            bottom: top + HEIGHT,
        },
        x: (0.0, ends),
        y: (((least - 10.0) / 10.0).floor().max(0.0) * 10.0, 100.0),
        ticks: (0..=10)
            .map(|ten| f64::from(ten) * 10.0)
            .filter(|at| *at >= ((least - 10.0) / 10.0).floor().max(0.0) * 10.0)
            .map(|at| (at, trimmed(at, 0)))
            .collect(),
    };
    let courses: Vec<Vec<Point>> = plan
        .airings
        .iter()
        .map(|airing| course(&panel, airing))
        .collect();
    let notes = notes(cupboard, &panel, &courses)?;
    let bottom = panel.space.bottom + FOOT;
    let every = step(ends);
    frame.picture(words(cupboard), bottom, |canvas| {
        panel.draw(canvas)?;
        for (humidity, pen) in [
            (plan.limit, dashed(BUOY, 1.4, Dash::Long)),
            (plan.label, dashed(SLATE, 1.4, Dash::Dots)),
        ] {
            let y = panel.down(humidity.percent());
            let across = [panel.space.left, panel.space.right].map(|x| Point::new(x, y));
            canvas.line(&across, pen)?;
        }
        for (course, airing) in courses.iter().zip(&plan.airings) {
            canvas.line(course, pen(airing.why))?;
        }
        for note in &notes {
            note.draw(canvas)?;
        }
        let mut ticks = Vec::new();
        let mut at = 0.0;
        while at <= ends + 1e-9 {
            ticks.push((at, trimmed(at, 2)));
            at += every;
        }
        time_axis(
            canvas,
            (&panel, panel.space.bottom),
            &ticks,
            "hours after the pour",
        )
    })
}

const fn dashed(colour: crate::show::draw::palette::Colour, width: f64, dash: Dash) -> Pen {
    Pen {
        colour,
        width,
        dash,
    }
}

/// As it is: an unbroken line. Aired more: dashes. Aired still more: dots.
const fn pen(why: Why) -> Pen {
    match why {
        Why::AsIs => Pen::solid(TIDE, 2.6),
        Why::UnderTheLimit => dashed(HEATHER, 2.2, Dash::Long),
        Why::LittleLonger => dashed(INK, 2.0, Dash::Dots),
    }
}

/// A course, until the coat is dry in it.
fn course(panel: &Panel, airing: &AiringPlan) -> Vec<Point> {
    let until = airing.takes.map_or(f64::INFINITY, Time::h);
    let points: Vec<Point> = airing
        .humidity
        .iter()
        .filter(|(at, _)| at.h() <= until)
        .map(|(at, humidity)| panel.place(at.h(), humidity.percent()))
        .collect();
    line::thinned(&points, 0.15)
}

/// The words at the lines.
fn notes(
    cupboard: &Cupboard<'_>,
    panel: &Panel,
    courses: &[Vec<Point>],
) -> Result<Vec<Note>, DrawError> {
    let plan = cupboard.plan;
    let mut board = Board::new(panel.space);
    let mut notes = Vec::new();
    let levels = [
        (
            plan.limit,
            format!("from {} on very slow", plan.limit.show(cupboard.units)),
            BUOY,
        ),
        (
            plan.label,
            format!("the label's air, {}", plan.label.show(cupboard.units)),
            SLATE,
        ),
    ];
    let on_line = |humidity: Humidity| {
        let (y, space) = (panel.down(humidity.percent()), panel.space);
        move |[wide, _]: [f64; 2]| {
            [0.0, 0.3, 0.6]
                .map(|share| {
                    Point::new(
                        space.right - 6.0 - wide / 2.0 - share * (space.width() - wide - 12.0),
                        y,
                    )
                })
                .to_vec()
        }
    };
    for (humidity, words, colour) in levels {
        let text = Text::plain(font::SMALL, colour).at(Anchor::Middle);
        notes.extend(board.put(vec![(words, text)], on_line(humidity))?);
    }
    for humidity in [plan.limit, plan.label] {
        let y = panel.down(humidity.percent());
        board.keep_free(Space {
            top: y - 2.0,
            bottom: y + 2.0,
            ..panel.space
        });
    }
    for (airing, course) in plan.airings.iter().zip(courses) {
        let colour = pen(airing.why).colour;
        let lines = vec![
            (name(airing), Text::plain(font::BODY, colour).bold()),
            (result(cupboard, airing), Text::plain(font::SMALL, SLATE)),
        ];
        notes.extend(board.put(lines, |size| beside(course, size))?);
    }
    Ok(notes)
}

/// Middles of words over and under a course, and on it.
fn beside(course: &[Point], [wide, high]: [f64; 2]) -> Vec<Point> {
    let mut places = Vec::new();
    for off in [
        -(high / 2.0 + 6.0),
        high / 2.0 + 6.0,
        0.0,
        high,
        -high,
        2.0 * high,
    ] {
        for share in [0.3, 0.2, 0.4, 0.5, 0.6, 0.12, 0.7, 0.8] {
            let (Some(first), Some(last)) = (course.first(), course.last()) else {
                return places;
            };
            let x = first.x + (last.x - first.x) * share;
            let next = course.partition_point(|point| point.x < x).max(1);
            let (Some(a), Some(b)) = (course.get(next - 1), course.get(next)) else {
                continue;
            };
            let y = a.y + (b.y - a.y) * (x - a.x) / (b.x - a.x).max(1e-9);
            places.push(Point::new(x.max(first.x + wide / 2.0 + 8.0), y + off));
        }
    }
    places
}

fn changes(changes: AirChanges) -> String {
    if changes == AirChanges::ZERO {
        return "sealed".to_owned();
    }
    let number = trimmed(changes.per_h(), 2);
    let number = if changes.per_h() < 0.1 {
        significant(changes.per_h(), 2)
    } else {
        number
    };
    let noun = if number == "1" { "change" } else { "changes" };
    format!("{number} air {noun} an hour")
}

fn name(airing: &AiringPlan) -> String {
    let often = changes(airing.air_changes);
    match airing.why {
        Why::AsIs => format!("as it is: {often}"),
        Why::UnderTheLimit | Why::LittleLonger => often,
    }
}

fn result(cupboard: &Cupboard<'_>, airing: &AiringPlan) -> String {
    let most = airing.most.1.show(cupboard.units);
    let takes = airing.takes.map_or_else(
        || "it never dries".to_owned(),
        |takes| format!("{} in {}", is(cupboard.plan.stage), time(takes)),
    );
    format!("up to {most}, {takes}")
}

/// Where the box is.
fn place(plan: &CupboardPlan) -> String {
    plan.tray.as_ref().map_or_else(
        || "in the cupboard".to_owned(),
        |tray| format!("under the lid of {tray}"),
    )
}

/// The finding: how damp it gets, and what keeps it drier.
fn title(cupboard: &Cupboard<'_>) -> String {
    let plan = cupboard.plan;
    let Some(now) = plan.airings.first() else {
        return format!("The air {}", place(plan));
    };
    let (when, most) = now.most;
    let damp = most.show(cupboard.units);
    if most < plan.limit {
        return format!(
            "The air {} stays under {}: {damp} at most",
            place(plan),
            plan.limit.show(cupboard.units)
        );
    }
    let gets = format!("The air {} is at {damp} after {}", place(plan), time(when));
    let keeps = plan
        .airings
        .iter()
        .find(|airing| airing.why == Why::UnderTheLimit);
    match keeps {
        Some(airing) => format!(
            "{gets}; {} keep it under {}",
            changes(airing.air_changes),
            plan.limit.show(cupboard.units)
        ),
        None => gets,
    }
}

/// What is in the box, and the room around it.
fn under(cupboard: &Cupboard<'_>) -> String {
    let plan = cupboard.plan;
    let pieces = plan.enclosure.pieces();
    let noun = if pieces == 1 { "piece" } else { "pieces" };
    format!(
        "{pieces} wet {noun} after \"{}\" in {} of air; the room around is at {} and {}.",
        plan.step,
        plan.enclosure.volume().show(cupboard.units),
        plan.room.0.show(cupboard.units),
        plan.room.1.show(cupboard.units)
    )
}

/// Title and description for someone who can't see the picture.
fn words(cupboard: &Cupboard<'_>) -> Words {
    let plan = cupboard.plan;
    let mut sentences = vec![
        format!(
            "Relative humidity of the air inside over {}.",
            time(plan.ends)
        ),
        under(cupboard),
    ];
    sentences.extend(plan.airings.iter().map(|airing| {
        let (name, result) = (name(airing), result(cupboard, airing));
        format!("{}: {result}.", crate::show::words::heading(&name))
    }));
    sentences.push(format!(
        "The label's air is at {}; from {} on drying is very slow.",
        plan.label.show(cupboard.units),
        plan.limit.show(cupboard.units)
    ));
    Words {
        title: format!("{}.", title(cupboard)),
        description: sentences.join(" "),
    }
}
