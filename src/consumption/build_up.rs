//! Flood coats over dry ones: how many an asked dry height takes, and how much each.
//!
//! Every coat is filled up to the same wet surface over what the coats before
//! it have left, and each place is taken to shrink straight down. With p the
//! wet height of that surface, s the solids by volume and `h_n` what is dry
//! after n coats,
//!
//! ```text
//! h_n = h_(n-1) + s (p - h_(n-1)) = p - (p - h_0) (1 - s)^n
//! ```
//!
//! and likewise for volumes. A coating that keeps its whole volume (s = 1)
//! reaches p in its first coat and can't be built up past it.

use crate::quantity::{Length, Share};

/// More coats than this on one piece are no advice (common practice, no source).
pub const MOST_COATS: u32 = 6;

/// Flood coats, each filled up to the target where that will do, that give an asked dry height.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CoatsNeeded {
    /// So many, 1 or more.
    Coats(u32),
    /// So many, but each filled past the target, towards the brim.
    PastTarget(u32),
    /// No number: the brim limit itself is no higher than that when nothing is lost.
    BeyondBrim,
}

/// The wet heights of an edge's fills, `[m]`: all in the middle, or all on average.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Heights {
    /// At the target.
    pub target: Length,
    /// At the brim limit.
    pub brim: Length,
}

/// The fewest coats that dry to a height on an edge with these fills: up to
/// the target, or towards the brim where the target would take more than [`MOST_COATS`].
///
/// `dry` `[m]` is above 0, `solids` `[1]` above 0 and up to 1.
#[must_use]
pub fn coats_needed(dry: Length, edge: Heights, solids: Share) -> CoatsNeeded {
    let to_target = coats_up_to(edge.target, dry, solids);
    if let Some(coats) = to_target.filter(|&coats| coats <= MOST_COATS) {
        CoatsNeeded::Coats(coats)
    } else if let Some(coats) = coats_up_to(edge.brim, dry, solids) {
        CoatsNeeded::PastTarget(coats)
    } else {
        CoatsNeeded::BeyondBrim
    }
}

/// The fewest coats, each filled up to a wet peak, that dry to a height.
///
/// ```text
/// n = ceil(ln(1 - h / p) / ln(1 - s))
/// ```
///
/// h `[m]` asked dry height, p `[m]` wet peak, s `[1]` solids by volume.
fn coats_up_to(peak: Length, dry: Length, solids: Share) -> Option<u32> {
    let solids = solids.fraction();
    // One part in a million forgives rounding, so that an exact fit is no coat more.
    let whole = dry / peak;
    let share = whole * (1.0 - 1e-6);
    if share <= solids {
        return Some(1);
    }
    // The coats come ever nearer to the wet peak and never reach it.
    if whole >= 1.0 || solids >= 1.0 {
        return None;
    }
    let coats = ((1.0 - share).ln() / (1.0 - solids).ln()).ceil();
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "solids are 1 % or more and the share is short of 1 by a millionth, so there are at most some 1400"
    )]
    Some(coats.max(1.0) as u32)
}

/// The wet peak to fill up to, `coats` times over, for an asked dry height.
///
/// ```text
/// p = (h - h_0 (1 - s)^n) / (1 - (1 - s)^n)
/// ```
///
/// `dry` is h `[m]`, `before` `h_0` `[m]` what is dry there already, `coats` n, 1 or more.
#[must_use]
pub fn peak_for_dry_height(dry: Length, before: Length, solids: Share, coats: u32) -> Length {
    let lost = left_out(solids, coats);
    (dry - before * lost) / (1.0 - lost)
}

/// What each of `coats` coats on a bare top takes, as shares of the first, which fills it:
/// every later one makes good what the one before it lost.
///
/// ```text
/// V_k / V_1 = (1 - s)^(k - 1)
/// ```
pub fn each_coat(solids: Share, coats: u32) -> impl Iterator<Item = f64> {
    (0..coats).map(move |before| left_out(solids, before))
}

/// `(1 - s)^n`
fn left_out(solids: Share, coats: u32) -> f64 {
    (1.0 - solids.fraction()).powi(i32::try_from(coats).unwrap_or(i32::MAX))
}

#[cfg(test)]
mod tests {
    use super::*;

    const EDGE: Heights = Heights {
        target: Length::from_mm(1.2),
        brim: Length::from_mm(2.1),
    };

    fn needed(dry_mm: f64, solids: f64) -> CoatsNeeded {
        coats_needed(Length::from_mm(dry_mm), EDGE, Share::from_percent(solids))
    }

    #[test]
    fn half_solids_reach_three_quarters_in_two_coats_and_never_the_whole() {
        assert_eq!(needed(0.6, 50.0), CoatsNeeded::Coats(1));
        assert_eq!(needed(0.9, 50.0), CoatsNeeded::Coats(2));
        assert_eq!(needed(0.91, 50.0), CoatsNeeded::Coats(3));
        // seven coats would come to 1.19 mm at the target
        assert_eq!(needed(1.19, 50.0), CoatsNeeded::PastTarget(2));
        assert_eq!(needed(1.2, 50.0), CoatsNeeded::PastTarget(2));
        assert_eq!(needed(2.1, 50.0), CoatsNeeded::BeyondBrim);
    }

    #[test]
    fn what_keeps_its_volume_is_never_built_up() {
        assert_eq!(needed(1.2, 100.0), CoatsNeeded::Coats(1));
        assert_eq!(needed(2.0, 100.0), CoatsNeeded::PastTarget(1));
        assert_eq!(needed(2.2, 100.0), CoatsNeeded::BeyondBrim);
    }

    /// Whatever the number of coats, what goes on wet is the asked dry height over the solids:
    /// the only thing that leaves is the rest.
    #[test]
    fn the_coats_together_are_the_dry_height_over_the_solids() {
        let dry = Length::from_mm(1.5);
        for percent in [35.0, 50.0, 80.0, 100.0] {
            let solids = Share::from_percent(percent);
            for coats in 1..6 {
                let peak = peak_for_dry_height(dry, Length::ZERO, solids, coats);
                let wet: f64 = each_coat(solids, coats)
                    .map(|share| peak.mm() * share)
                    .sum();
                assert!(
                    (wet - 1.5 / solids.fraction()).abs() < 1e-12,
                    "{percent} {coats}"
                );
            }
        }
    }
}
