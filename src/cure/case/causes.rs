//! What makes a case's factor up.

use super::super::compare::{Cause, Effect, Factor, Outcome, Part};
use super::super::law::{Hindrance, LawError, Reached};
use super::super::situation::Situation;
use super::Case;

impl Case<'_> {
    /// How many times the label's time the ruling stage takes, and why.
    ///
    /// # Errors
    /// As [`compare`](Case::compare).
    pub fn factor(&self) -> Result<Factor, LawError> {
        let whole = self.whole()?;
        let mean = self.here.in_air(self.mean_air(self.until(&whole)));
        Ok(Factor {
            whole,
            parts: self.parts(&mean)?,
        })
    }

    /// The causes, from the label to the (mean) situation here, and the ups and
    /// downs about it.
    pub(super) fn parts(&self, mean: &Situation) -> Result<Vec<Part>, LawError> {
        let stage = self.ruling();
        let reach = |situation: &Situation| match self.law.refusal(stage, situation) {
            Some(why) if !matches!(why, Hindrance::TooColdToForm { .. }) => Ok(Reached::Never(why)),
            _ => self.reach(stage, situation),
        };
        let mut situation = self.label;
        let mut before = self.reach(stage, &self.label)?;
        let mut parts = Vec::with_capacity(Cause::ALONE.len() + 1);
        let in_a_box = self.label.enclosure().or(mean.enclosure()).is_some();
        let told = |cause: &Cause| in_a_box || *cause != Cause::Enclosure;
        for cause in Cause::ALONE.into_iter().filter(told) {
            let changed = cause.change(situation, mean);
            let after = if changed == situation {
                before
            } else {
                reach(&changed)?
            };
            let effect = match (before, after) {
                (Reached::After(a), Reached::After(b)) => Effect::Times(b / a),
                (Reached::After(_), Reached::Never(why)) => Effect::Stops(why),
                (Reached::Never(_), _) => Effect::AlreadyStopped,
            };
            parts.push(Part {
                cause,
                effect,
                more: cause.is_more(&self.label, mean),
            });
            (situation, before) = (changed, after);
        }
        if self.changes() {
            let product = parts
                .iter()
                .try_fold(1.0, |so_far, part| match part.effect {
                    Effect::Times(times) => Some(so_far * times),
                    Effect::Stops(_) | Effect::AlreadyStopped => None,
                });
            let whole = self.weigh(stage, self.ratio(stage)?)?;
            let effect = match (whole, product) {
                (Outcome::Times(whole), Some(product)) => Effect::Times(whole.likely / product),
                (Outcome::Never(why), Some(_)) => Effect::Stops(why),
                (_, None) => Effect::AlreadyStopped,
            };
            parts.push(Part {
                cause: Cause::Swing,
                effect,
                more: true,
            });
        }
        Ok(parts)
    }
}
