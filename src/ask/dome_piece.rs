//! What a question about a dome tells of the piece beside its top, and what follows.

use serde::Serialize;

use super::care::CautionAnswer;
use super::number::{g, ml, mm, mm2};
use super::{About, DomeRefusal};
use crate::coating::{Coating, Concern, Holds, family, for_buyers, handling};
use crate::consumption::{DropCount, Faces, may_warp, side_area};
use crate::geometry::Outline;
use crate::quantity::{Area, Length, Mass, Show, Units, Volume};

/// What is told of the piece beside its top; nothing has to be.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct PieceFacts {
    /// Which faces are flooded.
    pub faces: Faces,
    /// Whether the sides are brushed.
    pub sides: bool,
    /// How thick the blank is, above 0 and up to 200 mm.
    pub thickness: Option<Length>,
    /// Whether it is bare wood.
    pub wood: bool,
    /// Whether it is a magnet.
    pub magnet: bool,
    /// The chain that it hangs on: how thick it is.
    pub chain: Option<Length>,
    /// The maker's own count of drops.
    pub drops: Option<DropCount>,
}

/// Both faces together.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct BothFaces {
    /// Area of both flat faces.
    #[serde(rename = "area_mm2", serialize_with = "mm2")]
    pub area: Area,
    /// Wet volume on both, over all coats.
    #[serde(rename = "volume_ml", serialize_with = "ml")]
    pub volume: Option<Volume>,
    /// Wet mass on both, over all coats.
    #[serde(rename = "mass_g", serialize_with = "g")]
    pub mass: Option<Mass>,
}

/// The sides, brushed with a thin film, for no dome sits on them.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Sides {
    /// Their area: all the edges' length times the thickness.
    #[serde(rename = "area_mm2", serialize_with = "mm2")]
    pub area: Area,
    /// What they are brushed with: this coating where it has a wet film, else a sealer.
    pub coating: String,
    /// Wet film thickness of one coat.
    #[serde(rename = "wet_film_mm", serialize_with = "mm")]
    pub wet_film: Length,
    /// One coat on one piece, before what soaks in.
    #[serde(rename = "volume_ml", serialize_with = "ml")]
    pub volume: Volume,
}

/// A pour counted in drops.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Drops {
    /// The volume of one drop.
    #[serde(rename = "drop_ml", serialize_with = "ml")]
    pub drop: Volume,
    /// Drops of one coat on one face, the first where there are several.
    pub each_pour: u64,
}

/// The hole that a chain goes through.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct ChainHole {
    /// The chain.
    #[serde(rename = "chain_mm", serialize_with = "mm")]
    pub chain: Length,
    /// The hole's diameter: a usual drill.
    #[serde(rename = "hole_mm", serialize_with = "mm")]
    pub hole: Length,
    /// The same drill as sold in inches.
    pub hole_in: &'static str,
    /// The least blank left between the hole's rim and the edge: one hole's diameter.
    #[serde(rename = "hole_from_edge_mm", serialize_with = "mm")]
    pub from_edge: Length,
    /// Whether the blank is wide enough to leave that on either side.
    #[serde(rename = "hole_fits")]
    pub fits: bool,
}

/// What follows from the piece beside its top; what was not told is missing.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PieceAnswer {
    /// Both faces together, where both are flooded.
    pub both_faces: Option<BothFaces>,
    /// The sides, where they are brushed.
    pub sides: Option<Sides>,
    /// Drops on one piece: one coat, the first, on every face that is flooded.
    pub drops_per_piece: Option<u64>,
    /// How they are reckoned.
    pub drops: Option<Drops>,
    /// The hole for its chain.
    #[serde(flatten)]
    pub chain_hole: Option<ChainHole>,
}

/// What one face takes.
#[derive(Debug, Clone, Copy)]
pub(super) struct OneFace {
    /// In the first coat.
    pub pour: Option<Volume>,
    /// In all its coats.
    pub in_all: Option<(Volume, Mass)>,
}

/// Usual drills by their two names: mm, and inches (common practice, no source).
const DRILLS: [(f64, &str); 15] = [
    (1.6, "1/16"),
    (2.4, "3/32"),
    (3.2, "1/8"),
    (4.0, "5/32"),
    (4.8, "3/16"),
    (5.6, "7/32"),
    (6.4, "1/4"),
    (7.1, "9/32"),
    (7.9, "5/16"),
    (8.7, "11/32"),
    (9.5, "3/8"),
    (10.3, "13/32"),
    (11.1, "7/16"),
    (11.9, "15/32"),
    (12.7, "1/2"),
];

/// A hole is at least this much wider than its chain (common practice, no
/// source: 3.2 mm for a chain of 2.4 mm), so that links pass and coating in
/// its rim does not catch them.
const WIDER: f64 = 4.0 / 3.0;

/// What brushes the sides where the coating itself is not brushed.
const SEALER: &str = "water-based sealer";

const THICKEST: Length = Length::from_mm(200.0);

impl PieceFacts {
    pub(super) fn check(&self) -> Result<(), DomeRefusal> {
        let inside = |thickness: Length| thickness > Length::ZERO && thickness <= THICKEST;
        match self.thickness {
            Some(thickness) if !inside(thickness) => Err(DomeRefusal::Thickness(thickness)),
            None if self.sides => Err(DomeRefusal::NoThickness),
            _ => Ok(()),
        }
    }

    /// What follows for a piece with this top and coating.
    ///
    /// # Errors
    /// [`DomeRefusal`] for a chain or a count of drops that can't be.
    pub(super) fn answer(
        &self,
        outline: &Outline,
        coating: &Coating,
        face: OneFace,
    ) -> Result<PieceAnswer, DomeRefusal> {
        let drops = self.drops(face.pour)?;
        Ok(PieceAnswer {
            both_faces: self.both_faces(outline.area(), face.in_all),
            sides: self.brushed_sides(outline, coating),
            drops_per_piece: drops.map(|drops| drops.each_pour * u64::from(self.faces.count())),
            drops,
            chain_hole: self.hole(outline.across())?,
        })
    }

    /// So large or small a drop is a slip, most likely (usual drops: typical, from memory).
    pub(super) fn odd_drop(&self) -> Option<String> {
        let drop = self.drops?.drop().ok()?;
        let usual = Volume::from_ml(0.01)..=Volume::from_ml(0.2);
        (!usual.contains(&drop)).then(|| {
            format!(
                "a drop of {} is unusual, for most are 0.02 to 0.1 mL: was something miscounted?",
                drop.show(Units::Metric)
            )
        })
    }

    fn both_faces(&self, top: Area, each: Option<(Volume, Mass)>) -> Option<BothFaces> {
        let faces = f64::from(self.faces.count());
        (self.faces == Faces::Both).then(|| BothFaces {
            area: top * faces,
            volume: each.map(|(volume, _)| volume * faces),
            mass: each.map(|(_, mass)| mass * faces),
        })
    }

    fn brushed_sides(&self, outline: &Outline, coating: &Coating) -> Option<Sides> {
        let thickness = self.thickness.filter(|_| self.sides)?;
        let area = side_area(outline.perimeter(), thickness);
        let brushed = |coating: &Coating| {
            let wet_film = coating.wet_film()?;
            Some(Sides {
                area,
                coating: coating.family().name.clone(),
                wet_film,
                volume: area * wet_film,
            })
        };
        brushed(coating).or_else(|| brushed(&Coating::of(family(SEALER)?)))
    }

    fn drops(&self, pour: Option<Volume>) -> Result<Option<Drops>, DomeRefusal> {
        let (Some(count), Some(pour)) = (self.drops, pour) else {
            return Ok(None);
        };
        Ok(Some(Drops {
            drop: count.drop()?,
            each_pour: count.in_volume(pour)?,
        }))
    }

    fn hole(&self, across: Length) -> Result<Option<ChainHole>, DomeRefusal> {
        let Some(chain) = self.chain else {
            return Ok(None);
        };
        let least = chain.mm() * WIDER;
        // a hair of slack, so that 3.2 mm counts as a third wider than 2.4 mm
        let drill = DRILLS.iter().find(|(mm, _)| *mm >= least - 1e-9);
        let Some(&(mm, hole_in)) = drill.filter(|_| chain > Length::ZERO) else {
            return Err(DomeRefusal::Chain(chain));
        };
        let hole = Length::from_mm(mm);
        Ok(Some(ChainHole {
            chain,
            hole,
            hole_in,
            from_edge: hole,
            fits: hole * 3.0 <= across,
        }))
    }

    /// The cautions that such a piece calls for.
    pub(super) fn cautions(&self) -> impl Iterator<Item = CautionAnswer> {
        let warps = self.wood
            && self
                .thickness
                .is_some_and(|thickness| may_warp(thickness, self.faces));
        let called = [(self.magnet, Concern::Magnets), (warps, Concern::ThinWood)];
        let called = called.into_iter().filter(|(called, _)| *called);
        let magnet = self.magnet;
        let of_magnets = for_buyers().iter();
        let of_magnets = of_magnets.filter(move |line| magnet && line.holds == Holds::Magnet);
        let handled = called.map(|(_, concern)| handling(concern));
        (handled.map(|caution| (&caution.say, &caution.behind)))
            .chain(of_magnets.map(|line| (&line.say, &line.behind)))
            .map(|(say, behind)| CautionAnswer {
                about: About::Piece,
                say,
                behind: Some(behind),
            })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Case C26 is the trade's figure; the others follow from the rule.
    #[test]
    fn a_hole_is_the_next_usual_drill_a_third_wider_than_its_chain() {
        let hole = |chain: f64| {
            let facts = PieceFacts {
                chain: Some(Length::from_mm(chain)),
                ..PieceFacts::default()
            };
            facts.hole(Length::from_mm(25.0)).unwrap().unwrap()
        };
        for (chain, mm, inch) in [(1.0, 1.6, "1/16"), (2.4, 3.2, "1/8"), (2.5, 4.0, "5/32")] {
            assert_eq!((hole(chain).hole.mm(), hole(chain).hole_in), (mm, inch));
        }
        assert!(hole(2.4).fits && !hole(6.0).fits);
    }
}
