//! The dome on a blank whose top edge is rounded off.
//!
//! In section the edge is a quarter circle of radius `r`; the flat part is the
//! outline moved inward by `r`. The contact line stands where the rounding
//! begins until the angle to the surface there reaches the advancing angle
//! `θ_a`; then it moves onto the rounding and meets it everywhere at `θ_a`
//! (Gibbs; de Gennes, Brochard-Wyart and Quéré, Capillarity and Wetting
//! Phenomena, 2004, from memory). Having gone round by `α` it stands
//!
//! ```text
//! inset r (1 - sin α)    lowered r (1 - cos α)    edge angle θ = θ_a + α
//! ```
//!
//! and the liquid is the dome over that lower base less the solid that stands
//! above it, whose level cut at `a` is the outline moved inward by `r (1 - sin a)`:
//!
//! ```text
//! V = V_dome(α, θ) - ∫ A(r (1 - sin a)) r sin a da,    a from 0 to α
//! ```
//!
//! Three choices are our own. The brim limit is half-way round, `α` = 45
//! degrees: a coating's brim angle at a crisp edge is taken as `θ_a + 45°`, so
//! that a vanishing radius leads to the crisp edge's answers. An advancing
//! angle is no smaller than the receding one, the pull-back angle; so a coating
//! with a lower brim meets that brim sooner than half-way. And the contact line
//! goes round evenly along the whole outline, led by its steepest place.
//!
//! On a rounding much wider than the capillary length the liquid falls, as it
//! goes round, by more than its steeper edge lifts it: past some angle a fuller
//! blank has no dome to go to, and runs over. No dome past that is answered.

use super::blank::Blank;
use super::dome::{Ask, Dome, DomeError, Top};
use super::filling::{Base, Filled, Filling, over};
use super::outline::{Outline, OutlineError};
use super::quadrature::gauss_legendre;
use super::search::{Close, End, crossing, largest};
use crate::quantity::{Angle, Length, Volume};

/// How far round the edge the brim limit lies, degrees.
const BRIM_TURN: f64 = 45.0;
/// Where cuts are taken between the flat part and the outline, in radii inward:
/// with both they are the extremes of a Chebyshev polynomial, more than the
/// three that a quadratic needs, for outlines whose corners sharpen or whose
/// arms end within the rounding.
const INNER_CUTS: [f64; 3] = [0.853_553_390_593_273_8, 0.5, 0.146_446_609_406_726_2];
/// Points of the rule that sums the solid under a dome: exact to 1e-12 where
/// the level cut is a polynomial of `sin a`.
const POINTS: usize = 8;
/// A change of the turn by which the growth of a dome is judged, radians.
const STEP: f64 = 0.01;

/// What stands on the blank, asked by anything but mass.
pub(super) fn shape(filling: &Filling, ask: Ask) -> Result<Filled<'_>, DomeError> {
    match ask {
        Ask::EdgeAngle(angle) => by_angle(filling, angle),
        Ask::Volume(volume) => by_amount(filling, Amount::Volume(volume)),
        Ask::Peak(peak) => by_amount(filling, Amount::Peak(peak)),
        Ask::Mass(mass) => by_amount(filling, Amount::Volume(mass / filling.liquid.density)),
    }
}

/// The dome at the brim limit, or the fullest before it.
pub(super) fn brim(filling: &Filling) -> Result<Filled<'_>, DomeError> {
    let brim = filling.angles.brim;
    let turn = turn_at(filling, brim);
    if brim.rad() > steepest(filling) + 1e-9 {
        return Err(out_of_range(filling));
    }
    let filled = stand(filling, turn, Ask::EdgeAngle(brim))?;
    if grows(filling, turn, &filled)? {
        Ok(filled)
    } else {
        fullest(filling, turn, |dome| dome.volume.mm3())
    }
}

/// Nothing, or an edge steeper than can be answered, was asked for.
pub(super) fn out_of_range(filling: &Filling) -> DomeError {
    DomeError::OutOfRange {
        steepest: Angle::from_rad(steepest(filling)),
    }
}

/// The advancing angle, radians.
fn advancing(filling: &Filling) -> f64 {
    let past_crisp = filling.angles.brim.rad() - BRIM_TURN.to_radians();
    past_crisp.max(filling.angles.pull_back.rad())
}

/// The steepest edge: as far as a top is solved for, and no further round than
/// where the side begins.
fn steepest(filling: &Filling) -> f64 {
    let side = advancing(filling) + std::f64::consts::FRAC_PI_2;
    filling.flat.steepest().min(side)
}

/// How far round the contact line stands at an edge angle, radians.
fn turn_at(filling: &Filling, angle: Angle) -> f64 {
    (angle.rad() - advancing(filling)).max(0.0)
}

/// The largest turn that is answered.
fn largest_turn(filling: &Filling) -> f64 {
    (steepest(filling) - advancing(filling)).max(0.0)
}

/// Level cuts through the solid within the rounding.
pub(super) struct Cuts {
    /// Radius of the rounding, mm.
    radius: f64,
    /// How far outward of the flat part, mm, and the area there, mm².
    areas: Vec<(f64, f64)>,
}

impl Cuts {
    /// Cuts through a blank, from its flat part to its outline.
    pub fn through(blank: &Blank, flat: &Outline) -> Result<Self, OutlineError> {
        let radius = blank.edge().mm();
        let mut areas = vec![(0.0, flat.area().mm2())];
        for inset in INNER_CUTS.map(|share| radius * share) {
            let cut = blank.outline().inset(Length::from_mm(inset))?;
            areas.push((radius - inset, cut.area().mm2()));
        }
        areas.push((radius, blank.outline().area().mm2()));
        Ok(Self { radius, areas })
    }

    /// The area this far outward of the flat part, interpolated (Lagrange): a
    /// quadratic as long as no feature of the outline comes or goes (Steiner).
    fn area(&self, outward: f64) -> f64 {
        let share = |(i, &(here, area)): (usize, &(f64, f64))| {
            let others = self.areas.iter().enumerate().filter(|(j, _)| *j != i);
            let factors = others.map(|(_, (there, _))| (outward - there) / (here - there));
            area * factors.product::<f64>()
        };
        self.areas.iter().enumerate().map(share).sum()
    }

    /// The solid above the level of a contact line that went round by `turn`.
    fn solid(&self, turn: f64) -> Volume {
        let slice = |(place, weight): (f64, f64)| {
            // A r sin a da, the area of the cut at r sin a
            let outward = self.radius * (place * turn).sin();
            self.area(outward) * outward * weight * turn
        };
        Volume::from_mm3(gauss_legendre(POINTS).into_iter().map(slice).sum())
    }
}

/// The base of a contact line that went round by `turn` radians.
fn base(filling: &Filling, turn: f64) -> Base {
    let r = filling.blank.edge();
    let (sin, cos) = turn.sin_cos();
    let solid = filling
        .cuts
        .as_ref()
        .map_or(Volume::ZERO, |cuts| cuts.solid(turn));
    Base {
        inset: r * (1.0 - sin),
        lift: r * (cos - 1.0),
        turn: Angle::from_rad(turn),
        under: solid * -1.0,
    }
}

/// The dome whose contact line went round by `turn`, whatever angle it meets.
fn stand(filling: &Filling, turn: f64, ask: Ask) -> Result<Filled<'_>, DomeError> {
    if turn <= 0.0 {
        return filling.on_flat(Base::flat(filling.blank.edge()), ask);
    }
    let base = base(filling, turn);
    let outline = filling.blank.outline().inset(base.inset);
    let outline = outline.map_err(|_| DomeError::NotFound)?;
    let top = Top::new(&outline, filling.liquid)?;
    let shape = top.into_shape(over(base, ask));
    let shape = shape.map_err(|e| filling.as_of_blank(base, e))?;
    Ok(filling.filled(base, shape))
}

/// The dome at the advancing angle whose contact line went round by `turn`.
fn advanced(filling: &Filling, turn: f64) -> Result<Filled<'_>, DomeError> {
    let angle = (advancing(filling) + turn).min(steepest(filling));
    stand(filling, turn, Ask::EdgeAngle(Angle::from_rad(angle)))
}

/// Whether the liquid still grows as the contact line goes further round.
fn grows(filling: &Filling, turn: f64, filled: &Filled) -> Result<bool, DomeError> {
    if turn <= 0.0 {
        return Ok(true);
    }
    // dV/dα = ∂V/∂θ - A r sin α + what the line's way outward adds
    let own = &filled.shape.dome;
    let less = Angle::from_rad(own.edge_angle.rad() - STEP.min(own.edge_angle.rad() / 2.0));
    let less = filled.shape.top().dome(Ask::EdgeAngle(less))?;
    let rate = (own.volume - less.volume).mm3() / (own.edge_angle - less.edge_angle).rad();
    let fall = own.outline_area.mm2() * filling.blank.edge().mm() * turn.sin();
    if rate >= fall {
        return Ok(true);
    }
    let before = advanced(filling, (turn - STEP).max(0.0))?;
    Ok(before.dome.volume.mm3() < filled.dome.volume.mm3())
}

/// The dome with the most of a measure, gone round by `most` at the furthest.
fn fullest(
    filling: &Filling,
    most: f64,
    measure: impl Fn(&Dome) -> f64,
) -> Result<Filled<'_>, DomeError> {
    let at = |turn: f64| Ok(measure(&advanced(filling, turn)?.dome));
    if at((most - STEP).max(0.0))? < at(most)? {
        return advanced(filling, most);
    }
    // A meshed dome is uncertain by some 1e-5, so its hump is by the root of that.
    let width = if filling.flat.is_meshed() { 2e-3 } else { 1e-5 };
    advanced(filling, largest([0.0, most], width, at)?)
}

fn by_angle(filling: &Filling, angle: Angle) -> Result<Filled<'_>, DomeError> {
    if angle.rad() > steepest(filling) + 1e-9 {
        return Err(out_of_range(filling));
    }
    let turn = turn_at(filling, angle);
    let filled = stand(filling, turn, Ask::EdgeAngle(angle))?;
    if grows(filling, turn, &filled)? {
        return Ok(filled);
    }
    let steepest = fullest(filling, turn, |dome| dome.volume.mm3())?;
    Err(DomeError::OutOfRange {
        steepest: steepest.dome.edge_angle,
    })
}

/// A measure that grows with the turn, up to some turn.
#[derive(Clone, Copy)]
enum Amount {
    Volume(Volume),
    Peak(Length),
}

/// The dome that holds an amount: the turn is sought at which the angle of its
/// edge is the advancing angle and the turn together.
fn by_amount(filling: &Filling, amount: Amount) -> Result<Filled<'_>, DomeError> {
    let low = trial(filling, amount, 0.0)?;
    if low.0 <= 0.0 {
        return low.1.ok_or(DomeError::NotFound);
    }
    let mut far = turn_at(filling, filling.angles.brim).min(largest_turn(filling));
    let mut high = trial(filling, amount, far)?;
    if high.0 > 0.0 {
        far = furthest(filling, amount)?;
        high = trial(filling, amount, far)?;
    }
    let end = |place, miss| End { place, miss };
    // The amount is met at every trial as well as a top meets it, and the angle
    // is as certain: to some 1e-9 on a disc; on a mesh it jumps by some 1e-6 as
    // triangles come and go.
    let [miss, width] = if filling.flat.is_meshed() {
        [1e-6, 1e-6]
    } else {
        [1e-8, 1e-10]
    };
    let found = crossing(
        [end(0.0, low.0), end(far, high.0)],
        Close { miss, width },
        |turn| trial(filling, amount, turn),
    )?;
    found.flatten().ok_or(DomeError::NotFound)
}

/// The turn with the most of a measure, if that is no less than the amount.
fn furthest(filling: &Filling, amount: Amount) -> Result<f64, DomeError> {
    let most = fullest(filling, largest_turn(filling), |dome| dome.volume.mm3())?;
    // On a wide rounding the peak sinks again before the volume does.
    let highest = fullest(filling, most.turn.rad(), |dome| dome.peak.mm())?;
    let (turn, fits) = match amount {
        Amount::Volume(volume) => (most.turn, volume.mm3() < most.dome.volume.mm3()),
        Amount::Peak(peak) => (highest.turn, peak.mm() < highest.dome.peak.mm()),
    };
    if fits {
        Ok(turn.rad())
    } else {
        Err(DomeError::TooMuch {
            most: most.dome.volume,
            peak: highest.dome.peak,
        })
    }
}

/// The dome asked for on a contact line that went round by `turn`, and by how
/// much its edge is too steep for it, radians. More than fits there is at least
/// as steep as is solved for.
fn trial(
    filling: &Filling,
    amount: Amount,
    turn: f64,
) -> Result<(f64, Option<Filled<'_>>), DomeError> {
    let ask = match amount {
        Amount::Volume(volume) => Ask::Volume(volume),
        Amount::Peak(peak) => Ask::Peak(peak),
    };
    let right = advancing(filling) + turn;
    match stand(filling, turn, ask) {
        Ok(filled) => Ok((filled.dome.edge_angle.rad() - right, Some(filled))),
        Err(DomeError::TooMuch { .. }) => Ok((filling.flat.steepest() - right, None)),
        Err(error) => Err(error),
    }
}
