//! Sums that stand for integrals: over a line, and over a triangle.

/// Points of a triangle that change places as its corners do, with the weight of each, as a share
/// of the area.
enum Orbit {
    /// Three points: two of the barycentric coordinates are this.
    Three(f64, f64),
    /// Six points: two of the barycentric coordinates are these.
    Six(f64, [f64; 2]),
}

/// The six points exact to degree 4 and the twelve to degree 6 of D. A.
/// Dunavant, High degree efficient symmetrical Gaussian quadrature rules for the triangle, Int. J.
/// Numer. Methods Eng. 21 (1985) 1129. Recalled to 15 digits and then made exact by Newton's method
/// on the integrals of all monomials.
const SYMMETRIC: [(usize, &[Orbit]); 2] = [
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
];

/// Places on the triangle `(0,0), (1,0), (0,1)` and their weights, which integrate exactly what is of
/// this degree or less: few points up to degree 6, those of lines above. Sixteen points that are exact
/// to degree 8 took too much off what order 5 is for, a square's sharp corners: 2.5e-4 of the volume.
pub(super) fn on_triangle(degree: usize) -> Vec<([f64; 2], f64)> {
    let known = SYMMETRIC.iter().find(|(exact_to, _)| *exact_to == degree);
    let Some((_, orbits)) = known else {
        return collapsed(degree / 2 + 1);
    };
    let mut rule = Vec::new();
    let mut add = |weight: f64, at: [f64; 2]| rule.push((at, 0.5 * weight));
    for orbit in *orbits {
        match *orbit {
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
        for (degree, points) in [(2, 4), (4, 6), (6, 12), (8, 25), (10, 36)] {
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
