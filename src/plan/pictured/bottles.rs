//! How much coating more or fewer pieces would take, and how far whole bottles go.

use std::collections::HashMap;

use crate::consumption::{self, Amount, Demand, Pours, UseError};
use crate::plan::lasts::Lasts;
use crate::plan::pieces::to_start;
use crate::plan::uses::{Asked, asked, sat};
use crate::plan::{Plan, PlanError, visits};
use crate::quantity::{Share, Volume};
use crate::run::{Run, RunCoating};

/// What a number of good pieces takes of a coating.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AmountAt {
    /// Good pieces, of the kinds that take it.
    pub pieces: u64,
    /// The expected amount, all losses in it.
    pub needed: Volume,
    /// The amount to be as sure as wanted of having enough.
    pub needed_sure: Volume,
}

/// How many good pieces some coating is enough for, as surely as wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EnoughFor {
    /// So many, and not for one more.
    Pieces(u64),
    /// More than so many, which is where the search ends.
    Over(u64),
}

/// What is in stock and a number of whole bottles.
#[derive(Debug, Clone, PartialEq)]
pub struct BottleStep {
    /// What the bottles hold, and how many to buy of each; none for the stock alone.
    pub buy: Vec<(Volume, u64)>,
    /// The amount that they and the stock cover, heel counted, to be held against the curve.
    pub covers: Volume,
    /// How far that goes.
    pub enough_for: EnoughFor,
}

/// One coating's amount against the number of pieces.
#[derive(Debug, Clone, PartialEq)]
pub struct AmountPlan {
    /// The coating's name.
    pub coating: String,
    /// How sure to be of enough.
    pub sure: Share,
    /// Sittings at which the tool keeps its share; as planned, however many the pieces.
    pub sittings: u32,
    /// Whether each of those is a mix.
    pub mixed: bool,
    /// How many kinds of piece take it.
    pub kinds: usize,
    /// As the run has it.
    pub planned: AmountAt,
    /// From one piece to 1.6 times as many as planned, in rising order.
    pub curve: Vec<AmountAt>,
    /// Whether some stock counts.
    pub in_stock: bool,
    /// What to buy for fewer pieces, for those planned and for more, in rising order; empty
    /// where no bottle is told of.
    pub steps: Vec<BottleStep>,
    /// Which of those is for the pieces planned.
    pub bought: usize,
}

/// Points of the curve, at most.
const POINTS: u64 = 24;
/// Steps on either side of the planned one.
const STEPS: usize = 2;
/// How many times the planned pieces are looked at before a bottle's reach counts as unending.
const REACH: u64 = 100;
/// Most pieces of one kind that are counted; a limit of how many to start.
const MOST_OF_A_KIND: u64 = 1_000_000;

/// Each coating's amount against the number of pieces, the mix of kinds kept.
///
/// Of each kind there is at least its share, rounded up; what to start for that and what
/// it takes are worked out as the plan does.
///
/// # Errors
/// [`PlanError`] where an amount lies outside of what can be worked out.
pub fn amounts(run: &Run, plan: &Plan) -> Result<Vec<AmountPlan>, PlanError> {
    let visits = visits::of(run);
    let sat = sat(run, &visits, (&plan.pieces, &plan.coatings), &plan.dates);
    let asked = asked(run, &visits, &plan.pieces, &sat)?;
    let lasts = Lasts::of(run, &plan.dates);
    let mut starts = HashMap::new();
    asked
        .into_iter()
        .map(|asked| Scaled::of((run, plan, &lasts), asked, &mut starts).plan())
        .collect()
}

/// A coating's demand, at any number of pieces.
struct Scaled<'p> {
    run: &'p Run,
    plan: &'p Plan,
    lasts: &'p Lasts<'p>,
    coating: &'p RunCoating,
    asked: Asked,
    /// The kinds of piece that take it, with their counts.
    kinds: Vec<(usize, u64)>,
    planned: u64,
    /// What to start of a kind for a number of good ones.
    starts: &'p mut HashMap<(usize, u64), u64>,
}

/// What to buy, and what comes out of it and the stock.
struct Buy {
    counts: Vec<(Volume, u64)>,
    gives: Volume,
}

impl<'p> Scaled<'p> {
    fn of(
        (run, plan, lasts): (&'p Run, &'p Plan, &'p Lasts<'p>),
        asked: Asked,
        starts: &'p mut HashMap<(usize, u64), u64>,
    ) -> Self {
        let mut taking = asked.of.clone();
        taking.sort_unstable();
        taking.dedup();
        let kinds: Vec<(usize, u64)> = taking
            .into_iter()
            .map(|piece| (piece, u64::from(plan.pieces[piece].count)))
            .collect();
        Self {
            run,
            plan,
            lasts,
            coating: &run.coatings[asked.coating],
            planned: kinds.iter().map(|(_, count)| count).sum(),
            asked,
            kinds,
            starts,
        }
    }

    fn plan(mut self) -> Result<AmountPlan, PlanError> {
        let planned = self.at(self.planned)?;
        let most = (self.planned * 8).div_ceil(5).max(self.planned + 1);
        let gap = self.gap(most.div_ceil(POINTS).max(1));
        let mut counts: Vec<u64> = (0..=most / gap).map(|n| n * gap).collect();
        counts.extend([1, self.planned, most]);
        counts.retain(|count| (1..=most).contains(count));
        counts.sort_unstable();
        counts.dedup();
        let mut curve = Vec::with_capacity(counts.len());
        for count in counts {
            curve.push(self.at(count)?);
        }
        let (steps, bought) = self.steps(most)?;
        Ok(AmountPlan {
            coating: self.coating.name.clone(),
            sure: self.run.header.sure,
            sittings: self.asked.demand.losses.sittings,
            mixed: (self.plan.coatings.iter())
                .filter(|coating| coating.name == self.coating.name)
                .filter_map(|coating| coating.mix.as_ref())
                .any(|mix| mix.each.is_some()),
            kinds: self.kinds.len(),
            planned,
            curve,
            in_stock: self
                .lasts
                .bottle(self.coating)
                .is_some_and(|bottle| bottle.have.number() > 0.0),
            steps,
            bought,
        })
    }

    /// From point to point of the curve: where one is near, a gap that keeps the mix in whole
    /// pieces, or the rounding up would show as a ripple.
    fn gap(&self, least: u64) -> u64 {
        let whole = |gap: &u64| {
            let parts = |(_, count): &(usize, u64)| {
                (u128::from(*count) * u128::from(*gap)).is_multiple_of(u128::from(self.planned))
            };
            self.kinds.iter().all(parts)
        };
        (least..=2 * least).find(whole).unwrap_or(least)
    }

    fn refused(&self, why: UseError) -> PlanError {
        PlanError::Use {
            what: self.coating.name.clone(),
            why,
        }
    }

    /// The amount for a number of good pieces.
    fn amount(&mut self, pieces: u64) -> Result<Amount, PlanError> {
        let mut uses = self.asked.demand.uses.clone();
        for place in 0..self.kinds.len() {
            let (piece, count) = self.kinds[place];
            let wanted = u128::from(count) * u128::from(pieces);
            let wanted = wanted.div_ceil(u128::from(self.planned));
            let wanted = u64::try_from(wanted).unwrap_or(u64::MAX);
            let started = self.start(piece, wanted)?;
            let own = |(of, pours): (&usize, &mut Pours)| {
                if *of == piece {
                    pours.started = started;
                }
            };
            self.asked.of.iter().zip(&mut uses).for_each(own);
        }
        let demand = Demand {
            uses,
            ..self.asked.demand.clone()
        };
        demand.amount().map_err(|why| self.refused(why))
    }

    fn start(&mut self, piece: usize, wanted: u64) -> Result<u64, PlanError> {
        if let Some(&start) = self.starts.get(&(piece, wanted)) {
            return Ok(start);
        }
        let lost = self.plan.pieces[piece].lost;
        let start = to_start(self.run, &self.run.pieces[piece], wanted, lost)?.start;
        self.starts.insert((piece, wanted), start);
        Ok(start)
    }

    fn at(&mut self, pieces: u64) -> Result<AmountAt, PlanError> {
        let amount = self.amount(pieces)?;
        let sure = self.run.header.sure;
        Ok(AmountAt {
            pieces,
            needed: amount.lines().needed(),
            needed_sure: amount.needed_for(sure).map_err(|why| self.refused(why))?,
        })
    }

    /// What to buy for a number of pieces; `None` where no bottle is told of.
    fn buy(&mut self, pieces: u64) -> Result<Option<Buy>, PlanError> {
        let amount = self.amount(pieces)?;
        let Some(bottle) = self.lasts.bottle(self.coating) else {
            return Ok(None);
        };
        self.bottles(&amount, &bottle)
            .map(Some)
            .map_err(|why| self.refused(why))
    }

    fn bottles(&self, amount: &Amount, bottle: &consumption::Bottle) -> Result<Buy, UseError> {
        let sure = self.run.header.sure;
        let single = amount.bottles(bottle, sure)?;
        let price = self.coating.bottle.and_then(|bottle| bottle.price);
        let others: Vec<_> = (self.coating.also_sold.iter())
            .map(|size| (size.holds, size.price))
            .collect();
        let counts = match price {
            Some(price) if !others.is_empty() => {
                let found = amount.cheapest_bottles(bottle, price, &others, sure)?;
                let holds = std::iter::once(bottle.holds).chain(others.iter().map(|size| size.0));
                holds.zip(found.bottles.counts).collect()
            }
            _ => vec![(bottle.holds, single.buy)],
        };
        let out = 1.0 - self.asked.demand.losses.heel.fraction();
        let bought: Volume = counts.iter().map(|&(holds, n)| holds * number(n)).sum();
        Ok(Buy {
            counts: counts.into_iter().filter(|(_, n)| *n > 0).collect(),
            gives: single.stock + bought * out,
        })
    }

    /// How many pieces an amount out of the bottles is enough for.
    fn enough_for(&mut self, gives: Volume) -> Result<EnoughFor, PlanError> {
        let limit = self.limit();
        let most = self.last(limit, |own, pieces| own.is_enough(gives, pieces))?;
        Ok(if most == limit {
            EnoughFor::Over(limit)
        } else {
            EnoughFor::Pieces(most)
        })
    }

    /// How many pieces the search goes up to.
    fn limit(&self) -> u64 {
        let most = self.kinds.iter().map(|(_, count)| *count).max();
        let most = most.unwrap_or(1).max(1);
        self.planned * REACH.min(MOST_OF_A_KIND / most).max(1)
    }

    fn is_enough(&mut self, gives: Volume, pieces: u64) -> Result<bool, PlanError> {
        let sure = self.run.header.sure;
        let mix = self.amount(pieces)?.mix_for(sure);
        let mix = mix.map_err(|why| self.refused(why))?;
        // the rounding of turned units, as for the bottles themselves
        Ok(mix.m3() <= gives.m3() * (1.0 + 1e-9))
    }

    /// The last number of pieces up to `limit` for which something that holds for few holds.
    fn last(
        &mut self,
        limit: u64,
        holds: impl Fn(&mut Self, u64) -> Result<bool, PlanError>,
    ) -> Result<u64, PlanError> {
        let (mut yes, mut next) = (0, self.planned.min(limit));
        // from the planned number up by doubling, then by halving
        while holds(self, next)? {
            yes = next;
            if next == limit {
                return Ok(limit);
            }
            next = (2 * next).min(limit);
        }
        let mut no = next;
        while no - yes > 1 {
            let middle = yes.midpoint(no);
            if holds(self, middle)? {
                yes = middle;
            } else {
                no = middle;
            }
        }
        Ok(yes)
    }

    /// The steps around the planned one, and which that is.
    fn steps(&mut self, most: u64) -> Result<(Vec<BottleStep>, usize), PlanError> {
        let Some(planned) = self.buy(self.planned)? else {
            return Ok((Vec::new(), 0));
        };
        let mut steps = Vec::new();
        let mut gives = planned.gives;
        for _ in 0..STEPS {
            let less = |own: &mut Self, pieces| {
                let buy = own.buy(pieces)?;
                Ok(buy.is_some_and(|buy| buy.gives.m3() < gives.m3() * (1.0 - 1e-9)))
            };
            let last = self.last(self.planned, less)?;
            let Some(fewer) = (if last > 0 { self.buy(last)? } else { None }) else {
                break;
            };
            gives = fewer.gives;
            steps.insert(0, self.step(fewer)?);
        }
        let bought = steps.len();
        let mut last = self.step(planned)?;
        for _ in 0..STEPS {
            let next = match last.enough_for {
                EnoughFor::Pieces(pieces) if pieces < most => self.buy(pieces + 1)?,
                EnoughFor::Pieces(_) | EnoughFor::Over(_) => None,
            };
            let Some(more) = next else { break };
            let more = self.step(more)?;
            steps.push(std::mem::replace(&mut last, more));
        }
        steps.push(last);
        Ok((steps, bought))
    }

    fn step(&mut self, buy: Buy) -> Result<BottleStep, PlanError> {
        let out = 1.0 - self.asked.demand.losses.heel.fraction();
        Ok(BottleStep {
            enough_for: self.enough_for(buy.gives)?,
            buy: buy.counts,
            covers: buy.gives / out,
        })
    }
}

#[expect(
    clippy::cast_precision_loss,
    reason = "counts are at most a thousand million"
)]
const fn number(count: u64) -> f64 {
    count as f64
}
