//! How many pieces lie on a tray, in words.

use super::lines::Lines;
use super::outline;
use crate::ask::TraysAnswer;
use crate::quantity::{Length, Show, Units};
use crate::space::How;

/// Width of the headings.
const HEADING: usize = 11;

/// The whole answer, for one screen.
#[must_use]
pub fn trays_text(answer: &TraysAnswer, units: Units) -> String {
    let mut lines = Lines::with_headings_of(HEADING);
    let tray = by(answer.tray, units);
    lines.plain(&format!(
        "{} on a tray of {tray}",
        outline::name(&answer.outline, units)
    ));
    lines.gap();
    let fits = match answer.per_tray {
        0 => "not one".to_owned(),
        1 => "1 piece".to_owned(),
        many => format!("{many} pieces"),
    };
    lines.line("Holds", &fits);
    if answer.per_tray > 0 {
        lines.line("Lie", &lie(answer, units));
        let share = answer.covered_share.percent();
        lines.line("Covered", &format!("{share:.0} % of the tray"));
    }
    if let (Some(count), Some(needed)) = (answer.count, answer.trays_needed) {
        lines.line("Needed", &needed_trays(count, needed, answer.per_tray));
    }
    lines.line("Kept free", &kept(answer, units));
    if answer.widened_for_magnets {
        lines.line(
            "Magnets",
            "jump together when they lie close: this gap is common practice, no source; try two on \
             the tray first",
        );
    }
    if answer.gap == Length::ZERO && answer.per_tray > 1 {
        lines.line(
            "Wet domes",
            "that touch run together: without a gap this is for dry pieces only",
        );
    }
    if answer.per_tray > 1 && !exact(answer) {
        lines.line(
            "Search",
            "the best of the patterns tried; another arrangement may hold a few more",
        );
    }
    if let Some(why) = none_fits(answer, units) {
        lines.line("Too small", &why);
    }
    lines.into_text()
}

/// That not one fits, and what would do; `None` where one does.
#[must_use]
pub fn none_fits(answer: &TraysAnswer, units: Units) -> Option<String> {
    (answer.per_tray == 0).then(|| {
        format!(
            "not one fits on a tray of {}: the least that holds one is {}, with {} kept free along \
             its edge",
            by(answer.tray, units),
            by(answer.least_tray, units),
            answer.margin.show(units)
        )
    })
}

/// Nothing beats one straight row.
fn exact(answer: &TraysAnswer) -> bool {
    answer.layout == How::Straight && answer.rows == Some(1) && answer.per_row == Some(1)
}

fn by([length, width]: [Length; 2], units: Units) -> String {
    format!("{} x {}", length.show(units), width.show(units))
}

fn lie(answer: &TraysAnswer, units: Units) -> String {
    let (Some(rows), Some(most), Some(least)) = (answer.rows, answer.per_row, answer.per_row_least)
    else {
        return "mixed: in blocks that lie both ways, or in a ring".to_owned();
    };
    let side = if answer.rows_along_second_side == Some(true) {
        "second"
    } else {
        "first"
    };
    let each = if least == most {
        format!("{most}")
    } else {
        format!("{most} and {least} in turn")
    };
    let row = if rows == 1 { "row" } else { "rows" };
    let mut told = vec![format!(
        "{rows} {row} of {each} along the tray's {side} side"
    )];
    told.extend(match answer.layout {
        How::Straight | How::Mixed => None,
        How::Staggered => Some("staggered: every other row shifted".to_owned()),
        How::Slanted => Some("slanted: each row shifted from the one before".to_owned()),
        How::Alternating => Some("some of them turned about".to_owned()),
    });
    let pitch = |told: &str, pitch: Length| format!("{} {told}", pitch.show(units));
    let alike = if answer.layout == How::Alternating {
        "along a row to the next that lies alike"
    } else {
        "from middle to middle along a row"
    };
    told.extend(answer.pitch.map(|it| pitch(alike, it)));
    let least_and_most = answer.row_pitch_least.zip(answer.row_pitch_most);
    told.extend(least_and_most.map(|(least, most)| {
        let [from, to] = [least, most].map(|it| it.show(units));
        if from == to {
            return format!("{to} from row to row");
        }
        format!("{from} to {to} from row to row, not evenly, for as many to fit so far apart")
    }));
    told.join("; ")
}

fn needed_trays(count: u32, needed: u32, per_tray: u32) -> String {
    let pieces = if count == 1 { "piece" } else { "pieces" };
    let last = count - (needed - 1) * per_tray;
    if needed == 1 {
        format!("1 tray for {count} {pieces}")
    } else {
        format!("{needed} trays for {count} {pieces}, {last} on the last")
    }
}

fn kept(answer: &TraysAnswer, units: Units) -> String {
    let assumed = if answer.gap_is_assumed {
        " (assumed)"
    } else {
        ""
    };
    let widened = if answer.widened_for_magnets {
        " (widened for magnets)"
    } else {
        ""
    };
    format!(
        "{} between pieces{assumed}{widened}, {} along the edge",
        answer.gap.show(units),
        answer.margin.show(units)
    )
}
