//! A plan in words: first a screen with the answer, then the details.

mod beside;
mod buying;
mod calendar;
mod details;
mod mixing;
mod money;
mod page;
mod summary;
mod supplies;

use crate::plan::Plan;
pub use beside::beside;
pub use buying::to_buy;
pub(in crate::show) use calendar::moment;
pub(super) use supplies::{left_over, taken};

use page::Page;

/// By when to begin, or why there is no such date.
#[must_use]
pub fn start(plan: &Plan) -> String {
    let told = calendar::first_screen(plan);
    told.into_iter()
        .next()
        .map(|(_, words)| words)
        .unwrap_or_default()
}

/// The plan in words, in the run's units, lines of at most 100 columns.
#[must_use]
pub fn plan(plan: &Plan) -> String {
    told(plan, calendar::MOST)
}

/// The same for a file, with every sitting, however many there are.
#[must_use]
pub fn plan_in_full(plan: &Plan) -> String {
    told(plan, usize::MAX)
}

fn told(plan: &Plan, sittings: usize) -> String {
    let mut page = Page::default();
    summary::write(plan, &mut page);
    details::write(plan, sittings, &mut page);
    page.into_text()
}
