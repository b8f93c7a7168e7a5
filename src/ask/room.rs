//! How the air of a room moves, as a maker says it.

use std::str::FromStr;

use crate::cure::air::Draught;
use crate::quantity::{Speed, Unreadable};

/// How the air moves: a word, or a measured speed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AirWord(pub Draught);

/// A text that tells no movement of air.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum NoSuchAir {
    /// Neither a word that is known nor a number.
    #[error(
        "air is \"still\", \"sheltered\", \"draughty\", \"fan\" or a speed such as \"0.3 m/s\""
    )]
    Word,
    /// A number, but no speed.
    #[error(transparent)]
    Speed(#[from] Unreadable),
}

impl FromStr for AirWord {
    type Err = NoSuchAir;

    fn from_str(text: &str) -> Result<Self, NoSuchAir> {
        Ok(Self(match text.trim().to_lowercase().as_str() {
            "sheltered" => Draught::Sheltered,
            "still" => Draught::Still,
            "draughty" | "drafty" => Draught::OpenWindow,
            "fan" => Draught::DeskFan,
            word if word.starts_with(|c: char| c.is_ascii_digit() || c == '.' || c == '-') => {
                Draught::Measured(text.parse::<Speed>()?)
            }
            _ => return Err(NoSuchAir::Word),
        }))
    }
}
