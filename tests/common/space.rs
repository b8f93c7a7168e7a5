//! Outlines for the tests of space, and a check of layouts that shares nothing with the
//! library: every piece as a polygon, every distance measured between sides.
#![allow(dead_code, reason = "each test uses its own part")]

use brimful::geometry::Outline;
use brimful::quantity::Length;
use brimful::space::{Ground, Layout};

pub type Point = [f64; 2];

pub fn mm(mm: f64) -> Length {
    Length::from_mm(mm)
}

pub fn ground(size: Point, margin: f64, gap: f64) -> Ground {
    Ground {
        size: size.map(mm),
        margin: mm(margin),
        gap: mm(gap),
    }
}

pub fn round(diameter: f64) -> Outline {
    Outline::round(mm(diameter)).unwrap()
}

pub fn rectangle([length, width]: Point) -> Outline {
    Outline::rectangle(mm(length), mm(width), Length::ZERO).unwrap()
}

pub fn points(points: &[Point]) -> Outline {
    let points: Vec<_> = points.iter().map(|p| p.map(mm)).collect();
    Outline::points(&points, Length::ZERO).unwrap()
}

/// A small generator of numbers (a linear congruence with Knuth's constants for MMIX), so that the
/// cases are the same everywhere.
pub struct Random(pub u64);

impl Random {
    pub fn below(&mut self, most: u64) -> u64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % most
    }

    /// A whole number from `low` to `high`.
    pub fn within(&mut self, low: u32, high: u32) -> u32 {
        let span = u64::from(high - low + 1);
        low + u32::try_from(self.below(span)).unwrap()
    }
}

/// The outline laid at each place, its curves drawn to 0.002 mm.
pub fn laid(outline: &Outline, layout: &Layout) -> Vec<Vec<Point>> {
    laid_about(outline, outline.middle(), layout)
}

fn laid_about(outline: &Outline, middle: [Length; 2], layout: &Layout) -> Vec<Vec<Point>> {
    let edge = &outline.drawn(mm(0.002))[0];
    let [x, y] = middle.map(Length::mm);
    let lie = |place: &brimful::space::Place| {
        let (sin, cos) = place.turned.rad().sin_cos();
        let [right, up] = place.at.map(Length::mm);
        edge.iter()
            .map(|p| {
                let (u, v) = (p[0].mm() - x, p[1].mm() - y);
                [right + cos * u - sin * v, up + sin * u + cos * v]
            })
            .collect()
    };
    layout.places.iter().map(lie).collect()
}

fn between(p: Point, [a, b]: [Point; 2]) -> f64 {
    let (x, y) = (b[0] - a[0], b[1] - a[1]);
    let share = ((p[0] - a[0]) * x + (p[1] - a[1]) * y) / (x * x + y * y);
    let share = share.clamp(0.0, 1.0);
    (p[0] - a[0] - share * x).hypot(p[1] - a[1] - share * y)
}

fn side_of([a, b]: [Point; 2], p: Point) -> f64 {
    (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])
}

fn apart(s: [Point; 2], t: [Point; 2]) -> f64 {
    let cross =
        side_of(s, t[0]) * side_of(s, t[1]) < 0.0 && side_of(t, s[0]) * side_of(t, s[1]) < 0.0;
    if cross {
        return 0.0;
    }
    let ends = [
        between(s[0], t),
        between(s[1], t),
        between(t[0], s),
        between(t[1], s),
    ];
    ends.into_iter().fold(f64::INFINITY, f64::min)
}

fn sides(polygon: &[Point]) -> Vec<[Point; 2]> {
    let next = polygon.iter().cycle().skip(1);
    polygon.iter().zip(next).map(|(&a, &b)| [a, b]).collect()
}

fn inside(polygon: &[Point], p: Point) -> bool {
    let crossed = sides(polygon).into_iter().filter(|[a, b]| {
        (a[1] > p[1]) != (b[1] > p[1]) && {
            let x = a[0] + (p[1] - a[1]) / (b[1] - a[1]) * (b[0] - a[0]);
            x > p[0]
        }
    });
    crossed.count() % 2 == 1
}

fn middle(polygon: &[Point]) -> Point {
    let n = f64::from(u32::try_from(polygon.len()).unwrap());
    [0, 1].map(|k| polygon.iter().map(|p| p[k]).sum::<f64>() / n)
}

/// How far two polygons are apart; 0 where they overlap or touch.
pub fn distance(a: &[Point], b: &[Point]) -> f64 {
    if inside(a, b[0]) || inside(b, a[0]) || inside(a, middle(b)) && inside(b, middle(a)) {
        return 0.0;
    }
    let (a, b) = (sides(a), sides(b));
    a.iter()
        .flat_map(|&s| b.iter().map(move |&t| apart(s, t)))
        .fold(f64::INFINITY, f64::min)
}

/// Panics where a piece lies in the margin, or two lie nearer than the gap. Drawn curves miss the
/// true ones by 0.002 mm, once for each piece. Where the gap is 0 they may touch: a thousandth of a
/// millimetre is taken off each, and they must then be apart.
pub fn keeps_its_room(outline: &Outline, ground: &Ground, layout: &Layout) {
    assert_eq!(layout.places.len(), layout.count as usize);
    if let Some(rows) = &layout.rows {
        assert_eq!(rows.counts.iter().sum::<u32>(), layout.count);
    }
    let pieces = laid(outline, layout);
    let (margin, gap) = (ground.margin.mm(), ground.gap.mm());
    let size = ground.size.map(Length::mm);
    for p in pieces.iter().flatten() {
        for k in 0..2 {
            let free = (p[k] - margin).min(size[k] - margin - p[k]);
            assert!(free > -1e-6, "{free} mm into the margin of {ground:?}");
        }
    }
    let boxes: Vec<[f64; 4]> = pieces
        .iter()
        .map(|piece| {
            piece
                .iter()
                .fold([f64::MAX, f64::MIN, f64::MAX, f64::MIN], |b, p| {
                    [
                        b[0].min(p[0]),
                        b[1].max(p[0]),
                        b[2].min(p[1]),
                        b[3].max(p[1]),
                    ]
                })
        })
        .collect();
    let straight = outline.drawn(mm(0.002))[0].len() < 13;
    let slack = if straight { 1.1e-6 } else { 0.005 };
    let off = if gap > 0.0 { 0.0 } else { 0.001 };
    let less = outline.inset(mm(off)).unwrap();
    let shrunk = laid_about(&less, outline.middle(), layout);
    for i in 0..pieces.len() {
        for j in 0..i {
            let (s, t) = (boxes[i], boxes[j]);
            let clear = (s[0] - t[1])
                .max(t[0] - s[1])
                .max(s[2] - t[3])
                .max(t[2] - s[3]);
            if clear > gap - 1e-6 && clear > 0.0 {
                continue;
            }
            let clear = distance(&shrunk[i], &shrunk[j]) - 2.0 * off;
            assert!(
                clear > gap - slack,
                "{clear} mm between {i} and {j}: {layout:?}"
            );
        }
    }
}
