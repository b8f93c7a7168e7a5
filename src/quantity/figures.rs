//! Numbers as plain text: figures, decimals, rounding.

/// A number with that many significant digits, written plainly.
///
/// Rounds the value itself to nearest; keeps trailing zeros after the point;
/// no thousands mark, no exponent, no "-0". `digits` of 0 counts as 1.
///
/// ```
/// use brimful::quantity::show::significant;
/// assert_eq!(significant(0.0999, 2), "0.10");
/// assert_eq!(significant(12345.0, 3), "12300");
/// ```
#[must_use]
pub fn significant(value: f64, digits: usize) -> String {
    if value == 0.0 {
        return "0".to_owned();
    }
    if !value.is_finite() {
        return "not a number".to_owned();
    }
    let after_first = digits.max(1) - 1;
    // "-1.23e-4": the mantissa is already rounded, so a carry is in the exponent.
    let written = format!("{value:.after_first$e}");
    let (mantissa, exponent) = written.split_once('e').unwrap_or((&written, "0"));
    let exponent: i32 = exponent.parse().unwrap_or(0);
    let figures: String = mantissa.chars().filter(char::is_ascii_digit).collect();
    let sign = if value < 0.0 { "-" } else { "" };
    let Ok(exponent) = usize::try_from(exponent) else {
        let zeros = "0".repeat(exponent.unsigned_abs() as usize - 1);
        return format!("{sign}0.{zeros}{figures}");
    };
    if exponent >= after_first {
        return format!("{sign}{figures}{}", "0".repeat(exponent - after_first));
    }
    let (whole, part) = figures.split_at(exponent + 1);
    format!("{sign}{whole}.{part}")
}

/// How far a value may be off a shorter one and still be that one, but for what turning units
/// loses, as a share of it.
const TURNED: f64 = 1e-12;

/// As [`significant`], without zeros at the end of a decimal. Half a step, on which units turned
/// twice might round either way, is shown as it is: 10.25 to three figures is 10.25.
pub(super) fn figures(value: f64, digits: usize) -> String {
    trimmed(significant(value, digits_told(value, digits)))
}

/// So many digits, or one more where a value is half a step of the last.
///
/// ```
/// use brimful::quantity::show::digits_told;
/// assert_eq!(digits_told(0.375, 2), 3);
/// assert_eq!(digits_told(0.374_999_999_999_999_9, 2), 3);
/// assert_eq!(digits_told(0.376, 2), 2);
/// ```
#[must_use]
pub fn digits_told(value: f64, digits: usize) -> usize {
    let finer = significant(value, digits + 1);
    let last = finer.trim_end_matches('.').chars().next_back();
    // a whole number longer than that ends in noughts of its own
    let counted = finer.chars().filter(char::is_ascii_digit);
    let counted = counted.skip_while(|digit| *digit == '0').count();
    let half = last == Some('5') && counted == digits + 1;
    if half && is(value, &finer) {
        digits + 1
    } else {
        digits
    }
}

/// Whether a value is the one written.
fn is(value: f64, written: &str) -> bool {
    let shorter: f64 = written.parse().unwrap_or(f64::NAN);
    (value - shorter).abs() <= TURNED * value.abs()
}

/// Two figures below ten, three from ten up, no needless zeros.
pub(super) fn fit(value: f64) -> String {
    figures(value, if value.abs() < 9.95 { 2 } else { 3 })
}

/// That many decimals at most, or one more where a value is half a step of the last; and no "-0".
pub(super) fn decimals(value: f64, places: usize) -> String {
    let finer = format!("{value:.*}", places + 1);
    let text = if finer.ends_with('5') && is(value, &finer) {
        finer
    } else {
        trimmed(format!("{value:.places$}"))
    };
    if text == "-0" { "0".to_owned() } else { text }
}

fn trimmed(text: String) -> String {
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}
