//! Random outlines of every kind, 2 mm to 1 m: always a dome, and one that behaves.

use std::f64::consts::TAU;

use brimful::geometry::{Ask, Dome, DomeError, Hole, Liquid, Outline, OutlineError, Top};
use brimful::quantity::{Angle, Density, Length, SurfaceTension};
use proptest::prelude::*;

type Points = Vec<[f64; 2]>;

fn mm(x: f64) -> Length {
    Length::from_mm(x)
}

#[expect(clippy::cast_precision_loss, reason = "small counts")]
fn number(count: usize) -> f64 {
    count as f64
}

fn liquid() -> Liquid {
    Liquid {
        surface_tension: SurfaceTension::from_mn_per_m(35.0),
        density: Density::from_kg_per_m3(1050.0),
    }
}

/// A closed run of points within a circle of diameter one, any kind of outline.
fn shape() -> impl Strategy<Value = Points> {
    prop_oneof![polygon(), wobbly(), strip(), cut_out(),]
}

/// A polygon that is seen whole from its middle.
fn polygon() -> impl Strategy<Value = Points> {
    let spoke = (0.3..=1.0_f64, 0.0..=0.7_f64);
    prop::collection::vec(spoke, 3..=40).prop_map(|spokes| {
        let count = number(spokes.len());
        let place = |(i, &(r, off)): (usize, &(f64, f64))| {
            let (sin, cos) = (TAU * (number(i) + off) / count).sin_cos();
            [0.5 * r * cos, 0.5 * r * sin]
        };
        spokes.iter().enumerate().map(place).collect()
    })
}

/// A gently wobbling curve of 200 points.
fn wobbly() -> impl Strategy<Value = Points> {
    let wave = (0.0..=1.0_f64, 0.0..TAU);
    prop::collection::vec(wave, 5).prop_map(|waves| {
        let radius = |angle: f64| {
            let terms = waves.iter().enumerate().map(|(k, &(size, phase))| {
                let n = number(k + 1);
                size * (n * angle + phase).cos() / (n * n).max(2.0)
            });
            0.25 * (1.0 + 0.35 * terms.sum::<f64>())
        };
        (0..200)
            .map(|i| {
                let angle = TAU * f64::from(i) / 200.0;
                [radius(angle) * angle.cos(), radius(angle) * angle.sin()]
            })
            .collect()
    })
}

/// A long thin strip with slanted ends, or a sliver of a triangle.
fn strip() -> impl Strategy<Value = Points> {
    (0.01..=0.3_f64, -0.1..=0.1_f64, 0.0..=1.0_f64).prop_map(|(width, slant, taper)| {
        let far = (1.0 - taper).max(0.05) * width;
        vec![
            [-0.45, 0.0],
            [0.45 + slant, 0.0],
            [0.45, far],
            [-0.45, width],
        ]
    })
}

/// An L, a U or a cross with arms of any width.
fn cut_out() -> impl Strategy<Value = Points> {
    (0..3, 0.05..=0.45_f64, 0.05..=0.45_f64).prop_map(|(kind, a, b)| match kind {
        0 => vec![
            [0.0, 0.0],
            [0.7, 0.0],
            [0.7, a],
            [b, a],
            [b, 0.6],
            [0.0, 0.6],
        ],
        1 => vec![
            [0.0, 0.0],
            [0.7, 0.0],
            [0.7, 0.6],
            [0.7 - 0.7 * a, 0.6],
            [0.7 - 0.7 * a, b],
            [0.7 * a, b],
            [0.7 * a, 0.6],
            [0.0, 0.6],
        ],
        _ => {
            let (p, q) = (0.5 * a, 0.5 * b);
            vec![
                [0.35, -p],
                [0.35, p],
                [q, p],
                [q, 0.35],
                [-q, 0.35],
                [-q, p],
                [-0.35, p],
                [-0.35, -p],
                [-q, -p],
                [-q, -0.35],
                [q, -0.35],
                [q, -p],
            ]
        }
    })
}

/// How an outline is made of a shape.
#[derive(Debug, Clone)]
struct Make {
    points: Points,
    size: f64,
    /// Of the largest corner radius that fits.
    rounding: f64,
    holes: Vec<(f64, f64)>,
    turn: f64,
}

fn make() -> impl Strategy<Value = Make> {
    let size = (2.0_f64.ln()..1000.0_f64.ln()).prop_map(f64::exp);
    let rounding = prop_oneof![Just(0.0), 0.02..=0.95_f64];
    let hole = (0.1..=0.9_f64, 0.2..=0.8_f64);
    (
        shape(),
        size,
        rounding,
        prop::collection::vec(hole, 0..=2),
        0.0..TAU,
    )
        .prop_map(|(points, size, rounding, holes, turn)| Make {
            points,
            size,
            rounding,
            holes,
            turn,
        })
}

impl Make {
    /// The outline, mirrored in the x axis or not; `None` where points of it meet.
    fn outline(&self, mirrored: bool) -> Option<Outline> {
        let (sin, cos) = self.turn.sin_cos();
        let flip = if mirrored { -1.0 } else { 1.0 };
        let points: Vec<[Length; 2]> = self
            .points
            .iter()
            .map(|[x, y]| {
                let turned = [x * cos - y * sin, x * sin + y * cos];
                [mm(self.size * turned[0]), mm(self.size * flip * turned[1])]
            })
            .collect();
        let plain = Outline::points(&points, Length::ZERO).ok()?;
        let inward = plain.corners().iter().any(|c| c.inner_angle.deg() > 180.0);
        // Where a sharp corner points inward no edge angle is finite.
        let rounding = if inward {
            self.rounding.max(0.1)
        } else {
            self.rounding
        };
        let outline = match plain.with_corner(mm(1e6)) {
            Err(OutlineError::Corner { most, .. }) => {
                plain.with_corner(mm(rounding * most.mm())).ok()?
            }
            _ => plain,
        };
        Some(self.with_holes(outline, flip))
    }

    /// Holes on the way between opposite places of the edge, where they fit.
    fn with_holes(&self, outline: Outline, flip: f64) -> Outline {
        let edge = &outline.drawn(mm(0.01 * self.size))[0];
        let mut holes: Vec<Hole> = Vec::new();
        for &(along, share) in &self.holes {
            let middle = outline.middle().map(Length::mm);
            let at = [
                middle[0] + (along - 0.5) * 0.5 * outline.size()[0].mm(),
                middle[1] + flip * (share - 0.5) * 0.5 * outline.size()[1].mm(),
            ];
            if !outline.contains(mm(at[0]), mm(at[1])) {
                continue;
            }
            let gap = edge
                .iter()
                .map(|p| (p[0].mm() - at[0]).hypot(p[1].mm() - at[1]))
                .fold(f64::INFINITY, f64::min);
            let hole = Hole {
                at: at.map(mm),
                diameter: mm(share * 2.0 * gap),
            };
            holes.push(hole);
            if outline.clone().with_holes(&holes).is_err() {
                holes.pop();
            }
        }
        outline.clone().with_holes(&holes).unwrap_or(outline)
    }
}

fn domes(outline: &Outline) -> Result<Vec<Dome>, DomeError> {
    let top = Top::new(outline, liquid())?;
    [12.0, 35.0, 65.0]
        .into_iter()
        .map(|degrees| top.dome(Ask::EdgeAngle(Angle::from_deg(degrees))))
        .collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 16, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_outline_holds_more_at_a_steeper_edge_and_as_much_as_its_mirror_image(make in make()) {
        let Some(outline) = make.outline(false) else {
            return Err(TestCaseError::reject("its points meet, or it is a needle"));
        };
        let found = domes(&outline).unwrap_or_else(|e| panic!("{e}"));
        for pair in found.windows(2) {
            prop_assert!(pair[0].volume < pair[1].volume && pair[0].peak < pair[1].peak);
        }
        let mirrored = make.outline(true).expect("an outline, as its image is");
        let again = domes(&mirrored).unwrap_or_else(|e| panic!("mirrored: {e}"));
        for (a, b) in found.iter().zip(&again) {
            let off = (a.volume / b.volume - 1.0).abs();
            prop_assert!(off < 1e-3, "off its mirror image by {:.1e} at {}", off, a.edge_angle.deg());
        }
    }
}

/// A wide puddle stands `2 c sin(θ/2)` high (de Gennes, Brochard-Wyart and
/// Quéré, Capillarity and Wetting Phenomena, 2004, ch. 2; from memory), as in the
/// column `wide_puddle_height_mm` of `strip.csv`. A metre of straight edges comes
/// within 1e-3 of it, the coarse middle's own accuracy; a bent edge stands higher
/// by about half a capillary length over its radius.
#[test]
fn a_metre_of_coating_stands_as_high_as_a_wide_puddle() {
    let c = liquid().capillary_length().mm();
    let metre = mm(1000.0);
    let plates = [
        (
            Outline::rectangle(metre, metre, Length::ZERO).expect("a square"),
            1e-3,
        ),
        (
            Outline::regular(6, metre, Length::ZERO).expect("a hexagon"),
            1e-3,
        ),
        (Outline::oval(metre, mm(700.0)).expect("an oval"), 3e-3),
    ];
    for (outline, tolerance) in plates {
        let top = Top::new(&outline, liquid()).expect("a top");
        for degrees in [20.0_f64, 45.0, 75.0] {
            let ask = Ask::EdgeAngle(Angle::from_deg(degrees));
            let peak = top.dome(ask).expect("a dome").peak.mm();
            let puddle = 2.0 * c * (degrees.to_radians() / 2.0).sin();
            let off = peak / puddle - 1.0;
            assert!(
                off.abs() < tolerance,
                "{:?} at {degrees}: off by {off:.1e}",
                outline.form()
            );
        }
    }
}

/// A point of 1.4 degrees between a straight side and one that bows into the
/// top: its first chord once crossed the triangle that it is a side of.
#[test]
fn a_needle_between_a_line_and_a_hollow_curve_is_meshed() {
    let points = [
        [-0.45, 0.0],
        [0.539_423_318_169_319_5, 0.0],
        [0.45, 0.012_559_293_990_223_512],
        [-0.45, 0.251_185_879_804_470_2],
    ];
    for size in [2.0, 20.0, 200.0] {
        let points = points.map(|at| at.map(|share| mm(size * share)));
        let outline = Outline::points(&points, Length::ZERO).expect("an outline");
        let found = domes(&outline).unwrap_or_else(|e| panic!("{size} mm: {e}"));
        assert!(found.windows(2).all(|pair| pair[0].volume < pair[1].volume));
    }
}

/// A point of 8 degrees, and its mirror image.
#[test]
fn a_sliver_with_a_sharp_point_and_its_image_have_the_same_domes() {
    for size in [2.0, 20.0, 200.0] {
        let found = [1.0, -1.0].map(|flip| {
            let points = [
                [-0.45, 0.0],
                [0.512_720_169_688_5, 0.0],
                [0.45, 0.008_856_163_580],
                [-0.45, 0.177_123_271_597_5],
            ];
            let points = points.map(|[x, y]| [mm(size * x), mm(size * flip * y)]);
            let outline = Outline::points(&points, Length::ZERO).expect("an outline");
            domes(&outline).unwrap_or_else(|e| panic!("{size} mm, {flip}: {e}"))
        });
        for (one, image) in found[0].iter().zip(&found[1]) {
            let off = (one.volume / image.volume - 1.0).abs();
            assert!(off < 1e-3, "{size} mm: off by {off:.1e}");
        }
    }
}

/// The short side beside the point once bowed across the long one, which made a point of 0.3 degrees a notch of 360.
#[test]
fn a_needle_is_refused_as_one_though_its_sides_could_bow() {
    let points = [
        [-0.45, 0.0],
        [0.548_331_521_034_072, 0.0],
        [0.45, 0.0005],
        [-0.45, 0.01],
    ];
    // on a slant, where it takes up more than it is wide
    let (sin, cos) = 4.54_f64.sin_cos();
    let points = points.map(|[x, y]| [x * cos - y * sin, x * sin + y * cos]);
    let points = points.map(|at| at.map(|share| mm(200.0 * share)));
    match Outline::points(&points, Length::ZERO) {
        Err(OutlineError::Spike { angle, .. }) => assert!((0.2..0.4).contains(&angle.deg())),
        other => panic!("{other:?}"),
    }
}

/// Three hollow curves that meet in cusps, x = 2 cos t + cos 2t, y = 2 sin t - sin 2t, no side of which is straight for its
/// length: coarsely drawn they have points that can be coated, and finely such as no blank is cut to.
#[test]
fn hollow_curves_that_meet_in_cusps_have_domes_or_are_refused() {
    let mut spikes = 0;
    for count in [12, 18, 24, 36, 192] {
        let point = |i: usize| {
            let (sin, cos) = (TAU * number(i) / number(count)).sin_cos();
            let (sin2, cos2) = (2.0 * TAU * number(i) / number(count)).sin_cos();
            [mm(20.0 * cos + 10.0 * cos2), mm(20.0 * sin - 10.0 * sin2)]
        };
        let points: Vec<[Length; 2]> = (0..count).map(point).collect();
        match Outline::points(&points, Length::ZERO) {
            Ok(outline) => {
                domes(&outline).unwrap_or_else(|e| panic!("{count} points: {e}"));
            }
            Err(OutlineError::Spike { angle, .. }) => {
                assert!(angle.deg() < 1.0, "{count} points: {}", angle.deg());
                spikes += 1;
            }
            Err(other) => panic!("{count} points: {other}"),
        }
    }
    assert_eq!(spikes, 1);
}
