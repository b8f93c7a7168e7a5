//! One closed path of lines and cubics, as a drawing's element gives it.

use std::f64::consts::TAU;

use kurbo::{Arc, SvgArc, Vec2};
use roxmltree::Node;
use svgtypes::{LengthUnit, PathParser, PathSegment, PointsParser};

use super::svg::DrawingError;
use crate::geometry::contour::{Point, Span, distance};

/// Ends nearer than this share of the path's length are the same place.
const HAIR: f64 = 1e-4;
/// Arcs become cubics that leave them by less than this share of their radius.
const ROUND: f64 = 1e-9;

/// A closed path: each segment one straight span, or a cubic in several spans.
pub(super) struct Path {
    pub segments: Vec<Vec<Span>>,
}

/// The path while it is being drawn, in the drawing's own units.
#[derive(Default)]
struct Pen {
    parts: Vec<Part>,
    at: Point,
    /// Where the part began.
    start: Point,
    /// The last control point, and whether it is a cubic's.
    control: Option<(Point, bool)>,
}

#[derive(Default)]
struct Part {
    segments: Vec<Vec<Span>>,
    closed: bool,
}

impl Path {
    /// The path of an element.
    pub fn of(node: Node) -> Result<Self, DrawingError> {
        let mut pen = Pen::default();
        match node.tag_name().name() {
            "path" => pen.path(node)?,
            "polygon" | "polyline" => pen.polygon(node),
            "rect" => pen.rectangle(node)?,
            _ => pen.ellipse(node)?,
        }
        pen.closed()
    }

    /// Each point moved by a linear map and a shift.
    pub fn moved(&self, map: impl Fn(Point) -> Point, [e, f]: Point) -> Self {
        let place = |p: Point| {
            let [x, y] = map(p);
            [x + e, y + f]
        };
        let span = |s: &Span| Span {
            from: place(s.from),
            leaving: map(s.leaving),
            to: place(s.to),
            arriving: map(s.arriving),
        };
        Self {
            segments: self
                .segments
                .iter()
                .map(|segment| segment.iter().map(span).collect())
                .collect(),
        }
    }

    /// The corners, where all segments are straight.
    pub fn corners(&self) -> Option<Vec<Point>> {
        let straight = self.segments.iter().all(|segment| segment.len() == 1);
        straight.then(|| self.segments.iter().map(|s| s[0].from).collect())
    }
}

impl Pen {
    fn begin(&mut self, at: Point) {
        self.parts.push(Part::default());
        (self.at, self.start, self.control) = (at, at, None);
    }

    fn add(&mut self, segment: Vec<Span>, to: Point) {
        if self.parts.last().is_none_or(|part| part.closed) {
            let from = self.at;
            self.begin(from);
        }
        if let Some(part) = self.parts.last_mut() {
            part.segments.push(segment);
        }
        self.at = to;
    }

    fn line(&mut self, to: Point) {
        let from = self.at;
        if from != to {
            self.add(vec![Span::line(from, to)], to);
        }
        self.control = None;
    }

    /// A cubic, in so many parts that each turns little and is run through evenly.
    fn cubic(&mut self, b: Point, c: Point, to: Point) {
        let from = self.at;
        if [b, c, to].iter().all(|p| *p == from) {
            return;
        }
        let whole = Span::bezier([from, b, c, to]);
        let parts = 16;
        let share = |i: u32| f64::from(i) / f64::from(parts);
        let spans = (0..parts).map(|i| whole.part(share(i), share(i + 1)));
        self.add(spans.collect(), to);
        self.control = Some((c, true));
    }

    fn quadratic(&mut self, b: Point, to: Point) {
        let from = self.at;
        let third = |p: Point| [0, 1].map(|k| p[k] + 2.0 / 3.0 * (b[k] - p[k]));
        self.cubic(third(from), third(to), to);
        self.control = Some((b, false));
    }

    /// The arc as cubics that leave it by a billionth.
    fn arc(&mut self, arc: &Arc, to: Point) {
        let radius = arc.radii.x.abs().max(arc.radii.y.abs());
        let mut cubics = Vec::new();
        arc.to_cubic_beziers(ROUND * radius, |b, c, d| {
            cubics.push([b, c, d].map(|p| [p.x, p.y]));
        });
        if let Some(last) = cubics.last_mut() {
            last[2] = to;
        }
        for [b, c, d] in cubics {
            self.cubic(b, c, d);
        }
        self.control = None;
    }

    fn close(&mut self) {
        let start = self.start;
        self.line(start);
        if let Some(part) = self.parts.last_mut() {
            part.closed = true;
        }
    }

    /// The last control point turned about the pen, for a smooth segment.
    fn mirrored(&self, cubic: bool) -> Point {
        match self.control {
            Some((p, of)) if of == cubic => [0, 1].map(|k| 2.0 * self.at[k] - p[k]),
            _ => self.at,
        }
    }

    fn path(&mut self, node: Node) -> Result<(), DrawingError> {
        let text = node.attribute("d").unwrap_or("");
        for segment in PathParser::from(text) {
            let segment = segment.map_err(|_| unreadable(node, "d"))?;
            self.segment(segment);
        }
        Ok(())
    }

    fn segment(&mut self, segment: PathSegment) {
        let [ox, oy] = if segment.is_abs() { [0.0; 2] } else { self.at };
        let place = |x: f64, y: f64| [ox + x, oy + y];
        match segment {
            PathSegment::MoveTo { x, y, .. } => self.begin(place(x, y)),
            PathSegment::LineTo { x, y, .. } => self.line(place(x, y)),
            PathSegment::HorizontalLineTo { x, .. } => self.line([ox + x, self.at[1]]),
            PathSegment::VerticalLineTo { y, .. } => self.line([self.at[0], oy + y]),
            PathSegment::CurveTo {
                x1,
                y1,
                x2,
                y2,
                x,
                y,
                ..
            } => self.cubic(place(x1, y1), place(x2, y2), place(x, y)),
            PathSegment::SmoothCurveTo { x2, y2, x, y, .. } => {
                self.cubic(self.mirrored(true), place(x2, y2), place(x, y));
            }
            PathSegment::Quadratic { x1, y1, x, y, .. } => {
                self.quadratic(place(x1, y1), place(x, y));
            }
            PathSegment::SmoothQuadratic { x, y, .. } => {
                self.quadratic(self.mirrored(false), place(x, y));
            }
            PathSegment::EllipticalArc {
                rx,
                ry,
                x_axis_rotation,
                large_arc,
                sweep,
                x,
                y,
                ..
            } => {
                let to = place(x, y);
                let arc = SvgArc {
                    from: kurbo(self.at),
                    to: kurbo(to),
                    radii: Vec2::new(rx, ry),
                    x_rotation: x_axis_rotation.to_radians(),
                    large_arc,
                    sweep,
                };
                match Arc::from_svg_arc(&arc) {
                    Some(arc) => self.arc(&arc, to),
                    None => self.line(to),
                }
            }
            PathSegment::ClosePath { .. } => self.close(),
        }
    }

    fn polygon(&mut self, node: Node) {
        let text = node.attribute("points").unwrap_or("");
        let mut points = PointsParser::from(text).map(|(x, y)| [x, y]);
        if let Some(first) = points.next() {
            self.begin(first);
            points.for_each(|p| self.line(p));
            if node.tag_name().name() == "polygon" {
                self.close();
            }
        }
    }

    fn rectangle(&mut self, node: Node) -> Result<(), DrawingError> {
        let read = |name| number(node, name).map(|found| found.unwrap_or(0.0));
        let ([x, y], [w, h]) = ([read("x")?, read("y")?], [read("width")?, read("height")?]);
        if !(w > 0.0 && h > 0.0) {
            return Ok(());
        }
        let radii = (number(node, "rx")?, number(node, "ry")?);
        let (rx, ry) = (
            radii.0.or(radii.1).unwrap_or(0.0).clamp(0.0, w / 2.0),
            radii.1.or(radii.0).unwrap_or(0.0).clamp(0.0, h / 2.0),
        );
        let corner = |pen: &mut Self, centre: Point, quarter: f64| {
            let start = TAU / 4.0 * quarter;
            let (sin, cos) = (start + TAU / 4.0).sin_cos();
            let to = [centre[0] + rx * cos, centre[1] + ry * sin];
            if rx > 0.0 && ry > 0.0 {
                let arc = Arc::new(kurbo(centre), (rx, ry), start, TAU / 4.0, 0.0);
                pen.arc(&arc, to);
            } else {
                pen.line(to);
            }
        };
        let (right, bottom) = (x + w - rx, y + h - ry);
        self.begin([x + w, y + ry]);
        self.line([x + w, bottom]);
        corner(self, [right, bottom], 0.0);
        self.line([x + rx, y + h]);
        corner(self, [x + rx, bottom], 1.0);
        self.line([x, y + ry]);
        corner(self, [x + rx, y + ry], 2.0);
        self.line([right, y]);
        corner(self, [right, y + ry], 3.0);
        self.close();
        Ok(())
    }

    fn ellipse(&mut self, node: Node) -> Result<(), DrawingError> {
        let read = |name| number(node, name).map(|found| found.unwrap_or(0.0));
        let centre = [read("cx")?, read("cy")?];
        let (rx, ry) = if node.tag_name().name() == "circle" {
            (read("r")?, read("r")?)
        } else {
            (read("rx")?, read("ry")?)
        };
        if rx > 0.0 && ry > 0.0 {
            let start = [centre[0] + rx, centre[1]];
            self.begin(start);
            self.arc(&Arc::new(kurbo(centre), (rx, ry), 0.0, TAU, 0.0), start);
            self.close();
        }
        Ok(())
    }

    /// The one closed part; an end a hair from the beginning is moved there.
    fn closed(self) -> Result<Path, DrawingError> {
        let mut parts: Vec<Part> = self.parts;
        parts.retain(|part| !part.segments.is_empty());
        let count = parts.len();
        let Some(mut part) = parts.pop() else {
            return Err(DrawingError::Empty);
        };
        if count > 1 {
            return Err(DrawingError::SeveralParts(count));
        }
        let spans = || part.segments.iter().flatten();
        let length: f64 = spans().map(|span| distance(span.from, span.to)).sum();
        let start = part.segments[0][0].from;
        // A closing line of a hair's length is no side.
        if part.segments.len() > 2
            && let Some([line]) = part.segments.last().map(Vec::as_slice)
            && distance(line.from, line.to) <= HAIR * length
        {
            part.segments.pop();
        }
        let Some(segment) = part.segments.last_mut() else {
            return Err(DrawingError::Empty);
        };
        let straight = segment.len() == 1;
        if let Some(last) = segment.last_mut().filter(|last| last.to != start) {
            if distance(last.to, start) > HAIR * length {
                return Err(DrawingError::Open);
            }
            *last = if straight {
                Span::line(last.from, start)
            } else {
                Span { to: start, ..*last }
            };
        }
        Ok(Path {
            segments: part.segments,
        })
    }
}

fn kurbo([x, y]: Point) -> kurbo::Point {
    kurbo::Point::new(x, y)
}

/// A length attribute in the drawing's own units.
fn number(node: Node, name: &'static str) -> Result<Option<f64>, DrawingError> {
    let Some(text) = node.attribute(name) else {
        return Ok(None);
    };
    if text == "auto" {
        return Ok(None);
    }
    let length: svgtypes::Length = text.parse().map_err(|_| unreadable(node, name))?;
    // CSS: 96 px to the inch.
    let unit = match length.unit {
        LengthUnit::None | LengthUnit::Px => 1.0,
        LengthUnit::In => 96.0,
        LengthUnit::Cm => 96.0 / 2.54,
        LengthUnit::Mm => 96.0 / 25.4,
        LengthUnit::Pt => 96.0 / 72.0,
        LengthUnit::Pc => 16.0,
        LengthUnit::Em | LengthUnit::Ex | LengthUnit::Percent => {
            return Err(unreadable(node, name));
        }
    };
    Ok(Some(length.number * unit))
}

fn unreadable(node: Node, attribute: &'static str) -> DrawingError {
    DrawingError::Attribute {
        element: node.tag_name().name().to_owned(),
        attribute,
    }
}
