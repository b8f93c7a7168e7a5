//! Water-based films and domes: water leaves a wet film at a steady rate, then
//! has to cross the film that it leaves behind.
//!
//! Two stages. While the particles swim, X at or above `touching`, the air
//! alone sets the rate. Below, water crosses the film (first mode of Fick's law
//! in a slab dried from one side) in series with the air. X is water volume per
//! dry polymer volume, mean over the film; `h = s h_wet`, `X0 = (1-s)/s`.
//!
//! Film parameters are typical values chosen so that a 2 mm dome takes about a
//! day. Ratios hardly depend on the diffusivity but clearly on its energy (30
//! to 60 kJ/mol moves a ratio of 2.5 from 2.1 to 3.1).

use super::film_in_air::{Film, FilmInAir};
use super::film_in_box::FilmInBox;
use super::law::{Band, Doubt, Hindrance, InBox, Law, LawError, Process, Properties, Standing};
use super::numeric::{GAS_CONSTANT, root};
use super::psychro::{same_vapour, vapour_density};
use super::situation::Situation;
use super::sorption::FloryHuggins;
use super::transfer::{AirSide, BASE_COUPLING};
use super::warning::Warning;
use crate::quantity::{Diffusivity, Humidity, Length, MolarEnergy, Share, Temperature};
use crate::stage::Stage;

/// What sets one water-based coating apart from another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FilmProperties {
    /// Solids by volume, 5 to 95 %.
    pub solids: Share,
    /// Diffusivity of water in the film at 23 °C, 1e-14 to 1e-8 m2/s.
    pub water_diffusivity: Diffusivity,
    /// Energy of activation of that diffusivity, 0 to 150 kJ/mol.
    pub diffusion_energy: MolarEnergy,
    /// Coldest film in which the particles still fuse (ISO 2115, ASTM D2354).
    pub film_forming_minimum: Temperature,
}

/// What the model takes to be the same for every water-based coating.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FilmModel {
    /// How much water the dry polymer takes up from damp air.
    pub sorption: FloryHuggins,
    /// X at which the particles touch, `[1]`.
    pub touching: f64,
    /// X that counts as dry, `[1]`; below what the polymer takes up from saturated air.
    pub target: f64,
    /// Heat that reaches the film through the base, `[W/(m2 K)]`.
    pub base_coupling: f64,
}

impl FilmModel {
    /// Particles touch at 64 % solids (random close packing, textbook: X = 0.5625);
    /// dry at X = 0.040 (chosen: it puts the end of drying at the 85 % that coating
    /// practice knows); sorption and coupling as their own entries say.
    pub const ACRYLIC: Self = Self {
        sorption: FloryHuggins::ACRYLIC,
        touching: 0.5625,
        target: 0.040,
        base_coupling: BASE_COUPLING,
    };
}

/// The law of water-based films.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WaterFilm {
    properties: FilmProperties,
    model: FilmModel,
    /// X of its polymer in saturated air.
    saturation: f64,
    /// The ends of the range that the energy of diffusion lies in.
    energies: (MolarEnergy, MolarEnergy),
}

/// How far the content that counts as dry may be off, as a share of itself
/// (0.035 to 0.045, our own reading).
const DRY_ENOUGH: f64 = 0.125;

impl WaterFilm {
    /// Name of the law in `data/coatings.toml`.
    pub const NAME: &'static str = "water film";
    /// Wet films the model takes, thinnest.
    pub const THINNEST: Length = Length::from_mm(0.01);
    /// Wet films the model takes, thickest.
    pub const THICKEST: Length = Length::from_mm(6.0);
    /// The depths at which the model was checked against its reference.
    pub const CHECKED: (Length, Length) = (Length::from_mm(0.05), Length::from_mm(3.0));

    /// A coating with the usual model.
    ///
    /// # Errors
    /// [`LawError::OutOfRange`] naming the property.
    pub fn new(properties: FilmProperties) -> Result<Self, LawError> {
        Self::with_model(properties, FilmModel::ACRYLIC)
    }

    /// A coating with a model of one's own.
    ///
    /// # Errors
    /// [`LawError::OutOfRange`] naming the property or the model's field.
    pub fn with_model(properties: FilmProperties, model: FilmModel) -> Result<Self, LawError> {
        let p = &properties;
        LawError::check("solids", p.solids.fraction(), (0.05, 0.95))?;
        LawError::check(
            "water_diffusivity",
            p.water_diffusivity.m2_per_s(),
            (1e-14, 1e-8),
        )?;
        LawError::check(
            "diffusion_energy",
            p.diffusion_energy.j_per_mol(),
            (0.0, 150e3),
        )?;
        LawError::check(
            "film_forming_minimum",
            p.film_forming_minimum.celsius(),
            (-20.0, 60.0),
        )?;
        LawError::check("chi", model.sorption.chi, (1.0, 5.0))?;
        let saturation = model.sorption.saturation();
        LawError::check("target", model.target, (1e-4, saturation))?;
        LawError::check("touching", model.touching, (saturation, 5.0))?;
        LawError::check("base_coupling", model.base_coupling, (0.0, 1000.0))?;
        // the driest bottle must still hold more water than a dry film
        LawError::check(
            "solids",
            p.solids.fraction(),
            (0.05, 1.0 / (1.0 + model.target)),
        )?;
        let energy = p.diffusion_energy;
        Ok(Self {
            properties,
            model,
            saturation,
            energies: (energy, energy),
        })
    }

    /// The same with a range that its energy of diffusion lies in, each end 0 to
    /// 150 kJ/mol.
    ///
    /// # Errors
    /// [`LawError::OutOfRange`] where the range does not hold the energy.
    pub fn with_energies(self, low: MolarEnergy, high: MolarEnergy) -> Result<Self, LawError> {
        let energy = self.properties.diffusion_energy.j_per_mol();
        LawError::check("diffusion_energy.low", low.j_per_mol(), (0.0, energy))?;
        LawError::check("diffusion_energy.high", high.j_per_mol(), (energy, 150e3))?;
        Ok(Self {
            energies: (low, high),
            ..self
        })
    }

    /// Drying counts as very slow from here on (coating practice).
    pub const VERY_DAMP: Humidity = Humidity::from_percent(80.0);

    /// From the properties of a family in `data/coatings.toml`.
    pub(super) fn from_properties(from: &Properties) -> Result<Box<dyn Law>, LawError> {
        let film = Self::new(FilmProperties {
            solids: Share::from_fraction(from.need("solids")?),
            water_diffusivity: Diffusivity::from_m2_per_s(from.need("water_diffusivity")?),
            diffusion_energy: MolarEnergy::from_j_per_mol(from.need("diffusion_energy")?),
            film_forming_minimum: Temperature::from_celsius(from.need("film_forming_minimum")?),
        })?;
        let energy = |key| Some(MolarEnergy::from_j_per_mol((from.read)(key)?));
        let ends = (
            energy("diffusion_energy.low"),
            energy("diffusion_energy.high"),
        );
        Ok(Box::new(match ends {
            (Some(low), Some(high)) => film.with_energies(low, high)?,
            _ => film,
        }))
    }

    /// Air at or above this humidity never lets the film reach its target:
    /// the humidity in balance with the target content.
    #[must_use]
    pub fn dries_below(&self) -> Humidity {
        Humidity::from_fraction(self.model.sorption.activity(self.model.target))
    }

    /// Diffusivity of water in the film,
    /// `D = D23 exp(-E/R (1/T - 1/296.15))`.
    #[must_use]
    pub fn diffusivity(&self, temperature: Temperature) -> Diffusivity {
        let energy = self.properties.diffusion_energy.j_per_mol();
        let arrhenius = -energy / GAS_CONSTANT * (1.0 / temperature.kelvin() - 1.0 / 296.15);
        self.properties.water_diffusivity * arrhenius.exp()
    }

    /// Temperature of the film while it is wet: evaporation cools it below the air.
    #[must_use]
    pub fn wet_film_temperature(&self, situation: &Situation) -> Temperature {
        self.air_side(situation).evaporation(1.0).surface
    }

    /// How warm the air must be, carrying the water it carries now, for the wet
    /// film to reach its film-forming minimum. `None` if not even 60 °C would do.
    #[must_use]
    pub fn warm_enough(&self, situation: &Situation) -> Option<Temperature> {
        let air = situation.air();
        let warmed = |celsius: f64| {
            let air = same_vapour(&air, Temperature::from_celsius(celsius)).ok()?;
            let film = self.wet_film_temperature(&situation.in_air(air));
            Some((film - self.properties.film_forming_minimum).k())
        };
        let (here, hottest) = (air.temperature().celsius(), super::air::WARMEST.celsius());
        if warmed(hottest)? < 0.0 {
            return None;
        }
        // warming from here to 60 °C never crosses the dew point, so the fallback is not reached
        let celsius = root(|t| warmed(t).unwrap_or(f64::NAN), here, hottest);
        Some(Temperature::from_celsius(celsius))
    }

    /// The air over the fresh film: in a box it moves as the box's does.
    fn air_side(&self, situation: &Situation) -> AirSide {
        AirSide::new(
            &situation.exposure(),
            &situation.air_over_coat(),
            self.model.base_coupling,
        )
    }

    /// The film in constant air.
    fn in_air(&self, situation: &Situation) -> FilmInAir {
        let air = situation.air();
        FilmInAir::new(&Film {
            side: self.air_side(situation),
            sorption: self.model.sorption,
            saturation: self.saturation,
            touching: self.model.touching,
            humidity: air.humidity(),
            dry: situation.wet_depth() * self.properties.solids.fraction(),
            diffusivity: self.diffusivity(air.temperature()),
        })
    }

    /// The film in the situation's box, if it lies in one.
    fn boxed(&self, situation: &Situation) -> Option<FilmInBox> {
        let enclosure = situation.enclosure()?;
        Some(FilmInBox::new(
            self.in_air(situation),
            &enclosure,
            situation,
        ))
    }

    /// What to warn of where it lies in a box: that the box keeps the wet stage up by
    /// more than a quarter.
    fn box_warning(&self, situation: &Situation) -> Option<Warning> {
        let boxed = self.boxed(situation)?;
        let filling = situation.filling()?;
        let times = boxed.slows_wet_stage()?;
        let asked = Self::SLOWED_BY_A_BOX;
        (times > asked).then_some(Warning::BoxSlows {
            times,
            humidity: Humidity::from_fraction(boxed.settled()? / boxed.saturated()),
            least: filling.least_air_changes(asked)?,
            fresh: filling.least_fresh_air(asked)?,
        })
    }

    /// A box that makes the wet stage more times as long as this is warned of (our own
    /// choice).
    pub const SLOWED_BY_A_BOX: f64 = 1.25;

    fn check_depth(situation: &Situation) -> Result<(), LawError> {
        let (thinnest, thickest) = (Self::THINNEST.m(), Self::THICKEST.m());
        LawError::check("wet depth", situation.wet_depth().m(), (thinnest, thickest))
    }

    /// How many times faster a wet film kept as warm as the air would dry than
    /// one that cools itself, `[1]`.
    fn cooling(&self, situation: &Situation) -> f64 {
        let settled = self.boxed(situation).and_then(|boxed| boxed.settled());
        if let (Some(cooled), Some(filling)) = (settled, situation.filling()) {
            // what leaves goes with the vapour that a settled box has more than the room
            let outside = vapour_density(&situation.air()).kg_per_m3();
            return (filling.settles_with().kg_per_m3() - outside) / (cooled - outside);
        }
        let side = self.air_side(situation);
        side.isothermal_flux() / side.evaporation(1.0).flux
    }
}

impl Law for WaterFilm {
    fn name(&self) -> &'static str {
        Self::NAME
    }

    fn stages(&self) -> &'static [Stage] {
        &Stage::ALL
    }

    /// Measured by X, the water in it.
    fn start(&self, _: &Situation) -> f64 {
        let s = self.properties.solids.fraction();
        (1.0 - s) / s
    }

    /// The surface is there when the particles touch, all else at the target. A
    /// film so rich in solids that its particles touch from the start has no wet
    /// stage: then the surface waits for the target too.
    fn goal(&self, stage: Stage, situation: &Situation) -> f64 {
        if stage.is_of_surface() && self.start(situation) > self.model.touching {
            self.model.touching
        } else {
            self.model.target
        }
    }

    /// The film in constant air, in which a time is a single integral.
    fn process(&self, situation: &Situation) -> Result<Box<dyn Process + '_>, LawError> {
        Self::check_depth(situation)?;
        Ok(Box::new(self.in_air(situation)))
    }

    /// The film with the vapour of its box, which changes how damp its air is.
    fn in_box(&self, situation: &Situation) -> Result<Option<Box<dyn InBox + '_>>, LawError> {
        Self::check_depth(situation)?;
        Ok(self
            .boxed(situation)
            .map(|boxed| -> Box<dyn InBox> { Box::new(boxed) }))
    }

    fn why_never(&self, stage: Stage, situation: &Situation) -> Hindrance {
        let sealed = situation.enclosure().is_some_and(|it| it.is_sealed());
        if let Some(boxed) = self.boxed(situation).filter(|_| sealed) {
            let fresh = self.start(situation);
            let at = boxed.stalls_at(Standing::fresh(fresh, situation));
            return Hindrance::Stalls {
                at,
                share_left: Share::from_fraction(at / fresh),
            };
        }
        let sorption = self.model.sorption;
        let goal = self.goal(stage, situation).min(self.saturation);
        Hindrance::TooDamp {
            dries_below: Humidity::from_fraction(sorption.activity(goal)),
        }
    }

    fn tells_time(&self) -> bool {
        true
    }

    fn refusal(&self, _: Stage, situation: &Situation) -> Option<Hindrance> {
        let film = self.wet_film_temperature(situation);
        let minimum = self.properties.film_forming_minimum;
        (film < minimum).then(|| Hindrance::TooColdToForm {
            film,
            minimum,
            warm_enough: self.warm_enough(situation),
        })
    }

    /// The two that move a ratio: how much faster water crosses a warm film, and
    /// how dry is dry.
    fn doubts(&self) -> Vec<Doubt> {
        let energy = |energy| -> Box<dyn Law> {
            Box::new(Self {
                properties: FilmProperties {
                    diffusion_energy: energy,
                    ..self.properties
                },
                ..*self
            })
        };
        let target = |target| -> Box<dyn Law> {
            Box::new(Self {
                model: FilmModel {
                    target,
                    ..self.model
                },
                ..*self
            })
        };
        let (low, high) = self.energies;
        vec![
            Doubt {
                what: "energy of diffusion",
                low: energy(low),
                high: energy(high),
            },
            Doubt {
                what: "how dry is dry",
                low: target(self.model.target * (1.0 + DRY_ENOUGH)),
                high: target(self.model.target * (1.0 - DRY_ENOUGH)),
            },
        ]
    }

    /// While the water leaves, how much the film cools depends on what the piece
    /// stands on, which is not known: the ratio lies between that of a film cooled
    /// as the model says and that of one kept as warm as the room by a heavy base.
    /// The slower of the two is planned with.
    fn planned(&self, stage: Stage, label: &Situation, here: &Situation, band: Band) -> Band {
        if self.goal(stage, here) < self.model.touching {
            return band;
        }
        let kept_warm = self.cooling(label) / self.cooling(here);
        Band {
            low: band.low * kept_warm.min(1.0),
            likely: band.likely * kept_warm.max(1.0),
            high: band.high * kept_warm.max(1.0),
        }
    }

    fn warnings(&self, situation: &Situation) -> Vec<Warning> {
        let humidity = situation.air().humidity();
        let limit = self.dries_below();
        let depth = situation.wet_depth();
        let very_damp = humidity >= Self::VERY_DAMP && humidity < limit;
        let checked = (Self::CHECKED.0..=Self::CHECKED.1).contains(&depth);
        let damp = very_damp.then_some(Warning::VeryDamp {
            humidity,
            will_not_dry_above: limit,
        });
        let unchecked = (!checked).then_some(Warning::UncheckedDepth { depth });
        let boxed = self.box_warning(situation);
        damp.into_iter().chain(unchecked).chain(boxed).collect()
    }
}
