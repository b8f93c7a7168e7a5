//! A plan in words: first a screen with the answer, then the details.

mod calendar;
mod details;
mod mixing;
mod page;
mod summary;

use crate::plan::Plan;
use page::Page;

/// The plan in words, in the run's units, lines of at most 100 columns.
#[must_use]
pub fn plan(plan: &Plan) -> String {
    let mut page = Page::default();
    summary::write(plan, &mut page);
    details::write(plan, &mut page);
    page.into_text()
}
