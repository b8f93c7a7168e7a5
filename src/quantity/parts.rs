//! Quantities written in parts, larger unit first.

use super::Kind;
use super::measured::Measured;
use super::number;
use super::reader::{Fault, Reader, finish, no_number};
use super::units::{self, Scale, Unit};
use super::unreadable::Problem;

impl Reader<'_> {
    /// "1 h 30 min", "1h30", "5 ft 3 in".
    pub(super) fn in_parts(
        &self,
        mut unit: &'static Unit,
        mut after: &str,
    ) -> Result<Measured, Fault> {
        let first = finish(unit.kind, self.number, unit.scale)?;
        let (kind, mut sum) = (first.kind, first.si);
        loop {
            let (number, rest) = number::take(after).map_err(|why| no_number(why, after))?;
            let rest = rest.trim_start();
            let smaller = part_unit(unit, rest, kind);
            let (next, more) = match (smaller, next_part(rest, Some(kind))) {
                (Some(next), _) => (next, None),
                (None, Some((next, more))) => (next, Some(more)),
                (None, None) if rest.is_empty() => return Err(self.no_last_unit(unit)),
                (None, None) => {
                    return Err(Problem::UnknownUnit {
                        unit: rest.to_owned(),
                    }
                    .into());
                }
            };
            if number < 0.0 || !divides(next, unit) {
                return Err(self.out_of_order(after));
            }
            sum += next.scale.held(number);
            let Some(more) = more else {
                return finish(kind, sum, Scale::Times(1.0));
            };
            (unit, after) = (next, more);
        }
    }

    /// "30 min 1 h": the parts may be swapped, or the second be left over.
    fn out_of_order(&self, after: &str) -> Fault {
        let before = self.rest[..self.rest.len() - after.len()].trim_end();
        let first = format!("{} {before}", self.head);
        let nearest = vec![format!("{after} {first}"), first];
        Fault {
            problem: Problem::Trailing {
                rest: after.to_owned(),
            },
            nearest,
        }
    }

    /// "5 ft 3": feet are followed by inches, nothing else is so plain.
    fn no_last_unit(&self, before: &Unit) -> Fault {
        let feet = before.names.contains(&"ft");
        let nearest = if feet {
            vec![format!("{} {} in", self.head, self.rest)]
        } else {
            Vec::new()
        };
        Fault {
            problem: Problem::NoUnit,
            nearest,
        }
    }
}

/// Whether a whole number, above one, of the first unit makes the second:
/// inches after feet, but not millimetres.
fn divides(smaller: &Unit, larger: &Unit) -> bool {
    let times = larger.scale.size() / smaller.scale.size();
    times > 1.5 && (times - times.round()).abs() < 1e-9 * times
}

/// The unit that the text begins with, if another number follows it.
pub(super) fn next_part(rest: &str, expected: Option<Kind>) -> Option<(&'static Unit, &str)> {
    let mut best: Option<(&'static Unit, &str)> = None;
    for unit in units::TABLE {
        if !unit.kind.comes_in_parts() || expected.is_some_and(|kind| kind != unit.kind) {
            continue;
        }
        for name in unit.names {
            let Some(after) = strip(rest, name) else {
                continue;
            };
            let apart = unit.kind == Kind::Time
                || after.starts_with([' ', ','])
                || name.ends_with(['\'', '"']);
            let shorter = best.is_none_or(|(_, other)| after.len() < other.len());
            if apart && shorter && number::begins(joined(after)) {
                best = Some((unit, after));
            }
        }
    }
    best.map(|(unit, after)| (unit, joined(after)))
}

/// The text past what joins two parts: space, a comma, "and".
fn joined(after: &str) -> &str {
    let after = after.trim_start_matches([' ', ',']);
    strip(after, "and ").unwrap_or(after)
}

fn strip<'a>(text: &'a str, start: &str) -> Option<&'a str> {
    let (head, rest) = text.split_at_checked(start.len())?;
    head.eq_ignore_ascii_case(start).then_some(rest)
}

/// The unit of the last part; after hours a bare number or "m" is minutes.
fn part_unit(before: &Unit, rest: &str, kind: Kind) -> Option<&'static Unit> {
    let after_hours = kind == Kind::Time && before.names.contains(&"h");
    let spelling = if after_hours && (rest.is_empty() || rest == "m") {
        "min"
    } else {
        rest
    };
    units::find(spelling, Some(kind))
}
