//! How deep one flood coat may be, and whether it dries to a saucer.

use crate::coating::{Coating, Concern, Key, Law, handling};
use crate::quantity::{Length, Share, Show, Units};

/// How deep one wet flood coat may be at its deepest place, which dries last
/// and shrinks most. Makers speak of level coats of about 1 mm and of trouble
/// from 1.6 mm on (common practice, no source); a dome filled to its target
/// stands 1.2 mm in the middle and is not warned of.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PrudentCoat {
    /// What a maker does well to keep to.
    pub usual: Length,
    /// The depth past which makers report trouble: the upper end of the range,
    /// or a maker's own figure, which has none.
    pub most: Length,
    /// What the trouble is.
    pub trouble: Concern,
}

/// Less than this left when dry, and a dome may sink to a saucer: more than
/// half of it has gone (common practice, no source).
const SAUCER_UNDER: Share = Share::from_fraction(0.5);

impl Coating {
    /// How deep one wet flood coat may be. `None`: it is not flooded, or no figure is known.
    ///
    /// ```
    /// use brimful::coating::{Coating, family};
    /// let glaze = Coating::of(family("water-based dome glaze").unwrap());
    /// let coat = glaze.prudent_coat().unwrap();
    /// assert!(coat.usual.mm() == 1.0 && coat.most.mm() == 1.5);
    /// ```
    #[must_use]
    pub fn prudent_coat(&self) -> Option<PrudentCoat> {
        let property = self.property(Key::PrudentCoat)?;
        let upper = property.range.map_or(property.value, |[_, upper]| upper);
        Some(PrudentCoat {
            usual: Length::from_m(property.value.si),
            most: Length::from_m(upper.si),
            trouble: match self.law() {
                Law::WaterFilm | Law::Airing => Concern::DeepDryingCoat,
                Law::Epoxy => Concern::DeepCuringCoat,
                Law::Lamp => Concern::DeepLampCoat,
                Law::MoistureCure => Concern::DeepMoistureCoat,
            },
        })
    }
}

impl PrudentCoat {
    /// Whether a coat this deep at its deepest place is more than is prudent.
    #[must_use]
    pub fn is_passed_by(&self, depth: Length) -> bool {
        depth > self.most
    }

    /// That a coat this deep is more than is prudent, without a full stop.
    #[must_use]
    pub fn words(&self, depth: Length, units: Units) -> String {
        format!(
            "{} wet in one coat is past the {} above which makers report trouble; about {} is prudent. {}",
            depth.show(units),
            self.most.show(units),
            self.usual.show(units),
            handling(self.trouble).clause()
        )
    }
}

/// Whether a dome with these solids by volume loses so much that it may dry to a saucer.
#[must_use]
pub fn may_saucer(solids: Share) -> bool {
    solids < SAUCER_UNDER
}

/// Whether so much of a fill's edge stands under the pull-back angle that it is
/// worth a warning: a tenth (our own choice; sharp corners alone are less).
#[must_use]
pub fn edge_may_draw_back(share: Share) -> bool {
    share >= Share::from_fraction(0.1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::coating::{Applied, families};

    #[test]
    fn what_is_flooded_has_a_prudent_coat_and_nothing_else_has() {
        for family in families() {
            let coat = Coating::of(family).prudent_coat();
            assert_eq!(coat.is_some(), family.applied == Applied::Flooded);
            assert!(coat.is_none_or(|coat| coat.usual < coat.most));
        }
    }

    #[test]
    fn half_lost_is_no_saucer_and_more_is() {
        assert!(!may_saucer(Share::from_percent(50.0)));
        assert!(may_saucer(Share::from_percent(49.0)));
    }
}
