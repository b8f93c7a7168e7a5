//! Root finding, quadrature and the gas constant, shared by the laws.

use std::f64::consts::PI;

/// Gas constant, `[J/(mol K)]`, exact since 2019.
pub(super) const GAS_CONSTANT: f64 = 8.314_462_618;

/// Root of `f` between `a` and `b`, which must bracket it.
///
/// Chandrupatla's method (1997): inverse quadratic steps where they are
/// trustworthy, bisection where they are not, so it never leaves the bracket.
/// Converges to about 1e-15 of the bracket's ends. If both ends have the same
/// sign (a root at an end, blurred by rounding), the end nearer zero is returned.
pub(super) fn root(f: impl Fn(f64) -> f64, a: f64, b: f64) -> f64 {
    let (mut x1, mut x2) = (b, a);
    let (mut f1, mut f2) = (f(x1), f(x2));
    if f1 == 0.0 || f2 == 0.0 || (f1 > 0.0) == (f2 > 0.0) {
        return if f1.abs() < f2.abs() { x1 } else { x2 };
    }
    let mut step = 0.5;
    for _ in 0..100 {
        let x = x1 + step * (x2 - x1);
        let fx = f(x);
        // keep x1 the newest point, x2 the other end of the bracket
        let (x3, f3);
        if (fx > 0.0) == (f1 > 0.0) {
            (x3, f3) = (x1, f1);
        } else {
            (x3, f3) = (x2, f2);
            (x2, f2) = (x1, f1);
        }
        (x1, f1) = (x, fx);
        let (best, f_best) = if f1.abs() < f2.abs() {
            (x1, f1)
        } else {
            (x2, f2)
        };
        let tolerance = 2.0 * f64::EPSILON * best.abs() + 1e-18;
        let smallest = tolerance / (x2 - x1).abs();
        if smallest > 0.5 || f_best == 0.0 {
            return best;
        }
        let xi = (x1 - x2) / (x3 - x2);
        let phi = (f1 - f2) / (f3 - f2);
        step = if phi * phi < xi && (1.0 - phi) * (1.0 - phi) < 1.0 - xi {
            f1 / (f2 - f1) * f3 / (f2 - f3)
                + (x3 - x1) / (x2 - x1) * f1 / (f3 - f1) * f2 / (f3 - f2)
        } else {
            0.5
        }
        .clamp(smallest, 1.0 - smallest);
    }
    x1
}

/// Root of a function that is nearly a straight line, from a point and its value
/// and a guess, by the secant method; `None` where a few steps do not settle it to
/// a billionth of the guess, by when it is closer still.
pub(super) fn secant(f: impl Fn(f64) -> f64, known: (f64, f64), guess: f64) -> Option<f64> {
    let ((mut x0, mut f0), mut x1) = (known, guess);
    for _ in 0..8 {
        let f1 = f(x1);
        let step = f1 * (x1 - x0) / (f1 - f0);
        if f1 == 0.0 {
            return Some(x1);
        }
        (x0, f0, x1) = (x1, f1, x1 - step);
        if step.abs() < 1e-9 * guess.abs() {
            return Some(x1);
        }
    }
    None
}

/// Nodes and weights of the 8-point Gauss-Legendre rule on -1..1, positive half.
const GAUSS_8: [(f64, f64); 4] = [
    (0.183_434_642_495_649_8, 0.362_683_783_378_362),
    (0.525_532_409_916_329, 0.313_706_645_877_887_3),
    (0.796_666_477_413_626_7, 0.222_381_034_453_374_5),
    (0.960_289_856_497_536_3, 0.101_228_536_290_376_3),
];

/// Integral of `f` from `a` to `b` by `panels` panels of the 8-point Gauss rule.
pub(super) fn integral(f: impl Fn(f64) -> f64, a: f64, b: f64, panels: u32) -> f64 {
    let half = (b - a) / (2.0 * f64::from(panels));
    (0..panels)
        .map(|i| {
            let middle = a + half * (2.0 * f64::from(i) + 1.0);
            let sum: f64 = GAUSS_8
                .iter()
                .map(|&(x, w)| w * (f(middle - half * x) + f(middle + half * x)))
                .sum();
            sum * half
        })
        .sum()
}

/// The polynomial through a function's values at Chebyshev's points.
pub(super) struct Interpolant {
    /// Points, value and barycentric weight at each.
    nodes: Vec<(f64, f64, f64)>,
}

impl Interpolant {
    /// Through `count` points of the second kind from `a` to `b`, both ends among them.
    pub(super) fn through(count: usize, a: f64, b: f64, f: impl Fn(f64) -> f64) -> Self {
        let last = count.saturating_sub(1);
        let node = |i: usize| {
            #[expect(clippy::cast_precision_loss, reason = "a handful of nodes")]
            let angle = PI * i as f64 / last.max(1) as f64;
            let x = if i == 0 {
                a
            } else if i == last {
                b
            } else {
                0.5 * (a + b) - 0.5 * (b - a) * angle.cos()
            };
            // Salzer's weights: alternating, halved at the ends
            let sign = if i.is_multiple_of(2) { 1.0 } else { -1.0 };
            let weight = if i == 0 || i == last {
                0.5 * sign
            } else {
                sign
            };
            (x, f(x), weight)
        };
        Self {
            nodes: (0..count).map(node).collect(),
        }
    }

    /// Its value, by the second barycentric formula (Berrut and Trefethen 2004).
    pub(super) fn at(&self, x: f64) -> f64 {
        let (mut above, mut below) = (0.0, 0.0);
        for &(node, value, weight) in &self.nodes {
            let away = x - node;
            if away == 0.0 {
                return value;
            }
            above += weight / away * value;
            below += weight / away;
        }
        above / below
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn roots_of_known_functions_are_found() {
        assert!((root(|x| x * x - 2.0, 0.0, 2.0) - 2f64.sqrt()).abs() < 1e-14);
        assert!((root(f64::cos, 0.0, 3.0) - std::f64::consts::FRAC_PI_2).abs() < 1e-14);
        assert!(root(|x| x.powi(9), -1.0, 4.0).abs() < 1e-2, "a flat root");
        assert!((root(|x| 4.0 - x, 0.0, 4.0) - 4.0).abs() < 1e-15);
        assert!(
            (root(|x| x - 1.0, 1.0, 5.0) - 1.0).abs() < 1e-15,
            "a root at the end"
        );
    }

    #[test]
    fn a_polynomial_is_read_back_exactly_by_as_many_nodes() {
        let cubic = |x: f64| 1.0 - x + 2.0 * x * x - 3.0 * x.powi(3);
        let read = Interpolant::through(4, -1.0, 2.5, cubic);
        for i in 0..=35 {
            let x = -1.0 + 0.1 * f64::from(i);
            assert!((read.at(x) - cubic(x)).abs() < 1e-12, "{x}");
        }
    }

    #[test]
    fn gauss_rule_is_exact_to_degree_fifteen() {
        for degree in 0..16 {
            let exact = 1.0 / f64::from(degree + 1);
            let got = integral(|x| x.powi(degree), 0.0, 1.0, 1);
            assert!((got - exact).abs() < 1e-14, "degree {degree}: {got}");
        }
        assert!((integral(|x| x.powi(16), 0.0, 1.0, 1) - 1.0 / 17.0).abs() > 1e-14);
    }
}
