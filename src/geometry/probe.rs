//! Reading a solved surface: along a way from the middle, or over a place.

use super::contour::{Point, Side};
use super::element::Element;
use super::newton::Solution;
use super::plate::{Plate, dot};

impl Plate {
    /// The surface over a straight way from the middle: distance and height,
    /// mm, from the edge inward.
    pub fn section(&self, solution: &Solution, go: Point) -> Vec<(f64, f64)> {
        let mut points = Vec::new();
        // Mirror lines run along the section, so their nodes carry it.
        for edge in self.mesh.boundary.iter().filter(|e| e.side == Side::Mirror) {
            let nodes = self.nodes_of(edge.element);
            let ends = [edge.local, (edge.local + 1) % 3].map(|i| self.mesh.nodes[nodes[i]]);
            let beside = |p: Point| (p[0] * go[1] - p[1] * go[0]).abs();
            if ends.iter().any(|&p| beside(p) > 1e-9) {
                continue;
            }
            for i in 0..8 {
                let (at, _) = Element::on_edge(edge.local, (f64::from(i) + 0.5) / 8.0);
                points.push(self.surface_point(solution, edge.element, at, go));
            }
            for i in [edge.local, (edge.local + 1) % 3] {
                let at = self.element.place(i);
                points.push(self.surface_point(solution, edge.element, at, go));
            }
        }
        points.sort_by(|a, b| b.2.total_cmp(&a.2));
        points.dedup_by(|a, b| (a.2 - b.2).abs() < 1e-9);
        points.into_iter().map(|(along, z, _)| (along, z)).collect()
    }

    /// A surface point: distance along `go`, height, and the same distance of
    /// the place of the top that carries it.
    fn surface_point(
        &self,
        s: &Solution,
        triangle: usize,
        at: Point,
        go: Point,
    ) -> (f64, f64, f64) {
        let nodes = self.nodes_of(triangle);
        let shape = self.element.shape(at[0], at[1]);
        let axis = |i: usize| -> f64 {
            nodes
                .iter()
                .zip(&shape.value)
                .map(|(&n, v)| v * self.mesh.nodes[n][i])
                .sum()
        };
        let lean = |i: usize| -> f64 {
            nodes
                .iter()
                .zip(&shape.value)
                .map(|(&n, v)| v * self.lean[n][i])
                .sum()
        };
        let height = dot(&shape.value, &s.w, nodes);
        let base = axis(0) * go[0] + axis(1) * go[1];
        let shift = height * (lean(0) * go[0] + lean(1) * go[1]);
        (base + shift, height, base)
    }
}

/// A solved surface, asked for heights.
pub(super) struct Probe<'a> {
    plate: &'a Plate,
    solution: &'a Solution,
    /// Each triangle's surface from above: low and high corners.
    boxes: Vec<[Point; 2]>,
}

impl<'a> Probe<'a> {
    pub fn new(plate: &'a Plate, solution: &'a Solution) -> Self {
        let reach =
            |i: usize, axis: usize| plate.mesh.nodes[i][axis] + solution.w[i] * plate.lean[i][axis];
        let triangles = plate.mesh.triangles.chunks_exact(plate.element.len());
        let boxes = triangles.map(|nodes| {
            let (mut low, mut high) = ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]);
            for &i in nodes {
                for axis in 0..2 {
                    low[axis] = low[axis].min(reach(i, axis));
                    high[axis] = high[axis].max(reach(i, axis));
                }
            }
            // Between its nodes a curved side may bow out a little further.
            for axis in 0..2 {
                let slack = 0.05 * (high[axis] - low[axis]);
                low[axis] -= slack;
                high[axis] += slack;
            }
            [low, high]
        });
        Self {
            boxes: boxes.collect(),
            plate,
            solution,
        }
    }

    /// The height over a place of the whole top; `None` outside it.
    pub fn height(&self, p: Point) -> Option<f64> {
        let p = folded(p, self.plate.mesh.copies);
        let mut best: Option<f64> = None;
        for (triangle, [low, high]) in self.boxes.iter().enumerate() {
            if (0..2).any(|axis| p[axis] < low[axis] || p[axis] > high[axis]) {
                continue;
            }
            if let Some(height) = self.plate.height_in(self.solution, triangle, p) {
                best = Some(best.map_or(height, |b| b.max(height)));
            }
        }
        best
    }
}

/// A place carried by mirroring into the wedge that is meshed: the first of
/// `copies` about the origin.
fn folded(p: Point, copies: f64) -> Point {
    if copies < 2.0 {
        return p;
    }
    let wedge = std::f64::consts::TAU / copies;
    let turn = p[1].atan2(p[0]).rem_euclid(2.0 * wedge);
    let turn = if turn > wedge {
        2.0 * wedge - turn
    } else {
        turn
    };
    let (sin, cos) = turn.sin_cos();
    let far = p[0].hypot(p[1]);
    [far * cos, far * sin]
}

impl Plate {
    /// Newton's search for the place of a triangle whose surface point lies over `p`.
    fn height_in(&self, solution: &Solution, triangle: usize, p: Point) -> Option<f64> {
        const SLACK: f64 = 1e-6;
        let mut at = [1.0 / 3.0, 1.0 / 3.0];
        for _ in 0..20 {
            let here = |at: Point| {
                let (x, z, _) = self.surface_point(solution, triangle, at, [1.0, 0.0]);
                let (y, _, _) = self.surface_point(solution, triangle, at, [0.0, 1.0]);
                ([x - p[0], y - p[1]], z)
            };
            let (miss, height) = here(at);
            let h = 1e-6;
            let (by_1, by_2) = (here([at[0] + h, at[1]]).0, here([at[0], at[1] + h]).0);
            let j = [
                [(by_1[0] - miss[0]) / h, (by_2[0] - miss[0]) / h],
                [(by_1[1] - miss[1]) / h, (by_2[1] - miss[1]) / h],
            ];
            let det = j[0][0] * j[1][1] - j[0][1] * j[1][0];
            let step = [
                (j[1][1] * miss[0] - j[0][1] * miss[1]) / det,
                (j[0][0] * miss[1] - j[1][0] * miss[0]) / det,
            ];
            at = [at[0] - step[0], at[1] - step[1]];
            if !at.iter().all(|a| (-1.0..=2.0).contains(a)) {
                return None;
            }
            if step[0].abs().max(step[1].abs()) < 1e-9 {
                let inside = at[0] >= -SLACK && at[1] >= -SLACK && at[0] + at[1] <= 1.0 + SLACK;
                return inside.then_some(height);
            }
        }
        None
    }
}
