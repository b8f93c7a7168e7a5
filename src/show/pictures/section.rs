//! A piece cut through.

use crate::geometry::{Blank, Form};
use crate::plan::{Plan, Profile, SectionPlan};
use crate::quantity::{Angle, Length};
use crate::show::chart::{self, At, Body, Care, Level, Rim, Section};
use crate::show::draw::{DrawError, Picture};
use crate::show::outline;

/// A piece cut through.
///
/// # Errors
/// Those of [`chart::section`].
pub fn section(section: &SectionPlan, plan: &Plan) -> Result<Picture, DrawError> {
    let units = plan.header.units;
    let blank = outline::name(section.top.outline(), units);
    chart::section(&shown(section, plan, &blank))
}

/// Its fill window alone, small.
///
/// # Errors
/// Those of [`chart::section`].
pub fn window(section: &SectionPlan, plan: &Plan) -> Result<Picture, DrawError> {
    let blank = outline::name(section.top.outline(), plan.header.units);
    chart::window(&shown(section, plan, &blank))
}

fn shown<'p>(section: &'p SectionPlan, plan: &Plan, blank: &'p str) -> Section<'p> {
    Section {
        piece: &section.piece,
        blank,
        width: section.width,
        gaps: section.gaps.clone(),
        thickness: section.thickness,
        body: match section.porous {
            Some(true) => Body::Porous,
            Some(false) => Body::Dense,
            None => Body::Unsaid,
        },
        rim: rim(&section.top),
        under: section.under,
        target: level(section, &section.target),
        pull_back: section
            .pull_back
            .as_ref()
            .map(|profile| level(section, profile)),
        brim: Some(level(section, &section.brim)),
        steepest: steeper(&section.top, &section.target),
        dry: section.dry.as_deref().map(points),
        care: Care::of_coating(&plan.cautions, &section.coating),
        units: plan.header.units,
    }
}

fn rim(top: &Blank) -> Rim {
    if top.wall() > Length::ZERO {
        Rim::Wall(top.wall())
    } else if top.edge() > Length::ZERO {
        Rim::Soft(top.edge())
    } else {
        Rim::Sharp
    }
}

/// The angle at the right-hand edge of the cut: the largest of the whole edge on
/// shapes that stand steepest where they are cut; on others, read off the cut.
fn edge_angle(top: &Blank, profile: &Profile) -> Angle {
    let outline = top.outline();
    let plain = matches!(
        outline.form(),
        Form::Round { .. } | Form::Rectangle { .. } | Form::Oval { .. }
    );
    match profile.surface.as_slice() {
        [.., (x1, z1), (x2, z2)] if !plain || !outline.holes().is_empty() => {
            Angle::from_rad((*z1 - *z2).mm().atan2((*x2 - *x1).mm()))
        }
        _ => profile.dome.edge_angle,
    }
}

/// The largest angle of the edge, where it reads larger than the one at the cut.
fn steeper(top: &Blank, profile: &Profile) -> Option<Angle> {
    let (whole, at_cut) = (profile.dome.edge_angle, edge_angle(top, profile));
    (whole.deg().round() > at_cut.deg().round()).then_some(whole)
}

/// A fill by what is poured for it.
fn level(section: &SectionPlan, profile: &Profile) -> Level {
    Level {
        volume: profile.dome.volume - section.under,
        surface: points(&profile.surface),
        edge_angle: edge_angle(&section.top, profile),
    }
}

fn points(surface: &[(Length, Length)]) -> Vec<At> {
    surface
        .iter()
        .map(|&(across, up)| At { across, up })
        .collect()
}
