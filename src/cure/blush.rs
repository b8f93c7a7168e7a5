//! Risk of blush and haze on amine-cured epoxy.
//!
//! Amine, carbon dioxide and moisture make a greasy, whitish film in cool, damp,
//! stagnant air. The 3 K and 85 % come from coating practice, 70 % and about
//! 20 °C from one formulator's text; the other limits are our own reading.
//! Sources differ on the humidity, between 70 % and 85 %.

use super::psychro::dew_point;
use super::situation::{Heating, Situation, Trend};
use crate::quantity::{Humidity, Temperature, TemperatureDifference};

/// How much blush is to be expected.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Risk {
    /// No reason found.
    Low,
    /// At least one reason for care.
    Raised,
    /// At least one strong reason.
    High,
}

/// One reason for blush, with the figure and the limit it broke.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Reason {
    /// The piece is close to the dew point: under 3 K is high, under 5 K raised.
    NearDewPoint {
        /// What the reason amounts to.
        risk: Risk,
        /// Piece less dew point.
        margin: TemperatureDifference,
        /// The limit.
        limit: TemperatureDifference,
    },
    /// Damp air: from 85 % high, from 70 % raised.
    Damp {
        /// What the reason amounts to.
        risk: Risk,
        /// Relative humidity.
        humidity: Humidity,
        /// The limit.
        limit: Humidity,
    },
    /// Cold air: under 12 °C high, under 18 °C raised.
    Cold {
        /// What the reason amounts to.
        risk: Risk,
        /// Temperature of the air.
        air: Temperature,
        /// The limit.
        limit: Temperature,
    },
    /// A heater that burns into the room: raised.
    Fumes,
    /// A room that cools while the resin sets: raised.
    Cooling,
}

impl Reason {
    /// The risk this reason alone amounts to.
    #[must_use]
    pub fn risk(&self) -> Risk {
        match self {
            Self::NearDewPoint { risk, .. } | Self::Damp { risk, .. } | Self::Cold { risk, .. } => {
                *risk
            }
            Self::Fumes | Self::Cooling => Risk::Raised,
        }
    }
}

/// The risk of blush and every reason for it.
#[derive(Debug, Clone, PartialEq)]
pub struct Blush {
    reasons: Vec<Reason>,
}

/// Margins over the dew point, `[K]`: high, raised.
const MARGINS: [(Risk, f64); 2] = [(Risk::High, 3.0), (Risk::Raised, 5.0)];
/// Relative humidities, `[%]`.
const DAMP: [(Risk, f64); 2] = [(Risk::High, 85.0), (Risk::Raised, 70.0)];
/// Temperatures, `[°C]`.
const COLD: [(Risk, f64); 2] = [(Risk::High, 12.0), (Risk::Raised, 18.0)];

impl Blush {
    /// Judges a coat in its room.
    #[must_use]
    pub fn judge(situation: &Situation) -> Self {
        let air = situation.air();
        let mut reasons = Vec::new();
        if let Some(dew) = dew_point(&air) {
            let margin = situation.surface() - dew;
            reasons.extend(
                first(&MARGINS, |limit| margin.k() < limit).map(|(risk, limit)| {
                    Reason::NearDewPoint {
                        risk,
                        margin,
                        limit: TemperatureDifference::from_k(limit),
                    }
                }),
            );
        }
        let humidity = air.humidity();
        reasons.extend(
            first(&DAMP, |limit| humidity >= Humidity::from_percent(limit)).map(|(risk, limit)| {
                Reason::Damp {
                    risk,
                    humidity,
                    limit: Humidity::from_percent(limit),
                }
            }),
        );
        let temperature = air.temperature();
        reasons.extend(
            first(&COLD, |limit| temperature.celsius() < limit).map(|(risk, limit)| Reason::Cold {
                risk,
                air: temperature,
                limit: Temperature::from_celsius(limit),
            }),
        );
        let surroundings = situation.surroundings();
        reasons.extend((surroundings.heating == Heating::BurnsIntoRoom).then_some(Reason::Fumes));
        reasons.extend((surroundings.trend == Trend::Falling).then_some(Reason::Cooling));
        Self { reasons }
    }

    /// The greatest risk of any reason.
    #[must_use]
    pub fn risk(&self) -> Risk {
        self.reasons
            .iter()
            .map(Reason::risk)
            .max()
            .unwrap_or(Risk::Low)
    }

    /// How bad it is among others of the same risk: how far past their limits the
    /// figures are, in kelvins and tenths of humidity.
    pub(super) fn severity(&self) -> f64 {
        let past = |reason: &Reason| match reason {
            Reason::NearDewPoint { margin, limit, .. } => (*limit - *margin).k(),
            Reason::Damp {
                humidity, limit, ..
            } => (*humidity - *limit).percent() / 10.0,
            Reason::Cold { air, limit, .. } => (*limit - *air).k(),
            Reason::Fumes | Reason::Cooling => 1.0,
        };
        self.reasons.iter().map(past).sum()
    }

    /// Every reason, in a fixed order; empty when the risk is low.
    #[must_use]
    pub fn reasons(&self) -> &[Reason] {
        &self.reasons
    }
}

/// The first limit that is broken.
fn first(limits: &[(Risk, f64)], broken: impl Fn(f64) -> bool) -> Option<(Risk, f64)> {
    limits.iter().copied().find(|&(_, limit)| broken(limit))
}
