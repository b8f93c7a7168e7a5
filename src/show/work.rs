//! The work of a run in its order, as a list short enough for a page.

use jiff::civil::DateTime;

use crate::plan::{Booked, Calendar, Task};

/// At most so many rows, where that can be had by telling sittings together.
const MOST: usize = 30;

/// Sittings told together.
pub(super) struct Row<'p> {
    /// What is done.
    pub what: &'p str,
    /// Which coat, and of how many; none of work that is no step.
    pub coat: Option<[u32; 2]>,
    /// How many sittings these are.
    pub sittings: usize,
    /// When the first begins.
    pub begins: DateTime,
    /// When the last ends.
    pub ends: DateTime,
    /// The kinds of piece, and how many of each.
    pub pieces: Vec<(&'p str, u64)>,
    /// Trays that they hold. `None`: the sittings may take turns on them.
    pub trays: Option<u32>,
    /// Mixes to make. `None`: nothing is mixed, or nobody can tell.
    pub mixes: Option<u64>,
    /// When to look for bubbles first and last. `None`: never, or too often to tell.
    pub looks: Option<[DateTime; 2]>,
    /// From when the first and the last of the waves can go on. `None`: too often to tell.
    pub next_from: Option<[DateTime; 2]>,
}

/// How closely sittings are told.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Told {
    /// Those of one task that follow one another without a break, together.
    Closely,
    /// Those of one task on one day.
    ByDay,
    /// All of one task.
    ByTask,
}

/// The sittings of a calendar, told as closely as a page has room for.
pub(super) fn rows(calendar: &Calendar) -> Vec<Row<'_>> {
    let told = |how| -> Vec<Row<'_>> {
        let groups = together(&calendar.sittings, how);
        groups
            .iter()
            .filter_map(|group| Row::of(group, how))
            .collect()
    };
    [Told::Closely, Told::ByDay]
        .into_iter()
        .map(told)
        .find(|rows| rows.len() <= MOST)
        .unwrap_or_else(|| told(Told::ByTask))
}

/// Groups of sittings, in the order in which their first ones begin.
fn together(sittings: &[Booked], how: Told) -> Vec<Vec<&Booked>> {
    let mut groups: Vec<Vec<&Booked>> = Vec::new();
    for sitting in sittings {
        let joins = |group: &Vec<&Booked>| {
            group.last().is_some_and(|last| {
                last.task == sitting.task
                    && match how {
                        Told::Closely => last.ends == sitting.begins,
                        Told::ByDay => last.begins.date() == sitting.begins.date(),
                        Told::ByTask => true,
                    }
            })
        };
        let group = match how {
            Told::Closely => groups.last_mut().filter(|group| joins(group)),
            Told::ByDay | Told::ByTask => groups.iter_mut().find(|group| joins(group)),
        };
        match group {
            Some(group) => group.push(sitting),
            None => groups.push(vec![sitting]),
        }
    }
    groups
}

impl<'p> Row<'p> {
    fn of(group: &[&'p Booked], how: Told) -> Option<Self> {
        let (first, last) = (group.first()?, group.last()?);
        let looks = || group.iter().flat_map(|sitting| &sitting.looks).copied();
        let next = || group.iter().map(|sitting| sitting.next_from);
        let closely = |found: Option<[DateTime; 2]>| found.filter(|_| how != Told::ByTask);
        Some(Self {
            what: &first.what,
            coat: match first.task {
                Task::Step { coat, of, .. } => Some([coat, of]),
                Task::Look { .. } => None,
            },
            sittings: group.len(),
            begins: first.begins,
            ends: last.ends,
            pieces: pieces(group),
            trays: (how == Told::Closely)
                .then(|| group.iter().flat_map(|sitting| &sitting.trays).sum()),
            mixes: (group.iter())
                .filter_map(|sitting| sitting.mixes)
                .reduce(|a, b| a + b),
            looks: closely(looks().min().zip(looks().max()).map(<[_; 2]>::from)),
            next_from: closely(next().min().zip(next().max()).map(<[_; 2]>::from)),
        })
    }
}

/// The kinds of piece in some sittings, each once.
fn pieces<'p>(group: &[&'p Booked]) -> Vec<(&'p str, u64)> {
    let mut pieces: Vec<(&str, u64)> = Vec::new();
    for (name, count) in group.iter().flat_map(|sitting| &sitting.pieces) {
        match pieces.iter_mut().find(|(known, _)| known == name) {
            Some((_, sum)) => *sum += count,
            None => pieces.push((name, *count)),
        }
    }
    pieces
}
