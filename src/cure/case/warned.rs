//! What to warn of in a case.

use super::super::air::Air;
use super::super::compare::{Outcome, warnings};
use super::super::hours;
use super::super::law::Hindrance;
use super::super::situation::Spell;
use super::super::warning::Warning;
use super::{Case, Weather};
use crate::quantity::Time;
use crate::stage::Stage;

impl Case<'_> {
    /// What to warn of: in changing air, what any hour of it brings until the coat is
    /// there; dew and blush until its surface is.
    pub(super) fn warnings(
        &self,
        whole: &Outcome,
        until: Option<Time>,
        surface: Option<Time>,
    ) -> Vec<Warning> {
        let never = match *whole {
            Outcome::Never(why) => Some(why),
            Outcome::Times(_) => None,
        };
        let Weather::Changing { spells, .. } = &self.weather else {
            return warnings(self.law, &self.here, never);
        };
        let mean = self.here.in_air(self.mean_air(until));
        let hindrance = warnings(self.law, &mean, never)
            .into_iter()
            .take(usize::from(
                never.is_some_and(|why| why != Hindrance::NoHeadway),
            ));
        let of = |air| warnings(self.law, &self.here.in_air(air), None);
        let open = surface.or(until);
        let while_wet = hours::warnings(spells, open, of)
            .into_iter()
            .filter(Warning::is_of_wet_coats);
        let too_cold = matches!(never, Some(Hindrance::TooColdToCure { .. }));
        let throughout = |air| {
            let mut found = of(air);
            found.extend(self.hardly_cures(air).filter(|_| !too_cold));
            found
        };
        let throughout = hours::warnings(spells, until, throughout)
            .into_iter()
            .filter(|warning| !warning.is_of_wet_coats());
        hindrance
            .chain(self.cold_later(spells, until, surface))
            .chain(while_wet)
            .chain(throughout)
            .collect()
    }

    /// Whether air of some hours, were it all, would leave the coat uncured.
    fn hardly_cures(&self, air: Air) -> Option<Warning> {
        let refused = self.law.refusal(self.ruling(), &self.here.in_air(air))?;
        let Hindrance::TooColdToCure {
            air,
            below,
            move_to,
        } = refused
        else {
            return None;
        };
        Some(Warning::HardlyCures {
            air,
            below,
            move_to,
        })
    }

    /// Hours too cold for the film to form that come once its surface is there, and
    /// before the coat is: whether it is past that by then is a matter of hours.
    fn cold_later(
        &self,
        spells: &[Spell],
        until: Option<Time>,
        surface: Option<Time>,
    ) -> Option<Warning> {
        let (until, open) = (until?, surface?);
        let mut passed = Time::ZERO;
        for (spell, lasts) in hours::until(spells, Some(until)) {
            let why = self
                .law
                .refusal(Stage::TackFree, &self.here.in_air(spell.air));
            if passed >= open && matches!(why, Some(Hindrance::TooColdToForm { .. })) {
                return Some(Warning::ColdLater { open, cold: passed });
            }
            passed = passed + Time::from_s(lasts);
        }
        None
    }
}
