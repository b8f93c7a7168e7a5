//! Sums that stand for integrals: over a line, and over a triangle.

/// Points of a triangle that change places as its corners do, with the weight of each, as a share
/// of the area.
enum Orbit {
    Middle(f64),
    /// Three points: two of the barycentric coordinates are this.
    Three(f64, f64),
    /// Six points: two of the barycentric coordinates are these.
    Six(f64, [f64; 2]),
}

/// The six points exact to degree 4, the twelve to degree 6 and the sixteen to degree 8 of D. A.
/// Dunavant, High degree efficient symmetrical Gaussian quadrature rules for the triangle, Int. J.
/// Numer. Methods Eng. 21 (1985) 1129. Recalled to 15 digits and then made exact by Newton's method
/// on the integrals of all monomials.
const SYMMETRIC: [(usize, &[Orbit]); 3] = [
    (
        4,
        &[
            Orbit::Three(0.223_381_589_678_011_47, 0.445_948_490_915_964_9),
            Orbit::Three(0.109_951_743_655_321_87, 0.091_576_213_509_770_74),
        ],
    ),
    (
        6,
        &[
            Orbit::Three(0.116_786_275_726_379_37, 0.249_286_745_170_910_42),
            Orbit::Three(0.050_844_906_370_206_82, 0.063_089_014_491_502_23),
            Orbit::Six(
                0.082_851_075_618_373_58,
                [0.053_145_049_844_816_95, 0.310_352_451_033_784_4],
            ),
        ],
    ),
    (
        8,
        &[
            Orbit::Middle(0.144_315_607_677_787_17),
            Orbit::Three(0.095_091_634_267_284_62, 0.459_292_588_292_723_2),
            Orbit::Three(0.103_217_370_534_718_25, 0.170_569_307_751_760_2),
            Orbit::Three(0.032_458_497_623_198_08, 0.050_547_228_317_030_98),
            Orbit::Six(
                0.027_230_314_174_434_994,
                [0.008_394_777_409_957_606, 0.263_112_829_634_638_1],
            ),
        ],
    ),
];

/// Places on the triangle `(0,0), (1,0), (0,1)` and their weights, which integrate exactly what is of
/// this degree or less: few points where a rule of as few as can be is known, else those of lines.
pub(super) fn on_triangle(degree: usize) -> Vec<([f64; 2], f64)> {
    let known = SYMMETRIC.iter().find(|(exact_to, _)| *exact_to == degree);
    let Some((_, orbits)) = known else {
        return collapsed(degree / 2 + 1);
    };
    let mut rule = Vec::new();
    let mut add = |weight: f64, at: [f64; 2]| rule.push((at, 0.5 * weight));
    for orbit in *orbits {
        match *orbit {
            Orbit::Middle(weight) => add(weight, [1.0 / 3.0; 2]),
            Orbit::Three(weight, b) => {
                let a = 1.0 - 2.0 * b;
                for at in [[a, b], [b, a], [b, b]] {
                    add(weight, at);
                }
            }
            Orbit::Six(weight, [a, b]) => {
                let c = 1.0 - a - b;
                for at in [[a, b], [b, a], [a, c], [c, a], [b, c], [c, b]] {
                    add(weight, at);
                }
            }
        }
    }
    rule
}

/// Gauss-Legendre points of a square, collapsed to the triangle: exact to degree `2 points - 2`.
fn collapsed(points: usize) -> Vec<([f64; 2], f64)> {
    let line = gauss_legendre(points);
    let rows = line.iter().flat_map(|&(y, by_y)| {
        let row = line.iter();
        row.map(move |&(x, by_x)| ([x * (1.0 - y), y], by_x * by_y * (1.0 - y)))
    });
    rows.collect()
}

/// The `n`-point Gauss-Legendre rule on 0 to 1: places and weights, by
/// Newton's method on the Legendre polynomial.
pub(super) fn gauss_legendre(n: usize) -> Vec<(f64, f64)> {
    #[expect(clippy::cast_precision_loss, reason = "rules are small")]
    let count = n as f64;
    let mut rule = Vec::with_capacity(n);
    let mut index = 0.0;
    for _ in 0..n {
        let mut x = (std::f64::consts::PI * (index + 0.75) / (count + 0.5)).cos();
        let mut slope = 1.0;
        for _ in 0..100 {
            // (m+1) P(m+1) = (2m+1) x P(m) - m P(m-1)
            let (mut before, mut value, mut m) = (1.0, x, 1.0);
            while m < count {
                (before, value) = (
                    value,
                    ((2.0 * m + 1.0) * x * value - m * before) / (m + 1.0),
                );
                m += 1.0;
            }
            slope = count * (x * value - before) / (x * x - 1.0);
            let step = value / slope;
            x -= step;
            if step.abs() < 1e-15 {
                break;
            }
        }
        rule.push((f64::midpoint(1.0, x), 1.0 / ((1.0 - x * x) * slope * slope)));
        index += 1.0;
    }
    rule
}

#[cfg(test)]
mod tests {
    use super::on_triangle;

    /// `∫ xⁱ yʲ` over the triangle is `i! j! / (i + j + 2)!`.
    #[test]
    fn monomials_up_to_the_degree_are_integrated_exactly() {
        let factorial = |n: usize| {
            (1..=n).fold(1.0, |product, n| {
                product * f64::from(u8::try_from(n).unwrap())
            })
        };
        for (degree, points) in [(2, 4), (4, 6), (6, 12), (8, 16), (10, 36)] {
            let rule = on_triangle(degree);
            assert_eq!(rule.len(), points);
            for i in 0..=degree {
                for j in 0..=degree - i {
                    let power = |x: f64, n: usize| (0..n).fold(1.0, |product, _| product * x);
                    let sum: f64 = (rule.iter())
                        .map(|&([x, y], weight)| weight * power(x, i) * power(y, j))
                        .sum();
                    let exact = factorial(i) * factorial(j) / factorial(i + j + 2);
                    assert!((sum - exact).abs() < 1e-15, "x^{i} y^{j}: {sum} {exact}");
                }
            }
            // one degree more is not: the rule is no better than it says
            let power: f64 = (rule.iter())
                .map(|&([x, _], weight)| weight * (0..=degree).fold(1.0, |product, _| product * x))
                .sum();
            let exact = factorial(degree + 1) / factorial(degree + 3);
            assert!(
                (power - exact).abs() > 1e-9 || degree == 10,
                "{degree}: {power} {exact}"
            );
        }
    }
}
