//! The box that a coat lies in while it dries.

use crate::cure::Enclosure;
use crate::run::Run;

/// A box, and which of the maker's it is.
#[derive(Debug, Clone, PartialEq)]
pub struct ShutIn {
    /// Its air, and the wet pieces in it.
    pub enclosure: Enclosure,
    /// The tray whose lid it is, by name. `None`: the room's cupboard.
    pub lid_of: Option<String>,
}

impl ShutIn {
    /// Which box of a run has so much air, changed so often.
    pub(super) fn of(run: &Run, enclosure: Enclosure) -> Self {
        let lid = run.trays.iter().find(|tray| {
            tray.lid.is_some_and(|lid| {
                let [length, width] = tray.size;
                let holds = length.m() * width.m() * lid.height.m();
                lid.air_changes == enclosure.air_changes()
                    && (holds - enclosure.volume().m3()).abs() < 1e-9
            })
        });
        Self {
            enclosure,
            lid_of: lid.map(|tray| tray.name.clone()),
        }
    }
}
