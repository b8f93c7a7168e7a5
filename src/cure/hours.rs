//! Spells of air taken together: their mean, and what any of them brings.

use super::air::Air;
use super::psychro::{saturation_pressure, vapour_pressure};
use super::situation::Spell;
use super::warning::Warning;
use crate::quantity::{Humidity, Pressure, Speed, Temperature, Time};

/// Spells until a time, each with how many seconds of it lie before that.
pub(super) fn until(spells: &[Spell], until: Option<Time>) -> impl Iterator<Item = (&Spell, f64)> {
    let mut left = until.map_or(f64::INFINITY, |until| until.s().max(1.0));
    spells.iter().map_while(move |spell| {
        let lasts = spell.lasts.s().min(left);
        left -= lasts;
        (lasts > 0.0).then_some((spell, lasts))
    })
}

/// The mean of airs, each weighed by how many seconds it counts: temperature, vapour
/// pressure, speed and pressure. The mean vapour of two damp airs may be more than air
/// of their mean temperature holds: then that air is saturated. `None` without any.
pub fn mean_air<'s>(spells: impl Iterator<Item = (&'s Spell, f64)>) -> Option<Air> {
    let mut sum = [0.0; 5];
    for (spell, lasts) in spells {
        let air = spell.air;
        let values = [
            1.0,
            air.temperature().celsius(),
            vapour_pressure(&air).pa(),
            air.speed().m_per_s(),
            air.pressure().pa(),
        ];
        for (sum, value) in sum.iter_mut().zip(values) {
            *sum += value * lasts;
        }
    }
    let [all, celsius, vapour, speed, pressure] = sum;
    let temperature = Temperature::from_celsius(celsius / all);
    let humidity = (vapour / all / saturation_pressure(temperature).pa()).min(1.0);
    Air::new(
        temperature,
        Humidity::from_fraction(humidity),
        Speed::from_m_per_s(speed / all),
    )
    .and_then(|air| air.with_pressure(Pressure::from_pa(pressure / all)))
    .ok()
}

/// How much of a record is looked at for a coat that is never there.
pub(super) const LOOKED_AT: Time = Time::from_days(7.0);

/// A warning met in one or more spells.
struct Seen {
    worst: Warning,
    first: Time,
    lasts: Time,
    spells: usize,
    same: bool,
}

/// Adds a warning to those of its kind.
fn see(told: &mut Vec<Seen>, warning: Warning, at: Time, lasts: Time) {
    match told
        .iter_mut()
        .find(|seen| seen.worst.code() == warning.code())
    {
        Some(seen) => {
            seen.lasts = seen.lasts + lasts;
            seen.spells += 1;
            seen.same &= seen.worst == warning;
            seen.worst = seen.worst.clone().worse(warning);
        }
        None => told.push(Seen {
            worst: warning,
            first: at,
            lasts,
            spells: 1,
            same: true,
        }),
    }
}

/// What the spells bring until a time: each kind of warning once, at its worst, with
/// its hours unless all of them bring the same.
pub(super) fn warnings(
    spells: &[Spell],
    end: Option<Time>,
    of: impl Fn(Air) -> Vec<Warning>,
) -> Vec<Warning> {
    let mut told: Vec<Seen> = Vec::new();
    let mut passed = Time::ZERO;
    let mut met = 0;
    for (spell, lasts) in until(spells, end.or(Some(LOOKED_AT))) {
        let lasts = Time::from_s(lasts);
        for warning in of(spell.air) {
            see(&mut told, warning, passed, lasts);
        }
        passed = passed + lasts;
        met += 1;
    }
    let by_hour = told.into_iter().map(|seen| {
        if seen.spells == met && seen.same {
            return seen.worst;
        }
        Warning::During {
            worst: Box::new(seen.worst),
            first: seen.first,
            lasts: seen.lasts,
            of: passed,
        }
    });
    by_hour.collect()
}
