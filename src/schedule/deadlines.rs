//! By when each sitting must have begun for its wave to be done in time.

use super::prepared::{Flat, Prepared};
use super::wait::WaitId;

/// The last minutes at which the sittings of a split may begin, by their places in it: a wave
/// that has the line and the trays to itself is done within the limit from there, and from no
/// later minute. What other waves take of them only makes it later.
pub(super) struct Deadlines(Vec<i64>);

impl Deadlines {
    /// For a limit by which every wave must be done.
    pub fn of(task: &Prepared, flat: &Flat, limit: i64) -> Self {
        let mut all = vec![limit; flat.acts.len()];
        for wave in 0..flat.waves() {
            let (from, to) = (flat.first[wave], flat.first[wave + 1]);
            let twin = flat.twin[wave];
            if twin < wave {
                all.copy_within(flat.first[twin]..flat.first[twin + 1], from);
                continue;
            }
            // By when it must be ready for what comes next, its coats so far dry through, and dry to
            // handle.
            let (mut next, mut through, mut handled) = (limit, limit, limit);
            for place in (from..to).rev() {
                let act = &flat.acts[place];
                let latest = |wait: WaitId, until| task.reaches[wait.0].latest(until);
                if act.until_through {
                    through = next;
                }
                if act.until_handled {
                    handled = next;
                }
                let ends = act.next.map_or(next, |wait| latest(wait, next));
                let dries = act.through.map_or(ends, |wait| latest(wait, through));
                let lifts = act.lifted.map_or(ends, |wait| latest(wait, handled));
                let begins = ends.min(dries).min(lifts) - act.work;
                next = task.starts[act.starts].last(task.hours, begins);
                all[place] = next;
            }
        }
        Self(all)
    }

    /// Whether a sitting that begins in a minute is in time.
    pub fn allow(&self, place: usize, begins: i64) -> bool {
        begins <= self.0[place]
    }
}

#[cfg(test)]
mod tests {
    use super::super::hours::{Hours, Window};
    use super::super::line::Line;
    use super::super::task::{Shop, Sitting, Split, Task, Wave};
    use super::super::wait::Wait;
    use super::*;
    use std::collections::BTreeSet;

    /// Evenings, a wait with hours in which nothing is laid, and a coat that is dry through long
    /// after the next is on it.
    fn task() -> Task {
        let window = |from, to| Window { from, to };
        let evenings = std::array::from_fn(|_| vec![window(1080, 1290)]);
        let mut by_hour = Wait::steady(90);
        by_hour.by_hour[19] = None;
        by_hour.by_hour[20] = Some(300);
        let sitting = |work, next, through| Sitting {
            step: 0,
            work,
            next: Some(WaitId(next)),
            lifted: None,
            through: Some(WaitId(through)),
            after_through: false,
            as_it_lies: false,
            look: None,
            not_before: None,
            coat: None,
        };
        let wave = Wave {
            group: 0,
            pieces: 1,
            trays: Vec::new(),
            sittings: vec![
                sitting(40, 0, 2),
                sitting(25, 1, 0),
                Sitting {
                    after_through: true,
                    ..sitting(30, 1, 1)
                },
            ],
        };
        Task {
            shop: Shop {
                hours: Hours::new(evenings, &BTreeSet::new(), window(420, 1380)).unwrap(),
                trays: Vec::new(),
            },
            waits: vec![by_hour, Wait::steady(200), Wait::steady(4000)],
            splits: vec![Split { waves: vec![wave] }],
        }
    }

    #[test]
    fn a_wave_by_itself_is_in_time_up_to_its_deadline_and_not_after() {
        let task = task();
        let prepared = Prepared::of(&task).unwrap();
        let flat = &prepared.splits[0].1;
        let order = [0, 0, 0];
        let mut line = Line::default();
        for limit in (0..4 * 1440).step_by(7).map(|past| 20_000 + past) {
            let deadlines = Deadlines::of(&prepared, flat, limit);
            let last = deadlines.0[0];
            line.all(&prepared, flat, &order, (last, &[]));
            assert!(line.finish <= limit, "{limit}");
            line.all(&prepared, flat, &order, (last + 1, &[]));
            assert!(line.finish > limit, "{limit}");
            let mut in_time =
                |start| line.all_in_time(&prepared, flat, (&order, start), &deadlines);
            assert_eq!((in_time(last), in_time(last + 1)), (Some(last), None));
        }
    }
}
