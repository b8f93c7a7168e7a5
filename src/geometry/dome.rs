//! The dome on a top: asked by one measure, answered with all of them.

use thiserror::Error;

use super::liquid::Liquid;
use super::mesh::Sizing;
use super::newton::{Goal, Solution};
use super::outline::Outline;
use super::plate::Plate;
use super::round;
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
    /// The search failed.
    #[error("no dome could be found for this outline and liquid")]
    NotFound,
}

/// The steepest edge that is solved for on a round top, degrees.
const STEEPEST_ROUND: f64 = 150.0;
/// Of what the edge pulls, the share by which forces may fail to balance before
/// an answer is refused; a sound mesh stays below a fifth of it.
const LARGEST_IMBALANCE: f64 = 1e-2;
/// The steepest edge that is solved for on a meshed top: vertical. Beyond it a
/// free edge runs over in practice, and the mesh is too coarse to say when.
const STEEPEST_MESHED: f64 = 90.0;

/// A flat top and the liquid on it, ready to be asked.
pub struct Top {
    outline: Outline,
    liquid: Liquid,
    /// Capillary length, mm.
    c: f64,
    plate: Option<Plate>,
}

/// A dome with its shape.
pub struct Shape<'a> {
    top: &'a Top,
    /// The dome's measures.
    pub dome: Dome,
    surface: Option<Solution>,
}

impl Top {
    /// Prepares a top: meshes it, where it is not round.
    ///
    /// # Errors
    /// [`DomeError::Liquid`] for an impossible liquid, [`DomeError::NotFound`]
    /// where no mesh could be made.
    pub fn new(outline: &Outline, liquid: Liquid) -> Result<Self, DomeError> {
        if !liquid.is_physical() {
            return Err(DomeError::Liquid);
        }
        let c = liquid.capillary_length().mm();
        let plate = match outline.disc() {
            Some(_) => None,
            None => {
                let contour = outline.contour();
                let (sizing, order) = Sizing::for_capillary_length(c, outline.across().mm());
                let plate = Plate::new(&contour, sizing, order, 1.0 / (c * c));
                Some(plate.ok_or(DomeError::NotFound)?)
            }
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
            Some(plate) => self.meshed_shape(plate, goal),
        }
    }

    /// The steepest edge that is solved for, radians.
    fn steepest(&self) -> f64 {
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

    fn meshed_shape(&self, plate: &Plate, goal: Goal) -> Result<Shape<'_>, DomeError> {
        let solution = plate.solve(goal);
        let held = |s: &Solution| {
            s.edge_angle <= self.steepest() + 1e-4 && s.imbalance.abs() <= LARGEST_IMBALANCE
        };
        if let Some(found) = solution.filter(held) {
            return Ok(Shape {
                top: self,
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
            pressure: Pressure::from_pa(s.pressure * 1e3 * self.liquid.surface_tension.n_per_m()),
        }
    }

    fn round_dome(&self, angle: f64) -> Option<Dome> {
        let radius = self.outline.disc()?;
        let c = self.c;
        let d = round::solve(radius / c, angle)?;
        Some(self.measures(&Solution {
            w: Vec::new(),
            pressure: d.pressure / c,
            volume: d.volume * c.powi(3),
            surface: d.surface * c * c,
            peak: d.peak * c,
            edge_angle: angle,
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
            top: self,
            dome,
            surface: None,
        })
    }

    /// Finds the edge angle at which a measure that grows with it is `wanted`:
    /// the secant, kept inside its bracket by bisection.
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
        let (mut low, mut low_miss) = (0.0, -wanted);
        let (mut high, mut high_miss) = (self.steepest(), measure(&top) - wanted);
        for _ in 0..80 {
            let secant = low - low_miss * (high - low) / (high_miss - low_miss);
            let margin = 0.01 * (high - low);
            let angle = secant.clamp(low + margin, high - margin);
            let dome = at(angle)?;
            let miss = measure(&dome) - wanted;
            if miss.abs() <= 1e-9 * wanted || high - low < 1e-13 {
                return Ok(dome);
            }
            // Halving the weight of the end that stays keeps both ends moving (Illinois).
            if miss < 0.0 {
                (low, low_miss) = (angle, miss);
                high_miss /= 2.0;
            } else {
                (high, high_miss) = (angle, miss);
                low_miss /= 2.0;
            }
        }
        Err(DomeError::NotFound)
    }
}

impl Shape<'_> {
    /// Points of the surface from edge to edge across the middle: distance
    /// from the left edge, and height. Across a rectangle's shorter side.
    #[must_use]
    pub fn section(&self) -> Vec<(Length, Length)> {
        let half = self.half_section();
        let width = self.top.outline.across().mm();
        let left = half
            .iter()
            .map(|&(from_middle, z)| (width / 2.0 - from_middle, z));
        let right = half
            .iter()
            .rev()
            .skip(1)
            .map(|&(from_middle, z)| (width / 2.0 + from_middle, z));
        left.chain(right)
            .map(|(x, z)| (Length::from_mm(x), Length::from_mm(z)))
            .collect()
    }

    /// Distance from the middle and height, mm, from the edge inward.
    fn half_section(&self) -> Vec<(f64, f64)> {
        if let (Some(solution), Some(plate)) = (&self.surface, &self.top.plate) {
            return plate.section(solution, self.top.outline.short_way());
        }
        let (c, radius) = (self.top.c, self.top.outline.across().mm() / 2.0);
        let profile = round::profile(radius / c, self.dome.edge_angle.rad());
        profile.iter().map(|&(r, z)| (r * c, z * c)).collect()
    }

    /// The height over a place of the top, measured from its middle, length
    /// along `x`; `None` outside the outline.
    #[must_use]
    pub fn height_at(&self, x: Length, y: Length) -> Option<Length> {
        let (x, y) = (x.mm().abs(), y.mm().abs());
        let height = match (&self.surface, &self.top.plate) {
            (Some(solution), Some(plate)) => plate.height_at(solution, [x, y]),
            _ => height_on(&self.half_section(), x.hypot(y)),
        };
        height.map(Length::from_mm)
    }
}

/// The height at a distance from the middle, of a chain from the edge inward.
fn height_on(half: &[(f64, f64)], from_middle: f64) -> Option<f64> {
    let steps = half
        .windows(2)
        .find(|w| w[0].0 >= from_middle && w[1].0 <= from_middle)?;
    let ((r0, z0), (r1, z1)) = (steps[0], steps[1]);
    let share = if r0 > r1 {
        (r0 - from_middle) / (r0 - r1)
    } else {
        0.0
    };
    Some(z0 + share * (z1 - z0))
}
