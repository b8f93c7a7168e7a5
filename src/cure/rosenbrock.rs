//! Two coupled ordinary differential equations, one of which may settle far faster
//! than the other: a stiff pair, which an explicit method would follow in tiny steps.

use super::numeric::root;

/// The two unknowns.
pub(super) type State = [f64; 2];

/// What is followed: `dy/dt = slope(y)`.
pub(super) struct Pair<'a> {
    pub(super) slope: &'a dyn Fn(&State) -> State,
    /// What counts as a change of each unknown: errors are told against it, and the
    /// slopes' own slopes are taken over a millionth of it.
    pub(super) scale: State,
    /// Each step's error stays below this share of the scale.
    pub(super) tolerance: f64,
}

/// How following ended.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum End {
    /// The first unknown fell to the goal after so many seconds.
    Reached(f64, State),
    /// The time was up.
    TimeUp(State),
    /// Nothing changes any more.
    AtRest(State),
}

/// Where to stop.
pub(super) struct Until<'a> {
    /// The first unknown has fallen to this.
    pub(super) goal: f64,
    /// So many seconds have gone by; may be infinite.
    pub(super) seconds: f64,
    /// Nothing changes any more, by the state's slope.
    pub(super) at_rest: &'a dyn Fn(&State) -> bool,
}

/// Steps end at rest, at the goal or with the time long before this.
const MOST_STEPS: u32 = 1_000_000;

impl Pair<'_> {
    /// Follows the pair from `start`, trying `first` seconds at first, by the method of
    /// Sandu and others (1997): four stages, third order with one of second beside it,
    /// and damping as strong as that of an implicit Euler step. What the slopes keep
    /// constant, such as water that only changes places, it keeps as well.
    pub(super) fn follow(&self, start: State, first: f64, until: &Until) -> End {
        let (mut t, mut y, mut h) = (0.0, start, first);
        for _ in 0..MOST_STEPS {
            if (until.at_rest)(&(self.slope)(&y)) {
                return End::AtRest(y);
            }
            let jacobian = self.jacobian(&y);
            let left = until.seconds - t;
            let long = h.min(left);
            let (next, error) = self.step(&y, &jacobian, long);
            if error <= 1.0 {
                if next[0] <= until.goal {
                    let short = |long: f64| self.step(&y, &jacobian, long).0[0] - until.goal;
                    let long = root(short, 0.0, long);
                    return End::Reached(t + long, self.step(&y, &jacobian, long).0);
                }
                (t, y) = (t + long, next);
                if long >= left {
                    return End::TimeUp(y);
                }
            }
            // the error goes with h^3
            h = long * (0.9 * error.max(1e-9).powf(-1.0 / 3.0)).clamp(0.2, 6.0);
        }
        End::AtRest(y)
    }

    /// Slopes of the slopes, `J[i][j] = d slope_i / d y_j`, by small differences.
    fn jacobian(&self, y: &State) -> [State; 2] {
        let here = (self.slope)(y);
        let mut columns = [[0.0; 2]; 2];
        for (j, column) in columns.iter_mut().enumerate() {
            let mut beside = *y;
            beside[j] += 1e-6 * self.scale[j];
            let by = beside[j] - y[j];
            let there = (self.slope)(&beside);
            *column = std::array::from_fn(|i| (there[i] - here[i]) / by);
        }
        std::array::from_fn(|i| [columns[0][i], columns[1][i]])
    }

    /// One step of `h`: where it ends, and its error in units of what is allowed.
    ///
    /// ```text
    /// (1/(gamma h) - J) U_i = f(y + sum a_ij U_j) + sum (c_ij/h) U_j,   gamma = 1/2
    /// ```
    fn step(&self, y: &State, jacobian: &[State; 2], h: f64) -> (State, f64) {
        if h <= 0.0 {
            return (*y, 0.0);
        }
        let solve = |right: State| solve(jacobian, 2.0 / h, right);
        let sum = |terms: &[(f64, &State)]| -> State {
            std::array::from_fn(|i| terms.iter().map(|(w, u)| w * u[i]).sum())
        };
        let slope_at = |terms: &[(f64, &State)]| {
            let off = sum(terms);
            (self.slope)(&[y[0] + off[0], y[1] + off[1]])
        };
        let right = |f: &State, terms: &[(f64, &State)]| -> State {
            let by = sum(terms);
            [f[0] + by[0] / h, f[1] + by[1] / h]
        };
        let f1 = (self.slope)(y);
        // a21 = 0: the second stage looks at the same place
        let u1 = solve(f1);
        let u2 = solve(right(&f1, &[(4.0, &u1)]));
        let f3 = slope_at(&[(2.0, &u1)]);
        let u3 = solve(right(&f3, &[(1.0, &u1), (-1.0, &u2)]));
        let f4 = slope_at(&[(2.0, &u1), (1.0, &u3)]);
        let u4 = solve(right(&f4, &[(1.0, &u1), (-1.0, &u2), (-8.0 / 3.0, &u3)]));
        let off = sum(&[(2.0, &u1), (1.0, &u3), (1.0, &u4)]);
        // the last stage is the difference from the second-order result
        let error = (0..2)
            .map(|i| u4[i].abs() / (self.tolerance * self.scale[i]))
            // a NaN counts as far too large
            .map(|error| if error.is_nan() { 1e9 } else { error })
            .fold(0.0, f64::max);
        ([y[0] + off[0], y[1] + off[1]], error)
    }
}

/// Solves `(diagonal - J) u = right`.
fn solve(jacobian: &[State; 2], diagonal: f64, right: State) -> State {
    let [[a, b], [c, d]] = *jacobian;
    let (a, d) = (diagonal - a, diagonal - d);
    let determinant = a * d - b * c;
    [
        (d * right[0] + b * right[1]) / determinant,
        (a * right[1] + c * right[0]) / determinant,
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    const NEVER: &dyn Fn(&State) -> bool = &|_| false;

    /// A pendulum's circle from its top: `x = cos t` falls to a half at pi/3.
    fn third_of_a_turn(tolerance: f64) -> f64 {
        let pair = Pair {
            slope: &|y| [y[1], -y[0]],
            scale: [1.0, 1.0],
            tolerance,
        };
        let until = Until {
            goal: 0.5,
            seconds: f64::INFINITY,
            at_rest: NEVER,
        };
        match pair.follow([1.0, 0.0], 0.01, &until) {
            End::Reached(t, _) => t,
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn a_finer_tolerance_comes_closer_by_its_order() {
        let exact = std::f64::consts::FRAC_PI_3;
        let errors = [1e-5, 1e-7, 1e-9].map(|tol| (third_of_a_turn(tol) - exact).abs());
        assert!(errors[0] < 1e-3 && errors[2] < 1e-6, "{errors:?}");
        assert!(
            errors[0] > 10.0 * errors[1] && errors[1] > 10.0 * errors[2],
            "{errors:?}"
        );
    }

    /// One unknown settles a million times faster than the other: `x' = -y`,
    /// `y' = 1e6 (x - y)`, so that x is nearly exp(-t).
    #[test]
    fn a_stiff_pair_takes_few_steps_and_stays_close() {
        let calls = std::cell::Cell::new(0);
        let pair = Pair {
            slope: &|y| {
                calls.set(calls.get() + 1);
                [-y[1], 1e6 * (y[0] - y[1])]
            },
            scale: [1.0, 1.0],
            tolerance: 1e-8,
        };
        let until = Until {
            goal: 0.01,
            seconds: f64::INFINITY,
            at_rest: NEVER,
        };
        let End::Reached(t, y) = pair.follow([1.0, 0.0], 1e-3, &until) else {
            panic!("it falls");
        };
        // x = exp(-s t) with s = 1 + 1e-6, and y = s x, to first order in 1e-6
        assert!((t - 100f64.ln()).abs() < 1e-5, "{t}");
        assert!(
            (y[0] - 0.01).abs() < 1e-12 && (y[1] - 0.01).abs() < 1e-6,
            "{y:?}"
        );
        assert!(calls.get() < 10_000, "{}", calls.get());
    }

    /// What one loses the other gains: the sum stays to rounding, and the pair comes
    /// to rest where both are equal.
    #[test]
    fn what_only_changes_places_is_kept_until_rest() {
        let pair = Pair {
            slope: &|y| [y[1] - y[0], y[0] - y[1]],
            scale: [1.0, 1.0],
            tolerance: 1e-6,
        };
        let until = Until {
            goal: 0.0,
            seconds: f64::INFINITY,
            at_rest: &|slope| slope[0].abs() < 1e-9,
        };
        let End::AtRest(y) = pair.follow([1.0, 0.25], 0.1, &until) else {
            panic!("it rests");
        };
        assert!((y[0] + y[1] - 1.25).abs() < 1e-12, "{y:?}");
        assert!((y[0] - 0.625).abs() < 1e-8, "{y:?}");
    }
}
