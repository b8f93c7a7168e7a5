//! What the picture of a full tray says.

use crate::quantity::{Length, Show, Units};
use crate::show::draw::figure::significant;
use crate::show::draw::{Words, clean};
use crate::space::How;

use super::Full;

/// A name set apart from the sentence around it, so that one written from the right keeps its
/// order.
fn apart(name: &str) -> String {
    format!("\u{2068}{}\u{2069}", clean(name))
}

/// The finding, in a sentence.
pub(super) fn title(full: &Full<'_>) -> String {
    let lie = if full.places.len() == 1 {
        "lies"
    } else {
        "lie"
    };
    format!(
        "{}: {} {lie} on one {}",
        apart(full.piece),
        full.places.len(),
        apart(full.tray)
    )
}

/// How many trays all of them take, and how they lie.
pub(super) fn under(full: &Full<'_>) -> String {
    let all = match (full.started, full.trays) {
        (1, _) => "The one that is started leaves the rest of the tray free.".to_owned(),
        (started, 1) if full.on_last == full.places.len() as u64 => {
            format!("All {started} that are started fill it.")
        }
        (started, 1) => format!("All {started} that are started lie on it."),
        (started, trays) => {
            let last = if full.on_last == full.places.len() as u64 {
                "all full".to_owned()
            } else {
                format!("the last with {}", full.on_last)
            };
            format!("All {started} that are started, at once, take {trays} such trays, {last}.")
        }
    };
    let usable = if full.trays > u64::from(full.usable) {
        format!(" Only {} can be used at a time.", full.usable)
    } else {
        String::new()
    };
    format!("{all}{usable}")
}

/// The title and a description for someone who can't see the picture.
pub(super) fn words(full: &Full<'_>) -> Words {
    let size = size(full);
    let mut sentences = vec![format!(
        "Plan to scale of a tray, {size}, with {} pieces, each {}, {}.",
        full.places.len(),
        full.blank,
        how(full.how)
    )];
    sentences.push(format!("{} along its edge.", upper(&margin(full))));
    sentences.push(format!("{}.", upper(&gap(full))));
    sentences.push(under(full));
    sentences.extend(level(full));
    Words {
        title: format!("{}.", title(full)),
        description: sentences.join(" "),
    }
}

pub(super) fn size(full: &Full<'_>) -> String {
    let [length, width] = full.ground.size.map(|side| side.show(full.units));
    format!("{length} by {width}")
}

pub(super) fn margin(full: &Full<'_>) -> String {
    format!("{} kept free", full.ground.margin.show(full.units))
}

pub(super) fn gap(full: &Full<'_>) -> String {
    let between = full.ground.gap.show(full.units);
    if full.magnet {
        format!("at least {between} between magnets")
    } else {
        format!("at least {between} between pieces")
    }
}

pub(super) const fn how(how: How) -> &'static str {
    match how {
        How::Straight => "in straight rows",
        How::Staggered => "in rows shifted by turns",
        How::Slanted => "in slanted rows",
        How::Alternating => "turned about by turns",
        How::Mixed => "some one way and some another",
    }
}

/// How level the tray must lie; `None` where that is not known.
pub(super) fn level(full: &Full<'_>) -> Option<String> {
    let lower = in_unit(full.units, full.fall?);
    let [length, width] = full.ground.size;
    let longer = if length > width { length } else { width };
    Some(format!(
        "Level: one end of its {} may lie up to {} {} lower before a full piece runs over or draws back.",
        longer.show(full.units),
        significant(lower, 2),
        match full.units {
            Units::Metric => "mm",
            Units::Us => "in",
        }
    ))
}

const fn in_unit(units: Units, length: Length) -> f64 {
    match units {
        Units::Metric => length.mm(),
        Units::Us => length.inch(),
    }
}

fn upper(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}
