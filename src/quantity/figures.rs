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

/// As [`significant`], without zeros at the end of a decimal.
pub(super) fn figures(value: f64, digits: usize) -> String {
    trimmed(significant(value, digits))
}

/// Two figures below ten, three from ten up, no needless zeros.
pub(super) fn fit(value: f64) -> String {
    figures(value, if value.abs() < 9.95 { 2 } else { 3 })
}

/// That many decimals at most, and no "-0".
pub(super) fn decimals(value: f64, places: usize) -> String {
    let text = trimmed(format!("{value:.places$}"));
    if text == "-0" { "0".to_owned() } else { text }
}

fn trimmed(text: String) -> String {
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}
