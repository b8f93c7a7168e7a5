//! What is a most or a least, told so that it stays one: a most is rounded down, a least up.

use super::{Mass, Time, Units};

/// A time that a mix lasts, rounded down, in the unit that fits it.
#[must_use]
pub fn lasting(time: Time) -> String {
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

/// A mass that is the most to mix: two figures, rounded down.
#[must_use]
pub fn at_most(mass: Mass, units: Units) -> String {
    rounded(mass, units, f64::floor)
}

/// A mass that is the least to mix: two figures, rounded up.
#[must_use]
pub fn at_least(mass: Mass, units: Units) -> String {
    rounded(mass, units, f64::ceil)
}

fn rounded(mass: Mass, units: Units, round: fn(f64) -> f64) -> String {
    // the finest figure told: no scale for this reads better
    let (value, unit, finest) = match units {
        Units::Metric => (mass.g(), "g", -1),
        Units::Us => (mass.oz(), "oz wt", -3),
    };
    #[expect(
        clippy::cast_possible_truncation,
        reason = "the logarithm of a mass is a small number, and that of none is cut off at the finest"
    )]
    let figure = ((value.log10().floor() - 1.0) as i32).max(finest);
    let step = 10f64.powi(figure);
    // a rounding of the arithmetic moves no figure by a step
    let near = (value / step).round();
    let steps = if (value / step - near).abs() < 1e-9 {
        near
    } else {
        round(value / step)
    };
    let places = usize::try_from(-figure).unwrap_or(0);
    if steps < 1.0 {
        return format!("under {step:.places$} {unit}");
    }
    format!("{:.places$} {unit}", steps * step)
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
        // 0.2 g are 0.00705 oz, 13 g are 0.4586 oz
        assert_eq!(at_most(grams(0.2), Units::Us), "0.007 oz wt");
        assert_eq!(at_most(grams(13.0), Units::Us), "0.45 oz wt");
        assert_eq!(at_most(grams(0.02), Units::Us), "under 0.001 oz wt");
        assert_eq!(at_most(grams(0.07), Units::Metric), "under 0.1 g");
        assert_eq!(lasting(Time::from_min(9.99)), "9 min");
        assert_eq!(lasting(Time::from_min(0.5)), "under a minute");
        assert_eq!(lasting(Time::from_min(159.0)), "2.6 h");
        assert_eq!(lasting(Time::from_days(9.0)), "over a week");
    }
}
