//! Words for mixes: how long they last, and how much to mix. What is a most is
//! rounded down, what is a least up.

use crate::quantity::Share;
use crate::quantity::show::significant;

pub(super) use crate::quantity::show::{at_least, at_most, lasting};

/// Two times as a span: "4 to 23 min", "31 min to 2.5 h", or the one that both are.
pub(super) fn from_to(from: &str, to: &str) -> String {
    match (from.split_once(' '), to.split_once(' ')) {
        _ if from == to => to.to_owned(),
        (Some((number, unit)), Some((_, same))) if unit == same => format!("{number} to {to}"),
        _ => format!("{from} to {to}"),
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
