//! The pick list: what to lay out of findings, cord and sheets before the work begins.

use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::mm;
use crate::cost::Line;
use crate::plan::{MoneyPlan, OnSheet, Plan, Stuff, SupplyPlan, Taker};
use crate::quantity::{Show, Units};
use crate::show::chart::Care;
use crate::show::draw::clean;
use crate::show::text::{left_over, needed, stock, taken};

/// The list as one page of HTML. `None`: the pieces take no supplies.
#[must_use]
pub fn pick_list(plan: &Plan) -> Option<String> {
    if plan.supplies.is_empty() {
        return None;
    }
    let [width, height] = plan.paper.sheet.map(mm);
    let title = clean(&format!("{}: pick list", plan.header.name));
    let style = format!(
        "@page{{size:{width}mm {height}mm;margin:14mm}}\
         body{{font:10pt/1.35 \"DejaVu Sans\",sans-serif;color:#1c2a36;margin:0 auto;max-width:180mm}}\
         h1{{font-size:15pt;margin:0 0 1mm}}p{{margin:0 0 4mm}}\
         table{{border-collapse:collapse;width:100%}}\
         td,th{{text-align:left;vertical-align:top;padding:1.6mm 2mm;border-bottom:.2mm solid #8b98a3;overflow-wrap:anywhere}}\
         th{{font-weight:bold}}tbody{{break-inside:avoid}}\
         .box{{display:inline-block;width:3.6mm;height:3.6mm;border:.3mm solid #1c2a36}}\
         .care{{border-top:.2mm solid #8b98a3;padding-top:2mm;margin-top:6mm;font-size:9pt}}\
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
                p { "Batch " (plan.batch) ". What the pieces take beside blanks and coatings, spares counted." }
                table {
                    thead { tr {
                        th { "Laid out" } th { "What" } th { "Needed" } th { "In stock" } th { "Buy" } th { "Left over" }
                    } }
                    @for supply in &plan.supplies { (rows(supply, plan)) }
                }
                @if !plan.cautions.is_empty() { p class="care" { (care(plan)) } }
            }
        }
    };
    Some(page.into_string())
}

fn rows(supply: &SupplyPlan, plan: &Plan) -> Markup {
    let units = plan.header.units;
    html! {
        tbody {
            tr {
                td { span class="box" {} }
                td { strong { bdi { (clean(&supply.name)) } } }
                td { (needed(supply, units)) }
                td { (stock(supply, units)) }
                td { (buy(supply, units)) }
                td { (left_over(supply, units)) }
            }
            @for (place, taker) in supply.takers.iter().enumerate() {
                tr { td {} td colspan="5" { (takes(supply, (place, taker), plan)) } }
            }
        }
    }
}

fn buy(supply: &SupplyPlan, units: Units) -> String {
    let spool = match &supply.stuff {
        Stuff::Cut { spool, .. } => format!(" of {}", spool.show(units)),
        Stuff::Each { .. } | Stuff::Sheet { .. } => String::new(),
    };
    match (supply.packs.packs, supply.pack_of) {
        (0, _) => "nothing, the stock does".to_owned(),
        (many, 1) => format!("{many}{spool}"),
        (many, of) => format!("{many} × {of}{spool}"),
    }
}

/// "mooring fob: 45 come to "hang", 1 each; 0.08 EUR in a good one".
fn takes(supply: &SupplyPlan, (place, taker): (usize, &Taker), plan: &Plan) -> Markup {
    let lies: Option<&OnSheet> = match &supply.stuff {
        Stuff::Sheet { lies, .. } => lies[place].as_ref(),
        Stuff::Each { .. } | Stuff::Cut { .. } => None,
    };
    let cost = plan
        .money
        .as_ref()
        .and_then(|money| cost(money, supply, taker))
        .unwrap_or_default();
    html! { bdi { (clean(&taken(taker, lies, plan.header.units))) } (cost) }
}

/// What of it a piece bears.
fn cost(money: &MoneyPlan, supply: &SupplyPlan, taker: &Taker) -> Option<String> {
    let piece = money
        .pieces
        .iter()
        .find(|piece| piece.name == taker.piece)?;
    let line = |lines: &[Line]| {
        let own = lines.iter().find(|line| line.name == supply.name)?;
        Some(format!("{:.2}", own.cost.used.amount()))
    };
    if let Some(amount) = line(&piece.lines.fitted) {
        return Some(format!("; {amount} {} in a good one", money.currency));
    }
    line(&piece.lines.started)
        .map(|amount| format!("; {amount} {} in each one started", money.currency))
}

fn care(plan: &Plan) -> String {
    let care = Care::of_plan(&plan.cautions);
    care.map_or_else(String::new, |care| care.words().to_owned())
}
