//! Domes on a top that is out of level, solved on a plate of the whole top.
//!
//! A tilt adds a weight along the top, `B sin β` uphill, at the same volume. The
//! low side's edge angle grows and the high side's falls, almost in proportion:
//! a first step from the level dome tells which direction is worst, and then
//! the tilt itself is an unknown of Newton's method, with the edge angle it must
//! not pass as the condition.

use super::newton::{Directions, Goal, Load, Progress, Solution, Step};
use super::plate::{Plate, System};

/// How a level dome answers to a small tilt, for every unit of its sine, uphill
/// along x and along y.
pub(super) struct Response {
    /// Change of the edge angles, as splines, radians.
    pub angles: [Vec<f64>; 2],
    /// Change of the volume at each quadrature point, mm³.
    pub volumes: [Vec<f64>; 2],
}

/// Where a search for a tilt ends.
pub(super) enum Reached {
    /// The sine of the tilt at which the limit is met.
    At(f64),
    /// The limit is not met up to the most that was looked at.
    Beyond,
    /// Newton's method was lost.
    Lost,
}

/// An edge angle that a tilt may not pass.
#[derive(Debug, Clone, Copy)]
pub(super) enum Limit<'a> {
    /// The first place that rises to this angle, radians.
    Rises(f64),
    /// The first of some places (numbered as the rim's samples) that falls to
    /// this angle, radians.
    Falls(f64, &'a [usize]),
}

/// The system at a state, and how it answers to tilts.
struct Tilting {
    system: System,
    go: Directions,
    /// Change of the rim's loads with the sine of each tilt.
    rims: Vec<Vec<f64>>,
}

/// The smallest share of a tilt that is tried at once.
const SHORTEST_STEP: f64 = 1.0 / 32.0;

impl Plate {
    /// The dome of the same volume on a tilted top, reached from the level one
    /// in steps as long as Newton's method can take; where it is lost, the last
    /// dome that it reached.
    pub fn tilted(&self, level: &Solution, tilt: [f64; 2]) -> Result<Solution, Box<Solution>> {
        let goal = Goal::Volume(level.volume);
        let (mut reached, mut step) = (0.0, 1.0);
        let mut from = level.clone();
        while step >= SHORTEST_STEP {
            let share = f64::min(reached + step, 1.0);
            let load = Load {
                tilt: tilt.map(|t| share * t),
                ..from.load
            };
            match self.newton(goal, from.w.clone(), load) {
                Some(found) if share >= 1.0 => return Ok(found),
                Some(found) => (from, reached) = (found, share),
                None => step /= 2.0,
            }
        }
        Err(Box::new(from))
    }

    /// The system at a state, with its changes for tilts toward some ways, and the
    /// directions that answer them.
    fn tilting(&self, w: &[f64], load: Load, ways: &[[f64; 2]]) -> Option<Tilting> {
        let system = self.assemble(w, self.pull(load));
        let forces = ways.iter().map(|&way| self.tilt_forces(w, way));
        let (forces, rims): (Vec<_>, Vec<_>) = forces.unzip();
        let pushes = forces.iter().map(|f| f.iter().map(|f| -f).collect());
        Some(Tilting {
            go: self.directions(&system, pushes.collect())?,
            rims,
            system,
        })
    }

    /// How the pressure goes with a tilt at constant volume: what it is to rise
    /// by now, and for every unit of tilt.
    fn pressure_rise(&self, volume: f64, t: &Tilting, number: usize) -> [f64; 2] {
        let swelling = |d: &[f64]| self.swelling(&t.system, d);
        let by = swelling(&t.go.per_pressure);
        let miss = volume / self.mesh.copies - t.system.volume;
        [
            (miss - swelling(&t.go.rest)) / by,
            -swelling(&t.go.per_other[number]) / by,
        ]
    }

    /// How a level dome answers to a small tilt.
    pub fn response(&self, level: &Solution) -> Option<Response> {
        let t = self.tilting(&level.w, level.load, &[[1.0, 0.0], [0.0, 1.0]])?;
        let at = self.rim.angles(&t.system.rim_force, None)?;
        let mut response = Response {
            angles: [Vec::new(), Vec::new()],
            volumes: [Vec::new(), Vec::new()],
        };
        for axis in 0..2 {
            let [_, rise] = self.pressure_rise(level.volume, &t, axis);
            let change = along(&t.go.per_other[axis], rise, &t.go.per_pressure);
            let loads = self.rim_loads(&t, axis, &change, rise);
            response.angles[axis] = self.rim.change(&at, &loads)?;
            response.volumes[axis] = self.volume_changes(&level.w, &change);
        }
        Some(response)
    }

    /// Change of the rim's loads for every unit of tilt.
    fn rim_loads(&self, t: &Tilting, number: usize, change: &[f64], rise: f64) -> Vec<f64> {
        let mut loads = t.system.rim_change(change, self.rim.count);
        for (i, load) in loads.iter_mut().enumerate() {
            *load += t.rims[number][i] - rise * t.system.rim_swell[i];
        }
        loads
    }

    /// The smallest tilt uphill toward `way`, up to the sine `most`, at which the
    /// edge meets a limit; nothing at all where it is past it already.
    ///
    /// The weight across the top is that of the step before, so the last steps
    /// shrink by the tilt's tangent rather than quadratically.
    pub fn tilt_to(&self, level: &Solution, way: [f64; 2], limit: Limit, most: f64) -> Reached {
        let mut state = Sought {
            w: level.w.clone(),
            load: level.load,
            sine: 0.0,
        };
        let mut progress = Progress::default();
        for _ in 0..40 {
            let Some(step) = self.tilt_step(level.volume, &mut state, way, limit, most) else {
                return Reached::Lost;
            };
            match progress.judge(step.change, step.highest) {
                Step::Lost => return Reached::Lost,
                Step::Done if step.held_back => return Reached::Beyond,
                Step::Done => return Reached::At(state.sine),
                Step::On => {}
            }
        }
        Reached::Lost
    }

    /// One step of that search.
    fn tilt_step(
        &self,
        volume: f64,
        state: &mut Sought,
        way: [f64; 2],
        limit: Limit,
        most: f64,
    ) -> Option<Taken> {
        let t = self.tilting(&state.w, state.load, &[way])?;
        let [now, per_tilt] = self.pressure_rise(volume, &t, 0);
        let settle = along(&t.go.rest, now, &t.go.per_pressure);
        let tilting = along(&t.go.per_other[0], per_tilt, &t.go.per_pressure);
        let mut loads = t.system.rim_change(&settle, self.rim.count);
        for (i, load) in loads.iter_mut().enumerate() {
            *load += t.system.rim_force[i] - now * t.system.rim_swell[i];
        }
        let angles = self.rim.angles(&loads, None)?;
        let change = self
            .rim
            .change(&angles, &self.rim_loads(&t, 0, &tilting, per_tilt))?;
        let wanted = match limit {
            Limit::Rises(angle) => self.rim.rise_to(angle, &angles, &change),
            Limit::Falls(angle, among) => self.rim.fall_to(angle, &angles, &change, among),
        };
        // Three degrees or half again as far at once, and neither below level nor past the most.
        let stride = 0.5 * state.sine.max(0.1);
        let by = wanted.min(stride).clamp(-state.sine, most - state.sine);
        let mut taken = Taken {
            change: 0.0,
            highest: 0.0,
            held_back: state.sine + wanted > most,
        };
        for (i, value) in state.w.iter_mut().enumerate() {
            let step = settle[i] + by * tilting[i];
            taken.change = taken.change.max(step.abs());
            *value += step;
            taken.highest = taken.highest.max(value.abs());
        }
        state.sine += by;
        state.load.pressure += now + by * per_tilt;
        state.load.tilt = way.map(|x| state.sine * x);
        Some(taken)
    }
}

/// A state on the way to a tilt.
struct Sought {
    w: Vec<f64>,
    load: Load,
    sine: f64,
}

/// What a step did.
struct Taken {
    /// The largest change of a height, and the largest height, mm.
    change: f64,
    highest: f64,
    /// Whether the limit lies further than the most that is looked at.
    held_back: bool,
}

fn along(from: &[f64], by: f64, way: &[f64]) -> Vec<f64> {
    from.iter().zip(way).map(|(a, b)| a + by * b).collect()
}
