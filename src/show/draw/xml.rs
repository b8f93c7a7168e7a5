//! Text that XML can carry.

/// `text` on one line, with every run of white space made one space and every
/// character that XML 1.0 cannot carry replaced by U+FFFD.
///
/// The characters allowed are those of the production `Char` in section 2.2
/// of the W3C recommendation "Extensible Markup Language (XML) 1.0".
#[must_use]
pub fn clean(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for word in text.split_whitespace() {
        if !out.is_empty() {
            out.push(' ');
        }
        out.extend(
            word.chars()
                .map(|c| if allowed(c) { c } else { '\u{FFFD}' }),
        );
    }
    out
}

fn allowed(c: char) -> bool {
    // C1 controls are legal in XML 1.0 but discouraged there, and draw nothing.
    !c.is_control() && !matches!(c, '\u{FFFE}' | '\u{FFFF}')
}

/// `text` cleaned, and its mark-up characters written as entities.
pub(super) fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in clean(text).chars() {
        match c {
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '&' => out.push_str("&amp;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&apos;"),
            other => out.push(other),
        }
    }
    out
}
