//! How far things may come out from what was planned.

use super::NoChance;

/// The standard normal's 95 % point (Abramowitz and Stegun 1964, table 26.5).
const Z95: f64 = 1.644_853_626_951_472_2;

/// The widest ratio of a spread's ends to its middle.
const WIDEST: f64 = 100.0;

/// By what a planned time is multiplied: 5, 50 and 95 of 100 times it is at most these, `[1]`.
///
/// Below and above the middle it is spread evenly in the logarithm, after a
/// normal law, each side with a width of its own:
///
/// ```text
/// m = likely (high / likely)^(z / z95)   for z >= 0
/// m = likely (likely / low)^(z / z95)    for z < 0
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    /// Its 5 % point, above 0.
    pub low: f64,
    /// Its middle, at least `low`.
    pub likely: f64,
    /// Its 95 % point, at least `likely`; neither end more than 100 times from the middle.
    pub high: f64,
}

/// How far one wait may come out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WaitSpread {
    /// What makes it come out long or short. Waits of one source share one draw: the room and a
    /// label's error are common to all coats of one coating.
    pub source: usize,
    /// By what it is multiplied.
    pub spread: Spread,
}

/// Pieces of one group that get lost.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Loss {
    /// Pieces started, up to 1 000 000.
    pub started: u32,
    /// The chance of each to end well, `[1]`, 0 to 1.
    pub survives: f64,
    /// Pieces wanted.
    pub wanted: u32,
}

/// How far everything may come out.
#[derive(Debug, Clone, PartialEq)]
pub struct Spreads {
    /// For each of the task's waits.
    pub waits: Vec<WaitSpread>,
    /// By what all hands-on time of the run is multiplied, one draw for it all.
    pub hands: Spread,
    /// By what each sitting is multiplied besides, with a draw of its own.
    pub sitting: Spread,
    /// Losses by group.
    pub losses: Vec<Loss>,
}

impl Spread {
    /// No spread: as planned.
    pub const NONE: Self = Self {
        low: 1.0,
        likely: 1.0,
        high: 1.0,
    };

    /// Its law, checked.
    pub(super) fn law(self) -> Result<Law, NoChance> {
        let Self { low, likely, high } = self;
        let refuse = |what, expected, value| {
            Err(NoChance::OutOfRange {
                what,
                expected,
                value,
            })
        };
        if !(likely > 0.0 && likely <= WIDEST) {
            return refuse("a spread's middle", "above 0 and at most 100", likely);
        }
        if !(low <= likely && low * WIDEST >= likely) {
            return refuse(
                "a spread's low end",
                "at most its middle, and at least a hundredth of it",
                low,
            );
        }
        if !(high >= likely && high <= WIDEST * likely) {
            return refuse(
                "a spread's high end",
                "at least its middle, and at most a hundred times it",
                high,
            );
        }
        Ok(Law {
            likely,
            below: libm::log(likely / low) / Z95,
            above: libm::log(high / likely) / Z95,
        })
    }
}

/// A spread made ready for draws.
#[derive(Debug, Clone, Copy)]
pub(super) struct Law {
    likely: f64,
    below: f64,
    above: f64,
}

impl Law {
    /// The multiplier at a standard normal deviate.
    pub fn at(&self, z: f64) -> f64 {
        let width = if z < 0.0 { self.below } else { self.above };
        if width == 0.0 {
            return self.likely;
        }
        self.likely * libm::exp(z * width)
    }
}
