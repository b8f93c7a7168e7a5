//! How fast the elements converge: the rate first, then the error.

use super::super::contour::Contour;
use super::super::element::Element;
use super::super::mesh::{Mesh, Sizing};
use super::super::newton::Goal;
use super::super::plate::Plate;
use super::super::round;

/// Errors of the pressure at a given volume and of the volume at a given edge
/// angle on a disc, with every triangle of one coarse mesh cut into four,
/// `cuts` times over.
fn errors(order: usize, cuts: usize) -> (f64, f64) {
    let (c, radius, angle) = (1.8437, 6.0, 50.0_f64.to_radians());
    let contour = Contour::rectangle_quarter(2.0 * radius, 2.0 * radius, radius);
    let sizing = Sizing {
        chord: 3.0,
        of_width: 0.5,
        growth: 1.0,
    };
    let element = Element::new(order);
    let mesh = Mesh::cut_finer(&contour, sizing, &element, cuts).expect("a mesh");
    let plate = Plate::on(mesh, element, 1.0 / (c * c)).expect("a plate");
    let exact = round::solve(radius / c, angle).expect("a dome");
    let volume = exact.volume * c.powi(3);
    let by_volume = plate.solve(Goal::Volume(volume)).expect("a dome");
    let by_angle = plate.solve(Goal::EdgeAngle(angle)).expect("a dome");
    let off = |got: f64, exact: f64| (got / exact - 1.0).abs();
    (
        off(by_volume.pressure, exact.pressure / c),
        off(by_angle.volume, volume),
    )
}

/// The pressure at a given volume is the derivative of an energy, and so
/// converges faster than the surface itself: at the fourth power with quadratic
/// triangles. Cubic ones start thirty times lower and are seen to keep the
/// fourth power, not the sixth of smooth theory: the lean has kinks between
/// triangles. The volume at a given edge angle hangs on the steepest place of
/// the edge and converges as the force there, about an order lower.
#[test]
fn halving_the_triangles_divides_the_error_by_its_order() {
    for (order, by_volume, by_angle) in [(2, 4.0, 1.5), (3, 4.0, 2.5)] {
        let found: Vec<(f64, f64)> = (0..3).map(|cuts| errors(order, cuts)).collect();
        let rate = |coarse: f64, fine: f64| (coarse / fine).log2() / 2.0;
        let pressure = rate(found[0].0, found[2].0);
        let volume = rate(found[0].1, found[2].1);
        println!("order {order}: {found:?}, rates {pressure:.2} and {volume:.2}");
        assert!(
            pressure >= by_volume - 0.5,
            "order {order}: {found:?}, rate {pressure:.2}"
        );
        assert!(
            volume >= by_angle - 0.5,
            "order {order}: {found:?}, rate {volume:.2}"
        );
    }
}

#[test]
fn raising_the_order_gains_at_every_step() {
    let errors: Vec<f64> = (2..=6).map(|order| errors(order, 0).0).collect();
    for pair in errors.windows(2) {
        assert!(pair[1] < 0.6 * pair[0], "{errors:?}");
    }
}
