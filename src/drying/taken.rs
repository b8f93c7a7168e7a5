//! A coat's label taken for the coat at hand, and the air that it goes through.

use super::outlook::{Coat, Days, Drier, NoTime};
use super::{Changing, Room};
use crate::cure::Case;
use crate::cure::law::Reached;
use crate::cure::series::Promise;
use crate::cure::situation::{Situation, Spell};
use crate::cure::starts::{Fate, fates};
use crate::quantity::Time;
use crate::stage::Stage;
use std::collections::BTreeMap;

/// The label's situation and the room's.
pub(super) type Pair = (Situation, Situation);

/// A coat by one way to take its label.
pub(super) struct Taken<'a> {
    pub case: Case<'a>,
    /// By the other way, where there is one: in another room it may be sooner.
    pub other: Option<Case<'a>>,
    /// In the air of the first pour.
    here: Situation,
    /// In a room that changes, the air from the pour on.
    spells: Option<&'a [Spell]>,
    pub days: Option<Days>,
}

impl Drier<'_> {
    /// The way to take the label, and another if there is one, each as its own situation and
    /// the room's, in the air of the first pour; the one that is soonest here holds.
    ///
    /// A label that says how deep its coat is has one. Otherwise its times are for the
    /// usual coat: a deeper one is slower by the law. A thinner one is never promised
    /// sooner than the label where its room is the label's, so the label is taken to
    /// mean one as thin; but neither is it to take longer here than the usual coat, in a box or out
    /// of it: what fills a box is the coats' own water, and thinner ones have less.
    fn readings(&self, coat: &Coat) -> (Pair, Option<Pair>) {
        let usual = self.coating.usual_depth();
        let (depths, other) = match coat.label_depth {
            Some(told) => ((told, coat.depth), None),
            None if coat.depth >= usual => ((usual, coat.depth), None),
            None => ((coat.depth, coat.depth), Some((usual, usual))),
        };
        let air = self.room.first_air();
        let alone = coat.lies.without_neighbours();
        let pair = |(label, here)| {
            (
                Situation::new(self.label, alone, label),
                Situation::new(air, coat.lies, here)
                    .enclosed(coat.shut_in)
                    .lit_by(coat.light),
            )
        };
        (pair(depths), other.map(pair))
    }

    /// The label's situation and the room's, in the air of the first pour.
    ///
    /// # Errors
    /// [`NoTime`] where the coat is outside what its law covers.
    pub(super) fn situations(&self, coat: &Coat) -> Result<Pair, NoTime> {
        if let (only, None) = self.readings(coat) {
            return Ok(only);
        }
        let taken = self.taken(coat)?;
        Ok((*taken.case.label(), taken.here))
    }

    /// How slow a coat is, to find the slowest: infinite where it never gets there or
    /// can't be told. In air that changes it goes by the air of the first pour.
    #[must_use]
    pub fn slowness(&self, coat: &Coat) -> f64 {
        let whole = self.law.whole();
        let (first, other) = self.readings(coat);
        let slownesses = std::iter::once(first).chain(other).map(|(label, here)| {
            if self.law.refusal(whole, &here).is_some() {
                return f64::INFINITY;
            }
            match (self.law.reach(whole, &label), self.law.reach(whole, &here)) {
                (Ok(Reached::After(label)), Ok(Reached::After(here))) => here / label,
                _ => f64::INFINITY,
            }
        });
        slownesses.fold(f64::INFINITY, f64::min)
    }

    /// The coat in this room, ready to be asked; in a record, as laid on its middle day.
    ///
    /// # Errors
    /// As [`outlook`](Self::outlook).
    pub fn case(&self, coat: &Coat) -> Result<Case<'_>, NoTime> {
        Ok(self.taken(coat)?.case)
    }

    /// The coat with its label taken the way that is soonest here.
    pub(super) fn taken(&self, coat: &Coat) -> Result<Taken<'_>, NoTime> {
        let (first, other) = self.readings(coat);
        let first = self.read(first)?;
        let (Some(other), Some((stage, _))) = (other, self.ruling()) else {
            return Ok(first);
        };
        // the usual coat may be outside what the law covers where this one is not
        let Ok(other) = self.read(other) else {
            return Ok(first);
        };
        let sooner = match (first.case.likely(stage)?, other.case.likely(stage)) {
            (Some(first), Ok(Some(other))) => other < first,
            (None, Ok(other)) => other.is_some(),
            _ => false,
        };
        let (taken, other) = if sooner {
            (other, first)
        } else {
            (first, other)
        };
        Ok(Taken {
            other: Some(other.case),
            ..taken
        })
    }

    /// A coat by one way to take its label.
    fn read(&self, (label, here): Pair) -> Result<Taken<'_>, NoTime> {
        let Room::Changing(changing) = self.room else {
            let case = Case::steady(self.law.as_ref(), &label, &here);
            return Ok(Taken {
                case: self.told(case),
                other: None,
                here,
                spells: None,
                days: None,
            });
        };
        let times: BTreeMap<Stage, Time> = self
            .coating
            .label()
            .times
            .iter()
            .map(|(&stage, told)| (stage, told.time))
            .collect();
        let (pour, days) = self.middle_day(changing, &label, &here)?;
        let spells = &changing.spells()[pour..];
        let case = Case::through(self.law.as_ref(), &label, &here, spells, times)?;
        Ok(Taken {
            case: self.told(case),
            other: None,
            here,
            spells: Some(spells),
            days,
        })
    }

    /// The air that a coat goes through from its pour on; in a record, from that of its
    /// middle day. `None` in a room that stays as it is.
    ///
    /// # Errors
    /// As [`outlook`](Self::outlook).
    pub fn spells(&self, coat: &Coat) -> Result<Option<&[Spell]>, NoTime> {
        Ok(self.taken(coat)?.spells)
    }

    /// The case told for the stage by which the label's coat is judged.
    fn told<'c>(&self, case: Case<'c>) -> Case<'c> {
        match self.coating.label().whole() {
            Some((stage, _)) => case.told_for(stage),
            None => case,
        }
    }

    /// The day of a record on which a coat takes neither long nor short, and how the
    /// others differ. Where the label has no time at all it is the first.
    fn middle_day(
        &self,
        changing: &Changing,
        label: &Situation,
        here: &Situation,
    ) -> Result<(usize, Option<Days>), NoTime> {
        let first = changing.pours()[0];
        let ruling = self.ruling();
        let (Some((stage, takes)), true) = (ruling, changing.pours().len() > 1) else {
            return Ok((first, None));
        };
        let promise = Promise {
            stage,
            takes,
            at: *label,
        };
        let surface = promise.of_surface(self.law.as_ref(), self.surface_time())?;
        let pours = changing.pours();
        let record = (here, changing.spells());
        let fates = fates(self.law.as_ref(), &promise, &surface, record, pours)?;
        let mut told: Vec<(Option<Time>, usize)> = fates
            .into_iter()
            .zip(pours)
            .filter_map(|(fate, &pour)| match fate {
                Fate::After(time) => Some((Some(time), pour)),
                Fate::Never => Some((None, pour)),
                Fate::Untold => None,
            })
            .collect();
        // a day on which it never gets there is the slowest of all
        told.sort_by(|(a, _), (b, _)| {
            let seconds = |time: &Option<Time>| time.map_or(f64::INFINITY, Time::s);
            seconds(a).total_cmp(&seconds(b))
        });
        let Some(last) = told.len().checked_sub(1) else {
            return Ok((first, None));
        };
        // the lower of two middle days, the tenth and the ninetieth hundredth by rank
        let (middle, pour) = told[last / 2];
        let days = Days {
            stage,
            quick: told[last / 10].0,
            middle,
            slow: told[(last * 9).div_ceil(10)].0,
            reached: told.iter().filter(|(time, _)| time.is_some()).count(),
            of: told.len(),
            untold: pours.len() - told.len(),
        };
        Ok((pour, Some(days)))
    }
}
