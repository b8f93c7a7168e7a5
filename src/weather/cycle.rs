//! Day and night, over and over.

use jiff::SignedDuration;
use jiff::civil::Time as Clock;

use crate::cure::air::Air;
use crate::cure::situation::Spell;
use crate::quantity::Time;

const DAY: SignedDuration = SignedDuration::from_hours(24);

/// A day's air and a night's, changing at two clock times for ever.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DayAndNight {
    day: Air,
    night: Air,
    day_from: Clock,
    night_from: Clock,
}

/// Day and night begin at the same time.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("day and night both begin at {0}")]
pub struct SameTime(pub Clock);

/// The air of a place that changes at `day_from` to that of the day and at
/// `night_from` to that of the night, at once.
///
/// ```
/// use brimful::cure::air::Air;
/// use brimful::quantity::Temperature;
/// use brimful::weather::day_and_night;
/// use jiff::civil::time;
///
/// let night = Air::REFERENCE.with_temperature(Temperature::from_celsius(14.0))?;
/// let loft = day_and_night(Air::REFERENCE, night, time(8, 0, 0, 0), time(22, 0, 0, 0))?;
/// let hours: Vec<f64> = loft.spells_from(time(20, 30, 0, 0)).take(3).map(|s| s.lasts.h()).collect();
/// assert_eq!(hours, [1.5, 10.0, 14.0]);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// [`SameTime`] where the two times are one.
pub fn day_and_night(
    day: Air,
    night: Air,
    day_from: Clock,
    night_from: Clock,
) -> Result<DayAndNight, SameTime> {
    if day_from == night_from {
        return Err(SameTime(day_from));
    }
    Ok(DayAndNight {
        day,
        night,
        day_from,
        night_from,
    })
}

impl DayAndNight {
    /// Spells from a clock time on, without end. The first one lasts until the next
    /// change.
    pub fn spells_from(&self, start: Clock) -> impl Iterator<Item = Spell> + use<> {
        let Self {
            day,
            night,
            day_from,
            night_from,
        } = *self;
        let to_day = until(start, day_from);
        let to_night = until(start, night_from);
        // whichever change comes last from here on began what holds now
        let daytime = to_night < to_day;
        let (first, second) = if daytime { (day, night) } else { (night, day) };
        let day_lasts = until(day_from, night_from);
        let night_lasts = DAY - day_lasts;
        let (first_lasts, second_lasts) = if daytime {
            (day_lasts, night_lasts)
        } else {
            (night_lasts, day_lasts)
        };
        let begun = spell(first, to_day.min(to_night));
        let pair = [spell(second, second_lasts), spell(first, first_lasts)];
        std::iter::once(begun).chain(pair.into_iter().cycle())
    }
}

fn spell(air: Air, lasts: SignedDuration) -> Spell {
    Spell {
        air,
        lasts: Time::from_s(lasts.as_secs_f64()),
    }
}

/// From one clock time to the next time that the clock shows the other: more than
/// nothing, at most a day.
fn until(from: Clock, to: Clock) -> SignedDuration {
    let ahead = to.duration_since(from);
    if ahead > SignedDuration::ZERO {
        ahead
    } else {
        ahead + DAY
    }
}
