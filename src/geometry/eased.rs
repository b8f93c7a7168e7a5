//! Blanks with sharp corners that point inward, made fit to be asked about.
//!
//! No edge angle holds at such a corner: any fill runs over there. A blank as it
//! is cut has some radius there, and so it is taken to have one.

use super::blank::Blank;
use super::outline::OutlineError;
use crate::quantity::Length;

/// A blank with its sharp inner corners rounded.
#[derive(Debug, Clone, PartialEq)]
pub struct Eased {
    /// The blank.
    pub blank: Blank,
    /// The radius of the corners that were rounded.
    pub radius: Length,
}

/// The radius that a sharp inner corner is taken to have: about what a fine saw
/// or a small milling cutter leaves (our own choice).
const RADIUS: Length = Length::from_mm(0.5);

impl Blank {
    /// The blank with its sharp corners that point inward taken as rounded to
    /// 0.5 mm, or to the most that fits. `None` where it has no such corner, or
    /// has one that no radius fits.
    #[must_use]
    pub fn eased(&self) -> Option<Eased> {
        let outline = self.outline();
        if !outline.has_sharp_inner_corner() {
            return None;
        }
        let (outline, radius) = match outline.with_inner_corners(RADIUS) {
            Err(OutlineError::Corner { most, .. }) => (outline.with_inner_corners(most), most),
            made => (made, RADIUS),
        };
        let blank = Self::new(outline.ok()?, self.edge(), self.wall()).ok()?;
        Some(Eased { blank, radius })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Outline;

    fn mm(mm: f64) -> Length {
        Length::from_mm(mm)
    }

    /// A square of 20 mm with a slot cut in from one side.
    fn slotted(slot: f64) -> Blank {
        let (left, right) = (10.0 - slot / 2.0, 10.0 + slot / 2.0);
        let points = [
            [0.0, 0.0],
            [20.0, 0.0],
            [20.0, 20.0],
            [right, 20.0],
            [right, 8.0],
            [left, 8.0],
            [left, 20.0],
            [0.0, 20.0],
        ];
        let outline = Outline::points(&points.map(|point| point.map(mm)), Length::ZERO).unwrap();
        Blank::new(outline, Length::ZERO, Length::ZERO).unwrap()
    }

    /// Two arcs fit into a slot's end that are no wider than half of it.
    #[test]
    fn sharp_inner_corners_get_half_a_millimetre_or_what_fits() {
        for (slot, radius) in [(4.0, 0.5), (1.0, 0.5), (0.6, 0.3)] {
            let eased = slotted(slot).eased().unwrap();
            assert!((eased.radius.mm() - radius).abs() < 1e-6, "{slot}");
            assert_eq!(eased.blank.eased(), None);
        }
    }

    #[test]
    fn a_blank_without_inner_corners_needs_no_easing() {
        let square = Outline::rectangle(mm(20.0), mm(20.0), Length::ZERO).unwrap();
        let blank = Blank::new(square, Length::ZERO, Length::ZERO).unwrap();
        assert_eq!(blank.eased(), None);
    }
}
