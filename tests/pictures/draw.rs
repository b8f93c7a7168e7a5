//! The parts that every picture is made of.

use brimful::show::draw::font::{Weight, missing, width};
use brimful::show::draw::palette::{Colour, GROUNDS, INK, LINES, PAPER, WORDS};
use brimful::show::draw::place::{Fit, Row, Space, Wanted, spread, wrap};
use brimful::show::draw::{
    Anchor, DrawError, Pen, Picture, Point, Text, Words, clean, figure, line,
};
use resvg::usvg;

const BLACK: Colour = Colour { r: 0, g: 0, b: 0 };

fn grey(level: u8) -> Colour {
    Colour {
        r: level,
        g: level,
        b: level,
    }
}

#[test]
fn contrast_agrees_with_published_ratios() {
    // WCAG 2.2: black on white is 21:1, a colour on itself 1:1.
    assert!((BLACK.contrast(PAPER) - 21.0).abs() < 1e-9);
    assert!((INK.contrast(INK) - 1.0).abs() < 1e-12);
    // Often published as the lightest grey to pass 4.5 on white, and the one that just fails; typical, from memory.
    assert!((grey(0x76).contrast(PAPER) - 4.54).abs() < 0.005);
    assert!((grey(0x77).contrast(PAPER) - 4.48).abs() < 0.005);
}

#[test]
fn words_and_lines_stand_out_from_every_ground() {
    // WCAG 2.2 success criteria 1.4.3 (words, 4.5) and 1.4.11 (graphics, 3).
    for (name, words) in WORDS {
        assert!(
            words.contrast(PAPER) >= 4.5,
            "{name} on paper: {}",
            words.contrast(PAPER)
        );
    }
    for (name, line) in LINES {
        for (ground, colour) in GROUNDS {
            let contrast = line.contrast(colour);
            assert!(contrast >= 3.0, "{name} on {ground}: {contrast}");
        }
    }
}

/// How three kinds of colour-blindness see light: linear RGB to linear RGB, at full strength.
///
/// Machado, Oliveira and Fernandes (2009), "A physiologically-based model for simulation of color vision
/// deficiency"; figures typical, from memory, each row summing to one as white must stay white.
const BLINDNESS: [(&str, [[f64; 3]; 3]); 3] = [
    (
        "protanopia",
        [
            [0.152_286, 1.052_583, -0.204_868],
            [0.114_503, 0.786_281, 0.099_216],
            [-0.003_882, -0.048_116, 1.051_998],
        ],
    ),
    (
        "deuteranopia",
        [
            [0.367_322, 0.860_646, -0.227_968],
            [0.280_085, 0.672_501, 0.047_413],
            [-0.011_820, 0.042_940, 0.968_881],
        ],
    ),
    (
        "tritanopia",
        [
            [1.255_528, -0.076_749, -0.178_779],
            [-0.078_411, 0.930_809, 0.147_602],
            [0.004_733, 0.691_367, 0.303_900],
        ],
    ),
];

/// CIE 1976 L*a*b* of linear sRGB under D65 (IEC 61966-2-1 and CIE 15).
#[expect(
    clippy::many_single_char_names,
    reason = "the symbols of the standards"
)]
fn lab([r, g, b]: [f64; 3]) -> [f64; 3] {
    let x = (0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.9505;
    let y = 0.2126 * r + 0.7152 * g + 0.0722 * b;
    let z = (0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.089;
    let f = |t: f64| {
        if t > 0.008_856 {
            t.cbrt()
        } else {
            7.787 * t + 16.0 / 116.0
        }
    };
    [
        116.0 * f(y) - 16.0,
        500.0 * (f(x) - f(y)),
        200.0 * (f(y) - f(z)),
    ]
}

#[test]
fn lines_differ_to_colour_blind_eyes() {
    for (kind, rows) in BLINDNESS {
        let see = |colour: Colour| {
            let light = colour.light();
            let seen = rows.map(|row| {
                row.iter()
                    .zip(light)
                    .map(|(m, c)| m * c)
                    .sum::<f64>()
                    .clamp(0.0, 1.0)
            });
            for row in rows {
                assert!((row.iter().sum::<f64>() - 1.0).abs() < 1e-5, "{kind}");
            }
            lab(seen)
        };
        for (i, (name, colour)) in LINES.iter().enumerate() {
            for (other, against) in &LINES[..i] {
                let apart = see(*colour)
                    .iter()
                    .zip(see(*against))
                    .map(|(a, b)| (a - b).powi(2))
                    .sum::<f64>()
                    .sqrt();
                // About 2.3 is just noticeable (CIE76; typical, from memory); lines 2 px wide want much more.
                assert!(
                    apart > 15.0,
                    "{kind}: {name} and {other} are {apart:.1} apart"
                );
            }
        }
    }
}

/// Widths of every line of text, `[px]`.
fn widths(group: &usvg::Group, out: &mut Vec<f64>) {
    for node in group.children() {
        match node {
            usvg::Node::Group(inner) => widths(inner, out),
            usvg::Node::Text(text) => out.push(text.abs_bounding_box().width().into()),
            _ => {}
        }
    }
}

/// One line of text drawn alone, and its width once shaped, `[px]`.
fn shaped(words: &str, weight: Weight) -> f64 {
    let said = Words {
        title: "line".to_owned(),
        description: "one line".to_owned(),
    };
    let text = Text {
        size: 20.0,
        weight,
        colour: INK,
        anchor: Anchor::Left,
    };
    let picture = Picture::draw((1600, 100), said, |canvas| {
        canvas.text(words, Point::new(20.0, 60.0), text)
    })
    .expect("drawn");
    let mut options = usvg::Options {
        font_family: "DejaVu Sans".to_owned(),
        ..usvg::Options::default()
    };
    for face in ["DejaVuSans.ttf", "DejaVuSans-Bold.ttf"] {
        let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("data/fonts")
            .join(face);
        options
            .fontdb_mut()
            .load_font_data(std::fs::read(path).expect("the font is there"));
    }
    let tree = usvg::Tree::from_str(&picture.svg, &options).expect("SVG");
    let mut texts = Vec::new();
    widths(tree.root(), &mut texts);
    assert_eq!(texts.len(), 1, "one line of text in the picture");
    texts[0]
}

/// How much of a PNG is inked, as a share of all black.
fn inked(png: &[u8]) -> f64 {
    let mut reader = png::Decoder::new(std::io::Cursor::new(png))
        .read_info()
        .expect("a PNG");
    let mut bytes = vec![0; reader.output_buffer_size().expect("a size")];
    let info = reader.next_frame(&mut bytes).expect("a frame");
    assert_eq!(
        (info.color_type, info.bit_depth),
        (png::ColorType::Rgb, png::BitDepth::Eight)
    );
    let ink: f64 = bytes
        .chunks_exact(3)
        .map(|p| 1.0 - f64::from(p[1]) / 255.0)
        .sum();
    ink / f64::from(info.width * info.height)
}

#[test]
fn fine_lines_grow_with_the_picture() {
    let said = Words {
        title: "lines".to_owned(),
        description: "ten lines".to_owned(),
    };
    let picture = Picture::draw((200, 100), said, |canvas| {
        (1..=10).try_for_each(|i| {
            let y = f64::from(i) * 9.0;
            canvas.line(
                &[Point::new(0.0, y), Point::new(200.0, y)],
                Pen::solid(BLACK, 0.8),
            )
        })
    })
    .expect("drawn");
    // Ten lines of 0.8 px in 100 px are 8 % ink at any scale; lines fixed in pixels would halve at 2.
    // Painting rounds the edges of a line to a fraction of a pixel: a tenth of the line.
    for scale in [1.0, 2.0, 3.0] {
        let share = inked(&picture.png(scale).expect("a PNG"));
        assert!((share - 0.08).abs() < 0.008, "{scale}: {share}");
    }
}

#[test]
fn words_are_as_wide_as_they_are_measured() {
    for words in [
        "tide magnet: 2.1 mL fills the 38 mm round",
        "AVATAR Tower, To. Yes",
        "Ключ Ωθ ½ × 3 µm ≤ −4 °C",
        "מגנט גאות 12",
        "\u{2068}fob\u{2069}: 3",
    ] {
        for weight in [Weight::Regular, Weight::Bold] {
            let (measured, drawn) = (
                width(words, 20.0, weight).expect("measured"),
                shaped(words, weight),
            );
            // The shaper places letters to whole font units and knows more kerning pairs: half a per cent and a pixel.
            assert!(
                (measured - drawn).abs() <= 1.0 + drawn * 0.005,
                "\"{words}\": {measured} measured, {drawn} drawn"
            );
        }
    }
}

#[test]
fn signs_that_the_trade_needs_are_in_the_font_and_others_are_told() {
    let needed = "°×²³µ±≈≤≥−→←½¼¾⅛⅜⅝⅞θΩ€£…“”‘’–—☐☑✓✗⚠ąčęłńőřšťžßÆøЖабאבת";
    assert_eq!(missing(needed).expect("read"), Vec::<char>::new());
    assert_eq!(missing("tide 潮 \u{1F30A} 潮").expect("read"), vec!['潮']);
}

#[test]
fn long_words_are_broken_to_fit_and_none_is_lost() {
    let fit = Fit {
        size: 20.0,
        weight: Weight::Bold,
        room: 300.0,
        lines: 9,
    };
    for text in [
        "a driftwood mooring fob with a ferry timetable",
        "Donaudampfschifffahrtsgesellschaftskapitänsmützenabzeichen: 3",
    ] {
        let lines = wrap(text, fit).expect("wrapped");
        assert!(lines.len() > 1);
        for line in &lines {
            assert!(
                width(line, 20.0, Weight::Bold).expect("measured") <= 300.0,
                "{line}"
            );
            assert!(
                line.starts_with(char::is_alphanumeric),
                "a line starts with a sign: {line}"
            );
        }
        let letters = |t: &str| t.chars().filter(|c| !c.is_whitespace()).collect::<String>();
        assert_eq!(letters(&lines.concat()), letters(text));
    }
    let cut = wrap(&"mooring ".repeat(60), Fit { lines: 2, ..fit }).expect("wrapped");
    assert_eq!(cut.len(), 2);
    assert!(
        cut[1].ends_with('…') && width(&cut[1], 20.0, Weight::Bold).expect("measured") <= 300.0
    );
}

#[test]
fn labels_move_apart_and_stay_in_their_row() {
    let row = Row {
        from: 0.0,
        to: 400.0,
        gap: 10.0,
    };
    let wanted = [100.0, 101.0, 390.0].map(|middle| Wanted {
        middle,
        width: 80.0,
    });
    let at = spread("labels", &wanted, row).expect("room");
    assert!(at[0] - 40.0 >= 0.0 && at[2] + 40.0 <= 400.0, "{at:?}");
    assert!(at.windows(2).all(|p| p[1] - p[0] >= 90.0 - 1e-9), "{at:?}");
    // Free labels stay where they are wanted.
    let free = [60.0, 200.0, 340.0].map(|middle| Wanted {
        middle,
        width: 80.0,
    });
    assert_eq!(
        spread("labels", &free, row).expect("room"),
        vec![60.0, 200.0, 340.0]
    );
    // Five of 80 with four gaps of 10 need 440 of 400.
    let many = [0.0; 5].map(|middle| Wanted {
        middle,
        width: 80.0,
    });
    assert!(
        matches!(spread("labels", &many, row), Err(DrawError::Crowded { need, .. }) if (need - 440.0).abs() < 1e-9)
    );
}

#[test]
fn dashes_run_evenly_through_corners() {
    // 30 px round a corner in dashes of 4 and gaps of 2: five dashes of 4 px.
    let bent = [
        Point::new(0.0, 0.0),
        Point::new(15.0, 0.0),
        Point::new(15.0, 15.0),
    ];
    let dashes = line::dashes(&bent, 4.0, 2.0);
    assert_eq!(dashes.len(), 5);
    for dash in &dashes {
        let long: f64 = dash
            .windows(2)
            .map(|p| (p[1].x - p[0].x).hypot(p[1].y - p[0].y))
            .sum();
        assert!((long - 4.0).abs() < 1e-9, "{long}");
    }
    assert!(line::dashes(&[], 4.0, 2.0).is_empty());
}

#[test]
fn lines_and_shapes_are_cut_to_a_window() {
    let window = Space {
        left: 0.0,
        top: 0.0,
        right: 10.0,
        bottom: 10.0,
    };
    let zigzag = [
        Point::new(-5.0, 5.0),
        Point::new(5.0, 5.0),
        Point::new(5.0, 20.0),
        Point::new(8.0, 20.0),
        Point::new(8.0, 2.0),
    ];
    let parts = line::inside(&zigzag, window);
    assert_eq!(
        parts,
        vec![
            vec![
                Point::new(0.0, 5.0),
                Point::new(5.0, 5.0),
                Point::new(5.0, 10.0)
            ],
            vec![Point::new(8.0, 10.0), Point::new(8.0, 2.0)],
        ]
    );
    // A square of 10 set half outside leaves 5 by 10.
    let square = [
        Point::new(-5.0, 0.0),
        Point::new(5.0, 0.0),
        Point::new(5.0, 10.0),
        Point::new(-5.0, 10.0),
    ];
    let cut = line::shape_inside(&square, window);
    // The shoelace formula.
    let twice: f64 = (0..cut.len())
        .map(|i| (cut[i], cut[(i + 1) % cut.len()]))
        .map(|(a, b)| a.x * b.y - b.x * a.y)
        .sum();
    assert!((twice.abs() / 2.0 - 50.0).abs() < 1e-9, "{cut:?}");
    assert!(line::shape_inside(&square.map(|p| Point::new(p.x - 50.0, p.y)), window).is_empty());
}

#[test]
fn thinning_keeps_the_shape() {
    let arc: Vec<Point> = (0..=900)
        .map(|i| f64::from(i) * 0.1)
        .map(|d| Point::new(100.0 * d.to_radians().cos(), 100.0 * d.to_radians().sin()))
        .collect();
    let few = line::thinned(&arc, 0.05);
    assert!(few.len() < 60 && few.len() > 20, "{} points", few.len());
    assert_eq!((few.first(), few.last()), (arc.first(), arc.last()));
    // Every chord's middle stays within the tolerance of the true circle.
    for pair in few.windows(2) {
        let middle = f64::midpoint(pair[0].x, pair[1].x).hypot(f64::midpoint(pair[0].y, pair[1].y));
        assert!((100.0 - middle).abs() <= 0.05 + 1e-9, "{middle}");
    }
}

#[test]
fn figures_have_the_digits_they_need() {
    assert_eq!(figure::significant(0.0, 2), "0");
    assert_eq!(figure::significant(0.0999, 2), "0.10");
    assert_eq!(figure::significant(99.6, 2), "100");
    assert_eq!(figure::significant(-2.137, 2), "-2.1");
    assert_eq!(figure::digits_apart(&[2.11, 2.14]), 3);
    assert_eq!(figure::digits_apart(&[1.3, 2.1]), 2);
    assert_eq!(figure::trimmed(38.0, 2), "38");
    assert_eq!(figure::trimmed(12.70, 2), "12.7");
    for (span, pieces, step) in [
        (3.4, 6.0, 1.0),
        (30.0, 6.0, 5.0),
        (0.11, 6.0, 0.02),
        (6.0, 6.0, 1.0),
    ] {
        assert!((figure::step(span, pieces) - step).abs() < 1e-12, "{span}");
    }
}

#[test]
fn text_is_made_fit_for_xml() {
    assert_eq!(
        clean("  tide\n\tmagnet\u{0}\u{B}\u{FFFE} "),
        "tide magnet\u{FFFD} \u{FFFD}"
    );
}

#[test]
fn a_number_and_its_unit_stay_on_one_line() {
    let text =
        "dome glaze: the stock and 1 bottle of 250 mL are enough for 100 pieces, and 4 fl oz stay.";
    for room in (120..600).step_by(10) {
        let fit = Fit {
            size: 14.0,
            weight: Weight::Bold,
            room: f64::from(room),
            lines: usize::MAX,
        };
        let lines = wrap(text, fit).unwrap();
        assert_eq!(lines.join(" "), text);
        for line in &lines {
            assert!(
                !line.starts_with("mL") && !line.ends_with("250"),
                "{lines:?}"
            );
            assert!(
                !line.starts_with("oz") && !line.ends_with(" 4"),
                "{lines:?}"
            );
        }
    }
}
