//! Money left, in words.

use crate::quantity::show::significant;
use crate::quantity::{Money, Ratio, Show, Units};

/// "44.98", or where it is less than nothing "a loss of 44.98".
#[must_use]
pub fn gain(money: Money, units: Units) -> String {
    let size = if money < Money::ZERO {
        Money::ZERO - money
    } else {
        money
    };
    let shown = size.show(units);
    // what rounds to nothing is no loss
    if money < Money::ZERO && shown != Money::ZERO.show(units) {
        format!("a loss of {shown}")
    } else {
        shown
    }
}

/// "1 sold pays", "27 sold pay".
#[must_use]
pub const fn pay(count: u64) -> &'static str {
    if count == 1 { "pays" } else { "pay" }
}

/// "a sale of one piece", "a sale of 1.4 pieces".
#[must_use]
pub fn a_sale(pieces: Ratio) -> String {
    match significant(pieces.number(), 2).as_str() {
        "1.0" => "a sale of one piece".to_owned(),
        many => format!("a sale of {many} pieces"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_loss_is_said_and_a_rounding_is_none() {
        let said = |amount| gain(Money::from_amount(amount), Units::Metric);
        assert_eq!(said(-44.98), "a loss of 44.98");
        assert_eq!(said(44.98), "44.98");
        assert_eq!(said(-0.001), "0.00");
        assert_eq!(a_sale(Ratio::from_number(1.0)), "a sale of one piece");
        assert_eq!(a_sale(Ratio::from_number(1.4)), "a sale of 1.4 pieces");
    }
}
