//! Moist air: saturation, dew point, wet bulb, water carried.
//!
//! Relative humidity is over liquid water at every temperature, as hygrometers
//! and weather files give it, and dew points below 0 °C are over supercooled
//! water unless a name says ice.

use super::air::{Air, AirError};
use super::numeric::root;
use crate::quantity::{Density, Humidity, Pressure, Ratio, Temperature};

/// Gas constant of water vapour, `[J/(kg K)]`; measured, IAPWS.
pub const R_VAPOUR: f64 = 461.523;
/// Gas constant of dry air, `[J/(kg K)]`; ISO 2533 rounded.
pub const R_DRY_AIR: f64 = 287.05;

/// Magnus constants over water: pressure `[Pa]`, slope, temperature `[°C]`. Sonntag 1990, WMO.
const WATER: (f64, f64, f64) = (611.2, 17.62, 243.12);
/// Magnus constants over ice. Sonntag 1990, WMO.
const ICE: (f64, f64, f64) = (611.2, 22.46, 272.62);

/// `p = p0 exp(a T / (b + T))`, T in °C.
fn magnus((p0, a, b): (f64, f64, f64), celsius: f64) -> f64 {
    p0 * (a * celsius / (b + celsius)).exp()
}

/// Inverse of [`magnus`]: `g = ln(p/p0)`, `T = b g / (a - g)`.
fn magnus_temperature((p0, a, b): (f64, f64, f64), pascals: f64) -> f64 {
    let g = (pascals / p0).ln();
    b * g / (a - g)
}

/// Pressure of water vapour in balance with liquid water.
///
/// ```text
/// ps = 611.2 exp(17.62 T / (243.12 + T))    [Pa], T [°C]
/// ```
///
/// Within 0.3 % of ASHRAE's form from 0 to 45 °C. Source: Magnus form,
/// constants of Sonntag 1990 as used by the WMO.
///
/// ```
/// use brimful::{cure::psychro::saturation_pressure, quantity::Temperature};
/// let ps = saturation_pressure(Temperature::from_celsius(20.0));
/// assert!((ps.pa() - 2332.6).abs() < 0.1);
/// ```
#[must_use]
pub fn saturation_pressure(temperature: Temperature) -> Pressure {
    Pressure::from_pa(magnus(WATER, temperature.celsius()))
}

/// Pressure of water vapour in balance with ice, below 0 °C.
///
/// ```text
/// ps = 611.2 exp(22.46 T / (272.62 + T))    [Pa], T [°C]
/// ```
///
/// Source: Magnus form, constants of Sonntag 1990 as used by the WMO.
#[must_use]
pub fn saturation_pressure_over_ice(temperature: Temperature) -> Pressure {
    Pressure::from_pa(magnus(ICE, temperature.celsius()))
}

/// Density of saturated vapour over water, `csat = ps / (461.523 T)`.
#[must_use]
pub fn saturation_density(temperature: Temperature) -> Density {
    vapour_at(saturation_pressure(temperature), temperature)
}

/// Relative slope of [`saturation_density`],
/// `d ln csat/dT = 17.62 * 243.12/(243.12 + T)^2 - 1/T_K` `[1/K]`, T in °C.
pub(super) fn density_slope(celsius: f64) -> f64 {
    let (_, a, b) = WATER;
    a * b / ((b + celsius) * (b + celsius)) - 1.0 / (celsius + 273.15)
}

/// Ideal-gas density of vapour at a partial pressure.
fn vapour_at(partial: Pressure, temperature: Temperature) -> Density {
    Density::from_kg_per_m3(partial.pa() / (R_VAPOUR * temperature.kelvin()))
}

/// Partial pressure of the vapour in the air, `pv = RH ps(T)`.
#[must_use]
pub fn vapour_pressure(air: &Air) -> Pressure {
    saturation_pressure(air.temperature()) * air.humidity().fraction()
}

/// Water carried by a volume of air, `c = RH ps / (461.523 T)`.
#[must_use]
pub fn vapour_density(air: &Air) -> Density {
    vapour_at(vapour_pressure(air), air.temperature())
}

/// Temperature at which this air would begin to leave dew, over water.
/// `None` for air without any vapour.
///
/// ```text
/// g = ln(pv / 611.2),  Td = 243.12 g / (17.62 - g)    [°C]
/// ```
#[must_use]
pub fn dew_point(air: &Air) -> Option<Temperature> {
    condensing(WATER, air)
}

/// Temperature at which this air would begin to leave frost, over ice; means
/// something below 0 °C. `None` for air without any vapour.
#[must_use]
pub fn frost_point(air: &Air) -> Option<Temperature> {
    condensing(ICE, air)
}

fn condensing(over: (f64, f64, f64), air: &Air) -> Option<Temperature> {
    let partial = vapour_pressure(air).pa();
    (partial > 0.0).then(|| Temperature::from_celsius(magnus_temperature(over, partial)))
}

/// Water carried by a mass of dry air, `W = 0.622 pv / (p - pv)` `[kg/kg]`.
///
/// The 0.622 is the quotient of the two gas constants.
#[must_use]
pub fn humidity_ratio(air: &Air) -> Ratio {
    ratio_at(vapour_pressure(air).pa(), air.pressure().pa())
}

fn ratio_at(partial: f64, total: f64) -> Ratio {
    // W = (Ra/Rv) pv / (p - pv)
    Ratio::from_number(R_DRY_AIR / R_VAPOUR * partial / (total - partial))
}

/// Density of the moist air, dry part plus vapour.
#[must_use]
pub fn air_density(air: &Air) -> Density {
    let partial = vapour_pressure(air);
    let dry = (air.pressure() - partial).pa() / (R_DRY_AIR * air.temperature().kelvin());
    Density::from_kg_per_m3(dry) + vapour_at(partial, air.temperature())
}

/// Temperature of a ventilated wet bulb (a psychrometer's), by the balance of
/// adiabatic saturation:
///
/// ```text
/// W = ((2501 - 2.326 t*) Ws* - 1.006 (t - t*)) / (2501 + 1.86 t - 4.186 t*)     wet bulb
/// W = ((2830 - 0.24 t*) Ws* - 1.006 (t - t*)) / (2830 + 1.86 t - 2.1 t*)        iced bulb
/// ```
///
/// t, t* in °C, W in kg/kg. Below 0 °C the bulb counts as iced; within 1 K of
/// freezing a real bulb may be either, so the reading is uncertain by 0.7 K there.
/// Source: ASHRAE Handbook Fundamentals 2017, chapter 1, equations 33 and 35.
#[must_use]
pub fn wet_bulb(air: &Air) -> Temperature {
    let t = air.temperature().celsius();
    let carried = humidity_ratio(air).number();
    let total = air.pressure().pa();
    let excess_wet = |bulb: f64| {
        let saturated = ratio_at(magnus(WATER, bulb), total).number();
        ((2501.0 - 2.326 * bulb) * saturated - 1.006 * (t - bulb))
            / (2501.0 + 1.86 * t - 4.186 * bulb)
            - carried
    };
    let excess_iced = |bulb: f64| {
        let saturated = ratio_at(magnus(ICE, bulb), total).number();
        ((2830.0 - 0.24 * bulb) * saturated - 1.006 * (t - bulb)) / (2830.0 + 1.86 * t - 2.1 * bulb)
            - carried
    };
    let wet = root(excess_wet, t - 50.0, t);
    let bulb = if wet >= 0.0 {
        wet
    } else {
        // over ice, air humid over water is more than saturated: the bulb may be the warmer one
        root(excess_iced, t - 50.0, t + 5.0)
    };
    Temperature::from_celsius(bulb)
}

/// The same air heated or cooled to another temperature, keeping the water it
/// carries per mass of dry air (at constant pressure, the same vapour pressure).
/// Heating lowers its relative humidity.
///
/// ```
/// use brimful::cure::{air::Air, psychro::same_vapour};
/// use brimful::quantity::{Humidity, Speed, Temperature};
/// let loft = Air::new(Temperature::from_celsius(12.0), Humidity::from_percent(85.0), Speed::from_m_per_s(0.1))?;
/// let heated = same_vapour(&loft, Temperature::from_celsius(20.0))?;
/// assert!((heated.humidity().percent() - 51.0).abs() < 0.5);
/// # Ok::<(), brimful::cure::air::AirError>(())
/// ```
///
/// # Errors
/// [`AirError::Humidity`] where the air would be cooled past its dew point,
/// [`AirError::Temperature`] outside -20 to 60 °C.
pub fn same_vapour(air: &Air, temperature: Temperature) -> Result<Air, AirError> {
    let humidity = if temperature == air.temperature() {
        air.humidity()
    } else {
        Humidity::from_fraction(vapour_pressure(air) / saturation_pressure(temperature))
    };
    air.with_temperature(temperature)?.with_humidity(humidity)
}
