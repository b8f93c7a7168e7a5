//! Reading what a run file holds beside pieces, blanks, coatings and the room.
//!
//! The expected values stand in the files' own text, turned to SI by hand.

use crate::common::run::{WHOLE, mm, percent, read, span};
use brimful::quantity::{Length, Money, Time};
use brimful::run::{Shelf, Size, Stuff, Takes, Tray, Work};
use jiff::civil::date;

fn money(value: f64) -> Money {
    Money::from_amount(value)
}

#[test]
fn the_whole_run_says_that_it_is_invented_and_reads() {
    assert!(WHOLE.lines().take(3).any(|line| line.contains("invented")));
    let run = read(WHOLE);
    let header = &run.header;
    assert_eq!(header.start, Some(date(2028, 5, 1).at(17, 0, 0, 0)));
    assert_eq!(header.ready_by, Some(date(2028, 5, 20).at(7, 30, 0, 0)));
    assert_eq!(header.seed, 20_280_520);
    // What it leaves out on purpose, beside the times of its labels, to lean on defaults.
    let leans: Vec<&str> = run
        .assumed
        .iter()
        .map(|assumed| assumed.key.as_str())
        .filter(|key| !key.contains(".label."))
        .collect();
    let expected = [
        "blank[1].edge",
        "coating[1].bottle.have",
        "supply[3].have",
        "supply[3].spares",
        "step[1].wet_film",
        "step[5].supplies[1].bleed",
        "tray[1].gap",
        "tray[1].margin",
        "tray[1].magnet_gap",
    ];
    assert_eq!(leans, expected);
}

#[test]
fn prices_shares_and_wholesale_of_a_piece_are_read() {
    let run = read(WHOLE);
    let [owl, moth] = &run.pieces[..] else {
        panic!("{:?}", run.pieces)
    };
    assert_eq!(
        (owl.price, owl.sold),
        (Some(money(6.5)), Some(percent(75.0)))
    );
    let shop = owl.wholesale.unwrap();
    assert_eq!((shop.price, shop.count), (money(3.6), 12));
    assert!(!owl.magnet && moth.magnet);
    assert_eq!(
        (moth.price, moth.sold, moth.wholesale),
        (Some(money(5.0)), None, None)
    );
}

#[test]
fn deliveries_best_before_and_other_sizes_are_read() {
    let run = read(WHOLE);
    assert_eq!(run.blanks[0].delivery, Some(Time::from_days(5.0)));
    let pack = run.blanks[1].pack.unwrap();
    assert_eq!((pack.of, pack.price), (12, Some(money(8.4))));
    let [glue, sealer, ink, glaze] = &run.coatings[..] else {
        panic!("{:?}", run.coatings)
    };
    let bottle = glue.bottle.unwrap();
    assert_eq!(bottle.best_before, Some(date(2028, 11, 30)));
    assert_eq!(bottle.delivery, Some(Time::from_days(3.0)));
    let bottle = sealer.bottle.unwrap();
    assert_eq!((bottle.best_before, bottle.delivery), (None, None));
    assert!(ink.bottle.is_none() && ink.also_sold.is_empty());
    assert_eq!(glaze.bottle.unwrap().best_before, Some(date(2028, 9, 1)));
    let sizes: Vec<(f64, Money)> = glaze
        .also_sold
        .iter()
        .map(|&Size { holds, price }| (holds.ml(), price))
        .collect();
    // 262.5 g at 1050 kg/m3 is 250 mL; within 1e-9, what turning units loses
    assert!((sizes[0].0 - 250.0).abs() < 1e-9 && (sizes[1].0 - 1000.0).abs() < 1e-9);
    assert_eq!([sizes[0].1, sizes[1].1], [24.0, 71.0].map(money));
}

#[test]
fn each_kind_of_supply_is_read() {
    let run = read(WHOLE);
    let [paper, pin, cord, bag] = &run.supplies[..] else {
        panic!("{:?}", run.supplies)
    };
    let sheet = Stuff::Sheet {
        size: [mm(148.0), mm(210.0)],
        margin: mm(6.0),
        gap: mm(3.0),
        have: 12,
    };
    assert_eq!((&paper.stuff, paper.spares), (&sheet, percent(10.0)));
    assert_eq!(paper.best_before, Some(date(2029, 1, 1)));
    assert_eq!(paper.delivery, Some(Time::from_days(3.0)));
    assert_eq!(pin.stuff, Stuff::Each { have: 7 });
    let pack = pin.pack.unwrap();
    assert_eq!((pack.of, pack.price), (50, Some(money(4.75))));
    let spool = Stuff::Cut {
        spool: Length::from_m(10.0),
        have: vec![Length::from_m(3.2), mm(400.0)],
    };
    assert_eq!(cord.stuff, spool);
    assert_eq!(bag.stuff, Stuff::Each { have: 0 });
    assert!(bag.pack.is_none() && bag.delivery.is_none() && bag.best_before.is_none());
}

#[test]
fn steps_take_supplies_and_time_for_a_sitting() {
    let run = read(WHOLE);
    let names: Vec<&str> = run.steps.iter().map(|step| step.name.as_str()).collect();
    assert_eq!(
        names,
        ["lay print", "seal", "sign", "dome", "fit pin", "bag"]
    );
    let dome = &run.steps[3];
    assert!(matches!(dome.work, Work::Dome(_)));
    assert_eq!(dome.set_up, Some(Time::from_min(10.0)));
    assert_eq!(dome.clean_up, Some(Time::from_min(15.0)));
    let [print, .., pin, bag] = &run.steps[..] else {
        panic!("{names:?}")
    };
    let of = |at: usize, takes: Takes| brimful::run::Use { supply: at, takes };
    let bleed = |bleed: f64| Takes::Shape { bleed: mm(bleed) };
    assert_eq!(print.uses, [of(0, bleed(1.0))]);
    assert_eq!(
        pin.uses,
        [of(1, Takes::Count(1)), of(2, Takes::Length(mm(120.0)))]
    );
    assert_eq!((pin.set_up, pin.clean_up), (None, None));
    assert_eq!(bag.uses, [of(3, Takes::Count(1)), of(0, bleed(0.0))]);
    assert_eq!(bag.clean_up, Some(Time::ZERO));
}

#[test]
fn trays_lids_and_shelves_are_read() {
    let run = read(WHOLE);
    let [
        oven,
        Tray {
            name,
            gap,
            margin,
            magnet_gap,
            lid: None,
            ..
        },
    ] = &run.trays[..]
    else {
        panic!("{:?}", run.trays)
    };
    assert_eq!(
        (oven.name.as_str(), name.as_str()),
        ("oven tray", "box lid")
    );
    assert_eq!((oven.size, oven.count), ([mm(300.0), mm(400.0)], 4));
    assert_eq!(
        [oven.gap, oven.margin, oven.magnet_gap],
        [12.0, 15.0, 50.0].map(mm)
    );
    let lid = oven.lid.unwrap();
    assert_eq!((lid.height, lid.count), (mm(30.0), Some(3)));
    assert!((lid.air_changes.per_h() - 2.0).abs() < 1e-12);
    assert_eq!([*gap, *margin, *magnet_gap], [10.0, 10.0, 40.0].map(mm));
    let shelf = |name: &str, size: [f64; 2], levels, count| Shelf {
        name: name.to_owned(),
        size: size.map(mm),
        levels,
        count,
    };
    // 1.2 m at 150 mm are eight levels
    let expected = [
        shelf("bench", [1200.0, 450.0], 2, 1),
        shelf("rack", [800.0, 400.0], 8, 2),
    ];
    assert_eq!(run.shelves, expected);
}

#[test]
fn a_day_of_its_own_stands_before_the_others() {
    let hours = read(WHOLE).hours;
    let evening = vec![span((18, 30), (21, 30))];
    let [
        monday,
        tuesday,
        wednesday,
        thursday,
        friday,
        saturday,
        sunday,
    ] = hours.days;
    assert!(monday.is_empty());
    assert_eq!([&tuesday, &thursday, &friday], [&evening; 3]);
    assert_eq!(wednesday, [span((7, 30), (8, 15)), span((18, 30), (22, 0))]);
    assert_eq!(saturday, [span((9, 0), (12, 30)), span((14, 0), (17, 0))]);
    assert_eq!(sunday, [span((14, 0), (24, 0))]);
    assert_eq!(
        hours.off.into_iter().collect::<Vec<_>>(),
        [date(2028, 5, 6), date(2028, 5, 7)]
    );
    assert_eq!(hours.awake, span((6, 45), (24, 0)));
    assert_eq!(hours.awake.to_string(), "06:45-24:00");
    assert!(hours.first_run);
}

#[test]
fn inspection_and_selling_are_read() {
    let run = read(WHOLE);
    let look = run.inspection.unwrap();
    assert_eq!(
        (look.hands_on, look.again_after),
        (Time::from_s(12.0), Time::from_h(36.0))
    );
    assert_eq!((look.late, look.seconds), (percent(1.0), percent(4.0)));
    let selling = run.selling.unwrap();
    assert_eq!(selling.currency, "EUR");
    let fees: Vec<(&str, f64)> = selling
        .fees
        .iter()
        .map(|(name, fee)| (name.as_str(), fee.amount()))
        .collect();
    let expected = [
        ("stall", 45.0),
        ("travel", 18.0),
        ("power", 0.0),
        ("insurance", 6.0),
    ];
    assert_eq!(fees, expected);
    let kit: Vec<(&str, f64, u32)> = selling
        .kit
        .iter()
        .map(|kit| (kit.name.as_str(), kit.price.amount(), kit.fairs))
        .collect();
    assert_eq!(kit, [("gazebo", 120.0, 20), ("lamp", 24.5, 12)]);
    assert_eq!(selling.at_stall, Some(Time::from_h(7.0)));
    assert!(selling.stall_paid);
    assert_eq!(
        (selling.labour, selling.sale_fee),
        (Some(money(14.0)), money(0.1))
    );
    assert_eq!(
        [selling.card_fee, selling.sales_tax, selling.sold],
        [1.9, 20.0, 80.0].map(percent)
    );
    assert!((selling.pieces_per_sale - 1.4).abs() < 1e-12);
    assert_eq!(selling.seconds, Some(percent(60.0)));
}
