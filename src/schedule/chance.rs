//! The chance of being ready: the timetable's order done many times over, with what is not
//! known drawn anew each time.
//!
//! Waits of one coating share a draw in each run, for the room and the label are wrong for
//! all its coats alike; so do the hands of one maker. What each sitting takes beside that is
//! drawn by itself.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

use super::engine::Bench;
use super::engine::Step;
use super::hours::Minute;
use super::task::{Task, Wait};
use super::timetable::Timetable;

/// The standard normal's 95 % point.
const Z95: f64 = 1.644_853_626_951_472_7;

/// How many times its likely value something comes to: its 5 %, 50 % and 95 % points.
/// Between and beyond them it is lognormal, with a spread of its own on either side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    /// The 5 % point, above 0.
    pub low: f64,
    /// The 95 % point, finite.
    pub high: f64,
}

impl Spread {
    /// Nothing is spread.
    pub const NONE: Self = Self {
        low: 1.0,
        high: 1.0,
    };

    /// How many times the likely value, at a standard normal deviate.
    fn at(self, z: f64) -> f64 {
        let side = if z < 0.0 { 1.0 / self.low } else { self.high };
        libm::exp(libm::log(side.max(1.0)) * z / Z95)
    }
}

/// How many times the likely value is not passed with a probability from a half up, where
/// the 95 % point is `high` times it.
#[must_use]
pub fn above_middle(high: f64, probability: f64) -> f64 {
    use statrs::distribution::{ContinuousCDF, Normal};
    let z = Normal::standard().inverse_cdf(probability);
    Spread { low: 1.0, high }.at(z.max(0.0))
}

/// What is drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Odds {
    /// How far each of the task's waits is spread, and which draw it shares with others.
    pub waits: Vec<(Spread, usize)>,
    /// How far the hands are off their figure.
    pub hands: Spread,
    /// How far each sitting is off that.
    pub sitting: Spread,
    /// For each kind of piece, the chance that enough of those started come out good.
    pub enough: Vec<f64>,
}

/// How often a run is ready.
#[derive(Debug, Clone, PartialEq)]
pub struct Chance {
    /// In time.
    pub ready: crate::quantity::Share,
    /// With enough good pieces.
    pub enough: crate::quantity::Share,
    /// Both.
    pub both: crate::quantity::Share,
    /// When it is ready in 5, 50 and 95 of 100 cases.
    pub when: [Minute; 3],
    /// How often it was tried.
    pub samples: u32,
    /// What the draws began from.
    pub seed: u64,
}

/// One try.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Try {
    ready: Minute,
    enough: bool,
}

/// How often the timetable's order, begun at its start, is ready by a deadline and with
/// enough good pieces.
///
/// The same seed gives the same answer on any machine: each try has a stream of draws of
/// its own, so that it does not matter which core makes it, and every minute is whole.
///
/// # Panics
/// Where the odds have fewer waits than the task.
#[must_use]
pub fn chance(
    task: &Task,
    timetable: &Timetable,
    odds: &Odds,
    deadline: Minute,
    (seed, samples): (u64, u32),
) -> Chance {
    let threads = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
    let tries = tries(task, timetable, odds, (seed, samples), threads);
    let share = |holds: &dyn Fn(&Try) -> bool| {
        let count = tries.iter().filter(|one| holds(one)).count();
        crate::quantity::Share::from_fraction(number(count) / number(tries.len().max(1)))
    };
    let mut when: Vec<Minute> = tries.iter().map(|one| one.ready).collect();
    when.sort_unstable();
    let at = |percent: usize| {
        let place = (when.len() * percent / 100).min(when.len().saturating_sub(1));
        when.get(place).copied().unwrap_or(timetable.ready)
    };
    Chance {
        ready: share(&|one| one.ready <= deadline),
        enough: share(&|one| one.enough),
        both: share(&|one| one.ready <= deadline && one.enough),
        when: [at(5), at(50), at(95)],
        samples,
        seed,
    }
}

/// Every try, in order, shared out over so many threads.
fn tries(
    task: &Task,
    timetable: &Timetable,
    odds: &Odds,
    (seed, samples): (u64, u32),
    threads: usize,
) -> Vec<Try> {
    let threads = u32::try_from(threads).unwrap_or(1).clamp(1, samples.max(1));
    let order: Vec<Step> = timetable
        .booked
        .iter()
        .map(|booked| (narrow(booked.wave), narrow(booked.sitting)))
        .collect();
    let part = |thread: u32| {
        let (order, mut draw) = (&order, Draw::new(task, timetable, odds, seed));
        let from = samples / threads * thread + thread.min(samples % threads);
        let count = samples / threads + u32::from(thread < samples % threads);
        (from..from + count)
            .map(|sample| draw.try_out(order, sample))
            .collect::<Vec<Try>>()
    };
    std::thread::scope(|scope| {
        let others: Vec<_> = (1..threads)
            .map(|thread| scope.spawn(move || part(thread)))
            .collect();
        let mut all = part(0);
        for other in others {
            match other.join() {
                Ok(tries) => all.extend(tries),
                Err(panic) => std::panic::resume_unwind(panic),
            }
        }
        all
    })
}

/// Room for the draws of one thread.
struct Draw<'t> {
    task: &'t Task,
    timetable: &'t Timetable,
    odds: &'t Odds,
    seed: u64,
    waits: Vec<Wait>,
    shared: Vec<f64>,
}

impl<'t> Draw<'t> {
    fn new(task: &'t Task, timetable: &'t Timetable, odds: &'t Odds, seed: u64) -> Self {
        let shares = odds.waits.iter().map(|&(_, shared)| shared + 1).max();
        Self {
            task,
            timetable,
            odds,
            seed,
            waits: task.waits.clone(),
            shared: vec![0.0; shares.unwrap_or(0)],
        }
    }

    fn try_out(&mut self, order: &[Step], sample: u32) -> Try {
        let mut rng = ChaCha8Rng::seed_from_u64(self.seed);
        rng.set_stream(u64::from(sample));
        for shared in &mut self.shared {
            *shared = normal(&mut rng);
        }
        for (number, wait) in self.task.waits.iter().enumerate() {
            let (spread, shared) = self.odds.waits[number];
            let times = spread.at(self.shared[shared]);
            self.waits[number] =
                Wait::by_hour(wait.minutes().map(|minutes| scaled(minutes, times)));
        }
        let hands = self.odds.hands.at(normal(&mut rng));
        let enough = self.odds.enough.iter().fold(true, |all, &chance| {
            // drawn for every kind, so that one kind's luck does not move another's
            all & (uniform(&mut rng) < chance)
        });
        let split = &self.task.splits[self.timetable.split];
        let bench = Bench::new(self.task, split, self.timetable.starts);
        let mut bench = bench.waiting(&self.waits);
        let mut ready = self.timetable.starts;
        for &(wave, sitting) in order {
            let own = self.odds.sitting.at(normal(&mut rng));
            let planned = split.waves[wave as usize].sittings[sitting as usize].work;
            let takes = scaled(planned, hands * own);
            match bench.book_taking((wave, sitting), Some(takes)) {
                Some(booked) => ready = ready.max(booked.next_from),
                None => {
                    return Try {
                        ready: Minute(i64::MAX),
                        enough,
                    };
                }
            }
        }
        Try { ready, enough }
    }
}

/// A draw from 0 up to but not 1, of 53 bits.
fn uniform(rng: &mut ChaCha8Rng) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "53 bits fit")]
    let bits = (rng.next_u64() >> 11) as f64;
    bits / 9_007_199_254_740_992.0
}

/// A standard normal deviate (Box and Muller 1958).
fn normal(rng: &mut ChaCha8Rng) -> f64 {
    // 1 - u is never 0
    let radius = libm::sqrt(-2.0 * libm::log(1.0 - uniform(rng)));
    radius * libm::cos(std::f64::consts::TAU * uniform(rng))
}

/// So many times as many minutes, to the nearest; a year at most.
fn scaled(minutes: u32, times: f64) -> u32 {
    let scaled = (f64::from(minutes) * times).round().min(525_600.0);
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "from 0 to a year"
    )]
    let scaled = scaled as u32;
    scaled
}

fn narrow(number: usize) -> u32 {
    u32::try_from(number).unwrap_or(u32::MAX)
}

#[expect(clippy::cast_precision_loss, reason = "a count of tries")]
const fn number(count: usize) -> f64 {
    count as f64
}
