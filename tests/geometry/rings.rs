//! Level lines of a dome against the exact cap, its own heights and its volume.

use std::f64::consts::{PI, TAU};

use brimful::geometry::{Ask, Blank, EdgeAngles, Filling, Hole, Liquid, Outline, Ring, ring_area};
use brimful::quantity::{Angle, Density, Length, SurfaceTension};

fn mm(x: f64) -> Length {
    Length::from_mm(x)
}

const GLAZE: Liquid = Liquid {
    surface_tension: SurfaceTension::from_n_per_m(0.035),
    density: Density::from_kg_per_m3(1050.0),
};

/// So light that its weight flattens nothing: a capillary length of 2 m.
const WEIGHTLESS: Liquid = Liquid {
    surface_tension: SurfaceTension::from_n_per_m(40.0),
    density: Density::from_kg_per_m3(1.0),
};

const ANGLES: EdgeAngles = EdgeAngles {
    pull_back: Angle::from_deg(12.0),
    target: Angle::from_deg(35.0),
    brim: Angle::from_deg(65.0),
};

fn filling(outline: Outline, edge: f64, wall: f64, liquid: Liquid) -> Filling {
    let blank = Blank::new(outline, mm(edge), mm(wall)).expect("a blank");
    Filling::new(&blank, liquid, ANGLES).expect("a filling")
}

fn circle(count: u32, across: f64) -> Outline {
    let turns = (0..count).map(|i| TAU * f64::from(i) / f64::from(count));
    let points: Vec<[Length; 2]> = turns
        .map(|t| [t.cos(), t.sin()].map(|x| mm(across / 2.0 * x)))
        .collect();
    Outline::points(&points, Length::ZERO).expect("a circle")
}

fn pierced(outline: Outline, x: f64, y: f64, across: f64) -> Outline {
    let hole = Hole {
        at: [mm(x), mm(y)],
        diameter: mm(across),
    };
    outline.with_holes(&[hole]).expect("a pierced outline")
}

/// Shapes solved as a half flat, a quarter, whole, and by the round profile.
fn shapes() -> Vec<(&'static str, Outline)> {
    let star: Vec<[Length; 2]> = (0..10)
        .map(|i| {
            let (turn, far) = (PI * f64::from(i) / 5.0, if i % 2 == 0 { 16.0 } else { 9.0 });
            [mm(far * turn.cos()), mm(far * turn.sin())]
        })
        .collect();
    vec![
        ("round", Outline::round(mm(38.0)).unwrap()),
        ("oval", Outline::oval(mm(30.0), mm(18.0)).unwrap()),
        (
            "tag",
            Outline::rectangle(mm(20.0), mm(50.0), mm(3.0)).unwrap(),
        ),
        ("hexagon", Outline::regular(6, mm(25.0), mm(0.0)).unwrap()),
        (
            "ring",
            pierced(Outline::round(mm(38.0)).unwrap(), 0.0, 0.0, 12.0),
        ),
        (
            "fob",
            pierced(Outline::oval(mm(30.0), mm(40.0)).unwrap(), 1.0, 15.0, 4.0),
        ),
        ("star", Outline::points(&star, mm(1.0)).unwrap()),
    ]
}

/// On a cap of a sphere the level line at height h is the circle of
/// r² = R² - (R cos θ + h)², with R = a / sin θ.
#[test]
fn on_a_cap_of_a_sphere_the_lines_are_its_circles() {
    let (across, theta) = (10.0, 35f64.to_radians());
    let sphere = across / 2.0 / theta.sin();
    let tops = [
        ("profile", Outline::round(mm(across)).unwrap()),
        ("quarter", Outline::oval(mm(across), mm(across)).unwrap()),
        ("whole", circle(240, across)),
    ];
    for (name, outline) in tops {
        let filling = filling(outline, 0.0, 0.0, WEIGHTLESS);
        let filled = filling.shape(Ask::EdgeAngle(ANGLES.target)).unwrap();
        let peak = filled.dome.peak.mm();
        for share in [0.1, 0.5, 0.9] {
            let height = share * peak;
            let exact = (sphere.powi(2) - (sphere * theta.cos() + height).powi(2)).sqrt();
            let rings = filled.rings(&[mm(height)]).remove(0);
            let [ring] = rings.as_slice() else {
                panic!("{name}: {} rings", rings.len());
            };
            // The solved surface itself is good to 1e-4 of its volume.
            let slack = 3e-4 * across;
            for [x, y] in ring {
                let far = x.mm().hypot(y.mm());
                assert!(
                    (far - exact).abs() < slack,
                    "{name} {share}: {far} for {exact}"
                );
            }
            let area = ring_area(&rings).mm2();
            let circle = PI * exact.powi(2);
            // A polygon of n points in a circle lacks 6.6/n² of it; the least has some 45.
            assert!(
                (area / circle - 1.0).abs() < 5e-3,
                "{name} {share}: {area} for {circle}"
            );
        }
    }
}

/// Every point of a line lies as high as it says, by the search for a place's own height.
#[test]
fn a_line_lies_at_its_height() {
    for (name, outline) in shapes() {
        let filling = filling(outline, 0.0, 0.0, GLAZE);
        let filled = filling.shape(Ask::EdgeAngle(ANGLES.target)).unwrap();
        let peak = filled.dome.peak;
        for (height, rings) in [0.25, 0.5, 0.75].map(|s| (peak * s, filled.rings(&[peak * s]))) {
            let points: Vec<[Length; 2]> = rings.concat().concat();
            assert!(points.len() > 20, "{name}");
            for [x, y] in points.iter().step_by(points.len() / 20) {
                let there = filled.height_at(*x, *y).expect("a height");
                let off = (there - height).mm().abs();
                assert!(off < 0.01 * peak.mm(), "{name}: {off} mm at {x:?} {y:?}");
            }
        }
    }
}

/// Cavalieri's principle: the volume is the areas above all heights, added up.
#[test]
fn the_areas_add_up_to_the_volume() {
    for (name, outline) in shapes() {
        let whole = outline.area().mm2();
        let filling = filling(outline, 0.0, 0.0, GLAZE);
        let filled = filling.shape(Ask::EdgeAngle(ANGLES.target)).unwrap();
        let peak = filled.dome.peak;
        let count = 100;
        let heights: Vec<Length> = (0..count)
            .map(|i| peak * ((f64::from(i) + 0.5) / f64::from(count)))
            .collect();
        let areas: Vec<f64> = filled
            .rings(&heights)
            .iter()
            .map(|rings| ring_area(rings).mm2())
            .collect();
        assert!(
            areas[0] < whole && areas.windows(2).all(|w| w[1] < w[0]),
            "{name}"
        );
        let volume = areas.iter().sum::<f64>() * peak.mm() / f64::from(count);
        let told = filled.dome.volume.mm3();
        // A hundred slices of a surface that levels off, and the lines' own chords.
        assert!(
            (volume / told - 1.0).abs() < 4e-3,
            "{name}: {volume} for {told}"
        );
    }
}

/// Outer rings run counter-clockwise, a hole's clockwise.
#[test]
fn a_hole_has_a_ring_of_its_own() {
    let along = |ring: &Ring| ring_area(std::slice::from_ref(ring)).mm2();
    let mut counted = 0;
    for (name, outline) in shapes() {
        let holes = outline.holes().len();
        let filling = filling(outline, 0.0, 0.0, GLAZE);
        let filled = filling.shape(Ask::EdgeAngle(ANGLES.target)).unwrap();
        let low = filled.rings(&[filled.dome.peak * 0.1]).remove(0);
        let against = low.iter().filter(|ring| along(ring) < 0.0).count();
        assert_eq!((low.len(), against), (1 + holes, holes), "{name}");
        counted += holes;
    }
    assert_eq!(counted, 2);
}

/// Up to a wall's height the whole floor is covered; over the peak nothing is.
#[test]
fn a_walled_floor_is_covered_to_its_wall() {
    let outline = Outline::rectangle(mm(20.0), mm(30.0), mm(2.0)).unwrap();
    let floor = outline.area().mm2();
    let filling = filling(outline, 0.0, 1.5, GLAZE);
    let filled = filling.shape(Ask::EdgeAngle(ANGLES.target)).unwrap();
    let heights = [mm(0.7), mm(1.5), mm(1.6), filled.dome.peak * 1.01];
    let areas: Vec<f64> = (filled.rings(&heights).iter())
        .map(|rings| ring_area(rings).mm2())
        .collect();
    assert!((areas[0] / floor - 1.0).abs() < 1e-3 && (areas[1] / floor - 1.0).abs() < 1e-3);
    assert!(areas[2] < floor && areas[2] > 0.5 * floor);
    assert!(areas[3] == 0.0);
}

#[test]
fn the_highest_place_is_as_high_as_the_peak() {
    for (name, outline) in shapes() {
        let middle = outline.middle();
        let filling = filling(outline, 0.0, 0.0, GLAZE);
        let filled = filling.shape(Ask::EdgeAngle(ANGLES.target)).unwrap();
        let [x, y] = filled.shape().highest();
        let there = filled.height_at(x, y).expect("a height");
        let short = (filled.dome.peak - there).mm();
        assert!(
            short.abs() < 2e-3 * filled.dome.peak.mm(),
            "{name}: {short}"
        );
        if ["round", "oval", "tag", "hexagon", "star"].contains(&name) {
            let far = (x - middle[0]).mm().hypot((y - middle[1]).mm());
            assert!(far < 2.0, "{name}: {far} mm from the middle");
        }
    }
}

/// The stretches of thin edge are as long as the share that is told of them.
#[test]
fn the_thin_stretches_are_the_thin_share() {
    for (name, outline) in shapes() {
        let edge = outline.perimeter().mm();
        let filling = filling(outline, 0.0, 0.0, GLAZE);
        let filled = filling
            .shape(Ask::EdgeAngle(Angle::from_deg(30.0)))
            .unwrap();
        for limit in [12.0, 20.0, 28.0, 31.0].map(Angle::from_deg) {
            let lines = filled.shape().thin_edge(limit);
            let long = |line: &Vec<[Length; 2]>| -> f64 {
                let steps = line.windows(2);
                steps
                    .map(|w| (w[1][0] - w[0][0]).mm().hypot((w[1][1] - w[0][1]).mm()))
                    .sum()
            };
            let found = lines.iter().map(long).sum::<f64>() / edge;
            let told = filled.shape().thin_share(limit).fraction();
            assert!(
                (found - told).abs() < 5e-3,
                "{name} {limit:?}: {found} for {told}"
            );
        }
    }
}

/// At a sharp right angle the coat rises from the tip: where the corner's reach ends it
/// is as high as asked, and before it lower.
#[test]
fn a_thin_corner_ends_where_the_coat_is_as_high_as_asked() {
    let square = Outline::rectangle(mm(25.0), mm(25.0), mm(0.0)).unwrap();
    let filling = filling(square, 0.0, 0.0, GLAZE);
    let filled = filling.shape(Ask::EdgeAngle(ANGLES.target)).unwrap();
    let high = filled.dome.peak / 2.0;
    let corners = filled.thin_corners(high);
    assert_eq!(corners.len(), 4);
    for corner in corners {
        let [x, y] = corner.tip.map(Length::mm);
        assert!((x.abs() - 12.5).abs() < 1e-9 && (y.abs() - 12.5).abs() < 1e-9);
        let at = |share: f64| {
            let far = share * corner.reach.mm() / 2f64.sqrt();
            let height = filled.height_at(mm(x - far * x.signum()), mm(y - far * y.signum()));
            height.expect("a height").mm()
        };
        assert!((at(1.0) / high.mm() - 1.0).abs() < 1e-4);
        assert!(at(0.9) < high.mm());
    }
}
