//! How full a dome is asked to be.

use super::reader::{Book, Limit, Section};
use crate::quantity::{Angle, Length, Mass, Share, Volume};

/// How full a dome is asked to be: one measure of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Fill {
    /// The coating's own target angle at the edge: `fill = "safe"`.
    Target,
    /// Height in the middle when dry.
    DryHeight(Length),
    /// Wet mass on one piece.
    Weight(Mass),
    /// Share of the volume at the brim limit.
    ShareOfBrim(Share),
    /// Wet volume on one piece.
    Volume(Volume),
    /// Edge angle when wet.
    EdgeAngle(Angle),
    /// Height in the middle when wet.
    Peak(Length),
}

const HEIGHT: Limit<Length> = Limit {
    holds: |height| height.mm() > 0.0 && height.mm() <= 10.0,
    reason: "a dome is more than 0 and at most 10 mm high: a free edge holds 2 to 3 mm; were millimetres meant?",
};
const WEIGHT: Limit<Mass> = Limit {
    holds: |mass| mass.g() > 0.0 && mass.g() <= 1000.0,
    reason: "a dome weighs more than 0 and at most 1000 g",
};
const VOLUME: Limit<Volume> = Limit {
    holds: |volume| volume.ml() > 0.0 && volume.ml() <= 1000.0,
    reason: "a dome holds more than 0 and at most 1000 mL",
};
const SHARE: Limit<Share> = Limit {
    holds: |share| share.fraction() > 0.0 && share.fraction() <= 1.0,
    reason: "a share of the brim limit is more than 0 % and at most 100 %: past it the coating runs over",
};
const ANGLE: Limit<Angle> = Limit {
    holds: |angle| angle.deg() >= 0.1 && angle.deg() <= 89.0,
    reason: "an edge angle lies between 0.1 and 89 deg",
};

/// What may stand at `fill`.
pub(super) const EXPECTED: &str = "\"safe\", or one of { dry_height = \"1.2 mm\" }, { weight = \"1.4 g\" }, \
    { share = \"80 %\" }, { volume = \"1.3 mL\" }, { edge_angle = \"30 deg\" }, { peak = \"1.8 mm\" }";

/// Reads a `fill` that is a table: exactly one measure.
pub(super) fn read(mut section: Section, book: &mut Book) -> Option<Fill> {
    let spot = section.own_spot();
    let before = book.faults.len();
    let read = [
        section
            .may(book, "dry_height", &HEIGHT)
            .map(Fill::DryHeight),
        section.may(book, "weight", &WEIGHT).map(Fill::Weight),
        section.may(book, "share", &SHARE).map(Fill::ShareOfBrim),
        section.may(book, "volume", &VOLUME).map(Fill::Volume),
        section.may(book, "edge_angle", &ANGLE).map(Fill::EdgeAngle),
        section.may(book, "peak", &HEIGHT).map(Fill::Peak),
    ];
    section.finish(book);
    let mut given = read.into_iter().flatten();
    match (given.next(), given.next()) {
        (Some(fill), None) => Some(fill),
        (Some(_), Some(_)) => {
            book.refuse(&spot, "a fill is asked for by one measure, not two");
            None
        }
        (None, _) => {
            if book.faults.len() == before {
                book.refuse(&spot, format!("expected {EXPECTED}"));
            }
            None
        }
    }
}
