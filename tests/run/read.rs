//! Reading whole run files.

use brimful::coating::{Key, Source};
use brimful::geometry::{Form, Outline};
use brimful::quantity::{Length, Share, Units};
use brimful::run::{Air, Blank, Fill, Problem, Run, Work};
use brimful::stage::Stage;

const DEMO: &str = include_str!("../../data/demo.toml");
const TEMPLATE: &str = include_str!("../../data/template.toml");

fn read(text: &str) -> Run {
    Run::read(text, "run.toml").unwrap_or_else(|faults| panic!("{faults}"))
}

fn climate(run: &Run) -> brimful::run::Climate {
    match run.room.told {
        brimful::run::Told::Steady(climate) => climate,
        ref other => panic!("{other:?}"),
    }
}

#[test]
fn the_demo_says_that_it_is_invented_and_reads_whole() {
    assert!(DEMO.lines().next().unwrap().contains("demo"));
    assert!(DEMO.lines().take(3).any(|line| line.contains("invented")));
    let run = read(DEMO);
    assert_eq!(run.header.name, "Harbour fair");
    assert_eq!(
        run.header.ready_by.unwrap().to_string(),
        "2027-04-17T08:00:00"
    );
    assert_eq!(run.header.units, Units::Metric);
    assert_eq!(
        run.pieces
            .iter()
            .map(|piece| piece.count)
            .collect::<Vec<_>>(),
        [60, 40]
    );
    let fob = &run.blanks[run.pieces[1].blank];
    let (length, width) = (Length::from_mm(20.0), Length::from_mm(50.0));
    let corner = Length::from_mm(3.0);
    assert_eq!(
        *fob.top.outline(),
        Outline::rectangle(length, width, corner).unwrap()
    );
    assert_eq!(run.room.air, Air::Still);
    assert_eq!(
        (
            climate(&run).temperature.celsius(),
            climate(&run).humidity.percent()
        ),
        (16.0, 64.0)
    );
}

#[test]
fn the_demo_steps_know_their_coatings() {
    let run = read(DEMO);
    let works: Vec<&Work> = run.pieces[0]
        .steps
        .iter()
        .map(|&step| &run.steps[step].work)
        .collect();
    let [
        Work::Brush(print),
        Work::Brush(seal),
        Work::Dome(dome),
        Work::Bare,
        Work::Bare,
    ] = works[..]
    else {
        panic!("{works:?}")
    };
    assert_eq!((print.wet_film, print.coats), (Length::from_mm(0.05), 1));
    assert_eq!((seal.wet_film, seal.coats), (Length::from_mm(0.10), 2));
    assert_eq!(dome.fill, Fill::Target);
    assert_eq!(run.coatings[dome.coating].name, "dome glaze");
    assert!((dome.liquid.surface_tension.mn_per_m() - 34.0).abs() < 1e-9);
    let tension = run.coatings[dome.coating]
        .coating
        .property(Key::SurfaceTension)
        .unwrap();
    assert_eq!(tension.source, Source::MakersFile);
}

#[test]
fn the_template_reads_and_says_what_it_leans_on() {
    let run = read(TEMPLATE);
    assert_eq!(run.pieces.len(), 1);
    for key in [
        "blank[0].bad",
        "blank[0].have",
        "step[0].wet_film",
        "step[0].spoilage",
        "coating[0].label.handle",
    ] {
        assert!(
            run.assumed.iter().any(|assumed| assumed.key == key),
            "{key} not among {:#?}",
            run.assumed
        );
    }
}

/// A run as short as it can be, with one line of the step replaced.
fn short(step: &str) -> String {
    format!(
        "piece = [{{ name = 'p', count = 1, blank = 'b', steps = ['s'] }}]\n\
         blank = [{{ name = 'b', outline = {{ round = '1 in' }} }}]\n\
         coating = [{{ name = 'c', family = 'water-based dome glaze' }}]\n\
         step = [{{ name = 's', {step} }}]\n\
         room = {{ temperature = '68 F', humidity = '50 % RH', air = '0.3 m/s' }}\n"
    )
}

#[test]
fn a_short_run_leans_on_defaults_and_names_each() {
    let run = read(&short("coating = 'c'"));
    assert_eq!(run.header.name, "this run");
    assert_eq!(run.header.sure, Share::from_percent(95.0));
    assert!((climate(&run).temperature.celsius() - 20.0).abs() < 1e-9);
    assert!(
        matches!(run.room.air, brimful::run::Air::Moving(speed) if (speed.m_per_s() - 0.3).abs() < 1e-12)
    );
    assert!(matches!(run.steps[0].work, Work::Dome(dome) if dome.fill == Fill::Target));
    assert!(
        run.assumed
            .iter()
            .any(|assumed| assumed.key == "step[0].fill" && assumed.value == "safe")
    );
    let fill = run.assumed.iter().find(|it| it.key == "step[0].fill");
    assert_eq!(
        fill.unwrap().called(),
        format!("{}: fill", run.steps[0].name)
    );
    assert!(
        run.assumed
            .iter()
            .any(|assumed| assumed.key == "coating[0].label.recoat" && assumed.value == "24 h")
    );
}

#[test]
fn every_measure_of_a_fill_is_read() {
    let fills = [
        ("{ dry_height = '1.2 mm' }", "DryHeight"),
        ("{ weight = '1.4 g' }", "Weight"),
        ("{ share = '80 %' }", "ShareOfBrim"),
        ("{ volume = '1.3 mL' }", "Volume"),
        ("{ edge_angle = '30 deg' }", "EdgeAngle"),
        ("{ peak = '1.8 mm' }", "Peak"),
    ];
    for (text, name) in fills {
        let run = read(&short(&format!("coating = 'c', fill = {text}")));
        let Work::Dome(dome) = run.steps[0].work else {
            panic!("{text} is no dome")
        };
        assert!(
            format!("{:?}", dome.fill).starts_with(name),
            "{text}: {:?}",
            dome.fill
        );
    }
}

#[test]
fn ten_square_metres_a_litre_are_a_tenth_of_a_millimetre() {
    // By definition: 1 L over 10 m2 is 1e-3/10 m.
    for rate in ["10 m2/L", "10 m2 per L", "10 m2 / L"] {
        let run = read(&short(&format!("coating = 'c', spreading_rate = '{rate}'")));
        let Work::Brush(brush) = run.steps[0].work else {
            panic!("no brushed coat")
        };
        assert!((brush.wet_film.mm() - 0.1).abs() < 1e-12);
    }
}

#[test]
fn a_bottle_by_weight_is_turned_into_volume_by_the_density() {
    let text = short("coating = 'c'").replace(
        "family = 'water-based dome glaze'",
        "family = 'water-based dome glaze', density = '1.2 g/mL', bottle = { holds = '60 g' }",
    );
    let bottle = read(&text).coatings[0].bottle.unwrap();
    assert!((bottle.holds.ml() - 50.0).abs() < 1e-9);
}

#[test]
fn a_label_in_other_air_does_not_borrow_times_from_its_family() {
    let text = short("coating = 'c'").replace(
        "family = 'water-based dome glaze'",
        "family = 'water-based dome glaze', label = { at = ['20 C', '60 %'], handle = '30 h' }",
    );
    let run = read(&text);
    let label = run.coatings[0].coating.label();
    assert_eq!(
        label.stage(Stage::Handle).unwrap().source,
        Source::MakersFile
    );
    assert_eq!(label.stage(Stage::Recoat), None);
}

#[test]
fn dates_are_read_from_strings_too_but_not_with_an_offset() {
    let with = |when: &str| {
        format!(
            "run = {{ name = 'r', ready_by = {when} }}\n{}",
            short("coating = 'c'")
        )
    };
    for when in [
        "2027-04-17T08:00:00",
        "'2027-04-17T08:00'",
        "'2027-04-17 08:00'",
        "2027-04-17 08:00:00",
    ] {
        assert_eq!(
            read(&with(when)).header.ready_by.unwrap().to_string(),
            "2027-04-17T08:00:00",
            "{when}"
        );
    }
    for when in ["2027-04-17T08:00:00Z", "08:00:00", "'soon'", "7"] {
        assert!(Run::read(&with(when), "r.toml").is_err(), "{when}");
    }
}

#[test]
fn windows_files_and_byte_order_marks_are_read() {
    let windows = format!("\u{feff}{}", DEMO.replace('\n', "\r\n"));
    assert_eq!(read(&windows).pieces, read(DEMO).pieces);
}

#[test]
fn a_label_in_fahrenheit_is_the_same_air() {
    // 73.4 F is 23 C by definition, so the family's recoat time still fits.
    let text = short("coating = 'c'").replace(
        "family = 'water-based dome glaze'",
        "family = 'water-based dome glaze', label = { at = ['73.4 F', '50 %'], handle = '20 h' }",
    );
    let label = read(&text).coatings[0].coating.label().clone();
    assert_eq!(
        label.stage(Stage::Recoat).map(|stage| stage.time.h()),
        Some(24.0)
    );
}

#[test]
fn lists_nested_without_end_are_refused() {
    let faults = Run::read(&format!("a = {}", "[".repeat(100_000)), "deep.toml").unwrap_err();
    assert_eq!(faults.as_slice().len(), 1);
}

#[test]
fn a_fault_can_be_taken_apart() {
    let faults = Run::read(
        "[room]\ntemperature = \"12 C\"\nhumidity = \"140 %\"\n",
        "loft.toml",
    )
    .unwrap_err();
    let fault = faults
        .as_slice()
        .iter()
        .find(|fault| fault.key == "room.humidity")
        .unwrap();
    assert_eq!(
        (fault.file.as_str(), fault.line, fault.column),
        ("loft.toml", 3, 12)
    );
    assert!(matches!(&fault.problem, Problem::Refused { read, .. } if read == "\"140 %\""));
}

/// A drawing of our own: a kite, 40 wide and 30 high in its own units.
const KITE: &str =
    "<svg xmlns='http://www.w3.org/2000/svg'><path d='M 0 15 L 20 0 L 40 15 L 20 30 Z'/></svg>";

/// The one blank of a short run, which has these keys.
fn blank(keys: &str) -> Blank {
    let text = short("coating = 'c'").replace("outline = { round = '1 in' }", keys);
    let drawings = |name: &str| match name {
        "kite.svg" => Ok(KITE.as_bytes().to_vec()),
        _ => Err("no such drawing".to_owned()),
    };
    let run = Run::read_with(&text, "run.toml", &drawings).unwrap_or_else(|told| panic!("{told}"));
    run.blanks[0].clone()
}

fn mm(mm: f64) -> Length {
    Length::from_mm(mm)
}

#[test]
fn an_oval_is_read() {
    let oval = blank("outline = { oval = ['25 mm', '18 mm'] }");
    assert_eq!(
        *oval.top.outline(),
        Outline::oval(mm(25.0), mm(18.0)).unwrap()
    );
    // The area of an ellipse, pi a b, by definition.
    let area = std::f64::consts::PI * 12.5 * 9.0;
    assert!((oval.top.outline().area().mm2() / area - 1.0).abs() < 1e-6);
}

#[test]
fn a_regular_outline_is_read() {
    let hexagon = blank("outline = { regular = 6, across = '25 mm', corner = '1 mm' }").top;
    let hexagon = hexagon.outline();
    assert_eq!(*hexagon, Outline::regular(6, mm(25.0), mm(1.0)).unwrap());
    let sharp = blank("outline = { regular = 6, across = '25 mm' }").top;
    let sharp = sharp.outline();
    // The area of a regular hexagon by its width across flats, sqrt(3)/2 d^2.
    let area = 3.0_f64.sqrt() / 2.0 * 25.0 * 25.0;
    assert!((sharp.area().mm2() / area - 1.0).abs() < 1e-9);
}

#[test]
fn points_are_read_in_their_unit() {
    let inches = blank("outline = { points = [[0, 0], [1, 0], [1, 0.5], [0, 0.5]], unit = 'in' }");
    assert!((inches.top.outline().area().mm2() / (25.4 * 12.7) - 1.0).abs() < 1e-12);
    let given = "outline = { points = [[10, 0], [40, 0], [25, 20]], corner = '2 mm' }";
    let points = [[10.0, 0.0], [40.0, 0.0], [25.0, 20.0]].map(|point| point.map(mm));
    assert_eq!(
        *blank(given).top.outline(),
        Outline::points(&points, mm(2.0)).unwrap()
    );
}

#[test]
fn points_without_a_unit_are_millimetres_and_the_run_says_so() {
    let points = "outline = { points = [[0, 0], [30, 0], [15, 20]] }";
    let text = short("coating = 'c'").replace("outline = { round = '1 in' }", points);
    let run = read(&text);
    assert!((run.blanks[0].top.outline().area().mm2() - 300.0).abs() < 1e-9);
    let told = |key: &str, value: &str| {
        run.assumed
            .iter()
            .any(|assumed| assumed.key == key && assumed.value == value)
    };
    assert!(told("blank[0].outline.unit", "mm"), "{:#?}", run.assumed);
    assert!(told("blank[0].edge", "0 mm"), "{:#?}", run.assumed);
}

#[test]
fn a_drawing_is_read_as_wide_as_the_file_says() {
    let kite = blank("outline = { svg = 'kite.svg', width = '80 mm' }").top;
    let kite = kite.outline();
    assert!(matches!(kite.form(), Form::Drawing { width, .. } if *width == mm(80.0)));
    // Half of its box, 80 mm by 60 mm.
    assert!((kite.area().mm2() / 2400.0 - 1.0).abs() < 1e-9);
}

#[test]
fn a_drawing_is_asked_for_once() {
    let text = short("coating = 'c'").replace(
        "blank = [{ name = 'b', outline = { round = '1 in' } }]",
        "blank = [{ name = 'b', outline = { svg = 'kite.svg', width = '80 mm' } }, \
         { name = 'c', outline = { svg = 'kite.svg', width = '40 mm' } }]",
    );
    let asked = std::cell::Cell::new(0);
    let drawings = |_: &str| {
        asked.set(asked.get() + 1);
        Ok(KITE.as_bytes().to_vec())
    };
    let run = Run::read_with(&text, "run.toml", &drawings).unwrap();
    assert_eq!((run.blanks.len(), asked.get()), (2, 1));
    // Without them, each is missed.
    let faults = Run::read(&text, "run.toml").unwrap_err();
    assert_eq!(faults.as_slice().len(), 2);
}

#[test]
fn holes_edge_and_wall_are_read() {
    let washer = blank(
        "outline = { round = '38 mm' }, edge = '0.3 mm', holes = [{ at = ['0 mm', '14 mm'], across = '3 mm' }]",
    );
    assert_eq!(
        (washer.top.edge(), washer.top.wall()),
        (mm(0.3), Length::ZERO)
    );
    let [hole] = washer.top.outline().holes() else {
        panic!("{:?}", washer.top.outline())
    };
    assert_eq!((hole.at, hole.diameter), ([mm(0.0), mm(14.0)], mm(3.0)));
    let area = std::f64::consts::PI * (19.0 * 19.0 - 1.5 * 1.5);
    assert!((washer.top.outline().area().mm2() / area - 1.0).abs() < 1e-9);
    let bezel = blank("outline = { round = '38 mm' }, wall = '2 mm'");
    assert_eq!(bezel.top.wall(), mm(2.0));
}

/// From the middle of its box on a triangle, whose own origin lies elsewhere;
/// as the points have it where points tell the outline.
#[test]
fn holes_lie_where_the_maker_measures_them() {
    let triangle = blank(
        "outline = { regular = 3, across = '30 mm' }, holes = [{ at = ['-5 mm', '0 mm'], across = '3 mm' }]",
    );
    let ([x, y], [middle, height]) = (
        triangle.top.outline().holes()[0].at,
        triangle.top.outline().middle(),
    );
    assert!((x - middle + mm(5.0)).mm().abs() < 1e-9 && (y - height).mm().abs() < 1e-9);
    let sail = blank(
        "outline = { points = [[10, 0], [40, 0], [25, 20]] }, holes = [{ at = ['25 mm', '8 mm'], across = '3 mm' }]",
    );
    assert_eq!(sail.top.outline().holes()[0].at, [mm(25.0), mm(8.0)]);
}

/// A short run in another room, with a logger's file of our own beside it.
fn in_room(room: &str) -> Result<Run, brimful::run::Faults> {
    let text = short("coating = 'c'").replace(
        "temperature = '68 F', humidity = '50 % RH', air = '0.3 m/s'",
        room,
    );
    let beside = |name: &str| match name {
        "loft.csv" => Ok(LOGGED.as_bytes().to_vec()),
        _ => Err("no such file".to_owned()),
    };
    Run::read_with(&text, "run.toml", &beside)
}

/// A logger's record, invented: two days of hours.
const LOGGED: &str = include_str!("../logs/two_days_in_a_loft.csv");

#[test]
fn a_room_may_be_by_day_and_by_night() {
    let run =
        in_room("temperature = '22 C', humidity = '55 %', night = ['9 C', '90 %'], pour = '18:30'")
            .unwrap();
    let brimful::run::Told::DayAndNight { day, night, pour } = run.room.told else {
        panic!("{:?}", run.room.told);
    };
    assert!((day.temperature.celsius() - 22.0).abs() < 1e-9);
    assert!((night.humidity.percent() - 90.0).abs() < 1e-9);
    assert_eq!(pour.to_string(), "18:30:00");
    let brimful::drying::Room::Changing(air) = run.room.over_time else {
        panic!("it changes");
    };
    // from 18:30 an hour and a half of day, then twelve hours of night
    let first = &air.spells()[..2];
    assert!((first[0].lasts.h() - 1.5).abs() < 1e-9 && (first[1].lasts.h() - 12.0).abs() < 1e-9);
    assert!((first[1].air.temperature().celsius() - 9.0).abs() < 1e-9);
    // without a time to pour at it is the evening, and says so
    let run = in_room("temperature = '22 C', humidity = '55 %', night = ['9 C', '90 %']").unwrap();
    assert!(
        run.assumed
            .iter()
            .any(|it| it.key == "room.pour" && it.value == "19:00")
    );
}

#[test]
fn a_room_may_be_a_loggers_record() {
    let run = in_room("logger = 'loft.csv', pour = '19:00'").unwrap();
    let brimful::run::Told::Recorded(record) = &run.room.told else {
        panic!("{:?}", run.room.told);
    };
    assert_eq!((record.file.as_str(), record.days), ("loft.csv", 2));
    let brimful::drying::Room::Changing(air) = &run.room.over_time else {
        panic!("it changes");
    };
    assert_eq!((air.spells().len(), air.pours()), (48, &[19, 43][..]));
    // a room four kelvins warmer, with the same vapour
    let warmer = in_room("logger = 'loft.csv', pour = '19:00', warmer = '4 K'").unwrap();
    let brimful::drying::Room::Changing(warm) = &warmer.room.over_time else {
        panic!("it changes");
    };
    let (cold, warm) = (air.spells()[0].air, warm.spells()[0].air);
    assert!((warm.temperature() - cold.temperature()).k() - 4.0 < 1e-9);
    let vapour = |air| brimful::cure::psychro::vapour_pressure(&air).pa();
    assert!((vapour(warm) / vapour(cold) - 1.0).abs() < 1e-12);
}
