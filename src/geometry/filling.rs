//! A coating on a blank: on a sharp edge, on a soft one, or over a rim.
//!
//! Over a bezel's rim stands the dome of a top of the wall's inner outline, on
//! a full floor:
//!
//! ```text
//! V = A h + V_dome    peak = h + peak_dome    p = p_dome + ρ g h
//! ```
//!
//! with `A` the floor and `h` the wall. Its fill window runs from that dome at
//! the pull-back angle, so that a wall of no height is a flat top. Between
//! level with the rim and the pull-back limit the rim still holds the coating.

use std::sync::OnceLock;

use super::blank::Blank;
use super::dome::{Ask, Dome, DomeError, Top};
use super::level::{Fineness, LevelLimits, MOST_TILT, Shelf, TiltLimit};
use super::liquid::{GRAVITY, Liquid};
use super::mend::mending_corner;
use super::newton::Solution;
use super::outline::Outline;
use super::shape::{Shape, Under};
use super::soft::{self, Cuts};
use super::window::{EdgeAngles, FillWindow};
use crate::quantity::{Angle, Length, Pressure, Volume};

/// A blank with a coating, ready to be asked.
///
/// Answers are the blank's own: all the liquid on it, with the peak and the
/// pressure over its flat top, or over a bezel's floor. The edge angle and the
/// surface are the dome's; the outline's area is the whole blank's.
pub struct Filling {
    pub(super) blank: Blank,
    pub(super) liquid: Liquid,
    pub(super) angles: EdgeAngles,
    /// The flat part: up to the edge, the rim or where the rounding begins.
    pub(super) flat: Top,
    /// Cuts through a rounded edge, where there is one.
    pub(super) cuts: Option<Cuts>,
    /// The flat part's dome at the target angle, once it was asked for: as a rule
    /// the fill that is asked more of.
    target: OnceLock<(Dome, Option<Solution>)>,
    /// The flat part as it lies on a shelf, once it was asked for.
    shelf: OnceLock<Result<Shelf, DomeError>>,
}

/// What stands on a blank, with its shape.
pub struct Filled<'a> {
    /// The measures.
    pub dome: Dome,
    /// How far the contact line stands within the blank's outline.
    pub inset: Length,
    /// The height of the contact line over the flat top or the floor: a wall's
    /// height, or below zero where it went onto a rounded edge.
    pub lift: Length,
    /// How far round a rounded edge the contact line went: 0 where the rounding
    /// begins, 90 degrees at its end.
    pub turn: Angle,
    /// The blank's outline.
    outline: Outline,
    pub(super) shape: Shape<'a>,
}

/// Where a dome's outline lies on a blank, and what lies under it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Base {
    pub inset: Length,
    pub lift: Length,
    pub turn: Angle,
    /// Liquid below the contact line's level, less the solid above that level.
    pub under: Volume,
}

impl Base {
    /// The flat top itself, this far within the outline.
    pub fn flat(inset: Length) -> Self {
        Self {
            inset,
            lift: Length::ZERO,
            turn: Angle::ZERO,
            under: Volume::ZERO,
        }
    }
}

/// A share of the full floor by which liquid may stand over the rim and still
/// count as level with it.
const LEVEL: f64 = 1e-9;

/// A share of a volume that a search for it does not tell from none.
const SAME_VOLUME: f64 = 1e-12;

impl Filling {
    /// Prepares a blank for a coating. The edge angles are the ones at a crisp
    /// edge.
    ///
    /// # Errors
    /// [`DomeError::Liquid`] for an impossible liquid, [`DomeError::NotFound`]
    /// where the top could not be meshed.
    pub fn new(blank: &Blank, liquid: Liquid, angles: EdgeAngles) -> Result<Self, DomeError> {
        let flat = blank.outline().inset(blank.edge());
        let flat = flat.map_err(|_| DomeError::NotFound)?;
        let cuts = (blank.edge().mm() > 0.0).then(|| Cuts::through(blank, &flat));
        let cuts = cuts.transpose().map_err(|_| DomeError::NotFound)?;
        Ok(Self {
            blank: blank.clone(),
            liquid,
            angles,
            flat: Top::new(&flat, liquid)?,
            cuts,
            target: OnceLock::new(),
            shelf: OnceLock::new(),
        })
    }

    /// Prepares a blank for a coating and finds its fill window, and on another core what
    /// [`level_limits`](Self::level_limits) begin with.
    ///
    /// # Errors
    /// As [`new`](Self::new) and [`window`](Self::window).
    pub fn to_be_tilted(
        blank: &Blank,
        liquid: Liquid,
        angles: EdgeAngles,
    ) -> Result<(Self, FillWindow), DomeError> {
        let windowed = || {
            let filling = Self::new(blank, liquid, angles)?;
            let window = filling.window()?;
            Ok((filling, window))
        };
        let shelf = || {
            let flat = blank.outline().inset(blank.edge());
            let flat = flat.map_err(|_| DomeError::NotFound)?;
            Shelf::new(&flat, liquid, Fineness::Coarse)
        };
        let (windowed, shelf) = rayon::join(windowed, shelf);
        let (filling, window) = windowed?;
        filling.shelf.get_or_init(|| shelf);
        Ok((filling, window))
    }

    /// The blank.
    #[must_use]
    pub fn blank(&self) -> &Blank {
        &self.blank
    }

    /// The fill window. The largest angle along the outline decides all three.
    ///
    /// At a soft edge the brim limit is the coating's own brim angle too, met
    /// with the contact line half-way round; or, where the rounding is so wide
    /// that the coating runs off sooner, the fullest dome it holds.
    ///
    /// # Errors
    /// As [`shape`](Self::shape).
    pub fn window(&self) -> Result<FillWindow, DomeError> {
        let EdgeAngles {
            pull_back,
            target,
            brim,
        } = self.angles;
        // The other two begin at the target's dome and know nothing of each other.
        let target = self.dome(Ask::EdgeAngle(target))?;
        let (pull_back, brim) = rayon::join(
            || self.dome(Ask::EdgeAngle(pull_back)),
            || {
                if self.is_soft() {
                    soft::brim(self).map(|filled| filled.dome)
                } else {
                    self.dome(Ask::EdgeAngle(brim))
                }
            },
        );
        Ok(FillWindow {
            pull_back: pull_back?,
            target,
            brim: brim?,
        })
    }

    /// The measures of what stands on the blank.
    ///
    /// # Errors
    /// As [`shape`](Self::shape).
    pub fn dome(&self, ask: Ask) -> Result<Dome, DomeError> {
        Ok(self.shape(ask)?.dome)
    }

    /// How far out of level a fill may lie: what is over the contact line, held
    /// there, against the same edge angles. A bezel's wall is wetted, so its high
    /// side does not draw back; a soft edge's contact line is taken to stay where
    /// the level fill left it.
    ///
    /// # Errors
    /// As [`Shelf::limits`].
    pub fn level_limits(&self, filled: &Filled) -> Result<LevelLimits, DomeError> {
        let volume = filled.shape.dome.volume;
        let limits = self.ask_shelf(filled, |shelf| shelf.limits(volume, self.angles))?;
        Ok(LevelLimits {
            draws_back: limits.draws_back.filter(|_| self.blank.wall().mm() == 0.0),
            // What parts the halves is spread over all the coat, a bezel's too.
            even: limits.even.and_then(|even| {
                let sine = even.rad().sin() * (filled.dome.volume / volume);
                (sine <= MOST_TILT.rad().sin()).then(|| Angle::from_rad(sine.asin()))
            }),
            ..limits
        })
    }

    /// The smallest tilt, the worst way down, at which a fill runs over: one part
    /// of [`level_limits`](Self::level_limits), by itself and sooner.
    ///
    /// # Errors
    /// As [`Shelf::runs_over`].
    pub fn runs_over(&self, filled: &Filled) -> Result<Option<TiltLimit>, DomeError> {
        let volume = filled.shape.dome.volume;
        self.ask_shelf(filled, |shelf| shelf.runs_over(volume, self.angles.brim))
    }

    /// Asks about what a fill stands on: the flat part, which is asked more than once, or on a
    /// soft edge a top of its own.
    fn ask_shelf<T>(
        &self,
        filled: &Filled,
        ask: impl FnOnce(&Shelf) -> Result<T, DomeError>,
    ) -> Result<T, DomeError> {
        let top = filled.shape.top();
        if !std::ptr::eq(top, &raw const self.flat) {
            return ask(&Shelf::new(top.outline(), self.liquid, Fineness::Coarse)?);
        }
        let prepared = || Shelf::new(self.flat.outline(), self.liquid, Fineness::Coarse);
        match self.shelf.get_or_init(prepared) {
            Ok(prepared) => ask(prepared),
            Err(error) => Err(*error),
        }
    }

    /// The corner radius that would leave no part of a target fill's edge thin.
    ///
    /// # Errors
    /// As [`mending_corner`].
    pub fn mending_corner(&self) -> Result<Option<Length>, DomeError> {
        mending_corner(&self.blank, self.liquid, self.angles)
    }

    /// What stands on the blank, with its shape. Past the brim limit it answers
    /// as far as a dome can be; [`window`](Self::window) says where it runs over.
    ///
    /// # Errors
    /// As [`Top::shape`], and [`DomeError::BelowRim`] for less than fills a
    /// bezel over its rim (to a billionth of it).
    pub fn shape(&self, ask: Ask) -> Result<Filled<'_>, DomeError> {
        let ask = match ask {
            Ask::Mass(mass) => Ask::Volume(mass / self.liquid.density),
            other => other,
        };
        if self.is_soft() {
            return soft::shape(self, ask);
        }
        let base = Base {
            lift: self.blank.wall(),
            under: self.flat.outline().area() * self.blank.wall(),
            ..Base::flat(Length::ZERO)
        };
        self.reaches_over_the_rim(ask, &base)?;
        self.on_flat(base, ask)
    }

    /// Refuses what does not reach over a wall's rim.
    fn reaches_over_the_rim(&self, ask: Ask, base: &Base) -> Result<(), DomeError> {
        let floor = self.flat.outline().area();
        let depth = match ask {
            Ask::Volume(volume) => volume / floor,
            Ask::Peak(peak) => peak,
            Ask::EdgeAngle(_) | Ask::Mass(_) => return Ok(()),
        };
        let wall = base.lift;
        if !(depth.mm() > 0.0 && depth.mm() <= wall.mm() * (1.0 + LEVEL)) {
            return Ok(());
        }
        let sag = sag(self.flat.outline(), self.liquid, self.angles.pull_back);
        Err(DomeError::BelowRim {
            depth,
            below: Length::from_mm((wall - depth).mm().max(0.0)),
            climb: climb(self.liquid, self.angles.pull_back),
            // Nothing lies lower than the floor.
            sag: if sag < depth { sag } else { depth },
        })
    }

    /// Asks the flat part's top as it lies on its base.
    pub(super) fn on_flat(&self, base: Base, ask: Ask) -> Result<Filled<'_>, DomeError> {
        let ask = over(base, ask);
        if let Some((dome, surface)) = self.target.get().filter(|known| self.is_target(ask, known))
        {
            let (dome, surface) = (*dome, surface.clone());
            let top = Under::Lent(&self.flat);
            return Ok(self.filled(base, Shape { top, dome, surface }));
        }
        let known = self.target.get().and_then(|(_, surface)| surface.as_ref());
        let shape = self.flat.shape_near(ask, known);
        let shape = shape.map_err(|e| self.as_of_blank(base, e))?;
        if self.asks_for_target(ask) {
            // Another thread's answer would be the same.
            self.target
                .get_or_init(|| (shape.dome, shape.surface.clone()));
        }
        Ok(self.filled(base, shape))
    }

    fn asks_for_target(&self, ask: Ask) -> bool {
        matches!(ask, Ask::EdgeAngle(angle) if angle == self.angles.target)
    }

    /// Whether what is asked is the target dome, as near as a search comes to it.
    fn is_target(&self, ask: Ask, (dome, _): &(Dome, Option<Solution>)) -> bool {
        match ask {
            Ask::Volume(volume) => (volume / dome.volume - 1.0).abs() < SAME_VOLUME,
            other => self.asks_for_target(other),
        }
    }

    /// A dome over its own base, as the blank sees it.
    pub(super) fn filled<'a>(&self, base: Base, shape: Shape<'a>) -> Filled<'a> {
        let own = shape.dome;
        let volume = own.volume + base.under;
        // Hydrostatics: p grows by ρ g for every bit further down.
        let rho_g = self.liquid.density.kg_per_m3() * GRAVITY;
        let pressure = own.pressure + Pressure::from_pa(rho_g * base.lift.m());
        let dome = Dome {
            outline_area: self.blank.outline().area(),
            volume,
            mass: volume * self.liquid.density,
            peak: own.peak + base.lift,
            pressure,
            ..own
        };
        Filled {
            dome,
            inset: base.inset,
            lift: base.lift,
            turn: base.turn,
            outline: self.blank.outline().clone(),
            shape,
        }
    }

    /// A dome's error, in the blank's own measures.
    pub(super) fn as_of_blank(&self, base: Base, error: DomeError) -> DomeError {
        match error {
            DomeError::TooMuch { most, peak } => DomeError::TooMuch {
                most: most + base.under,
                peak: peak + base.lift,
            },
            DomeError::OutOfRange { .. } if self.is_soft() => soft::out_of_range(self),
            other => other,
        }
    }

    fn is_soft(&self) -> bool {
        self.cuts.is_some()
    }
}

/// A question about a blank, as one about the dome over a base.
pub(super) fn over(base: Base, ask: Ask) -> Ask {
    match ask {
        Ask::Volume(volume) => Ask::Volume(volume - base.under),
        Ask::Peak(peak) => Ask::Peak(peak - base.lift),
        other => other,
    }
}

/// The most that a liquid climbs a vertical wall over its level far away,
/// `h = c sqrt(2 (1 - sin θ))`, met at the contact angle `θ` (de Gennes,
/// Brochard-Wyart and Quéré, Capillarity and Wetting Phenomena, 2004, ch. 2;
/// from memory). The wall is taken to hold the coating as the sealed top does.
fn climb(liquid: Liquid, contact: Angle) -> Length {
    liquid.capillary_length() * (2.0 * (1.0 - contact.rad().sin())).sqrt()
}

/// The most by which the middle lies below the mean inside a wall: what the wall
/// lifts is carried by the surface along it,
///
/// ```text
/// ρ g (V - A z) = γ P cos θ, so V/A - z = c² cos θ P/A
/// ```
///
/// with `z` the level at which the pressure is the air's. The middle lies there
/// or, where the wall's curve reaches it, higher; nor does a contact line that is
/// stopped at the rim lift more.
fn sag(floor: &Outline, liquid: Liquid, contact: Angle) -> Length {
    let c = liquid.capillary_length();
    let lifted = c * (c.mm() * contact.rad().cos() * floor.perimeter().mm());
    lifted / floor.area().mm2()
}

impl<'a> Filled<'a> {
    /// The surface over its contact line: heights count from the contact line,
    /// and its own measures are those of the dome above it.
    #[must_use]
    pub fn shape(&self) -> &Shape<'a> {
        &self.shape
    }

    /// Points of the surface from edge to edge across the middle: distance from
    /// the blank's left edge, and height over the flat top or the floor.
    #[must_use]
    pub fn section(&self) -> Vec<(Length, Length)> {
        let raised = |(x, z): (Length, Length)| (x, z + self.lift);
        if self.outline.is_plain() || self.inset.mm() <= 0.0 {
            let points = self.shape.section().into_iter();
            return points.map(|(x, z)| raised((x + self.inset, z))).collect();
        }
        // A tip moves further in than the edge beside it: cut where the blank is.
        let points = self.shape.across(&self.outline, &self.outline.cut());
        let points = points.into_iter();
        points
            .map(|(x, z)| raised((Length::from_mm(x), Length::from_mm(z))))
            .collect()
    }

    /// The height over the flat top or the floor at a place, measured from the
    /// middle as by [`Shape::height_at`]; `None` outside the contact line.
    #[must_use]
    pub fn height_at(&self, x: Length, y: Length) -> Option<Length> {
        Some(self.shape.height_at(x, y)? + self.lift)
    }
}
