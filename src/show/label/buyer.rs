//! What goes with a piece that is sold.

use super::{Label, Line};
use crate::coating::{BuyerCaution, Holds, for_buyers};
use crate::plan::{PiecePlan, Plan, Stuff};
use crate::show::words;

/// A small label for every piece: what it is, and what it is not for.
pub(super) fn labels(plan: &Plan) -> Vec<Label> {
    each(plan, |piece, batch| Label {
        title: piece.name.clone(),
        lines: vec![Line::plain(made_of(plan, piece)), Line::plain(batch)],
        care: told(plan, piece)
            .map(|line| sentence(&line.short))
            .collect(),
        copies: piece.count.into(),
    })
}

/// A card for every piece: the same at length, and how to keep it.
pub(super) fn cards(plan: &Plan) -> Vec<Label> {
    each(plan, |piece, batch| Label {
        title: piece.name.clone(),
        lines: vec![Line::plain(made_of(plan, piece)), Line::plain(batch)],
        care: told(plan, piece).map(|line| line.say.clone()).collect(),
        copies: piece.count.into(),
    })
}

fn each(plan: &Plan, label: impl Fn(&PiecePlan, String) -> Label) -> Vec<Label> {
    let batch = format!("Batch {}", plan.batch);
    plan.pieces
        .iter()
        .map(|piece| label(piece, batch.clone()))
        .collect()
}

/// "Beech disc; print glue, print sealer and dome glaze".
fn made_of(plan: &Plan, piece: &PiecePlan) -> String {
    let mut coatings: Vec<&str> = Vec::new();
    let steps = plan.steps.iter();
    for step in steps.filter(|step| step.pieces.contains(&piece.name)) {
        let name = step.coating.as_deref();
        coatings.extend(name.filter(|name| !coatings.contains(name)));
    }
    if coatings.is_empty() {
        return piece.blank_name.clone();
    }
    format!(
        "{}; {}",
        piece.blank_name,
        words::list(&coatings, usize::MAX)
    )
}

/// What is said to the buyer of a piece, the worst first.
fn told<'p>(plan: &'p Plan, piece: &'p PiecePlan) -> impl Iterator<Item = &'static BuyerCaution> {
    let cord = plan.supplies.iter().any(|supply| {
        matches!(supply.stuff, Stuff::Cut { .. })
            && supply.takers.iter().any(|taker| taker.piece == piece.name)
    });
    let magnet = piece.magnet;
    let mut told: Vec<&BuyerCaution> = for_buyers()
        .iter()
        .filter(|line| match line.holds {
            Holds::Anything => true,
            Holds::Magnet => magnet,
            Holds::Cord => cord,
        })
        .collect();
    told.sort_by_key(|line| line.severity);
    told.into_iter()
}

/// A few words as a sentence.
fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    let first = letters.next().map(char::to_uppercase);
    let first: String = first.into_iter().flatten().collect();
    format!("{first}{}.", letters.as_str())
}
