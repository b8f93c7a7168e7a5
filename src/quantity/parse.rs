//! Reading quantities as people write them.
//!
//! ```
//! use brimful::quantity::{Length, Temperature, Time};
//! assert_eq!("1 1/2 in".parse(), Ok(Length::from_in(1.5)));
//! assert_eq!("68 °F".parse(), Ok(Temperature::from_celsius(20.0)));
//! assert_eq!("1 h 30 min".parse(), Ok(Time::from_min(90.0)));
//! assert!("2 oz".parse::<brimful::quantity::Volume>().is_err());
//! # Ok::<(), brimful::quantity::Unreadable>(())
//! ```
//!
//! A number may be a decimal with a point, a fraction, or both ("1 1/2",
//! "1½"); a unit may stand against it. "fl oz" is the US one. A bare "oz",
//! "pt", "qt" or "gal" is never read. Zero needs no unit, except as a
//! temperature.

use super::measured::Measured;
use super::number::{self, NotANumber};
use super::show::significant;
use super::units::{self, Ambiguous, Scale, Unit};
use super::unreadable::{Problem, Reading, Unreadable};
use super::{
    Angle, Area, Density, Diffusivity, Humidity, Kind, Length, Mass, MolarEnergy, Money, Pressure,
    Ratio, Share, Speed, SurfaceTension, Temperature, TemperatureDifference, Time, Volume,
};

/// A type of quantity: what kind it is, and the one number that it holds.
pub trait Quantity: Sized {
    /// Its kind.
    const OF: Kind;
    /// From the value in the unit that [`Kind`] names for it.
    fn from_held(value: f64) -> Self;
    /// The value in the unit that [`Kind`] names for it.
    fn held(&self) -> f64;
}

macro_rules! read {
    ($( $quantity:ident ),+ $(,)?) => { $(
        impl Quantity for $quantity {
            const OF: Kind = Kind::$quantity;
            fn from_held(value: f64) -> Self {
                Self(value)
            }
            fn held(&self) -> f64 {
                self.0
            }
        }

        impl std::str::FromStr for $quantity {
            type Err = Unreadable;
            fn from_str(text: &str) -> Result<Self, Unreadable> {
                read(text, Some(Kind::$quantity)).map(|found| Self(found.si))
            }
        }
    )+ };
}

read!(
    Length,
    Area,
    Volume,
    Mass,
    Time,
    Speed,
    Pressure,
    Density,
    SurfaceTension,
    Angle,
    Share,
    Humidity,
    TemperatureDifference,
    Temperature,
    Diffusivity,
    MolarEnergy,
    Ratio,
    Money,
);

/// A problem, with what might have been meant (not yet tried).
struct Fault {
    problem: Problem,
    nearest: Vec<String>,
}

impl From<Problem> for Fault {
    fn from(problem: Problem) -> Self {
        Self {
            problem,
            nearest: Vec::new(),
        }
    }
}

/// Reads a text as one kind of quantity, or as whichever its unit tells.
pub(super) fn read(text: &str, expected: Option<Kind>) -> Result<Measured, Unreadable> {
    attempt(text, expected).map_err(|fault| Unreadable {
        read: text.to_owned(),
        expected,
        problem: fault.problem,
        nearest: fault
            .nearest
            .into_iter()
            .filter(|near| attempt(near, expected).is_ok())
            .collect(),
    })
}

/// A text in hand: its number is taken, its unit is not.
struct Reader<'a> {
    /// The number as written.
    head: &'a str,
    number: f64,
    rest: &'a str,
    expected: Option<Kind>,
}

fn attempt(text: &str, expected: Option<Kind>) -> Result<Measured, Fault> {
    let text = tidy(text);
    if text.is_empty() {
        return Err(Problem::Empty.into());
    }
    let (number, rest) = number::take(&text).map_err(|why| no_number(why, &text))?;
    let rest = rest.trim_start();
    let head = text[..text.len() - rest.len()].trim_end();
    let reader = Reader {
        head,
        number,
        rest,
        expected,
    };
    if rest.is_empty() {
        reader.bare()
    } else if expected.is_none_or(Kind::is_plain) && rest.starts_with(':') {
        reader.proportion()
    } else {
        reader.with_unit()
    }
}

fn no_number(why: NotANumber, text: &str) -> Fault {
    match why {
        NotANumber::Missing => Problem::NoNumber.into(),
        NotANumber::OutOfReach => Problem::OutOfReach.into(),
        NotANumber::DividesByZero => Problem::DividesByZero.into(),
        NotANumber::Comma => Fault {
            problem: Problem::Comma,
            nearest: without_comma(text),
        },
    }
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
    fn bare(&self) -> Result<Measured, Fault> {
        let kind = self.expected.unwrap_or(Kind::Ratio);
        let is_zero = self.number == 0.0 && kind != Kind::Temperature;
        if kind.is_plain() || is_zero {
            return finish(kind, self.number, Scale::Times(1.0));
        }
        let as_fraction = matches!(kind, Kind::Share | Kind::Humidity) && self.number < 1.0;
        let nearest = if as_fraction {
            vec![format!("{} %", significant(self.number * 100.0, 3))]
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
    fn proportion(&self) -> Result<Measured, Fault> {
        let after = self.rest[1..].trim_start();
        let (below, rest) = number::take(after).map_err(|why| no_number(why, after))?;
        if below == 0.0 {
            return Err(Problem::DividesByZero.into());
        }
        if !rest.trim().is_empty() {
            return Err(Problem::Trailing {
                rest: rest.trim().to_owned(),
            }
            .into());
        }
        let kind = self.expected.unwrap_or(Kind::Ratio);
        finish(kind, self.number / below, Scale::Times(1.0))
    }

    fn with_unit(&self) -> Result<Measured, Fault> {
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

    /// "1 h 30 min", "1h30", "5 ft 3 in".
    fn in_parts(&self, mut unit: &'static Unit, mut after: &str) -> Result<Measured, Fault> {
        let first = finish(unit.kind, self.number, unit.scale)?;
        let (kind, mut sum) = (first.kind, first.si);
        loop {
            let (number, rest) = number::take(after).map_err(|why| no_number(why, after))?;
            let rest = rest.trim_start();
            let smaller = part_unit(unit, rest, kind);
            let (next, more) = match (smaller, next_part(rest, Some(kind))) {
                (Some(next), _) => (next, None),
                (None, Some((next, more))) => (next, Some(more)),
                (None, None) if rest.is_empty() => return Err(Problem::NoUnit.into()),
                (None, None) => {
                    return Err(Problem::UnknownUnit {
                        unit: rest.to_owned(),
                    }
                    .into());
                }
            };
            if next.scale.size() >= unit.scale.size() || number < 0.0 {
                return Err(Problem::Trailing {
                    rest: after.to_owned(),
                }
                .into());
            }
            sum += next.scale.held(number);
            let Some(more) = more else {
                return finish(kind, sum, Scale::Times(1.0));
            };
            (unit, after) = (next, more);
        }
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
        // "90 m" for minutes is the one slip that a unit of another kind suggests.
        let minutes = self.expected == Some(Kind::Time) && self.rest == "m";
        let nearest = if minutes {
            vec![format!("{} min", self.head)]
        } else {
            Vec::new()
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

/// The unit that the text begins with, if another number follows it.
fn next_part(rest: &str, expected: Option<Kind>) -> Option<(&'static Unit, &str)> {
    let mut best: Option<(&'static Unit, &str)> = None;
    for unit in units::TABLE {
        if !unit.kind.comes_in_parts() || expected.is_some_and(|kind| kind != unit.kind) {
            continue;
        }
        for name in unit.names {
            let Some(after) = strip(rest, name) else {
                continue;
            };
            let apart =
                unit.kind == Kind::Time || after.starts_with(' ') || name.ends_with(['\'', '"']);
            let shorter = best.is_none_or(|(_, other)| after.len() < other.len());
            if apart && shorter && number::begins(after.trim_start()) {
                best = Some((unit, after));
            }
        }
    }
    best.map(|(unit, after)| (unit, after.trim_start()))
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

/// The value in hand, refused if the kind cannot have it.
fn finish(kind: Kind, number: f64, scale: Scale) -> Result<Measured, Fault> {
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

/// One spelling for what keyboards and typesetters write differently.
fn tidy(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut chars = text.trim().chars().peekable();
    while let Some(c) = chars.next() {
        let next = chars.peek().copied();
        match c {
            '\u{2212}' | '\u{2010}'..='\u{2014}' => out.push('-'),
            '\u{2044}' | '\u{2215}' => out.push('/'),
            '\u{2033}' | '\u{201c}' | '\u{201d}' => out.push('"'),
            '\u{2032}' | '\u{2018}' | '\u{2019}' => out.push('\''),
            '²' => out.push('2'),
            '³' => out.push('3'),
            'µ' | 'μ' => out.push('u'),
            'º' | '˚' => out.push('°'),
            '℃' => out.push_str("°C"),
            '℉' => out.push_str("°F"),
            '\u{2236}' => out.push(':'),
            '^' => {}
            '.' if out.ends_with(|c: char| c.is_alphabetic())
                && !next.is_some_and(|c| c.is_ascii_digit()) => {}
            c if c.is_whitespace() => {
                let joined = out.ends_with(['/', ' ', '°']);
                let before_slash = chars.clone().find(|c| !c.is_whitespace()) == Some('/');
                if !joined && !before_slash {
                    out.push(' ');
                }
            }
            c => out.push(c),
        }
    }
    if out.contains(" per ") && !out.contains(" per cent") {
        out = out.replacen(" per ", "/", 1);
    }
    out.truncate(out.trim_end().len());
    out
}
