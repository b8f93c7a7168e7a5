//! What one piece is made of, in money.

use super::chain::{Group, hands};
use super::money::number;
use super::supplies::{SupplyPlan, Taker};
use super::{BlankPlan, CoatingPlan, Dates, PiecePlan};
use crate::cost::{Cost, CostError, Labour, Line, PieceLines};
use crate::quantity::{Money, Ratio, Time};
use crate::run::{Run, Selling, Takes};

/// What the money rests on.
pub(super) struct Till<'p> {
    pub run: &'p Run,
    pub pieces: &'p [PiecePlan],
    pub coatings: &'p [CoatingPlan],
    pub blanks: &'p [BlankPlan],
    pub supplies: &'p [SupplyPlan],
    pub dates: &'p Dates,
    /// The sittings of each group, for the time they take.
    pub groups: &'p [Group],
}

impl Till<'_> {
    /// What a kind of piece is made of.
    pub(super) fn lines(
        &self,
        index: usize,
        selling: &Selling,
        unpriced: &mut Vec<String>,
    ) -> Result<PieceLines, CostError> {
        let plan = &self.pieces[index];
        let mut started = Vec::new();
        started.extend(self.blank(plan, unpriced)?);
        for coating in self.coatings {
            started.extend(coating_line(coating, index, plan.start, unpriced)?);
        }
        let mut fitted = Vec::new();
        for supply in self.supplies {
            supply_lines(supply, &plan.name, [&mut started, &mut fitted], unpriced);
        }
        Ok(PieceLines {
            started,
            labour: Labour {
                time: self.hands_on(index),
                hour: selling.labour.unwrap_or(Money::ZERO),
            },
            lost: plan.lost,
            fitted,
        })
    }

    fn blank(
        &self,
        plan: &PiecePlan,
        unpriced: &mut Vec<String>,
    ) -> Result<Option<Line>, CostError> {
        let Some(blank) = self
            .blanks
            .iter()
            .find(|blank| blank.name == plan.blank_name)
        else {
            return Ok(None);
        };
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

    /// Hands-on time of one piece that is started, its share of what is done once a sitting included.
    fn hands_on(&self, index: usize) -> Time {
        let [_, likely, _] = hands(self.run);
        let own = |piece: usize| {
            let group = self
                .groups
                .iter()
                .find(|group| group.pieces.contains(&piece));
            let stints = group.map_or(&[][..], |group| &group.stints);
            let each = stints.iter().map(|stint| stint.each * stint.kept);
            each.sum::<Time>() * likely
        };
        let Dates::Told(calendar) = self.dates else {
            return own(index);
        };
        // what the sittings take beyond the pieces' own time is shared alike
        let started: u64 = self.pieces.iter().map(|piece| piece.start).sum();
        let alone: Time = (self.pieces.iter().enumerate())
            .map(|(piece, plan)| own(piece) * number(plan.start))
            .sum();
        let over = (calendar.hands_on - alone) / number(started.max(1));
        own(index) + if over > Time::ZERO { over } else { Time::ZERO }
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

/// A coating's part in one started piece, waste and heel included.
fn coating_line(
    coating: &CoatingPlan,
    piece: usize,
    started: u64,
    unpriced: &mut Vec<String>,
) -> Result<Option<Line>, CostError> {
    let Some(&(_, own)) = coating.by_piece.iter().find(|(of, _)| *of == piece) else {
        return Ok(None);
    };
    let priced = coating
        .bottle
        .and_then(|bottle| Some((bottle, bottle.price?)));
    let Some((bottle, price)) = priced else {
        unpriced.push(coating.name.clone());
        return Ok(None);
    };
    let all: crate::quantity::Volume = coating.by_piece.iter().map(|(_, volume)| *volume).sum();
    let part = own / all;
    let bottles = coating.needed / bottle.holds;
    let used = price * bottles;
    let bought = coating.price.unwrap_or(Money::ZERO);
    let cost = Cost {
        used: used * part,
        bought: bought * part,
    };
    Ok(Some(Line::new(
        coating.name.as_str(),
        cost.over(started.max(1))?,
    )))
}

/// A supply's part in one piece: in each that is started, or in each that passed when
/// the pieces were looked over.
fn supply_lines(
    supply: &SupplyPlan,
    piece: &str,
    [started, fitted]: [&mut Vec<Line>; 2],
    unpriced: &mut Vec<String>,
) {
    let all: f64 = supply.takers.iter().map(weight).sum();
    for taker in supply.takers.iter().filter(|taker| taker.piece == piece) {
        let Some(used) = supply.packs.used_cost else {
            unpriced.push(supply.name.clone());
            continue;
        };
        let each = |money: Money| {
            let part = money * (weight(taker) / all);
            part / number(taker.pieces.max(1))
        };
        let line = Line::new(
            supply.name.as_str(),
            Cost {
                used: each(used),
                bought: each(supply.packs.price.unwrap_or(Money::ZERO)),
            },
        );
        if taker.is_fitted() {
            fitted.push(line);
        } else {
            started.push(line);
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
