//! The tick list in order of work, with room for what came of it.

use maud::{Markup, html};

use super::figures::{Figures, Part};
use super::room::Spacing;
use super::{SheetError, first, more};
use crate::quantity::Units;

/// At most so many rows, however many tasks there are.
const MOST: usize = 80;

/// The work, whose rows are as high as the page has room for.
pub(super) struct Work {
    /// What stands beside its heading.
    pub beside: Markup,
    /// Its table from the head on, and what is said under it.
    pub table: Markup,
}

impl Work {
    /// With unlike mixes of a row told where they are no more than so many.
    pub(super) fn of(figures: &Figures, recipes: usize) -> Result<Self, SheetError> {
        let dated = figures.each("/calendar/work");
        let beside = own_looks(figures, &dated)?;
        let table = if dated.is_empty() {
            undated(figures)?
        } else {
            rows(figures, dated, recipes)?
        };
        Ok(Self { beside, table })
    }

    pub(super) fn set(&self, rows: Spacing) -> Markup {
        html! {
            section class={ "work " (rows.class()) } {
                div.headed { h2 { "Work, in order" } (self.beside) }
                (self.table)
            }
        }
    }
}

fn rows(figures: &Figures, dated: Vec<String>, recipes: usize) -> Part {
    let (rows, left_out) = first(dated, MOST);
    let days = |at: &String| ["begins", "ends"].map(|end| figures.date_of(&format!("{at}/{end}")));
    let told_by_task = rows.iter().map(days).any(|[begins, ends]| begins != ends);
    let mut day = None;
    Ok(html! {
        table.list {
            (columns(figures.units, "Leave it at least until"))
            tbody { @for at in &rows {
                @let date = figures.date_of(&format!("{at}/begins"));
                (row(figures, at, day.replace(date) != Some(date), recipes)?)
            } }
        }
        @if told_by_task {
            p.more { "A row of several sittings stands for them all: plan.json lists each." }
        }
        @for step in &figures.each("/steps") {
            @if figures.has(&format!("{step}/not_laid")) {
                p.more { (figures.name(&format!("{step}/name"))?) " is " (not_laid(figures, step)?) "." }
            }
        }
        (more(left_out))
    })
}

/// The heads of the columns; what is written in by hand comes last.
fn columns(units: Units, leave: &str) -> Markup {
    let (room, weight) = match units {
        Units::Metric => ("°C, %", "Grams"),
        Units::Us => ("°F, %", "Ounces"),
    };
    html! {
        thead { tr {
            th.tick { "✓" } th.day { "Day" } th.hours { "Hours" } th.what { "What" } th.leave { (leave) }
            th.fill.wide { "From, to" } th.fill { (room) } th.fill { (weight) } th.fill.free { "Tack-free" }
            th.fill { "Hard" }
        } }
    }
}

/// What is written in by hand; of work that lays no coat, no weight and no drying.
fn blanks(coated: bool) -> Markup {
    html! {
        td.fill {}
        @for _ in 0..4 { @if coated { td.fill {} } @else { td.fill.no {} } }
    }
}

fn row(figures: &Figures, at: &str, new_day: bool, recipes: usize) -> Part {
    let of = |key: &str| format!("{at}/{key}");
    let one_day = figures.date_of(&of("begins")) == figures.date_of(&of("ends"));
    let waits = figures.said(&of("leave_until")) > figures.said(&of("ends"));
    let coated = step(figures, figures.said(&of("what")))
        .is_some_and(|step| figures.has(&format!("{step}/coating")));
    Ok(html! {
        tr.begins[new_day] {
            td.tick { span.box {} }
            @if one_day {
                td.day {
                    // on each row, for the next page may begin with any of them
                    @if new_day { strong { (figures.day(&of("begins"))?) } }
                    @else { span.again { (figures.day(&of("begins"))?) } }
                }
                td.hours { (figures.clock(&of("begins"))?) "–" (figures.clock(&of("ends"))?) }
            } @else {
                td.days colspan="2" {
                    strong { (figures.moment(&of("begins"))?) } " to " (figures.moment(&of("ends"))?)
                }
            }
            td.what { (what(figures, at, recipes)?) }
            td.leave data-head=[waits.then_some("leave it until")] { (leave(figures, at)?) }
            (blanks(coated))
        }
    })
}

/// The place of a step by its name.
fn step(figures: &Figures, name: &str) -> Option<String> {
    (figures.each("/steps").into_iter()).find(|at| figures.said(&format!("{at}/name")) == name)
}

/// "seal, coat 1 of 2: 71 × tide magnet; 4 trays; bubbles at 9:42 and 11:02".
fn what(figures: &Figures, at: &str, recipes: usize) -> Part {
    let of = |key: &str| format!("{at}/{key}");
    let coats = figures.has(&of("coats")) && figures.number(&of("coats"))? > 1.0;
    // those that follow one another without a break are one piece of work, whose trays are known
    let sittings = !figures.has(&of("trays")) && figures.number(&of("sittings"))? > 1.0;
    let looks = figures.has(&of("look_from"));
    let pieces = figures.each(&of("pieces"));
    let cupfuls = figures.each(&of("cupfuls"));
    // too many are weighed by the piece
    let told = cupfuls.len() <= recipes;
    Ok(html! {
        strong { (figures.name(&of("what"))?) }
        @if coats {
            ", coat " (figures.count(&of("coat"))?) " of " (figures.count(&of("coats"))?)
            @if figures.has(&of("face")) { ", " (figures.words(&of("face"))?) }
        }
        ": "
        @for (i, piece) in pieces.iter().enumerate() {
            @if i > 0 { ", " }
            span.some {
                (figures.count(&format!("{piece}/count"))?) " "
                (figures.piece(&format!("{piece}/piece"))?)
            }
        }
        @if figures.has(&of("mixes")) {
            "; " (figures.count(&of("mixes"))?)
            @if figures.number(&of("mixes"))? > 1.0 { " mixes" } @else { " mix" }
            @if !told { ", by the piece" }
            @for (i, cupful) in cupfuls.iter().enumerate().filter(|_| told) {
                @if cupfuls.len() > 1 {
                    @if i > 0 { ", " } @else { ": " }
                    (figures.count(&format!("{cupful}/mixes"))?)
                }
                " of " (in_a_mix(figures, &format!("{cupful}/holds"))?)
                @if figures.number(&of("mixes"))? > 1.0 { (serves(figures, cupful, pieces.len() > 1)?) }
            }
        }
        @if figures.has(&of("trays")) && figures.number(&of("trays"))? > 0.0 {
            "; " (figures.count(&of("trays"))?)
            @if figures.number(&of("trays"))? > 1.0 { " trays" } @else { " tray" }
        }
        @if sittings { "; " (figures.count(&of("sittings"))?) " sittings" }
        @if looks {
            "; " span.look { "look for bubbles "
                (figures.clock(&of("look_from"))?)
                @if figures.said(&of("look_from")) != figures.said(&of("look_to")) {
                    "–" (figures.clock(&of("look_to"))?)
                }
            }
        } @else {
            (bubbles(figures, figures.said(&of("what")))?)
        }
        (lamp(figures, figures.said(&of("what"))))
    })
}

/// That a coat goes under a lamp once bubbles were looked for.
fn lamp(figures: &Figures, name: &str) -> Markup {
    let cures = step(figures, name).is_some_and(|at| figures.is(&format!("{at}/under_a_lamp")));
    html! { @if cures { "; then put it under the lamp" } }
}

/// "A 5.1 g + B 4.6 g".
fn in_a_mix(figures: &Figures, at: &str) -> Part {
    Ok(html! {
        "A " (figures.part_weighed(&format!("{at}/a_g"))?)
        " + B " (figures.part_weighed(&format!("{at}/b_g"))?)
    })
}

/// " for 10 each", " for 4 tide magnet + 6 mooring fob".
fn serves(figures: &Figures, cupful: &str, named: bool) -> Part {
    let pieces = figures.each(&format!("{cupful}/pieces"));
    Ok(html! {
        " for "
        @for (i, piece) in pieces.iter().enumerate() {
            @if i > 0 { " + " }
            (figures.count(&format!("{piece}/count"))?)
            @if named { " " (figures.piece(&format!("{piece}/piece"))?) }
        }
        @if figures.number(&format!("{cupful}/mixes"))? > 1.0 { " each" }
    })
}

/// "not laid from 18:00 to 09:00, or it may never be ready".
fn not_laid(figures: &Figures, step: &str) -> Part {
    let words = figures.words(&format!("{step}/not_laid"))?;
    Ok(html! { strong { (words) } })
}

/// "Bubbles: dome, 10 min after each piece's own pour", where the rows tell from when to when they are looked for.
fn own_looks(figures: &Figures, rows: &[String]) -> Part {
    let told = |name: &str| {
        let mut own = rows
            .iter()
            .filter(|at| figures.said(&format!("{at}/what")) == name);
        own.any(|at| figures.has(&format!("{at}/look_from")))
    };
    let looked = figures.each("/steps").into_iter().filter(|at| {
        told(figures.said(&format!("{at}/name")))
            && figures.has(&format!("{at}/look_for_bubbles_min"))
    });
    let looked: Vec<String> = looked.collect();
    Ok(html! {
        @if !looked.is_empty() {
            p.aside {
                "Bubbles: "
                @for (i, at) in looked.iter().enumerate() {
                    @if i > 0 { "; " }
                    (figures.name(&format!("{at}/name"))?) ", " (after(figures, at, "each piece's own pour")?)
                }
            }
        }
    })
}

/// The place of a step of which it is told how long after a pour to look for bubbles.
fn look(figures: &Figures, name: &str) -> Option<String> {
    step(figures, name).filter(|at| figures.has(&format!("{at}/look_for_bubbles_min")))
}

/// "10 min after each pour, not later than 3 h".
fn after(figures: &Figures, at: &str, pour: &str) -> Part {
    let latest = format!("{at}/look_not_later_min");
    Ok(html! {
        (figures.minutes(&format!("{at}/look_for_bubbles_min"))?) " after " (pour)
        @if figures.has(&latest) { ", not later than " (figures.minutes(&latest)?) }
    })
}

/// How long after each pour to look for bubbles, where no hour is told.
fn bubbles(figures: &Figures, name: &str) -> Part {
    Ok(match look(figures, name) {
        None => html! {},
        Some(at) => html! {
            "; " span.look { "look for bubbles " (after(figures, &at, "each pour")?) }
        },
    })
}

/// From when the last of the waves can go on, unless that is at once.
fn leave(figures: &Figures, at: &str) -> Part {
    let last = format!("{at}/leave_until");
    if !figures.has(&last) {
        return each_wait(figures, figures.said(&format!("{at}/what")));
    }
    Ok(html! {
        @if figures.said(&last) > figures.said(&format!("{at}/ends")) {
            (figures.moment(&last)?)
        }
        @if figures.has(&format!("{at}/goes_on")) {
            "; " (figures.words(&format!("{at}/goes_on"))?)
            " " (figures.moment(&format!("{at}/goes_on_from"))?)
        }
        @if figures.has(&format!("{at}/next_by")) {
            "; next coat by " (figures.moment(&format!("{at}/next_by"))?)
        }
    })
}

/// How long each coat of a step is left alone, where no hour is told.
fn each_wait(figures: &Figures, name: &str) -> Part {
    let step = step(figures, name).filter(|at| figures.has(&format!("{at}/hands_off")));
    step.map_or_else(|| Ok(html! {}), |at| left_alone(figures, &at, true))
}

/// "7 to 10 h each time; next coat after 17 to 30 h; dry through, for further work, after 4 to 6 days".
fn left_alone(figures: &Figures, at: &str, several: bool) -> Part {
    let of = |key: &str| format!("{at}/{key}");
    Ok(html! {
        (figures.words(&of("hands_off"))?)
        @if several { " each time" }
        @if figures.has(&of("next_coat")) { "; " (figures.words(&of("next_coat"))?) }
        @if figures.has(&of("dry_through")) {
            "; " (figures.words(&of("dry_through"))?)
        }
    })
}

/// The steps, where nothing has a date.
fn undated(figures: &Figures) -> Part {
    let (steps, left_out) = first(figures.each("/steps"), MOST);
    Ok(html! {
        table.list {
            (columns(figures.units, "Leave it for"))
            tbody { @for at in &steps { (undated_row(figures, at)?) } }
        }
        (more(left_out))
    })
}

fn undated_row(figures: &Figures, at: &str) -> Part {
    let of = |key: &str| format!("{at}/{key}");
    let pieces = figures.each(&of("pieces"));
    let coated = figures.has(&of("coating"));
    Ok(html! {
        tr {
            td.tick { span.box {} }
            td.day {}
            td.hours {}
            td.what {
                strong { (figures.name(&of("name"))?) } ": "
                @for (i, piece) in pieces.iter().enumerate() {
                    @if i > 0 { ", " }
                    (figures.piece(piece)?)
                }
                @if figures.has(&of("not_laid")) { "; " (not_laid(figures, at)?) }
                (bubbles(figures, figures.said(&of("name")))?)
                (lamp(figures, figures.said(&of("name"))))
            }
            td.leave data-head=[coated.then_some("takes")] { (wait(figures, at)?) }
            (blanks(coated))
        }
    })
}

/// How long each coat of a step is left alone.
fn wait(figures: &Figures, at: &str) -> Part {
    let of = |key: &str| format!("{at}/{key}");
    if !figures.has(&of("coating")) {
        return Ok(html! {});
    }
    if !figures.has(&of("hands_off")) {
        let told = !figures.each(&of("stages")).is_empty();
        return Ok(html! {
            @if told { "it is never dry to handle in this room" } @else { "no time can be told" }
        });
    }
    let coats = figures.number(&of("coats"))? * figures.number(&of("faces"))?;
    left_alone(figures, at, coats > 1.0)
}
