//! What would make a fill possible that runs over.

use crate::quantity::Share;

/// More coats than this on one piece are no advice.
const MOST_COATS: u32 = 6;

/// How many coats dry to `times` the target fill put on once, each flooded
/// until the whole surface stands at the target again; `None` if none would.
///
/// Heights and volumes shrink alike, by the solids by volume s. With the target
/// T, the dry stuff after n coats is
///
/// ```text
/// S_n = S_(n-1) + s (T - S_(n-1)) = T (1 - (1 - s)^n)
/// ```
///
/// and must reach `s r T`, r being `times`. It never passes T: a coating that
/// keeps its whole volume can't be built up past the edge.
pub(super) fn coats(solids: Share, times: f64) -> Option<u32> {
    let s = solids.fraction();
    let wanted = s * times;
    (2..=MOST_COATS).find(|&n| {
        // a hair of slack, so that an exact number of coats counts as reached
        1.0 - (1.0 - s).powi(n.cast_signed()) >= wanted - 1e-9 && s < 1.0
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn half_solids_reach_three_quarters_in_two_coats_and_never_the_whole() {
        let half = Share::from_percent(50.0);
        assert_eq!(coats(half, 1.5), Some(2));
        assert_eq!(coats(half, 1.51), Some(3));
        assert_eq!(coats(half, 2.0), None);
    }

    #[test]
    fn what_keeps_its_volume_is_never_built_up() {
        assert_eq!(coats(Share::from_percent(100.0), 1.01), None);
    }
}
