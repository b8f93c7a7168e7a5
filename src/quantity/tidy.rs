//! One way of writing before anything is read.

/// One spelling for what keyboards and typesetters write differently.
pub(super) fn tidy(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut chars = text.trim().chars().peekable();
    while let Some(c) = chars.next() {
        let next = chars.peek().copied();
        match c {
            '\u{2212}' | '\u{2010}'..='\u{2014}' => out.push('-'),
            '\u{2044}' | '\u{2215}' => out.push('/'),
            '\u{2033}' | '\u{201c}' | '\u{201d}' => out.push('"'),
            '\u{2032}' | '\u{2018}' | '\u{2019}' => out.push('\''),
            '²' => out.push('2'),
            '³' => out.push('3'),
            'µ' | 'μ' => out.push('u'),
            'º' | '˚' => out.push('°'),
            '℃' => out.push_str("°C"),
            '℉' => out.push_str("°F"),
            '\u{2236}' => out.push(':'),
            '^' => {}
            '.' if out.ends_with(|c: char| c.is_alphabetic())
                && !next.is_some_and(|c| c.is_ascii_digit()) => {}
            '/' => {
                out.truncate(out.trim_end().len());
                out.push('/');
            }
            c if c.is_whitespace() => {
                if !out.ends_with(['/', ' ', '°']) {
                    out.push(' ');
                }
            }
            c => out.push(c),
        }
    }
    if out.contains(" per ") && !out.contains(" per cent") {
        out = out.replacen(" per ", "/", 1);
    }
    out.truncate(out.trim_end().len());
    out
}
