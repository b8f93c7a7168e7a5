//! Why a text was not read as a quantity, and the words that say so.

use super::Kind;
use std::fmt;

/// A text that could not be read, with what was wanted and what was meant.
///
/// The data are public so that a caller may place them (file, line, key);
/// `Display` has the words.
///
/// ```
/// use brimful::quantity::Length;
/// let refused = "25 mn".parse::<Length>().unwrap_err();
/// assert_eq!(refused.to_string(), r#""25 mn": no unit "mn"; did you mean "25 mm"?"#);
/// assert_eq!(refused.nearest, ["25 mm"]);
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Unreadable {
    /// The text as it came.
    pub read: String,
    /// The kind wanted; `None` where any would do.
    pub expected: Option<Kind>,
    /// What is wrong with it.
    pub problem: Problem,
    /// What was probably meant, nearest first. Each of these reads.
    pub nearest: Vec<String>,
}

/// What is wrong with a text that should be a quantity.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Problem {
    /// Nothing there but space.
    Empty,
    /// It does not begin with a number.
    NoNumber,
    /// A bare number where a unit is needed.
    NoUnit,
    /// Its unit means different things to different people: a bare "oz".
    Ambiguous {
        /// The doubt, in words: "a weight or a volume".
        doubt: &'static str,
        /// What it could be, each written plainly.
        readings: Vec<Reading>,
    },
    /// Its number has a comma, or a space or apostrophe between thousands.
    Mark {
        /// The mark.
        mark: char,
    },
    /// Its unit is in no table.
    UnknownUnit {
        /// The unit as read.
        unit: String,
    },
    /// It reads, as another kind of quantity.
    WrongKind {
        /// The kind that its unit tells.
        found: Kind,
    },
    /// A plain number was wanted, and something follows it.
    TakesNoUnit {
        /// What follows.
        unit: String,
    },
    /// Below zero, where that is nonsense.
    Negative,
    /// Below -273.15 °C.
    BelowAbsoluteZero,
    /// Its number has too many digits, or is too large or small.
    OutOfReach,
    /// Its fraction divides by zero.
    DividesByZero,
    /// Two numbers, as in "24-48 h".
    Range,
    /// It goes on after the quantity.
    Trailing {
        /// What it goes on with.
        rest: String,
    },
}

/// One of the things that a doubtful unit could mean.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// How to write it beyond doubt: "2 oz wt".
    pub write: String,
    /// What it is in metric units: "56.7 g".
    pub is: String,
    /// The kind it would be.
    pub kind: Kind,
}

impl Unreadable {
    fn name(&self) -> &'static str {
        self.expected.map_or("a quantity", Kind::name)
    }

    fn example(&self) -> &'static str {
        self.expected.unwrap_or(Kind::Length).example()
    }

    /// The nearest readings as a question, or an example where none is near.
    fn advice(&self) -> String {
        match self.nearest.as_slice() {
            [] => format!("write {} like \"{}\"", self.name(), self.example()),
            near => {
                let quoted: Vec<_> = near.iter().map(|text| format!("\"{text}\"")).collect();
                format!("did you mean {}?", quoted.join(" or "))
            }
        }
    }

    fn doubt(&self, f: &mut fmt::Formatter<'_>, doubt: &str, readings: &[Reading]) -> fmt::Result {
        let ways: Vec<_> = readings
            .iter()
            .map(|way| format!("\"{}\" ({})", way.write, way.is))
            .collect();
        write!(f, "could be {doubt}; write {}", ways.join(" or "))?;
        match self.expected {
            Some(kind) if readings.iter().all(|way| way.kind != kind) => {
                write!(f, "; neither is {}", kind.name())
            }
            _ => Ok(()),
        }
    }
}

impl fmt::Display for Unreadable {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (name, advice) = (self.name(), self.advice());
        if self.problem != Problem::Empty {
            write!(f, "\"{}\": ", shown(&self.read))?;
        }
        match &self.problem {
            Problem::Empty => write!(f, "nothing there; {advice}"),
            Problem::NoNumber => write!(f, "no number at the start; {advice}"),
            Problem::NoUnit => write!(f, "{name} needs a unit; {advice}"),
            Problem::Ambiguous { doubt, readings } => self.doubt(f, doubt, readings),
            Problem::Mark { mark } => {
                let mark = match mark {
                    ',' => "a comma",
                    ' ' => "a space",
                    _ => "an apostrophe",
                };
                write!(f, "{mark} in the number; {advice}")
            }
            Problem::UnknownUnit { unit } => write!(f, "no unit \"{}\"; {advice}", shown(unit)),
            Problem::WrongKind { found } => {
                write!(
                    f,
                    "that is {}, and {name} is wanted; {advice}",
                    found.name()
                )
            }
            Problem::TakesNoUnit { unit } => {
                write!(
                    f,
                    "{name} takes no unit, and \"{}\" follows; {advice}",
                    shown(unit)
                )
            }
            Problem::Negative => write!(f, "{name} cannot be below zero; {advice}"),
            Problem::BelowAbsoluteZero => write!(f, "colder than absolute zero, -273.15 °C"),
            Problem::OutOfReach => write!(f, "the number is too long, too large or too small"),
            Problem::DividesByZero => write!(f, "the fraction divides by zero"),
            Problem::Range => write!(f, "a range, and one value is wanted; {advice}"),
            Problem::Trailing { rest } => {
                write!(f, "\"{}\" follows {name}; {advice}", shown(rest))
            }
        }
    }
}

impl std::error::Error for Unreadable {}

/// The text for a message: short, and with nothing that moves a cursor.
fn shown(text: &str) -> String {
    const MOST: usize = 48;
    let mut out: String = text.chars().take(MOST).flat_map(plain).collect();
    if text.chars().nth(MOST).is_some() {
        out.push_str("...");
    }
    out
}

fn plain(c: char) -> Vec<char> {
    if c.is_control() {
        c.escape_default().collect()
    } else {
        vec![c]
    }
}
