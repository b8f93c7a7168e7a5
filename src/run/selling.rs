//! What the fair costs and how pieces are sold.

use crate::quantity::{Money, Share, Time};

/// Selling at the fair.
#[derive(Debug, Clone, PartialEq)]
pub struct Selling {
    /// What prices are in, such as EUR.
    pub currency: String,
    /// What is paid for this fair whatever is sold, each with its name: stall, travel, power, insurance.
    pub fees: Vec<(String, Money)>,
    /// Durable things that serve many fairs.
    pub kit: Vec<Kit>,
    /// Hours at the stall. `None`: not said.
    pub at_stall: Option<Time>,
    /// Whether the hours at the stall are paid as the bench's are.
    pub stall_paid: bool,
    /// What an hour's work is paid. `None`: not counted.
    pub labour: Option<Money>,
    /// Share of a sale that the card firm keeps, less than one.
    pub card_fee: Share,
    /// What it takes for each sale beside that.
    pub sale_fee: Money,
    /// Pieces in one sale, at least one.
    pub pieces_per_sale: f64,
    /// Sales tax inside the price, as a share of the price without it.
    pub sales_tax: Share,
    /// Share of the good pieces that are sold at the fair.
    pub sold: Share,
    /// What a second is sold for, as a share of the price. `None`: seconds are not sold.
    pub seconds: Option<Share>,
}

/// A durable thing.
#[derive(Debug, Clone, PartialEq)]
pub struct Kit {
    /// What it is.
    pub name: String,
    /// What it cost.
    pub price: Money,
    /// How many fairs it lasts, at least one.
    pub fairs: u32,
}

/// Pieces that go to a shop instead of to the fair.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wholesale {
    /// What the shop pays for one.
    pub price: Money,
    /// How many go there, of those wanted.
    pub count: u32,
}
