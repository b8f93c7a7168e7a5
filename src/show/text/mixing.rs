//! How a plan's mixed coatings are mixed.

use super::page::Page;
use crate::consumption::Split;
use crate::drying::{PotLifeHere, Readings};
use crate::plan::{Cups, HandsOn, Mix, OneMix, Outlook, Serves};
use crate::quantity::show::significant;
use crate::quantity::{Mass, Show, Time, Units};
use crate::show::mixing::{
    at_least, finely_weighed, from_to, lasting, measured, part_weighed, weighed,
};

/// The two parts, and how much of them to mix at once; where nothing is dated nobody knows for which pieces.
pub(super) fn write(mix: &Mix, dated: bool, units: Units, page: &mut Page) {
    match &mix.each {
        Some((many, _)) if let Some([least, most]) = &mix.unlike => {
            page.under(&format!(
                "in {many} mixes, each as its sitting asks, which the calendar tells: from {} to {}",
                parts(least, units),
                one_cup(most, units)
            ));
            page.under(&all_together(*many, mix, units));
        }
        Some((1, all)) => page.under(&format!("in one mix of {}", one_cup(all, units))),
        Some((many, each)) => {
            let kinds = mix.cups.as_ref().map_or(0, |cups| cups.serves.len());
            let told = if dated || kinds < 2 {
                "each of about"
            } else {
                "each for its own pieces, on average of"
            };
            page.under(&format!("in {many} mixes, {told} {}", one_cup(each, units)));
            page.under(&all_together(*many, mix, units));
        }
        None => page.under(&format!(
            "in two parts, in all {}",
            one_cup(&mix.expected, units)
        )),
    }
    if let Some(cups) = &mix.cups {
        write_cups(cups, mix.each.map_or(1, |(many, _)| many), units, page);
    }
}

fn all_together(many: u32, mix: &Mix, units: Units) -> String {
    format!(
        "all {many} mixes together take {}, never in one cup",
        parts(&mix.expected, units)
    )
}

fn write_cups(cups: &Cups, many: u32, units: Units, page: &mut Page) {
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
            "all {} in one cup at {} would gel after {}, to be worked with for {} at most ({})",
            all.in_cup.mass.show(units),
            cups.room.show(units),
            both(all.in_cup.gels),
            both(all.in_cup.working),
            label(cups, units)
        ));
    }
    if let Some(planned) = cups.planned.filter(|_| many > 1) {
        page.under(&format!(
            "a mix of {}, the heaviest, is to be worked with for {} at most from when its parts meet{}",
            planned.mass.show(units),
            both(planned.working),
            if cups.stirring > Time::ZERO {
                format!(", {} of stirring among them", cups.stirring.show(units))
            } else {
                String::new()
            }
        ));
    }
    for serves in &cups.serves {
        page.under(&serves_words(serves, cups.label.mass.mass(), units));
    }
    page.under(&format!(
        "{}, by weight; each mix also leaves {} in its cup and tool",
        takes(cups, units).join("; "),
        told(&cups.keeps, units)
    ));
    page.under(
        "a mix is for what its pieces are expected to take: where one runs short, mix another",
    );
}

/// What one coat of a piece takes of a mix: "dome, fob: A 1.34 g and B 1.21 g a piece".
fn takes(cups: &Cups, units: Units) -> Vec<String> {
    (cups.serves.iter())
        .map(|serves| {
            let each = told(&serves.each, units);
            let further = serves.further.as_ref().map_or_else(String::new, |further| {
                format!(
                    " for the first coat of a face, {} for each further",
                    told(further, units)
                )
            });
            format!("{}: {each} a piece{further}", what(serves))
        })
        .collect()
}

/// "dome, fob", or "dome, fob, time 2" where it goes through the step again.
fn what(serves: &Serves) -> String {
    let time = match serves.time {
        0 | 1 => String::new(),
        time => format!(", time {time}"),
    };
    format!("{}, {}{time}", serves.step, serves.piece)
}

fn told(split: &Split, units: Units) -> String {
    finely_weighed([split.a.mass, split.b.mass], units)
}

/// "A 5.1 g and B 4.6 g by weight, or A 4.6 mL and B 4.6 mL by volume; ...".
fn one_cup(split: &Split, units: Units) -> String {
    format!(
        "{}: one measure or the other, not both",
        parts(split, units)
    )
}

fn parts(split: &Split, units: Units) -> String {
    format!(
        "{} by weight, or {} by volume",
        weighed([split.a.mass, split.b.mass], units),
        measured([split.a.volume, split.b.volume], units)
    )
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

fn serves_words(serves: &Serves, label: Mass, units: Units) -> String {
    let one = |mix: OneMix| match mix.coats {
        0 => "not even one piece".to_owned(),
        // a part of a run that one mix serves whole is no limit on the mix
        coats if coats == serves.coats => format!("all {coats}"),
        1 => format!(
            "1 piece ({}{})",
            part_weighed(mix.mass, units),
            if mix.mass > label {
                ", of which its label says nothing: that is for less"
            } else {
                ""
            }
        ),
        coats => format!("{coats} pieces ({})", part_weighed(mix.mass, units)),
    };
    let what = what(serves);
    let pace = pace(serves.hands_on, units);
    if serves.most.worst.coats == serves.coats {
        let all = match serves.coats {
            1 if serves.most.worst.mass > label => {
                let mass = part_weighed(serves.most.worst.mass, units);
                format!("the one piece ({mass}, of which its label says nothing: that is for less)")
            }
            1 => "the one piece".to_owned(),
            all => format!("all {all}"),
        };
        let with_others = match serves.in_a_mix {
            // fewer than all that may be in it
            most if most < serves.in_step => format!(", with others at most {most} pieces"),
            _ => String::new(),
        };
        return format!("{what}: at {pace} one mix serves {all}{with_others}");
    }
    let told = serves.most.map(one);
    let Readings { worst, plain } = &told;
    let most = if worst == plain {
        worst.clone()
    } else {
        format!("{worst} at the worst, else {plain}")
    };
    format!(
        "{what}: at {pace} one mix serves at most {most}, of {} in all",
        serves.coats
    )
}

/// "3 min a piece (60 s, a guess, 3 times that in a first run)".
fn pace(hands_on: HandsOn, units: Units) -> String {
    let planned = hands_on.planned().show(units);
    let figure = hands_on.figure.show(units);
    // only a first run's differs
    let first_run = (hands_on.times - 1.0).abs() > 1e-9;
    let guess = if hands_on.guessed { ", a guess" } else { "" };
    let why = match (first_run, hands_on.guessed) {
        (false, false) => String::new(),
        (false, true) => " (a guess)".to_owned(),
        (true, _) => format!(
            " ({figure}{guess}, {} times that in a first run)",
            significant(hands_on.times, 1)
        ),
    };
    format!("{planned} a piece{why}")
}

/// How long a mix of the label's mass lasts here, and in what air where that is not the coat's own.
pub(super) fn pot_life(life: &PotLifeHere, coat: &Outlook, units: Units) -> String {
    let warmest = if life.room > coat.here.air().temperature() {
        format!(", mixed at {} in the hours of work", life.room.show(units))
    } else {
        String::new()
    };
    let mass = life.label.mass.mass().show(units);
    let assumed = if life.label.mass.is_assumed() {
        ", which is assumed"
    } else {
        ""
    };
    format!(
        "pot life here{warmest}: {}, for {mass}{assumed}; less for a larger mix",
        from_to(&lasting(life.lasts().low), &lasting(life.lasts().high))
    )
}
