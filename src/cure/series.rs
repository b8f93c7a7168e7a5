//! A coat in air that changes: a night, a week, a logger's record.

use super::compare::at_label;
use super::law::{Advance, Law, LawError, Standing};
use super::situation::{Situation, Spell};
use crate::quantity::Time;
use crate::stage::Stage;

/// What a label promises.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Promise {
    /// The stage.
    pub stage: Stage,
    /// How long it takes at the label's conditions; more than nothing.
    pub takes: Time,
    /// The label's conditions.
    pub at: Situation,
}

impl Promise {
    /// How much time one second of the law's clock is in truth, `[1]`.
    ///
    /// # Errors
    /// [`LawError::LabelNever`] where the label's own conditions never get there,
    /// [`LawError::OutOfRange`] for a promise of no time or a situation outside what
    /// the law covers.
    pub(super) fn unit(&self, law: &dyn Law) -> Result<f64, LawError> {
        LawError::check("label time", self.takes.s(), (1.0, 1e9))?;
        let lapse = at_label(law.reach(self.stage, &self.at)?)?;
        Ok(self.takes / lapse)
    }
}

impl Promise {
    /// When the surface of this coat is tack-free at the label's conditions: the label's
    /// own time where it gives one; else the law's where its clock is time; else so much
    /// of the promised stage's time as the law has it.
    ///
    /// # Errors
    /// As [`time_through`].
    pub fn of_surface(self, law: &dyn Law, told: Option<Time>) -> Result<Self, LawError> {
        let lapse = at_label(law.reach(Stage::TackFree, &self.at)?)?;
        let takes = match told {
            Some(told) => told,
            None if law.tells_time() => lapse,
            None => lapse * self.unit(law)?,
        };
        Ok(Self {
            stage: Stage::TackFree,
            takes,
            at: self.at,
        })
    }
}

/// Time until a promised stage is reached in air that changes, or `None` if the
/// spells end first.
///
/// The label's time sets the law's clock; the coat then goes through the spells
/// one after another and keeps what it has come. A spell in which it makes no
/// headway (epoxy turning glassy, a film taking water back) counts all the same as
/// time that passes. Constant air is one spell, and then the answer is the label's
/// time multiplied by the ratio of the law's times.
///
/// ```
/// use brimful::cure::{Situation, air::Air, law, series::{Promise, time_through}};
/// use brimful::cure::{situation::Spell, transfer::{Exposure, Footprint}};
/// use brimful::quantity::{Length, Time};
/// use brimful::stage::Stage;
///
/// let ink = law("airing", &|_| None)?;
/// let alone = Exposure::alone(Footprint::Disc { diameter: Length::from_mm(25.0) })?;
/// let at = Situation::new(Air::REFERENCE, alone, Length::from_mm(0.1));
/// let promise = Promise { stage: Stage::Handle, takes: Time::from_h(1.0), at };
/// let half_hours = vec![Spell { air: Air::REFERENCE, lasts: Time::from_min(30.0) }; 4];
/// let time = time_through(ink.as_ref(), &promise, &at, half_hours)?;
/// assert!((time.unwrap().h() - 1.0).abs() < 1e-12);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// [`LawError::LabelNever`] where the label's own conditions never get there,
/// [`LawError::OutOfRange`] for a promise of no time or a situation outside what
/// the law covers.
pub fn time_through(
    law: &dyn Law,
    promise: &Promise,
    here: &Situation,
    spells: impl IntoIterator<Item = Spell>,
) -> Result<Option<Time>, LawError> {
    let unit = promise.unit(law)?;
    let goal = law.goal(promise.stage, here);
    let on_the_laws_clock = spells.into_iter().map(|spell| Spell {
        lasts: spell.lasts / unit,
        ..spell
    });
    Ok(match through(law, goal, here, on_the_laws_clock)? {
        Through::Reached(lapse) => Some(lapse * unit),
        Through::Left(_) => None,
    })
}

/// How a coat came through a series of spells.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Through {
    /// The coat came so far after this long, on the law's own clock.
    Reached(Time),
    /// The spells ended first; the coat had come as far as this, in the law's own measure.
    Left(f64),
}

/// A fresh coat through spells of constant air, all on the law's own clock, until
/// it has come as far as `goal` in the law's own measure; `here` is taken with each
/// spell's air in turn. A box keeps from spell to spell what vapour its air carries.
///
/// # Errors
/// [`LawError::OutOfRange`] for a situation outside what the law covers.
pub fn through(
    law: &dyn Law,
    goal: f64,
    here: &Situation,
    spells: impl IntoIterator<Item = Spell>,
) -> Result<Through, LawError> {
    let mut coat = Standing::fresh(law.start(here), here);
    let mut passed = 0.0;
    for (spells_before, spell) in spells.into_iter().enumerate() {
        let here = here.in_air(spell.air);
        if spells_before == 0 {
            coat = Standing::fresh(coat.coat, &here);
        }
        match law.advance(&here, coat, goal, spell.lasts.s())? {
            Advance::Reached(needed) => return Ok(Through::Reached(Time::from_s(passed + needed))),
            Advance::Left(at) => coat = at,
        }
        passed += spell.lasts.s();
    }
    Ok(Through::Left(coat.coat))
}
