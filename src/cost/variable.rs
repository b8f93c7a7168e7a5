//! What one good piece costs, before any stall.

use super::check::{self, CostError};
use super::line::{Cost, Line, total};
use crate::quantity::{Money, Share, Time};

/// Hands-on work on one started piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Labour {
    /// Hands-on time a started piece, `[s]`, 0 or more.
    pub time: Time,
    /// What an hour of it is to earn, 0 or more.
    pub hour: Money,
}

impl Labour {
    /// None.
    pub const NONE: Self = Self {
        time: Time::ZERO,
        hour: Money::ZERO,
    };

    /// What it costs.
    fn cost(&self) -> Result<Money, CostError> {
        check::money("the rate of an hour", self.hour)?;
        let hours = check::hours("the hands-on time in hours", self.time)?;
        Ok(self.hour * hours)
    }
}

/// What goes into one kind of piece.
#[derive(Debug, Clone, PartialEq)]
pub struct PieceLines {
    /// Materials of one started piece: blank, print, coatings with their waste and heel. Lost with a lost piece.
    pub started: Vec<Line>,
    /// Hands-on work of one started piece, lost with it too.
    pub labour: Labour,
    /// Share of started pieces lost in the work, `[1]`, from 0 up to but not 1.
    pub lost: Share,
    /// Findings and packaging of one good piece, fitted after inspection.
    pub fitted: Vec<Line>,
}

/// What one good piece costs, and how that comes out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Variable {
    /// Materials of one started piece.
    pub materials: Cost,
    /// Labour of one started piece.
    pub labour: Money,
    /// c: all that is sunk in one started piece.
    pub sunk: Cost,
    /// What the lost pieces add to every good one: `c / (1 - r) - c`.
    pub lost_work: Cost,
    /// Fitted after inspection, a good piece.
    pub fitted: Cost,
    /// v: one good piece, all told.
    pub each: Cost,
    /// Labour in v: its own and the lost pieces' labour.
    pub labour_each: Money,
}

impl PieceLines {
    /// The variable cost of one good piece.
    ///
    /// ```text
    /// c = materials + labour        a started piece
    /// v = c / (1 - r) + fitted      a good piece
    /// ```
    ///
    /// The loss divides: of ten started at a tenth lost, nine carry the cost
    /// of ten. Adding a tenth to the cost instead would leave a ninetieth unpaid.
    ///
    /// # Errors
    ///
    /// [`CostError::OutOfRange`] for a line, a time or a rate outside its range.
    ///
    /// ```
    /// use brimful::cost::{Cost, Labour, Line, PieceLines};
    /// use brimful::quantity::{Money, Share, Time};
    /// let cents = |n: f64| Cost::plain(Money::from_amount(n / 100.0));
    /// let v = PieceLines {
    ///     started: vec![Line::new("blank", cents(95.0))],
    ///     labour: Labour { time: Time::from_min(4.0), hour: Money::from_amount(12.0) },
    ///     lost: Share::from_percent(10.0),
    ///     fitted: vec![Line::new("box", cents(15.0))],
    /// }
    /// .variable()?;
    /// assert!((v.each.used.amount() - (1.75 / 0.9 + 0.15)).abs() < 1e-12);
    /// # Ok::<(), brimful::cost::CostError>(())
    /// ```
    pub fn variable(&self) -> Result<Variable, CostError> {
        let kept = 1.0 - check::rate("the share lost", self.lost)?;
        let materials = total("a line of a started piece", &self.started)?;
        let labour = self.labour.cost()?;
        let fitted = total("a line of a good piece", &self.fitted)?;
        let sunk = materials + Cost::plain(labour);
        let carried = sunk / kept;
        Ok(Variable {
            materials,
            labour,
            sunk,
            lost_work: Cost {
                used: carried.used - sunk.used,
                bought: carried.bought - sunk.bought,
            },
            fitted,
            each: carried + fitted,
            labour_each: labour / kept,
        })
    }
}
