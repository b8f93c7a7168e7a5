//! The pinned edge: what it bears follows from the balance of forces.
//!
//! A slope read off the surface at a point is far less accurate than the
//! surface's volume. The energy's derivatives at the pinned nodes are the
//! loads that hold the edge, and they converge as fast as the volume does.
//! Spread along the edge as a force per length (divided by `γ`) they are
//! `σ cos θ - sin θ`, with `σ` the outward lean and `θ` the edge angle. Of
//! that the level film has `σ`, which is taken off the loads first, so that
//! shallow domes lose no digits.

use super::contour::Side;
use super::element::{Element, Shape, gauss_legendre};
use super::mesh::Mesh;
use super::sparse::{Factor, Pattern};

/// A place on the pinned edge.
#[derive(Debug)]
pub(super) struct Sample {
    /// The nodes of its side, as numbers along the rim, with their shape functions.
    nodes: Vec<(usize, f64)>,
    /// The same nodes in the mesh.
    mesh_nodes: Vec<usize>,
    inward: [f64; 2],
    /// The lean along the outward normal, `σ`.
    lean: f64,
    /// Arc length that it stands for in sums along the edge, mm; 0 for places
    /// that are only looked at.
    weight: f64,
}

impl Sample {
    fn of(&self, values: &[f64]) -> f64 {
        self.nodes.iter().map(|&(n, shape)| shape * values[n]).sum()
    }

    /// The force at edge angle `θ`: `σ (cos θ - 1) - sin θ`.
    fn force_at(&self, angle: f64) -> f64 {
        self.lean * (angle.cos() - 1.0) - angle.sin()
    }

    /// The edge angle that makes this force; `None` where none does.
    fn angle_of(&self, force: f64) -> Option<f64> {
        // σ cos θ - sin θ = sqrt(1 + σ²) cos(θ + atan(1/σ))
        let share = (force + self.lean) / self.lean.hypot(1.0);
        (share.abs() <= 1.0).then(|| share.acos() - 1.0_f64.atan2(self.lean))
    }
}

/// The whole pinned edge.
pub(super) struct Rim {
    /// Each mesh node's number along the rim.
    number: Vec<Option<usize>>,
    /// Mesh nodes on the rim.
    pub count: usize,
    samples: Vec<Sample>,
    /// The mass matrix `∮ φᵢ φⱼ ds`, which turns loads into a force per length.
    mass: Factor,
    /// Loads of the level film, `∮ σ φᵢ ds`.
    level: Vec<f64>,
}

/// Places of a side that are only looked at, besides the Gauss points.
const LOOKED_AT: [f64; 5] = [0.0, 0.25, 0.5, 0.75, 1.0];

impl Rim {
    /// Collects the pinned edge of a mesh; nothing leans yet.
    pub fn of(mesh: &Mesh, element: &Element) -> Option<Self> {
        let mut rim = Numbering {
            number: vec![None; mesh.nodes.len()],
            count: 0,
        };
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
        let (mut samples, mut entries, mut mass) = (Vec::new(), Vec::new(), Vec::new());
        for edge in mesh.boundary.iter().filter(|e| e.side == Side::Pinned) {
            let nodes = mesh.triangle(edge.element, element);
            let local = element.edge_nodes(edge.local);
            let own: Vec<usize> = local.iter().map(|&i| rim.of(nodes[i])).collect();
            let (_, along) = Element::on_edge(edge.local, 0.0);
            let n = local.len();
            let mut block = vec![0.0; n * n];
            for (&(_, weight), shape) in places.iter().zip(&shapes[edge.local]) {
                let tangent = [0, 1].map(|axis| -> f64 {
                    let d = |i: usize| along[0] * shape.d1[i] + along[1] * shape.d2[i];
                    nodes
                        .iter()
                        .enumerate()
                        .map(|(i, &n)| d(i) * mesh.nodes[n][axis])
                        .sum()
                });
                let speed = tangent[0].hypot(tangent[1]);
                let values: Vec<f64> = local.iter().map(|&i| shape.value[i]).collect();
                for i in 0..n {
                    for j in 0..=i {
                        block[i * n + j] += weight * speed * values[i] * values[j];
                    }
                }
                samples.push(Sample {
                    mesh_nodes: local.iter().map(|&i| nodes[i]).collect(),
                    nodes: own.iter().copied().zip(values).collect(),
                    inward: [-tangent[1] / speed, tangent[0] / speed],
                    lean: 0.0,
                    weight: weight * speed,
                });
            }
            for i in 0..n {
                for j in 0..=i {
                    entries.push((own[i].max(own[j]), own[i].min(own[j])));
                    mass.push(block[i * n + j]);
                }
            }
        }
        let mass = Pattern::new(rim.count, &entries)?.factor(&mass)?;
        Some(Self {
            number: rim.number,
            count: rim.count,
            level: vec![0.0; rim.count],
            samples,
            mass,
        })
    }

    /// The number along the rim of a mesh node.
    pub fn number(&self, node: usize) -> Option<usize> {
        self.number[node]
    }

    /// Takes the outward lean from its values at the mesh nodes.
    pub fn lean(&mut self, lean: &[[f64; 2]]) {
        for sample in &mut self.samples {
            let [x, y] = sample.inward;
            let terms = sample.mesh_nodes.iter().zip(&sample.nodes);
            sample.lean = terms
                .map(|(&n, &(_, shape))| -shape * (lean[n][0] * x + lean[n][1] * y))
                .sum();
            for &(node, shape) in &sample.nodes {
                self.level[node] += sample.weight * sample.lean * shape;
            }
        }
    }

    /// Loads at the rim's nodes, less those of the level film, as a force per
    /// length.
    pub fn force(&self, loads: &[f64]) -> Option<Vec<f64>> {
        let less: Vec<f64> = loads
            .iter()
            .zip(&self.level)
            .map(|(l, level)| l - level)
            .collect();
        self.spread(&less)
    }

    /// A change of loads as a change of force per length.
    pub fn spread(&self, loads: &[f64]) -> Option<Vec<f64>> {
        let mut force = loads.to_vec();
        self.mass.solve(&mut [&mut force])?;
        Some(force)
    }

    /// The largest edge angle, radians; `None` where the edge could not hold.
    pub fn largest_angle(&self, force: &[f64]) -> Option<f64> {
        let mut largest = 0.0_f64;
        for sample in &self.samples {
            largest = largest.max(sample.angle_of(sample.of(force))?);
        }
        Some(largest)
    }

    /// `∮ sin θ ds` over the meshed part.
    pub fn pull(&self, force: &[f64]) -> Option<f64> {
        let mut sum = 0.0;
        for sample in self.samples.iter().filter(|s| s.weight > 0.0) {
            sum += sample.weight * sample.angle_of(sample.of(force))?.sin();
        }
        Some(sum)
    }

    /// The largest force on the edge, downward slope for a linear dome.
    pub fn largest_force(&self, force: &[f64]) -> f64 {
        self.samples
            .iter()
            .map(|s| -s.of(force))
            .fold(0.0, f64::max)
    }

    /// The smallest rise of the pressure from which the first place of the
    /// edge reaches `angle`, where the force is `force + rise * per_pressure`.
    pub fn rise_to(&self, angle: f64, force: &[f64], per_pressure: &[f64]) -> f64 {
        let mut least = f64::INFINITY;
        for sample in &self.samples {
            let by = sample.of(per_pressure);
            // Corners bear nothing, whatever the pressure.
            if by < 0.0 {
                least = least.min((sample.force_at(angle) - sample.of(force)) / by);
            }
        }
        least
    }
}

struct Numbering {
    number: Vec<Option<usize>>,
    count: usize,
}

impl Numbering {
    fn of(&mut self, node: usize) -> usize {
        *self.number[node].get_or_insert_with(|| {
            self.count += 1;
            self.count - 1
        })
    }
}
