//! Ways of splitting a run into waves: pieces that go through each sitting together.

use super::PiecePlan;
use super::chain::{Group, Stint, Task, Until};
use super::space::SpacePlan;
use super::uses::number;
use crate::quantity::Time;
use crate::schedule::{Minute, Sitting, Split, WaitId, Wave};

/// Into how many waves a run is split, at most as many as it has pieces. The list does not
/// depend on the run, so that more hours or trays never take a way of splitting away.
const WAVES: [u64; 16] = [
    1, 2, 3, 4, 5, 6, 8, 12, 16, 24, 48, 128, 512, 2048, 8192, 65_536,
];

/// One wave's pieces: which of the run's, and how many are started.
pub(super) type Load = Vec<(usize, u64)>;

/// One way of splitting, with what each wave is made of.
#[derive(Debug, Clone)]
pub(super) struct Way {
    pub loads: Vec<(usize, Load)>,
}

/// How long things take.
pub(super) struct Pace<'p> {
    /// How many times as slow as the figures the hands are.
    pub slower: f64,
    /// The schedule's number for each wait.
    pub wait: &'p dyn Fn(Until) -> Option<WaitId>,
    /// From when all is there that a step takes; none is always.
    pub step_from: &'p dyn Fn(usize) -> Option<Minute>,
    /// From when the blanks of a kind of piece are there; none is always.
    pub piece_from: &'p dyn Fn(usize) -> Option<Minute>,
}

/// The ways of splitting a run: into waves of as many pieces, and where some kinds take more of a tray than others also
/// into waves that take about as much of the trays.
pub(super) fn ways(groups: &[Group], pieces: &[PiecePlan], space: &SpacePlan) -> Vec<Way> {
    let largest = groups.iter().map(|group| started(group, pieces)).max();
    let largest = largest.unwrap_or(0);
    let mut ways = Vec::new();
    for waves in WAVES {
        let cut = |rooms: &dyn Fn(&Group) -> Vec<u64>| {
            let mut loads = Vec::new();
            for (index, group) in groups.iter().enumerate() {
                let slices = slices(group, pieces, rooms(group));
                loads.extend(slices.into_iter().map(|load| (index, load)));
            }
            Way { loads }
        };
        let alike = cut(&|group| even(started(group, pieces), waves));
        let by_trays = cut(&|group| {
            let rooms = even_on_trays(group, pieces, space, waves);
            rooms.unwrap_or_else(|| even(started(group, pieces), waves))
        });
        let unlike = by_trays.loads != alike.loads;
        ways.push(alike);
        ways.extend(unlike.then_some(by_trays));
        if waves >= largest {
            break;
        }
    }
    ways
}

fn started(group: &Group, pieces: &[PiecePlan]) -> u64 {
    group.pieces.iter().map(|&piece| pieces[piece].start).sum()
}

/// So many pieces in parts that are as even as can be.
fn even(total: u64, waves: u64) -> Vec<u64> {
    let waves = waves.min(total).max(1);
    // the first few take one more
    let room = |wave| total / waves + u64::from(wave < total % waves);
    (0..waves).map(room).collect()
}

/// How many of a group's pieces, one kind after another, are in each of so many parts that take about as much of the
/// trays. `None`: all kinds take as much, or some piece lies on none.
fn even_on_trays(
    group: &Group,
    pieces: &[PiecePlan],
    space: &SpacePlan,
    waves: u64,
) -> Option<Vec<u64>> {
    let on_one = |&piece: &usize| space.per_tray(piece).filter(|&on_one| on_one > 0);
    let on_one: Vec<u32> = group.pieces.iter().map(on_one).collect::<Option<_>>()?;
    if on_one.windows(2).all(|pair| pair[0] == pair[1]) {
        return None;
    }
    let counts = group.pieces.iter().map(|&piece| pieces[piece].start);
    let kinds: Vec<(u64, f64)> = counts.zip(on_one.into_iter().map(f64::from)).collect();
    let waves = waves.min(started(group, pieces)).max(1);
    let all: f64 = kinds
        .iter()
        .map(|(count, on_one)| number(*count) / on_one)
        .sum();
    let mut left = kinds.into_iter().peekable();
    // of the kinds that are done, pieces and trays; and pieces up to the wave before
    let (mut before, mut trays, mut last) = (0, 0.0, 0);
    let mut rooms = Vec::new();
    for wave in 1..=waves {
        let taken = all * number(wave) / number(waves);
        while let Some((count, on_one)) =
            left.next_if(|(count, on_one)| trays + number(*count) / on_one <= taken)
        {
            before += count;
            trays += number(count) / on_one;
        }
        let begun = left.peek().map_or(0.0, |(count, on_one)| {
            ((taken - trays) * on_one)
                .round()
                .clamp(0.0, number(*count))
        });
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "from none up to a count"
        )]
        let end = before + begun as u64;
        rooms.push(end - last);
        last = end;
    }
    Some(rooms)
}

/// A group's pieces, one kind after another, cut into parts of so many; those of none are left out.
fn slices(group: &Group, pieces: &[PiecePlan], rooms: Vec<u64>) -> Vec<Load> {
    let mut loads: Vec<Load> = Vec::new();
    let mut kinds = group
        .pieces
        .iter()
        .map(|&piece| (piece, pieces[piece].start));
    let mut kind = kinds.next();
    for mut room in rooms {
        let mut load = Load::new();
        while room > 0 {
            let Some((piece, left)) = &mut kind else {
                break;
            };
            let taken = room.min(*left);
            if taken > 0 {
                load.push((*piece, taken));
            }
            room -= taken;
            *left -= taken;
            if *left == 0 {
                kind = kinds.next();
            }
        }
        if !load.is_empty() {
            loads.push(load);
        }
    }
    loads
}

impl Way {
    /// The same for the scheduler.
    pub(super) fn split(&self, groups: &[Group], space: &SpacePlan, pace: &Pace) -> Option<Split> {
        let mut turn = vec![0_usize; groups.len()];
        let mut waves: Vec<Wave> = Vec::with_capacity(self.loads.len());
        let mut last: Option<(usize, &Load)> = None;
        for (group, load) in &self.loads {
            let group = *group;
            let count: u64 = load.iter().map(|(_, count)| count).sum();
            let first = turn[group];
            turn[group] += 1;
            // as many of the same pieces take as long
            let like = waves.last().filter(|_| last == Some((group, load)));
            last = Some((group, load));
            let stints = &groups[group].stints;
            let mut sittings: Vec<Sitting> = match like {
                Some(wave) => wave.sittings.clone(),
                None => (stints.iter())
                    .map(|stint| sitting(stint, load, pace))
                    .collect(),
            };
            // the first is for the load's own blanks too
            if let Some((sitting, stint)) = sittings.first_mut().zip(stints.first()) {
                let blanks = load
                    .iter()
                    .filter_map(|&(piece, _)| (pace.piece_from)(piece));
                sitting.not_before = goods_from(stint, pace).max(blanks.max());
            }
            waves.push(Wave {
                group,
                pieces: u32::try_from(count).unwrap_or(u32::MAX),
                trays: trays(space, load, first)?,
                sittings,
            });
        }
        Some(Split { waves })
    }
}

fn sitting(stint: &Stint, load: &Load, pace: &Pace) -> Sitting {
    Sitting {
        step: match stint.task {
            Task::Step { step, .. } => step,
            Task::Look { .. } => usize::MAX,
        },
        work: minutes(stint.lasts(load, pace.slower)),
        next: (pace.wait)(stint.next),
        lifted: (pace.wait)(stint.lifted),
        through: (pace.wait)(stint.through),
        after_through: stint.after_through,
        as_it_lies: matches!(stint.next, Until::Recoat(_)),
        look: stint.look.map(minutes),
        not_before: goods_from(stint, pace),
        coat: stint.coat,
    }
}

/// From when all is there that a stint's step takes.
fn goods_from(stint: &Stint, pace: &Pace) -> Option<Minute> {
    match stint.task {
        Task::Step { step, .. } => (pace.step_from)(step),
        Task::Look { .. } => None,
    }
}

/// Whole minutes, the last begun one counted.
pub(super) fn minutes(time: Time) -> u32 {
    // a little less than a minute's rounding error is no minute
    let minutes = (time.min() - 1e-9)
        .ceil()
        .clamp(0.0, f64::from(u32::MAX / 4));
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "clamped to what fits"
    )]
    let minutes = minutes as u32;
    minutes
}

/// How many trays of each kind a load takes. It fills those of one kind, then goes on with
/// the next; waves begin with the kinds in turn, so that none stays empty. What the others have
/// no room for goes on the last kind that holds it, for the scheduler to see that there are
/// too few. `None`: some piece fits on no tray.
fn trays(space: &SpacePlan, load: &Load, first: usize) -> Option<Vec<u32>> {
    let kinds = space.trays.len();
    if kinds == 0 {
        return Some(Vec::new());
    }
    let mut taken = vec![0_u32; kinds];
    let mut left: Vec<(usize, u64)> = load.clone();
    for turn in 0..kinds {
        let kind = (first + turn) % kinds;
        taken[kind] = space.trays[kind].take(space.trays[kind].usable, &mut left);
    }
    for turn in (0..kinds).rev() {
        let kind = (first + turn) % kinds;
        let more = space.trays[kind].take(u32::MAX, &mut left);
        taken[kind] = taken[kind].saturating_add(more);
    }
    left.iter().all(|&(_, count)| count == 0).then_some(taken)
}
