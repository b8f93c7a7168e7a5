//! Numbers as pictures print them: few digits, no trailing clutter.

/// `value` to a number of significant digits. Digits left of the point are never rounded away.
///
/// ```
/// use brimful::show::draw::figure::significant;
///
/// assert_eq!(significant(2.137, 2), "2.1");
/// assert_eq!(significant(0.0962, 2), "0.096");
/// assert_eq!(significant(9.97, 2), "10");
/// assert_eq!(significant(123.4, 2), "123");
/// ```
#[must_use]
pub fn significant(value: f64, digits: usize) -> String {
    let mut decimals = decimals(value, digits);
    let mut text = format!("{value:.decimals$}");
    // Rounding may have carried into a new digit: 9.97 to two digits is 10, not 10.0.
    if let Ok(rounded) = text.parse::<f64>()
        && self::decimals(rounded, digits) < decimals
    {
        decimals = self::decimals(rounded, digits);
        text = format!("{value:.decimals$}");
    }
    text
}

/// Places after the point that show `digits` significant digits of `value`.
fn decimals(value: f64, digits: usize) -> usize {
    if value == 0.0 || !value.is_finite() {
        return 0;
    }
    let mut places = digits.saturating_sub(1);
    let mut size = value.abs();
    while size >= 10.0 && places > 0 {
        size /= 10.0;
        places -= 1;
    }
    while size < 1.0 && places < 12 {
        size *= 10.0;
        places += 1;
    }
    places
}

/// The fewest significant digits, from two to four, at which no two of the `values` read alike.
#[must_use]
pub fn digits_apart(values: &[f64]) -> usize {
    (2..4)
        .find(|digits| {
            let read: Vec<_> = values.iter().map(|v| significant(*v, *digits)).collect();
            read.iter().enumerate().all(|(i, a)| !read[..i].contains(a))
        })
        .unwrap_or(4)
}

/// A length, at most a whole number of decimals, without trailing zeros: 38, 12.7, 0.5.
#[must_use]
pub fn trimmed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

/// A step of 1, 2 or 5 times a power of ten that cuts `span` into at most `pieces` parts.
///
/// `span` must be above zero and finite and `pieces` above zero.
#[must_use]
pub fn step(span: f64, pieces: f64) -> f64 {
    let rough = span / pieces;
    let power = 10f64.powf(rough.log10().floor());
    let least = rough / power;
    [1.0, 2.0, 5.0]
        .into_iter()
        .find(|m| *m >= least - 1e-9)
        .unwrap_or(10.0)
        * power
}
