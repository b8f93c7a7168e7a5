//! The picture of a full tray: to scale, each piece in its place, legible at its worst.

use brimful::geometry::Outline;
use brimful::quantity::{Length, Units};
use brimful::show::chart::{Full, full};
use brimful::show::draw::{DrawError, Picture};
use brimful::space::{Ground, Layout, lay};

use crate::common::chart::{legible, read, texts};

fn mm(x: f64) -> Length {
    Length::from_mm(x)
}

struct Sample {
    outline: Outline,
    ground: Ground,
    layout: Layout,
}

fn sample(outline: Outline, size: [f64; 2], gap: f64) -> Sample {
    let ground = Ground {
        size: size.map(mm),
        margin: mm(10.0),
        gap: mm(gap),
    };
    let layout = lay(&outline, &ground).expect("a layout");
    assert!(layout.count > 0);
    Sample {
        outline,
        ground,
        layout,
    }
}

impl Sample {
    fn of<'a>(&'a self, piece: &'a str) -> Full<'a> {
        let each = u64::from(self.layout.count);
        Full {
            piece,
            tray: "baking tray",
            blank: "38 mm round",
            outline: &self.outline,
            magnet: false,
            ground: self.ground,
            how: self.layout.how,
            places: &self.layout.places,
            started: each * 3 + 1,
            trays: 4,
            on_last: 1,
            usable: 6,
            fall: Some(mm(7.3)),
            care: Some(crate::common::chart::care()),
            units: Units::Metric,
        }
    }
}

fn arrow() -> Outline {
    let points = [
        [0.0, 0.0],
        [30.0, 0.0],
        [30.0, 8.0],
        [8.0, 8.0],
        [8.0, 40.0],
        [0.0, 40.0],
    ];
    Outline::points(&points.map(|p| p.map(mm)), mm(2.0)).expect("an outline")
}

fn samples() -> Vec<(&'static str, Sample)> {
    let disc = |d| Outline::round(mm(d)).unwrap();
    let tag = || Outline::rectangle(mm(20.0), mm(50.0), mm(3.0)).unwrap();
    vec![
        ("magnets", sample(disc(38.0), [300.0, 400.0], 40.0)),
        ("beads", sample(disc(14.0), [300.0, 400.0], 6.0)),
        ("one", sample(disc(150.0), [200.0, 180.0], 10.0)),
        ("tags", sample(tag(), [300.0, 400.0], 10.0)),
        ("angles", sample(arrow(), [400.0, 250.0], 5.0)),
        ("a strip", sample(disc(12.0), [900.0, 40.0], 5.0)),
        ("thousands", sample(disc(3.0), [600.0, 400.0], 2.0)),
    ]
}

fn draw(of: &Full<'_>) -> Picture {
    full(of).expect("the sample can be drawn")
}

#[test]
fn every_tray_is_legible_under_every_name_and_unit() {
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
                let of = Full {
                    tray: piece,
                    units,
                    magnet: drawn % 2 == 0,
                    usable: if drawn % 3 == 0 { 2 } else { 6 },
                    ..sample.of(piece)
                };
                let picture = draw(&of);
                legible(name, &picture);
                assert!(!picture.svg.contains("<script"));
                let long = picture.svg.len();
                assert!(long < 80_000, "{name}: {long} bytes");
                drawn += 1;
            }
        }
    }
    assert_eq!(drawn, 70);
}

/// Middles and radii of the discs drawn in the coating's colour, `[px]`.
fn discs(picture: &Picture) -> Vec<[f64; 3]> {
    let svg = roxmltree::Document::parse(&picture.svg).expect("the picture is XML");
    svg.descendants()
        .filter(|n| n.has_tag_name("circle"))
        // one of many is one disc, others have their outline as a disc under them
        .filter(|n| matches!(n.attribute("fill"), Some("#1C2A36" | "#84C0CC")))
        .map(|n| {
            ["cx", "cy", "r"].map(|key| {
                let text = n.attribute(key).unwrap_or_default();
                text.parse::<f64>().expect("a number") / 10.0
            })
        })
        .collect()
}

/// Every disc lies where the layout has it, on one scale, at its size: the longer side of the
/// tray lies across, so the picture is the layout turned by a quarter.
#[test]
fn every_piece_is_drawn_in_its_place_to_scale() {
    for (name, sample) in samples().into_iter().take(2) {
        let found = discs(&draw(&sample.of("tide magnet")));
        assert_eq!(found.len(), sample.layout.places.len(), "{name}");
        let wide = if name == "magnets" { 38.0 } else { 14.0 };
        let places: Vec<[f64; 2]> = (sample.layout.places.iter())
            .map(|place| place.at.map(Length::mm))
            .collect();
        // The radius alone is rounded to 0.1 px, so the scale comes from two far places.
        let far = |p: &[f64; 2]| p[0].hypot(p[1]);
        let last = (0..places.len())
            .max_by(|&a, &b| far(&places[a]).total_cmp(&far(&places[b])))
            .unwrap();
        let (drawn, told) = (
            (found[last][0] - found[0][0]).hypot(found[last][1] - found[0][1]),
            (places[last][0] - places[0][0]).hypot(places[last][1] - places[0][1]),
        );
        let scale = drawn / told;
        for (disc, place) in found.iter().zip(&places) {
            assert!((disc[2] - scale * wide / 2.0).abs() < 0.1, "{name}");
            let across = (disc[0] - found[0][0]) / scale;
            let down = (disc[1] - found[0][1]) / scale;
            // Both ends are rounded to 0.1 px, and so is the scale's.
            assert!(
                (across - (place[1] - places[0][1])).abs() < 0.3 / scale,
                "{name}"
            );
            assert!(
                (down - (place[0] - places[0][0])).abs() < 0.3 / scale,
                "{name}"
            );
        }
    }
}

/// No two drawn pieces touch, and the narrowest gap is the one that was kept.
#[test]
fn odd_pieces_keep_their_gap_on_the_picture() {
    let (_, angles) = samples().swap_remove(4);
    let picture = draw(&angles.of("harbour bracket"));
    let svg = roxmltree::Document::parse(&picture.svg).expect("the picture is XML");
    let shapes: Vec<Vec<(f64, f64)>> = svg
        .descendants()
        .filter(|n| n.has_tag_name("polygon"))
        .filter(|n| matches!(n.attribute("fill"), Some("#BFE1E8" | "#84C0CC")))
        .map(|n| {
            let points = n.attribute("points").unwrap_or_default().split_whitespace();
            points
                .filter_map(|p| p.split_once(','))
                .map(|(x, y)| (x.parse().unwrap_or(f64::NAN), y.parse().unwrap_or(f64::NAN)))
                .collect()
        })
        .collect();
    assert_eq!(shapes.len(), angles.layout.places.len());
    // Tenths of a pixel in a millimetre: the tray is 400 mm by 250 mm.
    let scale = (7800.0_f64 / 400.0).min(4800.0 / 250.0);
    let side = |p: (f64, f64), a: (f64, f64), b: (f64, f64)| {
        let (dx, dy) = (b.0 - a.0, b.1 - a.1);
        let t = ((p.0 - a.0) * dx + (p.1 - a.1) * dy) / (dx * dx + dy * dy);
        let t = t.clamp(0.0, 1.0);
        (p.0 - a.0 - t * dx).hypot(p.1 - a.1 - t * dy)
    };
    let mut least = f64::INFINITY;
    for (i, one) in shapes.iter().enumerate() {
        for (j, other) in shapes.iter().enumerate() {
            if i == j {
                continue;
            }
            for p in one {
                for k in 0..other.len() {
                    least = least.min(side(*p, other[k], other[(k + 1) % other.len()]));
                }
            }
        }
    }
    let gap = least / scale;
    // Drawn to 0.4 px at the coarsest, and rounded.
    assert!(gap > 5.0 - 0.4 && gap < 5.0 + 1.0, "{gap}");
}

/// A tray of thousands is drawn as the corner that holds some 550 of them, and says so.
#[test]
fn of_thousands_a_corner_is_drawn() {
    let (_, thousands) = samples().swap_remove(6);
    let count = thousands.layout.places.len();
    assert!(count > 5000);
    let picture = draw(&thousands.of("bead"));
    let drawn = discs(&picture).len();
    assert!((450..=620).contains(&drawn), "{drawn}");
    assert!(
        picture
            .svg
            .contains("A corner of the tray, 600 mm by 400 mm")
    );
    assert!(picture.words.title.contains(&format!("{count} lie on one")));
}

#[test]
fn the_words_tell_how_many_trays_and_how_full_the_last_is() {
    let (_, magnets) = samples().swap_remove(0);
    let each = magnets.layout.places.len() as u64;
    let said = |of: &Full<'_>| draw(of).words.description;
    let of = magnets.of("tide magnet");
    let all = said(&of);
    let expected = format!(
        "All {} that are started, at once, take 4 such trays",
        each * 3 + 1
    );
    assert!(
        all.contains(&expected) && all.contains("the last with 1."),
        "{all}"
    );
    assert!(all.contains("10 mm kept free along its edge"));
    assert!(all.contains("At least 40 mm between pieces"));
    assert!(all.contains("one end of its 400 mm may lie up to 7.3 mm lower"));
    let magnetic = Full {
        magnet: true,
        usable: 3,
        ..of.clone()
    };
    let magnetic = said(&magnetic);
    assert!(magnetic.contains("At least 40 mm between magnets"));
    assert!(magnetic.contains("Only 3 can be used at a time."));
    let full_last = Full {
        started: each * 4,
        on_last: each,
        ..of.clone()
    };
    assert!(said(&full_last).contains("all full"));
    let one = Full {
        started: 5,
        trays: 1,
        on_last: 5,
        ..of
    };
    assert!(said(&one).contains("All 5 that are started lie on it."));
}

/// A tray of one piece has no gap to show, and nothing to be level for is not made up.
#[test]
fn what_is_not_there_is_not_labelled() {
    let (_, one) = samples().swap_remove(2);
    let picture = draw(&Full {
        fall: None,
        ..one.of("harbour plate")
    });
    let mut found = Vec::new();
    texts(read(&picture).root(), &mut found);
    let has = |words: &str| found.iter().any(|(text, _)| text.contains(words));
    assert!(has("10 mm kept free") && !has("between") && !has("Level"));
    assert!(picture.words.title.contains("1 lies on one"));
}

#[test]
fn a_tray_without_size_or_pieces_is_refused() {
    let (_, magnets) = samples().swap_remove(0);
    let of = magnets.of("tide magnet");
    let none = Full {
        places: &[],
        ..of.clone()
    };
    assert!(matches!(full(&none), Err(DrawError::NotPositive { .. })));
    for bad in [0.0, f64::NAN, f64::INFINITY] {
        let ground = Ground {
            size: [mm(bad), mm(100.0)],
            ..of.ground
        };
        let bad = Full {
            ground,
            ..of.clone()
        };
        assert!(matches!(full(&bad), Err(DrawError::NotPositive { .. })));
    }
}
