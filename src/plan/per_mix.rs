//! How the pieces of a sitting are shared out among its mixes, each of which has to last for its own.

use std::collections::BTreeMap;

use super::CoatingPlan;
use crate::run::{Run, Step};

/// Pieces: which of the run's, and how many.
type Part = (usize, u64);

/// The most pieces that one mix serves, by the kind of piece. One with several kinds in it serves as many
/// as it would were they all of the kind that takes the most: that mix is the heavier one, and at as many pieces
/// the hands are as long.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct PerMix(BTreeMap<usize, u64>);

impl PerMix {
    /// What a mix of a step's coating serves. `None`: nothing is mixed, or nobody can tell.
    pub(super) fn of(run: &Run, step: &Step, coatings: &[CoatingPlan]) -> Option<Self> {
        let most: BTreeMap<usize, u64> = limits(run, step, coatings)?.collect();
        (!most.is_empty()).then_some(Self(most))
    }

    /// The same for one kind of piece by itself.
    pub(super) fn of_one(
        run: &Run,
        step: &Step,
        coatings: &[CoatingPlan],
        piece: usize,
    ) -> Option<u64> {
        let mut own = limits(run, step, coatings)?.filter(|(of, _)| *of == piece);
        own.next().map(|(_, most)| most)
    }

    /// The most pieces of one kind in a mix that has any of it.
    pub(super) fn most(&self, piece: usize) -> u64 {
        // every kind that goes through the step is among them; one that were not would be mixed for by the piece
        self.0.get(&piece).copied().unwrap_or(1)
    }

    /// How many mixes some pieces take.
    pub(super) fn mixes(&self, pieces: &[Part]) -> u64 {
        self.mixes_in_order(&self.in_order(pieces))
    }

    /// Those of which a mix serves the fewest first, so that only the mixes that have one of them are
    /// held to it.
    fn in_order(&self, pieces: &[Part]) -> Vec<Part> {
        let some = pieces.iter().filter(|(_, count)| *count > 0);
        let mut pieces: Vec<Part> = some.copied().collect();
        pieces.sort_by_key(|&(piece, _)| self.most(piece));
        pieces
    }

    fn mixes_in_order(&self, pieces: &[Part]) -> u64 {
        let (mut mixes, mut room) = (0, 0);
        for &(piece, count) in pieces {
            let more = count.saturating_sub(room);
            let begun = more.div_ceil(self.most(piece));
            mixes += begun;
            room = match begun {
                0 => room - count,
                // further kinds fill up the last of them
                begun => begun.saturating_mul(self.most(piece)) - more,
            };
        }
        mixes
    }

    /// Which pieces each of those mixes is for: as many for each as for any other or one more, where all of them
    /// last for so many; else the first of them are for as many as they can be.
    pub(super) fn shares(&self, pieces: &[Part]) -> Vec<Vec<Part>> {
        let mut rest = self.in_order(pieces);
        let mut shares = Vec::new();
        while let Some(&(piece, count)) = rest.first() {
            let mixes = self.mixes_in_order(&rest);
            if self.last_alike(&rest, mixes) {
                shares.extend(evenly(rest, mixes));
                break;
            }
            let most = self.most(piece);
            // the last full one of a kind may yet be alike with those after it
            for _ in 0..(count / most).saturating_sub(1).max(1) {
                shares.push(take(&mut rest, most));
            }
        }
        shares
    }

    /// Whether so many mixes last for pieces in order that are shared out evenly.
    fn last_alike(&self, pieces: &[Part], mixes: u64) -> bool {
        let all: u64 = pieces.iter().map(|(_, count)| count).sum();
        let (each, larger) = (all / mixes, all % mixes);
        let with_one_more = larger * (each + 1);
        let mut from = 0;
        pieces.iter().all(|&(piece, count)| {
            // the first mix that begins with a piece of the kind, which lasts for the fewest of those in it
            let (begins, holds) = if from < with_one_more {
                (from.next_multiple_of(each + 1), each + 1)
            } else {
                (
                    with_one_more + (from - with_one_more).next_multiple_of(each.max(1)),
                    each,
                )
            };
            from += count;
            begins >= from || holds <= self.most(piece)
        })
    }
}

/// What a mix of a step's coating serves, by the kind of piece.
fn limits<'p>(
    run: &'p Run,
    step: &'p Step,
    coatings: &'p [CoatingPlan],
) -> Option<impl Iterator<Item = Part> + use<'p>> {
    let coating = &run.coatings[step.work.coating()?];
    let plan = coatings.iter().find(|plan| plan.name == coating.name)?;
    let serves = plan.mix.as_ref()?.cups.as_ref()?.serves.iter();
    let own = serves.filter(|serves| serves.step == step.name);
    // a mix that lasts for no piece is made for each all the same, which is warned of
    Some(own.map(|serves| (serves.of, serves.in_a_mix.max(1))))
}

/// Pieces in so many parts, the first few of one more.
fn evenly(mut pieces: Vec<Part>, parts: u64) -> Vec<Vec<Part>> {
    let all: u64 = pieces.iter().map(|(_, count)| count).sum();
    let room = |part| all / parts + u64::from(part < all % parts);
    (0..parts)
        .map(|part| take(&mut pieces, room(part)))
        .collect()
}

/// The first so many pieces, which are then no more among the rest.
fn take(rest: &mut Vec<Part>, room: u64) -> Vec<Part> {
    let (mut taken, mut room) = (Vec::new(), room);
    let mut whole = 0;
    for (piece, count) in rest.iter_mut() {
        let here = room.min(*count);
        if here > 0 {
            taken.push((*piece, here));
        }
        room -= here;
        *count -= here;
        if *count > 0 {
            break;
        }
        whole += 1;
    }
    rest.drain(..whole);
    taken
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn per_mix(most: &[u64]) -> PerMix {
        PerMix(most.iter().copied().enumerate().collect())
    }

    #[test]
    fn one_large_sample_has_a_mix_of_its_own() {
        let kinds = per_mix(&[20, 1]);
        assert_eq!(kinds.mixes(&[(0, 40), (1, 1)]), 3);
        assert_eq!(
            kinds.shares(&[(0, 40), (1, 1)]),
            [vec![(1, 1)], vec![(0, 20)], vec![(0, 20)]]
        );
        assert_eq!(
            kinds.shares(&[(0, 35), (1, 1)]),
            [vec![(1, 1)], vec![(0, 18)], vec![(0, 17)]]
        );
        // and where there is none of it nobody knows
        assert_eq!(kinds.mixes(&[(0, 40)]), 2);
    }

    #[test]
    fn many_mixes_of_one_kind_are_shared_out_at_once() {
        let kinds = per_mix(&[20, 1]);
        let shares = kinds.shares(&[(0, 50_000), (1, 20_000)]);
        assert_eq!(shares.len(), 22_500);
        assert!(shares[..20_000].iter().all(|share| *share == [(1, 1)]));
        assert!(shares[20_000..].iter().all(|share| *share == [(0, 20)]));
    }

    #[test]
    fn few_pieces_go_into_others_mixes() {
        let kinds = per_mix(&[20, 15]);
        assert_eq!(kinds.mixes(&[(0, 28), (1, 2)]), 2);
        assert_eq!(
            kinds.shares(&[(0, 28), (1, 2)]),
            [vec![(1, 2), (0, 13)], vec![(0, 15)]]
        );
    }

    proptest! {
        /// All pieces are in some mix, none of which has more than it lasts for; and neither one more
        /// piece nor a mix that lasts less long saves a mix.
        #[test]
        fn mixes_last_for_all_their_pieces(
            kinds in prop::collection::vec((1_u64..12, 0_u64..30), 1..5),
            of in 0_usize..5,
        ) {
            let most: Vec<u64> = kinds.iter().map(|(most, _)| *most).collect();
            let pieces: Vec<Part> = kinds.iter().map(|(_, count)| *count).enumerate().collect();
            let limits = per_mix(&most);
            let shares = limits.shares(&pieces);
            let mixes = limits.mixes(&pieces);
            prop_assert_eq!(u64::try_from(shares.len()).unwrap(), mixes);
            for &(piece, count) in &pieces {
                let all = shares.iter().flatten().filter(|(of, _)| *of == piece);
                prop_assert_eq!(all.map(|(_, count)| count).sum::<u64>(), count);
            }
            for share in &shares {
                let all: u64 = share.iter().map(|(_, count)| count).sum();
                prop_assert!(all > 0 && share.iter().all(|&(piece, _)| all <= limits.most(piece)));
            }
            let of = of % pieces.len();
            let mut more = pieces.clone();
            more[of].1 += 1;
            prop_assert!(limits.mixes(&more) >= mixes);
            let mut fewer = most.clone();
            fewer[of] = (fewer[of] - 1).max(1);
            prop_assert!(per_mix(&fewer).mixes(&pieces) >= mixes);
            // no fewer than each kind or the whole run would take by itself
            for &(piece, count) in &pieces {
                prop_assert!(mixes >= count.div_ceil(limits.most(piece)));
            }
            let longest = most.iter().max().unwrap();
            let all: u64 = pieces.iter().map(|(_, count)| count).sum();
            prop_assert!(mixes >= all.div_ceil(*longest));
        }
    }
}
