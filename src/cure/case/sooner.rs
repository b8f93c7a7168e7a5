//! Which of two cases has its coat there sooner.

use super::Case;
use crate::stage::Stage;

impl Case<'_> {
    /// Whether it likely reaches a stage in fewer times the label's time than another case of the same
    /// label; what never does, or can't be told, is never sooner.
    #[must_use]
    pub fn is_sooner(&self, than: &Self, stage: Stage) -> bool {
        match (self.likely(stage), than.likely(stage)) {
            (Ok(Some(own)), Ok(Some(other))) => own < other,
            (own, _) => matches!(own, Ok(Some(_))),
        }
    }
}
