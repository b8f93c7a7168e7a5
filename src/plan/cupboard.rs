//! Whether the cupboard that coats dry in is as full as its maker says.

use jiff::civil::DateTime;

use super::calendar::{Booked, Dates};
use super::chain::Task;
use super::planner::Bench;
use super::{Notes, Warning};
use crate::quantity::{Length, Volume};

/// What is in the cupboard at once, at the most.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Fullest {
    /// Wet pieces.
    pieces: u64,
    /// When those first are. `None`: none ever are.
    at: Option<DateTime>,
    /// The least room that its trays take up. `None`: no trays are told of.
    takes: Option<Volume>,
}

impl Fullest {
    /// By the sittings, and the trays in use over time.
    pub(super) fn of<'t>(
        bench: &Bench,
        sittings: &[Booked],
        trays: impl Iterator<Item = &'t [u32]>,
    ) -> Self {
        if bench.run.room.shut_in.is_none() {
            return Self::default();
        }
        let (at, pieces) = wettest(bench, sittings).unzip();
        Self {
            pieces: pieces.unwrap_or(0),
            at,
            takes: trays.map(|trays| taken(bench, trays)).reduce(larger),
        }
    }

    /// The fuller of two.
    pub(super) fn or(self, other: Self) -> Self {
        let (most, less) = if other.pieces > self.pieces {
            (other, self)
        } else {
            (self, other)
        };
        Self {
            takes: most.takes.into_iter().chain(less.takes).reduce(larger),
            ..most
        }
    }
}

fn larger(a: Volume, b: Volume) -> Volume {
    if b > a { b } else { a }
}

/// Warns of a cupboard that holds more wet pieces at once than the file says, and of one that is too
/// small for its trays.
pub(super) fn warn(bench: &Bench, dates: &Dates, notes: &mut Notes) {
    let Some(shut) = &bench.run.room.shut_in else {
        return;
    };
    let fullest = match dates {
        Dates::Told(calendar) => {
            let trays = calendar.occupied.iter().map(|(_, trays)| trays.as_slice());
            Fullest::of(bench, &calendar.sittings, trays)
        }
        // its moments are of no certain week
        Dates::Undated(undated) => Fullest {
            at: None,
            ..undated.fullest
        },
        Dates::Untold { .. } | Dates::Never(_) => Fullest {
            takes: one_tray(bench),
            ..Fullest::default()
        },
    };
    if fullest.pieces > u64::from(shut.pieces()) {
        notes.warnings.push(Warning::CupboardFuller {
            told: shut.pieces(),
            most: fullest.pieces,
            at: fullest.at,
        });
    }
    if let Some(takes) = fullest.takes
        && takes > shut.volume()
    {
        notes.warnings.push(Warning::CupboardTooSmall {
            holds: shut.volume(),
            takes,
        });
    }
}

/// When the most pieces lie wet in the cupboard, and how many.
fn wettest(bench: &Bench, sittings: &[Booked]) -> Option<(DateTime, u64)> {
    let mut stays: Vec<Stay> = Vec::new();
    for sitting in sittings {
        let Some(until) = wet_until(bench, sitting) else {
            continue;
        };
        let pieces = sitting.pieces.iter().map(|(_, count)| count).sum();
        // a further coat on pieces that are still wet makes them no more
        let same = stays
            .iter_mut()
            .rev()
            .find(|stay| stay.wave == sitting.wave && sitting.begins < stay.until);
        match same {
            Some(stay) => stay.until = until.max(stay.until),
            None => stays.push(Stay {
                wave: sitting.wave,
                pieces,
                from: sitting.begins,
                until,
            }),
        }
    }
    let at = |now: DateTime| -> u64 {
        let here = stays
            .iter()
            .filter(|stay| stay.from <= now && now < stay.until);
        here.map(|stay| stay.pieces).sum()
    };
    let all = stays.iter().map(|stay| (stay.from, at(stay.from)));
    // of several as full the first
    all.reduce(|most, other| if other.1 > most.1 { other } else { most })
}

/// Pieces of a wave that lie wet.
struct Stay {
    wave: usize,
    pieces: u64,
    from: DateTime,
    until: DateTime,
}

/// Until when a sitting's pieces lie wet in the cupboard: till its maker can first take them out, dry
/// to handle. Nothing for those that are not wet, or lie under lids of their own.
fn wet_until(bench: &Bench, sitting: &Booked) -> Option<DateTime> {
    let Task::Step { step, .. } = sitting.task else {
        return None;
    };
    bench.run.steps[step].work.coating()?;
    let mut trays = sitting.trays.iter().zip(&bench.run.trays);
    let open =
        bench.run.trays.is_empty() || trays.any(|(&taken, tray)| taken > 0 && tray.lid.is_none());
    sitting.lifted.filter(|_| open)
}

/// The least room that trays with pieces on them take up: their surface as high as the lowest piece that
/// the file tells the thickness of, for whatever lies on a tray keeps the next one that far off.
fn taken(bench: &Bench, trays: &[u32]) -> Volume {
    let heights = bench
        .run
        .pieces
        .iter()
        .zip(bench.pieces)
        .map(|(piece, made)| {
            let blank = bench.run.blanks[piece.blank].thickness;
            let domes = made.fills.iter().map(|fill| fill.wet_depth);
            let dome = domes.fold(Length::ZERO, |a, b| if b > a { b } else { a });
            blank.unwrap_or(Length::ZERO) + dome
        });
    let lowest = heights
        .reduce(|a, b| if b < a { b } else { a })
        .unwrap_or(Length::ZERO);
    let open = (trays.iter().zip(&bench.space.trays).zip(&bench.run.trays))
        .filter(|(_, tray)| tray.lid.is_none());
    open.map(|((&used, plan), _)| plan.area * lowest * f64::from(used))
        .sum()
}

/// The least room that one tray takes up, of the smallest kind that something lies on without a lid.
fn one_tray(bench: &Bench) -> Option<Volume> {
    let kinds = bench.run.trays.iter().zip(&bench.space.trays).enumerate();
    let open = kinds
        .filter(|(_, (tray, plan))| tray.lid.is_none() && plan.holds.iter().any(Option::is_some));
    let each = open.map(|(kind, _)| {
        let mut one = vec![0; bench.run.trays.len()];
        one[kind] = 1;
        taken(bench, &one)
    });
    each.min_by(|a, b| a.m3().total_cmp(&b.m3()))
}
