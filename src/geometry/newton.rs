//! Newton's method for the dome on a prepared top.
//!
//! Height and pressure are found together: each step solves the linearised
//! balance for two right-hand sides and sets the pressure so that the goal,
//! linearised too, is met.

use super::density::Pull;
use super::element::Shape;
use super::plate::{Plate, System, dot};
use super::rim::Angles;
use super::sparse::Factor;

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

    /// What a known dome has of what is asked.
    fn of(self, known: &Solution) -> Self {
        match self {
            Self::EdgeAngle(_) => Self::EdgeAngle(known.edge_angle),
            Self::Volume(_) => Self::Volume(known.volume),
            Self::Peak(_) => Self::Peak(known.peak),
        }
    }
}

/// The shortest step on the way to a goal, as a share of it.
const SHORTEST_STEP: f64 = 1.0 / 32.0;

/// What the liquid is under, besides the goal.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Load {
    /// `p₀/γ` over the origin, per mm.
    pub pressure: f64,
    /// Uphill, as long as the sine of the tilt.
    pub tilt: [f64; 2],
}

/// A solved dome; lengths in millimetres, the whole top.
#[derive(Debug, Clone)]
pub(super) struct Solution {
    /// Heights at the mesh's nodes.
    pub w: Vec<f64>,
    pub load: Load,
    pub volume: f64,
    pub surface: f64,
    pub peak: f64,
    /// The edge angles along the rim, as splines, radians.
    pub angles: Vec<f64>,
    /// The largest edge angle, radians.
    pub edge_angle: f64,
    /// What the balance of forces across the top lacks, as a share of what the
    /// edge pulls.
    pub imbalance: f64,
}

/// The directions of a Newton step, at the nodes.
pub(super) struct Directions {
    /// To balance at the same load.
    pub rest: Vec<f64>,
    /// For every unit of pressure.
    pub per_pressure: Vec<f64>,
    /// For each of some other forces given at the unknowns.
    pub per_other: Vec<Vec<f64>>,
}

/// The linear system of a Newton step, factorised, with its directions.
pub(super) struct Linear {
    pub system: System,
    factor: Factor,
    pub go: Directions,
}

/// How a Newton search goes: the sizes of its last two steps, the latest first.
pub(super) struct Progress([f64; 2]);

impl Default for Progress {
    fn default() -> Self {
        Self([f64::INFINITY; 2])
    }
}

pub(super) enum Step {
    On,
    Done,
    Lost,
}

/// A step this small, of the largest height, ends so close to the dome that the
/// matrix before it still serves.
const CLOSE: f64 = 0.1;

/// The same where steps shrink by at least this.
const SHRINKING: f64 = 0.3;

impl Progress {
    /// Whether the last matrix serves once more. An error `e` leaves one
    /// of about `2 K s e` after the step, `s` being the step that was made with
    /// that matrix and `K s` the share to which such steps shrink: from 1e-3 to a fiftieth of it.
    pub fn is_close(&self) -> bool {
        let Self([size, before]) = *self;
        size < CLOSE && size < SHRINKING * before
    }

    /// Judges a change of the heights, both as their largest values: it is done once the share
    /// `settled` of the height is all that is left to change.
    pub fn judge(&mut self, change: f64, height: f64, settled: f64) -> Step {
        let size = change / height;
        let borrowed = self.is_close();
        let Self([last, _]) = *self;
        *self = Self([size, last]);
        // A next step would change about the square of this one; with a borrowed
        // matrix, the share of it that this one is of the last.
        let left = if borrowed { size * size / last } else { 0.0 };
        match size {
            _ if !size.is_finite() || (size > 2.0 * last && size > 0.5) => Step::Lost,
            _ if size * size < settled && left < settled => Step::Done,
            _ => Step::On,
        }
    }
}

impl Plate {
    /// Finds the dome that meets `goal`, starting from the scaled linear dome.
    /// Where that is too far a jump it goes on in smaller steps from one dome to
    /// the next; `None` where even short steps are lost.
    pub fn solve(&self, goal: Goal) -> Option<Solution> {
        self.solve_near(goal, None)
    }

    /// The same, starting nearer where another dome on this top is known.
    pub fn solve_near(&self, goal: Goal, near: Option<&Solution>) -> Option<Solution> {
        let (mut reached, mut step) = (0.0, 1.0);
        let mut from: Option<Solution> = None;
        while step >= SHORTEST_STEP {
            let share = f64::min(reached + step, 1.0);
            let next = goal.share(share);
            let found = match &from {
                None => {
                    let (w, load) = self.guess_near(next, near);
                    self.newton(next, w, load)
                }
                Some(s) => self.newton(next, s.w.clone(), s.load),
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
    fn guess(&self, goal: Goal) -> (Vec<f64>, Load) {
        let scale = match goal {
            // From wₙ = tan θ / (1 + σ tan θ) with σ = 1.
            Goal::EdgeAngle(angle) => angle.sin() / (angle.cos() + angle.sin()) / self.linear_slope,
            Goal::Peak(height) => height / self.linear.iter().fold(0.0, |a: f64, b| a.max(*b)),
            Goal::Volume(volume) => volume / self.mesh.copies / self.upright_volume(&self.linear),
        };
        let load = Load {
            pressure: scale,
            tilt: [0.0; 2],
        };
        (self.linear.iter().map(|u| scale * u).collect(), load)
    }

    /// The same, with what the scaled linear dome lacks at a known one: that grows about with
    /// the square of the scale, for the lean takes off as much at the edge.
    fn guess_near(&self, goal: Goal, near: Option<&Solution>) -> (Vec<f64>, Load) {
        let (mut w, mut load) = self.guess(goal);
        if let Some(near) = near {
            let (linear, scale) = self.guess(goal.of(near));
            let by = (load.pressure / scale.pressure).powi(2);
            for ((value, known), linear) in w.iter_mut().zip(&near.w).zip(&linear) {
                *value += by * (known - linear);
            }
            load.pressure += by * (near.load.pressure - scale.pressure);
        }
        (w, load)
    }

    /// Newton's method under a tilt that stays; the pressure is found.
    pub fn newton(&self, goal: Goal, mut w: Vec<f64>, mut load: Load) -> Option<Solution> {
        let mut progress = Progress::default();
        let mut angles: Option<Vec<f64>> = None;
        let mut known: Option<Linear> = None;
        for _ in 0..30 {
            let linear = match known.take().filter(|_| progress.is_close()) {
                Some(linear) => self.again(linear, &w, load),
                None => self.linear(self.assemble(&w, self.pull(load)), Vec::new())?,
            };
            let Linear { system, go, .. } = &linear;
            let rise = match goal {
                Goal::EdgeAngle(angle) => {
                    let (at, rise) = self.rise_to_angle(angle, system, go, angles.as_deref())?;
                    angles = Some(at.values);
                    rise
                }
                Goal::Volume(volume) => self.rise_to_volume(volume, system, go),
                Goal::Peak(height) => self.rise_to_peak(height, &w, go),
            };
            let (mut change, mut highest) = (0.0_f64, 0.0_f64);
            for (i, value) in w.iter_mut().enumerate() {
                let by = go.rest[i] + rise * go.per_pressure[i];
                change = change.max(by.abs());
                *value += by;
                highest = highest.max(value.abs());
            }
            load.pressure += rise;
            match progress.judge(change, highest, self.settled) {
                Step::Lost => return None,
                Step::Done => return self.finish(w, load, angles.as_deref()),
                Step::On => known = Some(linear),
            }
        }
        None
    }

    /// The liquid's pull under a load.
    pub fn pull(&self, load: Load) -> Pull {
        let [x, y] = load.tilt;
        Pull {
            down: self.bond * (1.0 - x * x - y * y).max(0.0).sqrt(),
            uphill: load.tilt.map(|t| self.bond * t),
            pressure: load.pressure,
        }
    }

    /// The directions from a state, with those for some other forces.
    pub fn linear(&self, mut system: System, mut others: Vec<Vec<f64>>) -> Option<Linear> {
        let factor = self.pattern.factor(std::mem::take(&mut system.values))?;
        let mut rest: Vec<f64> = system.force.iter().map(|f| -f).collect();
        let mut swell = system.swell.clone();
        let mut sides: Vec<&mut [f64]> = vec![&mut rest, &mut swell];
        sides.extend(others.iter_mut().map(Vec::as_mut_slice));
        factor.solve(&mut sides)?;
        let go = Directions {
            rest: self.spread(&rest),
            per_pressure: self.spread(&swell),
            per_other: others.iter().map(|other| self.spread(other)).collect(),
        };
        Some(Linear { system, factor, go })
    }

    /// The same matrix at a state close by: its forces there, and how they come
    /// to rest.
    pub fn again(&self, mut linear: Linear, w: &[f64], load: Load) -> Linear {
        let here = self.measure(w, self.pull(load));
        let mut rest: Vec<f64> = here.force.iter().map(|f| -f).collect();
        linear.factor.solve_again(&mut rest);
        linear.go.rest = self.spread(&rest);
        linear.system = System {
            rim_rows: linear.system.rim_rows,
            ..here
        };
        linear
    }

    /// The rise of the pressure at which the first place of the edge reaches an
    /// angle, and the angles along the edge before it.
    fn rise_to_angle(
        &self,
        angle: f64,
        system: &System,
        go: &Directions,
        last: Option<&[f64]>,
    ) -> Option<(Angles, f64)> {
        let mut loads = system.rim_change(&go.rest, self.rim.count);
        let mut per_pressure = system.rim_change(&go.per_pressure, self.rim.count);
        for i in 0..self.rim.count {
            loads[i] += system.rim_force[i];
            per_pressure[i] -= system.rim_swell[i];
        }
        let angles = self.rim.angles(&loads, last)?;
        let change = self.rim.change(&angles, &per_pressure)?;
        let rise = self.rim.rise_to(angle, &angles, &change);
        Some((angles, rise))
    }

    /// The rise of the pressure at which the whole volume is met.
    fn rise_to_volume(&self, volume: f64, system: &System, go: &Directions) -> f64 {
        let miss = volume / self.mesh.copies - system.volume;
        (miss - self.swelling(system, &go.rest)) / self.swelling(system, &go.per_pressure)
    }

    /// What a change of the heights adds to the volume of the meshed part.
    pub fn swelling(&self, system: &System, change: &[f64]) -> f64 {
        let terms = self.unknown.iter().zip(change);
        terms
            .filter_map(|(u, d)| u.map(|i| system.swell[i] * d))
            .sum()
    }

    fn rise_to_peak(&self, height: f64, w: &[f64], go: &Directions) -> f64 {
        let (triangle, shape, top) = self.top(w);
        let at = |d: &[f64]| dot(&shape.value, d, self.nodes_of(triangle));
        (height - top - at(&go.rest)) / at(&go.per_pressure)
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

    /// Measures the found dome, whose edge angles are near `angles`.
    fn finish(&self, w: Vec<f64>, load: Load, angles: Option<&[f64]>) -> Option<Solution> {
        let pull = self.pull(load);
        let system = self.measure(&w, pull);
        let angles = self.rim.angles(&system.rim_force, angles)?;
        let copies = self.mesh.copies;
        // ∫ (P - a·x) dA - B V cos β = ∮ sin θ ds
        let held = self.rim.pull(&angles);
        let borne = pull.pressure * self.area
            - pull.uphill[0] * self.moment[0]
            - pull.uphill[1] * self.moment[1]
            - pull.down * system.volume;
        Some(Solution {
            load,
            volume: copies * system.volume,
            surface: copies * system.surface,
            peak: self.top(&w).2,
            edge_angle: self.rim.largest(&angles.values),
            imbalance: (borne - held) / held,
            angles: angles.values,
            w,
        })
    }
}
