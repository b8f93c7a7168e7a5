//! Numbers and blanks as loggers write them.

/// What stands in a cell where a number belongs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Cell {
    Number(f64),
    /// Blank, a dash, "NaN" or words: no reading.
    None,
}

/// Reads digits with a sign and one decimal mark, a point or a comma. No powers of
/// ten and no marks between thousands: a cell that has them is no reading.
pub(super) fn cell(text: &str) -> Cell {
    match number(text.trim()) {
        Some(number) => Cell::Number(number),
        None => Cell::None,
    }
}

fn number(text: &str) -> Option<f64> {
    let (minus, bare) = match text.strip_prefix(['-', '\u{2212}']) {
        Some(bare) => (true, bare),
        None => (false, text.strip_prefix('+').unwrap_or(text)),
    };
    let mut marks = 0;
    let mut digits = 0;
    for byte in bare.bytes() {
        match byte {
            b'0'..=b'9' => digits += 1,
            b'.' | b',' => marks += 1,
            _ => return None,
        }
    }
    if digits == 0 || marks > 1 {
        return None;
    }
    let size: f64 = if bare.contains(',') {
        bare.replace(',', ".").parse().ok()?
    } else {
        bare.parse().ok()?
    };
    Some(if minus { -size } else { size })
}

/// Digits behind the decimal mark.
pub(super) fn decimals(text: &str) -> usize {
    let text = text.trim();
    text.find(['.', ','])
        .map_or(0, |mark| text.len() - mark - 1)
}
