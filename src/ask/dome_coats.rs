//! A dome asked for by its dry height: how many coats, and how much each.

use serde::Serialize;

use super::number::{g, h, ml, mm};
use crate::coating::Coating;
use crate::consumption::{
    CoatsNeeded, Heights, MOST_COATS, coats_needed, each_coat, peak_for_dry_height,
};
use crate::quantity::{Density, Length, Mass, Share, Time, Volume};
use crate::stage::Stage;

/// How far each of several coats is filled.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Filled {
    /// At most up to the target.
    Target,
    /// Past the target, towards the brim.
    PastTarget,
}

/// How many coats, each filled up to the same surface.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Coats {
    /// So many.
    pub coats: u32,
    /// How far each is filled.
    pub filled: Filled,
    /// Wet height in the middle that each is filled up to.
    #[serde(rename = "surface_mm", serialize_with = "mm")]
    pub surface: Length,
}

/// Coats that are alike in depth, each on the dry ones before it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct ThinCoats {
    /// So many.
    pub coats: u32,
    /// Wet depth of each in the middle.
    #[serde(rename = "depth_mm", serialize_with = "mm")]
    pub depth: Length,
    /// Wet height in the middle at which the last one stands.
    #[serde(rename = "last_surface_mm", serialize_with = "mm")]
    pub last_surface: Length,
}

/// One coat of several.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct OneCoat {
    /// Wet depth of this coat in the middle.
    #[serde(rename = "depth_mm", serialize_with = "mm")]
    pub depth: Length,
    /// What goes on in it.
    #[serde(rename = "volume_ml", serialize_with = "ml")]
    pub volume: Volume,
    /// Its mass.
    #[serde(rename = "mass_g", serialize_with = "g")]
    pub mass: Mass,
}

/// What an asked dry height takes.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DryHeightAnswer {
    /// The dry height in the middle that was asked for.
    #[serde(rename = "asked_mm", serialize_with = "mm")]
    pub asked: Length,
    /// Wet height of all coats together: the dry one over the solids.
    #[serde(rename = "wet_in_all_mm", serialize_with = "mm")]
    pub wet_in_all: Length,
    /// The fewest coats that do; none where no number does on this edge.
    pub needed: Option<Coats>,
    /// One coat more, which fills the edge less; only where each goes past the target.
    pub one_more: Option<Coats>,
    /// Coats alike in depth, none deeper than is prudent; only where the
    /// fewest are deeper and the edge holds the last of these.
    pub thin: Option<ThinCoats>,
    /// A wall, or a dam of tape, this much higher than the edge is now holds it in
    /// one coat, filled to the target dome; none where one coat does without, or where it
    /// would be a casting.
    #[serde(rename = "one_coat_wall_mm", serialize_with = "mm")]
    pub one_coat_wall: Option<Length>,
    /// Each of the fewest coats, in order.
    pub each: Vec<OneCoat>,
    /// All of them together.
    #[serde(rename = "volume_in_all_ml", serialize_with = "ml")]
    pub volume: Option<Volume>,
    /// Their mass.
    #[serde(rename = "mass_in_all_g", serialize_with = "g")]
    pub mass: Option<Mass>,
    /// From the first coat until the last is dry to handle, by the label's
    /// times in the label's air; none where the label names no wait.
    #[serde(rename = "label_wait_h", serialize_with = "h")]
    pub label_wait: Option<Time>,
}

/// Deeper than this is a casting, and asked of a free edge a slip of unit.
pub(super) const SLIP: Length = Length::from_mm(10.0);

/// A wall this high, where that is a wall and no casting.
pub(super) fn wall(height: Length) -> Option<Length> {
    (Length::ZERO..=SLIP).contains(&height).then_some(height)
}

/// The fewest coats that dry to a height.
fn fewest(dry: Length, edge: Heights, solids: Share) -> Option<Coats> {
    let (coats, filled) = match coats_needed(dry, edge, solids) {
        CoatsNeeded::Coats(coats) => (coats, Filled::Target),
        CoatsNeeded::PastTarget(coats) => (coats, Filled::PastTarget),
        CoatsNeeded::BeyondBrim => return None,
    };
    Some(Coats {
        coats,
        filled,
        surface: peak_for_dry_height(dry, Length::ZERO, solids, coats),
    })
}

/// An asked dry height, with how its coats are reckoned.
#[derive(Debug, Clone, Copy)]
pub(super) struct DryHeight {
    pub asked: Length,
    edge: Heights,
    solids: Share,
    needed: Option<Coats>,
}

impl DryHeight {
    pub(super) fn new(asked: Length, edge: Heights, solids: Share) -> Self {
        Self {
            asked,
            edge,
            solids,
            needed: fewest(asked, edge, solids),
        }
    }

    /// Wet height of all coats together.
    ///
    /// ```text
    /// h / s
    /// ```
    pub(super) fn wet_in_all(&self) -> Length {
        self.asked / self.solids.fraction()
    }

    /// The wet surface of the first coat; of the one coat that would be, where none do.
    pub(super) fn surface(&self) -> Length {
        self.needed
            .map_or_else(|| self.wet_in_all(), |needed| needed.surface)
    }

    /// What all the coats take, over what the first does.
    pub(super) fn times_the_first(&self) -> f64 {
        let coats = self.needed.map_or(1, |needed| needed.coats);
        each_coat(self.solids, coats).sum()
    }

    pub(super) fn answer(
        &self,
        first: Option<Volume>,
        density: Density,
        coating: &Coating,
    ) -> DryHeightAnswer {
        let each: Vec<OneCoat> = match (self.needed, first) {
            (Some(needed), Some(first)) => each_coat(self.solids, needed.coats)
                .map(|share| OneCoat {
                    depth: needed.surface * share,
                    volume: first * share,
                    mass: first * share * density,
                })
                .collect(),
            _ => Vec::new(),
        };
        let volume = first
            .filter(|_| self.needed.is_some())
            .map(|first| first * self.times_the_first());
        DryHeightAnswer {
            asked: self.asked,
            wet_in_all: self.wet_in_all(),
            needed: self.needed,
            one_more: self.one_more(),
            thin: self.thin(coating),
            one_coat_wall: wall(self.wet_in_all() - self.edge.target)
                .filter(|_| self.needed.is_none_or(|needed| needed.coats > 1)),
            each,
            volume,
            mass: volume.map(|volume| volume * density),
            label_wait: self.needed.and_then(|it| wait(coating, it.coats)),
        }
    }

    /// One coat more than is needed, where that fills the edge less.
    fn one_more(&self) -> Option<Coats> {
        let needed = self
            .needed
            .filter(|needed| needed.filled == Filled::PastTarget)?;
        let coats = needed.coats + 1;
        // what keeps its volume is not spread over more coats
        let surface = peak_for_dry_height(self.asked, Length::ZERO, self.solids, coats);
        (surface < needed.surface).then_some(Coats {
            coats,
            surface,
            ..needed
        })
    }
}

impl DryHeight {
    /// ```text
    /// n = ceil(w / d)    d' = w / n    last surface = s d' (n - 1) + d'
    /// ```
    ///
    /// w `[m]` wet height of all coats together, d `[m]` a prudent coat, s `[1]` solids by volume.
    fn thin(&self, coating: &Coating) -> Option<ThinCoats> {
        let prudent = coating.prudent_coat()?;
        self.needed
            .filter(|needed| prudent.is_passed_by(needed.surface))?;
        let wet = self.wet_in_all();
        let coats = (1..=MOST_COATS).find(|&coats| {
            // a hair of slack, so that 3 mm is three coats of 1 mm
            wet / f64::from(coats) <= prudent.usual * (1.0 + 1e-9)
        })?;
        let depth = wet / f64::from(coats);
        let last_surface = depth * (1.0 + self.solids.fraction() * f64::from(coats - 1));
        (last_surface <= self.edge.brim).then_some(ThinCoats {
            coats,
            depth,
            last_surface,
        })
    }
}

/// Every coat but the last waits until it takes the next, the last until it can be handled.
fn wait(coating: &Coating, coats: u32) -> Option<Time> {
    let label = coating.label();
    let time = |stage| label.stage(stage).map(|known| known.time);
    let last = time(Stage::Handle)?;
    match coats - 1 {
        0 => Some(last),
        between => Some(time(Stage::Recoat)? * f64::from(between) + last),
    }
}
