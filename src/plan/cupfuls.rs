//! What goes into each mix of a sitting: as much as the pieces in it take.

use super::calendar::{Booked, Dates};
use super::chain::Task;
use super::mixing::Sitting;
use super::uses::{Sat, gathered, number};
use super::visits::Visit;
use super::{CoatingPlan, PiecePlan, PlanError};
use crate::coating::Coating;
use crate::consumption::{Split, TwoPart, UseError};
use crate::quantity::Volume;
use crate::run::Run;

/// Mixes that differ by more than this share of the least are told apart.
const ALIKE: f64 = 0.1;

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
) -> Result<(), PlanError> {
    let Dates::Told(calendar) = dates else {
        return Ok(());
    };
    let uses = gathered(run, visits, pieces, sat)?;
    for (stuff, uses) in run.coatings.iter().zip(&uses) {
        let Some(coating) = coatings.iter_mut().find(|plan| plan.name == stuff.name) else {
            continue;
        };
        let Some(cup) = Cup::of(&stuff.coating, coating, &uses.laid) else {
            continue;
        };
        let own = |booked: &&mut Booked| match booked.task {
            Task::Step { step, .. } => (run.steps[step].work.coating())
                .is_some_and(|index| run.coatings[index].name == stuff.name),
            Task::Look { .. } => false,
        };
        let mut mixes: Vec<Split> = Vec::new();
        for booked in calendar.sittings.iter_mut().filter(own) {
            booked.each_mix = cup.each(booked).map_err(|why| PlanError::Use {
                what: stuff.name.clone(),
                why,
            })?;
            mixes.extend(booked.each_mix);
        }
        mixes.sort_by(|a, b| a.mass().g().total_cmp(&b.mass().g()));
        if let (Some(mix), [least, .., most]) = (&mut coating.mix, mixes.as_slice()) {
            let unlike = most.mass() > least.mass() * (1.0 + ALIKE);
            mix.unlike = unlike.then_some([*least, *most]);
        }
    }
    Ok(())
}

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
        Some(Self {
            parts: TwoPart::from(stuff.two_parts()?),
            laid,
            more: in_cups / all,
            stays,
        })
    }

    /// What each of a sitting's mixes holds; `None` where it mixes nothing.
    fn each(&self, booked: &Booked) -> Result<Option<Split>, UseError> {
        let Some(mixes) = booked.mixes.filter(|mixes| *mixes > 0) else {
            return Ok(None);
        };
        let one_coat = |piece: &str| {
            let of_it = |sitting: &&Sitting| sitting.step == booked.what && sitting.piece == piece;
            self.laid.iter().find(of_it).map(|sitting| sitting.each)
        };
        let laid = (booked.pieces.iter()).fold(Volume::ZERO, |sum, (piece, count)| {
            sum + one_coat(piece).unwrap_or(Volume::ZERO) * number(*count)
        });
        let each = laid * (self.more / number(mixes)) + self.stays;
        self.parts.split(each).map(Some)
    }
}
