//! Coats, faces, sides, drops and holes of a dome, in words.

use super::ask_dome::volume;
use crate::ask::{ChainHole, Coats, DomeAnswer, DryHeightAnswer, Filled, Sides, Verdict};
use crate::quantity::{Length, Show, Units};

/// Coats that an asked dry height takes; 1 where none was asked for.
pub(super) fn number_of_coats(answer: &DomeAnswer) -> u32 {
    let needed = answer.dry_height.as_ref().and_then(|dry| dry.needed);
    needed.map_or(1, |needed| needed.coats)
}

fn both_faces(answer: &DomeAnswer) -> bool {
    answer.piece.both_faces.is_some()
}

/// That a figure is for one face, where both are flooded.
pub(super) fn on_one_face(answer: &DomeAnswer) -> &'static str {
    if both_faces(answer) {
        " on one face"
    } else {
        ""
    }
}

/// Where the amount of one pour goes.
pub(super) fn one_pour(answer: &DomeAnswer) -> &'static str {
    match (number_of_coats(answer) > 1, both_faces(answer)) {
        (false, false) => "on each piece",
        (false, true) => "on each face",
        (true, false) => "on each piece in the first coat",
        (true, true) => "on each face in the first coat",
    }
}

/// What a total is of: all coats and faces, where there are several.
pub(super) fn all_of_them(answer: &DomeAnswer) -> &'static str {
    match (number_of_coats(answer) > 1, both_faces(answer)) {
        (false, false) => "on ",
        (false, true) => "on both faces of ",
        (true, false) => "in all coats on ",
        (true, true) => "in all coats on both faces of ",
    }
}

/// How an asked dry height is built up.
pub(super) fn coats(answer: &DomeAnswer, units: Units) -> Vec<String> {
    let Some(dry) = &answer.dry_height else {
        return Vec::new();
    };
    let Some(needed) = dry.needed else {
        // the verdict has said that the edge does not hold it
        return Vec::new();
    };
    let mut lines = vec![how_many(answer, dry, needed, units)];
    if needed.coats > 1 {
        lines.push(each(dry, units));
        lines.extend(dry.label_wait.map(|wait| {
            format!(
                "by the label in its own air {} until the last can be handled; brimful dry tells your room",
                wait.show(units)
            )
        }));
    }
    lines.extend(instead(answer, dry, units));
    lines
}

fn how_many(answer: &DomeAnswer, dry: &DryHeightAnswer, needed: Coats, units: Units) -> String {
    let surface = needed.surface.show(units);
    let window = &answer.window;
    let filled = match needed.filled {
        Filled::Target => String::new(),
        Filled::PastTarget => format!(
            ", past the target of {} towards the brim at {}",
            window.target.peak.show(units),
            window.brim.peak.show(units)
        ),
    };
    if needed.coats == 1 && answer.verdict == Verdict::BelowRim {
        return format!("one, {surface} deep when wet");
    }
    if needed.coats == 1 {
        return format!("one, {surface} high in the middle when wet{filled}");
    }
    let one = if dry.wet_in_all > window.brim.peak {
        "more than this edge holds in one"
    } else {
        "past the target in one"
    };
    format!(
        "{}, each dry before the next and flooded until it stands {surface} high{filled}: {} wet in all, {one}",
        needed.coats,
        dry.wet_in_all.show(units)
    )
}

/// The amount of each coat; the middle ones of many are left out.
fn each(dry: &DryHeightAnswer, units: Units) -> String {
    const TOLD: usize = 4;
    let coat = |(index, coat): (usize, &crate::ask::OneCoat)| {
        format!(
            "coat {}: {} or {}, {} deep",
            index + 1,
            volume(coat.volume, units),
            coat.mass.show(units),
            coat.depth.show(units)
        )
    };
    let mut told: Vec<String> = dry.each.iter().enumerate().take(TOLD).map(coat).collect();
    let rest = dry.each.len().saturating_sub(TOLD);
    if rest > 0 {
        told.push(format!("and {rest} more, each less than the one before"));
    }
    told.join("; ")
}

fn instead(answer: &DomeAnswer, dry: &DryHeightAnswer, units: Units) -> Vec<String> {
    let thin = dry.thin.map(|thin| {
        format!(
            "or {} coats, each about {} deep over the dry one before it",
            thin.coats,
            thin.depth.show(units)
        )
    });
    let more = dry.one_more.filter(|_| thin.is_none()).map(|more| {
        format!(
            "or {} coats, each flooded to only {}",
            more.coats,
            more.surface.show(units)
        )
    });
    let wall = dry.one_coat_wall.map(|wall: Length| {
        let wall = wall.show(units);
        if answer.rim.is_some() {
            format!("or one coat with the wall raised by {wall}, filled to the target dome")
        } else {
            format!(
                "or one coat inside a wall, a bezel or a dam of tape {wall} high, filled to the target dome"
            )
        }
    });
    [thin, more, wall].into_iter().flatten().collect()
}

/// Drops, both faces, sides and the chain's hole, where they were asked about.
pub(super) fn piece(answer: &DomeAnswer, units: Units) -> Vec<String> {
    let piece = &answer.piece;
    let drops = piece.drops_per_piece.map(|drops| drop_words(answer, drops));
    let faces = piece.both_faces.map(|both| {
        let amount = both
            .volume
            .zip(both.mass)
            .map(|(wet, mass)| format!(": {} or {}", volume(wet, units), mass.show(units)));
        format!(
            "both faces, {}{}; the first must be dry to handle before you turn the piece",
            both.area.show(units),
            amount.unwrap_or_default()
        )
    });
    let sides = piece.sides.as_ref().map(|sides| side_words(sides, units));
    let hole = piece.chain_hole.map(|hole| hole_words(&hole, units));
    [drops, faces, sides, hole].into_iter().flatten().collect()
}

fn drop_words(answer: &DomeAnswer, drops: u64) -> String {
    let number = match drops {
        0 => "less than one drop".to_owned(),
        1 => "about 1 drop".to_owned(),
        many => format!("about {many} drops"),
    };
    let first = if number_of_coats(answer) > 1 {
        " in the first coat"
    } else {
        ""
    };
    let faces = if both_faces(answer) {
        ", both faces together"
    } else {
        ""
    };
    format!(
        "{number} on each{first}{faces}, by your own count; drops vary with the tip and the tilt, so weigh a few"
    )
}

fn side_words(sides: &Sides, units: Units) -> String {
    format!(
        "sides {}, where no dome stays: a brushed coat of {}, {} wet, takes {} a piece before what soaks in",
        sides.area.show(units),
        sides.coating,
        sides.wet_film.show(units),
        volume(sides.volume, units)
    )
}

fn hole_words(hole: &ChainHole, units: Units) -> String {
    let drill = match units {
        Units::Metric => format!("{} ({} in)", hole.hole.show(units), hole.hole_in),
        Units::Us => format!("{} in ({})", hole.hole_in, hole.hole.show(Units::Metric)),
    };
    let from_edge = match units {
        Units::Metric => hole.from_edge.show(units),
        Units::Us => format!("{} in", hole.hole_in),
    };
    let fits = if hole.fits {
        ""
    } else {
        "; this blank is too narrow for that"
    };
    format!(
        "a chain of {} wants a hole of {drill}, with {from_edge} or more left between its rim and the edge (common practice, no source){fits}",
        hole.chain.show(units)
    )
}
