//! The dome on a top: asked by one measure, answered with all of them.

use thiserror::Error;

use super::draft::Unmeshed;
use super::liquid::{GRAVITY, Liquid};
use super::mesh::Sizing;
use super::newton::{Goal, Load, Solution};
use super::outline::Outline;
use super::plate::Plate;
use super::round;
use super::search::{Close, End, crossing};
use super::shape::{Shape, Under};
use crate::quantity::{Angle, Area, Length, Mass, Pressure, Volume};

/// The measure a dome is asked by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Ask {
    /// The largest edge angle along the outline, above 0 and up to 150
    /// degrees on a round top, 90 on any other.
    EdgeAngle(Angle),
    /// The volume of liquid.
    Volume(Volume),
    /// The height of the highest place over the flat top.
    Peak(Length),
    /// The mass of liquid.
    Mass(Mass),
}

/// A dome at rest on a level top, held at the edge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dome {
    /// Area of the flat top.
    pub outline_area: Area,
    /// Volume of liquid.
    pub volume: Volume,
    /// Mass of liquid.
    pub mass: Mass,
    /// Height of the highest place over the flat top.
    pub peak: Length,
    /// Largest edge angle along the outline, inside the liquid.
    pub edge_angle: Angle,
    /// Area of the free surface.
    pub surface_area: Area,
    /// The liquid's excess pressure at the flat top.
    pub pressure: Pressure,
}

impl Dome {
    /// No dome but a level film of this depth over an area, as inside a wall that
    /// it does not fill; how it climbs the wall is left out.
    #[must_use]
    pub fn level(area: Area, depth: Length, liquid: Liquid) -> Self {
        let volume = area * depth;
        let rho_g = liquid.density.kg_per_m3() * GRAVITY;
        Self {
            outline_area: area,
            volume,
            mass: volume * liquid.density,
            peak: depth,
            edge_angle: Angle::ZERO,
            surface_area: area,
            pressure: Pressure::from_pa(rho_g * depth.m()),
        }
    }

    /// Volume over top area.
    #[must_use]
    pub fn mean_height(&self) -> Length {
        self.volume / self.outline_area
    }
}

/// Why there is no such dome.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[non_exhaustive]
pub enum DomeError {
    /// A liquid needs a positive surface tension and density.
    #[error("a liquid needs a surface tension and a density above zero")]
    Liquid,
    /// Nothing, or less than nothing, is asked for; or an angle past what can be solved.
    #[error(
        "the dome asked for must be more than nothing, with an edge angle up to {} degrees here",
        steepest.deg().round()
    )]
    OutOfRange {
        /// The steepest edge that this top is solved for.
        steepest: Angle,
    },
    /// The edge cannot hold so much at any angle that is solved for.
    #[error(
        "that is more than this edge can hold: {:.3} mL, {:.2} mm high, at the very most",
        most.ml(), peak.mm()
    )]
    TooMuch {
        /// The volume at the steepest edge.
        most: Volume,
        /// The peak there.
        peak: Length,
    },
    /// It does not reach over a bezel's rim, so it is no dome. Liquid wets the
    /// wall: the middle lies lower than the mean.
    #[error(
        "that stays below the rim: {:.2} mm deep in the mean, {:.2} mm short of the rim",
        depth.mm(), below.mm()
    )]
    BelowRim {
        /// The mean depth over the floor.
        depth: Length,
        /// How far the mean lies below the rim; 0 is level with it.
        below: Length,
        /// The most by which the liquid may climb the wall over the level far from it.
        climb: Length,
        /// The most by which the middle may lie below the mean for that.
        sag: Length,
    },
    /// A sharp corner turns into the top: no edge angle is finite there.
    #[error(
        "the outline turns inward sharply at ({:.2} mm, {:.2} mm), where any fill would run over: round that corner",
        at[0].mm(), at[1].mm()
    )]
    SharpNotch {
        /// Where.
        at: [Length; 2],
    },
    /// The edge has too many fine details, or is too long for its width.
    #[error(
        "the outline has more detail than can be solved: smooth it, or draw it with fewer teeth"
    )]
    TooIntricate,
    /// The search failed.
    #[error("no dome could be found for this outline and liquid")]
    NotFound,
}

impl DomeError {
    /// Why a top could not be meshed.
    pub(super) fn unmeshed(lost: Unmeshed) -> Self {
        match lost {
            Unmeshed::TooIntricate => Self::TooIntricate,
            Unmeshed::Failed => Self::NotFound,
        }
    }
}

/// The steepest edge that is solved for on a round top, degrees.
const STEEPEST_ROUND: f64 = 150.0;
/// Of what the edge pulls, the share by which forces may fail to balance before
/// an answer is refused; a sound mesh stays below a fifth of it.
pub(super) const LARGEST_IMBALANCE: f64 = 1e-2;
/// The steepest edge that is solved for on a meshed top: vertical. Beyond it a
/// free edge runs over in practice, and the mesh is too coarse to say when.
const STEEPEST_MESHED: f64 = 90.0;

/// A flat top and the liquid on it, ready to be asked.
pub struct Top {
    pub(super) outline: Outline,
    liquid: Liquid,
    /// Capillary length, mm.
    pub(super) c: f64,
    pub(super) plate: Option<Plate>,
}

impl Top {
    /// Prepares a top: meshes it, where it is not round.
    ///
    /// # Errors
    /// [`DomeError::Liquid`] for an impossible liquid, [`DomeError::SharpNotch`]
    /// where a sharp corner turns inward, [`DomeError::TooIntricate`] for an edge
    /// with thousands of corners or a strip thousands of times longer than wide,
    /// [`DomeError::NotFound`] where no mesh could be made.
    pub fn new(outline: &Outline, liquid: Liquid) -> Result<Self, DomeError> {
        if !liquid.is_physical() {
            return Err(DomeError::Liquid);
        }
        let c = liquid.capillary_length().mm();
        let plate = if outline.disc().is_some() {
            None
        } else {
            let contour = outline.contour();
            let (sizing, order) = Sizing::for_capillary_length(c, outline.across().mm());
            let plate = Plate::new(&contour, sizing, order, 1.0 / (c * c));
            Some(plate.map_err(DomeError::unmeshed)?)
        };
        Ok(Self {
            outline: outline.clone(),
            liquid,
            c,
            plate,
        })
    }

    /// The outline.
    #[must_use]
    pub fn outline(&self) -> &Outline {
        &self.outline
    }

    /// The dome's measures.
    ///
    /// # Errors
    /// As [`shape`](Self::shape).
    pub fn dome(&self, ask: Ask) -> Result<Dome, DomeError> {
        Ok(self.shape(ask)?.dome)
    }

    /// The dome with its shape.
    ///
    /// # Errors
    /// [`DomeError::OutOfRange`] for nothing or less, or an edge angle past
    /// what is solved for; [`DomeError::TooMuch`] for more than the edge can hold;
    /// [`DomeError::NotFound`] where the search fails.
    pub fn shape(&self, ask: Ask) -> Result<Shape<'_>, DomeError> {
        self.shape_near(ask, None)
    }

    /// The same, found sooner where the surface of another dome on this top is known.
    pub(super) fn shape_near(
        &self,
        ask: Ask,
        near: Option<&Solution>,
    ) -> Result<Shape<'_>, DomeError> {
        let goal = match ask {
            Ask::EdgeAngle(angle) => {
                let goal = Goal::EdgeAngle(angle.rad());
                if angle.rad() > self.steepest() + 1e-9 {
                    Err(self.out_of_range())
                } else {
                    Ok(goal)
                }
            }
            Ask::Volume(volume) => Ok(Goal::Volume(volume.mm3())),
            Ask::Peak(peak) => Ok(Goal::Peak(peak.mm())),
            Ask::Mass(mass) => Ok(Goal::Volume((mass / self.liquid.density).mm3())),
        }?;
        let (Goal::EdgeAngle(amount) | Goal::Volume(amount) | Goal::Peak(amount)) = goal;
        if !(amount.is_finite() && amount > 0.0) {
            return Err(self.out_of_range());
        }
        match &self.plate {
            None => self.round_shape(goal),
            Some(plate) => self.meshed_shape(plate, goal, near),
        }
    }

    /// The same, with the top kept in it.
    pub(super) fn into_shape(self, ask: Ask) -> Result<Shape<'static>, DomeError> {
        let Shape { dome, surface, .. } = self.shape(ask)?;
        Ok(Shape {
            top: Under::Own(Box::new(self)),
            dome,
            surface,
        })
    }

    /// Whether it is solved on a mesh.
    pub(super) fn is_meshed(&self) -> bool {
        self.plate.is_some()
    }

    /// The steepest edge that is solved for, radians.
    pub(super) fn steepest(&self) -> f64 {
        let degrees = if self.plate.is_some() {
            STEEPEST_MESHED
        } else {
            STEEPEST_ROUND
        };
        degrees.to_radians()
    }

    fn out_of_range(&self) -> DomeError {
        DomeError::OutOfRange {
            steepest: Angle::from_rad(self.steepest()),
        }
    }

    fn meshed_shape(
        &self,
        plate: &Plate,
        goal: Goal,
        near: Option<&Solution>,
    ) -> Result<Shape<'_>, DomeError> {
        let solution = plate.solve_near(goal, near);
        let held = |s: &Solution| {
            s.edge_angle <= self.steepest() + 1e-4 && s.imbalance.abs() <= LARGEST_IMBALANCE
        };
        if let Some(found) = solution.filter(held) {
            return Ok(Shape {
                top: Under::Lent(self),
                dome: self.measures(&found),
                surface: Some(found),
            });
        }
        let steepest = plate.solve(Goal::EdgeAngle(self.steepest()));
        Err(Self::too_much(goal, steepest.map(|s| self.measures(&s))))
    }

    /// Why a goal was missed: more than the dome at the steepest edge holds, or not.
    fn too_much(goal: Goal, most: Option<Dome>) -> DomeError {
        let Some(most) = most else {
            return DomeError::NotFound;
        };
        let over = match goal {
            Goal::Volume(v) => v > most.volume.mm3(),
            Goal::Peak(h) => h > most.peak.mm(),
            Goal::EdgeAngle(_) => false,
        };
        if over {
            DomeError::TooMuch {
                most: most.volume,
                peak: most.peak,
            }
        } else {
            DomeError::NotFound
        }
    }

    fn measures(&self, s: &Solution) -> Dome {
        let volume = Volume::from_mm3(s.volume);
        Dome {
            outline_area: self.outline.area(),
            volume,
            mass: volume * self.liquid.density,
            peak: Length::from_mm(s.peak),
            edge_angle: Angle::from_rad(s.edge_angle),
            surface_area: Area::from_mm2(s.surface),
            pressure: Pressure::from_pa(
                s.load.pressure * 1e3 * self.liquid.surface_tension.n_per_m(),
            ),
        }
    }

    fn round_dome(&self, angle: f64) -> Option<Dome> {
        let radius = self.outline.disc()?;
        let c = self.c;
        let d = round::solve(radius / c, angle)?;
        Some(self.measures(&Solution {
            w: Vec::new(),
            load: Load {
                pressure: d.pressure / c,
                ..Load::default()
            },
            volume: d.volume * c.powi(3),
            surface: d.surface * c * c,
            peak: d.peak * c,
            edge_angle: angle,
            angles: Vec::new(),
            imbalance: 0.0,
        }))
    }

    fn round_shape(&self, goal: Goal) -> Result<Shape<'_>, DomeError> {
        let found = match goal {
            Goal::EdgeAngle(angle) => self.round_dome(angle).ok_or(DomeError::NotFound),
            Goal::Volume(volume) => self.round_search(goal, volume, |d| d.volume.mm3()),
            Goal::Peak(height) => self.round_search(goal, height, |d| d.peak.mm()),
        };
        found.map(|dome| Shape {
            top: Under::Lent(self),
            dome,
            surface: None,
        })
    }

    /// Finds the edge angle at which a measure that grows with it is `wanted`.
    fn round_search(
        &self,
        goal: Goal,
        wanted: f64,
        measure: impl Fn(&Dome) -> f64,
    ) -> Result<Dome, DomeError> {
        let at = |angle: f64| self.round_dome(angle).ok_or(DomeError::NotFound);
        let top = at(self.steepest())?;
        if measure(&top) < wanted {
            return Err(Self::too_much(goal, Some(top)));
        }
        let ends = [
            End {
                place: 0.0,
                miss: -wanted,
            },
            End {
                place: self.steepest(),
                miss: measure(&top) - wanted,
            },
        ];
        let close = Close {
            miss: 1e-9 * wanted,
            width: 1e-13,
        };
        let found = crossing(ends, close, |angle| {
            let dome = at(angle)?;
            Ok((measure(&dome) - wanted, dome))
        })?;
        found.ok_or(DomeError::NotFound)
    }
}

/// Refuses an outline that turns inward in a sharp corner.
pub(super) fn refuse_sharp_notches(outline: &Outline) -> Result<(), DomeError> {
    let corners = outline.corners();
    let mut sharp = corners.iter().filter(|corner| corner.is_sharp_notch());
    match sharp.next() {
        Some(corner) => Err(DomeError::SharpNotch { at: corner.tip }),
        None => Ok(()),
    }
}
