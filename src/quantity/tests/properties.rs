//! Properties: no text panics, every hint reads, what is shown reads back.

use crate::quantity::parse::{self, Quantity};
use crate::quantity::{
    Angle, Area, Density, Diffusivity, DynamicViscosity, Humidity, Irradiance, Kind, Length, Mass,
    MolarEnergy, Money, Pressure, RadiantExposure, Ratio, Share, Show, Speed, SurfaceTension,
    Temperature, TemperatureDifference, Time, Units, Volume,
};
use proptest::prelude::*;

/// Reads the text as every kind, and tries every hint that comes back.
fn try_all(text: &str) -> Result<(), TestCaseError> {
    let wanted = Kind::ALL.iter().map(|kind| Some(*kind)).chain([None]);
    for expected in wanted {
        match parse::read(text, expected) {
            Ok(read) => {
                prop_assert!(read.si.is_finite());
                prop_assert!(expected.is_none_or(|kind| kind == read.kind));
                prop_assert!(read.si >= 0.0 || read.kind.can_be_negative());
            }
            Err(why) => {
                prop_assert!(!why.to_string().chars().any(char::is_control));
                for near in &why.nearest {
                    prop_assert!(parse::read(near, expected).is_ok(), "{text:?}: {near:?}");
                }
            }
        }
    }
    Ok(())
}

proptest! {
    #[test]
    fn no_text_panics(text in any::<String>()) {
        try_all(&text)?;
    }

    #[test]
    fn no_text_made_of_likely_pieces_panics(pieces in prop::collection::vec(
        prop::sample::select(vec![
            "1", "0", "25", "1e9", "e", ".", ",", "-", "\u{2212}", "/", ":", " ", "\u{a0}", "½", "mm", "m", "h", "min",
            "s", "oz", "fl oz", "in", "\"", "'", "%", "°", "C", "F", "K", "per", "cent", "m2", "/s", "g", "to ", "²", "é",
            "gal", "RH", "(",
        ]), 0..9))
    {
        try_all(&pieces.concat())?;
    }
}

/// The step of the last figure printed at the start of the text: numbers of
/// 1000 and more have three figures.
fn last_place(text: &str) -> f64 {
    let number: String = text
        .chars()
        .take_while(|c| c.is_ascii_digit() || "-.".contains(*c))
        .collect();
    let decimals = number.split_once('.').map_or(0, |(_, part)| part.len());
    let whole = number
        .split('.')
        .next()
        .unwrap_or("")
        .trim_start_matches('-')
        .len();
    let places =
        i32::try_from(whole.saturating_sub(3)).unwrap_or(0) - i32::try_from(decimals).unwrap_or(0);
    10f64.powi(places)
}

/// Shows the value in both sets of units and reads it back as its own kind.
/// It must be within half the last printed place, in the printed unit, and
/// (two figures being the fewest kept) within one part in twenty.
fn round_trip<Q: Quantity + Show>(held: f64, coarse: bool) -> Result<(), TestCaseError> {
    for units in [Units::Metric, Units::Us] {
        let text = Q::from_held(held).show(units);
        prop_assert!(!text.contains('e'), "{text}");
        let back =
            parse::read(&text, Some(Q::OF)).map_err(|why| TestCaseError::fail(why.to_string()))?;
        // The held size of one printed unit, found from the text's own unit.
        let unit = text.trim_start_matches(|c: char| c.is_ascii_digit() || "-./ ".contains(c));
        let one =
            |n: i32| parse::read(&format!("{n} {unit}"), Some(Q::OF)).map_or(1.0, |read| read.si);
        let step = (one(2) - one(1)) * last_place(&text);
        let off = (back.si - held).abs();
        prop_assert!(
            off <= step * (0.5 + 1e-9),
            "{held:e} as {text} is off by {off:e}"
        );
        prop_assert!(coarse || off <= held.abs() / 19.0, "{held:e} as {text}");
    }
    Ok(())
}

proptest! {
    // Each range spans what a workshop can meet, and then some.
    #[test]
    fn what_is_shown_reads_back(p in -6.0..3.0f64, q in 0.0..1.0f64) {
        let x = 10f64.powf(p);
        round_trip::<Length>(x, false)?;
        round_trip::<Area>(x, false)?;
        round_trip::<Volume>(x * 1e-3, false)?;
        round_trip::<Mass>(x, false)?;
        round_trip::<Time>(x * 1e4, false)?;
        round_trip::<Speed>(x, false)?;
        round_trip::<Pressure>(x * 1e3, false)?;
        round_trip::<Density>(x * 1e3, false)?;
        round_trip::<SurfaceTension>(x, false)?;
        round_trip::<Angle>(q - 0.5, false)?;
        round_trip::<Share>(q, false)?;
        round_trip::<Humidity>(q, true)?;
        round_trip::<Temperature>(q * 200.0 - 80.0, true)?;
        round_trip::<TemperatureDifference>(q * 60.0 - 30.0, true)?;
        round_trip::<Diffusivity>(x * 1e-9, false)?;
        round_trip::<MolarEnergy>(x * 1e4, false)?;
        round_trip::<Irradiance>(x * 10.0, false)?;
        round_trip::<RadiantExposure>(x * 1e3, false)?;
        round_trip::<DynamicViscosity>(x, false)?;
        round_trip::<Ratio>(x, false)?;
        round_trip::<Money>(x, true)?;
    }

    #[test]
    fn whole_sixteenths_of_an_inch_read_back_as_they_were(n in 1..192u32) {
        let text = Length::from_in(f64::from(n) / 16.0).show(Units::Us);
        let back: Length = text.parse().map_err(|_| TestCaseError::fail(text.clone()))?;
        prop_assert!((back.inch() * 16.0 - f64::from(n)).abs() < 1e-9, "{text}");
    }
}
