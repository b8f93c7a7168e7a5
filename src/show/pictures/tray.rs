//! A full tray.

use crate::plan::{Plan, TrayLayout};
use crate::show::chart::{self, Care, Full};
use crate::show::draw::{DrawError, Picture};
use crate::show::outline;

/// A full tray of one kind of piece.
///
/// # Errors
/// Those of [`chart::full`].
pub fn tray(layout: &TrayLayout, plan: &Plan) -> Result<Picture, DrawError> {
    let units = plan.header.units;
    let care = layout.coating.as_ref();
    chart::full(&Full {
        piece: &layout.piece,
        tray: &layout.tray,
        blank: &outline::name(&layout.outline, units),
        outline: &layout.outline,
        magnet: layout.magnet,
        ground: layout.ground,
        how: layout.how,
        places: &layout.places,
        started: layout.started,
        trays: layout.trays,
        on_last: layout.on_last,
        usable: layout.usable,
        fall: layout.fall(),
        care: care.map(|coating| Care::of_coating(&plan.cautions, coating)),
        units,
    })
}
