//! How long a coating takes in rooms as warm and as damp as may be.

mod regions;
pub(super) mod wording;

use regions::Region;

use super::axes::{Axes, Axis};
use super::board::{Board, Note};
use super::care::Care;
use super::frame::Frame;
use crate::plan::{InAir, RoomMap};
use crate::quantity::{Temperature, Units};
use crate::show::draw::font;
use crate::show::draw::palette::{BUOY, HEATHER, INK, PAPER, SLATE, TIDE};
use crate::show::draw::place::Space;
use crate::show::draw::{Anchor, Canvas, Dash, DrawError, Pen, Picture, Point, Text, line};

/// What a map of rooms shows.
#[derive(Debug, Clone, PartialEq)]
pub struct Rooms<'a> {
    /// How long one coating takes in them.
    pub map: &'a RoomMap,
    /// The coating's cautions.
    pub care: Care,
    /// Units for every number.
    pub units: Units,
}

/// Height of the place between the axes and the words beside them, `[px]`.
const HEIGHT: f64 = 470.0;
/// Points of a line nearer to it than this can be left out, `[px]`.
const SEEN: f64 = 0.15;

/// Draws lines of equal time over temperature and humidity, with the run's room, the
/// label's air, and the rooms that are too damp, too cold or near the dew point.
///
/// A line that has no place for its time is left out.
///
/// ```
/// use brimful::coating::cautions;
/// use brimful::plan::{EqualTime, RoomMap, RoomPoint, When};
/// use brimful::quantity::{Humidity, Length, Temperature, Time, Units};
/// use brimful::show::chart::{Care, Rooms, rooms};
/// use brimful::stage::Stage;
///
/// let air = |celsius, percent| (Temperature::from_celsius(celsius), Humidity::from_percent(percent));
/// let map = RoomMap {
///     coating: "kelp glaze".to_owned(),
///     step: "dome".to_owned(),
///     on: None,
///     depth: Length::from_mm(1.2),
///     as_deep: None,
///     stage: Stage::Handle,
///     label: (air(23.0, 50.0), Time::from_h(24.0)),
///     at_label: Some(Time::from_h(24.0)),
///     here: vec![RoomPoint { when: When::Always, at: air(16.0, 60.0), takes: Some(Time::from_h(40.0)) }],
///     shut_in: None,
///     takes: None,
///     span: [air(5.0, 20.0), air(35.0, 100.0)],
///     lines: vec![EqualTime { takes: Time::from_h(24.0), runs: vec![vec![air(17.0, 20.0), air(23.0, 50.0), air(35.0, 80.0)]] }],
///     dew: Vec::new(),
///     too_damp: None,
///     too_cold: None,
/// };
/// let care = Care::of_family("water-based", cautions("water-based").unwrap());
/// let picture = rooms(&Rooms { map: &map, care, units: Units::Metric })?;
/// assert!(picture.svg.contains("24 h"));
/// # Ok::<(), brimful::show::draw::DrawError>(())
/// ```
///
/// # Errors
/// [`DrawError::NotPositive`] where the rooms span nothing, and what [`Picture::draw`] returns.
pub fn rooms(rooms: &Rooms<'_>) -> Result<Picture, DrawError> {
    let title = wording::title(rooms);
    let frame = Frame::lay_out(&title, &wording::under(rooms), Some(&rooms.care))?;
    let body = frame.body(HEIGHT);
    let sheet = Sheet::lay_out(rooms, body)?;
    frame.picture(wording::words(rooms), body.bottom, |canvas| {
        sheet.draw(canvas)
    })
}

/// The map laid out.
struct Sheet {
    axes: Axes,
    lines: Vec<(Vec<Vec<Point>>, Note)>,
    regions: Vec<Region>,
    dew: Vec<Point>,
    points: Vec<(Point, Mark, Option<Note>)>,
    notes: Vec<Note>,
}

/// How a place is marked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Mark {
    /// The run's room: a dot.
    Room,
    /// The label's air: a ring.
    Label,
}

impl Sheet {
    fn lay_out(rooms: &Rooms<'_>, body: Space) -> Result<Self, DrawError> {
        let map = rooms.map;
        let axes = axes(rooms, body)?;
        let place = |(temperature, humidity): &InAir| {
            axes.place(degrees(rooms.units, *temperature), humidity.percent())
        };
        let space = axes.space();
        let mut board = Board::new(space);
        let mut points: Vec<(Point, Mark, Option<Note>)> = Vec::new();
        let label = place(&map.label.0);
        points.push((label, Mark::Label, None));
        points.extend(
            map.here
                .iter()
                .map(|room| (place(&room.at), Mark::Room, None)),
        );
        for (at, ..) in &points {
            board.keep_free(around(*at, 10.0));
        }
        let drawn: Vec<Vec<Vec<Point>>> = (map.lines.iter())
            .map(|equal| {
                let runs = equal.runs.iter();
                runs.map(|run| line::thinned(&run.iter().map(place).collect::<Vec<_>>(), SEEN))
                    .collect()
            })
            .collect();
        let dew: Vec<Point> = map.dew.iter().map(place).collect();
        for run in drawn.iter().flatten().chain([&dew]) {
            board.line(run);
        }
        let (regions, notes) = regions::lay_out(rooms, &axes, &mut board)?;
        for region in &regions {
            board.line(region.edge());
        }
        let words = std::iter::once(wording::label(rooms))
            .chain(map.here.iter().map(|room| wording::here(rooms, room)));
        for ((at, mark, note), words) in points.iter_mut().zip(words) {
            let ways = beside_words(*mark, &words);
            let narrow = ways.last().cloned().unwrap_or_default();
            *note = board.put_clear(ways, |size| beside(*at, size))?;
            if note.is_none() {
                *note = board.put(narrow, |size| further_off(*at, size))?;
            }
        }
        let mut lines = Vec::new();
        for (equal, drawn) in map.lines.iter().zip(drawn) {
            let text = Text::plain(font::BODY, TIDE).bold().at(Anchor::Middle);
            let words = vec![(wording::time(equal.takes), text)];
            if let Some(note) = board.put(words, |_| along(&drawn))? {
                lines.push((drawn, note));
            }
        }
        Ok(Self {
            axes,
            lines,
            regions,
            dew,
            points,
            notes,
        })
    }

    fn draw(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        self.axes.draw_grid(canvas)?;
        for (runs, _) in &self.lines {
            for run in runs {
                canvas.line(run, Pen::solid(TIDE, 1.8))?;
            }
        }
        for region in &self.regions {
            region.draw(canvas)?;
        }
        let dew = Pen {
            colour: BUOY,
            width: 1.8,
            dash: Dash::Dots,
        };
        for run in line::inside(&self.dew, self.axes.space()) {
            canvas.line(&run, dew)?;
        }
        let of_lines = self.lines.iter().map(|(_, note)| note);
        let of_points = self.points.iter().filter_map(|(.., note)| note.as_ref());
        for note in of_lines.chain(of_points).chain(&self.notes) {
            note.draw(canvas)?;
        }
        for (at, mark, _) in &self.points {
            match mark {
                Mark::Label => {
                    canvas.dot(*at, 7.0, INK)?;
                    canvas.dot(*at, 5.2, PAPER)?;
                }
                Mark::Room => {
                    canvas.dot(*at, 6.0, PAPER)?;
                    canvas.dot(*at, 4.8, HEATHER)?;
                }
            }
        }
        self.axes.draw(canvas)
    }
}

fn axes(rooms: &Rooms<'_>, body: Space) -> Result<Axes, DrawError> {
    let [(cold, dry), (warm, damp)] = rooms.map.span;
    let unit = match rooms.units {
        Units::Metric => "°C",
        Units::Us => "°F",
    };
    let span = (degrees(rooms.units, cold), degrees(rooms.units, warm));
    let x = Axis::linear(format!("temperature of the room, {unit}"), span, 8.0)?;
    let y = Axis::linear(
        "relative humidity of its air, %",
        (dry.percent(), damp.percent()),
        8.0,
    )?;
    Axes::lay_out(x, y, body)
}

/// A temperature in the picture's unit.
fn degrees(units: Units, temperature: Temperature) -> f64 {
    match units {
        Units::Metric => temperature.celsius(),
        Units::Us => temperature.fahrenheit(),
    }
}

/// A square about a point, `[px]`.
fn around(at: Point, half: f64) -> Space {
    Space {
        left: at.x - half,
        top: at.y - half,
        right: at.x + half,
        bottom: at.y + half,
    }
}

/// The words beside a place: in two lines, or narrower in more.
fn beside_words(mark: Mark, [name, times]: &[String; 2]) -> Vec<Vec<(String, Text)>> {
    let colour = match mark {
        Mark::Room => HEATHER,
        Mark::Label => INK,
    };
    let bold = Text::plain(font::BODY, colour).bold();
    let plain = Text::plain(font::SMALL, SLATE);
    let line = |words: &str, text| (words.to_owned(), text);
    let wide = vec![line(name, bold), line(times, plain)];
    let broken = |words: &str, after: &str, text| -> Vec<(String, Text)> {
        match words.split_once(&format!("{after} ")) {
            Some((one, other)) => vec![line(&format!("{one}{after}"), text), line(other, text)],
            None => vec![line(words, text)],
        }
    };
    let narrow = [broken(name, ":", bold), broken(times, ",", plain)].concat();
    vec![wide, narrow]
}

/// Words stand no further from their point than this if there is room, `[px]`.
const FAR: f64 = 24.0;
/// Places for them are tried so far apart, `[px]`.
const APART: f64 = 6.0;

/// Middles of words around a point, the nearest first and of these the rightmost.
fn beside(at: Point, [wide, high]: [f64; 2]) -> Vec<Point> {
    let (x, y) = (wide / 2.0 + FAR, high / 2.0 + FAR);
    let mut places: Vec<(f64, Point)> = Vec::new();
    let mut dy = -y;
    while dy <= y {
        let mut dx = x;
        while dx >= -x {
            let [off_x, off_y] =
                [dx.abs() - wide / 2.0, dy.abs() - high / 2.0].map(|off| off.max(0.0));
            // in whole steps, or a hair's breadth would settle the side
            let off = (off_x.hypot(off_y) / APART).round();
            places.push((off, Point::new(at.x + dx, at.y + dy)));
            dx -= APART;
        }
        dy += APART;
    }
    places.retain(|(off, _)| *off * APART <= FAR);
    places.sort_by(|(a, one), (b, other)| {
        let level = |p: &Point| (p.y - at.y).abs();
        let nearer = a.total_cmp(b);
        let righter = || other.x.total_cmp(&one.x);
        nearer
            .then_with(righter)
            .then_with(|| level(one).total_cmp(&level(other)))
    });
    places.into_iter().map(|(_, place)| place).collect()
}

/// Middles of words further off from a point, where nothing near by is free.
fn further_off(at: Point, [wide, high]: [f64; 2]) -> Vec<Point> {
    let mut places = Vec::new();
    for off in [60.0, 100.0, 150.0] {
        let (x, y) = (wide / 2.0 + off, high / 2.0 + off);
        for dy in [0.0, -y, y] {
            places.extend([x, -x, 0.0].map(|dx| Point::new(at.x + dx, at.y + dy)));
        }
    }
    places
}

/// Points of lines, from their middles outward.
fn along(runs: &[Vec<Point>]) -> Vec<Point> {
    let mut places = Vec::new();
    let mut sorted: Vec<&Vec<Point>> = runs.iter().collect();
    sorted.sort_by(|a, b| length(b).total_cmp(&length(a)));
    for run in sorted {
        let whole = length(run);
        for share in [
            0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82, 0.1, 0.9,
        ] {
            places.extend(at_length(run, whole * share));
        }
    }
    places
}

fn length(run: &[Point]) -> f64 {
    run.windows(2)
        .map(|pair| (pair[1].x - pair[0].x).hypot(pair[1].y - pair[0].y))
        .sum()
}

/// The point so far along a line.
fn at_length(run: &[Point], mut left: f64) -> Option<Point> {
    for pair in run.windows(2) {
        let (dx, dy) = (pair[1].x - pair[0].x, pair[1].y - pair[0].y);
        let piece = dx.hypot(dy);
        if left <= piece && piece > 0.0 {
            let t = left / piece;
            return Some(Point::new(pair[0].x + dx * t, pair[0].y + dy * t));
        }
        left -= piece;
    }
    run.last().copied()
}
