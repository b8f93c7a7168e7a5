//! Blanks in words.

use crate::geometry::{Blank, Form, Outline};
use crate::quantity::{Length, Show, Units};

/// An outline by its shape and size: "38 mm round", "hexagon 25 mm across flats".
#[must_use]
pub fn name(outline: &Outline, units: Units) -> String {
    let [length, width] = outline.size();
    let by =
        |length: Length, width: Length| format!("{} x {}", length.show(units), width.show(units));
    match *outline.form() {
        Form::Round { diameter } => format!("{} round", diameter.show(units)),
        Form::Rectangle { length, width, .. } => format!("{} rectangle", by(length, width)),
        Form::Oval { length, width } => format!("oval {}", by(length, width)),
        Form::Regular { sides, across, .. } => {
            let over = if sides % 2 == 0 {
                "across flats"
            } else {
                "from flat to corner"
            };
            format!("{} {} {over}", polygon(sides), across.show(units))
        }
        Form::Points { count, .. } => {
            format!("outline of {count} points, {}", by(length, width))
        }
        Form::Drawing { width, .. } => format!("drawing {} wide", width.show(units)),
    }
}

/// A blank with its corners, holes and edge: "20 mm x 50 mm rectangle with
/// 3 mm corners and a hole".
#[must_use]
pub fn described(blank: &Blank, units: Units) -> String {
    let outline = blank.outline();
    let some = |length: Length| (length > Length::ZERO).then_some(length);
    let with: Vec<String> = [
        corners(outline, units),
        holes(outline),
        some(blank.edge()).map(|edge| format!("an edge rounded to {}", edge.show(units))),
        some(blank.wall()).map(|wall| format!("a wall {} high", wall.show(units))),
    ]
    .into_iter()
    .flatten()
    .collect();
    if with.is_empty() {
        name(outline, units)
    } else {
        format!(
            "{} with {}",
            name(outline, units),
            super::words::list(&with, 4)
        )
    }
}

fn corners(outline: &Outline, units: Units) -> Option<String> {
    match *outline.form() {
        Form::Rectangle { corner, .. }
        | Form::Regular { corner, .. }
        | Form::Points { corner, .. }
        | Form::Drawing { corner, .. }
            if corner > Length::ZERO =>
        {
            Some(format!("{} corners", corner.show(units)))
        }
        Form::Rectangle { .. } | Form::Regular { .. } => Some("sharp corners".to_owned()),
        _ => None,
    }
}

fn holes(outline: &Outline) -> Option<String> {
    match outline.holes().len() {
        0 => None,
        1 => Some("a hole".to_owned()),
        many => Some(format!("{many} holes")),
    }
}

/// What a polygon with so many sides is called.
fn polygon(sides: u32) -> String {
    let called = match sides {
        3 => "triangle",
        4 => "square",
        5 => "pentagon",
        6 => "hexagon",
        7 => "heptagon",
        8 => "octagon",
        9 => "nonagon",
        10 => "decagon",
        11 => "hendecagon",
        12 => "dodecagon",
        many => return format!("{many}-sided outline"),
    };
    called.to_owned()
}
