//! What the signs of a calendar mean.

use super::scale::Form;
use super::{CalendarBars, row, trays, waits};
use crate::plan::Task;
use crate::show::chart::frame::{PAD, WIDTH};
use crate::show::draw::font::{self, Weight, width};
use crate::show::draw::palette::SLATE;
use crate::show::draw::place::Space;
use crate::show::draw::{Canvas, DrawError, Point, Text};

/// From one row of signs to the next, `[px]`.
const PITCH: f64 = 22.0;
/// How wide a sign is, and from it to its words, `[px]`.
const SIGN: f64 = 30.0;
const GAP: f64 = 7.0;
/// From words to the next sign, `[px]`.
const APART: f64 = 20.0;

#[derive(Debug, Clone, Copy)]
enum Sign {
    Hours,
    Asleep,
    Work,
    LookOver,
    Bubbles,
    Wait(usize),
    Trays,
    Begun,
    Due,
}

/// The signs with their words, in rows.
pub(super) struct Key {
    form: Form,
    signs: Vec<(Sign, String, Point)>,
    bottom: f64,
}

impl Key {
    pub(super) fn lay_out(
        bars: &CalendarBars<'_>,
        form: Form,
        top: f64,
    ) -> Result<Self, DrawError> {
        let mut at = Point::new(PAD, top + 8.0);
        let mut signs = Vec::new();
        for (sign, words) in of(bars, form) {
            let wide = SIGN + GAP + width(&words, font::SMALL, Weight::Regular)?;
            if at.x > PAD && at.x + wide > WIDTH - PAD {
                at = Point::new(PAD, at.y + PITCH);
            }
            signs.push((sign, words, at));
            at.x += wide + APART;
        }
        Ok(Self {
            form,
            signs,
            bottom: at.y + PITCH / 2.0,
        })
    }

    pub(super) const fn bottom(&self) -> f64 {
        self.bottom
    }

    pub(super) fn draw(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        for (sign, words, at) in &self.signs {
            self.draw_sign(canvas, *sign, *at)?;
            let place = Point::new(at.x + SIGN + GAP, at.y + 4.5);
            canvas.text(words, place, Text::plain(font::SMALL, SLATE))?;
        }
        Ok(())
    }

    fn draw_sign(&self, canvas: &Canvas<'_>, sign: Sign, at: Point) -> Result<(), DrawError> {
        let space = Space {
            left: at.x,
            top: at.y - 7.0,
            right: at.x + SIGN,
            bottom: at.y + 7.0,
        };
        let middle = Point::new(at.x + SIGN / 2.0, at.y);
        let upright = [space.top, space.bottom].map(|y| Point::new(middle.x, y));
        match sign {
            Sign::Hours => row::draw_open(canvas, space),
            Sign::Asleep => row::ASLEEP.fill(canvas, space),
            Sign::Work => row::draw_bar(canvas, space, false),
            Sign::LookOver => row::draw_bar(canvas, space, true),
            Sign::Bubbles => row::draw_ring(canvas, middle, self.form),
            Sign::Wait(lane) => waits::line(canvas, (at.x, at.x + SIGN), (at.y, None), lane),
            Sign::Trays => {
                let low = Space {
                    top: at.y - 4.0,
                    bottom: at.y + 4.0,
                    ..space
                };
                trays::draw(canvas, &[low])
            }
            Sign::Begun => canvas.line(&upright, row::BEGUN),
            // high enough for two dashes
            Sign::Due => canvas.line(
                &[-10.5, 10.5].map(|off| Point::new(middle.x, at.y + off)),
                row::DUE,
            ),
        }
    }
}

/// The signs that a calendar has, with their words.
fn of(bars: &CalendarBars<'_>, form: Form) -> Vec<(Sign, String)> {
    let calendar = bars.calendar;
    let is_look = |task| matches!(task, Task::Look { .. });
    let mut signs = vec![
        (Sign::Hours, "your hours".to_owned()),
        (Sign::Asleep, "asleep".to_owned()),
        (Sign::Work, "work".to_owned()),
    ];
    let mut add = |there: bool, sign, words: &str| {
        if there {
            signs.push((sign, words.to_owned()));
        }
    };
    let sittings = &calendar.sittings;
    let looks_over = sittings.iter().any(|one| is_look(one.task));
    add(looks_over, Sign::LookOver, "look pieces over");
    let bubbles = sittings.iter().any(|one| !one.looks.is_empty());
    add(bubbles, Sign::Bubbles, "look for bubbles");
    add(bars.days.trays.is_some(), Sign::Trays, "trays in use");
    add(true, Sign::Begun, "start, ready");
    add(calendar.by.is_some(), Sign::Due, "due");
    if form == Form::Labelled {
        for lane in waits::lanes(calendar.waves) {
            let words = match calendar.waves {
                1 => "pieces wait".to_owned(),
                _ => format!("wave {} waits", lane + 1),
            };
            add(true, Sign::Wait(lane), &words);
        }
    }
    signs
}
