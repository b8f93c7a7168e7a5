//! What a cross-section says.

use crate::quantity::{Length, Show, Units, Volume};
use crate::show::draw::figure::{digits_apart, significant};
use crate::show::draw::{Words, clean};

use super::{At, Level, Mark, Section, peak};

/// Where the target lies against the fill window.
pub(super) enum Standing {
    /// Between the limits, as far as they are known.
    Within,
    /// Under the pull-back limit.
    Short,
    /// Past the brim limit.
    Over,
}

pub(super) fn standing(section: &Section<'_>) -> Standing {
    let target = section.target.volume;
    match (&section.pull_back, &section.brim) {
        (_, Some(brim)) if target > brim.volume => Standing::Over,
        (Some(least), _) if target < least.volume => Standing::Short,
        _ => Standing::Within,
    }
}

/// The finding, in a sentence.
pub(super) fn title(section: &Section<'_>) -> String {
    let says = match standing(section) {
        Standing::Within => "fills the",
        Standing::Short => "is too little for the",
        Standing::Over => "is too much for the",
    };
    // Set apart from the sentence around it, so that a name written from the right keeps its order.
    format!(
        "\u{2068}{}\u{2069}: {}{} {says} {}",
        clean(section.piece),
        volume(section, section.target.volume),
        over(section),
        clean(section.blank)
    )
}

/// " on 0.5 mL of dry coat", for a coat that is not the first.
fn over(section: &Section<'_>) -> String {
    if section.under > Volume::ZERO {
        format!(" on {} of dry coat", volume(section, section.under))
    } else {
        String::new()
    }
}

/// The limits, and where the edge is steeper than at the cut; empty where none is known.
pub(super) fn under(section: &Section<'_>) -> String {
    let least = section
        .pull_back
        .as_ref()
        .map(|l| volume(section, l.volume));
    let most = section.brim.as_ref().map(|l| volume(section, l.volume));
    let limits = match (least, most) {
        (Some(least), Some(most)) => {
            format!("It pulls back from the edge under {least} and runs over past {most}.")
        }
        (Some(least), None) => format!("It pulls back from the edge under {least}."),
        (None, Some(most)) => format!("It runs over the edge past {most}."),
        (None, None) => String::new(),
    };
    let steepest = section.steepest.map(|angle| {
        format!(
            "Elsewhere the target's edge stands steeper than at this cut, at up to {:.0}°.",
            angle.deg()
        )
    });
    let said = [limits, steepest.unwrap_or_default()];
    said.join(" ").trim().to_owned()
}

/// Title and description for someone who can't see the picture.
pub(super) fn words(section: &Section<'_>) -> Words {
    let blank = format!(
        "Cross-section to scale of a blank {} across, {}{}, under its coating.",
        section.width.show(section.units),
        section.body_words(),
        section.rim_words()
    );
    let level = |(mark, level): (Mark, &Level)| {
        format!(
            "At the {}, {}, the coating stands {} high and meets the top at {} degrees at the right edge of this cut.",
            mark.name(),
            volume(section, level.volume),
            height(section, &level.surface),
            degrees(section, level).trim_end_matches('°'),
        )
    };
    let dry = |dry: &Vec<At>| {
        format!(
            "Once dry the target fill stands {} high.",
            height(section, dry)
        )
    };
    let mut sentences = vec![blank];
    sentences.extend(Some(under(section)).filter(|said| !said.is_empty()));
    sentences.extend(section.levels().into_iter().map(level));
    sentences.extend(section.dry.as_ref().map(dry));
    Words {
        title: format!("{}.", title(section)),
        description: sentences.join(" "),
    }
}

/// The two lines beside a surface: its name, and its numbers.
pub(super) fn label(section: &Section<'_>, mark: Mark, points: &[At]) -> [String; 2] {
    let high = format!("{} high", height(section, points));
    let volume_of = section
        .levels()
        .into_iter()
        .find(|(m, _)| *m == mark)
        .map(|(_, level)| level.volume);
    let numbers = volume_of.map_or_else(
        || high.clone(),
        |v| format!("{}, {high}", volume(section, v)),
    );
    [mark.name().to_owned(), numbers]
}

/// How far the target lies from either limit.
pub(super) fn spare(section: &Section<'_>) -> String {
    let target = section.target.volume;
    let shown = volume(section, target);
    let fine = decimals(shown.split(' ').next().unwrap_or_default());
    let apart = |level: &Level| {
        let gap = (in_unit(section.units, level.volume) - in_unit(section.units, target)).abs();
        // No finer than the fills themselves, unless that would read as nothing.
        let places = fine.min(decimals(&significant(gap, 2)));
        let mut figure = format!("{gap:.places$}");
        if !figure.contains(|c: char| ('1'..='9').contains(&c)) {
            figure = significant(gap, 1);
        }
        format!("{figure} {}", volume_unit(section.units))
    };
    match (standing(section), &section.pull_back, &section.brim) {
        (Standing::Within, Some(least), Some(most)) => {
            format!(
                "Room for error: {} too little, {} too much.",
                apart(least),
                apart(most)
            )
        }
        (Standing::Within, Some(least), None) => {
            format!("Room for error: {} too little.", apart(least))
        }
        (Standing::Within, None, Some(most)) => {
            format!("Room for error: {} too much.", apart(most))
        }
        (Standing::Within, None, None) => "The limits of this fill are not known.".to_owned(),
        (Standing::Short, Some(least), _) => format!("{} more would reach the edge.", apart(least)),
        (Standing::Over, _, Some(most)) => format!("The edge holds {} less.", apart(most)),
        (Standing::Short, None, _) | (Standing::Over, _, None) => String::new(),
    }
}

/// How many digits a figure has after its point.
fn decimals(figure: &str) -> usize {
    figure.split_once('.').map_or(0, |(_, after)| after.len())
}

/// A fill with as many digits as keep the fills of one picture apart.
pub(super) fn volume(section: &Section<'_>, volume: Volume) -> String {
    let all: Vec<f64> = section
        .levels()
        .iter()
        .map(|(_, l)| in_unit(section.units, l.volume))
        .collect();
    let figure = significant(in_unit(section.units, volume), digits_apart(&all));
    format!("{figure} {}", volume_unit(section.units))
}

/// A volume in the picture's unit.
pub(super) fn in_unit(units: Units, volume: Volume) -> f64 {
    match units {
        Units::Metric => volume.ml(),
        Units::Us => volume.us_fl_oz(),
    }
}

pub(super) const fn volume_unit(units: Units) -> &'static str {
    match units {
        Units::Metric => "mL",
        Units::Us => "fl oz",
    }
}

fn height(section: &Section<'_>, points: &[At]) -> String {
    let all: Vec<f64> = section.surfaces().iter().map(|(_, s)| peak(s)).collect();
    let high = Length::from_mm(peak(points));
    let digits = digits_apart(&all);
    match section.units {
        Units::Metric => format!("{} mm", significant(high.mm(), digits)),
        Units::Us => format!("{} in", significant(high.inch(), digits)),
    }
}

/// An edge angle in whole degrees, or with a decimal where two of them would read alike.
pub(super) fn degrees(section: &Section<'_>, level: &Level) -> String {
    let whole = |l: &Level| format!("{:.0}", l.edge_angle.deg());
    let read: Vec<String> = section.levels().iter().map(|(_, l)| whole(l)).collect();
    let alike = read.iter().enumerate().any(|(i, a)| read[..i].contains(a));
    if alike {
        format!("{:.1}°", level.edge_angle.deg())
    } else {
        format!("{}°", whole(level))
    }
}
