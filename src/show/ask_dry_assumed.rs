//! What an answer on drying takes for granted, in words.

use crate::ask::Assumption;
use crate::quantity::{Show, Units};

/// An assumption in words.
pub(super) fn assumed(assumption: Assumption, units: Units) -> String {
    match assumption {
        Assumption::DomeDepth { depth } => format!(
            "a coat {} deep, as domes often are (typical, from memory)",
            depth.show(units)
        ),
        Assumption::UsualFilm { depth } => {
            format!(
                "a wet film of {}, the family's usual one",
                depth.show(units)
            )
        }
        Assumption::LabelDepth { depth } => {
            format!(
                "the label's times hold for {} of wet coat",
                depth.show(units)
            )
        }
        Assumption::NoLonger { depth } => {
            format!(
                "the label's times hold for {} of wet coat, and a thinner one takes no longer here",
                depth.show(units)
            )
        }
        Assumption::RoundBlank { diameter } => {
            format!("a round blank of {}", diameter.show(units))
        }
        Assumption::Sheet { length, width } => {
            format!("a sheet of {} x {}", length.show(units), width.show(units))
        }
        Assumption::Alone => {
            "one piece lying alone: neighbours on a tray slow each other".to_owned()
        }
        Assumption::EachAlone => {
            "each piece lying apart from the others in its box: neighbours on a tray slow each other"
                .to_owned()
        }
        Assumption::LabelStill => "the label means a still room".to_owned(),
    }
}
