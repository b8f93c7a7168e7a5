//! Water leaving films in a box whose air they make damp.
//!
//! ```text
//! 998 h dX/dt = -F(X, c)
//! Vb dc/dt    = A F(X, c) - n Vb (c - c_out)
//! ```
//!
//! F is the flux of [`FilmInAir`], with its cooling, in air that carries c. Water that
//! settles on the walls, where the room cools, is not followed: the air in the box then
//! holds what it can and no more.

use super::enclosure::Enclosure;
use super::film_in_air::FilmInAir;
use super::law::{Advance, InBox, Standing};
use super::numeric::root;
use super::psychro::{saturation_density, vapour_density};
use super::rosenbrock::{End, Pair, State, Until};
use super::situation::Situation;
use crate::quantity::Density;

/// Each step's error stays below this share of a film's water and of saturated air.
/// Times are then within 1e-5.
const TOLERANCE: f64 = 1e-6;
/// What changes by less than this in all the time that films and boxes take to settle
/// counts as at rest: in X, and as a share of saturated air.
const AT_REST: f64 = 1e-7;
/// Slope of a dry film's water activity with X, at the least, `[1]`: it is 10 to 40
/// wherever a film can be in balance with air.
const ACTIVITY_SLOPE: f64 = 5.0;

/// A film and the box it dries in with its like.
pub(super) struct FilmInBox {
    film: FilmInAir,
    /// Wet area per volume, A/Vb, `[1/m]`.
    crowd: f64,
    /// Air changes n, `[1/s]`.
    changes: f64,
    /// Vapour outside, `[kg/m3]`.
    outside: f64,
    /// Vapour of saturated air, `[kg/m3]`.
    saturated: f64,
    tolerance: f64,
}

impl FilmInBox {
    /// The film as it is in the situation's box.
    pub(super) fn new(film: FilmInAir, enclosure: &Enclosure, situation: &Situation) -> Self {
        let area = enclosure.wet_area(&situation.exposure());
        Self {
            film,
            crowd: area.m2() / enclosure.volume().m3(),
            changes: enclosure.air_changes().per_s(),
            outside: vapour_density(&situation.air()).kg_per_m3(),
            saturated: saturation_density(situation.air().temperature()).kg_per_m3(),
            tolerance: TOLERANCE,
        }
    }

    /// Slopes of X and c by a flux from the films.
    fn slopes(&self, flux: f64, carried: f64) -> State {
        // dX/dt = -F/(998 h),  dc/dt = A/Vb F - n (c - c_out)
        [
            -flux / self.film.water(),
            self.crowd * flux - self.changes * (carried - self.outside),
        ]
    }

    /// How long it takes a film and the box to settle, `[s]`.
    fn settling(&self) -> f64 {
        let transfer = self.film.transfer();
        let air = 1.0 / (transfer * self.saturated * ACTIVITY_SLOPE);
        self.film.water() * (self.film.resistance() + air)
            + 1.0 / (transfer * self.crowd + self.changes)
    }

    /// Follows film and box until X falls to `goal`, through both stages.
    fn follow(&self, from: State, goal: f64, seconds: f64) -> End {
        let touching = self.film.touching();
        if from[0] <= goal {
            return End::Reached(0.0, from);
        }
        if from[0] <= touching {
            return self.stage(from, goal, seconds, &|x, c| self.film.falling_flux_in(x, c));
        }
        let wet = |_: f64, c: f64| self.film.wet_flux_in(c);
        let skin = self.stage(from, goal.max(touching), seconds, &wet);
        match skin {
            End::Reached(passed, at) if goal < touching => {
                let rest = self.stage([touching, at[1]], goal, seconds - passed, &|x, c| {
                    self.film.falling_flux_in(x, c)
                });
                match rest {
                    End::Reached(more, at) => End::Reached(passed + more, at),
                    other => other,
                }
            }
            other => other,
        }
    }

    /// Follows film and box through one stage, in which `flux` gives F(X, c).
    fn stage(&self, from: State, goal: f64, seconds: f64, flux: &dyn Fn(f64, f64) -> f64) -> End {
        let settling = self.settling();
        let pair = Pair {
            slope: &|y| self.slopes(flux(y[0], y[1]), y[1]),
            scale: [1.0, self.saturated],
            tolerance: self.tolerance,
        };
        let until = Until {
            goal,
            seconds,
            at_rest: &|slope| {
                slope[0].abs() * settling < AT_REST
                    && slope[1].abs() * settling < AT_REST * self.saturated
            },
        };
        pair.follow(from, 1e-3 * settling.min(3600.0), &until)
    }

    /// Vapour of saturated air, `[kg/m3]`.
    pub(super) fn saturated(&self) -> f64 {
        self.saturated
    }

    /// Vapour that a ventilated box comes to while its films are wet, `[kg/m3]`.
    pub(super) fn settled(&self) -> Option<f64> {
        // A/Vb F(c) = n (c - c_out)
        let gain = |c: f64| self.slopes(self.film.wet_flux_in(c), c)[1];
        (self.changes > 0.0).then(|| root(gain, self.outside, self.saturated))
    }

    /// How many times longer the wet stage takes than in the open, in air that moves
    /// as the box's: the ratio of the fluxes.
    pub(super) fn slows_wet_stage(&self) -> Option<f64> {
        let settled = self.settled()?;
        Some(self.film.wet_flux_in(self.outside) / self.film.wet_flux_in(settled))
    }

    /// X at which a film in a sealed box stalls: all that it lost is in the air, which
    /// is in balance with it.
    pub(super) fn stalls_at(&self, from: Standing) -> f64 {
        // 998 h A/Vb (X0 - X) = c - c0
        let per_x = self.film.water() * self.crowd;
        let missing =
            |x: f64, carried: f64| carried - from.vapour.kg_per_m3() - per_x * (from.coat - x);
        let full = from.coat - (self.saturated - from.vapour.kg_per_m3()) / per_x;
        let sorption = self.film.sorption();
        let most = sorption.saturation().min(from.coat);
        if full >= most {
            return full.min(from.coat);
        }
        // c = csat aw(X)
        root(
            |x| missing(x, self.saturated * sorption.activity(x)),
            0.0,
            most,
        )
    }
}

impl InBox for FilmInBox {
    fn until(&self, from: Standing, goal: f64, seconds: f64) -> Advance {
        let carried = from.vapour.kg_per_m3().min(self.saturated);
        match self.follow([from.coat, carried], goal, seconds) {
            End::Reached(seconds, _) => Advance::Reached(seconds),
            End::TimeUp([coat, carried]) | End::AtRest([coat, carried]) => {
                Advance::Left(Standing {
                    coat,
                    vapour: Density::from_kg_per_m3(carried),
                })
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cure::air::Air;
    use crate::cure::film_in_air::Film;
    use crate::cure::law::Process;
    use crate::cure::sorption::FloryHuggins;
    use crate::cure::transfer::{AirSide, BASE_COUPLING, Exposure, Footprint};
    use crate::quantity::{AirChanges, Diffusivity, Length, Volume};

    /// 2 mm domes, half of it solids, on 25 mm rounds.
    fn film(situation: &Situation) -> FilmInAir {
        FilmInAir::new(&Film {
            side: AirSide::new(
                &situation.exposure(),
                &situation.air_over_coat(),
                BASE_COUPLING,
            ),
            sorption: FloryHuggins::ACRYLIC,
            saturation: FloryHuggins::ACRYLIC.saturation(),
            touching: 0.5625,
            humidity: situation.air().humidity(),
            dry: situation.wet_depth() / 2.0,
            diffusivity: Diffusivity::from_m2_per_s(2e-11),
        })
    }

    fn in_cupboard(changes: f64, depth: f64) -> Situation {
        let diameter = Length::from_mm(25.0);
        let alone = Exposure::alone(Footprint::Disc { diameter }).unwrap();
        let changes = AirChanges::from_per_h(changes);
        let cupboard = Enclosure::new(Volume::from_l(60.0), changes, 24).unwrap();
        Situation::new(Air::REFERENCE, alone, Length::from_mm(depth)).enclosed(Some(cupboard))
    }

    fn boxed(situation: &Situation, tolerance: f64) -> FilmInBox {
        let enclosure = situation.enclosure().unwrap();
        FilmInBox {
            tolerance,
            ..FilmInBox::new(film(situation), &enclosure, situation)
        }
    }

    fn seconds(boxed: &FilmInBox, situation: &Situation) -> f64 {
        match boxed.until(Standing::fresh(1.0, situation), 0.04, f64::INFINITY) {
            Advance::Reached(seconds) => seconds,
            Advance::Left(at) => panic!("{at:?}"),
        }
    }

    /// The error goes with the tolerance and is no more than ten times it.
    #[test]
    fn a_finer_tolerance_changes_nothing_beyond_its_order() {
        for (changes, depth) in [(0.5, 2.0), (10.0, 2.0), (2.0, 0.1)] {
            let situation = in_cupboard(changes, depth);
            let time = |tolerance| seconds(&boxed(&situation, tolerance), &situation);
            let best = time(1e-10);
            for tolerance in [1e-4, 1e-5, TOLERANCE, TOLERANCE / 2.0, 1e-7] {
                let off = (time(tolerance) / best - 1.0).abs();
                assert!(
                    off < 10.0 * tolerance,
                    "{changes}/h {depth} mm {tolerance}: {off:e}"
                );
            }
        }
    }

    /// In air that stays as dry as the room's the flux is that of the film in air, and
    /// so is the time, by a wholly different route.
    #[test]
    fn a_box_full_of_fresh_air_agrees_with_the_integral() {
        for depth in [0.05, 0.3, 2.0] {
            let situation = in_cupboard(1e5, depth);
            let in_air = Process::seconds(&film(&situation), 1.0, 0.04).unwrap();
            let in_box = seconds(&boxed(&situation, TOLERANCE), &situation);
            // the box's own damp air: 1 + k A/(n Vb)
            assert!(
                (in_box / in_air - 1.0).abs() < 1e-4,
                "{depth} {in_box} {in_air}"
            );
        }
    }
}
