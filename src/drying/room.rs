//! The air of the room that coats lie in, over time.

use crate::cure::air::Air;
use crate::cure::situation::Spell;

/// The air of a room.
#[derive(Debug, Clone, PartialEq)]
pub enum Room {
    /// As it is, throughout.
    Steady(Air),
    /// Spell after spell.
    Changing(Changing),
}

impl Room {
    /// The air of the first pour.
    #[must_use]
    pub fn first_air(&self) -> Air {
        match self {
            Self::Steady(air) => *air,
            Self::Changing(changing) => changing.first().air,
        }
    }
}

/// Air that changes, and when coats are laid in it.
#[derive(Debug, Clone, PartialEq)]
pub struct Changing {
    /// The spells, without a break.
    spells: Vec<Spell>,
    /// The spells at whose beginning a coat may be laid: one a day.
    pours: Vec<usize>,
}

/// Spells without one at whose beginning a coat may be laid.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("the record of the room's air has no hour at which a coat could be laid")]
pub struct NoPour;

impl Changing {
    /// Spells, and those at whose beginning a coat may be laid, in order.
    ///
    /// # Errors
    /// [`NoPour`] without one, or with one past the end.
    pub fn new(spells: Vec<Spell>, pours: Vec<usize>) -> Result<Self, NoPour> {
        let fits = pours.last().is_some_and(|&last| last < spells.len());
        if fits && pours.is_sorted() {
            Ok(Self { spells, pours })
        } else {
            Err(NoPour)
        }
    }

    /// The spell of the first pour.
    pub(super) fn first(&self) -> Spell {
        self.spells[self.pours[0]]
    }
    /// All the spells.
    #[must_use]
    pub fn spells(&self) -> &[Spell] {
        &self.spells
    }
    /// Which of them a coat may be laid at the beginning of.
    #[must_use]
    pub fn pours(&self) -> &[usize] {
        &self.pours
    }
}

impl Room {
    /// The same room with all its air changed. `None` where some of it can't be.
    #[must_use]
    pub fn changed(&self, change: &dyn Fn(&Air) -> Option<Air>) -> Option<Self> {
        Some(match self {
            Self::Steady(air) => Self::Steady(change(air)?),
            Self::Changing(changing) => Self::Changing(Changing {
                spells: (changing.spells.iter())
                    .map(|spell| {
                        Some(Spell {
                            air: change(&spell.air)?,
                            ..*spell
                        })
                    })
                    .collect::<Option<_>>()?,
                pours: changing.pours.clone(),
            }),
        })
    }
}
