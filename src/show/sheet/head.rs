//! The head of the sheet: what, when, where.

use maud::html;

use super::figures::{Figures, Part};

pub(super) fn write(figures: &Figures) -> Part {
    Ok(html! {
        header {
            div.title {
                h1 { (figures.name("/name")?) }
                p.batch {
                    span.small { "Batch " }
                    strong { (figures.name("/batch_code")?) }
                }
            }
            p { (when(figures)?) }
            p.small {
                (room(figures)?)
                " What to buy is " (figures.percent("/sure_percent")?) " sure to be enough. Batch: first letters of the name"
                @if figures.has("/calendar/start") {
                    ", then year, month and day begun."
                } @else {
                    "; add year, month and day begun."
                }
            }
        }
    })
}

fn when(figures: &Figures) -> Part {
    if !figures.has("/calendar") {
        return Ok(html! {
            "No dates are asked for: write them in as the work goes on. It takes "
            strong { (figures.words("/undated/takes")?) }
            " from the first step until all is ready, begun as a day's work begins, by the day of the week, if all takes as long as is likely; "
            (figures.words("/undated/work")?) " of work"
            @if figures.has("/trays/used") {
                "; " (figures.count("/trays/used")?)
                @if figures.number("/trays/used")? > 1.0 { " trays" } @else { " tray" }
                " in use at the busiest"
            }
            "."
        });
    }
    if figures.has("/calendar/why_none") {
        return Ok(html! {
            @if figures.has("/ready_by") { "Wanted by " (figures.date("/ready_by")?) "; " }
            @else { "As it stands there is " }
            strong { (figures.words("/calendar/why_none")?) "." }
        });
    }
    if figures.is("/calendar/too_late") {
        return Ok(html! {
            "Wanted by " (figures.date("/ready_by")?) ". "
            strong { "Too late: begun on " (figures.moment("/calendar/start")?)
                ", the last piece is ready " (figures.moment("/calendar/ready")?) "." }
        });
    }
    Ok(html! {
        @if figures.has("/ready_by") {
            "Ready by " strong { (figures.date("/ready_by")?) } ". "
        }
        "Begin on " strong { (figures.moment("/calendar/start")?) }
        ": the last piece is ready " (figures.moment("/calendar/ready")?)
        @if figures.has("/calendar/chance_ready") {
            ", in time " (figures.chance("/calendar/chance_ready")?) " of the time"
        }
        "."
        @if figures.has("/ready_by") && !figures.has("/calendar/latest_start") {
            " No start is " (figures.percent("/sure_percent")?) " sure to be in time."
        }
    })
}

fn room(figures: &Figures) -> Part {
    Ok(html! {
        "Planned for a room "
        @if figures.has("/room/record") {
            "as " (figures.name("/room/record")?) " has it."
        } @else {
            "at " (figures.temperature("/room/temperature_c")?)
            " and " (figures.percent("/room/humidity_percent")?)
            @if figures.has("/room/night_temperature_c") {
                ", by night " (figures.temperature("/room/night_temperature_c")?)
                " and " (figures.percent("/room/night_humidity_percent")?)
            }
            "."
        }
        @if figures.has("/room/shut_in_l") {
            " Coats dry shut in, in " (figures.litres("/room/shut_in_l")?)
            " of air with " (figures.count("/room/shut_in_pieces")?) " wet pieces."
        }
    })
}
