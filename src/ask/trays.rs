//! How many pieces lie on a tray, and how many trays a number of them takes.

use serde::{Serialize, Serializer};

use super::number::{mm, mm2, percent_share};
use crate::geometry::Outline;
use crate::quantity::{Area, Length, Share};
use crate::space::{Ground, How, MAGNET_GAP, SpaceError, lay, least_ground};

/// How many pieces of one outline lie on a tray.
#[derive(Debug, Clone, PartialEq)]
pub struct TraysQuestion {
    /// The piece's outline.
    pub outline: Outline,
    /// The tray's sides, each above 0 and at most 100 m.
    pub tray: [Length; 2],
    /// Between two pieces, 0 or more; 10 mm where it is not said.
    pub gap: Option<Length>,
    /// Along the tray's edge, 0 or more; as wide as the gap before any widening for magnets where
    /// it is not said.
    pub margin: Option<Length>,
    /// Whether they are magnets, which jump together: a narrower gap is widened to 40 mm.
    pub magnet: bool,
    /// How many pieces there are.
    pub count: Option<u32>,
}

/// How many lie on a tray, and how.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TraysAnswer {
    /// The piece's outline.
    #[serde(skip)]
    pub outline: Outline,
    /// The tray's sides.
    #[serde(rename = "tray_mm", serialize_with = "both")]
    pub tray: [Length; 2],
    /// The gap kept.
    #[serde(rename = "gap_mm", serialize_with = "mm")]
    pub gap: Length,
    /// Whether it is assumed.
    pub gap_is_assumed: bool,
    /// Whether it was widened for magnets.
    pub widened_for_magnets: bool,
    /// The margin kept.
    #[serde(rename = "margin_mm", serialize_with = "mm")]
    pub margin: Length,
    /// Pieces on a tray.
    pub per_tray: u32,
    /// How they lie.
    #[serde(serialize_with = "word")]
    pub layout: How,
    /// How many rows; none where they are mixed, or none fits.
    pub rows: Option<u32>,
    /// The most pieces in a row.
    pub per_row: Option<u32>,
    /// The fewest pieces in a row.
    pub per_row_least: Option<u32>,
    /// Whether the rows run along the tray's second side.
    pub rows_along_second_side: Option<bool>,
    /// From a piece to the next that lies as it does along a row; none where no row holds two.
    #[serde(rename = "pitch_mm", serialize_with = "mm")]
    pub pitch: Option<Length>,
    /// From row to row, on average; none with one row.
    #[serde(rename = "row_pitch_mm", serialize_with = "mm")]
    pub row_pitch: Option<Length>,
    /// The least from one row to the next; none with one row.
    #[serde(rename = "row_pitch_least_mm", serialize_with = "mm")]
    pub row_pitch_least: Option<Length>,
    /// The most from one row to the next; none with one row.
    #[serde(rename = "row_pitch_most_mm", serialize_with = "mm")]
    pub row_pitch_most: Option<Length>,
    /// The tops of all pieces on a tray.
    #[serde(rename = "covered_mm2", serialize_with = "mm2")]
    pub covered: Area,
    /// Their share of the tray.
    #[serde(rename = "covered_percent", serialize_with = "percent_share")]
    pub covered_share: Share,
    /// The pieces asked for.
    pub count: Option<u32>,
    /// The trays that they take; none where nothing was asked, or none fits.
    pub trays_needed: Option<u32>,
    /// The least tray that holds one.
    #[serde(rename = "least_tray_mm", serialize_with = "both")]
    pub least_tray: [Length; 2],
}

/// The gap where the question does not say: a choice of ours.
const USUAL_GAP: Length = Length::from_mm(10.0);

/// How many pieces lie on a tray, and how.
///
/// # Errors
/// [`SpaceError`] for a side, a gap or a margin out of range, and for a tray that would hold more
/// than 100,000. That none fits is an answer.
pub fn trays(question: &TraysQuestion) -> Result<TraysAnswer, SpaceError> {
    let told = question.gap.unwrap_or(USUAL_GAP);
    let margin = question.margin.unwrap_or(told);
    let widened = question.magnet && told < MAGNET_GAP;
    let gap = if widened { MAGNET_GAP } else { told };
    let ground = Ground {
        size: question.tray,
        margin,
        gap,
    };
    let layout = lay(&question.outline, &ground)?;
    let rows = layout.rows.as_ref().filter(|rows| !rows.counts.is_empty());
    let per_row = rows.and_then(|rows| rows.counts.iter().copied().max());
    let several = |count: Option<u32>| count.is_some_and(|count| count > 1);
    let row_count = rows.and_then(|rows| u32::try_from(rows.counts.len()).ok());
    let [length, width] = question.tray;
    let area = Area::from_m2(length.m() * width.m());
    Ok(TraysAnswer {
        outline: question.outline.clone(),
        tray: question.tray,
        gap,
        gap_is_assumed: question.gap.is_none() && !widened,
        widened_for_magnets: widened,
        margin,
        per_tray: layout.count,
        layout: layout.how,
        rows: row_count,
        per_row,
        per_row_least: rows.and_then(|rows| rows.counts.iter().copied().min()),
        rows_along_second_side: rows.map(|rows| rows.across),
        pitch: rows.filter(|_| several(per_row)).map(|rows| rows.pitch),
        row_pitch: rows.filter(|_| several(row_count)).map(|rows| rows.step),
        row_pitch_least: rows
            .filter(|_| several(row_count))
            .map(|rows| rows.steps[0]),
        row_pitch_most: rows
            .filter(|_| several(row_count))
            .map(|rows| rows.steps[1]),
        covered: layout.covered,
        covered_share: Share::from_fraction(layout.covered / area),
        count: question.count,
        trays_needed: question
            .count
            .filter(|_| layout.count > 0)
            .map(|count| count.div_ceil(layout.count)),
        least_tray: least_ground(&question.outline, margin)?,
    })
}

fn both<S: Serializer>(sides: &[Length; 2], to: S) -> Result<S::Ok, S::Error> {
    to.collect_seq(sides.map(Length::mm))
}

#[expect(
    clippy::trivially_copy_pass_by_ref,
    reason = "the signature is serde's"
)]
fn word<S: Serializer>(how: &How, to: S) -> Result<S::Ok, S::Error> {
    to.serialize_str(match how {
        How::Straight => "straight",
        How::Staggered => "staggered",
        How::Slanted => "slanted",
        How::Alternating => "alternating",
        How::Mixed => "mixed",
    })
}
