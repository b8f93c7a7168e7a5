//! What does not go into a cupboard as it is told, in words.

use super::moment;
use crate::plan::Warning;
use crate::quantity::{Show, Units};

/// That more pieces, or larger trays, are in it than go by the file.
pub(super) fn fits(warning: &Warning, units: Units) -> String {
    match warning {
        Warning::CupboardFuller { told, most, at } => {
            let from = at.map_or_else(String::new, |at| format!(" from {} on", moment(at, true)));
            format!(
                "{most} wet pieces are in the cupboard at once{from}, and the file says {told}, for which its drying is worked out: with more it gets damper and takes longer; give pieces = {most}, or spread the work"
            )
        }
        Warning::CupboardTooSmall { holds, takes } => format!(
            "the trays that are in use at once take up {} or more with what lies on them, and the cupboard holds {}: they can't all be in it",
            takes.show(units),
            holds.show(units)
        ),
        _ => String::new(),
    }
}
