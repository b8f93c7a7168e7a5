//! The properties that a coating can have, and how far each may go.

use crate::quantity::{Kind, Measured};

/// A property that a coating can have.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Key {
    /// Surface tension of the wet coating against air.
    SurfaceTension,
    /// Density of the wet coating; of the mix, for two parts.
    Density,
    /// Edge angle below which the coating shrinks away from the edge.
    PullBackAngle,
    /// Edge angle to aim at.
    TargetAngle,
    /// Edge angle above which the coating runs over.
    BrimAngle,
    /// Solids by volume: dry volume over wet volume.
    Solids,
    /// Diffusivity of water in the film at 23 °C.
    WaterDiffusivity,
    /// Activation energy of that diffusivity.
    DiffusionEnergy,
    /// Film temperature below which the particles do not fuse.
    FilmFormingMinimum,
    /// Ec: the dose of light at which a lamp-cured resin has just set.
    CriticalDose,
    /// Dp: the depth within which that light falls to 1/e.
    PenetrationDepth,
    /// The lamp's irradiance at the piece that the label's times are taken to mean.
    LampIrradiance,
    /// Activation energy of vapour going through a moisture-cured coat.
    PermeationEnergy,
    /// Viscosity of the fresh coating at 23 °C.
    Viscosity,
    /// Activation energy of that viscosity.
    ViscosityEnergy,
    /// Part A over part B, by volume.
    VolumeRatio,
    /// Density of part A.
    DensityA,
    /// Density of part B.
    DensityB,
    /// Pot life of the mix, as the label means it.
    PotLife,
    /// The mass that the pot life holds for.
    PotLifeMass,
    /// How long the parts of a mix are stirred together, which its pot life has to cover too.
    Stirring,
    /// Wet film thickness of one brushed coat.
    WetFilm,
    /// Wet depth of one flood coat that dries without trouble.
    PrudentCoat,
    /// Extra that a porous blank drinks, as a share of the wet film.
    Soak,
    /// Piece-to-piece scatter of the amount used, one standard deviation.
    Scatter,
    /// The maker's own bias against the model, one standard deviation.
    Bias,
    /// Share of a bottle that stays in it.
    Heel,
    /// Share of what went on that runs off or is wiped away.
    Drips,
    /// Volume left in nozzle, brush or cup at each sitting.
    Tool,
}

/// What is known of a property before any value is read.
struct Spec {
    key: Key,
    name: &'static str,
    kind: Kind,
    /// Least and most believable value, `[SI]`; a temperature in `[°C]`.
    limits: [f64; 2],
    /// The limits in words.
    says: &'static str,
}

const DEGREE: f64 = std::f64::consts::PI / 180.0;

/// One row a property. Limits are there to catch slips of unit and nonsense, so they are wide.
#[rustfmt::skip]
const SPECS: [Spec; 29] = [
    Spec { key: Key::SurfaceTension, name: "surface_tension", kind: Kind::SurfaceTension, limits: [0.005, 0.1], says: "a coating's surface tension lies between 5 and 100 mN/m (clean water has 73)" },
    Spec { key: Key::Density, name: "density", kind: Kind::Density, limits: [500.0, 3000.0], says: "a coating's density lies between 0.5 and 3 g/mL" },
    Spec { key: Key::PullBackAngle, name: "pull_back_angle", kind: Kind::Angle, limits: [0.1 * DEGREE, 89.0 * DEGREE], says: "an edge angle lies between 0.1 and 89 deg" },
    Spec { key: Key::TargetAngle, name: "target_angle", kind: Kind::Angle, limits: [0.1 * DEGREE, 89.0 * DEGREE], says: "an edge angle lies between 0.1 and 89 deg" },
    Spec { key: Key::BrimAngle, name: "brim_angle", kind: Kind::Angle, limits: [0.1 * DEGREE, 89.0 * DEGREE], says: "an edge angle lies between 0.1 and 89 deg" },
    Spec { key: Key::Solids, name: "solids", kind: Kind::Share, limits: [0.01, 1.0], says: "solids by volume lie between 1 % and 100 %: with none, nothing would stay when it dries" },
    Spec { key: Key::WaterDiffusivity, name: "water_diffusivity", kind: Kind::Diffusivity, limits: [1e-14, 1e-8], says: "the diffusivity of water in a film lies between 1e-14 and 1e-8 m2/s" },
    Spec { key: Key::DiffusionEnergy, name: "diffusion_energy", kind: Kind::MolarEnergy, limits: [5e3, 200e3], says: "an activation energy lies between 5 and 200 kJ/mol" },
    Spec { key: Key::FilmFormingMinimum, name: "film_forming_minimum", kind: Kind::Temperature, limits: [0.0, 40.0], says: "a film-forming minimum lies between 0 and 40 C" },
    Spec { key: Key::CriticalDose, name: "critical_dose", kind: Kind::RadiantExposure, limits: [0.1, 1e5], says: "a critical dose lies between 0.01 and 10000 mJ/cm2" },
    Spec { key: Key::PenetrationDepth, name: "penetration_depth", kind: Kind::Length, limits: [1e-5, 0.1], says: "a penetration depth of light lies between 0.01 and 100 mm" },
    Spec { key: Key::LampIrradiance, name: "lamp_irradiance", kind: Kind::Irradiance, limits: [1e-2, 1e5], says: "a lamp's irradiance at the piece lies between 0.001 and 10000 mW/cm2" },
    Spec { key: Key::PermeationEnergy, name: "permeation_energy", kind: Kind::MolarEnergy, limits: [0.0, 200e3], says: "an energy of permeation lies between 0 and 200 kJ/mol" },
    Spec { key: Key::Viscosity, name: "viscosity", kind: Kind::DynamicViscosity, limits: [1e-3, 1e3], says: "a coating's viscosity lies between 1 mPa s and 1000 Pa s" },
    Spec { key: Key::ViscosityEnergy, name: "viscosity_energy", kind: Kind::MolarEnergy, limits: [0.0, 200e3], says: "an activation energy of viscosity lies between 0 and 200 kJ/mol" },
    Spec { key: Key::VolumeRatio, name: "volume_ratio", kind: Kind::Ratio, limits: [0.02, 50.0], says: "a mixing ratio lies between 1:50 and 50:1" },
    Spec { key: Key::DensityA, name: "density_a", kind: Kind::Density, limits: [500.0, 3000.0], says: "a coating's density lies between 0.5 and 3 g/mL" },
    Spec { key: Key::DensityB, name: "density_b", kind: Kind::Density, limits: [500.0, 3000.0], says: "a coating's density lies between 0.5 and 3 g/mL" },
    Spec { key: Key::PotLife, name: "pot_life", kind: Kind::Time, limits: [60.0, 604_800.0], says: "a pot life lies between a minute and a week" },
    Spec { key: Key::PotLifeMass, name: "pot_life_mass", kind: Kind::Mass, limits: [1e-3, 5.0], says: "a pot life is stated for between 1 g and 5 kg" },
    Spec { key: Key::Stirring, name: "stirring", kind: Kind::Time, limits: [0.0, 3600.0], says: "a mix is stirred for 0 to 60 min" },
    Spec { key: Key::WetFilm, name: "wet_film", kind: Kind::Length, limits: [1e-6, 6e-3], says: "a brushed wet film lies between 0.001 and 6 mm" },
    Spec { key: Key::PrudentCoat, name: "prudent_coat", kind: Kind::Length, limits: [1e-4, 2e-2], says: "a prudent flood coat lies between 0.1 and 20 mm wet" },
    Spec { key: Key::Soak, name: "soak", kind: Kind::Share, limits: [0.0, 5.0], says: "a soak lies between 0 % and 500 % of the film" },
    Spec { key: Key::Scatter, name: "scatter", kind: Kind::Share, limits: [0.0, 0.9], says: "a scatter lies between 0 % and 90 %" },
    Spec { key: Key::Bias, name: "bias", kind: Kind::Share, limits: [0.0, 0.9], says: "a bias lies between 0 % and 90 %" },
    Spec { key: Key::Heel, name: "heel", kind: Kind::Share, limits: [0.0, 0.9], says: "the share left in a bottle lies between 0 % and 90 %" },
    Spec { key: Key::Drips, name: "drips", kind: Kind::Share, limits: [0.0, 0.9], says: "the share lost in drips lies between 0 % and 90 %" },
    Spec { key: Key::Tool, name: "tool", kind: Kind::Volume, limits: [0.0, 1e-4], says: "what a tool holds back lies between 0 and 100 mL" },
];

impl Key {
    /// Every property, in the order that they are shown.
    pub fn all() -> impl Iterator<Item = Self> {
        SPECS.iter().map(|spec| spec.key)
    }

    /// The property called `name` in the files.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        SPECS
            .iter()
            .find(|spec| spec.name == name)
            .map(|spec| spec.key)
    }

    /// Its name in the files.
    #[must_use]
    pub fn name(self) -> &'static str {
        self.spec().name
    }

    /// The kind of quantity that it is.
    #[must_use]
    pub fn kind(self) -> Kind {
        self.spec().kind
    }

    /// Whether `value` is of the right kind and believable.
    ///
    /// # Errors
    /// The limits in words, where it is not.
    pub fn check(self, value: Measured) -> Result<(), &'static str> {
        let Spec {
            kind,
            limits: [least, most],
            says,
            ..
        } = *self.spec();
        if value.kind == kind && (least..=most).contains(&value.si) {
            Ok(())
        } else {
            Err(says)
        }
    }

    fn spec(self) -> &'static Spec {
        &SPECS[self as usize]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_key_finds_its_own_row() {
        assert_eq!(Key::all().count(), SPECS.len());
        for (row, key) in Key::all().enumerate() {
            assert_eq!(key as usize, row);
            assert_eq!(Key::named(key.name()), Some(key));
        }
    }
}
