//! What follows a number: one unit, parts, or a reason to refuse.

use super::Kind;
use super::figures::{figures, significant};
use super::measured::Measured;
use super::number::{self, NotANumber};
use super::parts::next_part;
use super::units::{self, Ambiguous, Scale};
use super::unreadable::{Problem, Reading};

/// A problem, with what might have been meant (not yet tried).
pub(super) struct Fault {
    pub(super) problem: Problem,
    pub(super) nearest: Vec<String>,
}

impl From<Problem> for Fault {
    fn from(problem: Problem) -> Self {
        Self {
            problem,
            nearest: Vec::new(),
        }
    }
}

/// A text in hand: its number is taken, its unit is not.
pub(super) struct Reader<'a> {
    /// The number as written.
    pub(super) head: &'a str,
    pub(super) number: f64,
    pub(super) rest: &'a str,
    pub(super) expected: Option<Kind>,
}

/// The fault that a missing or spoilt number is.
pub(super) fn no_number(why: NotANumber, text: &str) -> Fault {
    match why {
        NotANumber::Missing => Problem::NoNumber.into(),
        NotANumber::OutOfReach => Problem::OutOfReach.into(),
        NotANumber::DividesByZero => Problem::DividesByZero.into(),
        NotANumber::Mark(mark) => Fault {
            problem: Problem::Mark { mark },
            nearest: if mark == ',' {
                without_comma(text)
            } else {
                vec![without_mark(text, mark)]
            },
        },
    }
}

/// "1'000" and "1 000" as "1000": marks between digits, before three of them.
fn without_mark(text: &str, mark: char) -> String {
    let is_digit = |byte: Option<&u8>| byte.is_some_and(u8::is_ascii_digit);
    let bytes = text.as_bytes();
    text.char_indices()
        .filter(|(at, c)| {
            let before = at.checked_sub(1).and_then(|at| bytes.get(at));
            *c != mark || !is_digit(before) || !(1..=3).all(|next| is_digit(bytes.get(at + next)))
        })
        .map(|(_, c)| c)
        .collect()
}

/// What a number with commas may have meant: "2,5" is 2.5, "1,250" may be
/// 1.250 or 1250, "1.250,5" and "1,250.5" are both 1250.5.
fn without_comma(text: &str) -> Vec<String> {
    let end = text
        .find(|c: char| !c.is_ascii_digit() && !"-+,.".contains(c))
        .unwrap_or(text.len());
    let (number, unit) = text.split_at(end);
    let commas = number.matches(',').count();
    let mut ways = Vec::new();
    let decimal = number.rfind(',') > number.rfind('.') && commas == 1;
    if decimal {
        ways.push(number.replace('.', "").replace(',', "."));
    }
    let after = number.len() - number.rfind(',').map_or(0, |at| at + 1);
    if !decimal || (after == 3 && !number.contains('.') && !number.starts_with('0')) {
        ways.push(number.replace(',', ""));
    }
    ways.into_iter().map(|way| way + unit).collect()
}

impl Reader<'_> {
    /// A number with nothing after it.
    pub(super) fn bare(&self) -> Result<Measured, Fault> {
        let kind = self.expected.unwrap_or(Kind::Ratio);
        let is_zero = self.number == 0.0 && kind != Kind::Temperature;
        if kind.is_plain() || is_zero {
            return finish(kind, self.number, Scale::Times(1.0));
        }
        let as_fraction = matches!(kind, Kind::Share | Kind::Humidity) && self.number < 1.0;
        let nearest = if as_fraction {
            vec![format!("{} %", figures(self.number * 100.0, 3))]
        } else {
            self.likely()
        };
        Err(Fault {
            problem: Problem::NoUnit,
            nearest,
        })
    }

    /// The number with each unit that the kind most likely has.
    fn likely(&self) -> Vec<String> {
        let units = self.expected.map_or(&[][..], Kind::likely_units);
        units
            .iter()
            .map(|unit| format!("{} {unit}", self.head))
            .collect()
    }

    /// "2:1" and "100 : 90".
    pub(super) fn proportion(&self) -> Result<Measured, Fault> {
        let after = self.rest[1..].trim_start();
        let (below, rest) = number::take(after).map_err(|why| no_number(why, after))?;
        if below == 0.0 {
            return Err(Problem::DividesByZero.into());
        }
        if !rest.trim().is_empty() {
            let second = after[..after.len() - rest.len()].trim_end();
            return Err(Fault {
                problem: Problem::Trailing {
                    rest: rest.trim().to_owned(),
                },
                nearest: vec![format!("{}:{second}", self.head)],
            });
        }
        let kind = self.expected.unwrap_or(Kind::Ratio);
        finish(kind, self.number / below, Scale::Times(1.0))
    }

    /// A number with something after it.
    pub(super) fn with_unit(&self) -> Result<Measured, Fault> {
        let plain = self.expected.is_some_and(Kind::is_plain);
        if !plain && let Some(unit) = units::find(self.rest, self.expected) {
            return finish(unit.kind, self.number, unit.scale);
        }
        if let Some(doubtful) = units::ambiguous(self.rest) {
            return Err(self.doubt(doubtful));
        }
        if let Some(unit) = units::find(self.rest, None) {
            return Err(self.wrong_kind(unit.kind));
        }
        if let Some(fault) = self.range() {
            return Err(fault);
        }
        if plain {
            let problem = Problem::TakesNoUnit {
                unit: self.rest.to_owned(),
            };
            return Err(Fault {
                problem,
                nearest: vec![self.head.to_owned()],
            });
        }
        if let Some((unit, after)) = next_part(self.rest, self.expected) {
            return self.in_parts(unit, after);
        }
        Err(self.unknown())
    }

    fn doubt(&self, doubtful: &Ambiguous) -> Fault {
        let readings = doubtful.readings.iter().filter_map(|(write, metric)| {
            let (unit, metric) = (units::find(write, None)?, units::find(metric, None)?);
            let amount = self.number * unit.scale.size() / metric.scale.size();
            Some(Reading {
                write: format!("{} {write}", self.head),
                is: format!("{} {}", significant(amount, 3), metric.names[0]),
                kind: unit.kind,
            })
        });
        Problem::Ambiguous {
            doubt: doubtful.doubt,
            readings: readings.collect(),
        }
        .into()
    }

    fn wrong_kind(&self, found: Kind) -> Fault {
        // Two slips that a unit of another kind suggests: "90 m" for minutes,
        // "20 degrees" for a temperature.
        let minutes = self.expected == Some(Kind::Time) && self.rest == "m";
        let degrees = (self.expected, found) == (Some(Kind::Temperature), Kind::Angle);
        let nearest = match (minutes, degrees) {
            (true, _) => vec![format!("{} min", self.head)],
            (_, true) => self.likely(),
            _ => Vec::new(),
        };
        Fault {
            problem: Problem::WrongKind { found },
            nearest,
        }
    }

    /// "24-48 h", "24 to 48 h": both ends are offered.
    fn range(&self) -> Option<Fault> {
        let after = self
            .rest
            .strip_prefix('-')
            .or_else(|| self.rest.strip_prefix("to "))?;
        let (_, unit) = number::take(after.trim_start()).ok()?;
        let (low, high) = (
            format!("{} {}", self.head, unit.trim()),
            after.trim().to_owned(),
        );
        Some(Fault {
            problem: Problem::Range,
            nearest: vec![low.trim().to_owned(), high],
        })
    }

    /// No unit is spelt so: a known one with more after it, or a slip.
    fn unknown(&self) -> Fault {
        let problem = Problem::UnknownUnit {
            unit: self.rest.to_owned(),
        };
        if let Some((known, more)) = known_start(self.rest) {
            if let Some(doubtful) = units::ambiguous(known) {
                return self.doubt(doubtful);
            }
            if units::find(known, self.expected).is_some() {
                let nearest = vec![format!("{} {known}", self.head)];
                return Fault {
                    problem: Problem::Trailing {
                        rest: more.to_owned(),
                    },
                    nearest,
                };
            }
            if let Some(unit) = units::find(known, None) {
                return self.wrong_kind(unit.kind);
            }
        }
        let nearest = units::nearest(self.rest, self.expected);
        let nearest = nearest.map(|unit| format!("{} {unit}", self.head));
        Fault {
            problem,
            nearest: nearest.into_iter().collect(),
        }
    }
}

/// The longest run of whole words at the start that some unit is spelt as.
fn known_start(rest: &str) -> Option<(&str, &str)> {
    rest.char_indices()
        .rev()
        .filter(|(_, c)| " ,;(".contains(*c))
        .map(|(at, _)| rest.split_at(at))
        .find(|(known, _)| units::ambiguous(known).is_some() || units::find(known, None).is_some())
        .map(|(known, more)| (known, more.trim_start_matches([' ', ',', ';'])))
}

/// The value in hand, refused if the kind cannot have it.
pub(super) fn finish(kind: Kind, number: f64, scale: Scale) -> Result<Measured, Fault> {
    let si = scale.held(number);
    let lost = number != 0.0 && si == 0.0 && kind != Kind::Temperature;
    if !si.is_finite() || lost {
        return Err(Problem::OutOfReach.into());
    }
    if si < 0.0 && !kind.can_be_negative() {
        return Err(Problem::Negative.into());
    }
    if kind == Kind::Temperature && si < -273.15 {
        return Err(Problem::BelowAbsoluteZero.into());
    }
    // Adding zero turns -0 into 0.
    Ok(Measured { kind, si: si + 0.0 })
}
