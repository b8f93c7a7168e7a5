//! Ordinary differential equations by one embedded Runge-Kutta pair with dense output.

use super::numeric::root;

/// The state of a system of `N` equations.
type State<const N: usize> = [f64; N];

/// How closely to follow a solution: each step's error stays below
/// `relative |y| + absolute` in every component.
#[derive(Debug, Clone, Copy)]
pub(super) struct Tolerance<const N: usize> {
    pub(super) relative: f64,
    pub(super) absolute: State<N>,
}

/// One accepted step, which can tell the solution anywhere inside it.
pub(super) struct Step<const N: usize> {
    /// Where it starts and how long it is.
    from: f64,
    long: f64,
    /// Coefficients of the fourth-order interpolant.
    parts: [State<N>; 5],
}

/// `y + sum of h w k`.
fn along<const N: usize>(y: &State<N>, h: f64, terms: &[(f64, &State<N>)]) -> State<N> {
    std::array::from_fn(|i| y[i] + h * terms.iter().map(|(w, k)| w * k[i]).sum::<f64>())
}

impl<const N: usize> Step<N> {
    /// The solution at a share of the step, 0 to 1.
    fn at_share(&self, s: f64) -> State<N> {
        let r = 1.0 - s;
        let [p0, p1, p2, p3, p4] = &self.parts;
        // y = p0 + s (p1 + r (p2 + s (p3 + r p4)))
        std::array::from_fn(|i| p0[i] + s * (p1[i] + r * (p2[i] + s * (p3[i] + r * p4[i]))))
    }

    /// When, inside the step, `watched` passes from below zero to above, if it does:
    /// the time and the state then.
    pub(super) fn crossing(&self, watched: impl Fn(&State<N>) -> f64) -> Option<(f64, State<N>)> {
        let at = |s: f64| watched(&self.at_share(s));
        if at(0.0) >= 0.0 || at(1.0) < 0.0 {
            return None;
        }
        let s = root(at, 0.0, 1.0);
        Some((self.from + s * self.long, self.at_share(s)))
    }
}

/// Follows `dy/dt = slope(y)` from `start` at time 0, handing over each accepted
/// step, until `more` says no. The seven-stage pair of Dormand and Prince (1980),
/// orders 5 and 4.
///
/// `first` is the length of the first step tried.
pub(super) fn follow<const N: usize>(
    slope: impl Fn(&State<N>) -> State<N>,
    start: State<N>,
    first: f64,
    tolerance: &Tolerance<N>,
    mut more: impl FnMut(&Step<N>) -> bool,
) {
    let (mut t, mut y, mut h) = (0.0, start, first);
    let mut k1 = slope(&y);
    for _ in 0..100_000 {
        let (next, stages) = attempt(&slope, &y, &k1, h);
        let worst = worst_error(h, &stages, [&y, &next], tolerance);
        if worst <= 1.0 {
            let step = Step {
                from: t,
                long: h,
                parts: interpolant(h, &stages, [&y, &next]),
            };
            if !more(&step) {
                return;
            }
            let [.., k7] = stages;
            (t, y, k1) = (t + h, next, k7);
        }
        // the step's error goes with h^5
        h *= (0.9 * worst.max(1e-10).powf(-0.2)).clamp(0.2, 5.0);
    }
}

/// One step tried: where it ends, and the slopes k1, k3, k4, k5, k6 and k7.
fn attempt<const N: usize>(
    slope: &impl Fn(&State<N>) -> State<N>,
    y: &State<N>,
    k1: &State<N>,
    h: f64,
) -> (State<N>, [State<N>; 6]) {
    let try_along = |terms: &[(f64, &State<N>)]| slope(&along(y, h, terms));
    let k2 = try_along(&[(1.0 / 5.0, k1)]);
    let k3 = try_along(&[(3.0 / 40.0, k1), (9.0 / 40.0, &k2)]);
    let k4 = try_along(&[(44.0 / 45.0, k1), (-56.0 / 15.0, &k2), (32.0 / 9.0, &k3)]);
    let k5 = try_along(&[
        (19_372.0 / 6561.0, k1),
        (-25_360.0 / 2187.0, &k2),
        (64_448.0 / 6561.0, &k3),
        (-212.0 / 729.0, &k4),
    ]);
    let k6 = try_along(&[
        (9017.0 / 3168.0, k1),
        (-355.0 / 33.0, &k2),
        (46_732.0 / 5247.0, &k3),
        (49.0 / 176.0, &k4),
        (-5103.0 / 18_656.0, &k5),
    ]);
    let last = [
        (35.0 / 384.0, k1),
        (500.0 / 1113.0, &k3),
        (125.0 / 192.0, &k4),
        (-2187.0 / 6784.0, &k5),
        (11.0 / 84.0, &k6),
    ];
    let next = along(y, h, &last);
    let k7 = slope(&next);
    (next, [*k1, k3, k4, k5, k6, k7])
}

/// The pair's own estimate of a step's error, in units of what is allowed.
fn worst_error<const N: usize>(
    h: f64,
    stages: &[State<N>; 6],
    [y, next]: [&State<N>; 2],
    tolerance: &Tolerance<N>,
) -> f64 {
    // the fifth-order weights less the fourth-order ones, for k1, k3 ... k7
    const E: [f64; 6] = [
        71.0 / 57_600.0,
        -71.0 / 16_695.0,
        71.0 / 1920.0,
        -17_253.0 / 339_200.0,
        22.0 / 525.0,
        -1.0 / 40.0,
    ];
    (0..N)
        .map(|i| {
            let error = h * E.iter().zip(stages).map(|(e, k)| e * k[i]).sum::<f64>();
            let size = y[i].abs().max(next[i].abs());
            error.abs() / (tolerance.relative * size + tolerance.absolute[i])
        })
        // a NaN counts as far too large
        .map(|error| if error.is_nan() { 1e10 } else { error })
        .fold(0.0, f64::max)
}

/// The fourth-order interpolant of Shampine (1986) for this pair.
fn interpolant<const N: usize>(
    h: f64,
    stages: &[State<N>; 6],
    [y, next]: [&State<N>; 2],
) -> [State<N>; 5] {
    const D: [f64; 6] = [
        -12_715_105_075.0 / 11_282_082_432.0,
        87_487_479_700.0 / 32_700_410_799.0,
        -10_690_763_975.0 / 1_880_347_072.0,
        701_980_252_875.0 / 199_316_789_632.0,
        -1_453_857_185.0 / 822_651_844.0,
        69_997_945.0 / 29_380_423.0,
    ];
    let [k1, .., k7] = stages;
    let rise: State<N> = std::array::from_fn(|i| next[i] - y[i]);
    let bend: State<N> = std::array::from_fn(|i| h * k1[i] - rise[i]);
    [
        *y,
        rise,
        bend,
        std::array::from_fn(|i| rise[i] - h * k7[i] - bend[i]),
        std::array::from_fn(|i| h * D.iter().zip(stages).map(|(d, k)| d * k[i]).sum::<f64>()),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A pendulum's circle: `x'' = -x`, whose zero at pi/2 is exact.
    fn quarter(relative: f64) -> (f64, u32) {
        let tolerance = Tolerance {
            relative,
            absolute: [relative; 2],
        };
        let (mut found, mut steps) = (f64::NAN, 0);
        follow(
            |y| [y[1], -y[0]],
            [1.0, 0.0],
            0.01,
            &tolerance,
            |step| {
                steps += 1;
                if let Some((t, _)) = step.crossing(|y| -y[0]) {
                    found = t;
                }
                found.is_nan()
            },
        );
        (found, steps)
    }

    #[test]
    fn a_quarter_turn_ends_at_half_pi_and_closer_with_a_finer_tolerance() {
        let exact = std::f64::consts::FRAC_PI_2;
        let errors = [1e-6, 1e-8, 1e-10].map(|tol| (quarter(tol).0 - exact).abs());
        assert!(errors[0] < 1e-5 && errors[2] < 1e-9, "{errors:?}");
        // the error of a step goes with its tolerance, give or take the order's 4/5
        assert!(
            errors[0] > 10.0 * errors[1] && errors[1] > 10.0 * errors[2],
            "{errors:?}"
        );
        assert!(quarter(1e-8).1 < 60);
    }
}
