//! What goes into each mix of a sitting: as much as the pieces in it take.

use std::collections::HashMap;

use super::calendar::{Booked, Dates};
use super::chain::Task;
use super::mixing::Sitting;
use super::per_mix::PerMix;
use super::small_mix::SmallMix;
use super::uses::{Sat, gathered, number};
use super::visits::Visit;
use super::{CoatingPlan, Notes, PiecePlan, PlanError, Warning};
use crate::coating::Coating;
use crate::consumption::{Faces, Split, TwoPart, UseError};
use crate::quantity::Volume;
use crate::run::Run;

/// Mixes that differ by more than this share of the least are told apart. One for a hundred pieces and one for a
/// piece more do.
const ALIKE: f64 = 0.005;

/// Mixes of a sitting that hold the same for the same pieces.
#[derive(Debug, Clone, PartialEq)]
pub struct Cupful {
    /// How many mixes these are.
    pub mixes: u64,
    /// The pieces that each of them is for, whole ones: the kinds, and how many of each.
    pub pieces: Vec<(String, u64)>,
    /// What goes into each.
    pub holds: Split,
}

/// Tells each sitting's mixes what to hold, and each coating between what they lie.
///
/// What a coating is expected to take in cups is shared out by what the sittings lay; each mix
/// leaves as much in its own tool and cup.
///
/// # Errors
/// [`PlanError::Use`] where an amount is out of all range.
pub(super) fn tell(
    (run, visits, pieces, sat): (&Run, &[Vec<Visit>], &[PiecePlan], &Sat),
    coatings: &mut [CoatingPlan],
    dates: &mut Dates,
    notes: &mut Notes,
) -> Result<(), PlanError> {
    let Dates::Told(calendar) = dates else {
        return Ok(());
    };
    let uses = gathered(run, visits, pieces, sat)?;
    let kinds = pieces.iter().enumerate();
    let kinds: HashMap<&str, usize> = kinds.map(|(of, piece)| (piece.name.as_str(), of)).collect();
    for (stuff, uses) in run.coatings.iter().zip(&uses) {
        let Some(coating) = coatings.iter_mut().find(|plan| plan.name == stuff.name) else {
            continue;
        };
        let Some(cup) = Cup::of(&stuff.coating, coating, &uses.laid) else {
            continue;
        };
        let per_mix: Vec<Option<PerMix>> = (run.steps.iter())
            .map(|step| {
                let own = step.work.coating().map(|index| &run.coatings[index].name);
                let own = own.is_some_and(|name| *name == stuff.name);
                own.then(|| PerMix::of(run, step, std::slice::from_ref(coating)))
                    .flatten()
            })
            .collect();
        let mut mixes: Vec<Cupful> = Vec::new();
        let mut visits = Visits::new();
        for booked in &mut calendar.sittings {
            let Task::Step { step, .. } = booked.task else {
                continue;
            };
            let Some(per_mix) = &per_mix[step] else {
                continue;
            };
            let load = booked
                .pieces
                .iter()
                .map(|(name, count)| (kinds[name.as_str()], *count));
            let shares = per_mix.shares(&load.collect::<Vec<_>>());
            let each = cup.each(run, booked, (&kinds, &mut visits));
            let cupfuls = cup.cupfuls(pieces, &each, shares);
            booked.cupfuls = cupfuls.map_err(|why| PlanError::Use {
                what: stuff.name.clone(),
                why,
            })?;
            mixes.extend_from_slice(&booked.cupfuls);
        }
        let mass = |cupful: &Cupful| cupful.holds.mass();
        // another cup than the average, in the same room by the same law
        let most = mixes.iter().map(mass);
        let most = most.reduce(|most, mass| if mass > most { mass } else { most });
        if let Some(most) = most
            && let Some(cups) = coating.mix.as_mut().and_then(|mix| mix.cups.as_mut())
            && let Err(why) = cups.with_heaviest(&stuff.coating, most)
        {
            let step = stuff.name.clone();
            notes.warnings.push(Warning::NoTime { step, why });
        }
        mixes.sort_by(|a, b| mass(a).g().total_cmp(&mass(b).g()));
        if let (Some(mix), [least, .., most]) = (&mut coating.mix, mixes.as_slice())
            && mass(most) > mass(least) * (1.0 + ALIKE)
        {
            mix.unlike = Some([least.holds, most.holds]);
            let many = |cupful: &Cupful| u32::try_from(cupful.mixes).unwrap_or(u32::MAX);
            let all: Vec<_> = (mixes.iter())
                .map(|cupful| (many(cupful), mass(cupful)))
                .collect();
            let small = mix
                .cups
                .as_ref()
                .and_then(|cups| SmallMix::among(&all, cups));
            warn(notes, &stuff.name, small);
        }
    }
    Ok(())
}

/// Warns of mixes too small to weigh, in the place of what their average was warned of for.
fn warn(notes: &mut Notes, of: &str, small: Option<SmallMix>) {
    let known =
        |warning: &Warning| matches!(warning, Warning::SmallMix { coating, .. } if coating == of);
    notes.warnings.retain(|warning| !known(warning));
    notes.warnings.extend(small.map(|small| Warning::SmallMix {
        coating: of.to_owned(),
        small,
    }));
}

/// How often a wave of some kind of piece came to a coat of a step: by wave, step, coat and piece.
type Visits = HashMap<(usize, usize, u32, usize), usize>;

/// How a coating is shared out among its mixes.
struct Cup<'a> {
    parts: TwoPart,
    laid: &'a [Sitting],
    /// Of what is laid, how much more goes into the cups.
    more: f64,
    /// What stays in each cup and its tool.
    stays: Volume,
}

impl<'a> Cup<'a> {
    /// `None`: nothing is mixed, or nobody can tell how often.
    fn of(stuff: &Coating, plan: &CoatingPlan, laid: &'a [Sitting]) -> Option<Self> {
        let mix = plan.mix.as_ref()?;
        let (many, _) = mix.each.as_ref()?;
        let stays = stuff.tool().unwrap_or(Volume::ZERO);
        let all: Volume = laid.iter().fold(Volume::ZERO, |sum, sitting| {
            sum + sitting.each * number(sitting.coats)
        });
        let in_cups = mix.expected.volume() - stays * f64::from(*many);
        // fills that add nothing are mixed for all the same, as they are counted
        let more = if all > Volume::ZERO {
            in_cups / all
        } else {
            1.0
        };
        Some(Self {
            parts: TwoPart::from(stuff.two_parts()?),
            laid,
            more,
            stays,
        })
    }

    /// What one piece of each kind in a sitting takes of it.
    fn each(
        &self,
        run: &Run,
        booked: &Booked,
        (kinds, visits): (&HashMap<&str, usize>, &mut Visits),
    ) -> HashMap<usize, Volume> {
        let Task::Step { step, coat, of } = booked.task else {
            return HashMap::new();
        };
        let faces = run.steps[step].work.faces().map_or(1, Faces::count);
        let first_on_its_face = (coat - 1).is_multiple_of((of / faces).max(1));
        let each = booked.pieces.iter().map(|(name, _)| {
            let piece = kinds[name.as_str()];
            let came = (visits.entry((booked.wave, step, coat, piece))).or_default();
            let of_it = |sitting: &&Sitting| sitting.step == booked.what && sitting.of == piece;
            let sitting = self.laid.iter().filter(of_it).nth(*came);
            *came += 1;
            let one = sitting.map_or(Volume::ZERO, |sitting| {
                if first_on_its_face {
                    sitting.first
                } else {
                    sitting.further
                }
            });
            (piece, one)
        });
        each.collect()
    }

    /// A sitting's mixes, each of which is for its share of the pieces.
    fn cupfuls(
        &self,
        pieces: &[PiecePlan],
        each: &HashMap<usize, Volume>,
        shares: Vec<Vec<(usize, u64)>>,
    ) -> Result<Vec<Cupful>, UseError> {
        let mut cupfuls: Vec<Cupful> = Vec::new();
        let mut last = None;
        for share in shares {
            if let Some(like) = cupfuls.last_mut().filter(|_| last.as_ref() == Some(&share)) {
                like.mixes += 1;
                continue;
            }
            let laid = share.iter();
            let laid: Volume = laid
                .map(|&(piece, count)| each[&piece] * number(count))
                .sum();
            let own = share.iter();
            let own = own.map(|&(piece, count)| (pieces[piece].name.clone(), count));
            cupfuls.push(Cupful {
                mixes: 1,
                pieces: own.collect(),
                holds: self.parts.split(laid * self.more + self.stays)?,
            });
            last = Some(share);
        }
        Ok(cupfuls)
    }
}
