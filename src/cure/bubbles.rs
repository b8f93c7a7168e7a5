//! Bubbles: how fast they rise, which are gone when, and when to look.
//!
//! ```text
//! v = g rho d^2 / (18 mu)     Stokes: a rigid bubble, or one with a coated surface
//! v = g rho d^2 / (12 mu)     Hadamard and Rybczynski: a clean one
//! ```
//!
//! Real bubbles lie between the two, and what coats their surface moves them towards
//! Stokes. Resins and glazes hold such matter, so advice uses Stokes, the slower.
//! Both hold while the Reynolds number is far below 1, as it is for bubbles to 1 mm in
//! 0.2 Pa s and more. How long a bubble takes to burst, well under a second, is left
//! out; a skin stops it. A glaze is thicker at a bubble's tiny stress than its label
//! says, so its small bubbles may stay for good.

use super::epoxy::kinetics::{GEL, Isotherm};
use super::law::LawError;
use super::numeric::{integral, root};
use super::viscosity::thickening;
use crate::quantity::{Density, DynamicViscosity, Length, Ratio, Show, Speed, Time, Units};

/// Standard gravity, `[m/s2]`, exact.
const GRAVITY: f64 = 9.806_65;
/// The smallest bubble that the naked eye sees, about.
pub const SEEN: Length = Length::from_mm(0.1);
/// Nobody need look before this.
pub const SOONEST: Time = Time::from_min(10.0);

/// What a bubble's surface is like.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Skin {
    /// Coated and rigid: Stokes.
    Coated,
    /// Clean: Hadamard and Rybczynski.
    Clean,
}

impl Skin {
    /// The number under the formula, `[1]`.
    const fn divisor(self) -> f64 {
        match self {
            Self::Coated => 18.0,
            Self::Clean => 12.0,
        }
    }
}

/// A wet layer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Layer {
    depth: Length,
    density: Density,
    viscosity: DynamicViscosity,
}

impl Layer {
    /// A layer so deep of a coating so dense and so thick.
    ///
    /// # Errors
    /// [`LawError::OutOfRange`] for a depth outside 0.001 to 50 mm, a viscosity outside 1e-4 to 1e4 Pa s.
    pub fn new(
        depth: Length,
        density: Density,
        viscosity: DynamicViscosity,
    ) -> Result<Self, LawError> {
        LawError::check("depth of a layer", depth.m(), (1e-6, 0.05))?;
        LawError::check("viscosity", viscosity.pa_s(), (1e-4, 1e4))?;
        Ok(Self {
            depth,
            density,
            viscosity,
        })
    }

    /// How fast a bubble of this diameter rises.
    #[must_use]
    pub fn speed(&self, bubble: Length, skin: Skin) -> Speed {
        // v = g rho d^2 / (18 mu)
        let pull = GRAVITY * self.density.kg_per_m3() * bubble.m().powi(2);
        Speed::from_m_per_s(pull / (skin.divisor() * self.viscosity.pa_s()))
    }

    /// Its Reynolds number `rho v d / mu` by Stokes.
    #[must_use]
    pub fn reynolds(&self, bubble: Length) -> Ratio {
        let v = self.speed(bubble, Skin::Coated).m_per_s();
        Ratio::from_number(self.density.kg_per_m3() * v * bubble.m() / self.viscosity.pa_s())
    }

    /// How long it takes from the bottom until it touches the surface: `(h - d)/v`.
    ///
    /// # Errors
    /// [`LawError::OutOfRange`] for a bubble below 0.001 mm or larger than the layer.
    pub fn rises_in(&self, bubble: Length, skin: Skin) -> Result<Time, LawError> {
        LawError::check("diameter of a bubble", bubble.m(), (1e-6, self.depth.m()))?;
        let path = (self.depth - bubble).m();
        Ok(Time::from_s(path / self.speed(bubble, skin).m_per_s()))
    }

    /// The smallest bubble that has come from the bottom to the surface after so long,
    /// by Stokes.
    ///
    /// # Errors
    /// [`LawError::OutOfRange`] for a time outside a second to a year.
    pub fn smallest_gone(&self, after: Time) -> Result<Length, LawError> {
        LawError::check("time", after.s(), (1.0, 31_557_600.0))?;
        // h - d = g rho d^2 t / (18 mu): d^2 + k d - k h = 0 with k = 18 mu/(g rho t),
        // of which the root is written without a difference of near numbers
        let pull = GRAVITY * self.density.kg_per_m3() * after.s();
        let k = Skin::Coated.divisor() * self.viscosity.pa_s() / pull;
        let h = self.depth.m();
        Ok(Length::from_m(
            2.0 * k * h / (k + (k * k + 4.0 * k * h).sqrt()),
        ))
    }
}

/// What puts an end to bubbles rising.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Sets {
    /// The resin gels after this long: look within a quarter of it.
    Gels(Time),
    /// The surface is wet for this long, and then has a skin: look within a third of it.
    Skins(Time),
    /// Nothing, till it is put under the lamp.
    UnderTheLamp,
}

impl Sets {
    /// When it is too late to look.
    fn limit(self) -> Option<Time> {
        match self {
            Self::Gels(gel) => Some(gel / 4.0),
            Self::Skins(wet) => Some(wet / 3.0),
            Self::UnderTheLamp => None,
        }
    }
}

/// When to look for bubbles (our own reading: a rule of thumb on Stokes).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BubbleCheck {
    /// How long after the pour to look.
    pub look: Time,
    /// Not later than this; `None` before a lamp.
    pub not_later: Option<Time>,
    /// Bubbles of at least this have risen by then.
    pub risen: Length,
    /// Whether it is too late before all that can be seen have risen.
    pub too_soon: bool,
}

impl BubbleCheck {
    /// When to look at a layer that sets so:
    ///
    /// ```text
    /// max(10 min, (h - d) 18 mu / (g rho d^2)),   d = 0.1 mm
    /// ```
    ///
    /// and not later than a quarter of the gel time or a third of the wet stage.
    ///
    /// # Errors
    /// [`LawError::OutOfRange`] where that is outside a second to a year.
    pub fn of(layer: &Layer, sets: Sets) -> Result<Self, LawError> {
        let risen = if layer.depth > SEEN {
            layer.rises_in(SEEN, Skin::Coated)?
        } else {
            Time::ZERO
        };
        let wanted = if risen > SOONEST { risen } else { SOONEST };
        let not_later = sets.limit();
        let look = not_later.filter(|&limit| limit < wanted).unwrap_or(wanted);
        Ok(Self {
            look,
            not_later,
            risen: layer.smallest_gone(look)?,
            too_soon: look < risen,
        })
    }

    /// Until when to look, where that is soon enough to be worth saying: within a day, and
    /// later than the look itself.
    #[must_use]
    pub fn limit_worth_telling(&self) -> Option<Time> {
        (self.not_later).filter(|&limit| limit.days() < 1.0 && limit > self.look)
    }

    /// Whether nothing sets the coat till it goes under a lamp.
    #[must_use]
    pub const fn is_before_a_lamp(&self) -> bool {
        self.not_later.is_none()
    }

    /// The same in words, without a full stop.
    #[must_use]
    pub fn words(&self, units: Units) -> String {
        let (look, risen) = (self.look.show(units), self.risen.show(units));
        if self.too_soon {
            return format!(
                "look for bubbles {look} after the pour, not later: those under {risen} are still inside by then, so prick what you see"
            );
        }
        let until = match self.not_later {
            None => ", before it goes under the lamp".to_owned(),
            Some(limit) if limit.show(units) == look => ", not later".to_owned(),
            Some(limit) => self.limit_worth_telling().map_or_else(String::new, |_| {
                format!(", not later than {}", limit.show(units))
            }),
        };
        format!(
            "look for bubbles {look} after the pour{until}: those of {risen} and more have risen, so what you see hangs at the bottom or under a skin; prick it"
        )
    }
}

/// A bubble that rises from the bottom of a layer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rising {
    /// Diameter of the bubble, 0.001 mm up to the depth of the layer.
    pub bubble: Length,
    /// The layer while it is fresh.
    pub layer: Layer,
}

/// How long a bubble takes to rise through a layer of resin that cures meanwhile,
/// kept as warm as its room; `None` if the gel holds it.
///
/// ```text
/// h - d = integral of v dt,   v = g rho d^2 / (18 mu(t))
/// ```
///
/// # Errors
/// [`LawError::OutOfRange`] for a bubble below 0.001 mm or larger than the layer.
pub fn rises_through_curing(
    rising: &Rising,
    reaction: &Isotherm,
) -> Result<Option<Time>, LawError> {
    // the time at the fresh viscosity: 18 mu0 (h - d) / (g rho d^2)
    let needed = rising.layer.rises_in(rising.bubble, Skin::Coated)?.s();
    // integral of mu0/mu dt = integral of (1 - a/ag)^(1.5 + a) / (da/dt) da
    let risen =
        |from: f64, to: f64| integral(|a| 1.0 / (thickening(a) * reaction.rate(a)), from, to, 1);
    let (mut passed, mut a) = (0.0, 0.0);
    while a < LAST {
        let end = panel_end(reaction, a);
        let step = risen(a, end);
        if passed + step >= needed {
            let there = root(|x| passed + risen(a, x) - needed, a, end);
            return Ok(Some(Time::from_s(reaction.seconds(0.0, there))));
        }
        passed += step;
        a = end;
    }
    Ok(None)
}

/// Where resin is as good as set: a hair before the gel.
const LAST: f64 = GEL * (1.0 - 1e-9);

/// Panels shrink towards the gel, where the resin thickens without bound, as they
/// do in the reaction's own quadrature.
fn panel_end(reaction: &Isotherm, a: f64) -> f64 {
    reaction.panel_end(a).min(f64::midpoint(a, GEL))
}
