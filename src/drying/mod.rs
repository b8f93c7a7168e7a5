//! From a coating's properties to the law that it dries or cures by, and from a blank to its wet surface.

mod awaited;
mod lit;
mod look;
mod mixed;
mod outlook;
mod over_time;
mod room;
mod season;
mod taken;
mod time_band;
mod tray;

pub use awaited::Awaited;
pub use lit::{InLayers, InOne, UnderLamp, under_lamp, usual_light};
pub use mixed::{Mixed, Readings};
pub use outlook::{Coat, Days, Drier, NoTime, Outlook, PotLifeHere, SecondLook, StageTimes};
pub use over_time::{
    DAY_FROM, EVENING, NIGHT_FROM, NoRoom, Recorded, Recording, Written, stretches,
};
pub use room::{Changing, NoPour, Room};
pub use season::{SLOWEST_FIT, Season, Stretch, Week};
pub use time_band::TimeBand;
pub use tray::OnTray;

use crate::coating::{Coating, Family, Key, Law as LawName, Source};
use crate::cure::lamp::Lamp;
use crate::cure::moisture::MoistureCure;
use crate::cure::pot::{PotLife, StatedMass};
use crate::cure::transfer::Footprint;
use crate::cure::viscosity::Viscosity;
use crate::cure::{Law, LawError, airing::Airing, epoxy::Epoxy, law, water_film::WaterFilm};
use crate::geometry::{Form, Outline};

/// The law that a coating dries or cures by. Properties are looked up by the
/// names of the coating files, and their ranges as `name.low` and `name.high`.
///
/// # Errors
/// [`LawError`] where the coating lacks a property or it is out of range.
pub fn law_of(coating: &Coating) -> Result<Box<dyn Law>, LawError> {
    let name = match coating.law() {
        LawName::WaterFilm => WaterFilm::NAME,
        LawName::Epoxy => Epoxy::NAME,
        LawName::Airing => Airing::NAME,
        LawName::Lamp => Lamp::NAME,
        LawName::MoistureCure => MoistureCure::NAME,
    };
    law(name, &|key| property(coating, key))
}

/// The pot life that a mixed coating's label gives, at the label's temperature. A
/// mass counts as stated where the maker's own file names it.
#[must_use]
pub fn pot_life(coating: &Coating) -> Option<PotLife> {
    let lasts = coating.pot_life()?;
    let mass = coating.pot_life_mass()?;
    let stated = coating.property(Key::PotLifeMass)?.source == Source::MakersFile;
    Some(PotLife {
        lasts,
        mass: if stated {
            StatedMass::Named(mass)
        } else {
            StatedMass::Assumed(mass)
        },
        at: coating.label().temperature,
    })
}

/// How runny a fresh coating is; `None` where no figure is known.
#[must_use]
pub fn viscosity(coating: &Coating) -> Option<Viscosity> {
    Some(Viscosity {
        at_23: coating.viscosity()?,
        energy: coating.viscosity_energy()?,
    })
}

/// A blank's wet surface as the air sees it: a disc, a rectangle (its corners
/// left sharp), or for any other outline the disc of the same area. That is our
/// own choice: mass transfer asks for little more than a size, and
/// [`Footprint::disc_of_area`] says how near it comes. Holes are part of the
/// surface of a disc or a rectangle, and are left out of the area of the rest.
#[must_use]
pub fn footprint(outline: &Outline) -> Footprint {
    match *outline.form() {
        Form::Round { diameter } => Footprint::Disc { diameter },
        Form::Rectangle { length, width, .. } => Footprint::Rectangle { length, width },
        _ => Footprint::disc_of_area(outline.area()),
    }
}

/// A property in SI units by its key; "key.low" and "key.high" ask for its range.
fn property(coating: &Coating, key: &str) -> Option<f64> {
    let (name, end) = match key.rsplit_once('.') {
        Some((name, "low")) => (name, Some(0)),
        Some((name, "high")) => (name, Some(1)),
        _ => (key, None),
    };
    let key = Key::named(name)?;
    let own = coating.property(key)?;
    match end {
        None => Some(own.value.si),
        Some(end) => Some(match own.range {
            Some(range) => range[end].si,
            None => own.value.si * usual_range(coating.family(), key, end),
        }),
    }
}

/// A maker's own figure comes without a range: it is given its family's, in proportion.
fn usual_range(family: &Family, key: Key, end: usize) -> f64 {
    family
        .properties
        .get(&key)
        .and_then(|usual| Some(usual.range?[end].si / usual.value.si))
        .unwrap_or(1.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::coating::family;
    use crate::quantity::{Mass, Measured};

    /// The families' 100 g are assumed (common practice, no source); a maker's own count.
    #[test]
    fn a_mass_of_the_makers_own_counts_as_stated() {
        let epoxy = family("two-part dome epoxy").unwrap();
        let usual = Coating::of(epoxy);
        let assumed = pot_life(&usual).unwrap().mass;
        assert_eq!(assumed, StatedMass::Assumed(Mass::from_g(100.0)));
        let grams: Measured = "50 g".parse().unwrap();
        let own = [(Key::PotLifeMass, grams)];
        let stated = Coating::with(epoxy, own, usual.label().clone()).unwrap();
        let named = pot_life(&stated).unwrap().mass;
        assert_eq!(named, StatedMass::Named(Mass::from_g(50.0)));
        let glaze = Coating::of(family("water-based dome glaze").unwrap());
        assert_eq!(pot_life(&glaze), None);
    }
}
