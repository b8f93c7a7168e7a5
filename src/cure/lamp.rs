//! Resin that a lamp cures: how deep a dose reaches, and how long to leave it.
//!
//! The working curve of Jacobs (1992), whose form is that of light dying away in
//! the resin (from memory, sure):
//!
//! ```text
//! Cd = Dp ln(E/Ec)            depth cured by a dose E on the surface, 0 if E <= Ec
//! E  = f Ec exp(d/Dp)         dose on the surface that brings f Ec to the depth d
//! N  = ceil(E / (I t))        passes of t seconds at the irradiance I
//! ```
//!
//! Dp and Ec are a resin's own under one kind of lamp and must be measured: 24
//! laboratories found values up to [`PENETRATION_SPREAD`] and
//! [`CRITICAL_DOSE_SPREAD`] times apart for the same resin (NIST-led study,
//! PMC10986335, abstract). Ec and the lamp drop out of a ratio to a label's time;
//! Dp stays, so its whole range is the [`Lamp`] law's doubt.
//!
//! The law's clock is time under the lamp. Temperature, humidity and moving air
//! change nothing that is claimed. It holds for a clear coat: where the light is
//! stopped by an opaque print, a pigment or a shadow, nothing cures.

use super::law::{Doubt, Hindrance, Law, LawError, Process, Properties};
use super::situation::Situation;
use super::warning::Warning;
use crate::quantity::{Irradiance, Length, RadiantExposure, Time};
use crate::stage::Stage;

/// How many times apart laboratories found Dp of one resin, `[1]` (NIST-led study of
/// 24 laboratories, PMC10986335, abstract).
pub const PENETRATION_SPREAD: f64 = 7.0;
/// The same of Ec, `[1]`.
pub const CRITICAL_DOSE_SPREAD: f64 = 70.0;
/// How thick the layer is that air keeps tacky on acrylates: from memory, order of
/// magnitude; thicker under a weak lamp.
pub const TACKY_LAYER: [Length; 2] = [Length::from_mm(0.005), Length::from_mm(0.05)];
/// Dp of printing resins, which hold an absorber: from memory, fairly sure. A clear
/// coat lets light ten times as deep.
pub const PRINTING_RESIN: [Length; 2] = [Length::from_mm(0.05), Length::from_mm(0.3)];
/// The bottom of a coat should have this many times Ec, `[1]`: our own reading, for
/// at Ec itself the resin has only just set.
pub const AT_THE_BOTTOM: f64 = 2.0;
/// Deeper than so many Dp the dose is out of reach, and a coat is cured in layers.
pub const MOST_PENETRATIONS: f64 = 12.0;

/// Depths that are covered, `[m]`.
const DEPTHS: (f64, f64) = (0.0, 0.05);
/// Irradiances that are covered, `[W/m2]`: 0.001 mW/cm2 to 10 W/cm2.
const LIGHT: (f64, f64) = (1e-2, 1e5);
/// Penetration depths that are covered, `[m]`.
const PENETRATION: (f64, f64) = (1e-5, 0.1);
/// Critical doses that are covered, `[J/m2]`: 0.01 to 10 000 mJ/cm2.
const CRITICAL: (f64, f64) = (0.1, 1e5);

/// The working curve of one resin under one kind of lamp.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WorkingCurve {
    critical: RadiantExposure,
    penetration: Length,
}

/// One pass under the lamp.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pass {
    /// The lamp's irradiance at the piece, 0.001 mW/cm2 to 10 W/cm2.
    pub light: Irradiance,
    /// How long it lasts.
    pub lasts: Time,
}

/// What a coat is to get at its bottom.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bottom {
    /// How deep that lies, 0 to 50 mm.
    pub depth: Length,
    /// f: how many times Ec should reach it, 1 to 100, `[1]`; [`AT_THE_BOTTOM`] usually.
    pub times_critical: f64,
}

/// Equal layers, each cured before the next.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Layers {
    /// How many.
    pub count: u32,
    /// The doses of all of them together.
    pub dose: RadiantExposure,
}

impl WorkingCurve {
    /// A resin of this critical dose Ec and penetration depth Dp.
    ///
    /// # Errors
    /// [`LawError::OutOfRange`] for Ec outside 0.01 to 10 000 mJ/cm2, Dp outside 0.01 to 100 mm.
    pub fn new(critical: RadiantExposure, penetration: Length) -> Result<Self, LawError> {
        LawError::check("critical dose", critical.j_per_m2(), CRITICAL)?;
        LawError::check("penetration depth", penetration.m(), PENETRATION)?;
        Ok(Self {
            critical,
            penetration,
        })
    }

    /// From the properties of a coating: `property` answers a key of
    /// `data/coatings.toml` in SI units, or nothing.
    ///
    /// # Errors
    /// [`LawError::Missing`] for `critical_dose` or `penetration_depth`, and as
    /// [`new`](Self::new).
    pub fn of(property: &dyn Fn(&str) -> Option<f64>) -> Result<Self, LawError> {
        let from = Properties {
            law: Lamp::NAME,
            read: property,
        };
        let penetration = Length::from_m(from.need("penetration_depth")?);
        let critical = RadiantExposure::from_j_per_m2(from.need("critical_dose")?);
        Self::new(critical, penetration)
    }

    /// Ec: the dose at which the resin has just set.
    #[must_use]
    pub fn critical(&self) -> RadiantExposure {
        self.critical
    }
    /// Dp: the depth within which the light falls to 1/e.
    #[must_use]
    pub fn penetration(&self) -> Length {
        self.penetration
    }

    /// How deep a dose on the surface cures; nothing up to Ec.
    #[must_use]
    pub fn cured_depth(&self, dose: RadiantExposure) -> Length {
        if dose <= self.critical {
            return Length::ZERO;
        }
        // Cd = Dp ln(E/Ec)
        self.penetration * (dose / self.critical).ln()
    }

    /// The dose on the surface that a bottom needs, reachable or not.
    ///
    /// # Errors
    /// [`LawError::OutOfRange`] for a depth outside 0 to 50 mm, `times_critical` outside 1 to 100.
    pub fn dose(&self, bottom: Bottom) -> Result<RadiantExposure, LawError> {
        LawError::check("depth of a coat", bottom.depth.m(), DEPTHS)?;
        LawError::check("dose at the bottom", bottom.times_critical, (1.0, 100.0))?;
        // E = f Ec exp(d/Dp)
        Ok(self.critical * (bottom.times_critical * (bottom.depth / self.penetration).exp()))
    }

    /// Whether a coat this deep can be cured in one layer: up to 12 Dp.
    #[must_use]
    pub fn reaches(&self, depth: Length) -> bool {
        depth <= self.penetration * MOST_PENETRATIONS
    }

    /// How many passes a bottom needs.
    ///
    /// # Errors
    /// As [`dose`](Self::dose), and [`LawError::OutOfRange`] for a depth that the lamp does not
    /// reach, an irradiance outside 0.001 mW/cm2 to 10 W/cm2, a pass outside 0.1 s to a
    /// day, more than a million passes.
    pub fn passes(&self, bottom: Bottom, pass: Pass) -> Result<u32, LawError> {
        let deep = bottom.depth / self.penetration;
        LawError::check("depth in penetrations", deep, (0.0, MOST_PENETRATIONS))?;
        LawError::check("irradiance", pass.light.w_per_m2(), LIGHT)?;
        LawError::check("time of a pass", pass.lasts.s(), (0.1, 86_400.0))?;
        // N = ceil(f Ec exp(d/Dp) / (I t)); what is a whole number but for rounding stays it
        let passes = self.dose(bottom)? / (pass.light * pass.lasts);
        let whole = (passes * (1.0 - 1e-12)).ceil();
        LawError::check("number of passes", whole, (0.0, 1e6))?;
        Ok(counted(whole))
    }

    /// A coat laid in `count` equal layers.
    ///
    /// # Errors
    /// As [`dose`](Self::dose), and [`LawError::OutOfRange`] for no layer or over 1000.
    pub fn in_layers(&self, bottom: Bottom, count: u32) -> Result<Layers, LawError> {
        let layers = f64::from(count);
        LawError::check("number of layers", layers, (1.0, 1000.0))?;
        let each = Bottom {
            depth: bottom.depth / layers,
            ..bottom
        };
        // nl f Ec exp(d/(nl Dp))
        let dose = self.dose(each)? * layers;
        Ok(Layers { count, dose })
    }

    /// The number of equal layers with the least dose in all: each about Dp deep,
    /// where the slope of `nl exp(d/(nl Dp))` is nothing.
    ///
    /// # Errors
    /// As [`in_layers`](Self::in_layers), where more than 1000 would be needed.
    pub fn best_layers(&self, bottom: Bottom) -> Result<Layers, LawError> {
        let near = (bottom.depth / self.penetration).max(1.0);
        LawError::check("number of layers", near, (1.0, 1000.0))?;
        let fewer = self.in_layers(bottom, counted(near.floor()))?;
        let more = self.in_layers(bottom, counted(near.ceil()))?;
        Ok(if more.dose < fewer.dose { more } else { fewer })
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "checked to be a whole number from 0 to a million"
)]
fn counted(whole: f64) -> u32 {
    whole as u32
}

/// A lamp as the maker knows it. The watts on its box are electrical and tell nothing
/// of the light.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shining {
    /// How far from the piece, 5 mm to 2 m.
    pub distance: Length,
    /// Its irradiance at the piece.
    pub light: Irradiance,
}

/// What light there may be at a piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bracket {
    /// The least.
    pub least: Irradiance,
    /// The most.
    pub most: Irradiance,
}

impl Shining {
    /// What it gives at another distance. A lamp that is wide beside its distance, or
    /// in a mirrored box, hardly changes; a small one far off follows the inverse
    /// square; all others lie between.
    ///
    /// # Errors
    /// [`LawError::OutOfRange`] for a distance outside 5 mm to 2 m.
    pub fn moved_to(self, distance: Length) -> Result<Bracket, LawError> {
        const FAR: (f64, f64) = (0.005, 2.0);
        LawError::check("distance of a lamp", self.distance.m(), FAR)?;
        LawError::check("distance of a lamp", distance.m(), FAR)?;
        // I = I0 (r0/r)^2 of a point
        let point = self.light * (self.distance / distance).powi(2);
        Ok(if point < self.light {
            Bracket {
                least: point,
                most: self.light,
            }
        } else {
            Bracket {
                least: self.light,
                most: point,
            }
        })
    }
}

/// The law of lamp-cured resin. Every stage a label names asks for the dose that
/// cures the coat's bottom, so all take `exp((d - d_label)/Dp) I_label/I` times the
/// label's time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lamp {
    curve: WorkingCurve,
    /// Dp may be as little and as much as this.
    penetrations: [Length; 2],
    /// The irradiance that a label's time is taken to mean.
    light: Irradiance,
}

impl Lamp {
    /// Name of the law in `data/coatings.toml`.
    pub const NAME: &'static str = "lamp";

    /// A resin under a lamp of this irradiance at the piece, of which Dp may lie
    /// anywhere between the two `penetrations`.
    ///
    /// # Errors
    /// [`LawError::OutOfRange`] for an irradiance outside 0.001 mW/cm2 to 10 W/cm2, a
    /// penetration outside 0.01 to 100 mm.
    pub fn new(
        curve: WorkingCurve,
        penetrations: [Length; 2],
        light: Irradiance,
    ) -> Result<Self, LawError> {
        LawError::check("irradiance", light.w_per_m2(), LIGHT)?;
        for penetration in penetrations {
            LawError::check("penetration depth", penetration.m(), PENETRATION)?;
        }
        Ok(Self {
            curve,
            penetrations,
            light,
        })
    }

    /// From the properties of a family in `data/coatings.toml`.
    pub(super) fn from_properties(from: &Properties) -> Result<Box<dyn Law>, LawError> {
        let curve = WorkingCurve::of(from.read)?;
        let light = Irradiance::from_w_per_m2(from.need("lamp_irradiance")?);
        let ends = ["penetration_depth.low", "penetration_depth.high"]
            .map(|key| (from.read)(key).map_or(curve.penetration, Length::from_m));
        Ok(Box::new(Self::new(curve, ends, light)?))
    }

    /// Its working curve.
    #[must_use]
    pub fn curve(&self) -> WorkingCurve {
        self.curve
    }

    /// The same with Dp at one end of its range.
    fn letting_light(&self, penetration: Length) -> Box<dyn Law> {
        Box::new(Self {
            curve: WorkingCurve {
                penetration,
                ..self.curve
            },
            ..*self
        })
    }
}

/// Dose upon dose, `[J/m2]`.
struct Dose {
    light: Irradiance,
}

impl Process for Dose {
    fn seconds(&self, from: f64, to: f64) -> Option<f64> {
        let left = RadiantExposure::from_j_per_m2((to - from).max(0.0));
        Some((left / self.light).s())
    }

    fn after(&self, from: f64, seconds: f64) -> f64 {
        from + (self.light * Time::from_s(seconds)).j_per_m2()
    }
}

impl Law for Lamp {
    fn name(&self) -> &'static str {
        Self::NAME
    }

    /// `Ec exp(d/Dp)`, `[J/m2]`: f is the same on the label and here.
    fn goal(&self, _: Stage, situation: &Situation) -> f64 {
        let deep = situation.wet_depth() / self.curve.penetration;
        self.curve.critical.j_per_m2() * deep.exp()
    }

    fn process(&self, situation: &Situation) -> Result<Box<dyn Process + '_>, LawError> {
        let light = situation.light().unwrap_or(self.light);
        LawError::check("depth of a coat", situation.wet_depth().m(), DEPTHS)?;
        LawError::check("irradiance", light.w_per_m2(), LIGHT)?;
        Ok(Box::new(Dose { light }))
    }

    /// A dose always adds up.
    fn why_never(&self, _: Stage, _: &Situation) -> Hindrance {
        Hindrance::NoHeadway
    }

    fn doubts(&self) -> Vec<Doubt> {
        let [low, high] = self.penetrations.map(|end| self.letting_light(end));
        vec![Doubt {
            what: "how deep the light goes",
            low,
            high,
        }]
    }

    fn warnings(&self, situation: &Situation) -> Vec<Warning> {
        let depth = situation.wet_depth();
        let beyond = (!self.curve.reaches(depth)).then_some(Warning::BeyondTheLamp { depth });
        let always = [Warning::TackyLayer, Warning::LightMustReach];
        beyond.into_iter().chain(always).collect()
    }
}
