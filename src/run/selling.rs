//! What the fair costs and how pieces are sold.

use toml::de::DeValue;

use super::names::Names;
use super::reader::{Book, Fallback, Item, Limit, Mistake, Number, Section, Whole};
use super::supplier;
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

/// Money's own short word: 1 to 8 letters or symbols.
struct Currency(String);

impl Item for Currency {
    fn expected() -> String {
        "a currency of 1 to 8 letters or symbols in quotes, such as \"EUR\"".to_owned()
    }

    fn read(value: &DeValue) -> Result<Self, Mistake> {
        let fits = |c: char| !(c.is_control() || c.is_whitespace() || c.is_numeric());
        let word = value
            .as_str()
            .map(str::trim)
            .filter(|word| (1..=8).contains(&word.chars().count()) && word.chars().all(fits));
        word.map(|word| Self(word.to_owned()))
            .ok_or_else(|| Mistake::expected(Self::expected()))
    }
}

/// What is paid for a fair whatever is sold: each key with its name.
const FEES: [(&str, &str); 4] = [
    ("stall_fee", "stall"),
    ("travel", "travel"),
    ("power", "power"),
    ("insurance", "insurance"),
];

/// Share of the good pieces that are sold at the fair.
pub(super) const SOLD: Limit<Share> = Limit {
    holds: |sold| (0.0..=1.0).contains(&sold.fraction()),
    reason: "the share that is sold lies from 0 % to 100 %",
};
const SECONDS: Limit<Share> = Limit {
    holds: |seconds| (0.0..=1.0).contains(&seconds.fraction()),
    reason: "a second is sold for 0 % to 100 % of the price",
};
const FAIRS: Limit<Whole> = Limit {
    holds: |fairs| (1..=10_000).contains(&fairs.0),
    reason: "a durable thing lasts from 1 to 10000 fairs",
};
const AT_STALL: Limit<Time> = Limit {
    holds: |time| time.s() >= 0.0 && time.days() <= 31.0,
    reason: "the hours at the stall are at most a month",
};
const LABOUR: Limit<Number> = Limit {
    holds: |labour| (0.0..=1e6).contains(&labour.0),
    reason: "an hour's work is paid from 0 to 1000000",
};
const CARD_FEE: Limit<Share> = Limit {
    holds: |fee| (0.0..=0.3).contains(&fee.fraction()),
    reason: "a card firm keeps from 0 % to 30 % of a sale",
};
const SALE_FEE: Limit<Number> = Limit {
    holds: |fee| (0.0..=1e6).contains(&fee.0),
    reason: "the fee for each sale is from 0 to 1000000",
};
const PIECES: Limit<Number> = Limit {
    holds: |pieces| (1.0..=1000.0).contains(&pieces.0),
    reason: "a sale is of 1 to 1000 pieces on average",
};
const SALES_TAX: Limit<Share> = Limit {
    holds: |tax| (0.0..=1.0).contains(&tax.fraction()),
    reason: "a sales tax lies from 0 % to 100 % of the price without it",
};
const WHOLESALE: Limit<Whole> = Limit {
    holds: |count| (1..=1_000_000).contains(&count.0),
    reason: "from 1 to 1000000 of a piece go to a shop; leave wholesale out where none do",
};

/// Reads `[selling]`.
pub(super) fn read(mut section: Section, book: &mut Book) -> Option<Selling> {
    let before = book.faults.len();
    let currency = section.need::<Currency>(book, "currency", &Limit::ANY);
    let fees = fees(&mut section, book);
    let kit = kit(&mut section, book);
    let labour = section
        .may(book, "labour", &LABOUR)
        .map(|labour| Money::from_amount(labour.0));
    let (at_stall, stall_paid) = at_stall(&mut section, book);
    let none = |why| Fallback {
        value: Share::ZERO,
        words: "0 %",
        why,
    };
    let card_fee = none("the file names no share that a card firm keeps");
    let card_fee = section.or(book, "card_fee", &CARD_FEE, card_fee);
    let sale_fee = Fallback {
        value: Number(0.0),
        words: "0",
        why: "the file names no fee for each sale",
    };
    let sale_fee = section.or(book, "sale_fee", &SALE_FEE, sale_fee);
    let one = Fallback {
        value: Number(1.0),
        words: "1",
        why: "each piece is taken as a sale by itself",
    };
    let pieces_per_sale = section.or(book, "pieces_per_sale", &PIECES, one);
    let sales_tax = none("the file names no tax inside the price");
    let sales_tax = section.or(book, "sales_tax", &SALES_TAX, sales_tax);
    let all = Fallback {
        value: Share::from_fraction(1.0),
        words: "100 %",
        why: "the file does not say what is left over",
    };
    let sold = section.or(book, "sold", &SOLD, all);
    let seconds = section.may(book, "seconds", &SECONDS);
    section.finish(book);
    if book.faults.len() > before {
        return None;
    }
    Some(Selling {
        currency: currency?.0,
        fees,
        kit,
        at_stall,
        stall_paid,
        labour,
        card_fee,
        sale_fee: Money::from_amount(sale_fee.0),
        pieces_per_sale: pieces_per_sale.0,
        sales_tax,
        sold,
        seconds,
    })
}

/// The fees that the file names. A stall that costs nothing is an assumption.
fn fees(section: &mut Section, book: &mut Book) -> Vec<(String, Money)> {
    if !section.has("stall_fee") {
        let why = "the file names no stall fee";
        book.assume(section.path("stall_fee"), "0", why);
    }
    let fees = FEES.map(|(key, name)| {
        let fee = supplier::fee(section, book, key)?;
        Some((name.to_owned(), fee))
    });
    fees.into_iter().flatten().collect()
}

fn kit(section: &mut Section, book: &mut Book) -> Vec<Kit> {
    let expected = "a list of things: [{ name = \"gazebo\", price = 120.00, fairs = 20 }]";
    let mut things = section.tables_in(book, "kit", expected);
    let names = Names::read("thing of the kit", &mut things, book);
    let read = |(index, mut thing): (usize, Section)| {
        let price = supplier::needed_price(&mut thing, book);
        let fairs = thing.need(book, "fairs", &FAIRS).and_then(Whole::small);
        thing.finish(book);
        Some(Kit {
            name: names.at(index),
            price: price?,
            fairs: fairs?,
        })
    };
    things.into_iter().enumerate().filter_map(read).collect()
}

/// The hours at the stall, and whether they are paid.
fn at_stall(section: &mut Section, book: &mut Book) -> (Option<Time>, bool) {
    let at_stall = section.may(book, "at_stall", &AT_STALL);
    if !section.has("at_stall") {
        let paid = section.may(book, "stall_paid", &Limit::ANY);
        if paid == Some(true) {
            let reason = "hours at the stall can only be paid if at_stall says how many they are";
            book.refuse(&section.spot("stall_paid"), reason);
        }
        return (None, false);
    }
    let unpaid = Fallback {
        value: false,
        words: "false",
        why: "hours at the stall are not paid unless the file says so",
    };
    let paid = section.or(book, "stall_paid", &Limit::ANY, unpaid);
    if paid && !section.has("labour") {
        let reason = "hours at the stall can only be paid if labour says what an hour is paid";
        book.refuse(&section.spot("stall_paid"), reason);
    }
    (at_stall, paid)
}

/// Reads a piece's `wholesale`; `wanted` is how many of the piece are made, where that was read. One that is
/// wrong is told in the book.
pub(super) fn wholesale(
    mut section: Section,
    wanted: Option<u32>,
    book: &mut Book,
) -> Option<Wholesale> {
    let price = supplier::needed_price(&mut section, book);
    let count = section.need(book, "count", &WHOLESALE);
    let spot = section.spot("count");
    section.finish(book);
    let count = count.and_then(Whole::small)?;
    if let Some(wanted) = wanted.filter(|&wanted| count > wanted) {
        let reason = format!("those for the shop are of the {wanted} wanted, and can't be more");
        book.refuse(&spot, reason);
        return None;
    }
    Some(Wholesale {
        price: price?,
        count,
    })
}
