//! What a lamp does to a coat, by the working curve of its resin.

use super::property;
use crate::coating::{Coating, Law};
use crate::cure::LawError;
use crate::cure::lamp::{AT_THE_BOTTOM, Bottom, Layers, Pass, WorkingCurve};
use crate::quantity::{Irradiance, Length, RadiantExposure, Time};

/// A coat under a lamp. Its bottom is to get [`AT_THE_BOTTOM`] times the critical dose.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct UnderLamp {
    /// The working curve.
    pub curve: WorkingCurve,
    /// The coat in one layer; `None` where the light does not reach so deep.
    pub in_one: Option<InOne>,
    /// The deepest layer that one pass cures; nothing where a pass is too short for any.
    /// `None` where no pass is told.
    pub deepest: Option<Length>,
    /// The equal layers that take the least light in all.
    pub in_layers: InLayers,
}

/// A coat cured in one layer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InOne {
    /// The dose on its surface.
    pub dose: RadiantExposure,
    /// How long that is under the lamp.
    pub lasts: Time,
    /// How many passes; `None` where no pass is told.
    pub passes: Option<u32>,
}

/// A coat cured in equal layers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InLayers {
    /// How many, and the doses of all together.
    pub layers: Layers,
    /// How many passes each takes; `None` where no pass is told.
    pub passes_each: Option<u32>,
}

/// The irradiance that the times of a lamp-cured coating are taken to mean; `None` for a
/// coating that no lamp cures.
#[must_use]
pub fn usual_light(coating: &Coating) -> Option<Irradiance> {
    if coating.law() != Law::Lamp {
        return None;
    }
    property(coating, "lamp_irradiance").map(Irradiance::from_w_per_m2)
}

/// What a lamp of this irradiance at the piece does to a coat this deep, in passes of
/// `pass` where that is told.
///
/// # Errors
/// [`LawError`] where the coating lacks a working curve, or for an irradiance, a depth or a
/// pass outside what [`WorkingCurve`] covers.
pub fn under_lamp(
    coating: &Coating,
    depth: Length,
    light: Irradiance,
    pass: Option<Time>,
) -> Result<UnderLamp, LawError> {
    let curve = WorkingCurve::of(&|key| property(coating, key))?;
    let pass = pass.map(|lasts| Pass { light, lasts });
    let passes = |depth: Length| {
        let bottom = at_bottom(depth);
        pass.map(|pass| curve.passes(bottom, pass)).transpose()
    };
    let in_one = if curve.reaches(depth) {
        let dose = curve.dose(at_bottom(depth))?;
        Some(InOne {
            dose,
            lasts: dose / light,
            passes: passes(depth)?,
        })
    } else {
        None
    };
    let layers = curve.best_layers(at_bottom(depth))?;
    Ok(UnderLamp {
        curve,
        in_one,
        // d = Dp ln(I t/(f Ec))
        deepest: pass
            .map(|pass| curve.cured_depth(pass.light * pass.lasts * (1.0 / AT_THE_BOTTOM))),
        in_layers: InLayers {
            layers,
            passes_each: passes(depth / f64::from(layers.count))?,
        },
    })
}

/// The bottom of a coat, with the dose that it should get.
fn at_bottom(depth: Length) -> Bottom {
    Bottom {
        depth,
        times_critical: AT_THE_BOTTOM,
    }
}
