//! Newton's method for the dome on a prepared top.
//!
//! Height and pressure are found together: each step solves the linearised
//! balance for two right-hand sides and sets the pressure so that the goal,
//! linearised too, is met.

use super::element::Shape;
use super::plate::{Plate, System, dot};

/// What is asked of the dome.
#[derive(Debug, Clone, Copy)]
pub(super) enum Goal {
    /// The largest edge angle, radians.
    EdgeAngle(f64),
    /// The whole volume, mm³.
    Volume(f64),
    /// The peak height, mm.
    Peak(f64),
}

impl Goal {
    /// A share of it.
    fn share(self, share: f64) -> Self {
        match self {
            Self::EdgeAngle(angle) => Self::EdgeAngle(share * angle),
            Self::Volume(volume) => Self::Volume(share * volume),
            Self::Peak(height) => Self::Peak(share * height),
        }
    }
}

/// The shortest step on the way to a goal, as a share of it.
const SHORTEST_STEP: f64 = 1.0 / 32.0;

/// A solved dome; lengths in millimetres, the whole top.
#[derive(Debug, Clone)]
pub(super) struct Solution {
    /// Heights at the mesh's nodes.
    pub w: Vec<f64>,
    /// `p₀/γ`, per mm.
    pub pressure: f64,
    pub volume: f64,
    pub surface: f64,
    pub peak: f64,
    /// The largest edge angle, radians.
    pub edge_angle: f64,
    /// What the balance of vertical forces lacks, as a share of what the edge pulls.
    pub imbalance: f64,
}

/// The two directions of a Newton step, at the nodes.
struct Directions {
    /// To balance at the same pressure.
    rest: Vec<f64>,
    /// For every unit of pressure.
    per_pressure: Vec<f64>,
}

impl Plate {
    /// Finds the dome that meets `goal`, starting from the scaled linear dome.
    /// Where that is too far a jump it goes on in smaller steps from one dome to
    /// the next; `None` where even short steps are lost.
    pub fn solve(&self, goal: Goal) -> Option<Solution> {
        let (mut reached, mut step) = (0.0, 1.0);
        let mut from: Option<Solution> = None;
        while step >= SHORTEST_STEP {
            let share = f64::min(reached + step, 1.0);
            let next = goal.share(share);
            let found = match &from {
                None => {
                    let (w, pressure) = self.guess(next);
                    self.newton(next, w, pressure)
                }
                Some(s) => self.newton(next, s.w.clone(), s.pressure),
            };
            match found {
                Some(found) if share >= 1.0 => return Some(found),
                Some(found) => (from, reached) = (Some(found), share),
                None => step /= 2.0,
            }
        }
        None
    }

    /// The linear dome, scaled to about meet a goal, and its pressure.
    fn guess(&self, goal: Goal) -> (Vec<f64>, f64) {
        let scale = match goal {
            // From wₙ = tan θ / (1 + σ tan θ) with σ = 1.
            Goal::EdgeAngle(angle) => angle.sin() / (angle.cos() + angle.sin()) / self.linear_slope,
            Goal::Peak(height) => height / self.linear.iter().fold(0.0, |a: f64, b| a.max(*b)),
            Goal::Volume(volume) => volume / self.mesh.copies / self.upright_volume(&self.linear),
        };
        (self.linear.iter().map(|u| scale * u).collect(), scale)
    }

    fn newton(&self, goal: Goal, mut w: Vec<f64>, mut pressure: f64) -> Option<Solution> {
        let mut last = f64::INFINITY;
        for _ in 0..30 {
            let system = self.assemble(&w, pressure);
            let mut rest: Vec<f64> = system.force.iter().map(|f| -f).collect();
            let mut swell = system.swell.clone();
            self.pattern
                .factor(&system.values)?
                .solve(&mut [&mut rest, &mut swell])?;
            let go = Directions {
                rest: self.spread(&rest),
                per_pressure: self.spread(&swell),
            };
            let rise = self.rise(goal, &w, &system, &go)?;
            let mut change: f64 = 0.0;
            let mut height: f64 = 0.0;
            for (i, value) in w.iter_mut().enumerate() {
                let by = go.rest[i] + rise * go.per_pressure[i];
                change = change.max(by.abs());
                *value += by;
                height = height.max(value.abs());
            }
            pressure += rise;
            let size = change / height;
            if !size.is_finite() || (size > 2.0 * last && size > 0.5) {
                return None;
            }
            // The next step would change about the square of this one.
            if size < 1e-5 {
                return self.finish(w, pressure);
            }
            last = size;
        }
        None
    }

    /// The change of pressure that meets the goal.
    fn rise(&self, goal: Goal, w: &[f64], system: &System, go: &Directions) -> Option<f64> {
        match goal {
            Goal::EdgeAngle(angle) => {
                let mut loads = system.rim_change(&go.rest, self.rim.count);
                let mut per_pressure = system.rim_change(&go.per_pressure, self.rim.count);
                for i in 0..self.rim.count {
                    loads[i] += system.rim_force[i];
                    per_pressure[i] -= system.rim_swell[i];
                }
                let angles = self.rim.angles(&loads, None)?;
                let change = self.rim.change(&angles, &per_pressure)?;
                Some(self.rim.rise_to(angle, &angles, &change))
            }
            Goal::Volume(volume) => {
                let sum = |d: &[f64]| {
                    let terms = self.unknown.iter().zip(d);
                    terms
                        .filter_map(|(u, d)| u.map(|i| system.swell[i] * d))
                        .sum::<f64>()
                };
                let miss = volume / self.mesh.copies - system.volume;
                Some((miss - sum(&go.rest)) / sum(&go.per_pressure))
            }
            Goal::Peak(height) => {
                let (triangle, shape, top) = self.top(w);
                let at = |d: &[f64]| dot(&shape.value, d, self.nodes_of(triangle));
                Some((height - top - at(&go.rest)) / at(&go.per_pressure))
            }
        }
    }

    /// The highest place: its triangle, the shape functions there, its height.
    fn top(&self, w: &[f64]) -> (usize, Shape, f64) {
        let n = self.element.len();
        let triangles = &self.mesh.triangles;
        let best = (0..triangles.len()).fold(0, |best, at| {
            if w[triangles[at]] > w[triangles[best]] {
                at
            } else {
                best
            }
        });
        let node = triangles[best];
        let mut top = (best / n, self.element.at_nodes[best % n].clone(), w[node]);
        for (at, _) in triangles.iter().enumerate().filter(|(_, m)| **m == node) {
            self.climb(at / n, self.element.place(at % n), w, &mut top);
        }
        top
    }

    /// Closes in on the highest place of one triangle.
    fn climb(&self, triangle: usize, from: [f64; 2], w: &[f64], top: &mut (usize, Shape, f64)) {
        const WAYS: [[f64; 2]; 6] = [
            [1.0, 0.0],
            [-1.0, 0.0],
            [0.0, 1.0],
            [0.0, -1.0],
            [1.0, -1.0],
            [-1.0, 1.0],
        ];
        let nodes = self.nodes_of(triangle);
        let mut here = from;
        let mut reach = 0.1;
        while reach > 1e-4 {
            let mut moved = false;
            for way in WAYS {
                let (x, y) = (here[0] + reach * way[0], here[1] + reach * way[1]);
                if x < 0.0 || y < 0.0 || x + y > 1.0 {
                    continue;
                }
                let shape = self.element.shape(x, y);
                let height = dot(&shape.value, w, nodes);
                if height > top.2 {
                    *top = (triangle, shape, height);
                    here = [x, y];
                    moved = true;
                }
            }
            if !moved {
                reach /= 4.0;
            }
        }
    }

    /// Measures the found dome.
    fn finish(&self, w: Vec<f64>, pressure: f64) -> Option<Solution> {
        let system = self.assemble(&w, pressure);
        let angles = self.rim.angles(&system.rim_force, None)?;
        let copies = self.mesh.copies;
        // P A - B V = ∮ sin θ ds
        let pull = self.rim.pull(&angles);
        let held = pressure * self.area - self.bond * system.volume;
        Some(Solution {
            pressure,
            volume: copies * system.volume,
            surface: copies * system.surface,
            peak: self.top(&w).2,
            edge_angle: self.rim.largest(&angles.values),
            imbalance: (held - pull) / pull,
            w,
        })
    }
}
