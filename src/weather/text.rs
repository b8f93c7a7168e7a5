//! From bytes to text and lines.

use super::unread::Problem;

/// The text of a file: UTF-8 with or without its mark, UTF-16 with its mark, and
/// otherwise Latin-1, in which every byte is one character.
pub(super) fn decode(bytes: &[u8]) -> Result<String, Problem> {
    let text = match bytes {
        [0xEF, 0xBB, 0xBF, rest @ ..] => latin_unless_utf8(rest),
        [0xFF, 0xFE, rest @ ..] => utf16(rest, u16::from_le_bytes)?,
        [0xFE, 0xFF, rest @ ..] => utf16(rest, u16::from_be_bytes)?,
        _ => latin_unless_utf8(bytes),
    };
    if text.contains('\0') {
        return Err(Problem::NotText);
    }
    if text.trim().is_empty() {
        return Err(Problem::Empty);
    }
    Ok(text)
}

fn latin_unless_utf8(bytes: &[u8]) -> String {
    match std::str::from_utf8(bytes) {
        Ok(text) => text.to_owned(),
        Err(_) => bytes.iter().map(|&byte| char::from(byte)).collect(),
    }
}

/// A lone byte at the end is an unfinished character and is left off.
fn utf16(bytes: &[u8], unit: fn([u8; 2]) -> u16) -> Result<String, Problem> {
    let (pairs, _) = bytes.as_chunks::<2>();
    let units = pairs.iter().map(|&pair| unit(pair));
    char::decode_utf16(units)
        .collect::<Result<_, _>>()
        .map_err(|_| Problem::NotText)
}

/// What stands in the file, short enough for a message and without control characters.
pub(super) fn shown(text: &str) -> String {
    const MOST: usize = 40;
    let mut plain = text
        .trim()
        .chars()
        .map(|c| if c.is_control() { ' ' } else { c });
    let mut told: String = plain.by_ref().take(MOST).collect();
    if plain.next().is_some() {
        told.push('…');
    }
    told
}

/// One line: its number from 1, the text without its end, and where the next begins.
#[derive(Debug, Clone, Copy)]
pub(super) struct Line<'t> {
    pub number: usize,
    pub text: &'t str,
    pub next: usize,
}

/// The lines of a text, ended by LF, CR LF or CR.
pub(super) fn lines(text: &str) -> impl Iterator<Item = Line<'_>> {
    let mut start = 0;
    let mut number = 0;
    std::iter::from_fn(move || {
        let rest = text.get(start..).filter(|rest| !rest.is_empty())?;
        let end = rest.find(['\n', '\r']).unwrap_or(rest.len());
        let mark = if rest[end..].starts_with("\r\n") {
            2
        } else {
            1
        };
        start += (end + mark).min(rest.len());
        number += 1;
        Some(Line {
            number,
            text: &rest[..end],
            next: start,
        })
    })
}

/// Whether the last line has no end of its own, and so may have broken off.
pub(super) fn breaks_off(text: &str) -> bool {
    !text.ends_with(['\n', '\r'])
}
