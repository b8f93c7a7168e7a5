//! The stage that a maker waits for, where the coat is judged by a later one.

use super::{Outlook, StageTimes};
use crate::cure::bubbles::BubbleCheck;
use crate::cure::compare::Factor;
use crate::cure::help::{Help, ratio_with};
use crate::cure::law::{Band, LawError};
use crate::cure::{Case, OrTaken};
use crate::quantity::Time;
use crate::stage::Stage;

impl Outlook {
    /// How long a coat lies before it goes under a lamp, until bubbles were looked for; nothing
    /// for one that no lamp cures. The times of its stages are times under the lamp.
    #[must_use]
    pub fn before_the_lamp(&self) -> Time {
        let look = self.bubbles.filter(BubbleCheck::is_before_a_lamp);
        look.map_or(Time::ZERO, |check| check.look)
    }

    /// What a piece may be picked up by: dry to handle, or where the label does not tell that,
    /// the last stage that it tells.
    #[must_use]
    pub fn handled(&self) -> Option<&StageTimes> {
        let mut stages = self.stages.iter();
        let handle = stages.find(|told| told.stage == Stage::Handle);
        let mut last = self.stages.iter().rev();
        handle.or_else(|| last.find(|told| told.stage != Stage::RecoatUntil))
    }
}

/// A stage with a ratio of its own, which another stage's causes do not explain.
#[derive(Debug, Clone, PartialEq)]
pub struct Awaited {
    /// The stage.
    pub stage: Stage,
    /// How many times the label's time it takes, and why.
    pub factor: Factor,
    /// How many times with the coat's greatest help. `None`: nothing helps, or not this stage.
    pub with_best_help: Option<Band>,
}

impl Awaited {
    /// The stage of a coat that would be helped so.
    pub(super) fn of<'a>(
        case: &Case<'a>,
        or: Option<OrTaken<'_, 'a>>,
        (stage, helps): (Stage, &[Help]),
    ) -> Result<Self, LawError> {
        let case = case.clone().told_for(stage);
        let other = or.map(|or| or.case.clone().told_for(stage));
        let or = (or.zip(other.as_ref())).map(|(or, case)| OrTaken { case, ..or });
        let best = helps.first().map(|help| ratio_with(&case, or, help.change));
        Ok(Self {
            stage,
            factor: case.factor()?,
            with_best_help: best.transpose()?.flatten(),
        })
    }
}
