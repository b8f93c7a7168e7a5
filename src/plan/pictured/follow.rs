//! A coat followed through spells of air.

use crate::cure::air::Air;
use crate::cure::law::{Advance, Law, LawError, Standing};
use crate::cure::situation::{Situation, Spell};
use crate::quantity::Time;

/// Where a coat stands at one time after its pour.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct At {
    pub(super) time: Time,
    pub(super) standing: Standing,
    pub(super) air: Air,
}

/// How a coat is followed.
pub(super) struct Follow<'a> {
    pub(super) law: &'a dyn Law,
    pub(super) here: Situation,
    /// How much time one second of the law's clock is, `[1]`.
    pub(super) unit: f64,
    /// Times after the pour at which it is asked where it stands, in order.
    pub(super) asked: &'a [Time],
}

impl Follow<'_> {
    /// Where the coat stands at each time asked for, as far as the spells last.
    ///
    /// # Errors
    /// [`LawError::OutOfRange`] for a situation outside what the law covers.
    pub(super) fn through(
        &self,
        spells: impl IntoIterator<Item = Spell>,
    ) -> Result<Vec<At>, LawError> {
        let mut asked = self.asked.iter().copied().peekable();
        let mut found = Vec::with_capacity(self.asked.len());
        let mut coat: Option<Standing> = None;
        let (mut now, mut begins) = (0.0, 0.0);
        for spell in spells {
            let here = self.here.in_air(spell.air);
            let start = || Standing::fresh(self.law.start(&here), &here);
            let mut at = coat.unwrap_or_else(start);
            let ends = begins + spell.lasts.s();
            while let Some(time) = asked.next_if(|time| time.s() <= ends) {
                at = self.on(&here, at, time.s() - now)?;
                now = time.s();
                found.push(At {
                    time,
                    standing: at,
                    air: spell.air,
                });
            }
            if asked.peek().is_none() {
                break;
            }
            coat = Some(self.on(&here, at, ends - now)?);
            (now, begins) = (ends, ends);
        }
        Ok(found)
    }

    /// Takes a coat on for so many seconds.
    fn on(&self, here: &Situation, from: Standing, seconds: f64) -> Result<Standing, LawError> {
        if seconds <= 0.0 {
            return Ok(from);
        }
        // no coat comes so far, so that none stops short of its time
        let beyond = if self.law.goal(self.law.whole(), here) < self.law.start(here) {
            0.0
        } else {
            f64::INFINITY
        };
        Ok(
            match self.law.advance(here, from, beyond, seconds / self.unit)? {
                Advance::Left(at) => at,
                Advance::Reached(_) => Standing {
                    coat: beyond,
                    ..from
                },
            },
        )
    }
}
