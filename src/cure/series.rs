//! A coat in air that changes: a night, a week, a logger's record.

use super::law::{Law, LawError, Reached, Stage};
use super::situation::{Situation, Spell};
use crate::quantity::Time;

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

/// Time until a promised stage is reached in air that changes, or `None` if the
/// spells end first.
///
/// The label's time sets the law's clock; the law then runs through the spells
/// one after another, remembering how far it came. A spell in which the stage
/// makes no headway (epoxy turning glassy, a film taking water back) counts all
/// the same as time that passes. Constant air is one spell, and then the answer
/// is the label's time multiplied by the ratio of the law's lapses.
///
/// ```
/// use brimful::cure::{Situation, Stage, air::Air, law, series::{Promise, time_through}};
/// use brimful::cure::{situation::Spell, transfer::{Exposure, Footprint}};
/// use brimful::quantity::{Length, Time};
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
    LawError::check("label time", promise.takes.s(), (1.0, 1e9))?;
    let at_label = match law.reach(promise.stage, &promise.at)? {
        Reached::After(lapse) => lapse,
        Reached::Never(why) => return Err(LawError::LabelNever(why)),
    };
    let unit = at_label.unit(promise.takes);
    let mut on_the_laws_clock = spells.into_iter().map(|spell| Spell {
        lasts: Time::from_s(spell.lasts / unit),
        ..spell
    });
    let lapse = law.through(promise.stage, here, &mut on_the_laws_clock)?;
    Ok(lapse.map(|lapse| lapse.in_units(unit)))
}
