//! What a piece costs and must sell for, line by line.
//!
//! Plain typed values go in and come out, in one currency that the caller names.
//!
//! - [`line`](mod@line): costs on the used and on the bought basis.
//! - [`variable`]: what one good piece costs.
//! - [`fixed`]: what the fair costs however many are sold.
//! - [`terms`]: what a sale leaves of its price.
//! - [`break_even`](mod@break_even): price floors, and how many pay for the fair.
//! - [`shared`](mod@shared): several kinds at one stall; wholesale and retail margins.
//! - [`outcome`](mod@outcome): what a fair leaves when a share is sold.
//!
//! Glossary, used by all of them:
//!
//! ```text
//! c  sunk in a started piece    [money]   P  price paid by the buyer      [money]
//! r  share lost in the work     [1]       k  card fee, share of P         [1]
//! v  cost of a good piece       [money]   s  sales tax on the net price   [1]
//! F  fixed cost of the fair     [money]   t  fixed fee of a sale          [money]
//! N  pieces sold                [1]       m  pieces a sale                [1]
//! ```

pub mod break_even;
mod check;
pub mod fixed;
pub mod line;
pub mod outcome;
pub mod shared;
pub mod terms;
pub mod variable;

pub use break_even::{BreakEven, Floor, break_even, floor_with_fair, floor_without_fair};
pub use check::CostError;
pub use fixed::{FixedLine, fixed_cost};
pub use line::{Basis, Cost, Line};
pub use outcome::{Fair, KindOutcome, Offer, Outcome, outcome, sold_of};
pub use shared::{Kind, KindShare, Margin, Shared, margin, shared};
pub use terms::{Terms, up_to_cent};
pub use variable::{Labour, PieceLines, Variable};
