//! Quantities as numbers in the unit that a JSON key names.

use serde::Serializer;

use crate::quantity::{
    Angle, Area, Density, Humidity, Irradiance, Length, Mass, Money, RadiantExposure, Ratio, Share,
    Speed, SurfaceTension, Temperature, TemperatureDifference, Time, Volume,
};

/// A quantity, or one that may be missing and is then `null`.
pub(super) trait Maybe<Q> {
    fn maybe(&self) -> Option<Q>;
}

impl<Q: Copy> Maybe<Q> for Q {
    fn maybe(&self) -> Option<Q> {
        Some(*self)
    }
}

impl<Q: Copy> Maybe<Q> for Option<Q> {
    fn maybe(&self) -> Option<Q> {
        *self
    }
}

macro_rules! written {
    ($( $name:ident: $quantity:ident => $get:ident ),+ $(,)?) => { $(
        pub(super) fn $name<S: Serializer>(
            quantity: &impl Maybe<$quantity>,
            to: S,
        ) -> Result<S::Ok, S::Error> {
            match quantity.maybe() {
                Some(quantity) => to.serialize_f64(quantity.$get()),
                None => to.serialize_none(),
            }
        }
    )+ };
}

written! {
    mm: Length => mm,
    mm2: Area => mm2,
    ml: Volume => ml,
    g: Mass => g,
    deg: Angle => deg,
    fraction: Share => fraction,
    percent_share: Share => percent,
    percent: Humidity => percent,
    celsius: Temperature => celsius,
    k: TemperatureDifference => k,
    m_per_s: Speed => m_per_s,
    mn_per_m: SurfaceTension => mn_per_m,
    kg_per_m3: Density => kg_per_m3,
    h: Time => h,
    min: Time => min,
    s: Time => s,
    mw_per_cm2: Irradiance => mw_per_cm2,
    mj_per_cm2: RadiantExposure => mj_per_cm2,
    money: Money => amount,
    number: Ratio => number,
}

/// A clock time as "19:30".
#[expect(clippy::ref_option, reason = "the signature is serde's")]
pub(super) fn clock<S: serde::Serializer>(
    at: &Option<jiff::civil::Time>,
    to: S,
) -> Result<S::Ok, S::Error> {
    match at {
        Some(at) => to.serialize_str(&at.strftime("%H:%M").to_string()),
        None => to.serialize_none(),
    }
}
