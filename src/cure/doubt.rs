//! How sure a ratio is: the law run again with each thing that is not known well
//! at either end of its range.

use super::air::Air;
use super::compare::at_label;
use super::law::{Band, Law, LawError, Reached};
use super::situation::Situation;
use crate::quantity::{Humidity, Share, Temperature};
use crate::stage::Stage;

/// How far a home thermometer may be off, and the corner from the middle of the
/// room, `[K]` (typical, from memory).
pub const ROOM_TEMPERATURE: f64 = 0.5;
/// The same of a home hygrometer (typical, from memory).
pub const ROOM_HUMIDITY: Share = Share::from_percent(2.0);
/// How many times faster or slower the air past a coat may move than its word
/// says, `[1]` (our own reading: published texts give 0.03 to 0.15 m/s for still rooms).
pub const ROOM_AIR: f64 = 2.0;
/// How far a label's time may be rounded, as a share of itself (our own reading).
pub const LABEL_ROUNDED: Share = Share::from_percent(10.0);

/// The band of a ratio: each doubt alone moves it up or down, and what they do
/// is added in quadrature, in logarithms and each side for itself:
///
/// ```text
/// ln(high/likely)^2 = sum of the squares of ln(r/likely) of every r above likely
/// ```
///
/// The doubts are the law's own, the room's (half a kelvin, two points of
/// humidity, how the air moves) and how far a label's time is rounded. The high end is infinite where one of them would stop the coat.
pub(super) fn band(
    law: &dyn Law,
    stage: Stage,
    label: &Situation,
    here: &Situation,
    likely: f64,
) -> Result<Band, LawError> {
    let mut spread = Spread::default();
    for doubt in law.doubts() {
        for law in [&doubt.low, &doubt.high] {
            let at_label = match at_label(law.as_ref(), stage, label) {
                // the label says that it does get there, so it can't be as bad as that
                Err(LawError::LabelNever(_)) => continue,
                told => told?,
            };
            spread.add(law.reach(stage, here)?, at_label.s() * likely);
        }
    }
    let rounded = LABEL_ROUNDED.fraction().ln_1p();
    spread.step(rounded);
    spread.step(-rounded);
    let at_label = at_label(law, stage, label)?;
    for air in nearby(here.air()) {
        let reached = law.reach(stage, &here.in_air(air))?;
        spread.add(reached, at_label.s() * likely);
    }
    Ok(Band {
        low: likely * (-spread.down.sqrt()).exp(),
        likely,
        high: likely * spread.up.sqrt().exp(),
    })
}

/// The squares of the steps down and up, `[1]`.
#[derive(Default)]
struct Spread {
    down: f64,
    up: f64,
}

impl Spread {
    /// Adds what one doubt makes of a lapse that is likely so many `seconds`.
    fn add(&mut self, reached: Reached, seconds: f64) {
        self.step(match reached {
            Reached::After(lapse) => (lapse.s() / seconds).ln(),
            Reached::Never(_) => f64::INFINITY,
        });
    }

    fn step(&mut self, step: f64) {
        if step > 0.0 {
            self.up += step * step;
        } else {
            self.down += step * step;
        }
    }
}

/// The room as it may be, for all that its instruments tell. A value that would
/// leave the range of [`Air`] or of humidity is left out.
fn nearby(air: Air) -> impl Iterator<Item = Air> {
    let temperatures = [-ROOM_TEMPERATURE, ROOM_TEMPERATURE].into_iter();
    let humidities = [-ROOM_HUMIDITY.fraction(), ROOM_HUMIDITY.fraction()].into_iter();
    let warmer = temperatures.filter_map(move |by| {
        air.with_temperature(Temperature::from_celsius(air.temperature().celsius() + by))
            .ok()
    });
    let damper = humidities.filter_map(move |by| {
        air.with_humidity(Humidity::from_fraction(air.humidity().fraction() + by))
            .ok()
    });
    let faster = [1.0 / ROOM_AIR, ROOM_AIR]
        .into_iter()
        .filter_map(move |times| air.with_speed(air.speed() * times).ok());
    warmer.chain(damper).chain(faster)
}
