//! Level lines of a solved surface, as seen from above.
//!
//! Every triangle of the mesh is read at many places of its own polynomial, and
//! lines go through the small triangles between them, their points on the polynomial
//! itself. The places on a side belong to both its triangles, so that the lines join
//! without looking for nearness; at a mirror line they go on into the mirrored copy.

use std::collections::HashMap;

use super::contour::Point;
use super::filling::Filled;
use super::newton::Solution;
use super::plate::{Plate, dot};
use super::shape::Shape;
use crate::quantity::{Area, Length};

/// A closed line, its first point not repeated: what is higher lies on its left, so
/// that it runs counter-clockwise about high ground and clockwise about low.
pub type Ring = Vec<[Length; 2]>;

/// The area that rings enclose together, those about low ground taken off.
#[must_use]
pub fn ring_area(rings: &[Ring]) -> Area {
    let swept = |ring: &Ring| -> f64 {
        let next = ring.iter().cycle().skip(1);
        let sides = ring.iter().zip(next);
        sides
            .map(|([x0, y0], [x1, y1])| x0.mm() * y1.mm() - x1.mm() * y0.mm())
            .sum()
    };
    Area::from_mm2(rings.iter().map(swept).sum::<f64>() / 2.0)
}

/// Small triangles along each side of one of the mesh's.
const PARTS: usize = 12;

/// Points of a ring on a round top.
const ROUND: u32 = 180;

/// By so much of the peak a place may be lower and still count as highest.
const AS_HIGH: f64 = 1e-3;

impl Shape<'_> {
    /// The rings about all that is higher than a height over the contact line, above
    /// zero; none where nothing is.
    pub(super) fn rings(&self, heights: &[f64]) -> Vec<Vec<Ring>> {
        if let (Some(solution), Some(plate)) = (&self.surface, &self.top().plate) {
            let facets = Facets::of(plate, solution);
            let rings = heights.iter().map(|&height| facets.rings(height));
            return rings.collect();
        }
        let half = self.half_section();
        let rings = heights.iter().map(|&height| {
            let radius = radius_at(&half, height);
            radius.map(circle).into_iter().collect()
        });
        rings.collect()
    }

    /// Where it is highest: of all places that are, to a thousandth, the one
    /// nearest to the middle of the outline's box.
    #[must_use]
    pub fn highest(&self) -> [Length; 2] {
        let (Some(solution), Some(plate)) = (&self.surface, &self.top().plate) else {
            return [Length::ZERO; 2];
        };
        let middle = self.top().outline().middle().map(Length::mm);
        let far = |p: &[f64; 3]| (p[0] - middle[0]).hypot(p[1] - middle[1]);
        let places = Facets::of(plate, solution).places;
        let peak = places.iter().map(|p| p[2]).fold(0.0, f64::max);
        let high = places.iter().filter(|p| p[2] >= (1.0 - AS_HIGH) * peak);
        let nearest = high.min_by(|a, b| far(a).total_cmp(&far(b)));
        nearest.map_or([Length::ZERO; 2], |p| [p[0], p[1]].map(Length::from_mm))
    }
}

impl Filled<'_> {
    /// The rings about all places where the surface is higher over the flat top, or over
    /// a bezel's floor, than each of some heights above zero. Up to a wall's own height
    /// that is the whole floor.
    ///
    /// The points lie on the solved surface, some tenths of a millimetre apart on a
    /// piece of some centimetres.
    #[must_use]
    pub fn rings(&self, heights: &[Length]) -> Vec<Vec<Ring>> {
        let over: Vec<f64> = heights.iter().map(|h| (*h - self.lift).mm()).collect();
        let mut rings = self.shape.rings(&over);
        for (height, found) in over.iter().zip(&mut rings) {
            if *height <= 0.0 {
                let outline = self.shape.top().outline();
                *found = outline.drawn(outline.across() * 1e-4);
            }
        }
        rings
    }
}

/// How far from the middle a chain from the edge inward crosses a height: the
/// innermost place.
fn radius_at(half: &[(f64, f64)], height: f64) -> Option<f64> {
    half.windows(2).rev().find_map(|pair| {
        let ((r0, z0), (r1, z1)) = (pair[0], pair[1]);
        (z0 < height && height <= z1).then(|| r0 + (height - z0) / (z1 - z0) * (r1 - r0))
    })
}

fn circle(radius: f64) -> Ring {
    let turns = (0..ROUND).map(|i| std::f64::consts::TAU * f64::from(i) / f64::from(ROUND));
    turns
        .map(|turn| [turn.cos(), turn.sin()].map(|x| Length::from_mm(radius * x)))
        .collect()
}

/// The meshed part of a surface as small triangles.
struct Facets<'a> {
    plate: &'a Plate,
    solution: &'a Solution,
    /// Two along the top, and the height, mm.
    places: Vec<[f64; 3]>,
    /// As many for each of the mesh's, one after the other.
    triangles: Vec<[usize; 3]>,
    /// The same of one of the mesh's, by places in its lattice.
    pattern: Vec<[usize; 3]>,
    lattice: Vec<[usize; 3]>,
}

/// A step of a line through a small triangle, from one of its sides to another.
struct Step {
    triangle: usize,
    from: Between,
    to: Between,
}

/// A place between two of the surface's, by their numbers, the lower first.
type Between = (usize, usize);

impl<'a> Facets<'a> {
    fn of(plate: &'a Plate, solution: &'a Solution) -> Self {
        let (lattice, pattern) = (lattice(), small_triangles());
        let shapes: Vec<Vec<f64>> = (lattice.iter())
            .map(|l| {
                let [x, y] = [l[1], l[2]].map(share);
                plate.element.shape(x, y).value
            })
            .collect();
        let mut facets = Self {
            plate,
            solution,
            places: Vec::new(),
            triangles: Vec::new(),
            pattern,
            lattice,
        };
        let mut known: HashMap<(usize, usize, usize), usize> = HashMap::new();
        for nodes in plate.mesh.triangles.chunks_exact(plate.element.len()) {
            let mut numbers = Vec::with_capacity(shapes.len());
            for (at, shape) in facets.lattice.iter().zip(&shapes) {
                let fresh = facets.places.len();
                let number = match on_side(at, nodes) {
                    Some(key) => *known.entry(key).or_insert(fresh),
                    None => fresh,
                };
                if number == fresh {
                    facets.places.push(place(plate, solution, nodes, shape));
                }
                numbers.push(number);
            }
            let small = facets.pattern.iter().map(|t| t.map(|i| numbers[i]));
            facets.triangles.extend(small);
        }
        facets
    }

    /// Where a height is crossed between two corners of a small triangle: on the parabola
    /// through the heights at both and near the crossing itself.
    fn crossing(&self, triangle: usize, (a, b): Between, height: f64) -> Point {
        let count = self.pattern.len();
        let (corners, pattern) = (self.triangles[triangle], self.pattern[triangle % count]);
        let local = |place: usize| {
            let at = corners.iter().position(|&c| c == place).unwrap_or(0);
            let [_, x, y] = self.lattice[pattern[at]];
            [x, y].map(share)
        };
        let ends = [local(a), local(b)];
        let n = self.plate.element.len();
        let number = triangle / count;
        let nodes = &self.plate.mesh.triangles[number * n..(number + 1) * n];
        let surface = |t: f64| {
            let [x, y] = [0, 1].map(|k| ends[0][k] + t * (ends[1][k] - ends[0][k]));
            let shape = self.plate.element.shape(x, y).value;
            place(self.plate, self.solution, nodes, &shape)
        };
        let [low, high] = [a, b].map(|i| self.places[i][2] - height);
        let t = low / (low - high);
        let miss = surface(t)[2] - height;
        // Newton's divided differences: bend t (t - 1) is what a straight line leaves out.
        let room = t * (t - 1.0);
        let bend = if room < -1e-6 { miss / room } else { 0.0 };
        let t = t - miss / (high - low + bend * (2.0 * t - 1.0));
        let at = surface(t.clamp(0.0, 1.0));
        [at[0], at[1]]
    }

    /// Steps from one side of a small triangle to another, what is higher on the left.
    fn steps(&self, height: f64) -> Vec<Step> {
        let side = |a: usize, b: usize| (a.min(b), a.max(b));
        let mut steps = Vec::new();
        for (triangle, &[a, b, c]) in self.triangles.iter().enumerate() {
            let high = [a, b, c].map(|i| self.places[i][2] >= height);
            let (first, odd) = match high {
                [true, false, false] => ([a, b, c], true),
                [false, true, false] => ([b, c, a], true),
                [false, false, true] => ([c, a, b], true),
                [false, true, true] => ([a, b, c], false),
                [true, false, true] => ([b, c, a], false),
                [true, true, false] => ([c, a, b], false),
                [true, true, true] | [false, false, false] => continue,
            };
            let [tip, next, last] = first;
            let (out, back) = (side(tip, next), side(last, tip));
            let (from, to) = if odd { (out, back) } else { (back, out) };
            steps.push(Step { triangle, from, to });
        }
        steps
    }

    fn rings(&self, height: f64) -> Vec<Ring> {
        if height <= 0.0 {
            return Vec::new();
        }
        let steps = self.steps(height);
        let begins: HashMap<Between, usize> =
            steps.iter().enumerate().map(|(i, s)| (s.from, i)).collect();
        let mut entered = vec![false; steps.len()];
        for next in steps.iter().filter_map(|step| begins.get(&step.to)) {
            entered[*next] = true;
        }
        // Lines that begin at a mirror first; what is left over is closed.
        let open = (0..steps.len()).filter(|&i| !entered[i]);
        let order: Vec<usize> = open.chain(0..steps.len()).collect();
        let mut used = vec![false; steps.len()];
        let mut rings = Vec::new();
        for first in order {
            if used[first] {
                continue;
            }
            let mut line = vec![self.crossing(steps[first].triangle, steps[first].from, height)];
            let mut at = Some(first);
            while let Some(i) = at.filter(|&i| !used[i]) {
                used[i] = true;
                line.push(self.crossing(steps[i].triangle, steps[i].to, height));
                at = begins.get(&steps[i].to).copied();
            }
            let copies = Copies::of(self.plate.mesh.copies);
            if at.is_some() {
                line.pop();
                rings.extend(copies.of_closed(&line));
            } else {
                rings.extend(copies.of_open(&line));
            }
        }
        let rings = rings.into_iter();
        rings
            .map(|ring| ring.into_iter().map(|p| p.map(Length::from_mm)).collect())
            .collect()
    }
}

/// Barycentric numbers of a triangle's lattice, times [`PARTS`].
fn lattice() -> Vec<[usize; 3]> {
    let rows = 0..=PARTS;
    rows.flat_map(|j| (0..=PARTS - j).map(move |i| [PARTS - i - j, i, j]))
        .collect()
}

/// The small triangles of a lattice, by the numbers of its places.
fn small_triangles() -> Vec<[usize; 3]> {
    let mut small = Vec::with_capacity(PARTS * PARTS);
    let mut row = 0;
    for j in 0..PARTS {
        let above = row + PARTS - j + 1;
        for i in 0..PARTS - j {
            small.push([row + i, row + i + 1, above + i]);
            if i + 1 < PARTS - j {
                small.push([row + i + 1, above + i + 1, above + i]);
            }
        }
        row = above;
    }
    small
}

#[expect(clippy::cast_precision_loss, reason = "a lattice has a dozen parts")]
fn share(parts: usize) -> f64 {
    parts as f64 / PARTS as f64
}

/// What a place on a triangle's side is known by in both its triangles: the side's ends
/// and how far from the first; `None` inside.
fn on_side(at: &[usize; 3], corners: &[usize]) -> Option<(usize, usize, usize)> {
    let ends = match *at {
        [PARTS, ..] => return Some((corners[0], corners[0], 0)),
        [_, PARTS, _] => return Some((corners[1], corners[1], 0)),
        [.., PARTS] => return Some((corners[2], corners[2], 0)),
        [.., 0] => [0, 1],
        [0, ..] => [1, 2],
        [_, 0, _] => [2, 0],
        _ => return None,
    };
    let [a, b] = ends.map(|i| corners[i]);
    Some(if a < b {
        (a, b, at[ends[1]])
    } else {
        (b, a, at[ends[0]])
    })
}

fn place(plate: &Plate, solution: &Solution, nodes: &[usize], shape: &[f64]) -> [f64; 3] {
    let height = dot(shape, &solution.w, nodes);
    let along = |axis: usize| -> f64 {
        let terms = nodes.iter().zip(shape);
        terms
            .map(|(&n, v)| v * (plate.mesh.nodes[n][axis] + height * plate.lean[n][axis]))
            .sum()
    };
    [along(0), along(1), height]
}

/// The mirrored copies about the origin that make a whole top: each second one is
/// mirrored, the others are turned.
#[derive(Debug, Clone, Copy)]
pub(super) struct Copies {
    count: u32,
}

impl Copies {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a whole number up to two hundred"
    )]
    pub fn of(copies: f64) -> Self {
        Self {
            count: copies as u32,
        }
    }

    /// The angle that each takes up, radians.
    fn wedge(self) -> f64 {
        std::f64::consts::TAU / f64::from(self.count)
    }

    /// A place of the first copy in another.
    pub fn place(self, copy: u32, [x, y]: Point) -> Point {
        let mirrored = copy % 2 == 1;
        let y = if mirrored { -y } else { y };
        let (sin, cos) = (self.wedge() * f64::from(copy + copy % 2)).sin_cos();
        [x * cos - y * sin, x * sin + y * cos]
    }

    /// A line in every copy, run through so that its left stays its left.
    pub fn of_closed(self, line: &[Point]) -> Vec<Vec<Point>> {
        (0..self.count).map(|copy| self.run(copy, line)).collect()
    }

    fn run(self, copy: u32, line: &[Point]) -> Vec<Point> {
        let mut run: Vec<Point> = line.iter().map(|p| self.place(copy, *p)).collect();
        if copy % 2 == 1 {
            run.reverse();
        }
        run
    }

    /// A line from mirror to mirror, joined over the copies to rings.
    fn of_open(self, line: &[Point]) -> Vec<Vec<Point>> {
        let (Some(first), Some(last)) = (line.first(), line.last()) else {
            return Vec::new();
        };
        // Whether an end lies on the mirror where the wedge ends.
        let far = [first, last].map(|p| p[1].atan2(p[0]).abs() > self.wedge() / 2.0);
        let mut seen = vec![false; self.count as usize];
        let mut rings = Vec::new();
        for begin in (0..self.count).step_by(2) {
            let mut ring = Vec::new();
            let mut copy = begin;
            while !std::mem::replace(&mut seen[copy as usize], true) {
                let mirrored = copy % 2 == 1;
                let mut run = self.run(copy, line);
                // The next run begins where this one ends.
                run.pop();
                ring.extend(run);
                let on_far = if mirrored { far[0] } else { far[1] };
                let by = if on_far == mirrored {
                    self.count - 1
                } else {
                    1
                };
                copy = (copy + by) % self.count;
            }
            rings.push(ring);
        }
        rings.retain(|ring| !ring.is_empty());
        rings
    }
}
