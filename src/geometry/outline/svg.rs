//! Outlines read from a drawing: the one shape of an SVG text.

use roxmltree::{Document, Node, ParsingOptions};
use svgtypes::Transform;
use thiserror::Error;

use super::error::OutlineError;
use super::path::Path;
use super::{fillet, reading, simple::Sides, trace};
use crate::geometry::contour::{Curve, Point, Span};
use crate::quantity::Length;

/// How far the sides that are looked at for crossings leave the drawn curves, as
/// a share of the drawing's width.
const FLAT: f64 = 2e-5;

/// Elements that draw nothing by themselves, with all that they hold.
const SILENT: [&str; 13] = [
    "defs",
    "symbol",
    "clipPath",
    "mask",
    "marker",
    "pattern",
    "linearGradient",
    "radialGradient",
    "filter",
    "metadata",
    "title",
    "desc",
    "style",
];

/// Why a text is no drawing of one closed shape.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum DrawingError {
    /// The text is no XML, or its outermost element is not `svg`.
    #[error("it is not an SVG ({0})")]
    NotSvg(String),
    /// There is no shape in it.
    #[error("it holds no path or basic shape")]
    Empty,
    /// There is more than one shape in it.
    #[error("it holds {0} shapes; an outline is one, and holes are given apart")]
    SeveralShapes(usize),
    /// A path with several parts.
    #[error("its path has {0} parts; an outline is one, and holes are given apart")]
    SeveralParts(usize),
    /// A path that does not end where it began.
    #[error("its path is open: it does not end where it began")]
    Open,
    /// An element that can't be read as an outline.
    #[error("it holds a {0}, which can't be read as an outline; turn it into one path")]
    Element(String),
    /// An attribute that makes no sense.
    #[error("the {attribute} of its {element} can't be read")]
    Attribute {
        /// The element's name.
        element: String,
        /// The attribute's name.
        attribute: &'static str,
    },
}

/// The closed edge of the drawing's one shape, counter-clockwise, scaled so that its
/// box is `width` mm wide and centred on the origin, up being up.
pub(super) fn read(text: &str, width: f64) -> Result<Vec<Curve>, OutlineError> {
    let path = shape(text)?;
    let path = fitted(&path, width)?;
    let corners = path.corners();
    if let Some(points) = corners {
        return Ok(reading::Points::checked(&points)?.read());
    }
    if path.segments.len() > reading::MOST_POINTS {
        return Err(OutlineError::TooManyPoints {
            count: path.segments.len(),
            most: reading::MOST_POINTS,
        });
    }
    check(&path, FLAT * width)?;
    let edge = joined(&path);
    let swept: f64 = edge.iter().map(Curve::swept).sum();
    if swept >= 0.0 {
        return Ok(edge);
    }
    Ok(edge.iter().rev().map(Curve::reversed).collect())
}

/// The one shape, where it stands on the page.
fn shape(text: &str) -> Result<Path, DrawingError> {
    let options = ParsingOptions {
        // Drawing programs write a document type.
        allow_dtd: true,
        ..ParsingOptions::default()
    };
    let document = Document::parse_with_options(text, options)
        .map_err(|why| DrawingError::NotSvg(why.to_string()))?;
    let root = document.root_element();
    if root.tag_name().name() != "svg" {
        let name = root.tag_name().name();
        return Err(DrawingError::NotSvg(format!(
            "its outermost element is {name}"
        )));
    }
    let mut found = Vec::new();
    let mut todo = vec![(root, Transform::default())];
    while let Some((node, above)) = todo.pop() {
        let at = product(above, transform(node)?);
        for child in node.children().filter(draws) {
            match child.tag_name().name() {
                "g" | "a" | "switch" => todo.push((child, at)),
                "path" | "rect" | "circle" | "ellipse" | "polygon" | "polyline" => {
                    found.push((child, product(at, transform(child)?)));
                }
                other => return Err(DrawingError::Element(other.to_owned())),
            }
        }
    }
    match found.as_slice() {
        [] => Err(DrawingError::Empty),
        [(node, at)] => {
            let path = Path::of(*node)?;
            Ok(path.moved(
                |[x, y]| [at.a * x + at.c * y, at.b * x + at.d * y],
                [at.e, at.f],
            ))
        }
        many => Err(DrawingError::SeveralShapes(many.len())),
    }
}

/// Whether a node is an element that may draw something.
fn draws(node: &Node) -> bool {
    let name = node.tag_name();
    let svg = name
        .namespace()
        .is_none_or(|space| space == "http://www.w3.org/2000/svg");
    let hidden = node.attribute("display") == Some("none")
        || node.attribute("style").is_some_and(|style| {
            style
                .split(';')
                .any(|rule| rule.replace(' ', "") == "display:none")
        });
    node.is_element() && svg && !hidden && !SILENT.contains(&name.name())
}

fn transform(node: Node) -> Result<Transform, DrawingError> {
    let Some(text) = node.attribute("transform") else {
        return Ok(Transform::default());
    };
    text.parse().map_err(|_| DrawingError::Attribute {
        element: node.tag_name().name().to_owned(),
        attribute: "transform",
    })
}

/// First `inner`, then `outer`.
fn product(outer: Transform, inner: Transform) -> Transform {
    Transform::new(
        outer.a * inner.a + outer.c * inner.b,
        outer.b * inner.a + outer.d * inner.b,
        outer.a * inner.c + outer.c * inner.d,
        outer.b * inner.c + outer.d * inner.d,
        outer.a * inner.e + outer.c * inner.f + outer.e,
        outer.b * inner.e + outer.d * inner.f + outer.f,
    )
}

/// Scaled to `width`, centred and turned so that up is up.
fn fitted(path: &Path, width: f64) -> Result<Path, OutlineError> {
    let spans: Vec<Span> = path.segments.iter().flatten().copied().collect();
    if spans.is_empty() {
        return Err(DrawingError::Empty.into());
    }
    let [low, high] = trace::frame(&[Curve::spline(spans)]);
    let scale = width / (high[0] - low[0]);
    let sound = scale.is_finite() && high[1] > low[1] && (high[1] - low[1]).is_finite();
    if !sound {
        return Err(OutlineError::NoArea);
    }
    let middle = [0, 1].map(|k| f64::midpoint(low[k], high[k]));
    let shift = [-scale * middle[0], scale * middle[1]];
    Ok(path.moved(|[x, y]| [scale * x, -scale * y], shift))
}

/// Refuses an edge that crosses or touches itself, or encloses nothing.
fn check(path: &Path, tolerance: f64) -> Result<(), OutlineError> {
    let (mut points, mut owners) = (Vec::new(), Vec::new());
    for (i, segment) in path.segments.iter().enumerate() {
        for span in segment {
            points.extend(trace::drawn(&[Curve::spline(vec![*span])], tolerance));
        }
        owners.resize(points.len(), i + 1);
    }
    if points.len() < 3 {
        return Err(OutlineError::NoArea);
    }
    let swept: f64 = path.segments.iter().flatten().map(Span::swept).sum();
    let sides = Sides::new(&points);
    if let Some(met) = sides.meeting() {
        return Err(OutlineError::Crosses {
            first: owners[met.first],
            second: owners[met.second],
            at: met.at.map(Length::from_mm),
        });
    }
    let [low, high] = trace::frame(&[Curve::spline(
        path.segments.iter().flatten().copied().collect(),
    )]);
    let size = (high[0] - low[0]).max(high[1] - low[1]);
    if swept.abs() <= 1e-9 * size * size {
        return Err(OutlineError::NoArea);
    }
    Ok(())
}

/// The segments joined to smooth runs: lines stay lines, curves without a corner
/// between them become one spline.
fn joined(path: &Path) -> Vec<Curve> {
    let n = path.segments.len();
    let line = |i: usize| path.segments[i].len() == 1;
    let ends: Vec<[Point; 2]> = path
        .segments
        .iter()
        .map(|segment| {
            let curve = Curve::spline(segment.clone());
            [curve.tangent(0.0), curve.tangent(1.0)]
        })
        .collect();
    let breaks = |i: usize| {
        let before = (i + n - 1) % n;
        let turn = reading::turn(ends[before][1], ends[i][0]);
        line(i) || line(before) || turn.abs() >= fillet::BLUNT
    };
    let Some(first) = (0..n).find(|&i| breaks(i)) else {
        let spans: Vec<Span> = path.segments.iter().flatten().copied().collect();
        return reading::in_four(&spans);
    };
    let (mut curves, mut run) = (Vec::new(), Vec::new());
    for i in (first..first + n).map(|i| i % n) {
        if line(i) {
            let span = path.segments[i][0];
            curves.push(Curve::Line(span.from, span.to));
            continue;
        }
        run.extend_from_slice(&path.segments[i]);
        if breaks((i + 1) % n) {
            curves.push(Curve::spline(std::mem::take(&mut run)));
        }
    }
    curves
}
