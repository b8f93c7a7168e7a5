//! Outlines of random points and texts.

use brimful::geometry::{Outline, OutlineError};
use brimful::quantity::Length;
use proptest::prelude::*;
use proptest::test_runner::FileFailurePersistence;

fn mm(value: f64) -> Length {
    Length::from_mm(value)
}

fn outline(points: &[[f64; 2]]) -> Result<Outline, OutlineError> {
    let points: Vec<[Length; 2]> = points.iter().map(|p| p.map(mm)).collect();
    Outline::points(&points, mm(0.0))
}

/// The area inside straight sides, left turns positive.
fn shoelace(points: &[[f64; 2]]) -> f64 {
    let next = points.iter().cycle().skip(1);
    let twice: f64 = points
        .iter()
        .zip(next)
        .map(|(a, b)| a[0] * b[1] - a[1] * b[0])
        .sum();
    twice / 2.0
}

/// Closed runs of points about the origin, each seen from there, counter-clockwise,
/// from 2 mm to 1 m in size.
fn stars(most: usize) -> impl Strategy<Value = Vec<[f64; 2]>> {
    let spokes = prop::collection::vec((0.35..1.0_f64, 0.1..0.9_f64), 4..most);
    (spokes, 0.0..3.0_f64).prop_map(|(spokes, decades)| {
        let (count, size) = (spokes.len(), 10.0_f64.powf(decades));
        let spoke = |(i, (radius, place)): (usize, &(f64, f64))| {
            #[expect(clippy::cast_precision_loss, reason = "a count of spokes")]
            let angle = std::f64::consts::TAU * (i as f64 + place) / count as f64;
            [size * radius * angle.cos(), size * radius * angle.sin()]
        };
        spokes.iter().enumerate().map(spoke).collect()
    })
}

/// Whether two of the sides that are no neighbours cross, by looking at all pairs.
fn crosses(points: &[[f64; 2]]) -> bool {
    let n = points.len();
    let across = |o: [f64; 2], p: [f64; 2], q: [f64; 2]| {
        (p[0] - o[0]) * (q[1] - o[1]) - (p[1] - o[1]) * (q[0] - o[0])
    };
    (0..n).any(|i| {
        (i + 2..n).filter(|j| (j + 1) % n != i).any(|j| {
            let [a, b, c, d] = [i, (i + 1) % n, j, (j + 1) % n].map(|k| points[k]);
            across(a, b, c) * across(a, b, d) < 0.0 && across(c, d, a) * across(c, d, b) < 0.0
        })
    })
}

/// Failed cases are kept with those of the sources; `PROPTEST_CASES` asks for more cases.
fn config() -> ProptestConfig {
    let kept = FileFailurePersistence::Direct("proptest-regressions/tests/outline_random.txt");
    let asked = ProptestConfig::default();
    let few = std::env::var_os("PROPTEST_CASES").is_none();
    ProptestConfig {
        cases: if few { 96 } else { asked.cases },
        failure_persistence: Some(Box::new(kept)),
        ..asked
    }
}

proptest! {
    #![proptest_config(config())]

    /// The stated tolerance: nowhere further from the given sides than 5e-4 of the
    /// shorter extent.
    #[test]
    fn an_outline_of_points_has_their_area_however_they_are_listed(points in stars(60), turn in 0.0..6.3_f64) {
        let made = outline(&points).expect("an outline");
        let slack = 5e-4 * made.across().mm() * made.perimeter().mm();
        let area = made.area().mm2();
        prop_assert!((area - shoelace(&points)).abs() <= slack);
        let (sin, cos) = turn.sin_cos();
        let turned: Vec<_> = points.iter().map(|[x, y]| [x * cos - y * sin, x * sin + y * cos]).collect();
        let mirrored: Vec<_> = points.iter().map(|[x, y]| [-x, *y]).collect();
        let backward: Vec<_> = points.iter().rev().copied().collect();
        let mut repeated = points.clone();
        repeated.push(points[0]);
        let mut later = points.clone();
        later.rotate_left(points.len() / 2);
        // The extent that the tolerance is measured by turns with the points, and
        // with it what counts as smooth.
        let other = outline(&turned).expect("turned");
        prop_assert!((other.area().mm2() - area).abs() <= 2.0 * slack);
        for other in [mirrored, backward, repeated, later] {
            let other = outline(&other).expect("listed otherwise");
            prop_assert!((other.area().mm2() / area - 1.0).abs() < 1e-9);
            prop_assert!((other.perimeter() / made.perimeter() - 1.0).abs() < 1e-9);
            prop_assert_eq!(other.corners().len(), made.corners().len());
        }
    }

    #[test]
    fn what_is_drawn_runs_counter_clockwise_and_holds_the_middle(points in stars(60)) {
        let made = outline(&points).expect("an outline");
        let drawn: Vec<_> = made.drawn(made.across() * 1e-4)[0].iter().map(|p| p.map(Length::mm)).collect();
        prop_assert!((shoelace(&drawn) / made.area().mm2() - 1.0).abs() < 1e-2);
        prop_assert!(made.contains(mm(0.0), mm(0.0)));
        let [width, height] = made.size();
        prop_assert!(!made.contains(made.middle()[0] + width, made.middle()[1] + height));
    }

    /// A fillet takes r² (tan φ/2 - φ/2) off where the sides turn left by φ, and adds
    /// it where they turn right.
    #[test]
    fn rounded_corners_take_off_what_geometry_says(points in stars(12), share in 0.05..0.99_f64) {
        let sharp = outline(&points).expect("an outline");
        let corners = sharp.corners();
        prop_assume!(corners.len() == points.len());
        let Err(OutlineError::Corner { most, .. }) = sharp.with_corner(sharp.perimeter()) else {
            panic!("so large a radius fits nowhere");
        };
        let radius = most * share;
        let round = sharp.with_corner(radius).expect("a smaller radius");
        let bits: f64 = corners
            .iter()
            .map(|corner| {
                let half = (std::f64::consts::PI - corner.inner_angle.rad()) / 2.0;
                half.tan() - half
            })
            .sum();
        let expected = sharp.area().mm2() - radius.mm().powi(2) * bits;
        prop_assert!((round.area().mm2() / expected - 1.0).abs() < 1e-9, "{} {expected}", round.area().mm2());
        prop_assert!(sharp.with_corner(most * 1.001).is_err());
    }

    /// What is left lies inside, and its edge is that far from the old one.
    #[test]
    fn an_edge_moved_inward_is_that_far_away_or_refused(points in stars(30), share in 0.01..0.5_f64) {
        let made = outline(&points).expect("an outline");
        let by = made.across() * (0.2 * share);
        match made.inset(by) {
            Ok(less) => {
                prop_assert!(less.area() < made.area());
                let drawn = made.drawn(made.across() * 1e-6);
                for p in &less.drawn(made.across() * 1e-3)[0] {
                    let far = nearest(&drawn[0], *p);
                    prop_assert!((far / by.mm() - 1.0).abs() < 1e-3, "{far} {}", by.mm());
                }
            }
            Err(why) => {
                let inset = matches!(why, OutlineError::Inset { .. });
                prop_assert!(inset, "{why}");
            }
        }
    }

    #[test]
    fn points_at_random_are_refused_where_they_cross(
        points in prop::collection::vec([-100.0..100.0_f64, -100.0..100.0_f64], 0..24)
    ) {
        let made = outline(&points);
        if crosses(&points) {
            let refused = matches!(made, Err(OutlineError::Crosses { .. }));
            prop_assert!(refused, "{made:?}");
        } else if points.len() >= 3 {
            // Three points at random may come to a needle's point.
            let needle = matches!(made, Err(OutlineError::Spike { angle, .. }) if angle.deg() < 1.0);
            prop_assert!(made.is_ok() || needle, "{made:?}");
        }
    }

    #[test]
    fn points_on_a_coarse_grid_never_panic(
        points in prop::collection::vec([-4..4_i32, -4..4_i32], 0..40), corner in -1.0..4.0_f64
    ) {
        let points: Vec<_> = points.iter().map(|p| p.map(|x| mm(f64::from(x)))).collect();
        let _ = Outline::points(&points, mm(corner)).map(|made| made.inset(mm(0.3)));
    }

    #[test]
    fn any_text_is_read_or_refused(text in ".*", path in "[MLHVCSQTAZmlhvcsqtaz0-9 ,.-]{0,80}", number in "[0-9a-z%.-]{0,6}") {
        let _ = Outline::svg(&text, mm(40.0), mm(1.0));
        let shapes = [
            format!("<path d='M0 0{path}z'/>"),
            format!("<polygon points='{path}'/>"),
            format!("<rect width='{number}' height='3' rx='{number}' transform='scale({number})'/>"),
            format!("<ellipse rx='{number}' ry='1e300'/>"),
        ];
        for shape in shapes {
            let text = format!("<svg xmlns='http://www.w3.org/2000/svg'>{shape}</svg>");
            let _ = Outline::svg(&text, mm(40.0), mm(1.0));
        }
    }
}

/// Distance of a place from straight sides, mm.
fn nearest(sides: &[[Length; 2]], p: [Length; 2]) -> f64 {
    let next = sides.iter().cycle().skip(1);
    let p = p.map(Length::mm);
    sides
        .iter()
        .zip(next)
        .map(|(a, b)| {
            let (a, b) = (a.map(Length::mm), b.map(Length::mm));
            let (u, v) = ([b[0] - a[0], b[1] - a[1]], [p[0] - a[0], p[1] - a[1]]);
            let t = ((u[0] * v[0] + u[1] * v[1]) / (u[0] * u[0] + u[1] * u[1])).clamp(0.0, 1.0);
            (v[0] - t * u[0]).hypot(v[1] - t * u[1])
        })
        .fold(f64::INFINITY, f64::min)
}
