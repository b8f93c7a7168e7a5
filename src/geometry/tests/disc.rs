//! The meshed solver on a disc, where the arc-length equation knows the answer:
//! two routes that share no code.

use super::super::contour::Contour;
use super::super::newton::{Goal, Load};
use super::super::round;
use super::{by_angle, close, plate};

#[test]
fn a_meshed_disc_agrees_with_the_round_equation_at_every_size() {
    // A glaze: capillary length 1.8437 mm (the reference liquid).
    let c = 1.8437;
    for radius in [1.0, 2.5, 5.0, 12.5, 25.0, 60.0, 150.0] {
        let contour = Contour::rectangle_quarter(2.0 * radius, 2.0 * radius, radius);
        let plate = plate(&contour, c, 2.0 * radius, 1.0 / (c * c));
        for degrees in [10.0_f64, 30.0, 60.0, 75.0, 90.0] {
            // On a disc the steepest place is everywhere, so the wiggles of the
            // force along the edge show more than on a rectangle.
            let tolerance = if degrees > 75.0 { 2e-3 } else { 5e-4 };
            let exact = round::solve(radius / c, degrees.to_radians()).expect("a dome");
            let meshed = by_angle(&plate, degrees);
            let what = format!("volume, radius {radius} mm, {degrees} degrees");
            close(&what, meshed.volume, exact.volume * c.powi(3), tolerance);
            close("surface", meshed.surface, exact.surface * c * c, tolerance);
            close(
                "pressure",
                meshed.load.pressure,
                exact.pressure / c,
                tolerance,
            );
            close("peak", meshed.peak, exact.peak * c, 4.0 * tolerance);
        }
    }
}

/// Volume, peak and edge angle are three ways to ask for one dome.
#[test]
fn every_way_of_asking_finds_the_same_dome() {
    let c = 1.8437;
    let contour = Contour::rectangle_quarter(50.0, 25.0, 3.0);
    let plate = plate(&contour, c, 25.0, 1.0 / (c * c));
    for degrees in [15.0, 50.0, 80.0] {
        let dome = by_angle(&plate, degrees);
        for goal in [Goal::Volume(dome.volume), Goal::Peak(dome.peak)] {
            let again = plate.solve(goal).expect("a dome");
            close("volume", again.volume, dome.volume, 1e-6);
            close("edge angle", again.edge_angle, dome.edge_angle, 1e-6);
            close("pressure", again.load.pressure, dome.load.pressure, 1e-6);
        }
    }
}

/// Energy is least at rest, so the work to add liquid is the pressure: with
/// E = area + (B/2) ∫ z² dA, dE/dV = P. Finite difference of two solves.
#[test]
fn the_pressure_is_the_work_to_add_liquid() {
    let c = 1.8437;
    let contour = Contour::rectangle_quarter(30.0, 20.0, 2.0);
    let plate = plate(&contour, c, 20.0, 1.0 / (c * c));
    let energy = |volume: f64| {
        let s = plate.solve(Goal::Volume(volume)).expect("a dome");
        let system = plate.assemble(&s.w, plate.pull(Load::default()));
        plate.mesh.copies * (system.surface + system.weight)
    };
    let volume = 700.0;
    let dome = plate.solve(Goal::Volume(volume)).expect("a dome");
    let step = 1.0;
    let work = (energy(volume + step) - energy(volume - step)) / (2.0 * step);
    close("dE/dV", work, dome.load.pressure, 1e-5);
}

/// Nothing may hang or panic from half a millimetre to half a metre, however
/// narrow, and the volume grows with the angle.
#[test]
fn odd_rectangles_are_solved_too() {
    let c = 1.8437;
    let sizes = [
        (0.5, 0.5, 0.0),
        (2.0, 2.0, 0.1),
        (300.0, 2.0, 0.0),
        (300.0, 2.0, 1.0),
        (20.0, 10.0, 0.05),
        (10.0, 40.0, 4.9),
        (305.0, 305.0, 0.0),
        (500.0, 300.0, 60.0),
    ];
    for (length, width, corner) in sizes {
        let contour = Contour::rectangle_quarter(length, width, corner);
        let across = f64::min(length, width);
        let plate = plate(&contour, c, across, 1.0 / (c * c));
        let mut last = 0.0;
        for degrees in [5.0, 20.0, 60.0, 75.0, 90.0] {
            let Some(dome) = plate.solve(Goal::EdgeAngle(f64::to_radians(degrees))) else {
                panic!("{length} x {width}, corner {corner}, {degrees} degrees: no dome");
            };
            assert!(dome.volume > last);
            // The steepest place found is the steepest asked for.
            close("angle", dome.edge_angle.to_degrees(), degrees, 1e-3);
            // Forces balance to the accuracy of the mesh.
            assert!(
                dome.imbalance.abs() < 2e-3,
                "{length} x {width}: {}",
                dome.imbalance
            );
            last = dome.volume;
        }
    }
}
