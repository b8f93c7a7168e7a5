//! What the picture of costs says.

use super::{CostBar, CostBars, MOST_BARS, Priced, end, is_thin, one_scale};
use crate::plan::CostKind;
use crate::quantity::{Money, Show, Units};
use crate::show::draw::{Words, clean};
use crate::show::words;

/// Parts smaller than this share of a piece's cost are gathered.
pub(super) const SMALL: f64 = 0.03;

/// A part as it is drawn: one kind of cost, or several small ones.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Part {
    /// `None`: small ones gathered.
    pub(super) kind: Option<CostKind>,
    pub(super) amount: f64,
    /// Rounded so that all parts add up.
    pub(super) words: String,
}

pub(super) const fn name(kind: Option<CostKind>) -> &'static str {
    match kind {
        Some(CostKind::Blank) => "blank",
        Some(CostKind::Coatings) => "coatings",
        Some(CostKind::Supplies) => "supplies",
        Some(CostKind::Work) => "work",
        Some(CostKind::Lost) => "lost pieces",
        Some(CostKind::Fitted) => "fittings, packing",
        None => "other",
    }
}

/// The parts of a bar as they are drawn, in order; the gathered ones last.
pub(super) fn parts(bar: &CostBar<'_>) -> Vec<Part> {
    let each = bar.each.amount();
    let small = |amount: Money| amount.amount() < SMALL * each;
    let gather = bar.parts.iter().filter(|part| small(part.amount)).count() > 1;
    let mut kept: Vec<(Option<CostKind>, f64)> = Vec::new();
    let mut other = 0.0;
    for part in bar.parts {
        if gather && small(part.amount) {
            other += part.amount.amount();
        } else {
            kept.push((Some(part.kind), part.amount.amount()));
        }
    }
    if gather {
        kept.push((None, other));
    }
    let amounts: Vec<f64> = kept.iter().map(|(_, amount)| *amount).collect();
    let rounded = add_up(&amounts, each);
    (kept.into_iter().zip(rounded))
        .map(|((kind, amount), words)| Part {
            kind,
            amount,
            words,
        })
        .collect()
}

/// From this amount on no cents are shown.
const WHOLE: f64 = 100_000.0;

/// An amount as it is shown by itself.
pub(super) fn amount(money: Money) -> String {
    if money.amount().abs() < WHOLE {
        money.show(Units::Metric)
    } else {
        format!("{:.0}", money.amount())
    }
}

/// Amounts rounded so that they add up to their sum as it is shown: each is rounded down,
/// and those that lost the most are given a cent back (the largest remainder).
fn add_up(amounts: &[f64], sum: f64) -> Vec<String> {
    let (steps, places) = if sum < WHOLE { (100.0, 2) } else { (1.0, 0) };
    let mut down: Vec<f64> = amounts.iter().map(|a| (a * steps).floor()).collect();
    let mut missing = (sum * steps).round() - down.iter().sum::<f64>();
    let mut order: Vec<usize> = (0..amounts.len()).collect();
    order.sort_by(|&a, &b| {
        let lost = |i: usize| amounts[i] * steps - down[i];
        lost(b).total_cmp(&lost(a))
    });
    for place in order {
        if missing < 0.5 {
            break;
        }
        down[place] += 1.0;
        missing -= 1.0;
    }
    down.iter()
        .map(|steps_of| format!("{:.places$}", steps_of / steps))
        .collect()
}

/// A name set apart from the sentence around it, so that one written from the right keeps its
/// order.
fn named(piece: &str) -> String {
    format!("\u{2068}{}\u{2069}", clean(piece))
}

fn percent(part: f64, whole: f64) -> String {
    format!("{:.0}", 100.0 * part / whole)
}

/// The part that costs most.
fn largest(bar: &CostBar<'_>) -> Option<(CostKind, f64)> {
    let parts = bar.parts.iter().map(|part| (part.kind, part.amount));
    parts
        .max_by(|a, b| a.1.amount().total_cmp(&b.1.amount()))
        .map(|(kind, amount)| (kind, amount.amount()))
}

/// The kind that loses most at its price, and that price.
fn worst<'b>(bars: &'b CostBars<'_>) -> Option<(&'b CostBar<'b>, Priced)> {
    let prices = bars.bars.iter().flat_map(|bar| {
        let at = [bar.fair, bar.shop].into_iter().flatten();
        at.map(move |at| (bar, at))
    });
    prices
        .filter(|(_, at)| at.leaves < Money::ZERO)
        .min_by(|a, b| a.1.leaves.amount().total_cmp(&b.1.leaves.amount()))
}

/// The finding, in a sentence.
pub(super) fn title(bars: &CostBars<'_>) -> String {
    if let Some((bar, at)) = worst(bars) {
        return format!(
            "Each {} sold at {} loses {}",
            named(bar.piece),
            amount(at.price),
            amount(Money::ZERO - at.leaves)
        );
    }
    let found: Vec<(CostKind, f64)> = (bars.bars.iter())
        .filter_map(|bar| Some((bar, largest(bar)?)))
        .map(|(bar, (kind, part))| (kind, part / bar.each.amount()))
        .collect();
    match found.as_slice() {
        [(first, _), _, ..] if found.iter().all(|(kind, _)| kind == first) => {
            let least = found.iter().map(|(_, share)| *share).fold(1.0, f64::min);
            let most = found.iter().map(|(_, share)| *share).fold(0.0, f64::max);
            let (least, most) = (percent(least, 1.0), percent(most, 1.0));
            let range = if least == most {
                most
            } else {
                format!("{least} to {most}")
            };
            format!(
                "{} {} the largest part of what every piece costs: {range} %",
                in_title(*first),
                is(*first)
            )
        }
        _ => dearest(bars),
    }
}

fn in_title(kind: CostKind) -> String {
    words::heading(name(Some(kind))).replace(", ", " and ")
}

fn is(kind: CostKind) -> &'static str {
    match kind {
        CostKind::Blank | CostKind::Work => "is",
        CostKind::Coatings | CostKind::Supplies | CostKind::Lost | CostKind::Fitted => "are",
    }
}

fn dearest(bars: &CostBars<'_>) -> String {
    let by_cost = |a: &&CostBar<'_>, b: &&CostBar<'_>| a.each.amount().total_cmp(&b.each.amount());
    match bars
        .bars
        .iter()
        .max_by(by_cost)
        .map(|bar| (bar, largest(bar)))
    {
        Some((bar, Some((kind, part)))) => format!(
            "{} {} {} % of what each {} costs",
            in_title(kind),
            is(kind),
            percent(part, bar.each.amount()),
            named(bar.piece)
        ),
        _ => "Nothing that goes into a piece has a price".to_owned(),
    }
}

/// What is counted, in a sentence or two.
pub(super) fn under(bars: &CostBars<'_>) -> String {
    let work = if bars.work_counts {
        ""
    } else {
        "; work is not counted"
    };
    let mut said = vec![format!(
        "What one good piece costs in {}, counting what is used up{work}.",
        clean(bars.currency)
    )];
    if !bars.unpriced.is_empty() {
        said.push(format!(
            "Left out, for want of a price: {}.",
            clean(&words::list(bars.unpriced, 3))
        ));
    }
    if has_thin(bars) {
        said.push("A part too thin to see is a thick line that stands out of its bar.".to_owned());
    }
    if !one_scale(bars) {
        said.push("Each bar has its own scale.".to_owned());
    }
    if bars.bars.len() > MOST_BARS {
        said.push(format!(
            "{MOST_BARS} of {} kinds are drawn.",
            bars.bars.len()
        ));
    }
    said.join(" ")
}

/// Whether some part that has a label is too thin to see.
fn has_thin(bars: &CostBars<'_>) -> bool {
    (bars.bars.iter().take(MOST_BARS)).any(|bar| {
        let fees = bar.fees().map(Money::amount);
        let mut amounts = parts(bar).into_iter().map(|part| part.amount).chain(fees);
        amounts.any(|amount| is_thin(amount, end(bars, bar)))
    })
}

/// The two lines over a mark: the price, and what it leaves.
pub(super) fn price(what: &str, at: Priced) -> [String; 2] {
    [format!("{what} {}", amount(at.price)), leaves(at)]
}

pub(super) fn leaves(at: Priced) -> String {
    if at.leaves < Money::ZERO {
        format!("loses {}", amount(Money::ZERO - at.leaves))
    } else {
        format!("leaves {}", amount(at.leaves))
    }
}

/// Title and description for someone who can't see the picture.
pub(super) fn words(bars: &CostBars<'_>) -> Words {
    let mut sentences = vec![under(bars)];
    sentences.extend(bars.bars.iter().take(MOST_BARS).map(told));
    Words {
        title: format!("{}.", title(bars)),
        description: sentences.join(" "),
    }
}

fn told(bar: &CostBar<'_>) -> String {
    let parts: Vec<String> = parts(bar)
        .into_iter()
        .map(|part| {
            let of = part
                .kind
                .map_or_else(|| gathered(bar), |kind| made_of(bar, kind));
            format!("{} {}{of}", name(part.kind), part.words)
        })
        .collect();
    let parts = if parts.is_empty() {
        String::new()
    } else {
        format!(": {}", parts.join(", "))
    };
    let at = |what: &str, at: Option<Priced>| {
        at.map_or_else(String::new, |at| {
            let [price, leaves] = price(what, at);
            let fees = at.price - at.kept;
            let after = if fees > Money::ZERO {
                format!(" after {} of tax and fees", amount(fees))
            } else {
                String::new()
            };
            format!("; {price} {leaves}{after}")
        })
    };
    format!(
        "Each {} costs {}{parts}. Its floor is {}{}{}.",
        named(bar.piece),
        amount(bar.each),
        amount(bar.floor),
        at("in a shop", bar.shop),
        at("at the fair", bar.fair)
    )
}

/// " (dome glaze 0.14, print glue under 0.01)".
fn made_of(bar: &CostBar<'_>, kind: CostKind) -> String {
    let lines: Vec<String> = (bar.parts.iter())
        .filter(|part| part.kind == kind)
        .flat_map(|part| &part.lines)
        .map(|(name, money)| format!("{} {}", clean(name), small(*money)))
        .collect();
    if lines.is_empty() {
        String::new()
    } else {
        format!(" ({})", lines.join(", "))
    }
}

/// " (each under 3 %: blank 0.02, supplies 0.01)".
fn gathered(bar: &CostBar<'_>) -> String {
    let small_ones: Vec<String> = (bar.parts.iter())
        .filter(|part| part.amount.amount() < SMALL * bar.each.amount())
        .map(|part| {
            let of = made_of(bar, part.kind);
            format!("{} {}{of}", name(Some(part.kind)), small(part.amount))
        })
        .collect();
    format!(" (each under 3 %: {})", small_ones.join(", "))
}

fn small(money: Money) -> String {
    if money > Money::ZERO && money.amount() < 0.005 {
        "under 0.01".to_owned()
    } else {
        amount(money)
    }
}
