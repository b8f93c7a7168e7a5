//! What laws have told, kept: cases that differ in one thing ask them the same over and over.

use super::super::law::{Doubt, Law, LawError, Reached};
use super::super::situation::Situation;
use super::Case;
use crate::stage::Stage;
use std::cell::{OnceCell, RefCell};
use std::rc::Rc;

/// What one law has told of coats in air that stays as it is, and its doubts.
#[derive(Debug, Default)]
pub(super) struct Memory {
    /// Each with the situation, and how far the coat was to come in it.
    told: RefCell<Vec<(f64, Situation, Option<f64>)>>,
    doubted: OnceCell<Vec<Doubted>>,
}

/// The law with one thing in it at either end of its range, each with what it has told.
#[derive(Debug)]
struct Doubted {
    doubt: Doubt,
    low: Rc<Memory>,
    high: Rc<Memory>,
}

impl Memory {
    /// As [`Law::seconds`], asked once.
    ///
    /// # Errors
    /// As [`Law::seconds`].
    fn seconds(
        &self,
        law: &dyn Law,
        situation: &Situation,
        goal: f64,
    ) -> Result<Option<f64>, LawError> {
        let mut told = self.told.borrow_mut();
        let mut known = told.iter();
        if let Some((_, _, seconds)) =
            known.find(|(to, of, _)| to.total_cmp(&goal).is_eq() && of == situation)
        {
            return Ok(*seconds);
        }
        let seconds = law.seconds(situation, goal)?;
        told.push((goal, *situation, seconds));
        Ok(seconds)
    }

    /// As [`Law::doubts`], asked once.
    fn doubted(&self, law: &dyn Law) -> &[Doubted] {
        self.doubted.get_or_init(|| {
            let each = law.doubts().into_iter();
            each.map(|doubt| Doubted {
                doubt,
                low: Rc::default(),
                high: Rc::default(),
            })
            .collect()
        })
    }
}

impl Case<'_> {
    /// As [`Law::reach`].
    pub(super) fn reach(&self, stage: Stage, situation: &Situation) -> Result<Reached, LawError> {
        let goal = self.law.goal(stage, situation);
        let seconds = self.memory.seconds(self.law, situation, goal)?;
        Ok(self.law.after(seconds, stage, situation))
    }

    /// The same coat by its law with each thing in it that is not known well at either end of
    /// its range.
    pub(in super::super) fn doubted(&self) -> impl Iterator<Item = Case<'_>> {
        let doubted = self.memory.doubted(self.law).iter();
        let ends = doubted
            .flat_map(|Doubted { doubt, low, high }| [(&doubt.low, low), (&doubt.high, high)]);
        ends.map(|(law, memory)| Case {
            law: law.as_ref(),
            label: self.label,
            here: self.here,
            weather: self.weather.clone(),
            ruling: self.ruling,
            memory: Rc::clone(memory),
        })
    }
}
