//! A mixed resin in its cup, which heats itself.
//!
//! ```text
//! m cp dT/dt = m DH da/dt - U A (T - Ta)
//! 1/U = 1/h + (path inside)
//! ```
//!
//! One temperature for the whole cup, and a reaction that its glass transition does
//! not slow, for it runs hot: so its peak is an upper bound and is never told as a
//! figure. The speed of the resin comes from the pot life on its own label.

mod cup;
mod label;
mod outlook;

pub use cup::{Cooling, Cup, Mix, Resin};
pub use label::{PotLife, StatedMass};
pub use outlook::{MostMixed, Outlook};

use super::epoxy::glass::arrhenius;
use super::epoxy::kinetics::{Freezing, GEL, Kinetics};
use super::law::LawError;
use super::numeric::{GAS_CONSTANT, integral};
use super::runge_kutta::{Tolerance, follow};
use crate::quantity::{Share, Temperature, TemperatureDifference, Time};

/// The share of a cup's gel time in which it still pours and levels: long before the
/// gel its viscosity has doubled. Common practice, no source.
pub const WORKABLE: Share = Share::from_fraction(0.6);

/// The rise by which a mix is to be poured or spread out.
pub const WARM: TemperatureDifference = TemperatureDifference::from_k(10.0);

/// A resin in its cup.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pot {
    kinetics: Kinetics,
    resin: Resin,
}

impl Pot {
    /// A resin of these kinetics, at their own speed.
    #[must_use]
    pub fn new(kinetics: Kinetics, resin: Resin) -> Self {
        Self { kinetics, resin }
    }

    /// What it is like to heat.
    #[must_use]
    pub fn resin(&self) -> &Resin {
        &self.resin
    }

    fn faster(self, times: f64) -> Self {
        Self {
            kinetics: self.kinetics.faster(times),
            ..self
        }
    }

    /// Its kinetics, with the speed they have been given.
    #[must_use]
    pub fn kinetics(&self) -> &Kinetics {
        &self.kinetics
    }

    /// How long it takes to gel spread thin, where it stays as warm as the room.
    #[must_use]
    pub fn thin_gel(&self, room: Temperature) -> Time {
        Time::from_s(self.kinetics.at(room, Freezing::Never).seconds(0.0, GEL))
    }

    /// How long it would take to gel if no heat got away.
    ///
    /// ```text
    /// t = integral of da / (da/dt at T0 + DH/cp a)
    /// ```
    #[must_use]
    pub fn gel_with_no_loss(&self, from: Temperature) -> Time {
        let seconds = |a: f64| {
            let here = from + self.resin.adiabatic_rise() * a;
            1.0 / self.kinetics.at(here, Freezing::Never).rate(a)
        };
        // the start bends most: panels that double
        let mut edges = vec![0.0];
        edges.extend((0..20).rev().map(|i| GEL * 0.5f64.powi(i)));
        let sum = edges
            .windows(2)
            .map(|panel| integral(seconds, panel[0], panel[1], 1))
            .sum();
        Time::from_s(sum)
    }

    /// The rise past which a cup makes heat faster than it can lose it, after Semenov: `R T^2 / E`.
    #[must_use]
    pub fn runaway_rise(&self, room: Temperature) -> TemperatureDifference {
        let around = [5.0, 40.0].map(Temperature::from_celsius);
        let energy = self.kinetics.apparent_energy(around, Freezing::Never);
        let t = room.kelvin();
        TemperatureDifference::from_k(GAS_CONSTANT * t * t / energy.j_per_mol())
    }

    /// What becomes of a mix that stays in its cup.
    ///
    /// # Errors
    /// [`LawError::OutOfRange`] for a mass outside 0.1 g to 10 kg, a depth outside
    /// 0.1 to 100 mm or a room outside -20 to 60 °C.
    pub fn outlook(&self, mix: &Mix) -> Result<Outlook, LawError> {
        mix.check()?;
        Ok(self.outlook_of(mix))
    }

    fn outlook_of(&self, mix: &Mix) -> Outlook {
        self.outlook_within(mix, 1e-8)
    }

    /// How fast the conversion and the rise above the room change, `[1/s, K/s]`.
    fn slope(&self, mix: &Mix) -> impl Fn(&[f64; 2]) -> [f64; 2] + use<> {
        let room = mix.room;
        let Cooling { u, area } = mix.cooling(&self.resin);
        // U A / (m cp), [1/s]
        let loss = u * area.m2() / (mix.mass.kg() * self.resin.heat_capacity);
        let rise = self.resin.adiabatic_rise().k();
        let [k1, k2] = self.kinetics.constants(room);
        let [e1, e2] = self.kinetics.energies();
        let [m, n] = self.kinetics.orders();
        move |&[a, warmer]| {
            let here = room + TemperatureDifference::from_k(warmer);
            let k1 = k1 * arrhenius(e1, room, here);
            let k2 = k2 * arrhenius(e2, room, here);
            // da/dt = (k1 + k2 a^m) (1 - a)^n; a trial stage may stray a rounding past 0 or 1
            let a = a.clamp(0.0, 1.0);
            let rate = (k1 + k2 * a.powf(m)) * (1.0 - a).powf(n);
            // dT/dt = DH/cp da/dt - U A/(m cp) (T - Ta)
            [rate, rise * rate - loss * warmer]
        }
    }

    /// The outlook with each step followed to `tolerance`.
    fn outlook_within(&self, mix: &Mix, tolerance: f64) -> Outlook {
        let slope = self.slope(mix);
        let rise = self.resin.adiabatic_rise().k();
        let close = Tolerance {
            relative: tolerance,
            absolute: [tolerance, tolerance * rise],
        };
        // a first step in which a millionth reacts
        let first = 1e-6 / slope(&[0.0, 0.0])[0];
        let (mut gel, mut warm, mut peak) = (None, None, None);
        follow(&slope, [0.0, 0.0], first, &close, |step| {
            gel = gel.or_else(|| step.crossing(|y| y[0] - GEL));
            warm = warm.or_else(|| step.crossing(|y| y[1] - WARM.k()));
            peak = peak.or_else(|| step.crossing(|y| -slope(y)[1]));
            gel.is_none() || peak.is_none()
        });
        let never = (f64::INFINITY, [GEL, 0.0]);
        let (peak_at, [_, warmest]) = peak.unwrap_or(never);
        Outlook {
            mix: *mix,
            gel: Time::from_s(gel.unwrap_or(never).0),
            warm: warm.map(|(t, _)| Time::from_s(t)),
            peak: (
                Time::from_s(peak_at),
                mix.room + TemperatureDifference::from_k(warmest),
            ),
            limit: self.runaway_rise(mix.room),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Mass;

    /// A finer tolerance moves gel, warmth and peak by no more than its coarser fellow's error.
    #[test]
    fn halving_the_tolerance_changes_nothing_beyond_it() {
        let pot = Pot::new(Kinetics::aliphatic(), Resin::USUAL);
        let mix = Mix {
            mass: Mass::from_g(100.0),
            cup: Cup::AsTallAsWide,
            room: Temperature::from_celsius(23.0),
        };
        let best = pot.outlook_within(&mix, 1e-12);
        for tolerance in [1e-6, 1e-8] {
            for finer in [tolerance, tolerance / 2.0] {
                let outlook = pot.outlook_within(&mix, finer);
                let gel = (outlook.gel / best.gel - 1.0).abs();
                let peak = (outlook.peak.1 - best.peak.1).k().abs();
                assert!(gel < 20.0 * tolerance, "{finer:e}: {gel:e}");
                assert!(peak < 20.0 * tolerance * 184.0, "{finer:e}: {peak:e}");
            }
        }
    }
}
