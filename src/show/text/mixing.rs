//! How a plan's mixed coatings are mixed.

use super::page::Page;
use crate::drying::{PotLifeHere, Readings};
use crate::plan::{Cups, Mix, OneMix, Serves};
use crate::quantity::{Show, Time, Units};
use crate::show::mixing::{at_least, at_most, from_to, lasting, measured, weighed};
use crate::show::words;

/// The two parts, and how much of them to mix at once.
pub(super) fn write(mix: &Mix, units: Units, page: &mut Page) {
    let split = &mix.expected;
    page.under(&format!(
        "in two parts, by volume {}, or by weight {}: one measure or the other, not both",
        measured([split.a.volume, split.b.volume], units),
        weighed([split.a.mass, split.b.mass], units)
    ));
    if let Some(cups) = &mix.cups {
        write_cups(cups, units, page);
    }
}

fn write_cups(cups: &Cups, units: Units, page: &mut Page) {
    let [coarse, fine] = cups.least.map(|least| {
        format!(
            "{} on a scale that reads {}",
            at_least(least.mix, units),
            least.scale.show(units)
        )
    });
    page.under(&format!("smallest mix worth weighing: {coarse}, {fine}"));
    if let Some(all) = &cups.all {
        page.under(&format!(
            "all {} in one cup at {}: gels after {}, to be worked with for {} at most ({})",
            all.mass.show(units),
            cups.room.show(units),
            both(all.gels),
            both(all.working),
            label(cups, units)
        ));
    }
    for serves in &cups.serves {
        page.under(&serves_words(serves, units));
    }
    if cups.serves.is_empty() {
        page.under("with hands_on in its step, this would say how many pieces one mix serves");
    }
}

/// What the two readings of the label are.
fn label(cups: &Cups, units: Units) -> String {
    let (lasts, mass) = (lasting(cups.label.lasts), cups.label.mass.mass());
    let mass = mass.show(units);
    if cups.label.mass.is_assumed() {
        format!("the label's {lasts} taken at the worst for a thin coat, else for {mass} in a cup")
    } else {
        format!("from the label's {lasts} for {mass}")
    }
}

/// Both readings, or the one that they are.
fn both(times: Readings<Time>) -> String {
    let Readings { worst, plain } = times.map(lasting);
    from_to(&worst, &plain)
}

fn serves_words(serves: &Serves, units: Units) -> String {
    let one = |mix: OneMix| match mix.coats {
        0 => "not even one piece".to_owned(),
        // a part of a run that one mix serves whole is no limit on the mix
        coats if coats == serves.coats => format!("all {coats}"),
        1 => format!("1 piece ({})", at_most(mix.mass, units)),
        coats => format!("{coats} pieces ({})", at_most(mix.mass, units)),
    };
    let told = serves.most.map(one);
    let Readings { worst, plain } = &told;
    let most = if worst == plain {
        worst.clone()
    } else {
        format!("{worst} at the worst, else {plain}")
    };
    format!(
        "{}, {}: at {} a piece one mix serves at most {most}, of {} in all",
        serves.step,
        serves.piece,
        serves.hands_on.show(units),
        serves.coats
    )
}

/// How long a mix of the label's mass lasts here.
pub(super) fn pot_life(life: &PotLifeHere, units: Units) -> String {
    let mass = life.label.mass.mass().show(units);
    let assumed = if life.label.mass.is_assumed() {
        ", which is assumed"
    } else {
        ""
    };
    format!(
        "pot life here: {}, for {mass}{assumed}; less for a larger mix",
        words::span(&life.lasts())
    )
}
