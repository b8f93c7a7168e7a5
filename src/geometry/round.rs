//! The dome on a round blank: the arc-length Young-Laplace equation.
//!
//! Lengths are in capillary lengths `c` and pressures in `γ/c`. From the
//! apex outward, with arc length `s`, radius `r`, inclination `φ` (as its sine
//! `S` and cosine `C`, so that no trigonometry is called) and `P` the excess
//! pressure at the surface,
//!
//! ```text
//! r' = C    P' = S    S' = κ C    C' = -κ S    κ = P - S / r
//! V' = π r² S           A' = 2 π r
//! ```
//!
//! (Young-Laplace with gravity; the volume is integrated by parts, so nothing
//! cancels on small domes, and an overhanging edge is no special case.) Near
//! the apex the surface is nearly level and the exact solution is a modified
//! Bessel function; the integration starts where its slope reaches a small
//! `ε`, which costs an error of order `ε²` and carries puddles of any width.
//! The radius `r₁` of that place is the one unknown, found by secant steps.

use std::f64::consts::PI;

/// A solved round dome in units of the capillary length.
#[derive(Debug, Clone, Copy)]
pub(super) struct RoundDome {
    /// Volume over c³.
    pub volume: f64,
    /// Peak height over c.
    pub peak: f64,
    /// Free surface over c².
    pub surface: f64,
    /// Excess pressure at the flat top over γ/c.
    pub pressure: f64,
    /// Where the bend begins.
    start: Start,
}

/// The integration state along the meridian.
#[derive(Debug, Clone, Copy)]
struct State {
    r: f64,
    p: f64,
    sin: f64,
    cos: f64,
    volume: f64,
    surface: f64,
}

impl State {
    fn plus(self, by: f64, d: Self) -> Self {
        Self {
            r: self.r + by * d.r,
            p: self.p + by * d.p,
            sin: self.sin + by * d.sin,
            cos: self.cos + by * d.cos,
            volume: self.volume + by * d.volume,
            surface: self.surface + by * d.surface,
        }
    }

    fn scaled(self, by: f64) -> Self {
        Self {
            r: 0.0,
            p: 0.0,
            sin: 0.0,
            cos: 0.0,
            volume: 0.0,
            surface: 0.0,
        }
        .plus(by, self)
    }

    /// Meridional curvature `κ = P - S/r`.
    fn curvature(self) -> f64 {
        self.p - self.sin / self.r
    }

    /// Derivative along the arc.
    fn along_arc(self) -> Self {
        let bend = self.curvature();
        Self {
            r: self.cos,
            p: self.sin,
            sin: bend * self.cos,
            cos: -bend * self.sin,
            volume: PI * self.r * self.r * self.sin,
            surface: 2.0 * PI * self.r,
        }
    }

    /// Derivative with the inclination as the independent variable.
    fn along_inclination(self) -> Self {
        self.along_arc().scaled(1.0 / self.curvature())
    }
}

/// Where the linear apex region ends and the integration starts.
#[derive(Debug, Clone, Copy)]
struct Start {
    state: State,
    /// Pressure at the apex.
    apex_pressure: f64,
}

impl Start {
    /// The Bessel solution `u = 2k (I0(r) - 1)` out to where its slope is `slope`.
    fn at(radius: f64, slope: f64) -> Self {
        let bessel = Bessel::at(radius);
        // P = 2k I0, S ≈ slope = 2k I1, V = π 2k r² I2, A = π r²
        let apex_pressure = slope / bessel.i1_scaled * (-radius).exp();
        let state = State {
            r: radius,
            p: slope / bessel.i1_over_i0,
            sin: slope,
            cos: (1.0 - slope * slope).sqrt(),
            volume: PI * slope * radius * radius * bessel.i2_over_i1,
            surface: PI * radius * radius,
        };
        Self {
            state,
            apex_pressure,
        }
    }
}

/// Ratios of the modified Bessel functions of the first kind.
struct Bessel {
    i1_over_i0: f64,
    i2_over_i1: f64,
    /// `I1(x) exp(-x)`.
    i1_scaled: f64,
}

impl Bessel {
    /// Miller's backward recurrence `I(n-1) = (2n/x) I(n) + I(n+1)`, normalised
    /// by `exp(x) = I0 + 2 Σ I(n)` (Abramowitz and Stegun 9.6.26 and 9.6.37,
    /// from memory; checked against tables in the tests).
    fn at(x: f64) -> Self {
        let mut ratio = 0.0; // I(n+1) / I(n)
        let mut tail = 0.0; // (I(n+1) + I(n+2) + ...) / I(n)
        let mut first = 0.0; // I2 / I1
        // Terms die as exp(-n²/2x): enough of them for double precision.
        let terms = (12.0 + (80.0 * x).sqrt()).ceil();
        let mut n = terms;
        while n >= 1.0 {
            if n < 1.5 {
                first = ratio;
            }
            ratio = 1.0 / (2.0 * n / x + ratio);
            tail = ratio * (1.0 + tail);
            n -= 1.0;
        }
        let i0_scaled = 1.0 / (1.0 + 2.0 * tail);
        Self {
            i1_over_i0: ratio,
            i2_over_i1: first,
            i1_scaled: i0_scaled * ratio,
        }
    }
}

/// One step of the Dormand-Prince 5(4) pair (J. Comp. Appl. Math. 6, 1980;
/// coefficients from memory, their order shown in the tests): the new state
/// and the largest relative error estimate of a component.
fn dormand_prince(y: State, h: f64, f: impl Fn(State) -> State) -> (State, f64) {
    let k1 = f(y);
    let k2 = f(y.plus(h / 5.0, k1));
    let k3 = f(y.plus(h * 3.0 / 40.0, k1).plus(h * 9.0 / 40.0, k2));
    let k4 = f(y
        .plus(h * 44.0 / 45.0, k1)
        .plus(-h * 56.0 / 15.0, k2)
        .plus(h * 32.0 / 9.0, k3));
    let k5 = f(y
        .plus(h * 19372.0 / 6561.0, k1)
        .plus(-h * 25360.0 / 2187.0, k2)
        .plus(h * 64448.0 / 6561.0, k3)
        .plus(-h * 212.0 / 729.0, k4));
    let k6 = f(y
        .plus(h * 9017.0 / 3168.0, k1)
        .plus(-h * 355.0 / 33.0, k2)
        .plus(h * 46732.0 / 5247.0, k3)
        .plus(h * 49.0 / 176.0, k4)
        .plus(-h * 5103.0 / 18656.0, k5));
    let new = y
        .plus(h * 35.0 / 384.0, k1)
        .plus(h * 500.0 / 1113.0, k3)
        .plus(h * 125.0 / 192.0, k4)
        .plus(-h * 2187.0 / 6784.0, k5)
        .plus(h * 11.0 / 84.0, k6);
    let k7 = f(new);
    let error = k1
        .scaled(71.0 / 57600.0)
        .plus(-71.0 / 16695.0, k3)
        .plus(71.0 / 1920.0, k4)
        .plus(-17253.0 / 339_200.0, k5)
        .plus(22.0 / 525.0, k6)
        .plus(-1.0 / 40.0, k7)
        .scaled(h);
    // Every component but the cosine grows from zero, so each has its own scale.
    let share = [
        error.r / new.r,
        error.p / new.p,
        error.sin / (new.sin.abs() + y.sin.abs()),
        error.cos,
        error.volume / new.volume,
        error.surface / new.surface,
    ];
    (new, share.iter().fold(0.0, |a: f64, b| a.max(b.abs())))
}

/// Relative error allowed to one step of the integration.
const STEP_ERROR: f64 = 5e-9;
/// The slope at which the linear apex region ends, for edges much steeper.
const LEVEL_SLOPE: f64 = 1e-4;

/// Integrates from `start` to the inclination `angle`, calling `seen` at every
/// step, and returns the state at the edge.
fn integrate(start: &Start, angle: f64, mut seen: impl FnMut(&State)) -> State {
    let (sin_edge, cos_edge) = angle.sin_cos();
    let mut here = start.state;
    // The length over which the slope doubles, or so.
    let mut h = 0.5 / (0.5 + 1.0 / here.r);
    loop {
        let (next, error) = dormand_prince(here, h, State::along_arc);
        let good = error <= STEP_ERROR;
        if good && next.sin * cos_edge - next.cos * sin_edge >= 0.0 {
            break;
        }
        if good {
            here = next;
            seen(&here);
        }
        h *= (0.9 * (STEP_ERROR / error).powf(0.2)).clamp(0.2, 5.0);
    }
    // The last stretch by inclination, so that it ends exactly at the edge.
    let mut left = angle - here.sin.atan2(here.cos);
    let mut h = left;
    while left > 0.0 {
        let (next, error) = dormand_prince(here, h, State::along_inclination);
        if error <= STEP_ERROR {
            here = next;
            seen(&here);
            left = if h < left { left - h } else { 0.0 };
        }
        h = (h * (0.9 * (STEP_ERROR / error).powf(0.2)).clamp(0.2, 5.0)).min(left);
    }
    here
}

/// The dome of edge angle `angle` (radians, 0 to π exclusive) over a disc of
/// `radius` capillary lengths; `None` where the search for it fails.
pub(super) fn solve(radius: f64, angle: f64) -> Option<RoundDome> {
    let slope = LEVEL_SLOPE * angle.min(1.0);
    let at = |start: f64| {
        let start = Start::at(start, slope);
        let edge = integrate(&start, angle, |_| ());
        (edge.r - radius, start, edge)
    };
    let mut x = first_guess(radius, angle, slope);
    let (mut miss, mut start, mut edge) = at(x);
    // Close to d(edge radius)/d(start radius): growth of ln I1 at both ends.
    let growth = |x: f64| 1.0 / Bessel::at(x).i1_over_i0 - 1.0 / x;
    let mut rate = growth(x) / growth(radius);
    for _ in 0..40 {
        if miss.abs() <= 1e-9 * radius {
            return Some(RoundDome {
                volume: edge.volume,
                peak: edge.p - start.apex_pressure,
                surface: edge.surface,
                pressure: edge.p,
                start,
            });
        }
        let next = (x - miss / rate).clamp(0.1 * x, 2.0 * x);
        let (next_miss, next_start, next_edge) = at(next);
        let moved = next_miss - miss;
        if moved.abs() <= 0.0 {
            return None;
        }
        rate = moved / (next - x);
        (x, miss, start, edge) = (next, next_miss, next_start, next_edge);
    }
    None
}

/// The meridian of [`solve`]'s dome: radius and height over `c`, from the edge
/// inward.
pub(super) fn profile(radius: f64, angle: f64) -> Vec<(f64, f64)> {
    let Some(dome) = solve(radius, angle) else {
        return Vec::new();
    };
    let edge = dome.pressure;
    let apex = dome.start.apex_pressure;
    let mut points = vec![(0.0, edge - apex)];
    // The level part: u = (P₁ - P₀) (I0(r) - 1) / (I0(r₁) - 1), nearly a straight line here.
    points.push((dome.start.state.r, edge - dome.start.state.p));
    integrate(&dome.start, angle, |state| {
        points.push((state.r, edge - state.p));
    });
    points.reverse();
    points
}

/// A start radius from the linear solution, its edge slope adjusted for the
/// bend of a sphere (small blanks) or of a wide puddle's rim (large ones).
fn first_guess(radius: f64, angle: f64, slope: f64) -> f64 {
    // Rim of a wide puddle, exact in two dimensions:
    // x = ln tan(φ/4) + 2 cos(φ/2), so its linear tail looks like this slope.
    let rim = (4.0 * (angle / 4.0).tan()).ln() + 2.0 * (angle / 2.0).cos() - 2.0;
    let sphere = angle.sin().max(0.05).ln();
    let wide = radius * radius / (4.0 + radius * radius);
    let drop = slope.ln() - (wide * rim + (1.0 - wide) * sphere);
    // Solve ln I1(x) - ln I1(radius) = drop by Newton in ln x.
    let log_i1 = |x: f64| Bessel::at(x).i1_scaled.ln() + x;
    let goal = log_i1(radius) + drop;
    let mut x = radius;
    for _ in 0..30 {
        let bessel = Bessel::at(x);
        let growth = x / bessel.i1_over_i0 - 1.0; // d ln I1 / d ln x
        let step = (goal - (bessel.i1_scaled.ln() + x)) / growth;
        x *= step.clamp(-3.0, 1.0).exp();
        if step.abs() < 1e-3 {
            break;
        }
    }
    x
}
