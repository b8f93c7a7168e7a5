//! `brimful price`: what a piece must sell for.

use std::io::Write;

use super::counts::whole;
use super::failure::{Failure, wrong};
use crate::ask::{self, PriceQuestion};
use crate::cost::Terms;
use crate::quantity::{Money, Ratio, Share, Time};
use crate::show::{no_price, price_text};

const EXAMPLES: &str = r#"Examples:
  brimful price --fixed 80 --price 6.00 --card "1.75 %" --materials 0.95 --labour 0.80 --packaging 0.15 --lost "10 %"
  brimful price --fixed 80 --materials 0.95 --labour 0.80 --lost "10 %" --sold 40
  brimful price --fixed 80 --price 6.00 --materials 0.95 --labour 0.80 --sold 40 --hours "14 h"
  brimful price --price 6.00 --materials 0.95 --tax "20 %" --sale-fee 0.10 --per-sale 1.5 --wholesale 3.00

The exit code is 1 where no number of pieces sold at this price pays for the fair."#;

/// Asks what a piece must sell for, and how many sold pay for the fair.
#[derive(Debug, clap::Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct Args {
    /// Fixed cost of the fair: stall, travel, this fair's share of the tent; left out, none
    #[arg(long, value_name = "MONEY", allow_hyphen_values = true)]
    fixed: Option<Money>,
    /// The price a buyer pays; left out, only the floors are told
    #[arg(long, value_name = "MONEY", allow_hyphen_values = true)]
    price: Option<Money>,
    /// Materials of one started piece, its share of every bottle and pack
    #[arg(long, value_name = "MONEY", allow_hyphen_values = true)]
    materials: Money,
    /// Labour of one started piece; left out, unpaid
    #[arg(long, value_name = "MONEY", allow_hyphen_values = true)]
    labour: Option<Money>,
    /// Packaging and findings of one good piece, fitted after inspection
    #[arg(long, value_name = "MONEY", allow_hyphen_values = true)]
    packaging: Option<Money>,
    /// Share of started pieces lost in the work, such as "10 %"
    #[arg(long, value_name = "SHARE", allow_hyphen_values = true)]
    lost: Option<Share>,
    /// Card fee, a share of the price, such as "1.75 %"
    #[arg(long, value_name = "SHARE", allow_hyphen_values = true)]
    card: Option<Share>,
    /// Sales tax inside the price, as a share of the price before tax, such as "20 %"
    #[arg(long, value_name = "SHARE", allow_hyphen_values = true)]
    tax: Option<Share>,
    /// Fixed fee of every sale
    #[arg(long, value_name = "MONEY", allow_hyphen_values = true)]
    sale_fee: Option<Money>,
    /// Pieces a sale, such as 1.5; left out, 1
    #[arg(long, value_name = "NUMBER", allow_hyphen_values = true)]
    per_sale: Option<Ratio>,
    /// Pieces sold at the fair
    #[arg(long, value_name = "COUNT", allow_hyphen_values = true, value_parser = whole(0..=1_000_000_000))]
    sold: Option<u32>,
    /// All hours of making and selling, such as "14 h", for what an hour earns
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    hours: Option<Time>,
    /// What a shop would pay, with no stall, card fee or tax
    #[arg(long, value_name = "MONEY", allow_hyphen_values = true)]
    wholesale: Option<Money>,
    /// The currency's name, such as EUR
    #[arg(long, value_name = "NAME")]
    currency: Option<String>,
    /// Write JSON
    #[arg(long)]
    json: bool,
}

impl Args {
    pub(super) fn run(&self, out: &mut dyn Write) -> Result<(), Failure> {
        let question = PriceQuestion {
            fixed: self.fixed.unwrap_or_default(),
            price: self.price,
            terms: Terms {
                card: self.card.unwrap_or_default(),
                tax: self.tax.unwrap_or_default(),
                sale_fee: self.sale_fee.unwrap_or_default(),
                per_sale: self.per_sale.unwrap_or(Terms::NONE.per_sale),
            },
            materials: self.materials,
            labour: self.labour.unwrap_or_default(),
            packaging: self.packaging.unwrap_or_default(),
            lost: self.lost.unwrap_or_default(),
            sold: self.sold.map(u64::from),
            hours: self.hours,
            wholesale: self.wholesale,
            currency: self.currency.clone(),
        };
        let answer = ask::price(&question).map_err(wrong)?;
        if self.json {
            super::json(out, &answer)?;
        } else {
            out.write_all(price_text(&answer).as_bytes())?;
        }
        no_price(&answer).map_or(Ok(()), |why| Err(Failure::CannotBeDone(why)))
    }
}
