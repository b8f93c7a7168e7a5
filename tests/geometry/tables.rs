//! The reference tables, row by row, through the public interface.

use crate::common::dome::{Row, liquid, number, rows};
use brimful::geometry::{Ask, Dome, Outline, Top};
use brimful::quantity::{Angle, Density, Length, Volume};

fn top(row: &Row, outline: &Outline) -> Top {
    Top::new(outline, liquid(row)).expect("a top")
}

/// The worst departures of one run over a table.
#[derive(Default, Debug)]
struct Worst {
    volume: f64,
    peak: f64,
    surface: f64,
    pressure: f64,
    degrees: f64,
}

impl Worst {
    fn see(&mut self, dome: &Dome, row: &Row, angle_key: &str) {
        let off = |got: f64, key: &str| (got / number(row, key) - 1.0).abs();
        self.volume = self.volume.max(off(dome.volume.ml(), "V_mL"));
        self.peak = self.peak.max(off(dome.peak.mm(), "peak_height_mm"));
        self.surface = self
            .surface
            .max(off(dome.surface_area.mm2(), "surface_area_mm2"));
        self.pressure = self.pressure.max(off(dome.pressure.pa(), "p0_Pa"));
        let degrees = (dome.edge_angle.deg() - number(row, angle_key)).abs();
        self.degrees = self.degrees.max(degrees);
    }
}

/// `round.csv`: arc-length integration in scipy (DOP853, 1e-12), checked there
/// by Chebyshev collocation and by the balance of forces. Its own accuracy is
/// 3e-12; the tool promises 1e-6.
#[test]
fn every_round_dome_of_the_table_by_angle_volume_peak_and_mass() {
    let mut worst = Worst::default();
    let table = rows("round.csv");
    assert_eq!(table.len(), 243);
    for row in &table {
        let outline = Outline::round(Length::from_mm(2.0 * number(row, "radius_mm")));
        let top = top(row, &outline.expect("an outline"));
        let volume = Volume::from_ml(number(row, "V_mL"));
        let asks = [
            Ask::EdgeAngle(Angle::from_deg(number(row, "edge_angle_deg"))),
            Ask::Volume(volume),
            Ask::Peak(Length::from_mm(number(row, "peak_height_mm"))),
            Ask::Mass(volume * Density::from_kg_per_m3(number(row, "rho_kg_per_m3"))),
        ];
        for ask in asks {
            let dome = top.dome(ask).expect("a dome");
            worst.see(&dome, row, "edge_angle_deg");
        }
    }
    println!("{worst:?}");
    let Worst {
        volume,
        peak,
        surface,
        pressure,
        degrees,
    } = worst;
    assert!(volume.max(surface).max(pressure).max(peak) < 1e-6);
    assert!(degrees < 1e-4);
}

/// `rectangle.csv`: spectral elements of degree 7 on the exact outline, with
/// pressure and area solved again by Surface Evolver and the volume by
/// scikit-fem. By edge angle (20 to 75 degrees) and by volume, corner radius
/// 0, 2 and 5 mm. The worst row states its own error as 6e-6; the tool promises
/// 1e-4 of volume and 0.05 degrees.
#[test]
fn every_rectangle_of_the_table_by_angle_and_by_volume() {
    let mut worst = Worst::default();
    let table = rows("rectangle.csv");
    assert_eq!(table.len(), 252);
    let (mut by_angle, mut by_volume) = (0, 0);
    for row in &table {
        let side = |key: &str| Length::from_mm(number(row, key));
        let (length, width) = (side("length_mm"), side("width_mm"));
        let outline = Outline::rectangle(length, width, side("corner_radius_mm"));
        let top = top(row, &outline.expect("an outline"));
        let ask = match row["control"].as_str() {
            "max_edge_angle" => {
                by_angle += 1;
                Ask::EdgeAngle(Angle::from_deg(number(row, "control_value")))
            }
            "volume" => {
                by_volume += 1;
                Ask::Volume(Volume::from_ml(number(row, "control_value")))
            }
            other => panic!("an unknown control {other}"),
        };
        worst.see(&top.dome(ask).expect("a dome"), row, "max_edge_angle_deg");
    }
    println!("{by_angle} by angle, {by_volume} by volume: {worst:?}");
    let Worst {
        volume,
        peak,
        surface,
        pressure,
        degrees,
    } = worst;
    assert!(volume < 1e-4, "volume {volume:.1e}");
    assert!(degrees < 0.05, "{degrees:.4} degrees");
    assert!(
        surface < 1e-4 && pressure < 1e-4,
        "{surface:.1e} {pressure:.1e}"
    );
    // The flat middle is meshed coarsely: two hundredths of a millimetre at most.
    assert!(peak < 1e-3, "peak {peak:.1e}");
    assert_eq!((by_angle, by_volume), (168, 84));
    for corner in ["0", "2", "5"] {
        let of = table.iter().filter(|row| row["corner_radius_mm"] == corner);
        assert_eq!(of.count(), 84, "corner radius {corner}");
    }
}
