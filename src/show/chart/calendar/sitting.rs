//! Sittings that follow one another, and what is said of them.

use jiff::civil::{Date, DateTime};

use crate::plan::{Booked, Calendar, Task};
use crate::show::draw::clean;

/// Sittings of one task that follow one another on a day without a break.
pub(super) struct Span<'a> {
    sittings: &'a [Booked],
}

/// The spans of a day, in order.
pub(super) fn on(calendar: &Calendar, date: Date) -> Vec<Span<'_>> {
    calendar
        .sittings
        .chunk_by(|one, next| {
            let on_one_day = one.begins.date() == next.begins.date();
            on_one_day && one.task == next.task && one.ends == next.begins
        })
        .filter(|sittings| {
            sittings
                .first()
                .is_some_and(|one| one.begins.date() == date)
        })
        .map(|sittings| Span { sittings })
        .collect()
}

impl Span<'_> {
    pub(super) fn begins(&self) -> Option<DateTime> {
        self.sittings.first().map(|one| one.begins)
    }

    pub(super) fn ends(&self) -> Option<DateTime> {
        self.sittings.last().map(|one| one.ends)
    }

    pub(super) fn task(&self) -> Option<Task> {
        self.sittings.first().map(|one| one.task)
    }

    pub(super) fn looks(&self) -> impl Iterator<Item = DateTime> {
        self.sittings
            .iter()
            .flat_map(|one| one.looks.iter().copied())
    }

    pub(super) const fn count(&self) -> usize {
        self.sittings.len()
    }

    /// The step's name, and which of its coats.
    pub(super) fn name(&self) -> String {
        let Some(first) = self.sittings.first() else {
            return String::new();
        };
        let name = format!("\u{2068}{}\u{2069}", clean(&first.what));
        match first.task {
            Task::Step { coat, of, .. } if of > 1 => format!("{name} {coat} of {of}"),
            Task::Step { .. } | Task::Look { .. } => name,
        }
    }

    /// "71 pieces, wave 1".
    pub(super) fn load(&self, waves: usize) -> String {
        let all: u64 = (self.sittings.iter())
            .flat_map(|one| one.pieces.iter().map(|(_, count)| count))
            .sum();
        let pieces = if all == 1 { "piece" } else { "pieces" };
        let mut own: Vec<usize> = self.sittings.iter().map(|one| one.wave).collect();
        own.sort_unstable();
        own.dedup();
        match own.as_slice() {
            _ if waves < 2 => format!("{all} {pieces}"),
            [one] => format!("{all} {pieces}, wave {one}"),
            [first, .., last] if last - first + 1 == own.len() => {
                format!("{all} {pieces}, waves {first}-{last}")
            }
            many => format!("{all} {pieces}, {} waves", many.len()),
        }
    }
}
