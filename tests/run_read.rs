//! Reading whole run files.

use brimful::coating::{Key, Source, Stage};
use brimful::quantity::{Length, Share, Units};
use brimful::run::{Air, Fill, Outline, Problem, Run, Work};

const DEMO: &str = include_str!("../data/demo.toml");
const TEMPLATE: &str = include_str!("../data/template.toml");

fn read(text: &str) -> Run {
    Run::read(text, "run.toml").unwrap_or_else(|faults| panic!("{faults}"))
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
    assert_eq!(
        fob.outline,
        Outline::Rectangle {
            length,
            width,
            corner: Length::from_mm(3.0)
        }
    );
    assert_eq!(run.room.air, Air::Still);
    assert_eq!(
        (run.room.temperature.celsius(), run.room.humidity.percent()),
        (12.0, 82.0)
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
    let [Work::Brush(print), Work::Brush(seal), Work::Dome(dome)] = works[..] else {
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
    assert!((run.room.temperature.celsius() - 20.0).abs() < 1e-9);
    assert!((run.room.air.speed().m_per_s() - 0.3).abs() < 1e-12);
    assert!(matches!(run.steps[0].work, Work::Dome(dome) if dome.fill == Fill::Target));
    assert!(
        run.assumed
            .iter()
            .any(|assumed| assumed.key == "step[0].fill" && assumed.value == "safe")
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
