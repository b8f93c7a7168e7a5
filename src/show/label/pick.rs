//! The pick list: what to gather before the work begins, in the order in which it is gathered.

use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::mm;
use crate::plan::{BlankPlan, CoatingPlan, DrawnPlan, OnSheet, Plan, Stuff, SupplyPlan};
use crate::quantity::show::significant;
use crate::quantity::{Show, Units};
use crate::show::chart::Care;
use crate::show::draw::clean;
use crate::show::mixing::TOGETHER;
use crate::show::text::{left_over, taken};
use crate::show::words;

/// Where nothing is taken from stock, or nothing bought.
const NONE: &str = "none";
/// At most so many ends of cord are named.
const MOST: usize = 6;

/// One thing to gather.
struct Thing {
    name: String,
    needed: String,
    stock: String,
    buy: String,
    /// What it is for: a name, which keeps its own direction of writing, and what is said of it.
    lines: Vec<(String, String)>,
}

/// The list as one page of HTML.
#[must_use]
pub fn pick_list(plan: &Plan) -> String {
    let [width, height] = plan.paper.sheet.map(mm);
    let title = clean(&format!("{}: pick list", plan.header.name));
    let style = format!(
        "@page{{size:{width}mm {height}mm;margin:12mm}}\
         body{{font:9.5pt/1.3 \"DejaVu Sans\",sans-serif;color:#1c2a36;margin:0 auto;max-width:190mm}}\
         h1{{font-size:15pt;margin:0 0 1mm;overflow-wrap:anywhere}}p{{margin:0 0 3mm}}\
         table{{border-collapse:collapse;width:100%;table-layout:fixed}}\
         td,th{{text-align:left;vertical-align:top;padding:1mm 1.5mm;overflow-wrap:anywhere}}\
         thead th{{border-bottom:.4mm solid #1c2a36}}th{{font-weight:bold}}\
         tbody{{break-inside:avoid;border-bottom:.2mm solid #8b98a3}}\
         .group th{{padding-top:3mm;color:#064f63}}.group{{break-after:avoid}}\
         .tick{{width:5mm}}.stock,.buy{{width:17%}}.needed{{width:15%}}\
         .for{{padding-top:0;font-size:8.5pt;color:#4a5a68}}\
         .box{{display:inline-block;width:3.4mm;height:3.4mm;border:.3mm solid #1c2a36}}\
         .care{{border-top:.2mm solid #8b98a3;padding-top:2mm;margin-top:5mm;font-size:9pt;break-inside:avoid}}\
         @media screen{{body{{padding:1em}}}}"
    );
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) }
                style { (PreEscaped(style)) }
            }
            body {
                h1 { bdi { (title) } }
                p { "Batch " bdi { (plan.batch) } ". Spares and what is lost on the way are counted." }
                table {
                    thead { tr {
                        th.tick { "✓" } th { "What" } th.needed { "Needed" } th.stock { "From stock" } th.buy { "Buy" }
                    } }
                    @for (group, things) in groups(plan) {
                        @for (place, thing) in things.iter().enumerate() {
                            (rows((place == 0).then_some(group), thing))
                        }
                    }
                }
                @if !plan.cautions.is_empty() { p.care { (care(plan)) } }
            }
        }
    };
    page.into_string()
}

/// What is gathered together, without what there is none of.
fn groups(plan: &Plan) -> Vec<(&'static str, Vec<Thing>)> {
    let units = plan.header.units;
    let mut supplies: Vec<&SupplyPlan> = plan.supplies.iter().collect();
    supplies.sort_by_key(|supply| first_step(supply, plan));
    let of = |wanted: fn(&Stuff) -> bool| {
        let some = supplies.iter().filter(|supply| wanted(&supply.stuff));
        some.map(|supply| of_supply(supply, units)).collect()
    };
    let blanks = plan.blanks.iter().map(|blank| of_blank(blank, plan));
    let coatings = plan.coatings.iter();
    let coatings = coatings.map(|coating| of_coating(coating, plan));
    let coatings = coatings.chain(plan.drawn.iter().map(of_pen));
    let mut groups: Vec<(&str, Vec<Thing>)> = vec![
        ("Blanks", blanks.collect()),
        ("Coatings", coatings.collect()),
        (
            "Paper and other sheets",
            of(|stuff| matches!(stuff, Stuff::Sheet { .. })),
        ),
        (
            "Cord, chain, wire",
            of(|stuff| matches!(stuff, Stuff::Cut { .. })),
        ),
        (
            "Findings and packaging, in order of use",
            of(|stuff| matches!(stuff, Stuff::Each { .. })),
        ),
    ];
    groups.retain(|(_, things)| !things.is_empty());
    groups
}

/// The first of the run's steps that takes it.
fn first_step(supply: &SupplyPlan, plan: &Plan) -> Option<usize> {
    let takers = supply.takers.iter();
    let places = takers.filter_map(|taker| plan.steps.iter().position(|it| it.name == taker.step));
    places.min()
}

fn rows(group: Option<&str>, thing: &Thing) -> Markup {
    html! {
        tbody {
            @if let Some(group) = group {
                tr.group { th scope="rowgroup" colspan="5" { (group) } }
            }
            tr {
                td { span.box {} }
                td { strong { bdi { (clean(&thing.name)) } } }
                td { (thing.needed) }
                td { (thing.stock) }
                td { (thing.buy) }
            }
            @if !thing.lines.is_empty() {
                tr {
                    td.for {}
                    td.for colspan="4" {
                        @for (place, (name, said)) in thing.lines.iter().enumerate() {
                            @if place > 0 { br; }
                            @if !name.is_empty() { bdi { (clean(name)) } }
                            (clean(said))
                        }
                    }
                }
            }
        }
    }
}

fn of_blank(blank: &BlankPlan, plan: &Plan) -> Thing {
    let made = plan.pieces.iter();
    let made = made.filter(|piece| piece.blank_name == blank.name);
    let mut lines: Vec<_> = made
        .map(|piece| {
            let (start, count) = (piece.start, piece.count);
            let said = format!(": start {start} to end with {count}");
            (piece.name.clone(), said)
        })
        .collect();
    if blank.bad.fraction() > 0.0 {
        let bad = blank.bad.show(plan.header.units);
        let said = format!("look them over: {bad} may be bad as they come");
        lines.push((String::new(), said));
    }
    Thing {
        name: blank.name.clone(),
        needed: blank.start.to_string(),
        stock: some(u64::from(blank.have).min(blank.start)),
        buy: packs(blank.packs, blank.pack_of, ""),
        lines,
    }
}

fn of_coating(coating: &CoatingPlan, plan: &Plan) -> Thing {
    let units = plan.header.units;
    let needed = coating.needed_sure.show(units);
    let steps = plan.steps.iter();
    let steps = steps.filter(|step| step.coating.as_deref() == Some(&coating.name));
    let steps: Vec<&str> = steps.map(|step| step.name.as_str()).collect();
    let (stock, buy) = match (&coating.bottle, &coating.bottles) {
        (Some(bottle), Some(bottles)) => {
            let holds = bottle.holds.show(units);
            // what is past its date, or no more than clings to the bottle, is not counted
            let stock = if bottles.stock.ml() > 0.0 {
                format!("{} × {holds}", figure(bottle.have))
            } else {
                NONE.to_owned()
            };
            let one_size = [(bottles.buy, bottle.holds)];
            let sizes = coating.sizes.as_ref();
            let sizes = sizes.map(|sizes| sizes.sizes.iter().map(|size| (size.buy, size.holds)));
            let bought: Vec<_> = sizes.map_or_else(|| one_size.to_vec(), Iterator::collect);
            let bought = bought.into_iter().filter(|(many, _)| *many > 0);
            let bought: Vec<String> = bought
                .map(|(many, holds)| format!("{many} × {}", holds.show(units)))
                .collect();
            let none = bought.is_empty();
            (
                stock,
                if none {
                    NONE.to_owned()
                } else {
                    bought.join(", ")
                },
            )
        }
        _ => ("not said".to_owned(), format!("{needed}, if not in stock")),
    };
    let out_of_stock = coating.bottle.as_ref().zip(coating.bottles.as_ref());
    let out_of_stock =
        out_of_stock.map(|(bottle, bottles)| words::comes_out(bottle, bottles.stock, units));
    let said = match out_of_stock {
        None => "; no bottle or price told of".to_owned(),
        Some(None) => String::new(),
        Some(Some(out)) => format!("; {out}"),
    };
    let kit = coating
        .mix
        .as_ref()
        .map_or_else(String::new, |_| format!("; {TOGETHER}"));
    let said = format!("for {}{kit}{said}", words::list(&steps, MOST));
    Thing {
        name: coating.name.clone(),
        needed,
        stock,
        buy,
        lines: vec![(String::new(), said)],
    }
}

fn of_pen(pen: &DrawnPlan) -> Thing {
    let steps = words::list(&pen.steps, MOST);
    let said = format!("for {steps}; how far one goes is not worked out");
    Thing {
        name: pen.name.clone(),
        needed: words::pieces(pen.pieces),
        stock: pen.have.map_or_else(
            || "not said".to_owned(),
            |have| {
                if have > 0.0 {
                    figure(have)
                } else {
                    NONE.to_owned()
                }
            },
        ),
        buy: match pen.have {
            Some(have) if have <= 0.0 => "1 or more".to_owned(),
            _ => "if not in stock".to_owned(),
        },
        lines: vec![(String::new(), said)],
    }
}

fn of_supply(supply: &SupplyPlan, units: Units) -> Thing {
    let (needed, stock, of) = match &supply.stuff {
        Stuff::Each { needed, have } => (
            needed.to_string(),
            some(u64::from(*have).min(*needed)),
            String::new(),
        ),
        Stuff::Sheet { needed, have, .. } => (
            match needed {
                1 => "1 sheet".to_owned(),
                many => format!("{many} sheets"),
            },
            some(u64::from(*have).min(*needed)),
            String::new(),
        ),
        Stuff::Cut { spool, spools, .. } => {
            let open = spools.cuttings.iter().filter(|way| !way.new);
            let ends: Vec<String> = open
                .map(|way| match way.spools {
                    1 => way.holds.show(units),
                    many => format!("{many} × {}", way.holds.show(units)),
                })
                .collect();
            let none = ends.is_empty();
            let ends = words::list(&ends, MOST);
            (
                spools.taken.show(units),
                if none { NONE.to_owned() } else { ends },
                spool.show(units),
            )
        }
    };
    let on_sheet = |place: usize| -> Option<&OnSheet> {
        match &supply.stuff {
            Stuff::Sheet { lies, .. } => lies.get(place)?.as_ref(),
            Stuff::Each { .. } | Stuff::Cut { .. } => None,
        }
    };
    let takers = supply.takers.iter().enumerate();
    let mut lines: Vec<_> = takers
        .map(|(place, taker)| {
            let said = taken(taker, on_sheet(place), units);
            let rest = said.strip_prefix(&taker.piece).map(str::to_owned);
            rest.map_or((String::new(), said), |rest| (taker.piece.clone(), rest))
        })
        .collect();
    let spares = if supply.spares.fraction() > 0.0 {
        format!("{} spares among them; ", supply.spares.show(units))
    } else {
        String::new()
    };
    lines.push((
        String::new(),
        format!("{spares}{}", left_over(supply, units)),
    ));
    Thing {
        name: supply.name.clone(),
        needed,
        stock,
        buy: packs(supply.packs.packs, supply.pack_of, &of),
        lines,
    }
}

fn some(count: u64) -> String {
    match count {
        0 => NONE.to_owned(),
        many => many.to_string(),
    }
}

/// "3 × 25", "2 × 10 m", "4".
fn packs(packs: u64, pack_of: u32, of: &str) -> String {
    match (packs, pack_of, of) {
        (0, ..) => NONE.to_owned(),
        (many, 1, "") => many.to_string(),
        (many, 1, of) => format!("{many} × {of}"),
        (many, pack, "") => format!("{many} × {pack}"),
        (many, pack, of) => format!("{many} × {pack} × {of}"),
    }
}

/// A number of bottles, without needless noughts.
fn figure(bottles: f64) -> String {
    let text = significant(bottles, 3);
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

fn care(plan: &Plan) -> String {
    let care = Care::of_plan(&plan.cautions);
    care.map_or_else(String::new, |care| care.words().to_owned())
}
