//! Domes on a top that is out of level, solved on a plate of the whole top.
//!
//! A tilt adds a weight along the top, `B sin β` uphill, at the same volume. The
//! low side's edge angle grows and the high side's falls, almost in proportion:
//! a first step from the level dome tells which direction is worst, and then
//! the tilt itself is an unknown of Newton's method, with the edge angle it must
//! not pass as the condition.

use super::newton::{Goal, Linear, Load, Progress, Solution, Step};
use super::plate::Plate;

/// How a level dome answers to a small tilt, for every unit of its sine, uphill
/// along x and along y.
pub(super) struct Response {
    /// Change of the edge angles, as splines, radians.
    pub angles: [Vec<f64>; 2],
    /// Change of the volume at each quadrature point, mm³.
    pub volumes: [Vec<f64>; 2],
    level: Linear,
    pushes: [Push; 2],
}

impl Response {
    /// What a tilt uphill toward a way does to the level dome.
    fn toward(&self, way: [f64; 2]) -> Push {
        let [x, y] = &self.pushes;
        let mixed = |x: &[f64], y: &[f64]| -> Vec<f64> {
            let pairs = x.iter().zip(y);
            pairs.map(|(x, y)| way[0] * x + way[1] * y).collect()
        };
        Push {
            heights: mixed(&x.heights, &y.heights),
            loads: mixed(&x.loads, &y.loads),
        }
    }
}

/// What a tilt does at a state, for every unit of its sine at the same pressure.
struct Push {
    /// Change of the heights.
    heights: Vec<f64>,
    /// Change of the rim's loads where no height changes.
    loads: Vec<f64>,
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

/// What a search for a tilt is after.
#[derive(Clone, Copy)]
struct Wanted<'a> {
    volume: f64,
    /// Uphill, of length one.
    way: [f64; 2],
    limit: Limit<'a>,
    /// The largest sine.
    most: f64,
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

    /// The linear system at a state, and what tilts toward some ways do there.
    fn tilting(&self, w: &[f64], load: Load, ways: &[[f64; 2]]) -> Option<(Linear, Vec<Push>)> {
        let forces = ways.iter().map(|&way| self.tilt_forces(w, way));
        let (forces, loads): (Vec<_>, Vec<_>) = forces.unzip();
        let pushes = forces.iter().map(|f| f.iter().map(|f| -f).collect());
        let system = self.assemble(w, self.pull(load));
        let mut linear = self.linear(system, pushes.collect())?;
        let heights = std::mem::take(&mut linear.go.per_other).into_iter();
        let pushes = heights.zip(loads);
        let pushes = pushes.map(|(heights, loads)| Push { heights, loads });
        Some((linear, pushes.collect()))
    }

    /// How the pressure goes with a tilt at constant volume: what it is to rise
    /// by now, and for every unit of tilt.
    fn pressure_rise(&self, volume: f64, at: &Linear, push: &Push) -> [f64; 2] {
        let swelling = |d: &[f64]| self.swelling(&at.system, d);
        let by = swelling(&at.go.per_pressure);
        let miss = volume / self.mesh.copies - at.system.volume;
        [
            (miss - swelling(&at.go.rest)) / by,
            -swelling(&push.heights) / by,
        ]
    }

    /// How a level dome answers to a small tilt.
    pub fn response(&self, level: &Solution) -> Option<Response> {
        let ways = [[1.0, 0.0], [0.0, 1.0]];
        let (at, pushes) = self.tilting(&level.w, level.load, &ways)?;
        let pushes: [Push; 2] = pushes.try_into().ok()?;
        let angles = self.rim.angles(&at.system.rim_force, Some(&level.angles))?;
        let mut changes = [Vec::new(), Vec::new()];
        let mut volumes = [Vec::new(), Vec::new()];
        for (axis, push) in pushes.iter().enumerate() {
            let [_, rise] = self.pressure_rise(level.volume, &at, push);
            let change = along(&push.heights, rise, &at.go.per_pressure);
            let loads = self.rim_loads(&at, push, &change, rise);
            changes[axis] = self.rim.change(&angles, &loads)?;
            volumes[axis] = self.volume_changes(&level.w, &change);
        }
        Some(Response {
            angles: changes,
            volumes,
            level: at,
            pushes,
        })
    }

    /// Change of the rim's loads for every unit of tilt.
    fn rim_loads(&self, at: &Linear, push: &Push, change: &[f64], rise: f64) -> Vec<f64> {
        let mut loads = at.system.rim_change(change, self.rim.count);
        for (i, load) in loads.iter_mut().enumerate() {
            *load += push.loads[i] - rise * at.system.rim_swell[i];
        }
        loads
    }

    /// The smallest tilt uphill toward `way`, up to the sine `most`, at which the
    /// edge meets a limit; nothing at all where it is past it already. The first
    /// step is the level dome's own `response`.
    ///
    /// The weight across the top is that of the step before, so the last steps
    /// shrink by the tilt's tangent rather than quadratically.
    pub fn tilt_to(
        &self,
        level: &Solution,
        response: &Response,
        way: [f64; 2],
        limit: Limit,
        most: f64,
    ) -> Reached {
        let wanted = Wanted {
            volume: level.volume,
            way,
            limit,
            most,
        };
        let state = Sought {
            w: level.w.clone(),
            load: level.load,
            sine: 0.0,
            angles: level.angles.clone(),
        };
        self.seek(wanted, response, state).unwrap_or(Reached::Lost)
    }

    fn seek(&self, wanted: Wanted, response: &Response, mut state: Sought) -> Option<Reached> {
        let mut progress = Progress::default();
        let push = response.toward(wanted.way);
        let mut step = self.tilt_step(wanted, &mut state, &response.level, &push)?;
        let mut known: Option<(Linear, Vec<Push>)> = None;
        for _ in 0..40 {
            match progress.judge(step.change, step.highest, self.settled) {
                Step::Lost => return None,
                Step::Done if step.held_back => return Some(Reached::Beyond),
                Step::Done => return Some(Reached::At(state.sine)),
                Step::On => {}
            }
            let (at, pushes) = match known.take().filter(|_| progress.is_close()) {
                Some((at, pushes)) => (self.again(at, &state.w, state.load), pushes),
                None => self.tilting(&state.w, state.load, &[wanted.way])?,
            };
            step = self.tilt_step(wanted, &mut state, &at, pushes.first()?)?;
            known = Some((at, pushes));
        }
        None
    }

    /// One step of that search, by the linear system `at` its state.
    fn tilt_step(
        &self,
        wanted: Wanted,
        state: &mut Sought,
        at: &Linear,
        push: &Push,
    ) -> Option<Taken> {
        let Wanted {
            volume,
            way,
            limit,
            most,
        } = wanted;
        let [now, per_tilt] = self.pressure_rise(volume, at, push);
        let settle = along(&at.go.rest, now, &at.go.per_pressure);
        let tilting = along(&push.heights, per_tilt, &at.go.per_pressure);
        let mut loads = at.system.rim_change(&settle, self.rim.count);
        for (i, load) in loads.iter_mut().enumerate() {
            *load += at.system.rim_force[i] - now * at.system.rim_swell[i];
        }
        let angles = self.rim.angles(&loads, Some(&state.angles))?;
        let change = self.rim_loads(at, push, &tilting, per_tilt);
        let change = self.rim.change(&angles, &change)?;
        let gap = match limit {
            Limit::Rises(angle) => self.rim.rise_to(angle, &angles, &change),
            Limit::Falls(angle, among) => self.rim.fall_to(angle, &angles, &change, among),
        };
        // Three degrees or half again as far at once, and neither below level nor past the most.
        let stride = 0.5 * state.sine.max(0.1);
        let by = gap.min(stride).clamp(-state.sine, most - state.sine);
        state.angles = angles.values;
        let mut taken = Taken {
            change: 0.0,
            highest: 0.0,
            held_back: state.sine + gap > most,
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
    /// The edge angles of the last step, to start from.
    angles: Vec<f64>,
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
