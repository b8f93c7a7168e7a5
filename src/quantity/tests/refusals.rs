//! What is refused, with the whole of what is said.

use crate::quantity::{Kind, parse, unreadable::Problem};

use Kind::{
    Density, Humidity, Length, Mass, Money, Ratio, Share, Temperature, TemperatureDifference, Time,
    Volume,
};

const SAID: &[(&str, Kind, &str)] = &[
    (
        "1'000 mm",
        Length,
        r#""1'000 mm": an apostrophe in the number; did you mean "1000 mm"?"#,
    ),
    (
        "1\u{a0}250\u{a0}000 mm",
        Length,
        "\"1\u{a0}250\u{a0}000 mm\": a space in the number; did you mean \"1250000 mm\"?",
    ),
    (
        "5' 30 mm",
        Length,
        r#""5' 30 mm": "30 mm" follows a length; did you mean "5 '"?"#,
    ),
    (
        "20 degrees",
        Temperature,
        r#""20 degrees": that is an angle, and a temperature is wanted; did you mean "20 C" or "20 F"?"#,
    ),
    (
        "8 lb/gal",
        Density,
        r#""8 lb/gal": could be US or imperial; write "8 lb/US gal" (0.959 g/mL) or "8 lb/imp gal" (0.798 g/mL)"#,
    ),
    ("", Length, r#"nothing there; write a length like "25 mm""#),
    (
        " \u{a0} ",
        Time,
        r#"nothing there; write a time like "24 h""#,
    ),
    (
        "mm",
        Length,
        r#""mm": no number at the start; write a length like "25 mm""#,
    ),
    (
        "thin",
        Length,
        r#""thin": no number at the start; write a length like "25 mm""#,
    ),
    (
        "NaN mm",
        Length,
        r#""NaN mm": no number at the start; write a length like "25 mm""#,
    ),
    (
        "25",
        Length,
        r#""25": a length needs a unit; did you mean "25 mm"?"#,
    ),
    (
        "24",
        Time,
        r#""24": a time needs a unit; did you mean "24 min" or "24 h"?"#,
    ),
    (
        "0",
        Temperature,
        r#""0": a temperature needs a unit; did you mean "0 C" or "0 F"?"#,
    ),
    (
        "0.5",
        Share,
        r#""0.5": a share needs a unit; did you mean "50 %"?"#,
    ),
    (
        "85",
        Humidity,
        r#""85": a relative humidity needs a unit; did you mean "85 %"?"#,
    ),
    (
        "2 oz",
        Volume,
        r#""2 oz": could be a weight or a volume; write "2 oz wt" (56.7 g) or "2 US fl oz" (59.1 mL)"#,
    ),
    (
        "2 oz",
        Mass,
        r#""2 oz": could be a weight or a volume; write "2 oz wt" (56.7 g) or "2 US fl oz" (59.1 mL)"#,
    ),
    (
        "2 oz of glaze",
        Mass,
        r#""2 oz of glaze": could be a weight or a volume; write "2 oz wt" (56.7 g) or "2 US fl oz" (59.1 mL)"#,
    ),
    (
        "2 Oz.",
        Length,
        r#""2 Oz.": could be a weight or a volume; write "2 oz wt" (56.7 g) or "2 US fl oz" (59.1 mL); neither is a length"#,
    ),
    (
        "1 gal",
        Volume,
        r#""1 gal": could be US or imperial; write "1 US gal" (3.79 L) or "1 imp gal" (4.55 L)"#,
    ),
    (
        "1/2 pint",
        Volume,
        r#""1/2 pint": could be US or imperial; write "1/2 US pt" (237 mL) or "1/2 imp pt" (284 mL)"#,
    ),
    (
        "2,5 mm",
        Length,
        r#""2,5 mm": a comma in the number; did you mean "2.5 mm"?"#,
    ),
    (
        "1,250 mm",
        Length,
        r#""1,250 mm": a comma in the number; did you mean "1.250 mm" or "1250 mm"?"#,
    ),
    (
        "1.250,5 mm",
        Length,
        r#""1.250,5 mm": a comma in the number; did you mean "1250.5 mm"?"#,
    ),
    (
        "1,250.5 mm",
        Length,
        r#""1,250.5 mm": a comma in the number; did you mean "1250.5 mm"?"#,
    ),
    (
        "7,20",
        Money,
        r#""7,20": a comma in the number; did you mean "7.20"?"#,
    ),
    (
        "25 mn",
        Length,
        r#""25 mn": no unit "mn"; did you mean "25 mm"?"#,
    ),
    (
        "3 milimetres",
        Length,
        r#""3 milimetres": no unit "milimetres"; did you mean "3 millimetres"?"#,
    ),
    (
        "3 furlongs",
        Length,
        r#""3 furlongs": no unit "furlongs"; write a length like "25 mm""#,
    ),
    (
        "25 g",
        Length,
        r#""25 g": that is a mass, and a length is wanted; write a length like "25 mm""#,
    ),
    (
        "25 m2 of felt",
        Length,
        r#""25 m2 of felt": that is an area, and a length is wanted; write a length like "25 mm""#,
    ),
    (
        "90 m",
        Time,
        r#""90 m": that is a length, and a time is wanted; did you mean "90 min"?"#,
    ),
    (
        "2.3 mm",
        Ratio,
        r#""2.3 mm": that is a length, and a ratio is wanted; write a ratio like "2:1""#,
    ),
    (
        "7.20 EUR",
        Money,
        r#""7.20 EUR": an amount of money takes no unit, and "EUR" follows; did you mean "7.20"?"#,
    ),
    (
        "-5 mm",
        Length,
        r#""-5 mm": a length cannot be below zero; write a length like "25 mm""#,
    ),
    (
        "-1 h 30 min",
        Time,
        r#""-1 h 30 min": a time cannot be below zero; write a time like "24 h""#,
    ),
    (
        "-300 C",
        Temperature,
        r#""-300 C": colder than absolute zero, -273.15 °C"#,
    ),
    (
        "1e999 mm",
        Length,
        r#""1e999 mm": the number is too long, too large or too small"#,
    ),
    (
        "1e-999 mm",
        Length,
        r#""1e-999 mm": the number is too long, too large or too small"#,
    ),
    (
        "0.1000000000000000000000000000001 mm",
        Length,
        r#""0.1000000000000000000000000000001 mm": the number is too long, too large or too small"#,
    ),
    (
        "1/0 in",
        Length,
        r#""1/0 in": the fraction divides by zero"#,
    ),
    ("2:0", Ratio, r#""2:0": the fraction divides by zero"#),
    (
        "24-48 h",
        Time,
        r#""24-48 h": a range, and one value is wanted; did you mean "24 h" or "48 h"?"#,
    ),
    (
        "2 to 3 K",
        TemperatureDifference,
        r#""2 to 3 K": a range, and one value is wanted; did you mean "2 K" or "3 K"?"#,
    ),
    (
        "25 mm wide",
        Length,
        r#""25 mm wide": "wide" follows a length; did you mean "25 mm"?"#,
    ),
    (
        "30 min 1 h",
        Time,
        r#""30 min 1 h": "1 h" follows a time; did you mean "1 h 30 min" or "30 min"?"#,
    ),
    (
        "5 ft 3",
        Length,
        r#""5 ft 3": a length needs a unit; did you mean "5 ft 3 in"?"#,
    ),
    (
        "2:1:1",
        Ratio,
        r#""2:1:1": ":1" follows a ratio; did you mean "2:1"?"#,
    ),
    (
        "25 m\u{1b}[2J",
        Length,
        r#""25 m\u{1b}[2J": no unit "m\u{1b}[2J"; write a length like "25 mm""#,
    ),
];

#[test]
fn every_refusal_says_what_was_meant() {
    for (text, kind, words) in SAID {
        let why = parse::read(text, Some(*kind)).expect_err(text);
        assert_eq!(why.to_string(), *words);
        assert_eq!((why.read.as_str(), why.expected), (*text, Some(*kind)));
    }
    assert_eq!(SAID.len(), 49);
}

#[test]
fn a_refusal_carries_its_data() {
    let why = parse::read("25 g", Some(Length)).expect_err("a mass");
    assert_eq!(why.problem, Problem::WrongKind { found: Mass });
    let why = parse::read("2 oz", None).expect_err("doubtful");
    let Problem::Ambiguous { readings, .. } = why.problem else {
        panic!("{why}")
    };
    let ways: Vec<_> = readings
        .iter()
        .map(|way| (way.write.as_str(), way.is.as_str()))
        .collect();
    assert_eq!(ways, [("2 oz wt", "56.7 g"), ("2 US fl oz", "59.1 mL")]);
}

#[test]
fn a_very_long_text_is_refused_soon_and_briefly() {
    for piece in ["9", " ", "1 ", "1/", "m ", "1 h ", "é", "½", " /"] {
        let text = format!("1 {}", piece.repeat(20_000));
        let why = parse::read(&text, Some(Length)).expect_err("nonsense");
        assert!(why.to_string().chars().count() < 250, "{piece}");
    }
}
