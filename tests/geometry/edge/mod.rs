//! Blanks with a wall or a rounded edge, against exact limits and balances.

mod blank;
mod random;
mod soft;
mod wall;

use brimful::geometry::{Blank, Dome, EdgeAngles, FillWindow, Filling, Liquid, Outline};
use brimful::quantity::{Angle, Density, Length, SurfaceTension};

const ANGLES: EdgeAngles = EdgeAngles {
    pull_back: Angle::from_deg(12.0),
    target: Angle::from_deg(35.0),
    brim: Angle::from_deg(65.0),
};

fn mm(length: f64) -> Length {
    Length::from_mm(length)
}

fn deg(angle: f64) -> Angle {
    Angle::from_deg(angle)
}

/// A liquid of about the usual coating's properties; c = 1.84 mm.
fn coating() -> Liquid {
    Liquid {
        surface_tension: SurfaceTension::from_mn_per_m(35.0),
        density: Density::from_kg_per_m3(1050.0),
    }
}

fn round(diameter: f64) -> Outline {
    Outline::round(mm(diameter)).expect("an outline")
}

fn rectangle(length: f64, width: f64, corner: f64) -> Outline {
    Outline::rectangle(mm(length), mm(width), mm(corner)).expect("an outline")
}

fn filling(outline: &Outline, edge: f64, wall: f64) -> Filling {
    let blank = Blank::new(outline.clone(), mm(edge), mm(wall)).expect("a blank");
    Filling::new(&blank, coating(), ANGLES).expect("a filling")
}

fn all(window: &FillWindow) -> [Dome; 3] {
    [window.pull_back, window.target, window.brim]
}

/// Asserts agreement within a relative tolerance.
#[track_caller]
fn close(what: &str, got: f64, expected: f64, tolerance: f64) {
    let off = (got / expected - 1.0).abs();
    assert!(
        off <= tolerance,
        "{what}: got {got}, expected {expected}, off by {off:.1e}"
    );
}
