//! How a fill lies: on a shelf out of level, and toward its corners, in words.

use super::ask_dome::whole;
use super::words;
use crate::ask::{CORNER_PLACE, DomeAnswer, Verdict};
use crate::geometry::Form;
use crate::quantity::show::significant;
use crate::quantity::{Angle, Length, Share, Show, Units};

/// How level the shelf must be.
pub(super) fn level(answer: &DomeAnswer, units: Units) -> Vec<String> {
    let level = answer.level;
    if answer.verdict != Verdict::Holds || level.even.is_none() {
        return Vec::new();
    }
    let low = match level.runs_over {
        Some(tilt) => format!(
            "the low side runs over past {}, the worst way down",
            fall(tilt, units)
        ),
        None => "no tilt up to 30° makes it run over".to_owned(),
    };
    let high = level.draws_back.map(|tilt| {
        format!(
            "the high side draws back from the edge before that, past {}",
            fall(tilt, units)
        )
    });
    let even = level.even.map(|tilt| {
        format!(
            "the two halves are even to a tenth up to {}",
            fall(tilt, units)
        )
    });
    [Some(low), high, even].into_iter().flatten().collect()
}

/// A tilt as the fall over a length of shelf, and as an angle.
fn fall(tilt: Angle, units: Units) -> String {
    let degrees = significant(tilt.deg(), 2);
    format!("{} ({degrees}°)", words::fall(tilt, units))
}

/// Where the coat stays thin, and what would mend it.
pub(super) fn thin(answer: &DomeAnswer, units: Units) -> Vec<String> {
    let mut said = Vec::new();
    if let Some(share) = answer.corner_height_share {
        said.push(corner(answer, share, units));
    }
    if let Some(reach) = answer.thin.reach {
        said.push(format!(
            "for {} inward from the corner it is under half its peak",
            reach.show(units)
        ));
    }
    let share = answer.thin.share.filter(|share| share.percent() >= 0.5);
    if let Some(share) = share {
        let mend = answer.thin.mending.map_or_else(String::new, |radius| {
            format!(
                "; corners rounded to {} would mend that",
                radius.show(units)
            )
        });
        said.push(format!(
            "{} % of the edge stands under the pull-back angle and may draw back{mend}",
            whole(share)
        ));
    }
    said
}

/// Where a corner is looked at; the figure is metric, so that stands beside inches.
fn place(units: Units) -> String {
    match units {
        Units::Metric => CORNER_PLACE.show(units),
        Units::Us => format!(
            "{} ({})",
            CORNER_PLACE.show(units),
            CORNER_PLACE.show(Units::Metric)
        ),
    }
}

fn corner(answer: &DomeAnswer, share: Share, units: Units) -> String {
    let rounding = match *answer.blank.outline().form() {
        Form::Rectangle { corner, .. } => corner,
        _ => Length::ZERO,
    };
    format!(
        "{} inward from both sides of a {} corner the coat is {} % of its peak",
        place(units),
        if rounding == Length::ZERO {
            "sharp"
        } else {
            "rounded"
        },
        whole(share)
    )
}
