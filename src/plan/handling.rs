//! What to mind about certain pieces and coats: magnets, thin wood, deep coats.

use super::made::liquid;
use super::{FillPlan, Notes, PiecePlan, Warning};
use crate::coating::may_saucer;
use crate::consumption::{Faces, hole_troubles, may_warp};
use crate::quantity::Length;
use crate::run::{Run, Work};

/// Warns of what the pieces and the coatings of a run call for.
pub(super) fn warn(run: &Run, pieces: &[PiecePlan], notes: &mut Notes) {
    let magnets = run.pieces.iter().filter(|piece| piece.magnet);
    let magnets: Vec<String> = magnets.map(|piece| piece.name.clone()).collect();
    if !magnets.is_empty() {
        notes.warnings.push(Warning::Magnets { pieces: magnets });
    }
    warn_of_deep_coats(run, pieces, notes);
    warn_of_saucers(run, pieces, notes);
    warn_of_warping(run, notes);
    warn_of_sides(run, pieces, notes);
    warn_of_holes(run, pieces, notes);
}

fn warn_of_deep_coats(run: &Run, pieces: &[PiecePlan], notes: &mut Notes) {
    for piece in pieces {
        for fill in &piece.fills {
            let prudent = run.coatings[fill.coating].coating.prudent_coat();
            if let Some(prudent) = prudent.filter(|coat| coat.is_passed_by(fill.wet_depth)) {
                notes.warnings.push(Warning::DeepCoat {
                    piece: piece.name.clone(),
                    step: fill.step_name.clone(),
                    depth: fill.wet_depth,
                    prudent,
                });
            }
        }
    }
}

/// Once for each coating that is flooded.
fn warn_of_saucers(run: &Run, pieces: &[PiecePlan], notes: &mut Notes) {
    let flooded: std::collections::BTreeSet<usize> = pieces
        .iter()
        .flat_map(|piece| &piece.fills)
        .map(|fill| fill.coating)
        .collect();
    for index in flooded {
        let coating = &run.coatings[index];
        if let Some(solids) = coating
            .coating
            .solids()
            .filter(|&solids| may_saucer(solids))
        {
            notes.warnings.push(Warning::Saucer {
                coating: coating.name.clone(),
                solids,
            });
        }
    }
}

/// Once for each thin blank that drinks, with the pieces of which one face only is coated.
fn warn_of_warping(run: &Run, notes: &mut Notes) {
    for (index, blank) in run.blanks.iter().enumerate() {
        let Some(thickness) = blank.thickness.filter(|_| blank.porous == Some(true)) else {
            continue;
        };
        let unlike = run.pieces.iter().filter(|piece| {
            let mut coated = piece
                .steps
                .iter()
                .filter_map(|&step| run.steps[step].work.faces());
            // a first coat of any kind, then any that covers the back
            piece.blank == index
                && coated.next().is_some_and(|first| {
                    let both = first == Faces::Both || coated.any(|faces| faces == Faces::Both);
                    may_warp(thickness, if both { Faces::Both } else { Faces::One })
                })
        });
        let pieces: Vec<String> = unlike.map(|piece| piece.name.clone()).collect();
        if !pieces.is_empty() {
            notes.warnings.push(Warning::MayWarp {
                blank: blank.name.clone(),
                thickness,
                pieces,
            });
        }
    }
}

/// Once for each step whose sides can't be counted.
fn warn_of_sides(run: &Run, pieces: &[PiecePlan], notes: &mut Notes) {
    for (index, step) in run.steps.iter().enumerate() {
        if !matches!(step.work, Work::Brush(brush) if brush.sides) {
            continue;
        }
        let unknown = run
            .pieces
            .iter()
            .zip(pieces)
            .filter(|(piece, made)| made.sides.is_none() && piece.steps.contains(&index));
        let pieces: Vec<String> = unknown.map(|(piece, _)| piece.name.clone()).collect();
        if !pieces.is_empty() {
            notes.warnings.push(Warning::SidesUnknown {
                step: step.name.clone(),
                pieces,
            });
        }
    }
}

/// Once for each blank with holes that is used.
fn warn_of_holes(run: &Run, pieces: &[PiecePlan], notes: &mut Notes) {
    for (index, blank) in run.blanks.iter().enumerate() {
        let on_it = pieces.iter().filter(|piece| piece.blank == index);
        if on_it.clone().next().is_none() {
            continue;
        }
        let fills = on_it.flat_map(|piece| &piece.fills);
        let widest = fills
            .filter_map(|fill| capillary_length(run, fill))
            .reduce(|a, b| if b > a { b } else { a });
        for trouble in hole_troubles(blank.top.outline(), widest) {
            notes.warnings.push(Warning::Hole {
                blank: blank.name.clone(),
                trouble,
            });
        }
    }
}

/// The capillary length of a flood coat's coating.
fn capillary_length(run: &Run, fill: &FillPlan) -> Option<Length> {
    let Work::Dome(dome) = &run.steps[fill.step].work else {
        return None;
    };
    Some(liquid(&dome.liquid).0.capillary_length())
}
