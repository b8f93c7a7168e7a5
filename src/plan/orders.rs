//! What has to be ordered, and from when it is there.

use std::collections::{BTreeMap, BTreeSet};

use super::calendar::{Dates, LateGoods};
use super::lasts::Lasts;
use super::supplies::Supplies;
use super::waves::minutes;
use super::{
    BlankPlan, CoatingPlan, DrawnPlan, Notes, PiecePlan, PlanError, SupplyPlan, Warning, drawn,
};
use crate::quantity::Time;
use crate::run::Run;
use crate::schedule::Minute;
use jiff::civil::DateTime;

/// What has to be ordered, by name.
pub(super) fn to_order<'p>(
    (coatings, drawn): (&'p [CoatingPlan], &'p [DrawnPlan]),
    blanks: &'p [BlankPlan],
    supplies: &'p [SupplyPlan],
) -> impl Iterator<Item = &'p str> {
    let coatings = (coatings.iter())
        .filter(|coating| {
            coating
                .bottles
                .as_ref()
                .is_none_or(|bottles| bottles.buy > 0)
        })
        .map(|coating| coating.name.as_str());
    let blanks = (blanks.iter())
        .filter(|blank| blank.packs > 0)
        .map(|blank| blank.name.as_str());
    let supplies = (supplies.iter())
        .filter(|supply| supply.packs.packs > 0)
        .map(|supply| supply.name.as_str());
    let pens = (drawn.iter())
        .filter(|pen| pen.have.is_none_or(|have| have <= 0.0))
        .map(|pen| pen.name.as_str());
    coatings.chain(pens).chain(blanks).chain(supplies)
}

/// Keeps the order dates of what has to be bought, or was waited for as such.
pub(super) fn keep(bought: &BTreeSet<&str>, dates: &mut Dates) {
    if let Dates::Told(calendar) = dates {
        let (orders, late) = (&mut calendar.order_by, &calendar.late);
        orders.retain(|order| {
            bought.contains(order.what.as_str()) || late.iter().any(|late| late.what == order.what)
        });
    }
}

/// Goods that the calendar uses before they can be there, ordered on the day of the maker's start: by
/// the count before there was a calendar the stock did for them. Those that are known to be short are left out.
pub(super) fn unforeseen(run: &Run, dates: &Dates, short: &BTreeSet<String>) -> BTreeSet<String> {
    let asked = run.header.start.map(DateTime::date);
    let Some((asked, calendar)) = asked.zip(dates.calendar()) else {
        return BTreeSet::new();
    };
    let sooner = calendar.order_by.iter().filter(|order| order.by < asked);
    let sooner = sooner.map(|order| order.what.clone());
    sooner.filter(|what| !short.contains(what)).collect()
}

/// Warns of goods that keep the work waiting.
pub(super) fn warn(run: &Run, dates: &Dates, notes: &mut Notes) {
    let (Some(asked), Some(calendar)) = (run.header.start, dates.calendar()) else {
        return;
    };
    let late = calendar.late.iter();
    notes
        .warnings
        .extend(late.map(|late| Warning::OrderTooLate {
            what: late.what.clone(),
            by: late.by,
            asked,
            comes: late.comes,
            step: late.step.clone(),
            could: late.could,
            begins: late.begins,
        }));
}

/// The goods that keep the work waiting.
pub(super) fn late(dates: &Dates) -> &[LateGoods] {
    dates.calendar().map_or(&[], |calendar| &calendar.late)
}

/// The run with all goods at hand whenever they are wanted.
pub(super) fn at_hand(run: &Run) -> Run {
    let mut run = run.clone();
    for (_, delivery) in deliveries(&mut run) {
        *delivery = None;
    }
    run
}

/// How long each of the run's goods takes to come, with its name.
pub(super) fn deliveries(run: &mut Run) -> impl Iterator<Item = (&str, &mut Option<Time>)> {
    let blanks = (run.blanks.iter_mut()).map(|it| (it.name.as_str(), &mut it.delivery));
    let coatings = run.coatings.iter_mut().filter_map(|it| {
        let bottle = it.bottle.as_mut()?;
        Some((it.name.as_str(), &mut bottle.delivery))
    });
    let supplies = (run.supplies.iter_mut()).map(|it| (it.name.as_str(), &mut it.delivery));
    blanks.chain(coatings).chain(supplies)
}

/// From when goods are there that have to be ordered, where the maker has a start: they are ordered on
/// its day.
#[derive(Debug, Clone, Default)]
pub(super) struct Arrivals {
    blanks: BTreeMap<usize, Minute>,
    coatings: BTreeMap<usize, Minute>,
    supplies: BTreeMap<usize, Minute>,
}

impl Arrivals {
    /// Of a run before it has a calendar, with what has been found to be short by one.
    pub(super) fn foreseen(
        run: &Run,
        (pieces, coatings): (&[PiecePlan], &[CoatingPlan]),
        blanks: &[BlankPlan],
        (supplies, short): (&Supplies, &BTreeSet<String>),
    ) -> Result<Self, PlanError> {
        if run.header.start.is_none() {
            return Ok(Self::default());
        }
        let (lasts, unsaid) = (Lasts::begun(run), &mut Notes::default());
        let pens = drawn::plan((run, &lasts), pieces, unsaid);
        let supplies = supplies.clone().plan(run, &lasts, unsaid)?;
        let mut bought: BTreeSet<&str> = to_order((coatings, &pens), blanks, &supplies).collect();
        bought.extend(short.iter().map(String::as_str));
        Ok(Self::of(run, &|what| bought.contains(what)))
    }

    /// Of those goods that have to be bought.
    pub(super) fn of(run: &Run, is_bought: &dyn Fn(&str) -> bool) -> Self {
        let mut all = Self::default();
        let Some(start) = run.header.start else {
            return all;
        };
        let ordered = Minute::of(start.date().at(0, 0, 0, 0));
        let comes = |what: &str, delivery: Option<Time>| {
            let delivery = delivery.filter(|_| is_bought(what))?;
            ordered.plus(i64::from(minutes(delivery)))
        };
        for (place, blank) in run.blanks.iter().enumerate() {
            let at = comes(&blank.name, blank.delivery);
            all.blanks.extend(at.map(|at| (place, at)));
        }
        for (place, coating) in run.coatings.iter().enumerate() {
            let at = comes(&coating.name, coating.bottle.and_then(|it| it.delivery));
            all.coatings.extend(at.map(|at| (place, at)));
        }
        for (place, supply) in run.supplies.iter().enumerate() {
            let at = comes(&supply.name, supply.delivery);
            all.supplies.extend(at.map(|at| (place, at)));
        }
        all
    }

    /// Whether no goods are waited for.
    pub(super) fn is_empty(&self) -> bool {
        self.blanks.is_empty() && self.coatings.is_empty() && self.supplies.is_empty()
    }

    /// Of one of the run's blanks.
    pub(super) fn blank(&self, blank: usize) -> Option<Minute> {
        self.blanks.get(&blank).copied()
    }

    /// Of one of its coatings.
    pub(super) fn coating(&self, coating: usize) -> Option<Minute> {
        self.coatings.get(&coating).copied()
    }

    /// Of one of its supplies.
    pub(super) fn supply(&self, supply: usize) -> Option<Minute> {
        self.supplies.get(&supply).copied()
    }

    /// Of all that one of its steps takes.
    pub(super) fn step(&self, run: &Run, step: usize) -> Option<Minute> {
        let step = &run.steps[step];
        let coating = step.work.coating().and_then(|it| self.coating(it));
        let supplies = step.uses.iter().filter_map(|it| self.supply(it.supply));
        supplies.chain(coating).max()
    }
}
