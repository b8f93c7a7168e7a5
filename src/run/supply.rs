//! What pieces take beside blanks and coatings: paper, cord, findings, packaging.

use jiff::civil::Date;

use super::Pack;
use crate::quantity::{Length, Share, Time};

/// One kind of supply.
#[derive(Debug, Clone, PartialEq)]
pub struct Supply {
    /// What the maker calls it.
    pub name: String,
    /// What it is, and what there is of it.
    pub stuff: Stuff,
    /// How it is sold: findings or sheets in a pack, or spools. `None`: singly, at a price not said.
    pub pack: Option<Pack>,
    /// Spares beyond what the pieces take.
    pub spares: Share,
    /// The day from which what is in stock is no longer used. `None`: it keeps.
    pub best_before: Option<Date>,
    /// How long a supplier takes. `None`: not said.
    pub delivery: Option<Time>,
}

/// What a supply is.
#[derive(Debug, Clone, PartialEq)]
pub enum Stuff {
    /// Findings, bags, cards: counted.
    Each {
        /// How many are in stock.
        have: u32,
    },
    /// Cord, chain or wire: cut from a spool, with no joins.
    Cut {
        /// What a new spool holds.
        spool: Length,
        /// What is left on the spools in stock.
        have: Vec<Length>,
    },
    /// Paper or another sheet that shapes are cut from.
    Sheet {
        /// Its two sides.
        size: [Length; 2],
        /// What stays free along its edges.
        margin: Length,
        /// What stays free between two shapes.
        gap: Length,
        /// How many whole sheets are in stock.
        have: u32,
    },
}

/// What one piece takes of a supply in a step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Use {
    /// Which of the run's supplies.
    pub supply: usize,
    /// How much.
    pub takes: Takes,
}

/// How much of a supply a piece takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Takes {
    /// So many.
    Count(u32),
    /// So long a piece of it.
    Length(Length),
    /// A shape like the blank's top, so much larger all around.
    Shape {
        /// How far it goes beyond the top's edge.
        bleed: Length,
    },
}
