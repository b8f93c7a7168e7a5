//! Tops on a shelf that is out of level.

use thiserror::Error;

use super::dome::{DomeError, LARGEST_IMBALANCE, refuse_sharp_notches};
use super::liquid::Liquid;
use super::mesh::Sizing;
use super::newton::{Goal, Solution};
use super::outline::Outline;
use super::plate::Plate;
use super::tilt::{Limit, Reached, Response};
use super::window::EdgeAngles;
use crate::quantity::{Angle, Area, Length, Pressure, Volume};

/// How finely a tilted dome is solved.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fineness {
    /// Edge angles to a hundredth of a degree, below 80 degrees.
    Fine,
    /// Where the low side runs over to about a hundredth, and where the high side draws back to about a twentieth,
    /// mostly to a hundredth; several times quicker.
    Coarse,
}

/// How a shelf lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tilt {
    /// Out of level, 0 to 45 degrees.
    pub angle: Angle,
    /// The way down, along the top's own axes, of any length but zero.
    pub downhill: [f64; 2],
}

/// A dome at rest on a tilted top, held at the edge all round.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tilted {
    /// Largest edge angle, on the low side.
    pub edge_angle: Angle,
    /// Smallest edge angle; at sharp corners it is zero.
    pub least_edge_angle: Angle,
    /// Height of the highest place over the top.
    pub peak: Length,
    /// Area of the free surface.
    pub surface_area: Area,
    /// Excess pressure at the top, over its origin.
    pub pressure: Pressure,
}

/// Why no dome stays on a tilted top.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[non_exhaustive]
pub enum TiltError {
    /// The tilt is not from 0 to 45 degrees, or its way down is no direction.
    #[error("a tilt is from 0 to 45 degrees, with a way down")]
    OutOfRange,
    /// The low side would stand past vertical.
    #[error("so far out of level the coating runs over on the low side")]
    RunsOver,
    /// Newton's method was lost short of either.
    #[error("no dome could be found on so tilted a top")]
    Lost,
    /// Held at the edge all round, the surface would dip below the top.
    #[error(
        "so far out of level the coating draws back on the high side: held there, it would dip {:.3} mm below the top",
        depth.mm()
    )]
    DrawsBack {
        /// How far it would dip.
        depth: Length,
    },
    /// There is no such dome even on a level top.
    #[error(transparent)]
    Dome(#[from] DomeError),
}

/// A tilt at which something happens.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TiltLimit {
    /// Out of level.
    pub tilt: Angle,
    /// The way down, of length one: the worst one.
    pub downhill: [f64; 2],
}

impl TiltLimit {
    /// The fall for every length of shelf, `[1]`: the tangent.
    #[must_use]
    pub fn fall(&self) -> f64 {
        self.tilt.rad().tan()
    }
}

/// How far out of level a filled blank may lie.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LevelLimits {
    /// Beyond this the low side passes the brim angle and runs over. `None`: not
    /// up to [`MOST_TILT`].
    pub runs_over: Option<TiltLimit>,
    /// Beyond this the high side falls under the pull-back angle and draws back
    /// from the edge. Only places whose edge angle is at least the average along
    /// the outline on a level shelf are watched: sharp corners lie flat anyway.
    /// `None`: not up to [`MOST_TILT`], or not before the low side runs over.
    pub draws_back: Option<TiltLimit>,
    /// Up to this a tilt makes the two halves of the coat, below and above the
    /// middle of the area, differ by less than a tenth of the mean thickness,
    /// whatever the way down; by how a small tilt moves the coat. `None`: so it does
    /// up to [`MOST_TILT`], or it runs over on a level shelf.
    pub even: Option<Angle>,
}

/// The largest tilt that limits are looked for, degrees.
pub const MOST_TILT: Angle = Angle::from_deg(30.0);

/// The largest difference of the halves' thickness that counts as even.
const EVEN: f64 = 0.1;

/// A dip below the top, of the peak height, that is more than the solver's error.
const DIP: f64 = 5e-4;

/// An edge this steep, degrees, that stands no further tilt is on its way over.
const NEARLY_UPRIGHT: f64 = 80.0;

/// Of the height, the share within which heights are found on a coarse mesh: far less than the mesh's own error.
const COARSELY_SETTLED: f64 = 1e-5;

/// Ways across that evenness is looked at along.
const WAYS_ACROSS: u32 = 8;

/// Over the least tilt by the first step, another way's that may yet turn out less.
const RIVAL: f64 = 1.15;

/// Ways down that are so near each other are tried once, as the cosine between them.
const SAME_WAY: f64 = 0.95;

/// A top that may lie out of level, with the liquid on it.
pub struct Shelf {
    plate: Plate,
    liquid: Liquid,
    /// Whether the outline mirrors in both axes.
    mirrors: bool,
    /// Whether half a disc is solved, tilted along x: all ways down are the same.
    one_way: bool,
}

impl Shelf {
    /// Prepares a top, all of it: a tilt knows no symmetry.
    ///
    /// # Errors
    /// As [`Top::new`](super::Top::new).
    pub fn new(outline: &Outline, liquid: Liquid, fineness: Fineness) -> Result<Self, DomeError> {
        if !liquid.is_physical() {
            return Err(DomeError::Liquid);
        }
        refuse_sharp_notches(outline)?;
        let c = liquid.capillary_length().mm();
        let (sizing, order) = Sizing::for_capillary_length(c, outline.across().mm());
        let (sizing, order) = match fineness {
            Fineness::Fine => (sizing, order),
            Fineness::Coarse => (sizing.coarser(), 3),
        };
        let half = outline.half_disc().filter(|_| fineness == Fineness::Coarse);
        let one_way = half.is_some();
        let contour = half.unwrap_or_else(|| outline.whole_contour());
        let plate = Plate::new(&contour, sizing, order, 1.0 / (c * c));
        let mut plate = plate.map_err(DomeError::unmeshed)?;
        if fineness == Fineness::Coarse {
            plate.settled = COARSELY_SETTLED;
        }
        Ok(Self {
            plate,
            liquid,
            mirrors: outline.is_plain(),
            one_way,
        })
    }

    fn level(&self, volume: Volume) -> Result<Solution, DomeError> {
        let mm3 = volume.mm3();
        if !(mm3.is_finite() && mm3 > 0.0) {
            return Err(DomeError::OutOfRange {
                steepest: Angle::from_deg(90.0),
            });
        }
        let solved = self.plate.solve(Goal::Volume(mm3));
        let balanced = |s: &Solution| s.imbalance.abs() <= LARGEST_IMBALANCE;
        solved.filter(balanced).ok_or(DomeError::NotFound)
    }

    /// The smallest tilt, the worst way down, at which the low side of a volume
    /// reaches the brim angle; `None` where none up to [`MOST_TILT`] does.
    ///
    /// # Errors
    /// As [`limits`](Self::limits).
    pub fn runs_over(&self, volume: Volume, brim: Angle) -> Result<Option<TiltLimit>, DomeError> {
        let level = self.level(volume)?;
        if level.edge_angle >= brim.rad() {
            return Ok(Self::no_tilt().runs_over);
        }
        let response = self.plate.response(&level).ok_or(DomeError::NotFound)?;
        let rises = Limit::Rises(brim.rad());
        let ways = self.ways(&level, &response, rises);
        self.least(&level, &response, &ways, rises, MOST_TILT.rad().sin())
    }

    /// The dome of a volume on a tilted top. A disc tilts along x, whatever the
    /// way down, where it is solved coarsely.
    ///
    /// # Errors
    /// [`TiltError::RunsOver`] where its low side would stand past vertical, or is
    /// lost on the way there; [`TiltError::DrawsBack`] where it would dip below the top.
    pub fn tilted(&self, volume: Volume, tilt: Tilt) -> Result<Tilted, TiltError> {
        let [x, y] = tilt.downhill;
        let length = x.hypot(y);
        let upright = (0.0..=45.0).contains(&tilt.angle.deg());
        if !(upright && length.is_finite() && length > 0.0) {
            return Err(TiltError::OutOfRange);
        }
        let level = self.level(volume)?;
        let sine = tilt.angle.rad().sin();
        let uphill = if self.one_way {
            [sine, 0.0]
        } else {
            [-x / length * sine, -y / length * sine]
        };
        match self.plate.tilted(&level, uphill) {
            Ok(found) => self.stays(&found),
            // Where it was lost, the last dome tells which side gave way.
            Err(last) => Err(Self::gives_way(&last)),
        }
    }

    fn stays(&self, found: &Solution) -> Result<Tilted, TiltError> {
        if found.edge_angle > std::f64::consts::FRAC_PI_2 {
            return Err(TiltError::RunsOver);
        }
        if let Some(depth) = dip(found) {
            return Err(TiltError::DrawsBack { depth });
        }
        if found.imbalance.abs() > LARGEST_IMBALANCE {
            return Err(TiltError::Lost);
        }
        Ok(self.measures(found))
    }

    /// Why there is no dome beyond the last that was reached.
    fn gives_way(last: &Solution) -> TiltError {
        match (last.edge_angle.to_degrees() > NEARLY_UPRIGHT, dip(last)) {
            (true, _) => TiltError::RunsOver,
            (false, Some(depth)) => TiltError::DrawsBack { depth },
            (false, None) => TiltError::Lost,
        }
    }

    fn measures(&self, s: &Solution) -> Tilted {
        let gamma = self.liquid.surface_tension.n_per_m();
        Tilted {
            edge_angle: Angle::from_rad(s.edge_angle),
            least_edge_angle: Angle::from_rad(self.plate.rim.smallest(&s.angles)),
            peak: Length::from_mm(s.peak),
            surface_area: Area::from_mm2(s.surface),
            pressure: Pressure::from_pa(s.load.pressure * 1e3 * gamma),
        }
    }

    /// How far out of level a volume may lie, for these edge angles. Directions
    /// are chosen by how the edge answers to a small tilt; the tilts themselves
    /// are solved for.
    ///
    /// A fill that stands at the brim angle or past it on a level shelf runs over
    /// at no tilt at all.
    ///
    /// # Errors
    /// [`DomeError::NotFound`] where there is no such dome on a level top, or a
    /// search is lost; [`DomeError::OutOfRange`] for no volume.
    pub fn limits(&self, volume: Volume, angles: EdgeAngles) -> Result<LevelLimits, DomeError> {
        let level = &self.level(volume)?;
        let (brim, pull_back) = (angles.brim.rad(), angles.pull_back.rad());
        if level.edge_angle >= brim {
            return Ok(Self::no_tilt());
        }
        let response = &self.plate.response(level).ok_or(DomeError::NotFound)?;
        let most = MOST_TILT.rad().sin();
        let search = |limit, most| {
            let ways = self.ways(level, response, limit);
            self.least(level, response, &ways, limit, most)
        };
        let watched = self.watched(level);
        let falls = Limit::Falls(pull_back, &watched);
        // Each on its own core, the second without knowing where the first will end.
        let (runs_over, draws_back) =
            rayon::join(|| search(Limit::Rises(brim), most), || search(falls, most));
        let runs_over = runs_over?;
        let before = runs_over.map_or(most, |limit| limit.tilt.rad().sin());
        let draws_back = match draws_back {
            Ok(found) => found.filter(|limit| limit.tilt.rad().sin() <= before),
            // It may have been lost beyond where it matters.
            Err(_) => search(falls, before)?,
        };
        Ok(LevelLimits {
            runs_over,
            draws_back,
            even: self.even(level, response),
        })
    }

    /// At the brim already: any tilt runs over.
    fn no_tilt() -> LevelLimits {
        LevelLimits {
            runs_over: Some(TiltLimit {
                tilt: Angle::ZERO,
                downhill: [1.0, 0.0],
            }),
            draws_back: None,
            even: None,
        }
    }

    /// Places of the edge that stand at least as steep as the average.
    fn watched(&self, level: &Solution) -> Vec<usize> {
        let samples = &self.plate.rim.samples;
        let (sum, length) = samples.iter().fold((0.0, 0.0), |(sum, length), s| {
            (sum + s.weight * s.of(&level.angles), length + s.weight)
        });
        let steep = |i: &usize| samples[*i].of(&level.angles) >= sum / length * (1.0 - 1e-6);
        (0..samples.len()).filter(steep).collect()
    }

    /// The two ways uphill that meet a limit soonest, by the edge's answer to a
    /// small tilt: that of the place that needs the least, and the best of the
    /// places whose own way is another, if it comes near.
    fn ways(&self, level: &Solution, response: &Response, limit: Limit) -> Vec<[f64; 2]> {
        if self.one_way {
            return vec![[1.0, 0.0]];
        }
        let samples = &self.plate.rim.samples;
        let places: Vec<usize> = match limit {
            Limit::Rises(_) => (0..samples.len()).collect(),
            Limit::Falls(_, among) => among.to_vec(),
        };
        let mut found: Vec<(f64, [f64; 2])> = places
            .iter()
            .filter_map(|&i| {
                let here = samples[i].of(&level.angles);
                let by = [0, 1].map(|k| samples[i].of(&response.angles[k]));
                let size = by[0].hypot(by[1]);
                let (gap, sign) = match limit {
                    Limit::Rises(angle) => (angle - here, 1.0),
                    Limit::Falls(angle, _) => (here - angle, -1.0),
                };
                (size > 0.0).then(|| ((gap / size).max(0.0), by.map(|b| sign * b / size)))
            })
            .collect();
        found.sort_by(|a, b| a.0.total_cmp(&b.0));
        let soonest = found.first().map_or(0.0, |(gap, _)| *gap);
        let mut ways: Vec<[f64; 2]> = Vec::new();
        for (_, way) in found.into_iter().filter(|(gap, _)| *gap <= RIVAL * soonest) {
            // Ways that mirror each other count as one where the outline does.
            let fold = |way: [f64; 2]| if self.mirrors { way.map(f64::abs) } else { way };
            let a = fold(way);
            let new_to = |known: &[f64; 2]| {
                let b = fold(*known);
                a[0] * b[0] + a[1] * b[1] < SAME_WAY
            };
            if ways.iter().all(new_to) {
                ways.push(way);
            }
            if ways.len() == 2 {
                break;
            }
        }
        ways
    }

    /// The least tilt of several ways that meets a limit; `None` where none up to
    /// the sine `most` does.
    fn least(
        &self,
        level: &Solution,
        response: &Response,
        ways: &[[f64; 2]],
        limit: Limit,
        most: f64,
    ) -> Result<Option<TiltLimit>, DomeError> {
        let mut least: Option<(f64, [f64; 2])> = None;
        for &way in ways {
            match self.plate.tilt_to(level, response, way, limit, most) {
                Reached::At(sine) if least.is_none_or(|(known, _)| sine < known) => {
                    least = Some((sine, way));
                }
                Reached::At(_) | Reached::Beyond => {}
                // A limit that was lost may be the least.
                Reached::Lost => return Err(DomeError::NotFound),
            }
        }
        Ok(least.map(|(sine, way)| TiltLimit {
            tilt: Angle::from_rad(sine.asin()),
            downhill: way.map(|x| -x),
        }))
    }

    /// Where a tilt carries the volume `D` from one part of the area to the other,
    /// their mean thicknesses part by `D / A₁ + D / A₂`, of a mean of `V / A`.
    fn even(&self, level: &Solution, response: &Response) -> Option<Angle> {
        // Half a disc knows only the tilt along itself.
        let ways = if self.one_way { 1 } else { WAYS_ACROSS };
        let steepest = (0..ways).map(|i| {
            let turn = std::f64::consts::PI * f64::from(i) / f64::from(ways);
            self.parting(response, turn)
        });
        let copies = self.plate.mesh.copies;
        let mean = level.volume / (copies * self.plate.area);
        let per_sine = steepest.fold(0.0_f64, f64::max) / mean;
        let sine = EVEN / per_sine;
        (sine <= MOST_TILT.rad().sin()).then(|| Angle::from_rad(sine.asin()))
    }

    /// How far a tilt parts the mean thicknesses below and above the middle, for
    /// every unit of its sine, mm.
    fn parting(&self, response: &Response, turn: f64) -> f64 {
        let (sin, cos) = turn.sin_cos();
        let [x, y] = self.plate.moment.map(|m| m / self.plate.area);
        let middle = x * cos + y * sin;
        let (mut below, mut moved) = (0.0, 0.0);
        let volumes = response.volumes[0].iter().zip(&response.volumes[1]);
        for ((at, area), (by_x, by_y)) in self.plate.spots().zip(volumes) {
            if at[0] * cos + at[1] * sin < middle {
                below += area;
                moved += by_x * cos + by_y * sin;
            }
        }
        let above = self.plate.area - below;
        (moved / below + moved / above).abs()
    }
}

/// How far a pinned surface dips below the top, where it does by more than the
/// solver's error.
fn dip(s: &Solution) -> Option<Length> {
    let lowest = s.w.iter().fold(0.0_f64, |a, b| a.min(*b));
    (lowest < -DIP * s.peak).then(|| Length::from_mm(-lowest))
}
