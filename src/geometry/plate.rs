//! A top made ready for solving: its mesh, its leaning directions, its matrix.
//!
//! A height over the plane cannot follow an edge near or past vertical. So the
//! unknown is a height `w` along directions that lean outward near the edge:
//! the point `(x, y)` of the top carries the surface point
//!
//! ```text
//! X(x, y) = (x + w s₁, y + w s₂, w),     s = -β ∇u₀
//! ```
//!
//! where `u₀` is the linear (small-slope) dome of the same outline and `β`
//! makes the lean 45 degrees at the steepest place of the edge. At any edge
//! angle up to well past vertical `w` is then about as smooth as `u₀`, so the
//! mesh need only follow the capillary length, not the narrow bend of a steep
//! edge. The lean changes the description, not the surface.

use super::contour::{Contour, Point, Side};
use super::density::{Density, Lean, Pull, tilt_force};
use super::draft::Unmeshed;
use super::element::{Element, Shape};
use super::mesh::{Mesh, Sizing};
use super::newton::Load;
use super::numbering::{cliques, number};
use super::rim::Rim;
use super::share::{ABREAST, Basis, Shares, inner};
use super::sparse::Pattern;

/// Geometry of one quadrature point of one triangle.
#[derive(Debug, Clone, Copy)]
pub(super) struct Place {
    /// Weight times the Jacobian's determinant.
    pub weight: f64,
    /// Inverse Jacobian: d(reference)/d(x, y).
    pub inverse: [[f64; 2]; 2],
    at: Point,
    lean: Lean,
}

/// The energy's derivatives at a state, as one Newton step needs them.
pub(super) struct System {
    /// Matrix entries, in the order of the pattern; none once they are factorised.
    pub values: Vec<f64>,
    /// `dE/dw` at the free nodes.
    pub force: Vec<f64>,
    /// `dV/dw` at the free nodes.
    pub swell: Vec<f64>,
    /// `dE/dw` at the nodes of the rim.
    pub rim_force: Vec<f64>,
    /// `dV/dw` at the nodes of the rim.
    pub rim_swell: Vec<f64>,
    /// Matrix entries in rows of the rim: number along it, mesh node, value.
    pub rim_rows: Vec<(usize, usize, f64)>,
    /// Volume of the meshed part, mm³.
    pub volume: f64,
    /// Free surface of the meshed part, mm².
    pub surface: f64,
    /// `(B/2) ∫ z² dx dy` of the meshed part, mm².
    pub weight: f64,
}

impl System {
    /// What a change `d` of the node heights adds to the rim's loads.
    pub fn rim_change(&self, d: &[f64], count: usize) -> Vec<f64> {
        let mut change = vec![0.0; count];
        for &(row, node, value) in &self.rim_rows {
            change[row] += value * d[node];
        }
        change
    }
}

/// How often a mesh is tried again, finer, where triangles fold.
const TRIES: usize = 4;

/// A top made ready.
pub(super) struct Plate {
    pub element: Element,
    pub mesh: Mesh,
    /// `ρ g / γ`, per mm².
    pub bond: f64,
    /// Each node's unknown; none on the pinned edge.
    pub unknown: Vec<Option<usize>>,
    pub count: usize,
    places: Vec<Place>,
    basis: Basis,
    pub rim: Rim,
    pub pattern: Pattern,
    /// The leaning directions at the nodes.
    pub lean: Vec<[f64; 2]>,
    /// The linear dome under unit pressure, mm.
    pub linear: Vec<f64>,
    /// The steepest edge slope of the linear dome.
    pub linear_slope: f64,
    /// Area of the meshed part, mm².
    pub area: f64,
    /// Its first moment, `∫ x dA` and `∫ y dA`, mm³.
    pub moment: [f64; 2],
    /// Of the height, the share within which heights count as found.
    pub settled: f64,
}

/// Of the height, the share within which heights are found, as a rule.
const SETTLED: f64 = 1e-10;

impl Plate {
    /// Meshes the contour and solves its linear dome. `bond` is `ρ g / γ`, per mm².
    pub fn new(
        contour: &Contour,
        sizing: Sizing,
        order: usize,
        bond: f64,
    ) -> Result<Self, Unmeshed> {
        let mut sizing = sizing;
        for _ in 0..TRIES {
            let element = Element::new(order);
            let mesh = match Mesh::of(contour, sizing, &element) {
                Err(Unmeshed::TooIntricate) => return Err(Unmeshed::TooIntricate),
                mesh => mesh.ok(),
            };
            // A triangle whose curved side folds it wants shorter sides.
            if let Some(plate) = mesh.and_then(|mesh| Self::on(mesh, element, bond)) {
                return Ok(plate);
            }
            sizing = sizing.closer();
        }
        Err(Unmeshed::Failed)
    }

    /// A plate on a mesh of one's own.
    pub fn on(mesh: Mesh, element: Element, bond: f64) -> Option<Self> {
        let (unknown, count) = number(&mesh, &element);
        let basis = Basis::new(&element);
        let places = places(&mesh, &element, &basis)?;
        let mut plate = Self {
            pattern: Pattern::new(count, &cliques(&mesh, &element, &unknown))?,
            rim: Rim::of(&mesh, &element)?,
            area: places.iter().map(|p| p.weight).sum(),
            moment: [0, 1].map(|axis| places.iter().map(|p| p.weight * p.at[axis]).sum()),
            lean: Vec::new(),
            linear: vec![0.0; mesh.nodes.len()],
            linear_slope: 0.0,
            settled: SETTLED,
            basis,
            element,
            mesh,
            bond,
            unknown,
            count,
            places,
        };
        plate.lean_outward()?;
        Some(plate)
    }

    /// The nodes of one triangle.
    pub fn nodes_of(&self, triangle: usize) -> &[usize] {
        self.mesh.triangle(triangle, &self.element)
    }

    /// Node values from unknowns.
    pub fn spread(&self, x: &[f64]) -> Vec<f64> {
        self.unknown
            .iter()
            .map(|u| u.map_or(0.0, |i| x[i]))
            .collect()
    }

    /// Solves the linear dome and leans the directions along its slope.
    fn lean_outward(&mut self) -> Option<()> {
        let flat = vec![0.0; self.mesh.nodes.len()];
        let mut system = self.assemble(&flat, self.pull(Load::default()));
        let mut u = system.swell.clone();
        let matrix = std::mem::take(&mut system.values);
        self.pattern.factor(matrix)?.solve(&mut [&mut u])?;
        self.linear = self.spread(&u);
        // The rim's load under unit pressure: K u - dV/dw.
        let mut load = system.rim_change(&self.linear, self.rim.count);
        for (load, swell) in load.iter_mut().zip(&system.rim_swell) {
            *load -= swell;
        }
        let slopes = self.rim.change(&self.rim.flat()?, &load)?;
        self.linear_slope = self.rim.largest(&slopes);
        let beta = 1.0 / self.linear_slope;
        let mut lean: Vec<[f64; 2]> = self
            .corner_gradients(&self.linear)
            .iter()
            .map(|g| [-beta * g[0], -beta * g[1]])
            .collect();
        self.keep_vertex_values(&mut lean);
        self.keep_mirrors(&mut lean);
        self.interpolate(&lean);
        self.rim.lean(&lean);
        self.lean = lean;
        Some(())
    }

    /// The gradient at the triangles' corners, averaged over those that meet there; none at other nodes.
    fn corner_gradients(&self, w: &[f64]) -> Vec<[f64; 2]> {
        let mut sums = vec![([0.0; 2], 0.0_f64); self.mesh.nodes.len()];
        for triangle in 0..self.mesh.triangles.len() / self.element.len() {
            let nodes = self.nodes_of(triangle);
            for (local, shape) in self.element.at_nodes[..3].iter().enumerate() {
                let Some((_, inverse)) = jacobian(&self.mesh.nodes, nodes, shape) else {
                    continue;
                };
                let (d1, d2) = (dot(&shape.d1, w, nodes), dot(&shape.d2, w, nodes));
                let (sum, count) = &mut sums[nodes[local]];
                sum[0] += d1 * inverse[0][0] + d2 * inverse[1][0];
                sum[1] += d1 * inverse[0][1] + d2 * inverse[1][1];
                *count += 1.0;
            }
        }
        let means = sums.iter().map(|(s, n)| s.map(|s| s / n.max(1.0)));
        means.collect()
    }

    /// Makes the lean linear over every triangle. Kinks between triangles cost
    /// nothing, but wiggles of the gradient within one would make `w` wiggle.
    #[expect(clippy::cast_precision_loss, reason = "orders are small")]
    fn keep_vertex_values(&self, lean: &mut [[f64; 2]]) {
        for nodes in self.mesh.triangles.chunks_exact(self.element.len()) {
            let corners = [lean[nodes[0]], lean[nodes[1]], lean[nodes[2]]];
            for (&node, bary) in nodes.iter().zip(&self.element.nodes).skip(3) {
                let share = bary.map(|b| b as f64 / self.element.order as f64);
                for (axis, value) in lean[node].iter_mut().enumerate() {
                    *value = (0..3).map(|i| share[i] * corners[i][axis]).sum();
                }
            }
        }
    }

    /// On a line of symmetry nothing leans across it.
    fn keep_mirrors(&self, lean: &mut [[f64; 2]]) {
        for edge in self.mesh.boundary.iter().filter(|e| e.side == Side::Mirror) {
            let nodes = self.nodes_of(edge.element);
            let local = self.element.edge_nodes(edge.local);
            let (a, b) = (
                self.mesh.nodes[nodes[local[0]]],
                self.mesh.nodes[nodes[local[1]]],
            );
            let length = (b[0] - a[0]).hypot(b[1] - a[1]);
            let along = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
            for i in local {
                let s = &mut lean[nodes[i]];
                let keep = s[0] * along[0] + s[1] * along[1];
                *s = [keep * along[0], keep * along[1]];
            }
        }
    }

    /// Carries the lean from the nodes to the quadrature points.
    fn interpolate(&mut self, lean: &[[f64; 2]]) {
        let per = self.element.points.len();
        let components = [0, 1].map(|k| lean.iter().map(|s| s[k]).collect::<Vec<_>>());
        let mut shares = [Shares::new(&self.basis), Shares::new(&self.basis)];
        let nodes = self.mesh.triangles.chunks(ABREAST * self.element.len());
        for (nodes, places) in nodes.zip(self.places.chunks_mut(ABREAST * per)) {
            for (shares, s) in shares.iter_mut().zip(&components) {
                shares.take(s, nodes);
            }
            for (number, place) in places.iter_mut().enumerate() {
                for (k, shares) in shares.iter().enumerate() {
                    let [s, dx, dy] = shares.state(number / per, number % per, place);
                    let lean = &mut place.lean;
                    (lean.s[k], lean.dx[k], lean.dy[k]) = (s, dx, dy);
                }
            }
        }
    }

    /// Energy derivatives at the node heights `w`.
    pub fn assemble(&self, w: &[f64], pull: Pull) -> System {
        self.gather(w, pull, true)
    }

    /// The same without the matrix.
    pub fn measure(&self, w: &[f64], pull: Pull) -> System {
        self.gather(w, pull, false)
    }

    fn gather(&self, w: &[f64], pull: Pull, stiff: bool) -> System {
        let n = self.element.len();
        let per = self.element.points.len();
        let triangles = self.places.len() / per;
        let entries = if stiff {
            triangles * n * (n + 1) / 2
        } else {
            0
        };
        let mut system = System {
            values: Vec::with_capacity(entries),
            force: vec![0.0; self.count],
            swell: vec![0.0; self.count],
            rim_force: vec![0.0; self.rim.count],
            rim_swell: vec![0.0; self.rim.count],
            rim_rows: Vec::new(),
            volume: 0.0,
            surface: 0.0,
            weight: 0.0,
        };
        let mut shares = if stiff {
            Shares::stiff(&self.basis)
        } else {
            Shares::new(&self.basis)
        };
        for (nodes, places) in self.abreast() {
            shares.take(w, nodes);
            for (number, place) in places.iter().enumerate() {
                let (triangle, point) = (number / per, number % per);
                let state = shares.state(triangle, point, place);
                let density = Density::at(place.at, &place.lean, state, pull);
                system.volume += place.weight * density.volume;
                system.surface += place.weight * density.surface;
                system.weight += place.weight * 0.5 * self.bond * state[0] * density.volume;
                shares.load(triangle, point, &density, place);
                if stiff {
                    shares.stiffen(triangle, point, &density, place);
                }
            }
            shares.sum_loads();
            if stiff {
                shares.sum_matrix();
            }
            for (triangle, nodes) in nodes.chunks_exact(n).enumerate() {
                self.scatter_loads(nodes, &shares, triangle, &mut system);
                if stiff {
                    self.scatter_matrix(nodes, shares.matrix(triangle), &mut system);
                }
            }
        }
        system
    }

    /// The triangles' nodes and quadrature points, so many triangles at a time as
    /// are summed at once.
    fn abreast(&self) -> impl Iterator<Item = (&[usize], &[Place])> {
        let nodes = self.mesh.triangles.chunks(ABREAST * self.element.len());
        nodes.zip(self.places.chunks(ABREAST * self.element.points.len()))
    }

    /// Adds one triangle's loads to the whole.
    fn scatter_loads(
        &self,
        nodes: &[usize],
        shares: &Shares,
        triangle: usize,
        system: &mut System,
    ) {
        let loads = shares.force(triangle).iter().zip(shares.swell(triangle));
        for (&node, (force, swell)) in nodes.iter().zip(loads) {
            if let Some(row) = self.unknown[node] {
                system.force[row] += force;
                system.swell[row] += swell;
            } else if let Some(row) = self.rim.number(node) {
                system.rim_force[row] += force;
                system.rim_swell[row] += swell;
            }
        }
    }

    /// Adds one triangle's lower triangle of the matrix to the whole.
    fn scatter_matrix(&self, nodes: &[usize], matrix: &[f64], system: &mut System) {
        let mut entries = matrix.iter();
        for (i, &a) in nodes.iter().enumerate() {
            for (&b, &value) in nodes[..=i].iter().zip(entries.by_ref()) {
                match (self.unknown[a], self.unknown[b]) {
                    (Some(_), Some(_)) => system.values.push(value),
                    (None, Some(_)) => self.bear(a, b, value, system),
                    (Some(_), None) => self.bear(b, a, value, system),
                    (None, None) => {}
                }
            }
        }
    }

    /// Notes an entry in a row of the rim.
    fn bear(&self, held: usize, free: usize, value: f64, system: &mut System) {
        if let Some(row) = self.rim.number(held) {
            system.rim_rows.push((row, free, value));
        }
    }

    /// How the forces change with the sine of a tilt uphill toward `way`: at the
    /// unknowns, and at the rim.
    pub fn tilt_forces(&self, w: &[f64], way: [f64; 2]) -> (Vec<f64>, Vec<f64>) {
        let per = self.element.points.len();
        let (mut force, mut rim) = (vec![0.0; self.count], vec![0.0; self.rim.count]);
        let mut shares = Shares::new(&self.basis);
        for (nodes, places) in self.abreast() {
            shares.take(w, nodes);
            for (number, place) in places.iter().enumerate() {
                let (triangle, point) = (number / per, number % per);
                let state = shares.state(triangle, point, place);
                let pushed = tilt_force(place.at, &place.lean, state, way);
                shares.push(triangle, point, pushed.map(|f| self.bond * f), place);
            }
            shares.sum_forces();
            for (triangle, nodes) in nodes.chunks_exact(self.element.len()).enumerate() {
                for (&node, load) in nodes.iter().zip(shares.force(triangle)) {
                    if let Some(row) = self.unknown[node] {
                        force[row] += load;
                    } else if let Some(row) = self.rim.number(node) {
                        rim[row] += load;
                    }
                }
            }
        }
        (force, rim)
    }

    /// What a small change of the heights adds to the volume at each quadrature
    /// point, mm³ of the meshed part.
    pub fn volume_changes(&self, w: &[f64], change: &[f64]) -> Vec<f64> {
        let per = self.element.points.len();
        let pull = self.pull(Load::default());
        let (mut shares, mut moved) = (Shares::new(&self.basis), Shares::new(&self.basis));
        let mut changes = Vec::with_capacity(self.places.len());
        for (nodes, places) in self.abreast() {
            shares.take(w, nodes);
            moved.take(change, nodes);
            changes.extend(places.iter().enumerate().map(|(number, place)| {
                let (triangle, point) = (number / per, number % per);
                let state = shares.state(triangle, point, place);
                let swell = Density::at(place.at, &place.lean, state, pull).swell;
                place.weight * inner(swell, moved.state(triangle, point, place))
            }));
        }
        changes
    }

    /// Quadrature points: where, and the area that each stands for, mm².
    pub fn spots(&self) -> impl Iterator<Item = (Point, f64)> {
        self.places.iter().map(|place| (place.at, place.weight))
    }

    /// Volume under node heights `w` of the upright surface, in the meshed part, mm³.
    pub fn upright_volume(&self, w: &[f64]) -> f64 {
        let per = self.element.points.len();
        let heights = self.places.iter().enumerate().map(|(at, place)| {
            let shape = &self.element.points[at % per].shape;
            place.weight * dot(&shape.value, w, self.nodes_of(at / per))
        });
        heights.sum()
    }
}

/// `Σ weights × values` over a triangle's nodes.
pub(super) fn dot(weights: &[f64], values: &[f64], nodes: &[usize]) -> f64 {
    weights.iter().zip(nodes).map(|(a, &n)| a * values[n]).sum()
}

/// The Jacobian's determinant and inverse; `None` where the triangle is folded.
pub(super) fn jacobian(
    points: &[Point],
    nodes: &[usize],
    shape: &Shape,
) -> Option<(f64, [[f64; 2]; 2])> {
    let mut j = [[0.0; 2]; 2];
    for (i, &node) in nodes.iter().enumerate() {
        for axis in 0..2 {
            j[axis][0] += shape.d1[i] * points[node][axis];
            j[axis][1] += shape.d2[i] * points[node][axis];
        }
    }
    inverted(j)
}

/// A Jacobian's determinant and inverse; `None` where the triangle is folded.
fn inverted(j: [[f64; 2]; 2]) -> Option<(f64, [[f64; 2]; 2])> {
    let det = j[0][0] * j[1][1] - j[0][1] * j[1][0];
    let inverse = [
        [j[1][1] / det, -j[0][1] / det],
        [-j[1][0] / det, j[0][0] / det],
    ];
    (det > 0.0).then_some((det, inverse))
}

fn places(mesh: &Mesh, element: &Element, basis: &Basis) -> Option<Vec<Place>> {
    let mut places = Vec::new();
    let coordinates = [0, 1].map(|axis| mesh.nodes.iter().map(|at| at[axis]).collect::<Vec<_>>());
    let mut shares = [Shares::new(basis), Shares::new(basis)];
    for nodes in mesh.triangles.chunks(ABREAST * element.len()) {
        for (shares, values) in shares.iter_mut().zip(&coordinates) {
            shares.take(values, nodes);
        }
        for triangle in 0..nodes.len() / element.len() {
            for (number, point) in element.points.iter().enumerate() {
                let [x, y] = shares.each_ref().map(|s| s.on_reference(triangle, number));
                let (det, inverse) = inverted([[x[1], x[2]], [y[1], y[2]]])?;
                places.push(Place {
                    weight: point.weight * det,
                    inverse,
                    at: [x[0], y[0]],
                    lean: Lean::default(),
                });
            }
        }
    }
    Some(places)
}
