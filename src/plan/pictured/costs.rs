//! What goes into the cost of a piece, by its kind.

use std::collections::BTreeSet;

use crate::cost::Line;
use crate::plan::{PieceMoney, Plan};
use crate::quantity::Money;

/// What a part of a piece's cost is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum CostKind {
    /// The blank.
    Blank,
    /// All coatings, with what is lost of them.
    Coatings,
    /// Other things that every started piece takes.
    Supplies,
    /// Hands-on work.
    Work,
    /// What the pieces that fail add to each good one.
    Lost,
    /// What only good pieces are given: findings, packaging.
    Fitted,
}

/// One part of what a good piece costs.
#[derive(Debug, Clone, PartialEq)]
pub struct CostPart {
    /// What it is for.
    pub kind: CostKind,
    /// How much, for one good piece.
    pub amount: Money,
    /// What it is made up of, by name; nothing for work and for lost pieces.
    pub lines: Vec<(String, Money)>,
}

/// What one good piece of a kind costs, in parts.
#[derive(Debug, Clone, PartialEq)]
pub struct CostPlan {
    /// The piece's name.
    pub piece: String,
    /// The parts above nothing, in the order of the work.
    pub parts: Vec<CostPart>,
    /// All of them: the plan's own cost of a good piece, counting what is used.
    pub each: Money,
}

/// The cost of each kind of piece in parts, in the run's order; nothing where the run
/// says nothing of selling.
#[must_use]
pub fn costs(plan: &Plan) -> Vec<CostPlan> {
    let coatings: BTreeSet<&str> = (plan.coatings.iter())
        .map(|coating| coating.name.as_str())
        .collect();
    let Some(money) = &plan.money else {
        return Vec::new();
    };
    (money.pieces.iter().zip(&plan.pieces))
        .map(|(money, piece)| one(money, &piece.blank_name, &coatings))
        .collect()
}

fn one(money: &PieceMoney, blank: &str, coatings: &BTreeSet<&str>) -> CostPlan {
    let mut parts = Vec::new();
    let mut add = |kind, amount: Money, lines: Vec<(String, Money)>| {
        if amount > Money::ZERO {
            parts.push(CostPart {
                kind,
                amount,
                lines,
            });
        }
    };
    // A blank's line comes first, and a supply may be called as a coating is: the coatings
    // come before the supplies, each once.
    let mut seen: BTreeSet<&str> = BTreeSet::new();
    let mut sorted: [Vec<&Line>; 3] = Default::default();
    for (place, line) in money.lines.started.iter().enumerate() {
        let name = line.name.as_str();
        let kind = if place == 0 && name == blank {
            0
        } else if coatings.contains(name) && seen.insert(name) {
            1
        } else {
            2
        };
        sorted[kind].push(line);
    }
    let kinds = [CostKind::Blank, CostKind::Coatings, CostKind::Supplies];
    for (kind, lines) in kinds.into_iter().zip(sorted) {
        add(kind, lines.iter().map(|l| l.cost.used).sum(), named(lines));
    }
    let variable = &money.variable;
    add(CostKind::Work, variable.labour, Vec::new());
    add(CostKind::Lost, variable.lost_work.used, Vec::new());
    let fitted = money.lines.fitted.iter().collect();
    add(CostKind::Fitted, variable.fitted.used, named(fitted));
    CostPlan {
        piece: money.name.clone(),
        parts,
        each: variable.each.used,
    }
}

fn named(lines: Vec<&Line>) -> Vec<(String, Money)> {
    lines
        .into_iter()
        .map(|line| (line.name.clone(), line.cost.used))
        .collect()
}
