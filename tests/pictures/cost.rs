//! The picture of what each kind of piece costs.

use crate::common::chart::{care, legible, read, texts};
use brimful::plan::{CostKind, CostPart, costs};
use brimful::quantity::Money;
use brimful::show::chart::{CostBar, CostBars, MOST_BARS, Priced, cost};
use brimful::show::draw::{DrawError, Picture};
use brimful::show::{json, pictures};

const KINDS: [CostKind; 6] = [
    CostKind::Blank,
    CostKind::Coatings,
    CostKind::Supplies,
    CostKind::Work,
    CostKind::Lost,
    CostKind::Fitted,
];

/// Parts of each kind with their amounts, those of nothing left out.
fn parts(amounts: [f64; 6]) -> Vec<CostPart> {
    (KINDS.into_iter().zip(amounts))
        .filter(|(_, amount)| *amount > 0.0)
        .map(|(kind, amount)| CostPart {
            kind,
            amount: Money::from_amount(amount),
            lines: vec![(format!("{kind:?}"), Money::from_amount(amount))],
        })
        .collect()
}

/// A bar whose prices are some times its cost; fees are a fiftieth of a price.
fn bar<'a>(piece: &'a str, parts: &'a [CostPart], [fair, shop]: [Option<f64>; 2]) -> CostBar<'a> {
    let each: f64 = parts.iter().map(|part| part.amount.amount()).sum();
    let priced = |times: f64| Priced {
        price: Money::from_amount(each * times),
        kept: Money::from_amount(each * times * 0.98),
        leaves: Money::from_amount(each * times * 0.98 - each),
    };
    CostBar {
        piece,
        parts,
        each: Money::from_amount(each),
        floor: Money::from_amount(each / 0.98),
        fair: fair.map(priced),
        shop: shop.map(priced),
    }
}

fn bars(bars: Vec<CostBar<'_>>) -> CostBars<'_> {
    CostBars {
        bars,
        currency: "EUR",
        work_counts: true,
        unpriced: &[],
        care: Some(care()),
    }
}

fn draw(of: &CostBars<'_>) -> Picture {
    cost(of).expect("the sample can be drawn")
}

const USUAL: [f64; 6] = [0.271, 0.118, 0.012, 1.149, 0.171, 0.322];
const LONG: &str = "a driftwood mooring fob with a hand-lettered ferry timetable";

#[test]
fn words_never_overlap_or_leave_the_picture() {
    let usual = parts(USUAL);
    let millions = parts(USUAL.map(|amount| amount * 1e6));
    let tiny = parts([10.0, 0.01, 0.012, 0.2, 0.05, 0.004]);
    let one = parts([0.0, 0.0, 0.0, 0.6, 0.0, 0.0]);
    let names = [
        LONG,
        "מגנט גאות 12",
        "<script>alert('x')</script> & \"tide\" \u{1F30A}\u{0}",
        "x",
        "DonaudampfschifffahrtsgesellschaftskapitänsmützenabzeichenmitÖse",
    ];
    let both = [Some(2.2), Some(1.4)];
    for name in names {
        legible(name, &draw(&bars(vec![bar(name, &usual, both)])));
    }
    let prices = [
        [None, None],
        [Some(0.5), None],
        [Some(1.0), Some(1.0)],
        [Some(1.021), Some(1.022)],
        [None, Some(3.0)],
        [Some(40.0), Some(20.0)],
        [Some(0.0), Some(0.0)],
    ];
    for at in prices {
        for parts in [&usual, &millions, &tiny, &one, &Vec::new()] {
            legible(&format!("{at:?}"), &draw(&bars(vec![bar(LONG, parts, at)])));
        }
    }
    for count in [2, 10, 200] {
        legible("many", &draw(&bars(vec![bar(LONG, &usual, both); count])));
    }
    let uneven = bars(vec![bar("a", &usual, both), bar("b", &millions, both)]);
    legible("uneven", &draw(&uneven));
    let unpriced = vec![LONG.to_owned(); 6];
    let odd = CostBars {
        currency: "crowns of the <b>old</b> harbour mint, as they were before the reform",
        work_counts: false,
        unpriced: &unpriced,
        care: None,
        ..bars(vec![bar("b", &usual, both)])
    };
    legible("odd", &draw(&odd));
}

/// The whole amounts of a sentence in cents: of the piece, and of its parts.
fn cents(description: &str, piece: &str) -> (i32, i32) {
    let plain = description.replace(['\u{2068}', '\u{2069}'], "");
    let start = format!("Each {piece} costs ");
    let from = plain.find(&start).expect("the piece is told of") + start.len();
    let sentence = &plain[from..];
    let sentence = &sentence[..sentence.find(" Its floor").expect("the floor is told")];
    // what stands in brackets is what a part is made up of
    let mut depth = 0;
    let outer: String = sentence
        .chars()
        .filter(|c| {
            depth += i32::from(*c == '(') - i32::from(*c == ')');
            depth == 0
        })
        .collect();
    let mut amounts = outer
        .split([' ', ':', ',', ')'])
        .filter_map(|word| word.trim_end_matches('.').replace('.', "").parse().ok());
    let all = amounts.next().expect("a sum");
    (all, amounts.sum())
}

#[test]
fn the_demo_s_parts_add_up_to_the_plan_s_own_cost_to_the_cent() {
    let plan = crate::common::plan::planned(include_str!("../../data/demo.toml"));
    let told: serde_json::Value = serde_json::from_str(&json::plan(&plan).unwrap()).unwrap();
    let found = costs(&plan);
    let picture = pictures::cost(&found, &plan).unwrap().expect("a picture");
    let per_piece = told["money"]["per_piece"].as_array().unwrap();
    assert_eq!((found.len(), per_piece.len()), (2, 2));
    for (cost, json) in found.iter().zip(per_piece) {
        let exact = json["amount"].as_f64().unwrap();
        let sum: f64 = cost.parts.iter().map(|part| part.amount.amount()).sum();
        crate::common::plan::close(sum, exact, 1e-12);
        for part in cost.parts.iter().filter(|part| !part.lines.is_empty()) {
            let lines: f64 = part.lines.iter().map(|(_, money)| money.amount()).sum();
            crate::common::plan::close(lines, part.amount.amount(), 1e-12);
        }
        let (all, parts) = cents(&picture.words.description, &cost.piece);
        assert_eq!(parts, all);
        assert!((f64::from(all) / 100.0 - exact).abs() <= 0.005 + 1e-9);
    }
}

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig::with_cases(64))]

    #[test]
    fn any_parts_add_up_as_shown(
        amounts in proptest::array::uniform6(proptest::prop_oneof![
            proptest::strategy::Just(0.0), 0.0..0.05_f64, 0.0..3.0_f64, 0.0..9000.0_f64
        ]),
        fair in proptest::option::of(0.1..4.0_f64),
    ) {
        let parts = parts(amounts);
        let picture = draw(&bars(vec![bar("tag", &parts, [fair, None])]));
        legible("any", &picture);
        let (all, sum) = cents(&picture.words.description, "tag");
        proptest::prop_assert_eq!(sum, if parts.is_empty() { 0 } else { all });
    }
}

/// From the left and to the right of every filled shape of a colour, `[px]`.
fn spans(picture: &Picture, colour: &str) -> Vec<(f64, f64)> {
    let svg = roxmltree::Document::parse(&picture.svg).expect("the picture is XML");
    svg.descendants()
        .filter(|n| n.has_tag_name("polygon") && n.attribute("fill") == Some(colour))
        .map(|n| {
            let points = n.attribute("points").unwrap_or_default().split_whitespace();
            let across = points.map(|p| {
                let x = p.split_once(',').expect("a pair").0;
                x.parse::<f64>().expect("a number") / 10.0
            });
            across.fold((f64::MAX, f64::MIN), |(l, m), x| (l.min(x), m.max(x)))
        })
        .collect()
}

#[test]
fn a_part_is_as_long_as_its_amount_is_large() {
    let of = parts([1.0, 0.5, 0.5, 2.0, 0.5, 0.5]);
    let picture = draw(&bars(vec![bar("tag", &of, [Some(2.0), None])]));
    // 880 px stand for the price of 10, from 40 px on; work begins at 2 and ends at 4
    let work = spans(&picture, "#84C0CC");
    assert_eq!(work, [(40.0 + 176.0, 40.0 + 352.0)]);
    let blank = spans(&picture, "#F0E3CE");
    assert_eq!(blank, [(40.0, 128.0)]);
}

/// The least and the most `x` of every line of a colour and a breadth, `[px]`.
fn strokes(picture: &Picture, colour: &str, breadth: &str) -> Vec<(f64, f64)> {
    let svg = roxmltree::Document::parse(&picture.svg).expect("the picture is XML");
    svg.descendants()
        .filter(|n| n.has_tag_name("polyline") && n.attribute("stroke") == Some(colour))
        .filter(|n| n.attribute("stroke-width") == Some(breadth))
        .map(|n| {
            let points = n.attribute("points").unwrap_or_default().split_whitespace();
            let across = points.map(|p| {
                let x = p.split_once(',').expect("a pair").0;
                x.parse::<f64>().expect("a number") / 10.0
            });
            across.fold((f64::MAX, f64::MIN), |(l, m), x| (l.min(x), m.max(x)))
        })
        .collect()
}

const TOLD: &str = "A part too thin to see is a thick line that stands out of its bar.";

/// Whatever has a label is a box of 3 px and more, or a thick line that the picture tells of.
#[test]
fn every_part_that_is_named_can_be_seen() {
    let near = |a: f64, b: f64| (a - b).abs() < 0.11;
    let of = parts([10.0, 0.0, 0.02, 5.0, 0.0, 0.0]);
    let picture = draw(&bars(vec![bar("tag", &of, [Some(2.0), None])]));
    // 880 px stand for 30.04: the supplies, from 10 to 10.02, are 0.6 px; the fees, from 15.02 on
    // for a fiftieth of the price, are 17.6 px
    let across = |amount: f64| 40.0 + 880.0 * amount / 30.04;
    let thick = strokes(&picture, "#1C2A36", "24");
    assert!(
        matches!(thick.as_slice(), [(from, to)] if near(*from, across(10.01)) && near(*to, *from)),
        "{thick:?}"
    );
    let fees = (across(15.02), across(15.02 + 0.02 * 30.04));
    let boxes = strokes(&picture, "#1C2A36", "9");
    assert!(
        boxes
            .iter()
            .any(|one| near(one.0, fees.0) && near(one.1, fees.1)),
        "{fees:?} not among {boxes:?}"
    );
    let words = |picture: &Picture| {
        let mut found = Vec::new();
        texts(read(picture).root(), &mut found);
        let lines: Vec<String> = found.into_iter().map(|(words, _)| words).collect();
        lines.join(" ")
    };
    assert!(words(&picture).contains(TOLD));
    let usual = parts([1.0, 0.5, 0.5, 2.0, 0.5, 0.5]);
    let picture = draw(&bars(vec![bar("tag", &usual, [Some(2.0), None])]));
    assert!(!words(&picture).contains(TOLD) && strokes(&picture, "#1C2A36", "24").is_empty());
    // fees of a few cents
    let picture = draw(&bars(vec![CostBar {
        fair: Some(Priced {
            price: Money::from_amount(20.0),
            kept: Money::from_amount(19.96),
            leaves: Money::from_amount(14.46),
        }),
        ..bar("tag", &usual, [None, None])
    }]));
    assert!(words(&picture).contains(TOLD) && words(&picture).contains("tax, fees"));
}

#[test]
fn the_title_says_what_costs_most_or_what_loses() {
    let title = |of: &CostBars<'_>| draw(of).words.title.replace(['\u{2068}', '\u{2069}'], "");
    let work = parts([1.0, 0.0, 0.0, 3.0, 0.0, 0.0]);
    let blank = parts([3.0, 0.0, 0.0, 2.0, 0.0, 0.0]);
    let half = parts([1.0, 0.0, 0.0, 1.5, 0.0, 0.0]);
    let none = [None, None];
    let two = |one, other| bars(vec![bar("tag", one, none), bar("fob", other, none)]);
    let one = bars(vec![bar("tag", &work, none)]);
    assert_eq!(title(&one), "Work is 75 % of what each tag costs.");
    assert_eq!(
        title(&two(&work, &half)),
        "Work is the largest part of what every piece costs: 60 to 75 %."
    );
    assert_eq!(
        title(&two(&work, &blank)),
        "Blank is 60 % of what each fob costs."
    );
    let loss = bars(vec![bar("tag", &work, [Some(0.5), None])]);
    // 4.00 to make, sold at 2.00 of which 1.96 are kept
    assert_eq!(title(&loss), "Each tag sold at 2.00 loses 2.04.");
    let nothing = bars(vec![bar("tag", &[], none)]);
    assert_eq!(
        title(&nothing),
        "Nothing that goes into a piece has a price."
    );
}

#[test]
fn small_parts_are_gathered_and_told_of() {
    let of = parts([10.0, 0.1, 0.2, 5.0, 0.0, 0.0]);
    let picture = draw(&bars(vec![bar("tag", &of, [None, None])]));
    let mut found = Vec::new();
    texts(read(&picture).root(), &mut found);
    let words: Vec<&str> = found.iter().map(|(words, _)| words.as_str()).collect();
    assert!(
        words.contains(&"other") && words.contains(&"0.30"),
        "{words:?}"
    );
    assert!(!words.contains(&"coatings") && !words.contains(&"supplies"));
    let told = picture.words.description;
    assert!(
        told.contains("other 0.30 (each under 3 %: coatings 0.10"),
        "{told}"
    );
}

#[test]
fn more_kinds_than_are_drawn_are_counted() {
    let usual = parts(USUAL);
    let picture = draw(&bars(vec![bar("tag", &usual, [None, None]); MOST_BARS + 3]));
    assert!(picture.svg.contains("12 of 15 kinds are drawn."));
}

#[test]
fn what_is_no_amount_is_refused() {
    let refused = |of: &CostBars<'_>| matches!(cost(of), Err(DrawError::NotPositive { .. }));
    assert!(refused(&bars(Vec::new())));
    let usual = parts(USUAL);
    for bad in [-1.0, f64::NAN, f64::INFINITY] {
        let bad = Money::from_amount(bad);
        let good = bar("tag", &usual, [None, None]);
        assert!(refused(&bars(vec![CostBar {
            each: bad,
            ..good.clone()
        }])));
        assert!(refused(&bars(vec![CostBar { floor: bad, ..good }])));
    }
}

#[test]
fn a_run_that_sells_nothing_has_no_such_picture() {
    let demo = include_str!("../../data/demo.toml");
    let plan = crate::common::plan::planned(&demo[..demo.find("[selling]").unwrap()]);
    assert!(costs(&plan).is_empty());
    assert!(pictures::cost(&[], &plan).unwrap().is_none());
}
