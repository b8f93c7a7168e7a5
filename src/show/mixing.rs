//! Words for mixes: how long they last, and how much to mix. What is a most is
//! rounded down, what is a least up.

use crate::quantity::show::significant;
use crate::quantity::{Mass, Share, Units, Volume};

pub(super) use crate::quantity::show::{at_least, at_most, lasting};

/// What a bottle of two parts holds.
pub(super) const TOGETHER: &str = "A and B together";

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

/// The masses of two parts that are to be taken many times, a digit more.
pub(super) fn finely_weighed([a, b]: [Mass; 2], units: Units) -> String {
    let one = |mass| part_finely_weighed(mass, units);
    format!("A {} and B {}", one(a), one(b))
}

/// So many decimals that two figures of a small amount are told, as it is taken many times; at least so many.
fn places(amount: f64, least: usize) -> usize {
    (least..least + 4)
        .find(|&places| amount * 10_f64.powi(i32::try_from(places).unwrap_or(0)) >= 9.5)
        .unwrap_or(least)
}

/// The mass of one part of what one piece takes.
pub(super) fn part_finely_weighed(mass: Mass, units: Units) -> String {
    match units {
        Units::Metric => format!("{:.*} g", places(mass.g(), 2), mass.g()),
        Units::Us => format!("{:.*} oz wt", places(mass.oz(), 4), mass.oz()),
    }
}

/// The volumes of two parts, in tenths of a millilitre or thousandths of a fluid ounce.
pub(super) fn measured([a, b]: [Volume; 2], units: Units) -> String {
    let one = |volume| part_measured(volume, units);
    format!("A {} and B {}", one(a), one(b))
}

/// The volume of one part of what one piece takes.
pub(super) fn part_finely_measured(volume: Volume, units: Units) -> String {
    match units {
        Units::Metric => format!("{:.*} mL", places(volume.ml(), 2), volume.ml()),
        Units::Us => format!(
            "{:.*} fl oz",
            places(volume.us_fl_oz(), 4),
            volume.us_fl_oz()
        ),
    }
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

    #[test]
    fn two_times_of_one_unit_name_it_once() {
        assert_eq!(from_to("4 min", "23 min"), "4 to 23 min");
        assert_eq!(from_to("31 min", "2.5 h"), "31 min to 2.5 h");
        assert_eq!(from_to("9 min", "9 min"), "9 min");
    }
}
