//! The number at the start of a text: decimals, fractions, mixed numbers.

/// Most digits a number may have; more than this is a slip of the keys.
const MOST_DIGITS: usize = 30;

/// Why no number could be taken from the start of a text.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum NotANumber {
    /// The text does not begin with one.
    Missing,
    /// It has a comma, or a mark between thousands.
    Mark(char),
    /// It has too many digits, or is too large or small for arithmetic.
    OutOfReach,
    /// Its fraction has nothing below the line but zero.
    DividesByZero,
}

/// Takes the number from the start of a tidied text; returns the rest too.
pub(super) fn take(text: &str) -> Result<(f64, &str), NotANumber> {
    let (sign, unsigned) = match text.strip_prefix('-') {
        Some(rest) => (-1.0, rest.trim_start()),
        None => (1.0, text.strip_prefix('+').unwrap_or(text).trim_start()),
    };
    let (whole, rest) = decimal(unsigned)?;
    let (value, rest) = match whole {
        Some(whole) => after_whole(whole, rest, unsigned)?,
        None => vulgar(rest).ok_or(NotANumber::Missing)?,
    };
    if value.is_finite() {
        Ok((sign * value, rest))
    } else {
        Err(NotANumber::OutOfReach)
    }
}

/// Whether the text begins as a number does.
pub(super) fn begins(text: &str) -> bool {
    let text = text.strip_prefix('.').unwrap_or(text);
    text.starts_with(|c: char| c.is_ascii_digit() || one_vulgar(c).is_some())
}

/// What a first run of digits may be part of: "1/2", "1 1/2", "1-1/2", "1½".
fn after_whole<'a>(whole: f64, rest: &'a str, from: &'a str) -> Result<(f64, &'a str), NotANumber> {
    let is_integer = from[..from.len() - rest.len()]
        .bytes()
        .all(|b| b.is_ascii_digit());
    if !is_integer {
        return Ok((whole, rest));
    }
    if let Some(found) = fraction(from)? {
        return Ok(found);
    }
    let next = rest.strip_prefix('-').unwrap_or(rest.trim_start());
    let part = if next.len() < rest.len() {
        fraction(next)?
    } else {
        None
    };
    let part = part.or_else(|| vulgar(rest.trim_start()));
    Ok(part.map_or((whole, rest), |(part, rest)| (whole + part, rest)))
}

/// Digits, a slash, digits.
fn fraction(text: &str) -> Result<Option<(f64, &str)>, NotANumber> {
    let (Some(above), rest) = integer(text)? else {
        return Ok(None);
    };
    let Some(rest) = rest.strip_prefix('/') else {
        return Ok(None);
    };
    let (Some(below), rest) = integer(rest)? else {
        return Ok(None);
    };
    if below == 0.0 {
        return Err(NotANumber::DividesByZero);
    }
    Ok(Some((above / below, rest)))
}

/// Digits with at most one point and an exponent; `None` if there are none.
fn decimal(text: &str) -> Result<(Option<f64>, &str), NotANumber> {
    let whole = digits(text);
    let mut end = whole;
    if text[end..].starts_with('.') {
        let part = digits(&text[end + 1..]);
        if whole + part > 0 {
            end += 1 + part;
        }
    }
    if end == 0 {
        return Ok((None, text));
    }
    let mantissa = end;
    if let Some(after) = text[end..].strip_prefix(['e', 'E']) {
        let power = after.strip_prefix(['+', '-']).unwrap_or(after);
        if digits(power) > 0 {
            end = text.len() - power.len() + digits(power);
        }
    }
    let rest = &text[end..];
    if let Some(mark) = mark(rest) {
        return Err(NotANumber::Mark(mark));
    }
    let value = value(&text[..end], mantissa)?;
    Ok((Some(value), rest))
}

/// The mark that the text goes on with after digits: a comma before more
/// digits, or a space or apostrophe before exactly three, as in "1'000".
fn mark(rest: &str) -> Option<char> {
    let mark = rest.chars().next()?;
    let after = rest.strip_prefix([',', ' ', '\''])?;
    let found = digits(after);
    let thousands = found == 3 && !after[found..].starts_with(['/', '"']);
    (thousands || (mark == ',' && found > 0)).then_some(mark)
}

/// The value of a literal whose first `mantissa` bytes come before its exponent.
fn value(literal: &str, mantissa: usize) -> Result<f64, NotANumber> {
    let value: f64 = literal.parse().map_err(|_| NotANumber::Missing)?;
    let lost = value == 0.0
        && literal[..mantissa]
            .bytes()
            .any(|b| (b'1'..=b'9').contains(&b));
    if literal.len() > MOST_DIGITS || lost || !value.is_finite() {
        return Err(NotANumber::OutOfReach);
    }
    Ok(value)
}

/// A run of digits and nothing else.
fn integer(text: &str) -> Result<(Option<f64>, &str), NotANumber> {
    let end = digits(text);
    if end == 0 {
        return Ok((None, text));
    }
    Ok((Some(value(&text[..end], end)?), &text[end..]))
}

fn digits(text: &str) -> usize {
    text.bytes().take_while(u8::is_ascii_digit).count()
}

/// A one-character fraction at the start of the text.
fn vulgar(text: &str) -> Option<(f64, &str)> {
    let mut chars = text.chars();
    let value = one_vulgar(chars.next()?)?;
    Some((value, chars.as_str()))
}

fn one_vulgar(c: char) -> Option<f64> {
    let (above, below) = match c {
        '½' => (1.0, 2.0),
        '¼' => (1.0, 4.0),
        '¾' => (3.0, 4.0),
        '⅓' => (1.0, 3.0),
        '⅔' => (2.0, 3.0),
        '⅛' => (1.0, 8.0),
        '⅜' => (3.0, 8.0),
        '⅝' => (5.0, 8.0),
        '⅞' => (7.0, 8.0),
        _ => return None,
    };
    Some(above / below)
}
