//! What one blank holds, in words.

use super::ask_dome_lies;
use super::ask_dome_more;
use super::lines::{Lines, care, listed};
use super::outline;
use crate::ask::{By, DomeAnswer, Fill, Filled, Verdict};
use crate::quantity::show::significant;
use crate::quantity::{Area, Length, Share, Show, Units, Volume};

/// The whole answer, for one screen.
#[must_use]
pub fn dome_text(answer: &DomeAnswer, units: Units) -> String {
    let mut lines = Lines::with_headings_of(9);
    lines.plain(&title(answer, units));
    lines.gap();
    if answer.verdict != Verdict::Holds {
        lines.line("Beware", &verdict(answer, units));
        lines.list("Instead", instead(answer, units));
    }
    lines.list(
        "Mind",
        answer.warnings.iter().map(|warning| warning.words(units)),
    );
    lines.list("Coats", ask_dome_more::coats(answer, units));
    lines.line("Pour", &pour(answer, units));
    lines.list("Piece", ask_dome_more::piece(answer, units));
    if let Some(scale) = scale(answer, units) {
        lines.line("Scale", &scale);
    }
    if let Some(total) = answer.total {
        lines.line(
            "Total",
            &format!(
                "{} or {} {}{}, before waste and what stays in bottle and tool",
                volume(total.volume, units),
                total.mass.show(units),
                ask_dome_more::all_of_them(answer),
                pieces(total.count)
            ),
        );
    }
    lines.line("Height", &height(answer, units));
    lines.line("Window", &window(answer, units));
    lines.list("Level", ask_dome_lies::level(answer, units));
    lines.list("Thin", ask_dome_lies::thin(answer, units));
    lines.line("Surface", &surface(answer, units));
    lines.line("Rests on", &figures(answer, units));
    let eased = answer
        .inner_corners
        .map(|radius| inner_corners(radius, units));
    lines.list("Note", answer.remarks.iter().cloned().chain(eased));
    care(&mut lines, &answer.cautions);
    lines.into_text()
}

/// The blank, the coating and how it was asked, in one line.
fn title(answer: &DomeAnswer, units: Units) -> String {
    let how = match answer.by {
        By::Target => {
            let target = answer.window.target.edge_angle.show(units);
            format!("filled to its target edge angle, {target}")
        }
        By::EdgeAngle(angle) => format!("filled to an edge angle of {}", angle.show(units)),
        By::Peak(peak) => format!("{} high when wet", peak.show(units)),
        By::DryHeight(dry) => format!("{} high once dry", dry.show(units)),
        By::Volume(asked) => format!("{} on a piece", volume(asked, units)),
        By::Mass(mass) => format!("{} on a piece", mass.show(units)),
    };
    let blank = outline::described(&answer.blank, units);
    format!("{blank}, {}, {how}", answer.coating)
}

fn pieces(count: u32) -> String {
    if count == 1 {
        "1 piece".to_owned()
    } else {
        format!("{count} pieces")
    }
}

/// A volume; syringes are marked in millilitres everywhere, so they stand beside ounces.
pub(super) fn volume(volume: Volume, units: Units) -> String {
    match units {
        Units::Metric => volume.show(units),
        Units::Us => format!("{} ({})", volume.show(units), volume.show(Units::Metric)),
    }
}

/// What is wrong with the fill, in one sentence; that it holds, if nothing is.
#[must_use]
pub fn verdict(answer: &DomeAnswer, units: Units) -> String {
    let asked = match (answer.by, answer.volume) {
        (By::Peak(peak), _) => format!("a coat {} high", peak.show(units)),
        (By::DryHeight(dry), _) => format!("a coat {} high once dry", dry.show(units)),
        (By::Mass(mass), _) => mass.show(units),
        (By::EdgeAngle(angle), _) => format!("an edge angle of {}", angle.show(units)),
        (_, Some(asked)) => volume(asked, units),
        (By::Target | By::Volume(_), None) => "this".to_owned(),
    };
    let limit = |fill: Fill| {
        format!(
            "{} or {}, {} high in the middle and {} on average",
            volume(fill.volume, units),
            fill.mass.show(units),
            fill.peak.show(units),
            fill.mean_height.show(units)
        )
    };
    match answer.verdict {
        Verdict::Holds => format!("{asked} stays on the blank"),
        Verdict::RunsOver => format!(
            "{asked} runs over: the most this edge holds is {}",
            limit(answer.window.brim)
        ),
        Verdict::BelowRim => below_rim(asked, answer, units),
        Verdict::PullsBack => format!(
            "{asked} pulls back from the edge: the least that covers is {}",
            limit(answer.window.pull_back)
        ),
    }
}

/// That it makes no dome inside its wall.
fn below_rim(asked: String, answer: &DomeAnswer, units: Units) -> String {
    let asked = match (answer.by, answer.mean_height) {
        (By::DryHeight(_), Some(wet)) => format!("a wet coat {} deep", wet.show(units)),
        _ => asked,
    };
    answer.below_rim.map_or_else(String::new, |rim| {
        super::words::below_rim(&asked, rim.below, rim.sag, units)
    })
}

/// What was taken of corners that point inward.
fn inner_corners(radius: Length, units: Units) -> String {
    format!(
        "inner corners taken as rounded to {}: a sharp one would run over at any fill",
        radius.show(units)
    )
}

/// What would make a fill possible that does not hold.
fn instead(answer: &DomeAnswer, units: Units) -> Vec<String> {
    let target = answer.window.target;
    let pour = format!(
        "pour the target fill: {} or {}, {} high",
        volume(target.volume, units),
        target.mass.show(units),
        target.peak.show(units)
    );
    let Some(way) = answer.way_out else {
        let level = answer.rim.filter(|_| answer.verdict == Verdict::BelowRim);
        let level = level.map(|rim| format!("or fill level with the rim: {}", volume(rim, units)));
        return std::iter::once(pour).chain(level).collect();
    };
    let mut ways = vec![pour];
    if let Some(wall) = way.wall {
        ways.push(format!(
            "or raise the edge by {}: a wall, a bezel or a dam of tape, filled to the same dome",
            wall.show(units)
        ));
    }
    match way.coats.zip(way.filled) {
        Some((coats, filled)) => ways.push(format!(
            "or {coats} coats, each dry before the next and flooded {}: they dry to as much",
            match filled {
                Filled::Target => "to the target height",
                Filled::PastTarget => "past the target towards the brim",
            }
        )),
        None if keeps_its_volume(answer) => ways.push(
            "more coats do not help: this coating keeps its volume, so the edge is full once".to_owned(),
        ),
        None => ways.push(format!(
            "coats do not build it up so far: however many, they dry to less than the {} that the edge holds",
            answer.window.brim.peak.show(units)
        )),
    }
    ways
}

fn pour(answer: &DomeAnswer, units: Units) -> String {
    match (answer.volume, answer.mass) {
        (Some(amount), Some(mass)) => {
            let what = ask_dome_more::one_pour(answer);
            format!("{} or {} {what}", volume(amount, units), mass.show(units))
        }
        _ => "no amount: no edge holds a coat this high".to_owned(),
    }
}

/// What ten pieces gain, so that a kitchen scale can check the pour.
fn scale(answer: &DomeAnswer, units: Units) -> Option<String> {
    let face = ask_dome_more::on_one_face(answer);
    let wet = format!("{}{face}", answer.ten_gain?.show(units));
    let coats = ask_dome_more::number_of_coats(answer);
    Some(match answer.ten_gain_dry {
        Some(dry) if coats > 1 => format!(
            "ten pieces gain {wet} in the first coat, and about {} once all {coats} are dry",
            dry.show(units)
        ),
        Some(dry) if !keeps_its_volume(answer) => format!(
            "ten pieces gain {wet} freshly poured, and about {} once dry",
            dry.show(units)
        ),
        _ => format!("ten pieces gain {wet}"),
    })
}

/// Whether nothing leaves as it hardens.
fn keeps_its_volume(answer: &DomeAnswer) -> bool {
    answer
        .solids
        .is_some_and(|solids| solids >= Share::from_fraction(1.0))
}

fn height(answer: &DomeAnswer, units: Units) -> String {
    let heights = |peak: Option<Length>, mean: Option<Length>| {
        let peak = peak.map(|peak| format!("{} at the middle", peak.show(units)));
        let mean = mean.map(|mean| format!("{} on average", mean.show(units)));
        let told: Vec<String> = peak.into_iter().chain(mean).collect();
        told.join(", ")
    };
    let wet = heights(answer.peak, answer.mean_height);
    match answer.dry {
        Some(dry) if !keeps_its_volume(answer) => format!(
            "{wet}; dries to about {}",
            heights(dry.peak, Some(dry.mean_height))
        ),
        _ => wet,
    }
}

fn window(answer: &DomeAnswer, units: Units) -> String {
    let at = |fill: Fill| {
        format!(
            "{} ({})",
            volume(fill.volume, units),
            fill.edge_angle.show(units)
        )
    };
    let window = answer.window;
    let share = answer.share_of_brim.map_or_else(String::new, |share| {
        format!("; this is {} % of the most it holds", whole(share))
    });
    let least = match answer.rim {
        Some(rim) => format!("level with the rim at {}", volume(rim, units)),
        None => format!("pulls back under {}", at(window.pull_back)),
    };
    format!(
        "{least}, target {}, runs over past {}{share}",
        at(window.target),
        at(window.brim)
    )
}

pub(super) fn whole(share: Share) -> String {
    format!("{:.0}", share.percent())
}

/// The dome's surface, told apart from the flat top under it, and where it is steepest.
fn surface(answer: &DomeAnswer, units: Units) -> String {
    let (Some(surface), Some(angle)) = (answer.surface_area, answer.edge_angle) else {
        return format!("flat, over a top of {}", answer.outline_area.show(units));
    };
    let (one, unit) = match units {
        Units::Metric if surface < Area::from_cm2(10.0) => (Area::from_mm2(1.0), "mm²"),
        Units::Metric => (Area::from_cm2(1.0), "cm²"),
        Units::Us => (Area::from_mm2(25.4 * 25.4), "in²"),
    };
    let shown = |area: Area| significant(area / one, 3);
    format!(
        "{} {unit} of dome{} over a flat top of {} {unit}; it is steepest at the edge, {}",
        shown(surface),
        // on a rounded edge the dome ends before the outline does
        if answer.blank.edge() > Length::ZERO {
            " within its own edge"
        } else {
            ""
        },
        shown(answer.outline_area),
        angle.show(units)
    )
}

/// The coating's figures, grouped by where they come from.
fn figures(answer: &DomeAnswer, units: Units) -> String {
    let window = answer.window;
    let shown = |name: &str| {
        Some(match name {
            "surface_tension" => format!("surface tension {}", answer.surface_tension.show(units)),
            "density" => format!("density {}", answer.density.show(units)),
            "solids" => format!("solids {}", answer.solids?.show(units)),
            "pull_back_angle" => format!("pull-back {}", window.pull_back.edge_angle.show(units)),
            "target_angle" => format!("target {}", window.target.edge_angle.show(units)),
            "brim_angle" => format!("brim {}", window.brim.edge_angle.show(units)),
            _ => return None,
        })
    };
    let mut groups: Vec<(&str, Vec<String>)> = Vec::new();
    for figure in &answer.figures {
        let Some(words) = shown(figure.figure) else {
            continue;
        };
        match groups
            .iter_mut()
            .find(|(source, _)| *source == figure.source)
        {
            Some((_, group)) => group.push(words),
            None => groups.push((&figure.source, vec![words])),
        }
    }
    let groups: Vec<String> = groups
        .iter()
        .map(|(source, group)| format!("{} ({source})", listed(group)))
        .collect();
    format!(
        "{}; your bottle's own figures come first",
        groups.join("; ")
    )
}
