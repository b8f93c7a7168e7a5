//! Domes on a top that is out of level, solved on a plate of the whole top.
//!
//! A tilt adds a weight along the top, `B sin β` uphill, at the same volume. The
//! low side's edge angle grows and the high side's falls, almost in proportion:
//! a first step from the level dome tells which direction is worst, and then
//! the tilt itself is an unknown of Newton's method, with the edge angle it must
//! not pass as the condition.

use super::density::Pull;
use super::newton::{Directions, Goal, Load, Progress, Solution, Step};
use super::plate::{Plate, System};

/// How a level dome answers to a small tilt, for every unit of its sine, uphill
/// along x and along y.
pub(super) struct Response {
    /// Change of the edge angles, as splines, radians.
    pub angles: [Vec<f64>; 2],
    /// Volume that goes from the uphill half to the downhill half, mm³.
    pub shifts: [f64; 2],
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

/// The system at a state, and how its forces change with the sine of a tilt.
struct Tilting {
    system: System,
    /// At the unknowns.
    force: Vec<f64>,
    /// At the rim.
    rim_force: Vec<f64>,
}

/// The smallest share of a tilt that is tried at once.
const SHORTEST_STEP: f64 = 1.0 / 32.0;

impl Plate {
    /// The dome of the same volume on a tilted top, reached from the level one
    /// in steps as long as Newton's method can take; `None` where it is lost.
    pub fn tilted(&self, level: &Solution, tilt: [f64; 2]) -> Option<Solution> {
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
                Some(found) if share >= 1.0 => return Some(found),
                Some(found) => (from, reached) = (found, share),
                None => step /= 2.0,
            }
        }
        None
    }

    /// The system at a state, with its change for a tilt toward `way`.
    fn tilting(&self, w: &[f64], load: Load, way: [f64; 2]) -> Tilting {
        let pull = self.pull(load);
        let more = Pull {
            uphill: [0, 1].map(|i| pull.uphill[i] + self.bond * way[i]),
            ..pull
        };
        let system = self.assemble(w, pull);
        let askew = self.assemble(w, more);
        // The energy is linear in the tilt.
        let less = |a: Vec<f64>, b: &[f64]| a.iter().zip(b).map(|(a, b)| a - b).collect();
        Tilting {
            force: less(askew.force, &system.force),
            rim_force: less(askew.rim_force, &system.rim_force),
            system,
        }
    }

    /// How the pressure goes with the tilt at constant volume: what it is to rise
    /// by now, and for every unit of tilt.
    fn pressure_rise(&self, volume: f64, t: &Tilting, go: &Directions) -> [f64; 2] {
        let swelling = |d: &[f64]| self.swelling(&t.system, d);
        let by = swelling(&go.per_pressure);
        let miss = volume / self.mesh.copies - t.system.volume;
        [
            (miss - swelling(&go.rest)) / by,
            -swelling(&go.per_other) / by,
        ]
    }

    /// How a level dome answers to a small tilt.
    pub fn response(&self, level: &Solution) -> Option<Response> {
        let mut response = Response {
            angles: [Vec::new(), Vec::new()],
            shifts: [0.0; 2],
        };
        for axis in 0..2 {
            let mut way = [0.0; 2];
            way[axis] = 1.0;
            let t = self.tilting(&level.w, level.load, way);
            let go = self.directions(&t.system, Some(t.force.iter().map(|f| -f).collect()))?;
            let [_, rise] = self.pressure_rise(level.volume, &t, &go);
            let change: Vec<f64> = along(&go.per_other, rise, &go.per_pressure);
            let loads = self.rim_loads(&t, &change, rise);
            let at = self.rim.angles(&t.system.rim_force, None)?;
            response.angles[axis] = self.rim.change(&at, &loads)?;
            response.shifts[axis] = self.mesh.copies * self.shifted(level, &change, axis);
        }
        Some(response)
    }

    /// Change of the rim's loads for every unit of tilt.
    fn rim_loads(&self, t: &Tilting, change: &[f64], rise: f64) -> Vec<f64> {
        let mut loads = t.system.rim_change(change, self.rim.count);
        for (i, load) in loads.iter_mut().enumerate() {
            *load += t.rim_force[i] - rise * t.system.rim_swell[i];
        }
        loads
    }

    /// What a change of the heights adds to the half below the middle of area
    /// along an axis, less what it adds above, over two.
    fn shifted(&self, level: &Solution, change: &[f64], axis: usize) -> f64 {
        let middle = self.moment[axis] / self.area;
        let h = 1e-4;
        let moved: Vec<f64> = level.w.iter().zip(change).map(|(w, d)| w + h * d).collect();
        let (before, after) = (
            self.below(&level.w, axis, middle),
            self.below(&moved, axis, middle),
        );
        (after - before) / h
    }

    /// The smallest tilt uphill toward `way` at which the edge meets a limit, and
    /// the dome there, from a first guess of its sine; `None` where the search is
    /// lost or leads past `most`.
    pub fn tilt_to(
        &self,
        level: &Solution,
        way: [f64; 2],
        limit: Limit,
        most: f64,
    ) -> Option<(f64, Solution)> {
        let (mut w, mut load) = (level.w.clone(), level.load);
        let mut sine = 0.0_f64;
        let mut progress = Progress::default();
        for _ in 0..30 {
            let t = self.tilting(&w, load, way);
            let go = self.directions(&t.system, Some(t.force.iter().map(|f| -f).collect()))?;
            let [now, per_tilt] = self.pressure_rise(level.volume, &t, &go);
            let settle = along(&go.rest, now, &go.per_pressure);
            let tilting = along(&go.per_other, per_tilt, &go.per_pressure);
            let mut loads = t.system.rim_change(&settle, self.rim.count);
            for (i, load) in loads.iter_mut().enumerate() {
                *load += t.system.rim_force[i] - now * t.system.rim_swell[i];
            }
            let angles = self.rim.angles(&loads, None)?;
            let change = self
                .rim
                .change(&angles, &self.rim_loads(&t, &tilting, per_tilt))?;
            let by = match limit {
                Limit::Rises(angle) => self.rim.rise_to(angle, &angles, &change),
                Limit::Falls(angle, among) => self.rim.fall_to(angle, &angles, &change, among),
            };
            // No further than half again as far at once.
            let by = by.min(0.5 * sine.max(0.2 * most));
            let (mut largest, mut highest) = (0.0_f64, 0.0_f64);
            for (i, value) in w.iter_mut().enumerate() {
                let step = settle[i] + by * tilting[i];
                largest = largest.max(step.abs());
                *value += step;
                highest = highest.max(value.abs());
            }
            sine += by;
            if !(0.0..=most).contains(&sine) {
                return None;
            }
            load.pressure += now + by * per_tilt;
            load.tilt = way.map(|x| sine * x);
            match progress.judge(largest, highest) {
                Step::Lost => return None,
                Step::Done => return Some((sine, self.finish(w, load)?)),
                Step::On => {}
            }
        }
        None
    }
}

fn along(from: &[f64], by: f64, way: &[f64]) -> Vec<f64> {
    from.iter().zip(way).map(|(a, b)| a + by * b).collect()
}
