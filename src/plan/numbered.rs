//! What sittings wait for, each with the scheduler's number, and how long that surely takes.

use std::collections::BTreeMap;

use statrs::distribution::{ContinuousCDF, Normal};

use super::chain::{Group, Until};
use super::steps::Timed;
use super::waits::{ToldWaits, Waits};
use super::waves::minutes;
use crate::drying::TimeBand;
use crate::quantity::{Share, Time};
use crate::run::Run;

/// How sure the times are that a task is built with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Sure {
    /// As long as is likely.
    Likely,
    /// So long that they are this surely not longer.
    To(Share),
}

/// The waits of a run, each with its number.
pub(super) struct Numbered {
    /// The number of each.
    pub number: BTreeMap<Until, usize>,
    /// What is waited for, by number.
    pub waits: Vec<Kind>,
}

/// One wait.
pub(super) struct Kind {
    /// The step whose coat dries. `None`: the second look, which is as long as it is said to be.
    pub step: Option<usize>,
    /// By the clock hour.
    by_hour: [Option<Time>; 24],
    /// How sure the time is. `None`: exactly so long.
    pub band: Option<TimeBand>,
}

impl Numbered {
    pub fn of(run: &Run, groups: &[Group], steps: &[Timed]) -> Self {
        let mut all = Self {
            number: BTreeMap::new(),
            waits: Vec::new(),
        };
        for stint in groups.iter().flat_map(|group| &group.stints) {
            for until in [stint.next, stint.lifted, stint.through] {
                if until == Until::Now || all.number.contains_key(&until) {
                    continue;
                }
                if let Some(kind) = Kind::of(run, steps, until) {
                    all.number.insert(until, all.waits.len());
                    all.waits.push(kind);
                }
            }
        }
        all
    }
}

impl Kind {
    fn of(run: &Run, steps: &[Timed], until: Until) -> Option<Self> {
        let step = match until {
            Until::Now => return None,
            Until::SecondLook => {
                return Some(Self {
                    step: None,
                    by_hour: [Some(run.inspection?.again_after); 24],
                    band: None,
                });
            }
            Until::Recoat(step)
            | Until::Handle(step)
            | Until::Both(step)
            | Until::Through(step) => step,
        };
        let timed = steps.iter().find(|timed| timed.step == step)?;
        let Waits::Told(told) = &timed.waits else {
            return None;
        };
        let ToldWaits {
            recoat,
            handle,
            through,
        } = told.as_ref();
        let wait = match until {
            Until::Recoat(_) => recoat.clone(),
            Until::Handle(_) => handle.clone(),
            Until::Both(_) => recoat.or_later(handle),
            _ => handle.or_later(through.as_ref().unwrap_or(handle)),
        };
        Some(Self {
            step: Some(step),
            by_hour: wait.by_hour,
            band: Some(wait.band),
        })
    }

    /// By the clock hour, in whole minutes. `None`: it can't be that sure.
    pub fn minutes(&self, sure: Sure) -> Option<[Option<u32>; 24]> {
        let longer = match (sure, self.band) {
            (Sure::To(share), Some(band)) => longer(band, share)?,
            _ => 1.0,
        };
        Some(self.by_hour.map(|time| Some(minutes(time? * longer))))
    }
}

/// How many times the likely time is not passed, this surely: the band's ends are its 5 %
/// and 95 % points, and above the middle it is lognormal. `None`: it has no upper end.
fn longer(band: TimeBand, share: Share) -> Option<f64> {
    let ratio = band.high / band.likely;
    ratio.is_finite().then(|| above_middle(ratio, share))
}

/// How many times the middle is not passed with a probability from a half up, where the
/// 95 % point is `high` times it and above the middle it is lognormal.
pub(super) fn above_middle(high: f64, share: Share) -> f64 {
    let normal = Normal::standard();
    let z = |probability| normal.inverse_cdf(probability);
    high.powf(z(share.fraction()) / z(0.95))
}
