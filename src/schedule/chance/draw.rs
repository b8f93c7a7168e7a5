//! One random run after another.

use std::ops::Range;

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

use super::NoChance;
use super::spread::{Law, Spreads};
use super::survivors::Survivors;
use crate::schedule::line::Line;
use crate::schedule::minute::{HORIZON, Minute};
use crate::schedule::prepared::{Flat, Prepared};
use crate::schedule::timetable::Timetable;
use crate::schedule::wait::Reach;

/// What became of one run.
#[derive(Debug, Clone, Copy)]
pub(super) struct Outcome {
    /// When it was ready; none for more than a hundred years after its start.
    pub finish: Option<i64>,
    pub enough: bool,
}

/// All that the draws need.
pub(super) struct Model<'a> {
    task: &'a Prepared<'a>,
    flat: &'a Flat,
    order: Vec<usize>,
    start: i64,
    /// The minutes that sittings are held back to, so that coats come in time for those under them.
    held: &'a [i64],
    /// For each wait, which of the sources' draws is its own.
    waits: Vec<(usize, Law)>,
    sources: usize,
    hands: Law,
    sitting: Law,
    groups: Vec<Survivors>,
    stream: ChaCha8Rng,
}

impl<'a> Model<'a> {
    pub fn of(
        task: &'a Prepared<'a>,
        timetable: &'a Timetable,
        spreads: &Spreads,
        seed: u64,
    ) -> Result<Self, NoChance> {
        let split = task.splits.iter().find(|(at, _)| *at == timetable.split);
        let (_, flat) = split.ok_or(NoChance::OtherTask("it follows a split that is none"))?;
        let order: Vec<usize> = timetable.booked.iter().map(|booked| booked.wave).collect();
        let mut count = vec![0; flat.waves()];
        for &wave in &order {
            *count
                .get_mut(wave)
                .ok_or(NoChance::OtherTask("it has a wave that is none"))? += 1;
        }
        if (0..flat.waves()).any(|wave| count[wave] != flat.sittings(wave)) {
            return Err(NoChance::OtherTask("it has other sittings"));
        }
        if spreads.waits.len() != task.reaches.len() {
            return Err(NoChance::OtherTask("the spreads are for other waits"));
        }
        let mut sources: Vec<usize> = spreads.waits.iter().map(|wait| wait.source).collect();
        sources.sort_unstable();
        sources.dedup();
        let waits = spreads.waits.iter().map(|wait| {
            let source = sources.partition_point(|&source| source < wait.source);
            Ok((source, wait.spread.law()?))
        });
        let groups = spreads.losses.iter().map(|&loss| Survivors::of(loss));
        Ok(Self {
            task,
            flat,
            order,
            start: timetable.starts.number(),
            held: timetable.held(),
            waits: waits.collect::<Result<_, NoChance>>()?,
            sources: sources.len(),
            hands: spreads.hands.law()?,
            sitting: spreads.sitting.law()?,
            groups: groups.collect::<Result<_, _>>()?,
            stream: ChaCha8Rng::seed_from_u64(seed),
        })
    }

    /// The runs of these numbers.
    pub fn draw(&self, runs: Range<u32>) -> Vec<Outcome> {
        let mut desk = Desk::default();
        runs.map(|run| self.one(run, &mut desk)).collect()
    }

    fn one(&self, run: u32, desk: &mut Desk) -> Outcome {
        let Desk {
            line,
            sources,
            reaches,
        } = desk;
        let mut stream = self.stream.clone();
        stream.set_stream(u64::from(run));
        let mut deviates = Deviates {
            stream,
            spare: None,
        };
        let hands = self.hands.at(deviates.normal());
        sources.clear();
        sources.extend((0..self.sources).map(|_| deviates.normal()));
        let waits = self.task.reaches.iter().zip(&self.waits);
        reaches.clear();
        reaches.extend(waits.map(|(reach, (source, law))| reach.stretch(law.at(sources[*source]))));
        // Every group is drawn, so that the numbers after them stay in step.
        let mut enough = true;
        for group in &self.groups {
            enough &= group.enough(deviates.uniform());
        }
        line.begin_held(self.flat, self.start, self.held);
        let horizon = self.start + HORIZON;
        for &wave in &self.order {
            let factor = hands * self.sitting.at(deviates.normal());
            let put = line.put_stretched(self.task, reaches, self.flat, wave, factor);
            if put.next_from > horizon {
                let finish = None;
                return Outcome { finish, enough };
            }
        }
        debug_assert!(Minute::reckoned(line.finish).hour() < 24);
        Outcome {
            finish: Some(line.finish),
            enough,
        }
    }
}

/// The memory that drawing a run takes.
#[derive(Default)]
struct Desk {
    line: Line,
    /// What is drawn for each source of waits.
    sources: Vec<f64>,
    reaches: Vec<Reach>,
}

/// Random numbers of one run.
struct Deviates {
    stream: ChaCha8Rng,
    spare: Option<f64>,
}

impl Deviates {
    /// From 0 up to, but not, 1, in steps of 2^-53.
    fn uniform(&mut self) -> f64 {
        // 2^-32 of one word and 2^-53 of 21 bits of another, both exact
        let coarse = f64::from(self.stream.next_u32());
        let fine = f64::from(self.stream.next_u32() >> 11);
        (coarse + fine / 2_097_152.0) / 4_294_967_296.0
    }

    /// A standard normal deviate (Box and Muller 1958).
    fn normal(&mut self) -> f64 {
        if let Some(spare) = self.spare.take() {
            return spare;
        }
        let radius = (-2.0 * libm::log(1.0 - self.uniform())).sqrt();
        let (sine, cosine) = libm::sincos(std::f64::consts::TAU * self.uniform());
        self.spare = Some(radius * sine);
        radius * cosine
    }
}
