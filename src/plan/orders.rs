//! What has to be ordered, and work that begins once it is there.

use std::collections::{BTreeMap, BTreeSet};

use super::calendar::Dates;
use super::{BlankPlan, CoatingPlan, DrawnPlan, Notes, SupplyPlan, Warning};
use jiff::ToSpan;
use jiff::civil::{Date, DateTime};

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

/// Keeps the order dates of what has to be bought.
pub(super) fn keep(bought: &BTreeSet<&str>, dates: &mut Dates) {
    if let Dates::Told(calendar) = dates {
        let orders = &mut calendar.order_by;
        orders.retain(|order| bought.contains(order.what.as_str()));
    }
}

/// Goods that can't be there for the start that was asked for. They are ordered no sooner than the work
/// was to begin, so it begins later.
#[derive(Debug, Default)]
pub(super) struct Awaited {
    /// The start that was asked for.
    asked: Option<DateTime>,
    /// By name, the last day to order each for that start.
    late: BTreeMap<String, Date>,
}

impl Awaited {
    /// Nothing so far.
    pub(super) fn by(asked: Option<DateTime>) -> Self {
        Self {
            asked,
            late: BTreeMap::new(),
        }
    }

    /// The start that was asked for.
    pub(super) fn asked(&self) -> Option<DateTime> {
        self.asked
    }

    /// A later start for work laid out from a first one: by so many days as its goods come too late.
    /// `None`: they are all there in time, or no start was asked for.
    pub(super) fn later(&mut self, begun: Option<DateTime>, dates: &Dates) -> Option<DateTime> {
        let (asked, begun) = (self.asked?.date(), begun?);
        let mut days = 0;
        for order in dates.calendar()?.order_by.iter().filter(|it| it.by < asked) {
            self.late.entry(order.what.clone()).or_insert(order.by);
            days = days.max(order.by.until(asked).ok()?.get_days());
        }
        (days > 0)
            .then(|| begun.checked_add(days.days()).ok())
            .flatten()
    }

    /// Warns of them.
    pub(super) fn warn(&self, dates: &Dates, notes: &mut Notes) {
        let (Some(asked), Some(calendar)) = (self.asked, dates.calendar()) else {
            return;
        };
        let late = self.late.iter();
        notes
            .warnings
            .extend(late.map(|(what, by)| Warning::OrderTooLate {
                what: what.clone(),
                by: *by,
                asked,
                begins: calendar.start,
            }));
    }
}
