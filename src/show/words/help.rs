//! What would help a coat along, in words.

use super::MOST_TOLD;
use crate::cure::help::Change;
use crate::cure::law::Basis;
use crate::plan::Outlook;
use crate::quantity::{Show, Units};

/// A change that helps, as advice.
#[must_use]
pub fn change(change: &Change, units: Units) -> String {
    match change {
        Change::Warm {
            to, at_times: true, ..
        } => format!("keep the room from ever cooling below {}", to.show(units)),
        Change::Warm { to, humidity, .. } => format!(
            "warm the room to {} (its own air is then at {})",
            to.show(units),
            humidity.show(units)
        ),
        Change::Dry { to, at_times: true } => {
            format!(
                "keep the air from ever getting damper than {}",
                to.show(units)
            )
        }
        Change::Dry { to, .. } => format!("dry the air to {}", to.show(units)),
        Change::Move { to } if to.m_per_s() < 0.5 => "open a window for a draught".to_owned(),
        Change::Move { .. } => "run a desk fan".to_owned(),
        Change::WiderGaps { pieces } => format!("wider gaps: no more than {pieces} on a tray"),
        Change::SpreadOut => "spread the pieces out".to_owned(),
        Change::TakeOut => "take the pieces out of their box".to_owned(),
        Change::Thinner { to } => format!("one coat of {}, as the label means it", to.show(units)),
        Change::BeginLater { by } => format!("pour {:.0} h later", by.h()),
        Change::TwoCoats { each } => {
            format!("two coats of {}, one after the other", each.show(units))
        }
    }
}

/// Said where a coat is very slow or never there and no change by itself mends it.
pub const NO_HELP: &str = "no one thing that was tried (a warmer room, drier or moving air, more room, thinner coats, another hour) brings it within 4 times the label's time by itself; take several of them together, or another place";

/// The same under a lamp, to which the room is nothing.
pub const NO_HELP_BY_LAMP: &str = "nothing of the room: hold it nearer to the lamp, take a stronger lamp or one that its data sheet names, or lay thinner layers and cure each";

/// Whether a coat is so slow that something ought to help it.
#[must_use]
pub fn wants_help(timed: &Outlook) -> bool {
    let claimed = timed.basis == Basis::Physics && timed.second_look.is_some();
    claimed
        && timed
            .factor
            .whole
            .likely()
            .is_none_or(|times| times > MOST_TOLD)
}

/// A change that helps, in a few words.
#[must_use]
pub fn change_in_short(change: &Change, units: Units) -> String {
    match change {
        Change::Warm {
            to, at_times: true, ..
        } => format!("at {} at all hours", to.show(units)),
        Change::Warm { to, .. } => format!("at {}", to.show(units)),
        Change::Dry { to, at_times: true } => format!("in air at {} at all hours", to.show(units)),
        Change::Dry { to, .. } => format!("in air at {}", to.show(units)),
        Change::Move { to } if to.m_per_s() < 0.5 => "in a draught".to_owned(),
        Change::Move { .. } => "with a desk fan".to_owned(),
        Change::WiderGaps { .. } => "with wider gaps".to_owned(),
        Change::SpreadOut => "spread out".to_owned(),
        Change::TakeOut => "taken out of the box".to_owned(),
        Change::Thinner { .. } => "as a thinner coat".to_owned(),
        Change::BeginLater { by } => format!("poured {:.0} h later", by.h()),
        Change::TwoCoats { .. } => "as two thinner coats".to_owned(),
    }
}
