//! A full tray from above, with its pieces as they lie.

mod ground;
mod wording;

use super::care::Care;
use super::frame::Frame;
use crate::geometry::Outline;
use crate::quantity::{Length, Units};
use crate::show::draw::{DrawError, Picture};
use crate::space::{Ground, How, Place};

/// What the picture of a full tray shows.
#[derive(Debug, Clone, PartialEq)]
pub struct Full<'a> {
    /// The piece's name, as the maker wrote it.
    pub piece: &'a str,
    /// The tray's name, as the maker wrote it.
    pub tray: &'a str,
    /// The blank in a few words: "38 mm round".
    pub blank: &'a str,
    /// The blank's outline.
    pub outline: &'a Outline,
    /// Whether they are magnets, which jump together.
    pub magnet: bool,
    /// The tray, its margin and the gap between pieces.
    pub ground: Ground,
    /// How they lie.
    pub how: How,
    /// Where each lies; at least one.
    pub places: &'a [Place],
    /// How many pieces are started.
    pub started: u64,
    /// Trays that all of them together fill.
    pub trays: u64,
    /// Pieces on the last of those.
    pub on_last: u64,
    /// Trays of this kind that can be used at once.
    pub usable: u32,
    /// How much lower one end of the tray's longer side may lie. `None`: not known.
    pub fall: Option<Length>,
    /// The cautions of the coating that is wet on it. `None`: none is.
    pub care: Option<Care>,
    /// The units to print.
    pub units: Units,
}

/// Draws a full tray from above, to scale, its longer side across.
///
/// Of a tray with more than 550 pieces a corner is drawn that holds about so many, and the
/// picture says so.
///
/// # Errors
/// [`DrawError::NotPositive`] for a tray without a size or without pieces;
/// [`DrawError::Crowded`] if labels can't be kept apart; otherwise what
/// [`Picture::draw`] returns.
///
/// ```
/// use brimful::geometry::Outline;
/// use brimful::quantity::{Length, Units};
/// use brimful::show::chart::{Full, full};
/// use brimful::space::{Ground, lay};
///
/// let mm = Length::from_mm;
/// let outline = Outline::round(mm(38.0)).unwrap();
/// let ground = Ground { size: [mm(300.0), mm(400.0)], margin: mm(10.0), gap: mm(40.0) };
/// let layout = lay(&outline, &ground).unwrap();
/// let picture = full(&Full {
///     piece: "tide magnet",
///     tray: "baking tray",
///     blank: "38 mm round",
///     outline: &outline,
///     magnet: true,
///     ground,
///     how: layout.how,
///     places: &layout.places,
///     started: 69,
///     trays: 4,
///     on_last: 9,
///     usable: 6,
///     fall: None,
///     care: None,
///     units: Units::Metric,
/// })?;
/// assert!(picture.svg.contains("10 mm kept free"));
/// # Ok::<(), brimful::show::draw::DrawError>(())
/// ```
pub fn full(full: &Full<'_>) -> Result<Picture, DrawError> {
    for side in full.ground.size {
        positive("a tray's side in mm", side.mm())?;
    }
    if full.places.is_empty() {
        positive("the number of pieces", 0.0)?;
    }
    let frame = Frame::lay_out(
        &wording::title(full),
        &wording::under(full),
        full.care.as_ref(),
    )?;
    let ground = ground::Drawn::lay_out(full, frame.top())?;
    frame.picture(wording::words(full), ground.bottom(), |canvas| {
        ground.draw(canvas)
    })
}

fn positive(what: &'static str, value: f64) -> Result<(), DrawError> {
    if value.is_finite() && value > 0.0 {
        Ok(())
    } else {
        Err(DrawError::NotPositive { what, value })
    }
}
