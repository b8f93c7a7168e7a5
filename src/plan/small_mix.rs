//! Mixes that are smaller than what is worth weighing.

use super::mixing::{Cups, LeastMix};
use crate::quantity::Mass;

/// Mixes that are smaller than what is worth weighing on a kitchen's scale.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SmallMix {
    /// How many mixes there are.
    pub mixes: u32,
    /// How many of them are that small.
    pub small: u32,
    /// About how much the least of these is.
    pub each: Mass,
    /// Whether they are all alike.
    pub alike: bool,
    /// The smallest mix worth weighing, by the step of the scale, the coarser first.
    pub least: [LeastMix; 2],
    /// What hangs on the mass that the label's pot life is for, where that is assumed.
    pub assumed: Option<AssumedMass>,
}

/// What one mix would serve if the label's pot life is for its assumed mass in a cup.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AssumedMass {
    /// That mass.
    pub mass: Mass,
    /// Coats of a piece that one mix serves as planned, at the worst.
    pub worst: u64,
    /// Coats that it would serve.
    pub plain: u64,
}

impl SmallMix {
    /// Of like mixes. `None` where each is worth weighing on the coarser scale.
    pub(super) fn of((mixes, each): (u32, Mass), cups: &Cups) -> Option<Self> {
        Self::among(&[(mixes, each)], cups)
    }

    /// Of mixes told one by one, or so many alike. `None` where each is worth weighing on the coarser scale.
    pub(super) fn among(all: &[(u32, Mass)], cups: &Cups) -> Option<Self> {
        let [coarse, _] = cups.least;
        let small = || all.iter().filter(|(_, each)| *each < coarse.mix);
        let each = small().map(|(_, each)| *each);
        let least = each.reduce(|least, each| if each < least { each } else { least })?;
        let mixes = all.iter().map(|(many, _)| many).sum();
        Some(Self {
            mixes,
            small: small().map(|(many, _)| many).sum(),
            each: least,
            alike: small().all(|(_, each)| *each == least),
            least: cups.least,
            assumed: AssumedMass::of(mixes, cups),
        })
    }
}

impl AssumedMass {
    /// For the kind of piece that one mix serves the fewest of; `None` where a larger mix changes nothing.
    fn of(mixes: u32, cups: &Cups) -> Option<Self> {
        if mixes < 2 || !cups.label.mass.is_assumed() {
            return None;
        }
        let fewest = cups
            .serves
            .iter()
            .filter(|serves| serves.most.plain.coats > serves.most.worst.coats)
            .min_by_key(|serves| serves.most.worst.coats)?;
        Some(Self {
            mass: cups.label.mass.mass(),
            worst: fewest.most.worst.coats,
            plain: fewest.most.plain.coats,
        })
    }
}
