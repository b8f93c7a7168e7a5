//! The pot life on a label, which sets the speed of the resin.

use super::{Cup, Mix, Pot};
use crate::cure::law::{Band, Law, LawError};
use crate::cure::numeric::root;
use crate::quantity::{Mass, Temperature, Time};

/// What the label says of pot life.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PotLife {
    /// The pot life: taken as the time until the stated mass gels in its cup.
    pub lasts: Time,
    /// The mass it holds for.
    pub mass: StatedMass,
    /// The temperature it holds at.
    pub at: Temperature,
}

/// The mass that a pot life holds for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum StatedMass {
    /// The label names it.
    Named(Mass),
    /// The label doesn't, so one is assumed; the worst is that it meant a thin coat.
    Assumed(Mass),
}

impl StatedMass {
    /// The mass to reckon with.
    #[must_use]
    pub fn mass(self) -> Mass {
        let (Self::Named(mass) | Self::Assumed(mass)) = self;
        mass
    }

    /// Whether the label names none.
    #[must_use]
    pub fn is_assumed(self) -> bool {
        matches!(self, Self::Assumed(_))
    }
}

impl Pot {
    /// The same resin as fast as its label says: the stated mass, in a beaker as tall
    /// as wide, gels after the pot life.
    ///
    /// # Errors
    /// [`LawError::OutOfRange`] for a pot life outside a minute to a week, a mass
    /// outside 0.1 g to 10 kg or a temperature outside -20 to 60 °C.
    pub fn as_labelled(self, label: &PotLife) -> Result<Self, LawError> {
        label.check()?;
        let mix = label.mix(label.at);
        // With no heat lost it gels soonest, with all of it lost at once latest.
        let bounds = [self.gel_with_no_loss(label.at), self.thin_gel(label.at)]
            .map(|gel| (gel / label.lasts).ln());
        let late = |log: f64| {
            let gels = self.faster(log.exp()).outlook_of(&mix).gel;
            (gels / label.lasts).ln()
        };
        Ok(self.faster(root(late, bounds[0], bounds[1]).exp()))
    }

    /// The same resin if its label's pot life holds for a thin coat: the quickest
    /// that the label can mean.
    ///
    /// # Errors
    /// As [`as_labelled`](Self::as_labelled).
    pub fn at_worst(self, label: &PotLife) -> Result<Self, LawError> {
        match label.mass {
            StatedMass::Named(_) => self.as_labelled(label),
            StatedMass::Assumed(_) => {
                label.check()?;
                Ok(self.faster(self.thin_gel(label.at) / label.lasts))
            }
        }
    }
}

impl PotLife {
    fn check(&self) -> Result<(), LawError> {
        LawError::check("pot life", self.lasts.s(), (60.0, 604_800.0))?;
        self.mix(self.at).check()
    }

    /// The mix that the label means, in a room.
    fn mix(&self, room: Temperature) -> Mix {
        Mix {
            mass: self.mass.mass(),
            cup: Cup::AsTallAsWide,
            room,
        }
    }

    /// The pot life of the same mass in another room, as a multiple of the label's;
    /// the band is what the law's doubts make of it. `None` for a coating that is
    /// not mixed.
    ///
    /// # Errors
    /// As [`Pot::as_labelled`], and for a room outside -20 to 60 °C.
    pub fn times_in(&self, law: &dyn Law, room: Temperature) -> Result<Option<Band>, LawError> {
        let Some(pot) = law.pot() else {
            return Ok(None);
        };
        let times = |pot: Pot| -> Result<f64, LawError> {
            let gel = pot.as_labelled(self)?.outlook(&self.mix(room))?.gel();
            Ok(gel / self.lasts)
        };
        let likely = times(pot)?;
        let mut band = Band::exactly(likely);
        for doubt in law.doubts() {
            for pot in [doubt.low.pot(), doubt.high.pot()].into_iter().flatten() {
                let other = times(pot)?;
                band.low = band.low.min(other);
                band.high = band.high.max(other);
            }
        }
        Ok(Some(band))
    }
}
