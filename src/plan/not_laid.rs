//! Hours of the clock in which a coat is not laid.

use super::left::is_coated_further;
use super::steps::Timed;
use super::waits::Waits;
use crate::run::Run;

/// Hours of the clock in which a step's coat is not laid: laid then it would never be ready, or nobody
/// can tell when.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotLaid {
    /// The step's name.
    pub step: String,
    /// From which full hour to which, 0 to 23, in order of their beginnings; a spell that ends no
    /// later than it begins goes on past midnight, and all day long is from 0 to 24. Each is told
    /// whole, where some hour of work lies in it.
    pub spells: Vec<[u8; 2]>,
}

impl NotLaid {
    /// Of a step. `None`: its coats are laid in any hour of work.
    pub(super) fn of(run: &Run, timed: &Timed) -> Option<Self> {
        let Waits::Told(told) = &timed.waits else {
            return None;
        };
        // what is waited for after its coats; for the next one only where there is one
        let next = timed.plan.coats > 1 || is_coated_further(run, timed.step);
        let waits = [
            Some(&told.recoat).filter(|_| next),
            Some(&told.handle),
            told.through.as_ref(),
        ];
        let barred = std::array::from_fn(|hour| {
            let mut waits = waits.iter().flatten();
            waits.any(|wait| wait.by_hour[hour].is_none())
        });
        let spells = spells(&barred, |hour| works(run, hour));
        (!spells.is_empty()).then(|| Self {
            step: timed.plan.name.clone(),
            spells,
        })
    }
}

/// Whether there is work in an hour of the clock, on any day.
fn works(run: &Run, hour: u8) -> bool {
    let (from, to) = (60 * u16::from(hour), 60 * (u16::from(hour) + 1));
    let mut spans = run.hours.days.iter().flatten();
    spans.any(|span| span.from < to && from < span.to)
}

/// The barred hours that follow one another around the clock, where there is work in some of them.
fn spells(barred: &[bool; 24], works: impl Fn(u8) -> bool) -> Vec<[u8; 2]> {
    let is_barred = |hour: u8| barred[usize::from(hour % 24)];
    if (0..24).all(is_barred) {
        return if (0..24).any(works) {
            vec![[0, 24]]
        } else {
            Vec::new()
        };
    }
    let begins = (0..24).filter(|&hour| is_barred(hour) && !is_barred(hour + 23));
    begins
        .filter_map(|from| {
            let lasts = (1..24).find(|&hours| !is_barred(from + hours))?;
            let mut hours = (from..from + lasts).map(|hour| hour % 24);
            hours.any(&works).then_some([from, (from + lasts) % 24])
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::spells;

    fn barred(hours: &[u8]) -> [bool; 24] {
        std::array::from_fn(|hour| hours.iter().any(|&one| usize::from(one) == hour))
    }

    #[test]
    fn hours_that_follow_one_another_are_one_spell_past_midnight_too() {
        let night = barred(&[22, 23, 0, 1]);
        assert_eq!(spells(&night, |_| true), [[22, 2]]);
        assert_eq!(spells(&barred(&[23]), |_| true), [[23, 0]]);
        assert_eq!(spells(&barred(&[7, 8, 20]), |_| true), [[7, 9], [20, 21]]);
        assert_eq!(spells(&barred(&[]), |_| true), [[0_u8; 2]; 0]);
        assert_eq!(spells(&[true; 24], |_| true), [[0, 24]]);
    }

    #[test]
    fn a_spell_that_no_work_lies_in_is_not_told_and_another_is_told_whole() {
        let both = barred(&[3, 4, 18, 19, 20]);
        assert_eq!(spells(&both, |hour| hour == 19), [[18, 21]]);
        assert_eq!(spells(&both, |hour| hour == 12), [[0_u8; 2]; 0]);
        assert_eq!(spells(&[true; 24], |_| false), [[0_u8; 2]; 0]);
    }
}
