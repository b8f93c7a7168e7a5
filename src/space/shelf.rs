//! Trays on shelves.
use crate::quantity::Length;
/// Trays on a level.
#[must_use]
pub fn on_level(shelf: [Length; 2], tray: [Length; 2]) -> u32 {
    let fit = |a: Length, b: Length| (a / b + 1e-9).floor() as u32;
    let straight = fit(shelf[0], tray[0]) * fit(shelf[1], tray[1]);
    straight.max(fit(shelf[0], tray[1]) * fit(shelf[1], tray[0]))
}
