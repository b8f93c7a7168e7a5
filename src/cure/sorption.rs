//! How much water a polymer film holds in damp air.

use super::numeric::root;
use crate::quantity::Humidity;

/// Sorption after Flory and Huggins, with one interaction parameter.
///
/// ```text
/// f = X/(1+X),   aw = f exp(1 - f + chi (1-f)^2)
/// ```
///
/// X is water volume per dry polymer volume, aw the water activity, which is
/// the relative humidity the film is in balance with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FloryHuggins {
    /// Interaction parameter chi, `[1]`, more than 0.5 for a film that water does not dissolve.
    pub chi: f64,
}

impl FloryHuggins {
    /// Waterborne acrylic: 2 % of water by volume at 50 %. The form is published
    /// for such paints; chi is typical, from memory.
    pub const ACRYLIC: Self = Self { chi: 2.3 };

    /// Water activity over a film with water content `x`, `[1]`.
    #[must_use]
    pub fn activity(self, x: f64) -> f64 {
        let f = x / (1.0 + x);
        f * (1.0 - f + self.chi * (1.0 - f) * (1.0 - f)).exp()
    }

    /// Most water the polymer takes up, at activity 1, `[volume/volume]`.
    #[must_use]
    pub fn saturation(self) -> f64 {
        self.content(1.0)
    }

    /// Water content in balance with air of this humidity, `[volume/volume]`.
    #[must_use]
    pub fn balance(self, humidity: Humidity) -> f64 {
        self.content(humidity.fraction())
    }

    /// Inverse of [`activity`](Self::activity) on its rising branch, which ends
    /// at `f = 1/(2 chi)`, where `d ln aw/df = (1-f)(1/f - 2 chi)` is nought.
    fn content(self, activity: f64) -> f64 {
        let top = 1.0 / (2.0 * self.chi);
        root(|x| self.activity(x) - activity, 0.0, top / (1.0 - top))
    }
}
