//! The work of a run in its order, as a list short enough for a page.

use std::borrow::Borrow;
use std::collections::HashMap;

use jiff::civil::DateTime;

use crate::consumption::Faces;
use crate::plan::{Booked, Calendar, Cupful, StepPlan, Task};
use crate::show::words;

/// Up to so many kinds of piece go by their names wherever they stand, if none is longer than this
/// and there are no more rows of work.
const FEW_KINDS: usize = 3;
const LONG_NAME: usize = 28;
const MANY_ROWS: usize = 40;

/// What a page and what two pages have room for beside all else, in rows of one line (measured on
/// sheets of the smaller usual paper, Letter).
const ONE_PAGE: f64 = 23.0;
const TWO_PAGES: f64 = 75.0;
/// What each kind of piece past the second takes of that: its own fill, and what came of it.
const KIND: f64 = 2.3;
/// What a further line of a row takes of it, and how many letters a line holds.
const LINE: f64 = 0.6;
const LETTERS: usize = 43;
/// Unlike mixes of one row are told where they are so few.
pub(super) const MOST_CUPFULS: usize = 2;

/// Whether kinds of piece go by letters in lists: there are many, or their names are long, or there
/// are so many rows of work that each must be short.
pub(super) fn by_letters<'n>(names: impl Iterator<Item = &'n str>, rows: usize) -> bool {
    let mut kinds = 0;
    let long = names.filter(|name| {
        kinds += 1;
        is_long(name)
    });
    long.count() > 0 || kinds > FEW_KINDS || rows > MANY_ROWS
}

/// Whether a name is too long for a list.
pub(super) fn is_long(name: &str) -> bool {
    name.chars().count() > LONG_NAME
}

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
    /// What is waited for after the last of them may be touched, and until when. `None`: nothing, or each for itself.
    pub goes_on: Option<(&'static str, DateTime)>,
    /// By when the first of their next coats has to be begun. `None`: at any time, or each for itself.
    pub next_by: Option<DateTime>,
    /// When to look for bubbles first and last. `None`: never, or too often to tell.
    pub looks: Option<[DateTime; 2]>,
    /// What goes into the mixes and for which pieces, those alike together with how many they are; nothing where
    /// nothing is mixed or nobody can tell.
    pub cupfuls: Vec<(u64, &'p Cupful)>,
    /// Until when the first and the last of the waves are left alone. `None`: too often to tell.
    pub leave_until: Option<[DateTime; 2]>,
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

/// The sittings of a calendar, told as closely as a page has room for, or else two pages: a row for
/// each sitting, or for each task of an evening. What two pages don't hold goes by the task.
pub(super) fn rows(calendar: &Calendar) -> Vec<Row<'_>> {
    let told = |how| -> Vec<Row<'_>> {
        let groups = together(&calendar.sittings, how);
        groups
            .iter()
            .filter_map(|group| Row::of(group, how))
            .collect()
    };
    let [closely, by_day] = [Told::Closely, Told::ByDay].map(told);
    let mut kinds = Vec::new();
    for (name, _) in closely.iter().flat_map(|row| &row.pieces) {
        if !kinds.contains(name) {
            kinds.push(*name);
        }
    }
    let more: f64 = kinds.iter().skip(2).map(|_| KIND).sum();
    let fits = |rows: &[Row<'_>], room: f64| {
        let letters = by_letters(kinds.iter().copied(), rows.len());
        let takes: f64 = rows.iter().map(|row| row.takes(letters)).sum();
        takes <= room - more
    };
    for room in [ONE_PAGE, TWO_PAGES] {
        if fits(&closely, room) {
            return closely;
        }
        if fits(&by_day, room) {
            return by_day;
        }
    }
    let by_task = in_order(together(&calendar.sittings, Told::ByTask));
    let rows = by_task.iter();
    rows.filter_map(|group| Row::of(group, Told::ByTask))
        .collect()
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

/// Groups in the order in which every kind of piece goes through them, and else in that in which
/// they begin: one of several kinds may begin before the rest of them are ready for it.
fn in_order(mut groups: Vec<Vec<&Booked>>) -> Vec<Vec<&Booked>> {
    let mut told = Vec::with_capacity(groups.len());
    let mut firsts: Vec<_> = groups.iter().map(|group| first_begun(group)).collect();
    while !groups.is_empty() {
        let is_first = |at: &usize| {
            let sooner = |other: &HashMap<&str, DateTime>| {
                let mut kinds = firsts[*at].iter();
                kinds.any(|(kind, begun)| other.get(kind).is_some_and(|sooner| sooner < begun))
            };
            !firsts.iter().any(sooner)
        };
        // kinds that go through two tasks in turn have no such order
        let next = (0..groups.len()).find(is_first).unwrap_or(0);
        firsts.remove(next);
        told.push(groups.remove(next));
    }
    told
}

/// When each kind of piece first comes to any of these.
fn first_begun<'p>(group: &[&'p Booked]) -> HashMap<&'p str, DateTime> {
    let mut first = HashMap::new();
    for sitting in group {
        for (kind, _) in &sitting.pieces {
            let begun = first.entry(kind.as_str()).or_insert(sitting.begins);
            *begun = sitting.begins.min(*begun);
        }
    }
    first
}

impl<'p> Row<'p> {
    fn of(group: &[&'p Booked], how: Told) -> Option<Self> {
        let (first, last) = (group.first()?, group.last()?);
        let looks = || group.iter().flat_map(|sitting| &sitting.looks).copied();
        let next = || group.iter().map(|sitting| sitting.leave_until());
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
            cupfuls: cupfuls(group.iter().copied()),
            looks: closely(looks().min().zip(looks().max()).map(<[_; 2]>::from)),
            leave_until: closely(next().min().zip(next().max()).map(<[_; 2]>::from)),
            goes_on: goes_on(group).filter(|_| how != Told::ByTask),
            next_by: next_by(group).filter(|_| how != Told::ByTask),
        })
    }
}

impl Row<'_> {
    /// About how much room it takes, in rows of one line.
    fn takes(&self, letters: bool) -> f64 {
        let named = |name: &str| if letters { 2 } else { name.chars().count() };
        let pieces = self.pieces.iter().map(|(name, _)| named(name) + 5);
        let mut all = self.what.chars().count() + pieces.sum::<usize>();
        // what stands around those: ", coat 1 of 2", "; 4 trays", "; look for bubbles 09:42–11:02"
        all += self.coat.map_or(0, |[_, of]| if of > 1 { 13 } else { 0 });
        all += self.trays.map_or(0, |_| 9) + self.mixes.map_or(0, |_| 9);
        // " 3 of A 12.3 g + B 11.2 g for 10 each,", where they are told
        if self.cupfuls.len() > MOST_CUPFULS {
            all += 14;
        } else {
            let kinds = |(_, cupful): &(u64, &Cupful)| cupful.pieces.len();
            all += self
                .cupfuls
                .iter()
                .map(|of| 30 + 8 * kinds(of))
                .sum::<usize>();
        }
        all += self.looks.map_or(0, |_| 31);
        // the narrow column beside it: a time, and two lines for each more
        let left =
            1 + 2 * usize::from(self.goes_on.is_some()) + 2 * usize::from(self.next_by.is_some());
        let further = (1..all.div_ceil(LETTERS).max(left)).map(|_| LINE);
        1.0 + further.sum::<f64>()
    }
}

/// On which face a coat of a step lies, of so many over all its faces; `None` where it coats one.
pub(super) fn face(step: &str, [coat, of]: [u32; 2], steps: &[StepPlan]) -> Option<&'static str> {
    let step = steps.iter().find(|it| it.name == step)?;
    match step.faces {
        Faces::One => None,
        Faces::Both if coat <= of / 2 => Some("first face"),
        Faces::Both => Some("other face"),
    }
}

/// The same after a comma; nothing where it coats one.
pub(super) fn on_face(step: &str, coat: [u32; 2], steps: &[StepPlan]) -> String {
    face(step, coat, steps).map_or_else(String::new, |face| format!(", {face}"))
}

/// What the last of some sittings waits for after it may be touched, and until when; `None` where nothing does.
pub(super) fn goes_on<B: Borrow<Booked>>(sittings: &[B]) -> Option<(&'static str, DateTime)> {
    let sittings = || sittings.iter().map(Borrow::borrow);
    let left = sittings().map(Booked::leave_until).max()?;
    let last = sittings().max_by_key(|sitting| sitting.next_from)?;
    (last.next_from > left).then(|| (words::next(last.waits_for), last.next_from))
}

/// By when the first of some sittings' next coats has to be begun.
pub(super) fn next_by<B: Borrow<Booked>>(sittings: &[B]) -> Option<DateTime> {
    let sittings = sittings.iter().map(Borrow::borrow);
    sittings.filter_map(|sitting| sitting.next_by).min()
}

/// The mixes of some sittings, those alike together with how many they are.
pub(super) fn cupfuls<'p>(sittings: impl Iterator<Item = &'p Booked>) -> Vec<(u64, &'p Cupful)> {
    let mut all: Vec<(u64, &Cupful)> = Vec::new();
    for cupful in sittings.flat_map(|sitting| &sitting.cupfuls) {
        let alike = |known: &Cupful| known.pieces == cupful.pieces && known.holds == cupful.holds;
        match all.iter_mut().find(|(_, known)| alike(known)) {
            Some((many, _)) => *many += cupful.mixes,
            None => all.push((cupful.mixes, cupful)),
        }
    }
    all
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
