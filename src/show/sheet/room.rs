//! How much room a sheet takes once printed, so that it is set as wide apart as its paper allows.
//!
//! Words are measured by the carried faces, which are wider than most, and every height is that
//! of `sheet.css`.

use std::borrow::Cow;

use crate::quantity::{Length, Units};
use crate::show::draw::font::{Weight, width};

/// What stays free along the edges of the paper, `[mm]`.
pub(super) const MARGIN: f64 = 9.0;
/// How much less than the paper leaves the sheet takes up, so that no rounding of a
/// printer's begins another page, `[mm]`.
pub(super) const SPARE: f64 = 2.0;
/// How far such a sum may be off, as measured on some twenty sheets, `[mm]`.
const OFF: f64 = 4.0;

/// Letters of 7.5 points, `[mm]`, and lines of them.
const LETTERS: f64 = 7.5 / 72.0 * 25.4;
const LINE: f64 = 1.2 * LETTERS;
/// A heading, the sheet's own, and a table's head.
const HEADING: f64 = 3.6;
const TITLE: f64 = 4.6;
const HEAD: f64 = 3.7;
/// A table's row of one line, where nothing is written in.
const ROW: f64 = 4.2;
/// A row of what came out.
const CAME_OUT: f64 = 5.3;
/// Between sections.
const GAP: f64 = 1.2;
/// The box around the cautions with the gap to what stands under it, and the line under the head.
const BOX: f64 = 1.9 + GAP;
const RULE: f64 = 1.3;
/// The pictures with their gap, and how wide they are.
const PICTURES: [f64; 2] = [25.0, 129.0];
/// Room to write notes in.
const NOTES: f64 = 11.0;
/// The columns of the work's table beside what is done, and what stays free in a cell; room for
/// until when to leave it.
const CELL: f64 = 1.6;
const BESIDE_WORK: f64 = 126.5 + CELL;
const LEAVE: f64 = 26.5 - CELL;
const DAY: f64 = 19.5 - CELL;
/// The columns beside a piece's name, with millilitres and with fluid ounces.
const BESIDE_NAME: [f64; 2] = [119.0, 137.0 + CELL];
/// Of the coatings' table, the share of what is laid.
const LAID: f64 = 0.23;
/// How much higher the sheet's own heading is.
const HIGHER: f64 = 1.5;
/// How much wider bold words are, and how much narrower small ones.
const BOLD: f64 = 1.12;
const SMALL: f64 = 0.87;
/// The ring around a letter, by how much it makes a line higher, and a box to tick with the gap
/// to the next, `[mm]`.
const MARK: f64 = 1.3;
const RING: f64 = 0.4;
const TICK: f64 = 6.3;
/// What a line leaves free at its end.
const LOOSE: f64 = 1.04;

/// How high a row of work is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Spacing {
    /// For a broad pen.
    Roomy,
    Plain,
    Close,
}

impl Spacing {
    pub(super) const fn class(self) -> &'static str {
        match self {
            Self::Roomy => "roomy",
            Self::Plain => "even",
            Self::Close => "close",
        }
    }

    const fn height(self) -> f64 {
        match self {
            Self::Roomy => 7.0,
            Self::Plain => 4.9,
            Self::Close => 4.2,
        }
    }
}

/// How a sheet is set.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Setting {
    /// Whether the pictures are on it.
    pub pictures: bool,
    pub rows: Spacing,
}

/// The sections as they are written, whose words are measured.
pub(super) struct Sections<'s> {
    pub head: &'s str,
    pub pieces: &'s str,
    pub buy: &'s str,
    pub coats: &'s str,
    pub care: &'s str,
    pub work: &'s str,
    pub actuals: &'s str,
    pub money: &'s str,
    /// Whether there are pictures that can be on it.
    pub pictures: bool,
    pub units: Units,
}

/// How many pages, and the setting that takes so few: of those with pictures, before those without, the one
/// with the highest rows.
pub(super) fn setting(sections: &Sections, paper: [Length; 2]) -> (u32, Setting) {
    let [across, high] = paper.map(|side| side.mm() - 2.0 * MARGIN);
    let mut best = None;
    for pictures in [true, false] {
        for rows in [Spacing::Roomy, Spacing::Plain, Spacing::Close] {
            let setting = Setting { pictures, rows };
            let pages = pages(sections.height(setting, across), high - SPARE);
            if best.is_none_or(|(fewest, _)| pages < fewest) {
                best = Some((pages, setting));
            }
        }
    }
    best.unwrap_or((
        1,
        Setting {
            pictures: true,
            rows: Spacing::Plain,
        },
    ))
}

/// How high all is, and of it the last two sections, which are not cut: what came out, and money.
struct Height {
    all: f64,
    last: [f64; 2],
}

/// How many pages so much takes. What may not be cut leaves some of a page free: what comes last
/// so much as lies on it before the page's end, and of the rows that most pages end in, one of two
/// lines.
fn pages(Height { all, last }: Height, page: f64) -> u32 {
    const LEFT_FREE: f64 = 8.0;
    let [came_out, money] = last;
    let (mut all, mut filled, mut pages) = (all + OFF, page, 1);
    while all > filled && pages < 100 {
        let begins = [all - money - GAP - came_out, all - money];
        let ends = [all - money - GAP, all];
        let cut =
            (begins.iter().zip(&ends)).find(|(begins, ends)| **begins < filled && filled < **ends);
        all += cut.map_or(0.0, |(begins, _)| filled - begins);
        filled += page - LEFT_FREE;
        pages += 1;
    }
    pages
}

impl Sections<'_> {
    fn height(&self, setting: Setting, across: f64) -> Height {
        let plain = |section: &str, cell: f64| height(section, across, cell, ROW);
        let buy = |across: f64| height(self.buy, across, across, ROW);
        let beside = if setting.pictures && self.pictures {
            let [high, wide] = PICTURES;
            buy(across - wide).max(high)
        } else {
            buy(across)
        };
        let beside_name = match self.units {
            Units::Metric => BESIDE_NAME[0],
            Units::Us => BESIDE_NAME[1],
        };
        let half = across / 2.0 + 2.5;
        let work = height(
            self.work,
            across,
            across - BESIDE_WORK,
            setting.rows.height(),
        );
        let last = [
            height(self.actuals, across, across * 0.22, CAME_OUT),
            height(self.money, half, half, ROW).max(NOTES),
        ];
        let all = [
            plain(self.head, across) + RULE,
            plain(self.pieces, across - beside_name),
            beside,
            plain(self.coats, across * 0.26),
            plain(self.care, across) + BOX,
            work + HEADING,
            last[0],
            last[1],
        ];
        let sections = all.into_iter().filter(|height| *height > 0.0);
        let all = sections.map(|height| height + GAP).sum::<f64>() - GAP;
        Height { all, last }
    }
}

/// How high a section comes out.
fn height(section: &str, across: f64, cell: f64, row: f64) -> f64 {
    let mut all = 0.0;
    // of a row so far: its least height, and that of the lines in the highest of its cells
    let mut open: Option<(f64, f64)> = None;
    // how far things one after the other on a line have come
    let mut along = 0.0;
    let mut in_head = false;
    let mut title = 0.0;
    for Block {
        tag,
        kind,
        wide,
        marks,
    } in blocks(section)
    {
        let lines = |across: f64| {
            let lines = if wide <= across {
                1.0
            } else {
                (wide * LOOSE / across).ceil()
            };
            LINE * lines + RING * marks.min(lines)
        };
        match tag {
            "thead" => in_head = true,
            "tbody" => in_head = false,
            "tr" => {
                all += closed(open.take());
                open = Some((if in_head { HEAD } else { row }, LINE));
            }
            "th" | "td" if !in_head => {
                let cell = match kind {
                    "leave" => LEAVE,
                    "day" => DAY,
                    "mix" => across,
                    "laid" => across * LAID,
                    _ => cell,
                };
                if let Some((_, most)) = &mut open {
                    *most = most.max(lines(cell));
                }
            }
            "h1" => {
                title = wide * HIGHER * BOLD;
                all += TITLE * (title / across).ceil().max(1.0);
            }
            "h2" => all += closed(open.take()) + HEADING,
            // on the title's line, where there is room
            "p" if kind == "batch" && title + 1.3 * wide < across => {}
            // on the heading's line, which is short
            "p" if kind == "aside" && wide < 0.7 * across => {}
            "p" | "br" => all += closed(open.take()) + lines(across),
            "li" if section.contains("\"ticks\"") => {
                let wide = wide + TICK;
                if along == 0.0 || along + wide > across {
                    all += lines(across - TICK) + 0.2;
                    along = 0.0;
                }
                along += wide;
            }
            "li" => all += lines(across - 5.0),
            _ => {}
        }
    }
    all + closed(open)
}

/// A row's height.
fn closed(row: Option<(f64, f64)>) -> f64 {
    row.map_or(0.0, |(least, lines)| least.max(lines + 0.7))
}

/// What begins a line of its own.
struct Block<'s> {
    tag: &'s str,
    /// The first of its classes.
    kind: &'s str,
    /// How wide its words are on one line, `[mm]`.
    wide: f64,
    /// How many letters in rings are among them.
    marks: f64,
}

/// The blocks of a section, each with the words up to the next.
fn blocks(section: &str) -> Vec<Block<'_>> {
    const OWN_LINE: [&str; 10] = [
        "h1", "h2", "p", "li", "br", "tr", "th", "td", "thead", "tbody",
    ];
    let mut blocks: Vec<Block> = Vec::new();
    // how much wider than plain words are
    let mut scales = vec![1.0];
    for part in section.split('<').skip(1) {
        let Some((tag, words)) = part.split_once('>') else {
            continue;
        };
        let (name, rest) = tag.split_at(tag.find(' ').unwrap_or(tag.len()));
        let kind = rest
            .strip_prefix(" class=\"")
            .and_then(|kind| kind.split([' ', '"']).next());
        let kind = kind.unwrap_or_default();
        if name.starts_with('/') {
            if scales.len() > 1 {
                scales.pop();
            }
        } else if name != "br" {
            scales.push(match (name, kind) {
                ("strong" | "em", _) | (_, "look") => BOLD,
                (_, "small" | "more" | "aside") => SMALL,
                _ => scales.last().copied().unwrap_or(1.0),
            });
        }
        let mut wide = self::wide(&unescaped(words)) * scales.last().copied().unwrap_or(1.0);
        let marks = if kind == "mark" { 1.0 } else { 0.0 };
        wide += MARK * marks;
        if OWN_LINE.contains(&name) {
            blocks.push(Block {
                tag: name,
                kind,
                wide,
                marks,
            });
        } else if let Some(block) = blocks.last_mut() {
            block.wide += wide;
            block.marks += marks;
        }
    }
    blocks
}

/// Words as they are read: the page writes four signs in another way.
fn unescaped(words: &str) -> Cow<'_, str> {
    if !words.contains('&') {
        return Cow::Borrowed(words);
    }
    // the ampersand last, or what it begins would be read twice
    let signs = [
        ("&lt;", "<"),
        ("&gt;", ">"),
        ("&quot;", "\""),
        ("&amp;", "&"),
    ];
    let read = signs
        .iter()
        .fold(words.to_owned(), |words, (written, read)| {
            words.replace(written, read)
        });
    Cow::Owned(read)
}

/// How wide words are, `[mm]`. A sign that the faces lack is taken as wide as most letters.
fn wide(words: &str) -> f64 {
    let plain = words.chars().map(|_| 0.6 * LETTERS).sum();
    width(words, LETTERS, Weight::Regular).unwrap_or(plain)
}

#[cfg(test)]
mod tests {
    use super::*;

    const CSS: &str = include_str!("sheet.css");

    /// A length that the sheet's style gives a selector, in print where it says two, `[mm]`.
    #[track_caller]
    fn style(selector: &str, key: &str) -> Vec<f64> {
        let (screen, print) = CSS.split_once("@media print {").expect("a style for print");
        let rule = [print, screen].into_iter().find_map(|part| {
            let rules = part.lines().map(str::trim_start);
            let mut of = rules.filter(|line| line.starts_with(&format!("{selector} {{")));
            of.find(|line| line.contains(&format!(" {key}: ")))
        });
        let rule = rule.unwrap_or_else(|| panic!("no {key} of {selector}"));
        let (_, value) = rule.split_once(&format!(" {key}: ")).expect("the key");
        let (value, _) = value.split_once(';').expect("its end");
        let one = |value: &str| {
            let at = value.find(|c: char| !(c.is_ascii_digit() || c == '.'))?;
            let (number, unit) = value.split_at(at);
            let number: f64 = number.parse().ok()?;
            match unit {
                "mm" => Some(number),
                // a point is 1/72 of an inch, which is 25.4 mm
                "pt" => Some(number / 72.0 * 25.4),
                "%" => Some(number / 100.0),
                _ => None,
            }
        };
        value.split(' ').filter_map(one).collect()
    }

    #[track_caller]
    fn same(ours: f64, selector: &str, key: &str) {
        let found = style(selector, key);
        assert!(
            found.iter().any(|own| (own - ours).abs() < 1e-9),
            "{selector}, {key}: {found:?} is not {ours}"
        );
    }

    #[test]
    fn what_is_reckoned_with_is_what_the_style_says() {
        same(LETTERS, "body", "font-size");
        assert!(CSS.contains("body { font-size: 7.5pt; line-height: 1.2; }"));
        same(Spacing::Plain.height(), ".list td", "height");
        same(Spacing::Roomy.height(), ".roomy td", "height");
        same(Spacing::Close.height(), ".close td", "height");
        same(CAME_OUT, ".actuals td", "height");
        same(GAP, "main", "gap");
        same(NOTES, ".notes", "min-height");
        same(LAID, ".coats .laid", "width");
        // a cell leaves 1.6 mm of its column free
        same(LEAVE + CELL, ".work .leave", "width");
        same(DAY + CELL, ".work .day", "width");
        let [_, wide] = PICTURES;
        same(wide - 5.0, ".pictures", "flex");
        same(5.0, ".beside", "gap");
        let columns = [
            ("tick", 1.0),
            ("day", 1.0),
            ("hours", 1.0),
            ("leave", 1.0),
            ("fill", 3.0),
        ];
        let columns = columns.map(|(of, times)| times * style(&format!(".work .{of}"), "width")[0]);
        let written = [".work .wide", ".work .free"].map(|of| style(of, "width")[0]);
        let beside: f64 = columns.iter().chain(&written).sum();
        assert!((beside + CELL - BESIDE_WORK).abs() < 1e-9, "{beside}");
    }

    /// A sign is as wide as it is read, however the page has to write it.
    #[test]
    fn words_are_measured_as_they_are_read() {
        let of = |words: &str| blocks(&format!("<p>{words}</p>"))[0].wide;
        for (written, read) in [
            ("fish &amp; chips", "fish & chips"),
            ("&lt;b&gt;", "<b>"),
            ("a &quot;b&quot;", "a \"b\""),
            ("&amp;lt;", "&lt;"),
        ] {
            let direct = width(read, LETTERS, Weight::Regular).unwrap();
            assert!((of(written) - direct).abs() < 1e-9, "{written}");
        }
    }
}
