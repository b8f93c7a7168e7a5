//! Holes that stay open: whether the coating may close them, and how much of
//! the blank is left beside them.

use crate::geometry::Outline;
use crate::quantity::{Length, Show, Units};

/// What to mind about the holes of a blank.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HoleTrouble {
    /// So narrow that the coating may bridge them as it is poured.
    MayClose {
        /// How many.
        count: usize,
        /// The diameter of the narrowest.
        narrowest: Length,
        /// Holes under this diameter may.
        under: Length,
    },
    /// Nearer to the edge than their own diameter (common practice, no source).
    NearEdge {
        /// How many.
        count: usize,
        /// The diameter of the one that is nearest for its size.
        diameter: Length,
        /// What is left between that one's rim and the edge.
        left: Length,
    },
}

/// A hole's share of its diameter by which it may be nearer and still count as
/// that far: the rounding of what a person reads off a rule.
const SLACK: f64 = 1e-6;

/// What to mind about an outline's holes. `capillary_length` `[m]` is that of
/// the coating it is flooded with, none where it is not flooded.
///
/// Whether a hole is bridged is our own reasoning: the column of coating over a
/// bridged hole hangs on its rim,
///
/// ```text
/// ρ g h π d²/4 < γ π d, so d < 4 c²/h
/// ```
///
/// with γ `[N/m]` surface tension, ρ `[kg/m3]` density, c `[m]` the capillary
/// length, h `[m]` the coat's depth and d `[m]` the hole's diameter; a coat
/// that an edge holds is at most about 2 c deep, so holes under 2 c are told.
#[must_use]
pub fn hole_troubles(outline: &Outline, capillary_length: Option<Length>) -> Vec<HoleTrouble> {
    let narrow = capillary_length.and_then(|c| may_close(outline, c * 2.0));
    narrow.into_iter().chain(near_edge(outline)).collect()
}

fn may_close(outline: &Outline, under: Length) -> Option<HoleTrouble> {
    let narrow = outline.holes().iter().map(|hole| hole.diameter);
    let narrow = narrow.filter(|&diameter| diameter < under);
    let least = |a: Length, b: Length| if b < a { b } else { a };
    Some(HoleTrouble::MayClose {
        count: narrow.clone().count(),
        narrowest: narrow.reduce(least)?,
        under,
    })
}

fn near_edge(outline: &Outline) -> Option<HoleTrouble> {
    let all = outline.holes().iter();
    let left = all.map(|hole| (hole.diameter, outline.beside(hole)));
    let near = left.filter(|&(diameter, left)| left < diameter * (1.0 - SLACK));
    let nearer = |a: (Length, Length), b: (Length, Length)| {
        if b.1 / b.0 < a.1 / a.0 { b } else { a }
    };
    let count = near.clone().count();
    let (diameter, left) = near.reduce(nearer)?;
    Some(HoleTrouble::NearEdge {
        count,
        diameter,
        left,
    })
}

impl HoleTrouble {
    /// A short fixed name, for machine-readable output.
    #[must_use]
    pub const fn code(&self) -> &'static str {
        match self {
            Self::MayClose { .. } => "hole-may-close",
            Self::NearEdge { .. } => "hole-near-edge",
        }
    }

    /// Its words, without a full stop.
    #[must_use]
    pub fn words(&self, units: Units) -> String {
        match *self {
            Self::MayClose {
                count,
                narrowest,
                under,
            } => {
                let narrowest = narrowest.show(units);
                let (which, them) = if count == 1 {
                    (format!("a hole of {narrowest}"), "it")
                } else {
                    (
                        format!("{count} holes, the narrowest of {narrowest},"),
                        "them",
                    )
                };
                format!(
                    "{which} may close over: mask or plug {them}; with this coating that goes for holes under about {}",
                    under.show(units)
                )
            }
            Self::NearEdge {
                count,
                diameter,
                left,
            } => {
                let [diameter, left] = [diameter, left].map(|length| length.show(units));
                let which = if count == 1 {
                    format!("a hole of {diameter} leaves {left} to the edge")
                } else {
                    format!("{count} holes lie near the edge: one of {diameter} leaves {left}")
                };
                format!("{which}, less than its own width, and may break out")
            }
        }
    }
}
