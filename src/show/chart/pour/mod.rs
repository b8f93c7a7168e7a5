//! One pour through its hours: the air of the room above, the coat below, one time axis.

mod wording;

use super::board::measure;
use super::care::Care;
use super::frame::{Frame, PAD, WIDTH};
use super::panel::{Panel, step, time_axis};
use crate::plan::{AirSpell, Measure, PourPlan, StageAt};
use crate::quantity::{Temperature, Time, Units};
use crate::show::draw::figure;
use crate::show::draw::font;
use crate::show::draw::palette::{BUOY, HEATHER, INK, MIST, POOL, SLATE, SPRAY, TIDE};
use crate::show::draw::place::Space;
use crate::show::draw::{Anchor, Canvas, Dash, DrawError, Pen, Picture, Point, Text, line};

/// What a picture of one pour shows.
#[derive(Debug, Clone, PartialEq)]
pub struct Pour<'a> {
    /// The pour, its room and its coat.
    pub plan: &'a PourPlan,
    /// The coating's cautions.
    pub care: Care,
    /// Units for every number.
    pub units: Units,
}

/// Height of a strip of air, of the coat, and of the lane of one stage, `[px]`.
const AIR: f64 = 84.0;
const COAT: f64 = 200.0;
const LANE: f64 = 27.0;
/// Between strips, with room for the next one's words, `[px]`.
const BETWEEN: f64 = 40.0;
/// Words of the time axis, `[px]`.
const FOOT: f64 = 44.0;
/// More nights than this would be stripes without a meaning.
const MOST_NIGHTS: usize = 16;
/// Left and right edges of the strips, `[px]`.
const LEFT: f64 = PAD + 40.0;
const RIGHT: f64 = WIDTH - PAD - 22.0;

/// Draws one pour through its hours.
///
/// Air that stays as it is takes one line of words and no strip.
///
/// ```
/// use brimful::coating::cautions;
/// use brimful::drying::TimeBand;
/// use brimful::plan::{AirSpell, Measure, PourPlan, StageAt};
/// use brimful::quantity::{Humidity, Share, Temperature, Time, Units};
/// use brimful::show::chart::{Care, Pour, pour};
/// use brimful::stage::Stage;
///
/// let h = Time::from_h;
/// let plan = PourPlan {
///     step: "dome".to_owned(),
///     coating: "kelp glaze".to_owned(),
///     clock: None,
///     date: None,
///     asleep: Vec::new(),
///     air: vec![AirSpell {
///         during: [h(0.0), h(40.0)],
///         temperature: Temperature::from_celsius(18.0),
///         humidity: Humidity::from_percent(60.0),
///     }],
///     shut_in: None,
///     of_record: false,
///     measure: Measure::WaterLeft,
///     progress: vec![(h(0.0), Share::from_percent(100.0)), (h(30.0), Share::from_percent(4.0))],
///     goal: Share::from_percent(4.0),
///     stages: vec![StageAt {
///         stage: Stage::Handle,
///         label: h(24.0),
///         here: TimeBand { low: h(26.0), likely: h(30.0), high: h(38.0) },
///     }],
///     look: None,
///     ends: h(40.0),
/// };
/// let care = Care::of_family("water-based", cautions("water-based").unwrap());
/// let picture = pour(&Pour { plan: &plan, care, units: Units::Metric })?;
/// assert!(picture.words.title.contains("30 h"));
/// # Ok::<(), brimful::show::draw::DrawError>(())
/// ```
///
/// # Errors
/// [`DrawError::NotPositive`] where the pour ends when it begins, and what [`Picture::draw`]
/// returns.
pub fn pour(pour: &Pour<'_>) -> Result<Picture, DrawError> {
    let ends = pour.plan.ends.h();
    if !(ends > 0.0 && ends.is_finite()) {
        return Err(DrawError::NotPositive {
            what: "the time that a pour is followed, in hours",
            value: ends,
        });
    }
    let title = wording::title(pour);
    let frame = Frame::lay_out(&title, &wording::under(pour), Some(&pour.care))?;
    let sheet = Sheet::lay_out(pour, frame.top())?;
    frame.picture(wording::words(pour), sheet.bottom, |canvas| {
        sheet.draw(canvas)
    })
}

/// The strips laid out.
struct Sheet<'a, 'b> {
    pour: &'a Pour<'b>,
    /// Temperature and humidity, where they change.
    air: Vec<Panel>,
    coat: Panel,
    lanes: Vec<Lane>,
    bottom: f64,
}

/// A mark on the time axis with its band and its words.
struct Lane {
    /// From, most likely, to, `[h]`.
    at: [f64; 3],
    words: String,
    bubbles: bool,
    /// Where the words begin or end, `[px]`; below the band where there is no room beside it.
    lies: (f64, Anchor),
    below: bool,
}

impl Lane {
    fn height(&self) -> f64 {
        if self.below { LANE * 1.6 } else { LANE }
    }
}

impl<'a, 'b> Sheet<'a, 'b> {
    fn lay_out(pour: &'a Pour<'b>, top: f64) -> Result<Self, DrawError> {
        let plan = pour.plan;
        let x = (0.0, plan.ends.h());
        let mut y = top + 24.0;
        let mut air = Vec::new();
        if plan.air.len() > 1 {
            for (title, value) in wording::airs(pour.units) {
                let of = |spell: &AirSpell| value(pour.units, spell);
                air.push(strip(title, y, x, &plan.air, &of));
                y += AIR + BETWEEN;
            }
        }
        let coat = Panel {
            title: wording::measure(plan.measure).to_owned(),
            space: Space {
                left: LEFT,
                top: y,
                right: RIGHT,
                bottom: y + COAT,
            },
            x,
            y: (0.0, 100.0),
            ticks: [0.0, 25.0, 50.0, 75.0, 100.0]
                .map(|at| (at, figure::trimmed(at, 0)))
                .to_vec(),
        };
        let lanes = lanes(pour, &coat)?;
        let rows: f64 = lanes.iter().map(Lane::height).sum();
        Ok(Self {
            pour,
            air,
            bottom: coat.space.bottom + rows + 8.0 + FOOT,
            coat,
            lanes,
        })
    }

    fn draw(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        let plan = self.pour.plan;
        self.draw_nights(canvas)?;
        for panel in self.air.iter().chain([&self.coat]) {
            panel.draw(canvas)?;
        }
        for ((panel, (_, value)), pen) in self
            .air
            .iter()
            .zip(wording::airs(self.pour.units))
            .zip([Pen::solid(BUOY, 2.0), Pen::solid(HEATHER, 2.0)])
        {
            let course: Vec<Point> = plan
                .air
                .iter()
                .flat_map(|spell| {
                    let y = value(self.pour.units, spell);
                    spell.during.map(|at| panel.place(at.h(), y))
                })
                .collect();
            canvas.line(&course, pen)?;
        }
        self.draw_coat(canvas)?;
        for (row, lane) in self.lanes.iter().enumerate() {
            self.draw_lane(canvas, (row, lane))?;
        }
        let foot = self.bottom - FOOT;
        let (ticks, title) = wording::clock(plan, step(plan.ends.h()));
        time_axis(canvas, (&self.coat, foot), &ticks, title)
    }

    /// Shades the hours in which the maker sleeps.
    fn draw_nights(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        let top = self.air.first().unwrap_or(&self.coat).space.top;
        let foot = self.bottom - FOOT;
        let text = Text::plain(font::SMALL, SLATE).at(Anchor::Middle);
        let nights = &self.pour.plan.asleep;
        let shown = nights.iter().filter(|_| nights.len() <= MOST_NIGHTS);
        for night in shown {
            let [from, to] = night.map(|at| self.coat.across(at.h()));
            let corners = [(from, top), (to, top), (to, foot), (from, foot)];
            canvas.fill(&corners.map(|(x, y)| Point::new(x, y)), SPRAY)?;
            for x in [from, to] {
                let side = [top, foot].map(|y| Point::new(x, y));
                canvas.line(&side, Pen::solid(MIST, 0.4))?;
            }
            let [wide, _] = measure(&[("asleep".to_owned(), text)])?;
            if to - from > wide + 4.0 {
                let middle = Point::new(f64::midpoint(from, to), top + 13.0);
                canvas.text("asleep", middle, text)?;
            }
        }
        Ok(())
    }

    fn draw_coat(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        let plan = self.pour.plan;
        let goal = self.coat.down(plan.goal.percent());
        let across = [LEFT, RIGHT].map(|x| Point::new(x, goal));
        let dashed = Pen {
            colour: SLATE,
            width: 1.0,
            dash: Dash::Long,
        };
        canvas.line(&across, dashed)?;
        let course: Vec<Point> = plan
            .progress
            .iter()
            .map(|(at, share)| self.coat.place(at.h(), share.percent()))
            .collect();
        canvas.line(&line::thinned(&course, 0.15), Pen::solid(TIDE, 2.4))?;
        // where a curve begins there is room: over the line that it falls to, under the one
        // that it rises to, and under the word of a night
        let y = match plan.measure {
            Measure::WaterLeft => goal - 6.0,
            Measure::Reacted | Measure::DepthCured => (goal + 16.0).max(self.coat.space.top + 32.0),
        };
        let text = Text::plain(font::SMALL, SLATE);
        canvas.text(&wording::goal(self.pour), Point::new(LEFT + 8.0, y), text)
    }

    fn draw_lane(&self, canvas: &Canvas<'_>, (row, lane): (usize, &Lane)) -> Result<(), DrawError> {
        let top: f64 =
            self.coat.space.bottom + self.lanes[..row].iter().map(Lane::height).sum::<f64>();
        let y = top + LANE * 0.55;
        let ends = self.pour.plan.ends.h();
        let [low, likely, high] = lane.at.map(|at| self.coat.across(at.min(ends)));
        let colour = if lane.bubbles { BUOY } else { TIDE };
        if lane.bubbles {
            let band = [low, high].map(|x| Point::new(x, y));
            canvas.line(&band, Pen::solid(BUOY, 2.0))?;
        } else {
            let corners = [
                (low, y - 4.5),
                (high, y - 4.5),
                (high, y + 4.5),
                (low, y + 4.5),
            ];
            canvas.fill(&corners.map(|(x, y)| Point::new(x, y)), POOL)?;
            let up = [self.coat.space.top, y].map(|y| Point::new(likely, y));
            canvas.line(&up, Pen::solid(MIST, 0.8))?;
        }
        if lane.at[2] > ends {
            // it goes on past the picture
            let tip = [
                (high - 1.0, y - 7.0),
                (high + 8.0, y),
                (high - 1.0, y + 7.0),
            ];
            canvas.fill(&tip.map(|(x, y)| Point::new(x, y)), POOL)?;
        }
        canvas.dot(Point::new(likely, y), 5.0, colour)?;
        let (x, anchor) = lane.lies;
        let y = if lane.below { y + 21.0 } else { y + 4.5 };
        let text = Text::plain(font::SMALL, INK).at(anchor);
        canvas.text(&lane.words, Point::new(x, y), text)
    }
}

/// One strip of air: its span opened to round values.
fn strip(
    title: String,
    top: f64,
    x: (f64, f64),
    air: &[AirSpell],
    value: &dyn Fn(&AirSpell) -> f64,
) -> Panel {
    let (least, most) = air
        .iter()
        .map(value)
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, m), v| {
            (l.min(v), m.max(v))
        });
    let step = figure::step((most - least).max(4.0), 3.0);
    // a line on the axis itself would not be seen
    let from = (least / step - 0.1).floor() * step;
    let to = (most / step + 0.1).ceil() * step;
    let to = to.max(from + step);
    let mut ticks = Vec::new();
    let mut at = from;
    while at <= to + 1e-9 {
        ticks.push((at, figure::trimmed(at, 1)));
        at += step;
    }
    Panel {
        title,
        space: Space {
            left: LEFT,
            top,
            right: RIGHT,
            bottom: top + AIR,
        },
        x,
        y: (from, to),
        ticks,
    }
}

/// The look for bubbles, and the stages; those that are reached together share a lane.
fn lanes(pour: &Pour<'_>, coat: &Panel) -> Result<Vec<Lane>, DrawError> {
    let plan = pour.plan;
    let mut lanes = Vec::new();
    if let Some(look) = plan.look {
        let likely = look.look.h();
        let at = [likely, likely, look.not_later.map_or(likely, Time::h)];
        lanes.push(lane(coat, at, (wording::bubbles(plan, &look), true))?);
    }
    let mut groups: Vec<Vec<&StageAt>> = Vec::new();
    for stage in &plan.stages {
        match groups.last_mut() {
            Some(group) if group[0].here == stage.here => group.push(stage),
            _ => groups.push(vec![stage]),
        }
    }
    for group in &groups {
        let here = group[0].here;
        let at = [here.low, here.likely, here.high].map(Time::h);
        lanes.push(lane(coat, at, (wording::stages(plan, group), false))?);
    }
    Ok(lanes)
}

/// A lane with its words right of the band, left of it, or below.
fn lane(coat: &Panel, at: [f64; 3], (words, bubbles): (String, bool)) -> Result<Lane, DrawError> {
    let [low, likely, high] = at.map(|at| coat.across(at.min(coat.x.1)));
    let text = Text::plain(font::SMALL, INK);
    let [wide, _] = measure(&[(words.clone(), text)])?;
    let (right, left) = (high.max(likely) + 12.0, low.min(likely) - 10.0);
    let (lies, below) = if right + wide < RIGHT + 20.0 {
        ((right, Anchor::Left), false)
    } else if left - wide > LEFT {
        ((left, Anchor::Right), false)
    } else {
        ((RIGHT, Anchor::Right), true)
    };
    Ok(Lane {
        at,
        words,
        bubbles,
        lies,
        below,
    })
}

/// A temperature in the picture's unit.
fn degrees(units: Units, temperature: Temperature) -> f64 {
    match units {
        Units::Metric => temperature.celsius(),
        Units::Us => temperature.fahrenheit(),
    }
}
