//! What of a run's defaults its plan leans on.

use super::unused::used;
use crate::run::{Assumption, Run};

/// The run's defaults, without those of coatings and supplies that no piece uses, and without the
/// share sold where every piece says its own.
pub(super) fn of(run: &Run) -> Vec<Assumption> {
    let used = used(run);
    let each_says = run.pieces.iter().all(|piece| piece.sold.is_some());
    let counts = |assumed: &&Assumption| {
        let key = assumed.key.as_str();
        let is_used = |list: &str, used: &[bool]| {
            number(key, list).is_none_or(|index| used.get(index).copied().unwrap_or(true))
        };
        is_used("coating", &used.coatings)
            && is_used("supply", &used.supplies)
            && !(each_says && key == "selling.sold")
    };
    run.assumed.iter().filter(counts).cloned().collect()
}

/// Which of a list a key is of: 2 for `coating[2].solids`.
fn number(key: &str, list: &str) -> Option<usize> {
    let (number, _) = key.strip_prefix(list)?.strip_prefix('[')?.split_once(']')?;
    number.parse().ok()
}
