//! The pinned edge: what it bears follows from the balance of forces.
//!
//! A slope read off the surface at a point is far less accurate than the
//! surface's volume. The energy's derivatives at the pinned nodes are the
//! loads that hold the edge. Against a smooth test function along the edge
//! they are as accurate as the volume; against a rough one, such as a single
//! node's, they are not. So the edge angle is sought as a smooth function, a
//! spline with one value to a chord, that bears the same loads:
//!
//! ```text
//! ∮ (σ (cos θ - 1) - sin θ) B ds = load on B, for every spline B
//! ```
//!
//! with `σ` the outward lean; the level film's load `∮ σ B ds` is taken off
//! beforehand, so that shallow domes lose no digits.

use super::contour::Point;
use super::element::{Element, Shape};
use super::elimination::{Cliques, index};
use super::mesh::Mesh;
use super::quadrature::gauss_legendre;
use super::sparse::{Factor, Pattern};
use super::stretch::{Stretch, stretches};

/// A place on the pinned edge.
#[derive(Debug)]
pub(super) struct Sample {
    /// The splines that live there, with their values.
    splines: Vec<(usize, f64)>,
    /// The mesh nodes of its side, with their shape functions.
    nodes: Vec<(usize, f64)>,
    /// How far along its side, 0 to 1.
    share: f64,
    inward: Point,
    /// The lean along the outward normal, `σ`.
    lean: f64,
    /// Arc length that it stands for in sums along the edge, mm; 0 for places
    /// that are only looked at.
    pub weight: f64,
}

impl Sample {
    /// The value here of a function given by its splines.
    pub fn of(&self, values: &[f64]) -> f64 {
        self.splines.iter().map(|&(i, b)| b * values[i]).sum()
    }

    /// Where it lies, of the mesh's nodes.
    fn place(&self, nodes: &[Point]) -> Point {
        let along = |axis: usize| -> f64 {
            let terms = self.nodes.iter();
            terms.map(|&(n, shape)| shape * nodes[n][axis]).sum()
        };
        [0, 1].map(along)
    }

    /// The force at edge angle `θ`: `σ (cos θ - 1) - sin θ`.
    fn force(&self, angle: f64) -> f64 {
        self.lean * (angle.cos() - 1.0) - angle.sin()
    }

    /// What the force loses for every radian: `σ sin θ + cos θ`.
    fn stiffness(&self, angle: f64) -> f64 {
        self.lean * angle.sin() + angle.cos()
    }
}

/// The edge angles at a state of loads, as a spline along the edge.
pub(super) struct Angles {
    /// Radians, spline by spline.
    pub values: Vec<f64>,
    matrix: Factor,
}

/// The whole pinned edge.
pub(super) struct Rim {
    /// Each mesh node's number along the rim.
    number: Vec<Option<usize>>,
    /// Mesh nodes on the rim.
    pub count: usize,
    pub samples: Vec<Sample>,
    /// Samples of each side.
    per_side: usize,
    /// How many splines there are.
    splines: usize,
    /// The splines that live at each node of the rim, with their values.
    at_nodes: Vec<Vec<(usize, f64)>>,
    pattern: Pattern,
    /// Loads of the level film at the rim's nodes, `∮ σ φᵢ ds`.
    level: Vec<f64>,
}

/// Places of a side that are only looked at, besides the Gauss points.
const LOOKED_AT: [f64; 5] = [0.0, 0.25, 0.5, 0.75, 1.0];

impl Rim {
    /// Collects the pinned edge of a mesh; nothing leans yet.
    pub fn of(mesh: &Mesh, element: &Element) -> Option<Self> {
        let mut builder = Builder::new(mesh, element);
        for stretch in stretches(mesh, element)? {
            builder.add(&stretch);
        }
        builder.finish()
    }

    /// The number along the rim of a mesh node.
    pub fn number(&self, node: usize) -> Option<usize> {
        self.number[node]
    }

    /// Takes the outward lean from its values at the mesh nodes.
    pub fn lean(&mut self, lean: &[[f64; 2]]) {
        for sample in &mut self.samples {
            let [x, y] = sample.inward;
            let terms = sample.nodes.iter();
            sample.lean = terms
                .map(|&(n, shape)| -shape * (lean[n][0] * x + lean[n][1] * y))
                .sum();
            for &(node, shape) in &sample.nodes {
                if let Some(number) = self.number[node] {
                    self.level[number] += sample.weight * sample.lean * shape;
                }
            }
        }
    }

    /// Loads at the rim's nodes as loads on its splines.
    fn gathered(&self, loads: &[f64]) -> Vec<f64> {
        let mut sums = vec![0.0; self.splines];
        for (load, splines) in loads.iter().zip(&self.at_nodes) {
            for &(i, value) in splines {
                sums[i] += value * load;
            }
        }
        sums
    }

    /// The edge angles that bear these loads at the rim's nodes, by Newton's
    /// method from the angles `from`; `None` where no edge could bear them.
    pub fn angles(&self, loads: &[f64], from: Option<&[f64]>) -> Option<Angles> {
        let less: Vec<f64> = loads
            .iter()
            .zip(&self.level)
            .map(|(l, level)| l - level)
            .collect();
        let loads = self.gathered(&less);
        let mut values = from.map_or_else(|| vec![0.0; self.splines], <[f64]>::to_vec);
        for _ in 0..40 {
            let mut miss: Vec<f64> = loads.iter().map(|l| -l).collect();
            for sample in self.samples.iter().filter(|s| s.weight > 0.0) {
                let force = sample.weight * sample.force(sample.of(&values));
                for &(i, value) in &sample.splines {
                    miss[i] += force * value;
                }
            }
            let matrix = self.matrix(&values)?;
            matrix.solve(&mut [&mut miss])?;
            let mut change = 0.0_f64;
            for (value, by) in values.iter_mut().zip(&miss) {
                *value += by;
                change = change.max(by.abs());
            }
            if !change.is_finite() || change > 10.0 {
                return None;
            }
            // Quadratic: the next change would be about its square.
            if change < 1e-5 {
                return Some(Angles { values, matrix });
            }
        }
        None
    }

    /// The level film's angles, none, to start from.
    pub fn flat(&self) -> Option<Angles> {
        let values = vec![0.0; self.splines];
        Some(Angles {
            matrix: self.matrix(&values)?,
            values,
        })
    }

    /// `∮ (σ sin θ + cos θ) Bᵢ Bⱼ ds`.
    fn matrix(&self, angles: &[f64]) -> Option<Factor> {
        let mut entries = Vec::with_capacity(10 * self.samples.len());
        for sample in self.samples.iter().filter(|s| s.weight > 0.0) {
            let stiffness = sample.weight * sample.stiffness(sample.of(angles));
            for (k, &(_, a)) in sample.splines.iter().enumerate() {
                entries.extend(sample.splines[..=k].iter().map(|&(_, b)| stiffness * a * b));
            }
        }
        self.pattern.factor(entries)
    }

    /// How the angles change with a change of loads at the rim's nodes.
    pub fn change(&self, at: &Angles, loads: &[f64]) -> Option<Vec<f64>> {
        let mut change: Vec<f64> = self.gathered(loads).iter().map(|l| -l).collect();
        at.matrix.solve(&mut [&mut change])?;
        Some(change)
    }

    /// The largest value of a function given by its splines.
    pub fn largest(&self, values: &[f64]) -> f64 {
        let all = self.samples.iter().map(|s| s.of(values));
        all.fold(f64::NEG_INFINITY, f64::max)
    }

    /// The smallest value of a function given by its splines.
    pub fn smallest(&self, values: &[f64]) -> f64 {
        let all = self.samples.iter().map(|s| s.of(values));
        all.fold(f64::INFINITY, f64::min)
    }

    /// The share of the edge where a function given by its splines is below a limit.
    pub fn share_below(&self, values: &[f64], limit: f64) -> f64 {
        let (mut below, mut whole) = (0.0, 0.0);
        for side in self.samples.chunks_exact(self.per_side) {
            let length: f64 = side.iter().map(|s| s.weight).sum();
            let mut places: Vec<(f64, f64)> =
                side.iter().map(|s| (s.share, s.of(values))).collect();
            places.sort_by(|a, b| a.0.total_cmp(&b.0));
            whole += length;
            for pair in places.windows(2) {
                let [(from, a), (to, b)] = [pair[0], pair[1]];
                // The part of a straight line from a to b that is under the limit.
                let under = match (a < limit, b < limit) {
                    (true, true) => 1.0,
                    (false, false) => 0.0,
                    (true, false) => (limit - a) / (b - a),
                    (false, true) => (limit - b) / (a - b),
                };
                below += length * (to - from) * under;
            }
        }
        below / whole
    }

    /// The stretches where a function given by its splines is below a limit, side by
    /// side of the mesh, as places of its `nodes`; what
    /// [`share_below`](Self::share_below) counts.
    pub fn below(&self, values: &[f64], limit: f64, nodes: &[Point]) -> Vec<Vec<Point>> {
        let mut lines: Vec<Vec<Point>> = Vec::new();
        for side in self.samples.chunks_exact(self.per_side) {
            let mut places: Vec<(&Sample, f64)> = side.iter().map(|s| (s, s.of(values))).collect();
            places.sort_by(|a, b| a.0.share.total_cmp(&b.0.share));
            let mut line = Vec::new();
            for pair in places.windows(2) {
                let [(from, a), (to, b)] = [pair[0], pair[1]];
                let ends = [from.place(nodes), to.place(nodes)];
                let between = |t: f64| [0, 1].map(|k| ends[0][k] + t * (ends[1][k] - ends[0][k]));
                let crossed = between((limit - a) / (b - a));
                match (a < limit, b < limit) {
                    (true, true) => line.extend(ends),
                    (true, false) => {
                        line.extend([ends[0], crossed]);
                        lines.push(std::mem::take(&mut line));
                    }
                    (false, true) => line.extend([crossed, ends[1]]),
                    (false, false) => {}
                }
            }
            lines.push(line);
        }
        for line in &mut lines {
            line.dedup();
        }
        lines.retain(|line| line.len() > 1);
        lines
    }

    /// `∮ sin θ ds` over the meshed part.
    pub fn pull(&self, angles: &Angles) -> f64 {
        let terms = self
            .samples
            .iter()
            .map(|s| s.weight * s.of(&angles.values).sin());
        terms.sum()
    }

    /// The smallest rise of the pressure from which the first place of the
    /// edge reaches `angle`, where the angles are `at` and change by
    /// `per_pressure`.
    pub fn rise_to(&self, angle: f64, at: &Angles, per_pressure: &[f64]) -> f64 {
        let mut least = f64::INFINITY;
        for sample in &self.samples {
            let here = sample.of(&at.values);
            // Loads rise evenly with the pressure, angles do not.
            let by = sample.stiffness(here) * sample.of(per_pressure);
            // Corners bear nothing, whatever the pressure.
            if by > 0.0 {
                least = least.min((sample.force(here) - sample.force(angle)) / by);
            }
        }
        least
    }
}

impl Rim {
    /// The smallest rise of some load from which the first of the places `among`
    /// the samples falls to `angle`, where the angles change by `per_load`.
    pub fn fall_to(&self, angle: f64, at: &Angles, per_load: &[f64], among: &[usize]) -> f64 {
        let mut least = f64::INFINITY;
        for sample in among.iter().map(|&i| &self.samples[i]) {
            let here = sample.of(&at.values);
            let by = sample.stiffness(here) * sample.of(per_load);
            if by < 0.0 {
                least = least.min((sample.force(here) - sample.force(angle)) / by);
            }
        }
        least
    }
}

/// A rim in the making.
struct Builder<'a> {
    mesh: &'a Mesh,
    element: &'a Element,
    number: Vec<Option<usize>>,
    at_nodes: Vec<Vec<(usize, f64)>>,
    /// The spline of each corner, shared by the stretches that meet there.
    corners: Vec<(usize, usize)>,
    splines: usize,
    samples: Vec<Sample>,
    cliques: Cliques,
    places: Vec<(f64, f64)>,
    shapes: [Vec<Shape>; 3],
}

impl<'a> Builder<'a> {
    fn new(mesh: &'a Mesh, element: &'a Element) -> Self {
        let mut places = gauss_legendre(element.order + 1);
        places.extend(LOOKED_AT.map(|t| (t, 0.0)));
        // Shape functions at the places of each of a triangle's sides.
        let shapes = [0, 1, 2].map(|side| -> Vec<Shape> {
            let at = |&(t, _): &(f64, f64)| Element::on_edge(side, t).0;
            places
                .iter()
                .map(at)
                .map(|at| element.shape(at[0], at[1]))
                .collect()
        });
        Self {
            number: vec![None; mesh.nodes.len()],
            at_nodes: Vec::new(),
            corners: Vec::new(),
            splines: 0,
            samples: Vec::new(),
            cliques: Cliques::default(),
            mesh,
            element,
            places,
            shapes,
        }
    }

    /// Numbers of the stretch's splines in the whole rim.
    fn numbers(&mut self, stretch: &Stretch) -> Vec<usize> {
        let count = stretch.splines.count();
        let mut numbers: Vec<usize> = Vec::with_capacity(count);
        for i in 0..count {
            let corner = match i {
                0 => stretch.corners[0],
                _ if i + 1 == count => stretch.corners[1],
                _ => None,
            };
            let known = corner.and_then(|c| self.corners.iter().find(|(node, _)| *node == c));
            if let Some(&(_, spline)) = known {
                numbers.push(spline);
                continue;
            }
            if let Some(node) = corner {
                self.corners.push((node, self.splines));
            }
            numbers.push(self.splines);
            self.splines += 1;
        }
        numbers
    }

    fn add(&mut self, stretch: &Stretch) {
        let numbers = self.numbers(stretch);
        let splines = |chord: usize, t: f64| {
            stretch
                .splines
                .at(chord, t)
                .into_iter()
                .map(|(i, v)| (numbers[i], v))
                .collect::<Vec<_>>()
        };
        for (chord, &edge) in stretch.edges.iter().enumerate() {
            let edge = &self.mesh.boundary[edge];
            let nodes = self.mesh.triangle(edge.element, self.element);
            let local = self.element.edge_nodes(edge.local);
            let (_, along) = Element::on_edge(edge.local, 0.0);
            for (&(t, weight), shape) in self.places.iter().zip(&self.shapes[edge.local]) {
                let tangent = [0, 1].map(|axis| -> f64 {
                    let speed = |i: usize| along[0] * shape.d1[i] + along[1] * shape.d2[i];
                    let terms = nodes.iter().enumerate();
                    terms
                        .map(|(i, &n)| speed(i) * self.mesh.nodes[n][axis])
                        .sum()
                });
                let length = tangent[0].hypot(tangent[1]);
                let here = splines(chord, t);
                if weight > 0.0 {
                    self.cliques
                        .push(here.iter().map(|&(spline, _)| index(spline)));
                }
                self.samples.push(Sample {
                    splines: here,
                    nodes: local.iter().map(|&i| (nodes[i], shape.value[i])).collect(),
                    share: t,
                    inward: [-tangent[1] / length, tangent[0] / length],
                    lean: 0.0,
                    weight: weight * length,
                });
            }
            self.number_nodes(&local.iter().map(|&i| nodes[i]).collect::<Vec<_>>(), |t| {
                splines(chord, t)
            });
        }
    }

    /// Numbers the nodes of a side that are new, in the order of `edge_nodes`.
    #[expect(clippy::cast_precision_loss, reason = "orders are small")]
    fn number_nodes(&mut self, nodes: &[usize], splines: impl Fn(f64) -> Vec<(usize, f64)>) {
        for (i, &node) in nodes.iter().enumerate() {
            if self.number[node].is_some() {
                continue;
            }
            let t = match i {
                0 => 0.0,
                1 => 1.0,
                _ => (i - 1) as f64 / self.element.order as f64,
            };
            self.number[node] = Some(self.at_nodes.len());
            self.at_nodes.push(splines(t));
        }
    }

    fn finish(self) -> Option<Rim> {
        let count = self.at_nodes.len();
        Some(Rim {
            pattern: Pattern::new(self.splines, &self.cliques)?,
            number: self.number,
            count,
            per_side: self.places.len(),
            samples: self.samples,
            splines: self.splines,
            at_nodes: self.at_nodes,
            level: vec![0.0; count],
        })
    }
}
