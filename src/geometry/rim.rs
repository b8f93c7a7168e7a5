//! The pinned edge: what it bears follows from the balance of forces.
//!
//! A slope read off the surface at a point is far less accurate than the
//! surface's volume. The energy's derivatives at the pinned nodes are the
//! loads that hold the edge, and they converge as fast as the volume does.
//! Spread along the edge as a force per length (divided by `γ`) they are
//! `σ cos θ - sin θ`, with `σ` the outward lean and `θ` the edge angle. The
//! force is sought in a coarser space than the surface's own trace: the loads'
//! moments against smooth functions are accurate, their wiggles are not.

use std::collections::HashMap;

use super::contour::Side;
use super::element::{Element, gauss_legendre};
use super::mesh::Mesh;
use super::sparse::{Factor, Pattern};

/// A place on the pinned edge.
#[derive(Debug)]
pub(super) struct Sample {
    /// Numbers along the rim of the force's nodes here, with their shape functions.
    nodes: Vec<(usize, f64)>,
    /// Mesh nodes here with theirs.
    mesh_nodes: Vec<(usize, f64)>,
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

    /// The force at edge angle `θ`: `σ cos θ - sin θ`.
    fn force_at(&self, angle: f64) -> f64 {
        self.lean * angle.cos() - angle.sin()
    }

    /// The edge angle that makes this force; `None` where none does.
    fn angle_of(&self, force: f64) -> Option<f64> {
        // σ cos θ - sin θ = sqrt(1 + σ²) cos(θ + atan(1/σ))
        let share = force / self.lean.hypot(1.0);
        (share.abs() <= 1.0).then(|| share.acos() - 1.0_f64.atan2(self.lean))
    }
}

/// The whole pinned edge.
pub(super) struct Rim {
    /// Each mesh node's number along the rim.
    number: Vec<Option<usize>>,
    /// Mesh nodes on the rim.
    pub count: usize,
    /// From loads at the rim's mesh nodes to loads of the force's nodes:
    /// force node, rim number, weight.
    gather: Vec<(usize, usize, f64)>,
    force_nodes: usize,
    samples: Vec<Sample>,
    /// Turns loads of the force's nodes into the force at them.
    mass: Factor,
}

impl Rim {
    /// Collects the pinned edge of a mesh; nothing leans yet.
    pub fn of(mesh: &Mesh, element: &Element) -> Option<Self> {
        let mut numbers = Numbering::new(mesh.nodes.len());
        let mut vertices = Numbering::new(mesh.nodes.len());
        let coarse = coarse_places();
        let gauss = gauss_legendre(element.order + 1);
        let mut places = gauss.clone();
        places.extend((0..=4).map(|i| (f64::from(i) / 4.0, 0.0)));
        let (mut samples, mut entries, mut mass) = (Vec::new(), Vec::new(), Vec::new());
        let mut gather = HashMap::new();
        for edge in mesh.boundary.iter().filter(|e| e.side == Side::Pinned) {
            let nodes = mesh.triangle(edge.element, element);
            let local = element.edge_nodes(edge.local);
            let ends = [nodes[local[0]], nodes[local[1]]];
            let mut own: Vec<usize> = ends.iter().map(|&n| vertices.of(n)).collect();
            own.extend((2..coarse.len()).map(|_| vertices.fresh()));
            for (k, &i) in local.iter().enumerate() {
                let number = numbers.of(nodes[i]);
                for (node, shape) in own.iter().zip(lagrange(&coarse, element.along(k))) {
                    if shape != 0.0 {
                        gather.insert((*node, number), shape);
                    }
                }
            }
            let n = own.len();
            let mut block = vec![0.0; n * n];
            for &(t, weight) in &places {
                let (at, along) = Element::on_edge(edge.local, t);
                let shape = element.shape(at[0], at[1]);
                let tangent = [0, 1].map(|axis| {
                    let d = |i: usize| along[0] * shape.d1[i] + along[1] * shape.d2[i];
                    nodes
                        .iter()
                        .enumerate()
                        .map(|(i, &n)| d(i) * mesh.nodes[n][axis])
                        .sum::<f64>()
                });
                let speed = tangent[0].hypot(tangent[1]);
                let values = lagrange(&coarse, t);
                for i in 0..n {
                    for j in 0..=i {
                        block[i * n + j] += weight * speed * values[i] * values[j];
                    }
                }
                samples.push(Sample {
                    nodes: own.iter().copied().zip(values).collect(),
                    mesh_nodes: local.iter().map(|&i| (nodes[i], shape.value[i])).collect(),
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
        let mass = Pattern::new(vertices.count, &entries)?.factor(&mass)?;
        Some(Self {
            number: numbers.number,
            count: numbers.count,
            gather: gather.into_iter().map(|((a, b), w)| (a, b, w)).collect(),
            force_nodes: vertices.count,
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
            let outward = |&(n, shape): &(usize, f64)| -shape * (lean[n][0] * x + lean[n][1] * y);
            sample.lean = sample.mesh_nodes.iter().map(outward).sum();
        }
    }

    /// Loads at the rim's mesh nodes as a force per length.
    pub fn spread(&self, loads: &[f64]) -> Option<Vec<f64>> {
        let mut force = vec![0.0; self.force_nodes];
        for &(node, number, weight) in &self.gather {
            force[node] += weight * loads[number];
        }
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

    pub fn angles(&self, force: &[f64], nodes: &[[f64; 2]]) -> Vec<([f64; 2], f64, f64)> {
        self.samples
            .iter()
            .map(|s| {
                let mut x = [0.0; 2];
                for (n, w) in &s.mesh_nodes {
                    for a in 0..2 {
                        x[a] += w * nodes[*n][a];
                    }
                }
                (x, s.angle_of(s.of(force)).unwrap(), s.lean)
            })
            .collect()
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

/// Polynomial degree of the force along each chord.
fn coarse_places() -> Vec<f64> {
    let degree: usize = std::env::var("CUT").map_or(4, |x| x.parse().unwrap());
    let mut places = vec![0.0, 1.0];
    places.extend((1..degree).map(|k| k as f64 / degree as f64));
    places
}

/// The Lagrange polynomials of `places`, at `t`.
fn lagrange(places: &[f64], t: f64) -> Vec<f64> {
    let factor = |i: usize, j: usize| (t - places[j]) / (places[i] - places[j]);
    let others = |i: usize| (0..places.len()).filter(move |&j| j != i);
    (0..places.len())
        .map(|i| others(i).map(|j| factor(i, j)).product())
        .collect()
}

struct Numbering {
    number: Vec<Option<usize>>,
    count: usize,
}

impl Numbering {
    fn new(size: usize) -> Self {
        Self {
            number: vec![None; size],
            count: 0,
        }
    }

    fn fresh(&mut self) -> usize {
        self.count += 1;
        self.count - 1
    }

    fn of(&mut self, node: usize) -> usize {
        if let Some(number) = self.number[node] {
            return number;
        }
        let number = self.fresh();
        self.number[node] = Some(number);
        number
    }
}
