//! The times of this program's own library on the questions that `run` puts to its peers:
//! meshing and solving for the edge angle, in one process, warm.
//!
//! One line for each case: name, volume in mL, median time in seconds.

use std::hint::black_box;
use std::time::Instant;

use brimful::geometry::{Ask, DomeError, Liquid, Outline, OutlineError, Top};
use brimful::quantity::{Angle, Density, Length, SurfaceTension, Volume};

/// Solves of each case, after one that warms the caches.
const REPEATS: usize = 31;

fn outlines() -> Result<Vec<(&'static str, Outline)>, OutlineError> {
    let mm = Length::from_mm;
    let sharp = mm(0.0);
    Ok(vec![
        ("25x25", Outline::rectangle(mm(25.0), mm(25.0), sharp)?),
        ("50x25", Outline::rectangle(mm(50.0), mm(25.0), sharp)?),
        ("50x50", Outline::rectangle(mm(50.0), mm(50.0), sharp)?),
        ("ellipse 25x18", Outline::oval(mm(25.0), mm(18.0))?),
        ("hexagon 25", Outline::regular(6, mm(25.0), sharp)?),
    ])
}

fn volume(outline: &Outline) -> Result<Volume, DomeError> {
    let liquid = Liquid {
        surface_tension: SurfaceTension::from_n_per_m(0.035),
        density: Density::from_kg_per_m3(1050.0),
    };
    let ask = Ask::EdgeAngle(Angle::from_deg(60.0));
    Ok(Top::new(outline, liquid)?.dome(ask)?.volume)
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    for (name, outline) in outlines()? {
        let found = volume(&outline)?;
        let mut times = Vec::new();
        for _ in 0..REPEATS {
            let start = Instant::now();
            black_box(volume(black_box(&outline))?);
            times.push(start.elapsed().as_secs_f64());
        }
        times.sort_by(f64::total_cmp);
        println!("{name}\t{:.12}\t{:.6}", found.ml(), times[REPEATS / 2]);
    }
    Ok(())
}
