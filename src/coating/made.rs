//! A coating: its family with what the maker's bottle says laid over it.

use std::collections::BTreeMap;

use crate::coating::{Family, Key, Label, Law, Property, Source, TwoParts, Unfit};
use crate::quantity::{
    Angle, Density, Diffusivity, DynamicViscosity, Kind, Length, Mass, Measured, MolarEnergy,
    Ratio, Share, SurfaceTension, Temperature, Time, Volume,
};

/// A coating as this maker has it.
#[derive(Debug, Clone, PartialEq)]
pub struct Coating {
    family: &'static Family,
    properties: BTreeMap<Key, Property>,
    label: Label,
}

/// What a wet coating needs for a dome to be worked out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Liquid {
    /// Surface tension against air.
    pub surface_tension: SurfaceTension,
    /// Density of the wet coating.
    pub density: Density,
    /// Edge angle below which it shrinks away from the edge.
    pub pull_back: Angle,
    /// Edge angle to aim at.
    pub target: Angle,
    /// Edge angle above which it runs over.
    pub brim: Angle,
}

/// How deep a wet dome usually is (typical, from memory).
const USUAL_DOME: Length = Length::from_mm(2.0);

impl Coating {
    /// The family as it is.
    #[must_use]
    pub fn of(family: &'static Family) -> Self {
        let mut coating = Self {
            family,
            properties: family.properties.clone(),
            label: family.label.clone(),
        };
        coating.work_out_density();
        coating
    }

    /// The family with the maker's own figures and label laid over it.
    ///
    /// # Errors
    /// A figure that [`Key::check`] refuses; edge angles that do not rise from pull-back over target to brim.
    pub fn with(
        family: &'static Family,
        own: impl IntoIterator<Item = (Key, Measured)>,
        label: Label,
    ) -> Result<Self, Unfit> {
        let mut coating = Self {
            family,
            properties: family.properties.clone(),
            label,
        };
        for (key, value) in own {
            key.check(value)
                .map_err(|says| Unfit::Value { key, value, says })?;
            coating.properties.insert(
                key,
                Property {
                    value,
                    range: None,
                    source: Source::MakersFile,
                },
            );
        }
        coating.work_out_density();
        coating.check_angles()?;
        Ok(coating)
    }

    /// A mix whose density nobody states weighs what its parts weigh.
    fn work_out_density(&mut self) {
        if self.properties.contains_key(&Key::Density) {
            return;
        }
        if let Some(parts) = self.two_parts() {
            let value = Measured {
                kind: Kind::Density,
                si: parts.mixed_density().kg_per_m3(),
            };
            let source = Source::WorkedOut("the densities of the two parts and their ratio");
            self.properties.insert(
                Key::Density,
                Property {
                    value,
                    range: None,
                    source,
                },
            );
        }
    }

    fn check_angles(&self) -> Result<(), Unfit> {
        let angles =
            [Key::PullBackAngle, Key::TargetAngle, Key::BrimAngle].map(|key| self.angle(key));
        match angles {
            [Some(pull_back), Some(target), Some(brim)]
                if pull_back >= target || target >= brim =>
            {
                Err(Unfit::AnglesOutOfOrder {
                    pull_back,
                    target,
                    brim,
                })
            }
            _ => Ok(()),
        }
    }

    /// Its family.
    #[must_use]
    pub const fn family(&self) -> &'static Family {
        self.family
    }

    /// The law that it dries or cures by.
    #[must_use]
    pub const fn law(&self) -> Law {
        self.family.law
    }

    /// What its label says, or its family's labels usually say.
    #[must_use]
    pub const fn label(&self) -> &Label {
        &self.label
    }

    /// A property with its source.
    #[must_use]
    pub fn property(&self, key: Key) -> Option<&Property> {
        self.properties.get(&key)
    }

    /// Every property that it has, in the order that they are shown.
    pub fn properties(&self) -> impl Iterator<Item = (Key, &Property)> {
        self.properties
            .iter()
            .map(|(&key, property)| (key, property))
    }

    /// What a dome needs, if this coating has all of it.
    #[must_use]
    pub fn liquid(&self) -> Option<Liquid> {
        Some(Liquid {
            surface_tension: self.surface_tension()?,
            density: self.density()?,
            pull_back: self.angle(Key::PullBackAngle)?,
            target: self.angle(Key::TargetAngle)?,
            brim: self.angle(Key::BrimAngle)?,
        })
    }

    /// The names of the properties that a dome needs and this coating has not.
    #[must_use]
    pub fn lacks_for_dome(&self) -> Vec<&'static str> {
        [
            Key::SurfaceTension,
            Key::Density,
            Key::PullBackAngle,
            Key::TargetAngle,
            Key::BrimAngle,
        ]
        .into_iter()
        .filter(|key| !self.properties.contains_key(key))
        .map(Key::name)
        .collect()
    }

    /// The two parts, if it has two.
    #[must_use]
    pub fn two_parts(&self) -> Option<TwoParts> {
        Some(TwoParts {
            volume_ratio: self.si(Key::VolumeRatio).map(Ratio::from_number)?,
            density_a: self.si(Key::DensityA).map(Density::from_kg_per_m3)?,
            density_b: self.si(Key::DensityB).map(Density::from_kg_per_m3)?,
        })
    }

    /// Surface tension of the wet coating against air.
    #[must_use]
    pub fn surface_tension(&self) -> Option<SurfaceTension> {
        self.si(Key::SurfaceTension)
            .map(SurfaceTension::from_n_per_m)
    }

    /// Density of the wet coating, or of the mix.
    #[must_use]
    pub fn density(&self) -> Option<Density> {
        self.si(Key::Density).map(Density::from_kg_per_m3)
    }

    /// Solids by volume.
    #[must_use]
    pub fn solids(&self) -> Option<Share> {
        self.share(Key::Solids)
    }

    /// How deep a wet coat usually is: the wet film of a brushed coat, 2 mm of
    /// a dome (typical, from memory).
    #[must_use]
    pub fn usual_depth(&self) -> Length {
        self.wet_film().unwrap_or(USUAL_DOME)
    }

    /// Wet film thickness of one brushed coat.
    #[must_use]
    pub fn wet_film(&self) -> Option<Length> {
        self.si(Key::WetFilm).map(Length::from_m)
    }

    /// Film temperature below which the particles do not fuse.
    #[must_use]
    pub fn film_forming_minimum(&self) -> Option<Temperature> {
        self.si(Key::FilmFormingMinimum)
            .map(Temperature::from_celsius)
    }

    /// Diffusivity of water in the film at 23 °C.
    #[must_use]
    pub fn water_diffusivity(&self) -> Option<Diffusivity> {
        self.si(Key::WaterDiffusivity)
            .map(Diffusivity::from_m2_per_s)
    }

    /// Activation energy of that diffusivity.
    #[must_use]
    pub fn diffusion_energy(&self) -> Option<MolarEnergy> {
        self.si(Key::DiffusionEnergy)
            .map(MolarEnergy::from_j_per_mol)
    }

    /// Viscosity of the fresh coating at 23 °C.
    #[must_use]
    pub fn viscosity(&self) -> Option<DynamicViscosity> {
        self.si(Key::Viscosity).map(DynamicViscosity::from_pa_s)
    }

    /// Activation energy of that viscosity.
    #[must_use]
    pub fn viscosity_energy(&self) -> Option<MolarEnergy> {
        self.si(Key::ViscosityEnergy)
            .map(MolarEnergy::from_j_per_mol)
    }

    /// Pot life of the mix.
    #[must_use]
    pub fn pot_life(&self) -> Option<Time> {
        self.si(Key::PotLife).map(Time::from_s)
    }

    /// The mass that the pot life holds for.
    #[must_use]
    pub fn pot_life_mass(&self) -> Option<Mass> {
        self.si(Key::PotLifeMass).map(Mass::from_kg)
    }

    /// How long the parts of a mix are stirred together.
    #[must_use]
    pub fn stirring(&self) -> Option<Time> {
        self.si(Key::Stirring).map(Time::from_s)
    }

    /// Volume left in nozzle, brush or cup at each sitting.
    #[must_use]
    pub fn tool(&self) -> Option<Volume> {
        self.si(Key::Tool).map(Volume::from_m3)
    }

    /// A property that is an angle; `None` if it is absent or of another kind.
    #[must_use]
    pub fn angle(&self, key: Key) -> Option<Angle> {
        (key.kind() == Kind::Angle).then(|| self.si(key).map(Angle::from_rad))?
    }

    /// A property that is a share; `None` if it is absent or of another kind.
    #[must_use]
    pub fn share(&self, key: Key) -> Option<Share> {
        (key.kind() == Kind::Share).then(|| self.si(key).map(Share::from_fraction))?
    }

    /// The value in SI units; a temperature in `[°C]`.
    fn si(&self, key: Key) -> Option<f64> {
        self.properties.get(&key).map(|property| property.value.si)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::coating::family;

    #[test]
    fn only_what_can_dome_has_a_liquid() {
        for family in crate::coating::families() {
            let domes = family.applied == crate::coating::Applied::Flooded;
            assert_eq!(
                Coating::of(family).liquid().is_some(),
                domes,
                "{}",
                family.name
            );
        }
    }

    #[test]
    fn the_makers_figure_wins_and_says_so() {
        let glaze = family("water-based dome glaze").unwrap();
        let own = [(
            Key::SurfaceTension,
            Measured {
                kind: Kind::SurfaceTension,
                si: 0.033,
            },
        )];
        let coating = Coating::with(glaze, own, glaze.label.clone()).unwrap();
        let property = coating.property(Key::SurfaceTension).unwrap();
        assert_eq!(
            (property.value.si, &property.source),
            (0.033, &Source::MakersFile)
        );
        assert_eq!(
            coating.property(Key::Density).unwrap().source,
            Source::TypicalFromMemory
        );
    }

    #[test]
    fn a_figure_of_another_kind_is_refused() {
        let glaze = family("water-based dome glaze").unwrap();
        let own = [(
            Key::SurfaceTension,
            Measured {
                kind: Kind::Length,
                si: 0.033,
            },
        )];
        let refused = Coating::with(glaze, own, glaze.label.clone()).unwrap_err();
        assert!(matches!(
            refused,
            Unfit::Value {
                key: Key::SurfaceTension,
                ..
            }
        ));
    }

    #[test]
    fn angles_out_of_order_are_refused() {
        let glaze = family("water-based dome glaze").unwrap();
        let own = [(
            Key::PullBackAngle,
            Measured {
                kind: Kind::Angle,
                si: Angle::from_deg(40.0).rad(),
            },
        )];
        let refused = Coating::with(glaze, own, glaze.label.clone()).unwrap_err();
        assert!(
            refused
                .to_string()
                .contains("pull_back_angle (40 deg) over target_angle (35 deg)")
        );
    }
}
