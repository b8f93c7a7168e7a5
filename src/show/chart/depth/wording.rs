//! What a map of depths says.

use crate::quantity::{Length, Share, Units};
use crate::show::draw::figure::{digits_apart, significant};
use crate::show::draw::{Words, clean};

use super::{Deeper, Depth, Drawn};

/// The finding, in a sentence.
pub(super) fn title(depth: &Depth<'_>) -> String {
    let half = percent(depth.half_as_deep);
    // Set apart from the sentence around it, so that a name written from the right keeps its order.
    format!(
        "\u{2068}{}\u{2069}: the coat is {} deep, and at least half as deep on {half} of its top",
        clean(depth.piece),
        figure(depth, depth.peak)
    )
}

/// What is drawn, in a sentence or two.
pub(super) fn under(depth: &Depth<'_>) -> String {
    let fill = match depth.drawn {
        Drawn::Asked => "The planned fill while wet, seen from above.",
        Drawn::PullsBack => {
            "The planned fill while wet, seen from above. So little pulls back from the edge; it is drawn as if it were held there."
        }
        Drawn::Target => {
            "The target fill while wet, seen from above, for what was asked runs over."
        }
    };
    let counts = if depth.wall > Length::ZERO {
        " Depths count from the floor inside the wall."
    } else {
        ""
    };
    format!("{fill}{counts}")
}

/// The title and a description for someone who can't see the picture.
pub(super) fn words(depth: &Depth<'_>) -> Words {
    let mut sentences = vec![format!(
        "Map to scale of the wet coat on a blank, {}, seen from above: darker where it is deeper.",
        depth.blank
    )];
    sentences.push(format!(
        "It is deepest, {}, where a dot marks it.",
        figure(depth, depth.peak)
    ));
    let lines: Vec<String> = depth.lines().map(|band| figure(depth, band.than)).collect();
    if !lines.is_empty() {
        sentences.push(format!(
            "Lines of equal depth stand at {}.",
            lines.join(", ")
        ));
    }
    sentences.extend(thin_corner(depth).map(|words| format!("{words}.")));
    sentences.extend(thin_edge(depth).map(|words| format!("{words}.")));
    Words {
        title: format!("{}.", title(depth)),
        description: sentences.join(" "),
    }
}

/// What stands beside a line of equal depth.
pub(super) fn line(depth: &Depth<'_>, band: &Deeper<'_>) -> String {
    let said = figure(depth, band.than);
    let half = (band.than / depth.peak - 0.5).abs() < 1e-9;
    if half {
        format!("{said}, half the peak")
    } else {
        said
    }
}

/// What stands beside the deepest place.
pub(super) fn deepest(depth: &Depth<'_>) -> String {
    format!("{}, the deepest", figure(depth, depth.peak))
}

/// What stands beside a thin corner; `None` where there is none.
pub(super) fn thin_corner(depth: &Depth<'_>) -> Option<String> {
    let reach = |corner: &crate::geometry::ThinCorner| corner.reach.mm();
    let furthest = depth.thin.iter().map(reach).reduce(f64::max)?;
    let least = depth.thin.iter().map(reach).reduce(f64::min)?;
    let upto = if furthest > 1.02 * least {
        "up to "
    } else {
        ""
    };
    let long = in_unit(depth.units, Length::from_mm(furthest));
    let (corner, tip) = match depth.thin {
        [_] => ("The corner", "its tip"),
        _ => ("Corners", "their tips"),
    };
    Some(format!(
        "{corner} stay{} under half the peak for {upto}{} {} inward from {tip}",
        if depth.thin.len() == 1 { "s" } else { "" },
        significant(long, 2),
        unit(depth.units)
    ))
}

/// What stands beside an edge that is flat enough to pull back; `None` where none is.
pub(super) fn thin_edge(depth: &Depth<'_>) -> Option<String> {
    (depth.thin_share.percent() >= 0.5 && !depth.thin_edge.is_empty()).then(|| {
        format!(
            "{} of the edge stands under {}°, the angle at which it pulls back",
            percent(depth.thin_share),
            significant(depth.pull_back.deg(), 2)
        )
    })
}

/// A share in whole per cent, or closer where that would tell of all or nothing.
fn percent(share: Share) -> String {
    let value = share.percent();
    let whole = format!("{value:.0}");
    let all_or_none = whole == "100" || whole == "0";
    if all_or_none && (value - value.round()).abs() > 1e-6 {
        let text = format!("{value:.1}");
        match text.as_str() {
            "100.0" => "nearly 100 %".to_owned(),
            "0.0" => "hardly any".to_owned(),
            _ => format!("{text} %"),
        }
    } else {
        format!("{whole} %")
    }
}

/// A depth with as many digits as keep the depths of one picture apart.
fn figure(depth: &Depth<'_>, of: Length) -> String {
    let mut all: Vec<f64> = depth
        .lines()
        .map(|band| in_unit(depth.units, band.than))
        .collect();
    all.push(in_unit(depth.units, depth.peak));
    let digits = digits_apart(&all);
    format!(
        "{} {}",
        significant(in_unit(depth.units, of), digits),
        unit(depth.units)
    )
}

pub(super) const fn in_unit(units: Units, length: Length) -> f64 {
    match units {
        Units::Metric => length.mm(),
        Units::Us => length.inch(),
    }
}

pub(super) const fn unit(units: Units) -> &'static str {
    match units {
        Units::Metric => "mm",
        Units::Us => "in",
    }
}

impl<'a> Depth<'a> {
    /// The bands whose lines are drawn, from the least depth.
    pub(super) fn lines(&self) -> impl Iterator<Item = &Deeper<'a>> {
        let drawn = self.bands.iter().filter(|band| band.labelled);
        drawn.filter(|band| !band.rings.is_empty())
    }
}
