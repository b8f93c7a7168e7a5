//! The map of a coat's depth: to scale, at its depths, and legible at its worst.

use std::f64::consts::PI;

use brimful::geometry::{Ask, Blank, EdgeAngles, Filling, Hole, Liquid, Outline, Ring, ThinCorner};
use brimful::quantity::{Angle, Density, Length, Share, SurfaceTension, Units};
use brimful::show::chart::{Deeper, Depth, Drawn, depth};
use brimful::show::draw::palette::{self, INK, TIDE};
use brimful::show::draw::{DrawError, Picture};

use crate::common::chart::legible;

fn mm(x: f64) -> Length {
    Length::from_mm(x)
}

/// A top with what a map of it needs.
struct Sample {
    outline: Vec<Ring>,
    bands: Vec<(Length, Vec<Ring>)>,
    peak: Length,
    deepest: [Length; 2],
    thin: Vec<ThinCorner>,
    thin_edge: Vec<Vec<[Length; 2]>>,
    thin_share: Share,
}

/// An invented glaze.
const GLAZE: Liquid = Liquid {
    surface_tension: SurfaceTension::from_n_per_m(0.034),
    density: Density::from_kg_per_m3(1060.0),
};
const ANGLES: EdgeAngles = EdgeAngles {
    pull_back: Angle::from_deg(12.0),
    target: Angle::from_deg(35.0),
    brim: Angle::from_deg(65.0),
};

fn sample(outline: Outline, wall: f64) -> Sample {
    let edge = outline.drawn(outline.across() * 1e-4);
    let blank = Blank::new(outline, Length::ZERO, mm(wall)).expect("a blank");
    let filling = Filling::new(&blank, GLAZE, ANGLES).expect("a filling");
    let filled = filling
        .shape(Ask::EdgeAngle(ANGLES.target))
        .expect("a dome");
    let peak = filled.dome.peak;
    let depths: Vec<Length> = (1..8)
        .map(|n| mm(wall) + (peak - mm(wall)) * (f64::from(n) / 8.0))
        .collect();
    let rings = filled.rings(&depths);
    Sample {
        outline: edge,
        bands: depths.into_iter().zip(rings).collect(),
        peak,
        deepest: filled.shape().highest(),
        thin: filled.thin_corners(peak / 2.0),
        thin_edge: filled.shape().thin_edge(ANGLES.pull_back),
        thin_share: filled.shape().thin_share(ANGLES.pull_back),
    }
}

impl Sample {
    fn of<'a>(&'a self, piece: &'a str, blank: &'a str) -> Depth<'a> {
        Depth {
            piece,
            blank,
            outline: &self.outline,
            wall: Length::ZERO,
            peak: self.peak,
            deepest: self.deepest,
            bands: (self.bands.iter().enumerate())
                .map(|(i, (than, rings))| Deeper {
                    than: *than,
                    rings,
                    labelled: i % 2 == 1,
                })
                .collect(),
            half_as_deep: Share::from_percent(86.0),
            thin: &self.thin,
            thin_edge: &self.thin_edge,
            thin_share: self.thin_share,
            pull_back: ANGLES.pull_back,
            drawn: Drawn::Asked,
            care: crate::common::chart::care(),
            units: Units::Metric,
        }
    }
}

fn draw(of: &Depth<'_>) -> Picture {
    depth(of).expect("the sample can be drawn")
}

fn star() -> Outline {
    let points: Vec<[Length; 2]> = (0..10)
        .map(|i| {
            let (turn, far) = (PI * f64::from(i) / 5.0, if i % 2 == 0 { 18.0 } else { 9.0 });
            [mm(far * turn.sin()), mm(far * turn.cos())]
        })
        .collect();
    Outline::points(&points, mm(0.5)).expect("a star")
}

/// Outlines from a bead to a strip, with holes, sharp tips and a wall.
fn samples() -> Vec<(&'static str, Sample)> {
    let pierced = Outline::oval(mm(30.0), mm(40.0)).unwrap();
    let hole = Hole {
        at: [mm(0.0), mm(15.0)],
        diameter: mm(4.0),
    };
    let rectangle = |a, b, r| Outline::rectangle(mm(a), mm(b), mm(r)).unwrap();
    vec![
        ("round", sample(Outline::round(mm(38.0)).unwrap(), 0.0)),
        ("bead", sample(Outline::round(mm(5.0)).unwrap(), 0.0)),
        ("fob", sample(rectangle(20.0, 50.0, 3.0), 0.0)),
        ("strip", sample(rectangle(150.0, 8.0, 0.0), 0.0)),
        ("upright strip", sample(rectangle(8.0, 150.0, 0.0), 0.0)),
        ("pierced", sample(pierced.with_holes(&[hole]).unwrap(), 0.0)),
        ("star", sample(star(), 0.0)),
        (
            "hexagon",
            sample(Outline::regular(6, mm(25.0), mm(0.0)).unwrap(), 0.0),
        ),
        ("walled", sample(rectangle(20.0, 30.0, 2.0), 1.5)),
    ]
}

#[test]
fn every_shape_is_legible_under_every_name_and_unit() {
    let names = [
        "tide magnet",
        "a driftwood mooring fob with a hand-lettered ferry timetable",
        "מגנט של גאות ושפל מהנמל הישן",
        "⚓️🐚 harbour 🦀",
        "<script>alert('x')</script> & \"tide\"",
    ];
    let mut drawn = 0;
    for (name, sample) in &samples() {
        for piece in names {
            for units in [Units::Metric, Units::Us] {
                let of = Depth {
                    units,
                    drawn: if drawn % 2 == 0 {
                        Drawn::PullsBack
                    } else {
                        Drawn::Target
                    },
                    ..sample.of(
                        piece,
                        "20 mm x 50 mm rectangle with 3 mm corners and a hole",
                    )
                };
                let picture = draw(&of);
                legible(name, &picture);
                assert!(!picture.svg.contains("<script"));
                assert!(
                    picture.svg.len() < 60_000,
                    "{name}: {} bytes",
                    picture.svg.len()
                );
                drawn += 1;
            }
        }
    }
    assert_eq!(drawn, 90);
}

type Shape = Vec<(f64, f64)>;

fn points(node: roxmltree::Node<'_, '_>) -> Shape {
    let text = node.attribute("points").unwrap_or_default();
    let pairs = text.split_whitespace().filter_map(|p| p.split_once(','));
    let tenths = |t: &str| t.parse::<f64>().expect("a number") / 10.0;
    pairs.map(|(x, y)| (tenths(x), tenths(y))).collect()
}

fn hex(colour: palette::Colour) -> String {
    format!("#{:02X}{:02X}{:02X}", colour.r, colour.g, colour.b)
}

/// Lines of a colour and a width in tenths of a pixel.
fn lines(picture: &Picture, colour: palette::Colour, width: &str) -> Vec<Shape> {
    let svg = roxmltree::Document::parse(&picture.svg).expect("the picture is XML");
    svg.descendants()
        .filter(|n| n.has_tag_name("polyline"))
        .filter(|n| n.attribute("stroke") == Some(&hex(colour)))
        .filter(|n| n.attribute("stroke-width") == Some(width))
        .map(points)
        .collect()
}

fn area(shape: &Shape) -> f64 {
    let next = shape.iter().cycle().skip(1);
    let sides = shape.iter().zip(next);
    sides
        .map(|((a, b), (c, d))| a * d - c * b)
        .sum::<f64>()
        .abs()
        / 2.0
}

/// A line at half the peak of a cap lies at r² = R² - (R - h/2)² about the middle of the edge,
/// on the scale at which the edge is drawn.
#[test]
fn a_line_is_drawn_where_the_coat_is_that_deep() {
    let (half_width, high) = (19.0_f64, 2.0_f64);
    let radius = (half_width.powi(2) + high.powi(2)) / (2.0 * high);
    let inner = (radius.powi(2) - (radius - high / 2.0).powi(2)).sqrt();
    let ring = |r: f64| Outline::round(mm(2.0 * r)).unwrap().drawn(mm(0.001));
    let (edge, line) = (ring(half_width), ring(inner));
    let cap = Sample {
        outline: edge,
        bands: Vec::new(),
        peak: mm(high),
        deepest: [Length::ZERO; 2],
        thin: Vec::new(),
        thin_edge: Vec::new(),
        thin_share: Share::ZERO,
    };
    let picture = draw(&Depth {
        bands: vec![Deeper {
            than: mm(high / 2.0),
            rings: &line,
            labelled: true,
        }],
        ..cap.of("cap", "38 mm round")
    });
    let edge = &lines(&picture, INK, "14")[0];
    let half = &lines(&picture, TIDE, "20")[0];
    let extent = |shape: &Shape, k: fn(&(f64, f64)) -> f64| {
        let values = shape.iter().map(k);
        values.fold((f64::MAX, f64::MIN), |(l, m), v| (l.min(v), m.max(v)))
    };
    for side in [|p: &(f64, f64)| p.0, |p: &(f64, f64)| p.1] {
        let ((a, b), (c, d)) = (extent(edge, side), extent(half, side));
        let scale = (b - a) / (2.0 * half_width);
        // Points are rounded to 0.1 px.
        assert!(((d - c) / scale / 2.0 - inner).abs() < 0.2 / scale);
        assert!((a + b - c - d).abs() < 0.4);
    }
}

/// Each band is darker than the one before, in grey as well, and lines stand out from all.
#[test]
fn deeper_is_darker_in_grey_too() {
    let shades: Vec<_> = (0..8).map(|n| palette::depth(f64::from(n) / 8.0)).collect();
    for pair in shades.windows(2) {
        assert!(pair[1].luminance() < pair[0].luminance() - 0.02);
    }
    for shade in shades {
        // WCAG 2.2, success criterion 1.4.11, for graphics.
        assert!(TIDE.contrast(shade) >= 3.0 && INK.contrast(shade) >= 3.0);
    }
}

/// A hole stays paper: the band about it is one shape, filled without it.
#[test]
fn a_hole_is_not_painted_over() {
    let (_, pierced) = samples().swap_remove(5);
    let picture = draw(&pierced.of("fob", "oval"));
    let png = picture.png(1.0).expect("a PNG");
    let mut reader = png::Decoder::new(std::io::Cursor::new(png))
        .read_info()
        .unwrap();
    let mut pixels = vec![0; reader.output_buffer_size().unwrap()];
    let info = reader.next_frame(&mut pixels).unwrap();
    let edges = lines(&picture, INK, "14");
    // The bar of the scale has four points.
    let hole = edges
        .iter()
        .filter(|edge| edge.len() > 10)
        .min_by(|a, b| area(a).total_cmp(&area(b)))
        .unwrap();
    let middle = |k: fn(&(f64, f64)) -> f64| {
        let values = hole.iter().map(k);
        let (low, high) = values.fold((f64::MAX, f64::MIN), |(l, m), v| (l.min(v), m.max(v)));
        f64::midpoint(low, high)
    };
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "places within the picture"
    )]
    let colour = |x: f64, y: f64| {
        let channels = info.color_type.samples();
        let at = (y as usize * info.width as usize + x as usize) * channels;
        [pixels[at], pixels[at + 1], pixels[at + 2]]
    };
    let (x, y) = (middle(|p| p.0), middle(|p| p.1));
    assert_eq!(colour(x, y), [255; 3]);
    // Well inside the top, under the hole, lies coating.
    assert_ne!(colour(x, y + 150.0), [255; 3]);
}

/// Numbers of the description are those of the data.
#[test]
fn the_description_tells_the_numbers() {
    let samples = samples();
    let (_, star) = &samples[6];
    let picture = draw(&star.of("harbour star", "outline of 10 points"));
    let said = &picture.words.description;
    for share in [0.25, 0.5, 0.75, 1.0] {
        let depth = format!("{:.2}", share * star.peak.mm());
        let tidy = depth.trim_end_matches('0');
        assert!(said.contains(tidy), "{tidy} in {said}");
    }
    let reach = star.thin.iter().map(|c| c.reach.mm()).fold(0.0, f64::max);
    assert!(
        said.contains(&format!("{reach:.1} mm inward from their tips")),
        "{said}"
    );
    let thin = format!(
        "{:.0} % of the edge stands under 12°",
        star.thin_share.percent()
    );
    assert!(
        star.thin_share.percent() > 1.0 && said.contains(&thin),
        "{thin} in {said}"
    );
    assert!(
        picture
            .words
            .title
            .contains("at least half as deep on 86 % of its top")
    );
}

#[test]
fn numbers_that_make_no_map_are_refused() {
    let (_, round) = samples().swap_remove(0);
    let good = round.of("tide magnet", "38 mm round");
    for peak in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        let bad = Depth {
            peak: mm(peak),
            ..good.clone()
        };
        assert!(
            matches!(depth(&bad), Err(DrawError::NotPositive { .. })),
            "{peak}"
        );
    }
    let none = Depth {
        outline: &[],
        ..good.clone()
    };
    assert!(matches!(depth(&none), Err(DrawError::NotPositive { .. })));
    let odd = vec![vec![[mm(0.0), mm(f64::NAN)]]];
    let bad = Depth {
        thin_edge: &odd,
        ..good
    };
    assert!(matches!(depth(&bad), Err(DrawError::Surface { .. })));
}
