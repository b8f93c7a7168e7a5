//! Cord, chain or wire cut from spools, with no joins.

use std::collections::HashSet;

use super::UseError;
use super::check::{self, MOST_COUNTED, number};
use crate::quantity::Length;

/// Most kinds of length that are cut together.
pub const MOST_LENGTHS: usize = 200;

/// Most steps of the search for fewer spools than the simple way takes.
pub const MOST_STEPS: u32 = 100_000;

/// Most spools times lengths that the search goes through: it calls itself once for each.
const MOST_DEPTH: usize = 2_000;

/// A piece fits although it is longer by this share: the rounding of turned units.
const SLACK: f64 = 1e-9;

/// So many pieces of one length.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cut {
    /// How long each is, `[m]`, above 0 and no longer than a whole spool.
    pub length: Length,
    /// How many, `[1]`.
    pub pieces: u64,
}

/// Spools that are all cut the same way.
#[derive(Debug, Clone, PartialEq)]
pub struct Cutting {
    /// How many such spools, `[1]`.
    pub spools: u64,
    /// Whether they are new; else open ones from stock.
    pub new: bool,
    /// What each holds before it is cut, `[m]`.
    pub holds: Length,
    /// Pieces cut from each, `[1]`, in the order of the lengths given.
    pub pieces: Vec<u64>,
    /// What is left on each, `[m]`.
    pub left: Length,
}

/// How many spools it takes, and how they are cut.
#[derive(Debug, Clone, PartialEq)]
pub struct Spools {
    /// New spools to open, `[1]`.
    pub new: u64,
    /// No way of cutting takes fewer than this, `[1]`: where it is [`new`](Self::new), that is the least.
    pub at_least: u64,
    /// What the pieces take together, `[m]`.
    pub taken: Length,
    /// How the spools are cut; those in stock that stay whole are not listed.
    pub cuttings: Vec<Cutting>,
}

/// The fewest new spools that pieces of some lengths take after what is left on open ones.
///
/// Of one length it is exact: each spool gives `floor(left / length)`. Of
/// several, the longest are cut first, each from the first spool that has it
/// (first fit, decreasing). Where that takes more than the bound
///
/// ```text
/// at least ceil((sum of lengths - what the open spools can give) / spool)
/// at least ceil((pieces of L or longer - those the open spools give) / floor(spool / L)), each L
/// ```
///
/// a search tries every way of cutting with fewer, where spools times lengths are
/// no more than 2 000. It stops after [`MOST_STEPS`]; then `at_least` tells what is proved.
///
/// # Errors
///
/// [`UseError::OutOfRange`] for a length outside its range, [`UseError::TooMany`]
/// above [`MOST_LENGTHS`] or 1 000 000 000 pieces.
pub fn spools(cuts: &[Cut], spool: Length, have: &[Length]) -> Result<Spools, UseError> {
    let task = Task::of(cuts, spool, have)?;
    let simple = task.first_fit();
    let mut new = simple
        .iter()
        .filter(|bin| bin.new)
        .map(|bin| bin.count)
        .sum();
    let bound = task.bound();
    let mut at_least = bound.min(new);
    let mut bins = simple;
    while at_least < new {
        match task.search(at_least) {
            Searched::Way(found) => {
                new = at_least;
                bins = found;
            }
            Searched::None => at_least += 1,
            Searched::Untold => break,
        }
    }
    Ok(Spools {
        new,
        at_least,
        taken: Length::from_m(task.taken()),
        cuttings: task.told(bins),
    })
}

/// Spools alike: what is left on each, and what was cut from it.
#[derive(Debug, Clone, PartialEq)]
struct Bin {
    count: u64,
    new: bool,
    holds: f64,
    left: f64,
    /// In the order of the sorted lengths.
    pieces: Vec<u64>,
}

enum Searched {
    Way(Vec<Bin>),
    None,
    Untold,
}

struct Task {
    /// Lengths, longest first, each with its place in the list given.
    lengths: Vec<(f64, usize)>,
    wanted: Vec<u64>,
    spool: f64,
    /// Shortest first, to use up small ends.
    have: Vec<f64>,
}

impl Task {
    fn of(cuts: &[Cut], spool: Length, have: &[Length]) -> Result<Self, UseError> {
        check::at_most(
            "the kinds of length",
            cuts.len() as u64,
            MOST_LENGTHS as u64,
        )?;
        let spool = check::positive("what a spool holds in m", spool.m())?;
        let mut sorted = Vec::with_capacity(cuts.len());
        let mut all = 0_u64;
        for (place, cut) in cuts.iter().enumerate() {
            let length = check::positive("a piece's length in m", cut.length.m())?;
            if times(spool, length) == 0 && cut.pieces > 0 {
                return Err(UseError::OutOfRange {
                    what: "a piece's length in m",
                    value: length,
                    allowed: "at most what a whole spool holds",
                });
            }
            all = all.saturating_add(cut.pieces);
            sorted.push((length, place));
        }
        check::at_most("the pieces to cut", all, MOST_COUNTED)?;
        sorted.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        let mut ends = Vec::with_capacity(have.len());
        for &end in have {
            ends.push(check::length("what is left on a spool in m", end)?);
        }
        ends.sort_by(f64::total_cmp);
        Ok(Self {
            wanted: sorted
                .iter()
                .map(|&(_, place)| cuts[place].pieces)
                .collect(),
            lengths: sorted,
            spool,
            have: ends,
        })
    }

    fn taken(&self) -> f64 {
        (self.lengths.iter().zip(&self.wanted))
            .map(|(&(length, _), &wanted)| length * number(wanted))
            .sum()
    }

    /// No way of cutting takes fewer new spools.
    fn bound(&self) -> u64 {
        let by_count = (0..self.lengths.len()).map(|kind| self.bound_by_count(kind));
        by_count.fold(self.bound_by_length(), u64::max)
    }

    /// By what all pieces take together. An end gives nothing where even the shortest is longer.
    fn bound_by_length(&self) -> u64 {
        let shortest = (self.lengths.iter().zip(&self.wanted))
            .filter(|(_, wanted)| **wanted > 0)
            .map(|(&(length, _), _)| length)
            .fold(f64::INFINITY, f64::min);
        let useful = self.have.iter().filter(|&&end| times(end, shortest) > 0);
        let lacking = (self.taken() - useful.sum::<f64>()).max(0.0);
        check::whole((lacking / self.spool * (1.0 - SLACK)).ceil())
    }

    /// By how many pieces as long as one kind or longer a spool gives. Of one length this is exact.
    fn bound_by_count(&self, kind: usize) -> u64 {
        let length = self.lengths[kind].0;
        let wanted: u64 = self.wanted[..=kind].iter().sum();
        let from_ends: u64 = self.have.iter().map(|&end| times(end, length)).sum();
        (wanted.saturating_sub(from_ends)).div_ceil(times(self.spool, length).max(1))
    }

    fn empty(&self, holds: f64, new: bool, count: u64) -> Bin {
        Bin {
            count,
            new,
            holds,
            left: holds,
            pieces: vec![0; self.lengths.len()],
        }
    }

    /// First fit, decreasing; spools alike are held as one.
    fn first_fit(&self) -> Vec<Bin> {
        let mut bins: Vec<Bin> = self
            .have
            .iter()
            .map(|&end| self.empty(end, false, 1))
            .collect();
        for (kind, &(length, _)) in self.lengths.iter().enumerate() {
            let mut left = self.wanted[kind];
            let mut next = Vec::with_capacity(bins.len() + 2);
            for bin in bins {
                cut_from(bin, (kind, length), &mut left, &mut next);
            }
            if left > 0 {
                let opened = left.div_ceil(times(self.spool, length));
                let new = self.empty(self.spool, true, opened);
                cut_from(new, (kind, length), &mut left, &mut next);
            }
            bins = next;
        }
        bins
    }

    /// Tries every way of cutting with so many new spools.
    fn search(&self, new: u64) -> Searched {
        let Ok(new) = usize::try_from(new) else {
            return Searched::Untold;
        };
        if (self.have.len().saturating_add(new)).saturating_mul(self.lengths.len() + 1) > MOST_DEPTH
        {
            return Searched::Untold;
        }
        let ends = self.have.iter().map(|&end| (end, false));
        let mut search = Search {
            task: self,
            bins: ends.chain((0..new).map(|_| (self.spool, true))).collect(),
            ways: Vec::new(),
            failed: HashSet::new(),
            steps: 0,
        };
        match search.spool(0, &mut self.wanted.clone()) {
            Some(true) => Searched::Way(search.found()),
            Some(false) => Searched::None,
            None => Searched::Untold,
        }
    }

    fn told(&self, bins: Vec<Bin>) -> Vec<Cutting> {
        let used = bins
            .into_iter()
            .filter(|bin| bin.pieces.iter().any(|&n| n > 0));
        used.map(|bin| {
            let mut pieces = vec![0; bin.pieces.len()];
            for (&(_, place), &count) in self.lengths.iter().zip(&bin.pieces) {
                pieces[place] = count;
            }
            Cutting {
                spools: bin.count,
                new: bin.new,
                holds: Length::from_m(bin.holds),
                pieces,
                left: Length::from_m(bin.left.max(0.0)),
            }
        })
        .collect()
    }
}

/// How many pieces of a length a stretch gives.
fn times(stretch: f64, length: f64) -> u64 {
    check::whole((stretch / length * (1.0 + SLACK)).floor().max(0.0))
}

/// Cuts what is still wanted from spools alike, which may then be alike no more.
fn cut_from(bin: Bin, (kind, length): (usize, f64), left: &mut u64, out: &mut Vec<Bin>) {
    let each = times(bin.left, length);
    if each == 0 || *left == 0 {
        out.push(bin);
        return;
    }
    let mut rest = bin.count;
    let mut cut = |count: u64, pieces: u64| {
        if count > 0 {
            let mut cut = bin.clone();
            cut.count = count;
            cut.pieces[kind] += pieces;
            cut.left -= number(pieces) * length;
            out.push(cut);
        }
    };
    let whole = (*left / each).min(rest);
    cut(whole, each);
    *left -= whole * each;
    rest -= whole;
    if rest > 0 && *left > 0 {
        // fewer than a spool gives
        cut(1, *left);
        *left = 0;
        rest -= 1;
    }
    cut(rest, 0);
}

/// A search through every way of cutting, spool after spool.
///
/// Each spool is cut until nothing more that is wanted fits: a way that
/// leaves more can be turned into one that does not by moving pieces to it.
struct Search<'t> {
    task: &'t Task,
    bins: Vec<(f64, bool)>,
    ways: Vec<Vec<u64>>,
    failed: HashSet<(usize, Vec<u64>)>,
    steps: u32,
}

impl Search<'_> {
    /// Whether the spools from `at` on can be cut into what is wanted; `None`: too many steps.
    fn spool(&mut self, at: usize, wanted: &mut Vec<u64>) -> Option<bool> {
        if wanted.iter().all(|&n| n == 0) {
            return Some(true);
        }
        let free: f64 = self.bins[at..].iter().map(|bin| bin.0).sum();
        let asked: f64 = (self.task.lengths.iter().zip(wanted.iter()))
            .map(|(&(length, _), &n)| length * number(n))
            .sum();
        if asked > free * (1.0 + SLACK) || self.failed.contains(&(at, wanted.clone())) {
            return Some(false);
        }
        let way = vec![0; wanted.len()];
        let holds = self.bins.get(at)?.0;
        let done = self.ways_of(at, (0, holds), way, wanted)?;
        if !done {
            self.failed.insert((at, wanted.clone()));
        }
        Some(done)
    }

    /// Tries every full way of cutting one spool, the longest pieces first.
    fn ways_of(
        &mut self,
        at: usize,
        (kind, left): (usize, f64),
        mut way: Vec<u64>,
        wanted: &mut Vec<u64>,
    ) -> Option<bool> {
        self.steps += 1;
        if self.steps > MOST_STEPS {
            return None;
        }
        if kind == way.len() {
            let lengths = &self.task.lengths;
            let more = (0..kind).any(|k| wanted[k] > 0 && times(left, lengths[k].0) > 0);
            if more {
                return Some(false);
            }
            self.ways.push(way);
            let done = self.spool(at + 1, wanted)?;
            if !done {
                self.ways.pop();
            }
            return Some(done);
        }
        let length = self.task.lengths[kind].0;
        let most = times(left, length).min(wanted[kind]);
        for n in (0..=most).rev() {
            way[kind] = n;
            wanted[kind] -= n;
            let done = self.ways_of(
                at,
                (kind + 1, left - number(n) * length),
                way.clone(),
                wanted,
            );
            wanted[kind] += n;
            if done != Some(false) {
                return done;
            }
        }
        Some(false)
    }

    /// The way that was found, spools cut alike put together.
    fn found(self) -> Vec<Bin> {
        let mut bins: Vec<Bin> = Vec::new();
        for (way, &(holds, new)) in self.ways.iter().zip(&self.bins) {
            let taken =
                (self.task.lengths.iter().zip(way)).map(|(&(length, _), &n)| length * number(n));
            let bin = Bin {
                count: 1,
                new,
                holds,
                left: holds - taken.sum::<f64>(),
                pieces: way.clone(),
            };
            match bins.last_mut() {
                Some(last)
                    if last.new == bin.new
                        && last.pieces == bin.pieces
                        && last.holds.to_bits() == bin.holds.to_bits() =>
                {
                    last.count += 1;
                }
                _ => bins.push(bin),
            }
        }
        bins
    }
}
