//! When everything happens: the latest start, the sittings, the chance of being ready.

use std::collections::BTreeMap;

use jiff::civil::{Date, DateTime};

use super::Undated;
use super::chain::Task;
use super::cupfuls::Cupful;
use super::uses::Sat;
use crate::quantity::{Share, Time};
use crate::schedule::{HoursError, Limits};
use crate::stage::Stage;

/// What a run's dates come to.
#[derive(Debug, Clone, PartialEq)]
pub enum Dates {
    /// The run names neither a date to be ready by nor one to start on: as it goes in any week.
    Undated(Box<Undated>),
    /// How long a step takes can't be told, so nothing after it has a date.
    Untold {
        /// The step.
        step: String,
    },
    /// No order of work does it, whenever it begins.
    Never(NoDates),
    /// As worked out.
    Told(Box<Calendar>),
}

impl Dates {
    /// The calendar, where dates are told.
    #[must_use]
    pub fn calendar(&self) -> Option<&Calendar> {
        match self {
            Self::Told(calendar) => Some(calendar),
            Self::Undated(_) | Self::Untold { .. } | Self::Never(_) => None,
        }
    }

    /// In how many waves one kind of piece goes through a step of so many coats, at the most; one
    /// where the work can't be laid out.
    pub(super) fn waves(&self, step: usize, piece: &str, coats: u32) -> u64 {
        let of_it = |all: &ByPiece| all.get(&(step, piece.to_owned())).copied().unwrap_or(0);
        let sat = match self {
            Self::Told(calendar) => of_it(&by_piece(&calendar.sittings)),
            Self::Undated(undated) => of_it(&undated.by_piece),
            Self::Untold { .. } | Self::Never(_) => return 1,
        };
        sat.div_ceil(u64::from(coats.max(1)))
    }

    /// How a run goes that names no date.
    #[must_use]
    pub fn undated(&self) -> Option<&Undated> {
        match self {
            Self::Undated(undated) => Some(undated),
            Self::Told(_) | Self::Untold { .. } | Self::Never(_) => None,
        }
    }

    /// Hands-on time in all. `None`: the work can't be laid out.
    #[must_use]
    pub fn hands_on(&self) -> Option<Time> {
        let undated = self.undated().map(|undated| undated.hands_on);
        undated.or_else(|| Some(self.calendar()?.hands_on))
    }

    /// How often each step's tool is cleaned, or its cup mixed; nothing where the work can't be laid out.
    pub(super) fn sat(&self) -> Sat {
        match self {
            Self::Undated(undated) => undated.sat.clone(),
            Self::Told(calendar) => sat(&calendar.sittings),
            Self::Untold { .. } | Self::Never(_) => Sat::new(),
        }
    }
}

/// How often each step, by its number, sits with each kind of piece, by its name.
pub(super) type ByPiece = BTreeMap<(usize, String), u64>;

/// How often each step sits with each kind of piece in some sittings.
pub(super) fn by_piece(sittings: &[Booked]) -> ByPiece {
    let mut by_piece = ByPiece::new();
    for sitting in sittings {
        if let Task::Step { step, .. } = sitting.task {
            for (piece, _) in &sitting.pieces {
                *by_piece.entry((step, piece.clone())).or_default() += 1;
            }
        }
    }
    by_piece
}

/// How often each step's tool is cleaned in some sittings, or its cup mixed.
pub(super) fn sat(sittings: &[Booked]) -> Sat {
    let mut sat = Sat::new();
    for sitting in sittings {
        if let Task::Step { step, .. } = sitting.task {
            let mixes = sitting.mixes.and_then(|mixes| u32::try_from(mixes).ok());
            *sat.entry(step).or_default() += mixes.unwrap_or(1);
        }
    }
    sat
}

/// When everything happens.
#[derive(Debug, Clone, PartialEq)]
pub struct Calendar {
    /// When the first sitting begins.
    pub start: DateTime,
    /// When the last piece is ready, if all takes as long as it is planned to.
    pub ready: DateTime,
    /// How it stands to the date that it must be ready by.
    pub by: Option<By>,
    /// The sittings, in order.
    pub sittings: Vec<Booked>,
    /// Waves that the run is split into.
    pub waves: usize,
    /// Hands-on time in all.
    pub hands_on: Time,
    /// Trays in use: from when, and how many of each kind.
    pub occupied: Vec<(DateTime, Vec<u32>)>,
    /// When the most trays are in use, and how many of each kind. `None`: no trays are told of.
    pub busiest: Option<(DateTime, Vec<u32>)>,
    /// What keeps the run from being ready sooner, with the days that each limit takes.
    pub limits: Limits,
    /// What has to be ordered, and by when, soonest first.
    pub order_by: Vec<OrderBy>,
    /// Goods that keep the work waiting.
    pub(super) late: Vec<LateGoods>,
    /// What could be, were the work not laid out so that each coat comes while the one under it takes
    /// it. `None`: nothing else, or it is not.
    pub(super) otherwise: Option<Unkept>,
}

/// What could be if coats came too late for the ones under them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unkept {
    /// From a start of the maker's own.
    From {
        /// When the work could begin.
        begins: DateTime,
        /// When all could be ready.
        ready: DateTime,
    },
    /// The latest start that is likely in time.
    AsLateAs(DateTime),
    /// Some coats are laid later than they could be, and that costs no more than is told.
    Sooner,
}

/// How a calendar stands to the date that the run must be ready by.
#[derive(Debug, Clone, PartialEq)]
pub struct By {
    /// That date.
    pub deadline: DateTime,
    /// The last spell of work to begin with and be as surely ready as wanted, by doing the run many
    /// times over. `None`: none within four months is, or it can't be told.
    pub sure_start: Option<DateTime>,
    /// The latest start if all takes as long as is likely: more or less even chances.
    /// `None`: not even so.
    pub likely_start: Option<DateTime>,
    /// The chance of being ready from the calendar's own start. `None`: a wait's band has no upper
    /// end, or more pieces are made than are drawn.
    pub chance: Option<Chance>,
    /// Whether even if all takes as long as is likely the run is ready too late.
    pub too_late: bool,
}

/// One sitting.
#[derive(Debug, Clone, PartialEq)]
pub struct Booked {
    /// What is done.
    pub task: Task,
    /// In words: the step's name.
    pub what: String,
    /// Which wave, from 1.
    pub wave: usize,
    /// The kinds of piece, and how many of each, on average, have come this far.
    pub pieces: Vec<(String, u64)>,
    /// When it begins.
    pub begins: DateTime,
    /// When its first piece is at hand: after what is set up.
    pub first_pour: DateTime,
    /// When it ends.
    pub ends: DateTime,
    /// From when the wave's next sitting can begin, or the wave is ready.
    pub next_from: DateTime,
    /// The stage of its coat that is waited for till then, or of an earlier one: being dry through, or
    /// ready to bag where its label tells that later, or alone. `None`: no coat's.
    pub waits_for: Option<Stage>,
    /// By when the next coat on its own has to be begun, by the label. `None`: it has no such time, no coat
    /// follows, or that one comes later, which is warned of.
    pub next_by: Option<DateTime>,
    /// When its pieces are lifted, off their trays where they lie on some: the first minute in the
    /// hours of work at which they are dry to handle. `None`: it leaves nothing to dry.
    pub lifted: Option<DateTime>,
    /// When to look for bubbles: after the first and after the last pour.
    pub looks: Vec<DateTime>,
    /// Trays of each kind that it holds.
    pub trays: Vec<u32>,
    /// Mixes to make. `None`: nothing is mixed, or nobody can tell.
    pub mixes: Option<u64>,
    /// What goes into them, and for which pieces; nothing where nothing is mixed or nobody can tell.
    pub cupfuls: Vec<Cupful>,
}

impl Booked {
    /// Until when its pieces are left alone: till they are lifted, where that
    /// comes before they can go on, for a coat may be dry to handle long before it is dry through.
    #[must_use]
    pub fn leave_until(&self) -> DateTime {
        self.lifted
            .map_or(self.next_from, |lifted| lifted.min(self.next_from))
    }
}

/// Something to order.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderBy {
    /// What.
    pub what: String,
    /// The last day to order it.
    pub by: Date,
    /// When it is first wanted.
    pub wanted: DateTime,
}

/// Goods that come after the work could take them, ordered on the day of the maker's start.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct LateGoods {
    /// What.
    pub what: String,
    /// The last day to order it and not be waited for.
    pub by: Date,
    /// When it comes.
    pub comes: DateTime,
    /// The step that is the first to want it, in words.
    pub step: String,
    /// When that could begin if all goods were at hand.
    pub could: DateTime,
    /// When it begins.
    pub begins: DateTime,
}

/// Why a run can't be laid out in time.
#[derive(Debug, Clone, PartialEq)]
pub enum NoDates {
    /// Even for one piece a sitting is longer than any spell of work.
    TooLong {
        /// The step, in words.
        what: String,
        /// How long it takes at least.
        takes: Time,
        /// The longest spell that is left for it.
        longest: Time,
    },
    /// There is no spell of work at all.
    NoHours,
    /// The hours can't be.
    Hours(HoursError),
    /// Some piece fits on no tray, or no tray has a place.
    NoTrays,
    /// Nobody is awake to look for bubbles after a pour, whenever it is in the hours of work.
    Asleep {
        /// The step, in words.
        what: String,
    },
    /// A coat is never there, whatever hour of work it is laid in.
    NeverDries {
        /// The step, in words.
        what: String,
    },
    /// It would not be ready within two years of its start.
    TooMuch,
}

/// How often the run is ready, of many times that it is done with what isn't known drawn anew.
#[derive(Debug, Clone, PartialEq)]
pub struct Chance {
    /// In time.
    pub ready: Share,
    /// With as many good pieces as are wanted.
    pub enough: Share,
    /// Both.
    pub both: Share,
    /// When it is ready in 5, 50 and 95 of 100 cases. `None`: not in a hundred years.
    pub when: [Option<DateTime>; 3],
    /// How often it was tried.
    pub samples: u32,
    /// What the draws began from.
    pub seed: u64,
}
