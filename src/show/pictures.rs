//! The pictures that go with a plan.

use super::chart::{self, At, Level, Rim, Section};
use super::draw::{DrawError, Picture};
use super::outline;
use crate::geometry::Blank;
use crate::plan::{Profile, SectionPlan};
use crate::quantity::{Length, Units};

/// How thick a blank is drawn whose thickness is not said.
const DRAWN: Length = Length::from_mm(3.0);

/// A piece cut through.
///
/// # Errors
/// Those of [`chart::section`].
pub fn section(section: &SectionPlan, units: Units) -> Result<Picture, DrawError> {
    let blank = outline::name(section.top.outline(), units);
    chart::section(&Section {
        piece: &section.piece,
        blank: &blank,
        width: section.width,
        thickness: section.thickness.unwrap_or(DRAWN),
        rim: rim(&section.top),
        target: level(&section.target),
        pull_back: section.pull_back.as_ref().map(level),
        brim: Some(level(&section.brim)),
        dry: section.dry.as_deref().map(points),
        units,
    })
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

fn level(profile: &Profile) -> Level {
    Level {
        volume: profile.dome.volume,
        surface: points(&profile.surface),
        edge_angle: profile.dome.edge_angle,
    }
}

fn points(surface: &[(Length, Length)]) -> Vec<At> {
    surface
        .iter()
        .map(|&(across, up)| At { across, up })
        .collect()
}
