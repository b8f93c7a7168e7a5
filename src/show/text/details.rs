//! What stands behind the first screen.

use super::page::Page;
use super::summary::told;
use crate::consumption::{CoatsNeeded, Faces};
use crate::cure::Warning as Caution;
use crate::plan::{
    Advice, BlankPlan, CoatingPlan, Dates, Drying, FillPlan, Fit, Lie, Outlook, PiecePlan, Plan,
    StageTimes, StepKind, StepPlan,
};
use crate::quantity::{Angle, Area, Show, Units, Volume};
use crate::show::outline;
use crate::show::warning::warning;
use crate::show::words;

/// How far out of level a fill may lie.
fn lies(lie: Lie, units: Units) -> String {
    let past = |tilt: Option<Angle>, how: &str| {
        tilt.map(|tilt| format!("; {how} past {}", words::fall(tilt, units)))
    };
    let low = past(lie.runs_over, "out of level, runs over");
    let high = past(lie.draws_back, "draws back");
    low.into_iter().chain(high).collect()
}

/// With up to so many lines of sittings.
pub(super) fn write(plan: &Plan, sittings: usize, page: &mut Page) {
    let units = plan.header.units;
    page.heading("How full");
    for piece in &plan.pieces {
        write_piece(piece, units, page);
    }
    if !(plan.coatings.is_empty() && plan.drawn.is_empty()) {
        page.heading("How much coating");
        for coating in &plan.coatings {
            write_coating(coating, plan, page);
        }
        for pen in &plan.drawn {
            page.item(&format!(
                "{}: drawn on {} in {}; how far one goes is not worked out",
                pen.name,
                words::pieces(pen.pieces),
                words::list(&pen.steps, 4)
            ));
        }
    }
    page.heading("How many blanks");
    for blank in &plan.blanks {
        page.item(&blank_words(blank, plan));
    }
    super::supplies::write(plan, page);
    page.heading("How long each step takes");
    for step in &plan.steps {
        write_step(step, units, page);
        if let Some(barred) = plan.not_laid_in(&step.name) {
            page.under(&words::not_laid(barred));
        }
    }
    super::calendar::write(plan, sittings, page);
    super::money::write(plan, page);
    for advice in &plan.advice {
        write_advice(advice, units, page);
    }
    if !plan.warnings.is_empty() {
        page.heading("What to watch for");
        for words in told(plan) {
            page.item(&words);
        }
    }
    write_cautions(plan, page);
    if !plan.assumptions.is_empty() {
        page.heading("What this plan took for granted");
        for assumed in &plan.assumptions {
            page.item(&format!(
                "{} = {} ({})",
                assumed.called(),
                assumed.told(plan.header.units),
                assumed.why
            ));
        }
    }
}

fn write_piece(piece: &PiecePlan, units: Units, page: &mut Page) {
    page.item(&format!(
        "{} on {} ({}): start {} to end with {} ({} lost on the way; {} by the averages), flat top {}",
        piece.name,
        piece.blank_name,
        outline::described(&piece.on, units),
        piece.start,
        piece.count,
        piece.lost.show(units),
        piece.start_expected,
        piece.top.show(units)
    ));
    for fill in &piece.fills {
        write_fill(fill, units, page);
    }
}

fn write_fill(fill: &FillPlan, units: Units, page: &mut Page) {
    let dome = &fill.dome;
    let each = match fill.faces {
        Faces::One => "",
        Faces::Both => " on each face, one after the other",
    };
    let mean = fill.mean_height.show(units);
    let stands = match fill.fit {
        Fit::BelowRim(rim) => format!("{mean} on average, {} below the rim", rim.below.show(units)),
        _ => format!(
            "edge angle {} where it is steepest, {} high in the middle, {mean} on average, surface of the dome {}",
            dome.edge_angle.show(units),
            dome.peak.show(units),
            dome.surface_area.show(units)
        ),
    };
    page.under(&match fill.fit {
        Fit::AlreadyFull => format!("{}: pour nothing, it is full", fill.step_name),
        _ => format!(
            "{}: pour {} of {} ({}){each}; {stands}",
            fill.step_name,
            fill.poured.show(units),
            fill.coating_name,
            fill.poured_mass.show(units),
        ),
    });
    let window = &fill.window;
    let least = match fill.rim {
        Some(rim) => format!("level with the rim at {}", rim.show(units)),
        None => format!(
            "pulls back under {} ({})",
            window.pull_back.volume.show(units),
            window.pull_back.edge_angle.show(units)
        ),
    };
    let whole = match fill.under {
        under if under.m3() > 0.0 => format!("limits with the {} of dry coat", under.show(units)),
        _ => "limits".to_owned(),
    };
    page.under(&format!(
        "{whole}: {least}, target {} ({}), runs over past {} ({}){}",
        window.target.volume.show(units),
        window.target.edge_angle.show(units),
        window.brim.volume.show(units),
        window.brim.edge_angle.show(units),
        fill.lie.map_or_else(String::new, |lie| lies(lie, units))
    ));
    let soaked = if fill.soaks_in.m3() > 0.0 {
        format!(
            "; the bare blank drinks some {} more",
            fill.soaks_in.show(units)
        )
    } else {
        String::new()
    };
    page.under(&format!(
        "once dry at {} solids: {}{} on average; ten pieces gain {} wet{soaked}",
        fill.solids.show(units),
        match fill.fit {
            Fit::BelowRim(_) => String::new(),
            _ => format!("{} high, ", fill.dry_peak.show(units)),
        },
        fill.dry_mean.show(units),
        fill.ten_gain.show(units)
    ));
    if let Some(fuller) = fill.fuller {
        page.under(&words::past_target(fuller, units));
        return;
    }
    match fill.coats_needed {
        None => {}
        Some(CoatsNeeded::Coats(1)) => page.under("the dry height asked for takes one coat"),
        Some(CoatsNeeded::Coats(coats)) => page.under(&format!(
            "the dry height asked for takes {coats} coats, each filled up to the target"
        )),
        Some(CoatsNeeded::PastTarget(coats)) => page.under(&format!(
            "the dry height asked for takes {coats} coats, each filled past the target towards the brim"
        )),
        Some(CoatsNeeded::BeyondBrim) => {
            page.under("no number of coats reaches the dry height asked for on this edge");
        }
    }
}

/// "3 sittings", "12 mixes", "4 sittings: 1 of prime and 3 of level".
fn sittings(coating: &CoatingPlan) -> String {
    let mixed = (coating.mix.as_ref()).is_some_and(|mix| mix.each.is_some());
    let (one, more) = if mixed {
        ("mix", "mixes")
    } else {
        ("sitting", "sittings")
    };
    let all = match coating.sittings {
        1 => format!("1 {one}"),
        many => format!("{many} {more}"),
    };
    let [_, _, ..] = coating.sittings_by_step.as_slice() else {
        return all;
    };
    let each = coating.sittings_by_step.iter();
    let each: Vec<String> = each
        .map(|(step, times)| format!("{times} of {step}"))
        .collect();
    format!("{all}: {}", words::list(&each, 6))
}

fn write_coating(coating: &CoatingPlan, plan: &Plan, page: &mut Page) {
    let units = plan.header.units;
    let lines = &coating.lines;
    let soak = if coating.soaks_in.m3() > 0.0 {
        format!(" ({} of it soaks in)", coating.soaks_in.show(units))
    } else {
        String::new()
    };
    page.item(&format!(
        "{}: {} on the pieces{soak} + {} drips + {} in the tool ({}) + {} left in bottles = {}",
        coating.name,
        lines.on_pieces.show(units),
        lines.drips.show(units),
        lines.tool.show(units),
        sittings(coating),
        lines.heel.show(units),
        coating.needed.show(units)
    ));
    page.under(&format!("mix or pour out {}; have {} to be {} sure. Spread: ± {} from piece to piece, ± {} from one's own hand",
        lines.mix_now().show(units),
        coating.needed_sure.show(units),
        plan.header.sure.show(units),
        coating.spread.scatter.show(units),
        coating.spread.bias.show(units)
    ));
    if let (Some(bottle), Some(bottles)) = (&coating.bottle, &coating.bottles) {
        let chances: Vec<String> = bottles
            .chances
            .iter()
            .map(|near| format!("{}: {}", near.bottles, words::percent(near.chance)))
            .collect();
        // of several sizes the price is the cheapest's, told with them
        let price = coating
            .price
            .filter(|_| coating.sizes.is_none())
            .map(|price| format!(", {} in all", price.show(units)))
            .unwrap_or_default();
        let alone = if coating.sizes.is_some() {
            ", were there no others"
        } else {
            ""
        };
        page.under(&format!(
            "bottles of {} to buy{alone}: {}{price}; {}. Chance of enough with {}",
            bottle.holds.show(units),
            bottles.buy,
            words::comes_out(bottle, bottles.stock, units)
                .unwrap_or_else(|| format!("the stock gives {}", bottles.stock.show(units))),
            chances.join(", ")
        ));
    }
    super::supplies::write_sizes(coating, units, page);
    for covered in &coating.coverage {
        let bottle = covered
            .by_bottle
            .map(|area| format!(", a bottle {}", area.show(units)))
            .unwrap_or_default();
        page.under(&format!(
            "{}: a wet film of {}; {}{bottle}",
            covered.step,
            covered.wet_film.show(units),
            covers(covered.by_litre, units)
        ));
    }
    if let Some(mix) = &coating.mix {
        let dated = matches!(plan.dates, Dates::Told(_));
        super::mixing::write(mix, dated, units, page);
    }
}

/// What a round amount of coating covers: "a litre covers 20 m²".
fn covers(by_litre: Area, units: Units) -> String {
    match units {
        Units::Metric => format!("a litre covers {}", by_litre.show(units)),
        Units::Us => {
            let by_ounce = by_litre * Volume::from_us_fl_oz(1.0).l();
            format!("a fluid ounce covers {}", by_ounce.show(units))
        }
    }
}

fn blank_words(blank: &BlankPlan, plan: &Plan) -> String {
    let units = plan.header.units;
    let price = blank
        .price
        .map(|price| format!(", {} in all", price.show(units)))
        .unwrap_or_default();
    format!(
        "{}: {} wanted, start {}, have {}, {} arrive bad: buy {} ({} x {} = {}{price}); enough: {}. \
         By the averages: start {}, buy {} ({} x {})",
        blank.name,
        blank.wanted,
        blank.start,
        blank.have,
        blank.bad.show(units),
        blank.buy,
        blank.packs,
        blank.pack_of,
        blank.bought,
        words::percent(blank.chance),
        blank.expected.start,
        blank.expected.buy,
        blank.expected.packs,
        blank.pack_of
    )
}

fn write_step(step: &StepPlan, units: Units, page: &mut Page) {
    let coating = match &step.coating {
        Some(coating) if step.coats > 1 => format!(", {} coats of {coating}", step.coats),
        // a step often goes by its coating's name
        Some(coating) if *coating == step.name => String::new(),
        Some(coating) => format!(", {coating}"),
        None => ", no coating".to_owned(),
    };
    let depth = match (step.depth, step.kind) {
        (Some(depth), StepKind::Dome) => {
            format!(
                ", {} deep at the peak, which is ready last",
                depth.show(units)
            )
        }
        (Some(depth), _) => format!(", {} wet", depth.show(units)),
        (None, _) => String::new(),
    };
    let on = step
        .slowest_on
        .as_ref()
        .map(|blank| format!(", slowest on {blank}"))
        .unwrap_or_default();
    let both = step.faces == Faces::Both;
    let faces = if both { ", on both faces" } else { "" };
    page.item(&format!("{}{coating}{faces}{depth}{on}", step.name));
    write_drying(&step.drying, units, page);
    if let (Some(all), true) = (step.until_handled, step.coats > 1 || both) {
        let what = match (step.coats, step.faces) {
            (1, _) => "both faces, one after the other, until the second can be handled".to_owned(),
            (coats, Faces::One) => format!("all {coats} coats, until they can be handled"),
            (coats, Faces::Both) => {
                format!(
                    "all {coats} coats on one face, then on the other, until they can be handled"
                )
            }
        };
        page.under(&format!("{what}: {}", words::span(&all)));
    }
}

fn write_drying(drying: &Drying, units: Units, page: &mut Page) {
    match drying {
        Drying::NotNeeded => {}
        Drying::Unknown(why) => page.under(&format!("no time can be told: {why}")),
        Drying::Timed(timed) => write_timed(timed, units, page),
    }
}

fn write_timed(timed: &Outlook, units: Units, page: &mut Page) {
    let mut left = timed.stages.as_slice();
    while let Some(first) = left.first() {
        // Stages that are alike are told in one line.
        let same = |other: &StageTimes| {
            (other.label, other.here, &other.source) == (first.label, first.here, &first.source)
        };
        let alike = left.iter().take_while(|stage| same(stage)).count().max(1);
        let names: Vec<&str> = left[..alike]
            .iter()
            .map(|stage| words::stage(stage.stage))
            .collect();
        page.under(&format!(
            "{}: {} on the label ({}), here {}",
            words::list(&names, 4),
            first.label.show(units),
            first.source,
            words::here(first, timed, units)
        ));
        left = &left[alike..];
    }
    if let Some((label, here)) = timed.stages.last().and_then(|stage| {
        stage
            .first_principles_at_label
            .zip(stage.first_principles_here)
    }) {
        page.under(&format!(
            "a check from first principles, water loss alone: {} in the label's air, {} here; labels also allow for the film to fuse and for a margin",
            label.show(units),
            here.show(units)
        ));
    }
    let why = words::reasons(&timed.factor);
    let whole = timed.whole.map_or("it", words::stage);
    if !why.is_empty() {
        page.under(&match timed.factor.whole.likely() {
            Some(ratio) => format!(
                "{whole} takes {} the label's time: {why}",
                words::times(ratio)
            ),
            None => format!("why: {why}"),
        });
    }
    if let Some(check) = timed.bubbles {
        page.under(&check.words(units));
    }
    if let Some(life) = &timed.pot_life {
        page.under(&super::mixing::pot_life(life, timed, units));
    }
    if let Some(look) = timed.second_look {
        page.under(&words::second_look(&look, units));
    }
    if let Some(days) = timed.days {
        page.under(&words::other_days(&days));
    }
    if timed.helps.is_empty() && words::wants_help(timed) {
        page.under(&format!("would help: {}", words::NO_HELP));
    }
    let mut cautioned = Vec::new();
    for help in timed.helps.iter().take(4) {
        // said once for all changes that it holds for
        let caution = help
            .caution
            .as_ref()
            .filter(|caution| !cautioned.contains(&caution.code()));
        cautioned.extend(caution.map(Caution::code));
        let caution = caution
            .map(|caution| format!("; but {}", warning(caution, units)))
            .unwrap_or_default();
        page.under(&format!(
            "would help: {}, then {whole} takes {} the label's time{caution}",
            words::change(&help.change, units),
            words::times(help.ratio.likely)
        ));
    }
}

fn write_advice(advice: &Advice, units: Units, page: &mut Page) {
    page.heading("Advised, and not part of the run");
    page.item(&format!(
        "seal {} with one coat of {} before \"{}\": {} wet",
        words::list(&advice.pieces, 4),
        advice.coating,
        words::list(&advice.before, 4),
        advice.wet_film.show(units)
    ));
    page.under(&format!(
        "{} on the pieces, {} with waste, {} to be sure",
        advice.on_pieces.show(units),
        advice.lines.needed().show(units),
        advice.needed_sure.show(units)
    ));
    write_drying(&advice.drying, units, page);
}

fn write_cautions(plan: &Plan, page: &mut Page) {
    let Some(any) = plan.cautions.first() else {
        return;
    };
    page.heading("Take care");
    page.item(any.cautions.first);
    for family in &plan.cautions {
        let [before, during, after] = family.cautions.lines;
        page.item(&format!(
            "{} ({})",
            family.key,
            words::list(&family.coatings, 6)
        ));
        page.under(&format!("before: {}", before.say));
        page.under(&format!("while: {}", during.say));
        page.under(&format!("after: {}", after.say));
    }
    for general in any.cautions.general {
        page.item(&format!("{}: {}", general.concern, general.say));
    }
}
