//! A mixed coating in its cup, as its label may be read.

use super::{law_of, pot_life};
use crate::coating::Coating;
use crate::cure::law::LawError;
use crate::cure::pot::{Cup, Mix, MostMixed, Outlook, Pot, PotLife};
use crate::quantity::{Temperature, Time};

/// The same figure by both readings of a label's pot life.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Readings<T> {
    /// The stated mass in a cup.
    pub plain: T,
    /// A thin coat, where the label names no mass: the quickest that it can mean.
    pub worst: T,
}

impl<T> Readings<T> {
    /// Something of each.
    pub fn map<U>(self, of: impl Fn(T) -> U) -> Readings<U> {
        Readings {
            plain: of(self.plain),
            worst: of(self.worst),
        }
    }

    /// Something of each that may fail.
    ///
    /// # Errors
    /// What `of` refuses.
    pub fn try_map<U, E>(self, of: impl Fn(T) -> Result<U, E>) -> Result<Readings<U>, E> {
        Ok(Readings {
            plain: of(self.plain)?,
            worst: of(self.worst)?,
        })
    }
}

/// A mixed coating, as fast as its label says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mixed {
    label: PotLife,
    stirring: Time,
    pots: Readings<Pot>,
}

impl Mixed {
    /// A coating's mix; `None` for one that is not mixed or whose pot life nobody tells.
    ///
    /// # Errors
    /// [`LawError`] where the coating's law can't be made, or its label's pot life, mass
    /// or temperature is outside what [`Pot::as_labelled`] takes.
    pub fn of(coating: &Coating) -> Result<Option<Self>, LawError> {
        let law = law_of(coating)?;
        let (Some(label), Some(pot)) = (pot_life(coating), law.pot()) else {
            return Ok(None);
        };
        let pots = Readings {
            plain: pot.as_labelled(&label)?,
            worst: pot.at_worst(&label)?,
        };
        // where its family has no figure the hands are at it at once
        let stirring = coating.stirring().unwrap_or(Time::ZERO);
        Ok(Some(Self {
            label,
            stirring,
            pots,
        }))
    }

    /// What its label says of pot life.
    #[must_use]
    pub fn label(&self) -> PotLife {
        self.label
    }

    /// How long its parts are stirred from when they meet, before any of it is worked with.
    #[must_use]
    pub fn stirring(&self) -> Time {
        self.stirring
    }

    /// Whether a mix, once stirred, can be worked with for so long.
    #[must_use]
    pub fn lasts(&self, mix: &Outlook, wanted: Time) -> bool {
        mix.lasts(self.stirring + wanted)
    }

    /// The resin by each reading.
    #[must_use]
    pub fn pots(&self) -> Readings<Pot> {
        self.pots
    }

    /// What becomes of a mix that stays in its cup.
    ///
    /// # Errors
    /// As [`Pot::outlook`].
    pub fn outlook(&self, mix: &Mix) -> Result<Readings<Outlook>, LawError> {
        self.pots.try_map(|pot| pot.outlook(mix))
    }

    /// The most to mix at once so that it can be stirred and then worked with for so long.
    ///
    /// # Errors
    /// As [`Pot::largest_prudent_mix`].
    pub fn largest_prudent_mix(
        &self,
        wanted: Time,
        cup: Cup,
        room: Temperature,
    ) -> Result<Readings<MostMixed>, LawError> {
        self.pots
            .try_map(|pot| pot.largest_prudent_mix(self.stirring + wanted, cup, room))
    }
}
