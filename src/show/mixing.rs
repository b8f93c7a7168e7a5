//! Words for mixes: how long they last, and how much to mix. What is a most is
//! rounded down, what is a least up.

use crate::quantity::show::significant;
use crate::quantity::{Mass, Share, Time, Units, Volume};

/// A time that a mix lasts, rounded down, in the unit that fits it.
pub(super) fn lasting(time: Time) -> String {
    let (minutes, hours, days) = (time.min(), time.h(), time.days());
    if minutes < 1.0 {
        "under a minute".to_owned()
    } else if minutes < 120.0 {
        format!("{:.0} min", minutes.floor())
    } else if hours < 10.0 {
        format!("{} h", (hours * 10.0).floor() / 10.0)
    } else if hours < 48.0 {
        format!("{:.0} h", hours.floor())
    } else if days < 7.0 {
        format!("{:.0} days", days.floor())
    } else {
        "over a week".to_owned()
    }
}

/// Two times as a span: "4 to 23 min", "31 min to 2.5 h", or the one that both are.
pub(super) fn from_to(from: &str, to: &str) -> String {
    match (from.split_once(' '), to.split_once(' ')) {
        _ if from == to => to.to_owned(),
        (Some((number, unit)), Some((_, same))) if unit == same => format!("{number} to {to}"),
        _ => format!("{from} to {to}"),
    }
}

/// The masses of two parts, in tenths of a gram or thousandths of an ounce.
pub(super) fn weighed([a, b]: [Mass; 2], units: Units) -> String {
    let one = |mass| part_weighed(mass, units);
    format!("A {} and B {}", one(a), one(b))
}

/// The volumes of two parts, in tenths of a millilitre or thousandths of a fluid ounce.
pub(super) fn measured([a, b]: [Volume; 2], units: Units) -> String {
    let one = |volume| part_measured(volume, units);
    format!("A {} and B {}", one(a), one(b))
}

/// The mass of one part of a mix.
pub(super) fn part_weighed(mass: Mass, units: Units) -> String {
    match units {
        Units::Metric => format!("{:.1} g", mass.g()),
        Units::Us => format!("{:.3} oz wt", mass.oz()),
    }
}

/// The volume of one part of a mix.
pub(super) fn part_measured(volume: Volume, units: Units) -> String {
    match units {
        Units::Metric => format!("{:.1} mL", volume.ml()),
        Units::Us => format!("{:.3} fl oz", volume.us_fl_oz()),
    }
}

/// A mass that is the most to mix: two figures, rounded down.
pub(super) fn at_most(mass: Mass, units: Units) -> String {
    rounded(mass, units, f64::floor)
}

/// A mass that is the least to mix: two figures, rounded up.
pub(super) fn at_least(mass: Mass, units: Units) -> String {
    rounded(mass, units, f64::ceil)
}

fn rounded(mass: Mass, units: Units, round: fn(f64) -> f64) -> String {
    let (value, unit) = match units {
        Units::Metric => (mass.g(), "g"),
        Units::Us => (mass.oz(), "oz wt"),
    };
    // a tenth at the finest: no scale for this reads better
    let step = 10f64.powf((value.log10().floor() - 1.0).max(-1.0));
    // a rounding of the arithmetic moves no figure by a step
    let near = (value / step).round();
    let steps = if (value / step - near).abs() < 1e-9 {
        near
    } else {
        round(value / step)
    };
    let places = usize::from(step < 1.0);
    format!("{:.places$} {unit}", steps * step)
}

/// How far out a part may be: "a third" where it is about that, else in per cent.
pub(super) fn out_by(share: Share) -> String {
    let percent = share.percent();
    let words = format!("{} %", significant(percent, 2));
    match percent {
        100.0.. => "as much as all of it or more".to_owned(),
        30.0..37.0 => format!("{words}, about a third"),
        _ => words,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// An avoirdupois ounce is 28.349523125 g.
    #[test]
    fn a_most_is_rounded_down_and_a_least_up() {
        let grams = Mass::from_g;
        assert_eq!(at_most(grams(137.9), Units::Metric), "130 g");
        assert_eq!(at_most(grams(12.99), Units::Metric), "12 g");
        assert_eq!(at_most(grams(7.77), Units::Metric), "7.7 g");
        assert_eq!(at_least(grams(21.1), Units::Metric), "22 g");
        assert_eq!(at_least(grams(2.11), Units::Metric), "2.2 g");
        assert_eq!(at_least(grams(20.0 * 1.05), Units::Metric), "21 g");
        assert_eq!(at_most(grams(39.6), Units::Us), "1.3 oz wt");
        assert_eq!(lasting(Time::from_min(9.99)), "9 min");
        assert_eq!(lasting(Time::from_min(0.5)), "under a minute");
        assert_eq!(lasting(Time::from_min(159.0)), "2.6 h");
        assert_eq!(from_to("4 min", "23 min"), "4 to 23 min");
        assert_eq!(from_to("31 min", "2.5 h"), "31 min to 2.5 h");
        assert_eq!(from_to("9 min", "9 min"), "9 min");
        assert_eq!(lasting(Time::from_days(9.0)), "over a week");
    }
}
