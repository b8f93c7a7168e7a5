//! Alike pieces on a tray.

use crate::geometry::Outline;
use crate::quantity::Length;

/// A tray or a sheet, and what stays free on it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Board {
    /// Its two sides.
    pub size: [Length; 2],
    /// Along its edges.
    pub margin: Length,
    /// Between two pieces.
    pub gap: Length,
}

/// How pieces lie on it.
#[derive(Debug, Clone, PartialEq)]
pub struct Layout {
    /// How many fit.
    pub count: u32,
    /// Rows.
    pub rows: u32,
    /// In a row.
    pub per_row: u32,
}

/// Why there is no layout.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[error("no layout")]
pub struct SpaceError;

/// Lays as many as fit.
///
/// # Errors
/// None yet.
pub fn layout(outline: &Outline, board: &Board) -> Result<Layout, SpaceError> {
    let [l, w] = outline.size();
    let fit = |side: Length, piece: Length| {
        let free = side - board.margin * 2.0 + board.gap;
        (free / (piece + board.gap) + 1e-9).floor().max(0.0) as u32
    };
    let per_row = fit(board.size[0], l);
    let rows = fit(board.size[1], w);
    Ok(Layout {
        count: per_row * rows,
        rows,
        per_row,
    })
}
