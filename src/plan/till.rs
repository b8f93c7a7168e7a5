//! What one piece is made of, in money.

use std::collections::HashMap;

use super::chain::Group;
use super::hands::hands;
use super::money::number;
use super::supplies::{SupplyPlan, Taker};
use super::{BlankPlan, CoatingPlan, Dates, DrawnPlan, PiecePlan};
use crate::cost::{Cost, CostError, Labour, Line, PieceLines};
use crate::quantity::{Money, Ratio, Time, Volume};
use crate::run::{Run, Selling, Takes};

/// What the money rests on.
pub(super) struct Till<'p> {
    pub run: &'p Run,
    pub pieces: &'p [PiecePlan],
    pub coatings: &'p [CoatingPlan],
    pub drawn: &'p [DrawnPlan],
    pub blanks: &'p [BlankPlan],
    pub supplies: &'p [SupplyPlan],
    pub dates: &'p Dates,
    /// The sittings of each group, for the time they take.
    pub groups: &'p [Group],
}

impl Till<'_> {
    /// What each kind of piece is made of, in the run's order; in one pass over all that is
    /// bought, for a run may have ten thousand kinds.
    pub(super) fn lines(
        &self,
        selling: &Selling,
        unpriced: &mut Vec<String>,
    ) -> Result<Vec<PieceLines>, CostError> {
        let bought: HashMap<&str, &BlankPlan> = (self.blanks.iter())
            .map(|blank| (blank.name.as_str(), blank))
            .collect();
        let mut made: Vec<PieceLines> = (self.pieces.iter().zip(self.hands_on()))
            .map(|(piece, time)| {
                let blank = bought.get(piece.blank_name.as_str());
                let line = blank.map(|blank| self.blank(piece, blank, unpriced));
                Ok(PieceLines {
                    started: line.transpose()?.flatten().into_iter().collect(),
                    labour: Labour {
                        time,
                        hour: selling.labour.unwrap_or(Money::ZERO),
                    },
                    lost: piece.lost,
                    fitted: Vec::new(),
                })
            })
            .collect::<Result<_, CostError>>()?;
        for coating in self.coatings {
            self.coating(coating, &mut made, unpriced)?;
        }
        unpriced.extend(self.drawn.iter().map(|pen| pen.name.clone()));
        for supply in self.supplies {
            share_out(supply, &mut made, unpriced);
        }
        Ok(made)
    }

    fn blank(
        &self,
        plan: &PiecePlan,
        blank: &BlankPlan,
        unpriced: &mut Vec<String>,
    ) -> Result<Option<Line>, CostError> {
        let pack = self.run.blanks[plan.blank].pack;
        let Some(price) = pack.and_then(|pack| pack.price) else {
            unpriced.push(blank.name.clone());
            return Ok(None);
        };
        // of those bought, some arrive bad
        let used = number(blank.start) / (1.0 - blank.bad.fraction()) / f64::from(blank.pack_of);
        let all = Cost::in_packs(price, Ratio::from_number(used), blank.packs)?;
        Ok(Some(Line::new(
            blank.name.as_str(),
            all.over(blank.start.max(1))?,
        )))
    }

    /// Hands-on time of one started piece of each kind, its share of what is done once a
    /// sitting included.
    fn hands_on(&self) -> Vec<Time> {
        let [_, likely, _] = hands(self.run);
        let mut own = vec![Time::ZERO; self.pieces.len()];
        for group in self.groups {
            let each = group.stints.iter().map(|stint| stint.each * stint.kept);
            let each = each.sum::<Time>() * likely;
            for &piece in &group.pieces {
                own[piece] = each;
            }
        }
        let Some(hands_on) = self.dates.hands_on() else {
            // where the work can't be laid out each group is one wave
            for group in self.groups {
                let all = group.pieces.iter();
                let all: Vec<_> = all
                    .map(|&piece| (piece, self.pieces[piece].start))
                    .collect();
                let started: u64 = all.iter().map(|(_, count)| count).sum();
                let whole: Time = (group.stints.iter())
                    .map(|stint| stint.lasts(&all, 0.0))
                    .sum();
                for &piece in &group.pieces {
                    own[piece] = own[piece] + whole / number(started.max(1));
                }
            }
            return own;
        };
        // what the sittings take beyond the pieces' own time is shared alike
        let started: u64 = self.pieces.iter().map(|piece| piece.start).sum();
        let alone: Time = (own.iter().zip(self.pieces))
            .map(|(&own, plan)| own * number(plan.start))
            .sum();
        let over = (hands_on - alone) / number(started.max(1));
        let over = if over > Time::ZERO { over } else { Time::ZERO };
        own.into_iter().map(|own| own + over).collect()
    }

    /// A coating's part in each started piece, waste and heel included.
    fn coating(
        &self,
        coating: &CoatingPlan,
        made: &mut [PieceLines],
        unpriced: &mut Vec<String>,
    ) -> Result<(), CostError> {
        let priced = coating
            .bottle
            .and_then(|bottle| Some((bottle, bottle.price?)));
        let Some((bottle, price)) = priced else {
            unpriced.push(coating.name.clone());
            return Ok(());
        };
        let all: Volume = coating.by_piece.iter().map(|(_, volume)| *volume).sum();
        let used = a_litre(coating).unwrap_or(price / bottle.holds.l()) * coating.needed.l();
        let bought = coating.price.unwrap_or(Money::ZERO);
        // where nothing stays on any, what is used up all the same is shared by how many there are
        let started = coating.by_piece.iter();
        let started: u64 = started.map(|&(piece, _)| self.pieces[piece].start).sum();
        for &(piece, own) in &coating.by_piece {
            let part = if all > Volume::ZERO {
                own / all
            } else {
                number(self.pieces[piece].start) / number(started.max(1))
            };
            let cost = Cost {
                used: used * part,
                bought: bought * part,
            };
            let started = self.pieces[piece].start.max(1);
            let line = Line::new(coating.name.as_str(), cost.over(started)?);
            made[piece].started.push(line);
        }
        Ok(())
    }

    /// What all that has to be bought costs, as far as it has a price.
    pub(super) fn to_buy(&self) -> Money {
        let coatings = self.coatings.iter().filter_map(|coating| coating.price);
        let blanks = self.blanks.iter().filter_map(|blank| blank.price);
        let supplies = self.supplies.iter().filter_map(|supply| supply.packs.price);
        coatings
            .chain(blanks)
            .chain(supplies)
            .fold(Money::ZERO, |sum, price| sum + price)
    }
}

/// What a litre costs in the bottles to buy, of several sizes. `None`: it comes in one, or
/// none is bought.
fn a_litre(coating: &CoatingPlan) -> Option<Money> {
    let sizes = coating.sizes.as_ref()?;
    let bought = sizes.sizes.iter().map(|size| size.holds * number(size.buy));
    let bought: Volume = bought.sum();
    (bought > Volume::ZERO).then(|| sizes.price / bought.l())
}

/// A supply's part in each piece: in each that is started, or in each that passed when the
/// pieces were looked over.
fn share_out(supply: &SupplyPlan, made: &mut [PieceLines], unpriced: &mut Vec<String>) {
    let all: f64 = supply.takers.iter().map(weight).sum();
    // of a sheet that no shape fits on nobody can tell what is used
    let Some(used) = supply.packs.used_cost.filter(|_| all > 0.0) else {
        unpriced.push(supply.name.clone());
        return;
    };
    for taker in &supply.takers {
        let part = weight(taker) / all / number(taker.pieces.max(1));
        let bought = supply.packs.price.unwrap_or(Money::ZERO);
        let line = Line::new(
            supply.name.as_str(),
            Cost {
                used: used * part,
                bought: bought * part,
            },
        );
        let piece = &mut made[taker.piece_number()];
        if taker.is_fitted() {
            piece.fitted.push(line);
        } else {
            piece.started.push(line);
        }
    }
}

/// How much of a supply a kind of piece takes in all, to share its cost by.
fn weight(taker: &Taker) -> f64 {
    let each = match taker.takes {
        Takes::Count(count) => f64::from(count),
        Takes::Length(length) => length.m(),
        // as much of a sheet as it takes when alone
        Takes::Shape { .. } => taker
            .to_a_sheet()
            .map_or(0.0, |count| 1.0 / f64::from(count)),
    };
    each * number(taker.pieces)
}
