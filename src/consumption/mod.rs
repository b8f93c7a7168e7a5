//! What a run uses: blanks to start and buy, coating by lines, bottles, mixes.
//!
//! Plain typed values go in and come out; nothing here knows a run or a file.
//!
//! - [`blanks`]: how many to start and to buy so that enough survive.
//! - [`amount`]: how much of one coating, with every loss as a line of its own.
//! - [`bottles`]: whole bottles after stock, and the most the stock can make.
//! - [`brushed`]: coats spread at a wet film thickness, and what soaks in.
//! - [`build_up`]: flood coats over dry ones, for a dry height.
//! - [`faces`]: one face or both, and the sides.
//! - [`holes`]: holes that may close over, or that lie too near the edge.
//! - [`drops`]: a pour counted in drops.
//! - [`sizes`]: the cheapest whole bottles of several sizes.
//! - [`spool`]: cord cut from spools with no joins.
//! - [`packs`]: findings by the pack, with spares, and stock past its date.
//! - [`reverse`]: the most good pieces that the stock in hand makes.
//! - [`mix`]: a two-part coating split by volume and by weight.
//!
//! Glossary, used by all of them:
//!
//! ```text
//! g  pieces wanted good      [1]     N  pieces started            [1]
//! r  share lost in the work  [1]     k  coats, or bottles         [1]
//! b  share bad on arrival    [1]     m  mean volume of one pour   [m3]
//! d  share of a pour dripped [1]     c  scatter of one pour       [1]
//! h  share of a bottle left  [1]     beta  the maker's bias       [1]
//! V  volume of a bottle      [m3]    F  wanted sureness           [1]
//! ```

pub mod amount;
mod binomial;
pub mod blanks;
pub mod bottles;
pub mod brushed;
pub mod build_up;
mod check;
pub mod drops;
pub mod faces;
pub mod holes;
pub mod mix;
pub mod packs;
pub mod reverse;
pub mod sizes;
pub mod spool;

pub use amount::{Amount, Demand, Lines, Losses, Pour, Pours, Spread};
pub use blanks::{BlankNeed, Blanks, ExpectedBlanks, combined_loss, survivors};
pub use bottles::{Bottle, BottleChance, Bottles};
pub use brushed::{Brushed, BrushedVolume, covers, wet_film};
pub use build_up::{
    CoatsNeeded, Heights, MOST_COATS, coats_needed, each_coat, peak_for_dry_height,
};
pub use check::UseError;
pub use drops::DropCount;
pub use faces::{Faces, may_warp, side_area};
pub use holes::{HoleTrouble, hole_troubles};
pub use mix::{MixRatio, Part, Split, TwoPart};
pub use packs::{PackNeed, Packs, keeps, with_spares};
pub use reverse::{FromStock, most_good};
pub use sizes::{Cheapest, Size, Sized, cheapest};
pub use spool::{Cut, Cutting, Spools, spools};
