//! How damp the air gets in a cupboard or under a lid.

mod notes;
mod wording;

use super::care::Care;
use super::frame::{Frame, PAD, WIDTH};
use super::panel::{Panel, step, time_axis};
use crate::plan::{AiringPlan, CupboardPlan, Why};
use crate::quantity::{Time, Units};
use crate::show::draw::figure::trimmed;
use crate::show::draw::palette::{BUOY, Colour, HEATHER, INK, SLATE, TIDE};
use crate::show::draw::place::Space;
use crate::show::draw::{Canvas, Dash, DrawError, Pen, Picture, Point, line};

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

/// From here on times are told in days.
const IN_DAYS: Time = Time::from_days(4.0);
/// Height of the place between the axes, and of the words under it, `[px]`.
const HEIGHT: f64 = 380.0;
const FOOT: f64 = 44.0;

/// Draws the humidity in a box over time, until the coat in it is dry: as the box is, and with its
/// air changed more often. One that takes far longer runs out of the picture, and its words say so.
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
///     room: ([Temperature::from_celsius(19.0); 2], [rh(55.0); 2]),
///     label: rh(50.0),
///     limit: rh(80.0),
///     airings: vec![AiringPlan {
///         why: Why::AsIs,
///         air_changes: changes,
///         humidity: vec![(h(0.0), rh(55.0)), (h(1.0), rh(90.0)), (h(40.0), rh(70.0))],
///         most: (h(1.0), rh(90.0)),
///         leaps_to: None,
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
    if !(plan.ends.h() > 0.0 && plan.ends.h().is_finite()) {
        return Err(DrawError::NotPositive {
            what: "the time that a box is followed, in hours",
            value: plan.ends.h(),
        });
    }
    let clock = Clock::of(plan.ends);
    let frame = Frame::lay_out(
        &wording::title(cupboard),
        &wording::under(cupboard),
        Some(&cupboard.care),
    )?;
    let top = frame.top() + 24.0;
    let least = plan.label.percent().min(plan.room.1[0].percent());
    let panel = Panel {
        title: format!(
            "relative humidity of the air {}, %",
            wording::place(cupboard)
        ),
        space: Space {
            left: PAD + 34.0,
            top,
            right: WIDTH - PAD - 22.0,
            bottom: top + HEIGHT,
        },
        x: (0.0, clock.number(plan.ends)),
        y: (((least - 10.0) / 10.0).floor().max(0.0) * 10.0, 100.0),
        ticks: (0..=10)
            .map(|ten| f64::from(ten) * 10.0)
            .filter(|at| *at >= ((least - 10.0) / 10.0).floor().max(0.0) * 10.0)
            .map(|at| (at, trimmed(at, 0)))
            .collect(),
    };
    let courses: Vec<Course> = (plan.airings.iter())
        .map(|airing| Course::of(&panel, clock, airing))
        .collect();
    let notes = notes::lay_out(cupboard, &panel, &courses)?;
    let axis = panel.space.bottom + FOOT;
    let bottom = axis + notes.height();
    frame.picture(wording::words(cupboard), bottom, |canvas| {
        panel.draw(canvas)?;
        for (humidity, pen) in [(plan.limit, LIMIT), (plan.label, LABEL)] {
            let y = panel.down(humidity.percent());
            let across = [panel.space.left, panel.space.right].map(|x| Point::new(x, y));
            canvas.line(&across, pen)?;
        }
        courses.iter().try_for_each(|course| course.draw(canvas))?;
        notes.draw(canvas, panel.space.left, axis + 4.0)?;
        let (ends, every) = (panel.x.1, step(panel.x.1));
        let mut ticks = Vec::new();
        let mut at = 0.0;
        while at <= ends + 1e-9 {
            ticks.push((at, trimmed(at, 2)));
            at += every;
        }
        let title = format!("{} after the pour", clock.words());
        time_axis(canvas, (&panel, panel.space.bottom), &ticks, &title)
    })
}

/// What times are told in.
#[derive(Debug, Clone, Copy)]
enum Clock {
    Hours,
    Days,
}

impl Clock {
    fn of(ends: Time) -> Self {
        if ends > IN_DAYS {
            Self::Days
        } else {
            Self::Hours
        }
    }

    fn number(self, time: Time) -> f64 {
        match self {
            Self::Hours => time.h(),
            Self::Days => time.h() / 24.0,
        }
    }

    const fn words(self) -> &'static str {
        match self {
            Self::Hours => "hours",
            Self::Days => "days",
        }
    }
}

const fn dashed(colour: Colour, width: f64, dash: Dash) -> Pen {
    Pen {
        colour,
        width,
        dash,
    }
}

/// The lines of the limit and of the label's air.
const LIMIT: Pen = dashed(BUOY, 1.4, Dash::Long);
const LABEL: Pen = dashed(SLATE, 1.4, Dash::Dots);

/// As it is: an unbroken line. Aired more: dashes. Aired still more: dots.
const fn pen(why: Why) -> Pen {
    match why {
        Why::AsIs => Pen::solid(TIDE, 2.6),
        Why::UnderTheLimit => dashed(HEATHER, 2.2, Dash::Long),
        Why::LittleLonger => dashed(INK, 2.0, Dash::Dots),
    }
}

/// The air in a box, until the coat is dry in it.
struct Course {
    points: Vec<Point>,
    pen: Pen,
    /// Whether the coat is dry before the picture ends.
    dries: bool,
}

impl Course {
    fn of(panel: &Panel, clock: Clock, airing: &AiringPlan) -> Self {
        let last = airing.humidity.last().map(|(at, _)| *at);
        let until = airing
            .takes
            .filter(|takes| last.is_some_and(|last| *takes <= last));
        let mut points = Vec::with_capacity(airing.humidity.len());
        let mut before: Option<(Time, f64)> = None;
        for (at, humidity) in &airing.humidity {
            let percent = humidity.percent();
            if let (Some(until), Some((from, was))) = (until, before)
                && *at > until
            {
                // straight from the place before to the next, as far as the end
                let share = (until.s() - from.s()) / (at.s() - from.s());
                points.push(panel.place(clock.number(until), was + (percent - was) * share));
                break;
            }
            points.push(panel.place(clock.number(*at), percent));
            before = Some((*at, percent));
        }
        Self {
            points: line::thinned(&points, 0.15),
            pen: pen(airing.why),
            dries: until.is_some(),
        }
    }

    fn draw(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        canvas.line(&self.points, self.pen)?;
        let Some(end) = self.points.last().filter(|_| self.dries) else {
            return Ok(());
        };
        canvas.dot(*end, 4.5, self.pen.colour)
    }
}
