//! What each kind of piece costs, its parts end to end, with the prices over them.

mod bar;
mod wording;

use super::care::Care;
use super::frame::{Frame, PAD, WIDTH};
use crate::plan::CostPart;
use crate::quantity::Money;
use crate::show::draw::{DrawError, Picture};

/// What a price leaves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Priced {
    /// The price of one piece.
    pub price: Money,
    /// Kept of it once tax and fees are paid.
    pub kept: Money,
    /// Kept less what the piece costs; below 0 for a loss.
    pub leaves: Money,
}

/// One kind of piece.
#[derive(Debug, Clone, PartialEq)]
pub struct CostBar<'a> {
    /// Its name, as the maker wrote it.
    pub piece: &'a str,
    /// What a good one costs, in parts above nothing.
    pub parts: &'a [CostPart],
    /// The sum of the parts.
    pub each: Money,
    /// The lowest price that loses nothing, the fair aside.
    pub floor: Money,
    /// At the fair. `None`: it has no price there.
    pub fair: Option<Priced>,
    /// In a shop. `None`: none go there.
    pub shop: Option<Priced>,
}

/// What the kinds of piece cost.
#[derive(Debug, Clone, PartialEq)]
pub struct CostBars<'a> {
    /// The kinds, at least one.
    pub bars: Vec<CostBar<'a>>,
    /// What amounts are in, as the maker wrote it.
    pub currency: &'a str,
    /// Whether work is paid.
    pub work_counts: bool,
    /// What is used and has no price, so that the costs leave it out.
    pub unpriced: &'a [String],
    /// The cautions of all coatings. `None`: nothing is coated.
    pub care: Option<Care>,
}

/// At most so many kinds are drawn; the picture says how many it leaves out.
pub const MOST_BARS: usize = 12;

/// Where the ends of two bars differ by more than this each has a scale of its own.
const ONE_SCALE: f64 = 8.0;

/// Draws what each kind of piece costs: one bar for each, its parts end to end,
/// with the floor and the prices marked over it.
///
/// Amounts are rounded so that the parts of a bar add up to its sum to the cent;
/// from 100 000 on to whole units. Parts under 3 % are gathered where there are two or more.
/// A part too thin to see is a thick line that stands out of the bar, and the picture says so.
/// The bars have one scale, unless one is more than eight times as long as another.
///
/// # Errors
/// [`DrawError::NotPositive`] for no bar, or an amount that is below 0 or no number;
/// [`DrawError::Crowded`] if labels can't be kept apart; otherwise what [`Picture::draw`] returns.
///
/// ```
/// use brimful::plan::{CostKind, CostPart};
/// use brimful::quantity::Money;
/// use brimful::show::chart::{CostBar, CostBars, Priced, cost};
///
/// let money = Money::from_amount;
/// let part = |kind, amount| CostPart { kind, amount: money(amount), lines: Vec::new() };
/// let parts = [part(CostKind::Blank, 0.26), part(CostKind::Work, 1.14)];
/// let picture = cost(&CostBars {
///     bars: vec![CostBar {
///         piece: "tide magnet",
///         parts: &parts,
///         each: money(1.40),
///         floor: money(1.43),
///         fair: Some(Priced { price: money(4.50), kept: money(4.41), leaves: money(3.01) }),
///         shop: None,
///     }],
///     currency: "EUR",
///     work_counts: true,
///     unpriced: &[],
///     care: None,
/// })?;
/// assert!(picture.words.title.starts_with("Work is 81 % of what each"));
/// # Ok::<(), brimful::show::draw::DrawError>(())
/// ```
pub fn cost(bars: &CostBars<'_>) -> Result<Picture, DrawError> {
    check(bars)?;
    let title = wording::title(bars);
    let frame = Frame::lay_out(&title, &wording::under(bars), bars.care.as_ref())?;
    let shown = &bars.bars[..bars.bars.len().min(MOST_BARS)];
    let mut top = frame.top() + 8.0;
    let mut laid = Vec::with_capacity(shown.len());
    for bar in shown {
        let one = bar::Bar::lay_out(bar, (top, end(bars, bar)), bars.currency)?;
        top = one.bottom() + 30.0;
        laid.push(one);
    }
    frame.picture(wording::words(bars), top - 24.0, |canvas| {
        laid.iter().try_for_each(|bar| bar.draw(canvas))
    })
}

/// The amount at the right end of the picture, for one of its bars.
fn end(bars: &CostBars<'_>, bar: &CostBar<'_>) -> f64 {
    if one_scale(bars) {
        let shown = bars.bars.iter().take(MOST_BARS);
        shown.map(CostBar::end).fold(0.0, f64::max)
    } else {
        bar.end()
    }
}

/// How long a part of an amount is where the picture's right end is one of `end`, `[px]`.
fn length(amount: f64, end: f64) -> f64 {
    if end > 0.0 { ROOM * amount / end } else { 0.0 }
}

/// Whether a part is drawn as a line, there being too little of it to see.
fn is_thin(amount: f64, end: f64) -> bool {
    length(amount, end) < THIN
}

/// Whether all bars that are drawn have one scale.
fn one_scale(bars: &CostBars<'_>) -> bool {
    let ends = bars.bars.iter().take(MOST_BARS).map(CostBar::end);
    let (least, most) = ends.fold((f64::MAX, 0.0_f64), |(least, most), end| {
        (least.min(end), most.max(end))
    });
    most <= least * ONE_SCALE
}

impl CostBar<'_> {
    /// The most that its bar reaches to.
    fn end(&self) -> f64 {
        let prices = [self.fair, self.shop].into_iter().flatten();
        prices
            .map(|at| at.price.amount())
            .fold(self.each.amount().max(self.floor.amount()), f64::max)
    }

    /// The price that the bar is drawn up to: the fair's, or else the shop's.
    fn main_price(&self) -> Option<Priced> {
        self.fair.or(self.shop)
    }

    /// The tax and fees that are drawn after its cost; `None`: less than a cent's half, or what the
    /// price leaves is none.
    fn fees(&self) -> Option<Money> {
        let at = self.main_price().filter(|at| at.leaves > Money::ZERO)?;
        let fees = at.price - at.kept;
        (fees.amount() >= 0.005).then_some(fees)
    }
}

fn check(bars: &CostBars<'_>) -> Result<(), DrawError> {
    if bars.bars.is_empty() {
        return Err(DrawError::NotPositive {
            what: "the count of kinds of piece",
            value: 0.0,
        });
    }
    let fine = |what: &'static str, money: Money| {
        let value = money.amount();
        if value.is_finite() && value >= 0.0 {
            Ok(())
        } else {
            Err(DrawError::NotPositive { what, value })
        }
    };
    for bar in &bars.bars {
        fine("the cost of a piece", bar.each)?;
        fine("the floor of a piece", bar.floor)?;
        for part in bar.parts {
            fine("a part of a piece's cost", part.amount)?;
        }
        for at in [bar.fair, bar.shop].into_iter().flatten() {
            fine("a price", at.price)?;
            fine(
                "what a price leaves",
                Money::from_amount(at.leaves.amount().abs()),
            )?;
        }
    }
    Ok(())
}

/// Parts shorter than this can't be seen for their outlines, `[px]`.
const THIN: f64 = 3.0;
/// From the picture's left margin to its right one, `[px]`.
const ROOM: f64 = WIDTH - 2.0 * PAD;
