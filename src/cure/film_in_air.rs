//! Water leaving one film in constant air: the integral behind the law of
//! water-based films.

use super::law::Process;
use super::numeric::{Interpolant, integral, root, secant};
use super::sorption::FloryHuggins;
use super::transfer::AirSide;
use crate::quantity::{Diffusivity, Humidity, Length};
use std::f64::consts::PI;

/// Density of water, `[kg/m3]`, near 20 °C (textbook).
const WATER: f64 = 998.0;
/// A film this close to balance with the air, in X, counts as at balance: far
/// below any meaning, and far enough above rounding for its flux to be told.
const AT_BALANCE: f64 = 1e-6;
/// Nodes through which the contents of many films are read: within 1e-7 of each
/// film's own, as a test shows.
const NODES: usize = 8;
/// One panel of the quadrature for so much of y: eight points, 1e-7 or better.
const PANEL: f64 = 2.5;

/// A film and the air over it.
pub(super) struct Film {
    /// The air side of its surface.
    pub(super) side: AirSide,
    /// Sorption of the polymer.
    pub(super) sorption: FloryHuggins,
    /// X of the polymer in saturated air.
    pub(super) saturation: f64,
    /// X at which the particles touch, `[1]`.
    pub(super) touching: f64,
    /// Relative humidity of the air.
    pub(super) humidity: Humidity,
    /// Dry film thickness, `h = s h_wet`.
    pub(super) dry: Length,
    /// Diffusivity of water in the film.
    pub(super) diffusivity: Diffusivity,
}

/// A film drying in constant air: everything that does not change with X.
pub(super) struct FilmInAir {
    side: AirSide,
    sorption: FloryHuggins,
    /// X at which the particles touch.
    touching: f64,
    /// X of the polymer in saturated air.
    saturation: f64,
    /// X in balance with this air.
    balance: f64,
    /// Flux while wet, `[kg/(m2 s)]`.
    wet_flux: f64,
    /// Mass of water per area and unit of X, `998 h` `[kg/m2]`.
    water: f64,
    /// Resistance of the film, `h/(998 D pi^2/4)` `[m2 s/kg]`.
    resistance: f64,
}

impl FilmInAir {
    /// Works out once what does not change while the film dries.
    pub(super) fn new(film: &Film) -> Self {
        let water = WATER * film.dry.m();
        // 998 D (pi^2/4)/h: the first mode of Fick's law in a slab dried from one side
        let across = WATER * film.diffusivity.m2_per_s() * PI * PI / 4.0 / film.dry.m();
        Self {
            side: film.side,
            sorption: film.sorption,
            touching: film.touching,
            saturation: film.saturation,
            balance: film.sorption.balance(film.humidity),
            wet_flux: film.side.evaporation(1.0).flux,
            water,
            resistance: 1.0 / across,
        }
    }

    /// Mass of water per area and unit of X, `[kg/m2]`.
    pub(super) fn water(&self) -> f64 {
        self.water
    }
    /// Resistance of the film, `[m2 s/kg]`.
    pub(super) fn resistance(&self) -> f64 {
        self.resistance
    }
    /// Mass-transfer coefficient of the air over it, `[m/s]`.
    pub(super) fn transfer(&self) -> f64 {
        self.side.transfer()
    }
    /// X at which the particles touch.
    pub(super) fn touching(&self) -> f64 {
        self.touching
    }
    /// Sorption of its polymer.
    pub(super) fn sorption(&self) -> FloryHuggins {
        self.sorption
    }

    /// Flux while wet in air that carries so much vapour `[kg/m3]`, `[kg/(m2 s)]`.
    pub(super) fn wet_flux_in(&self, carried: f64) -> f64 {
        self.side.carrying(carried).evaporation(1.0).flux
    }

    /// Flux at content `x` once the particles touch, in air that carries so much
    /// vapour `[kg/m3]`, `[kg/(m2 s)]`; less than nothing where the film takes up water.
    pub(super) fn falling_flux_in(&self, x: f64, carried: f64) -> f64 {
        self.side.carrying(carried).flux_through(|flux| {
            // Xs = X - R F, dry at the least; past Xsat the surface is as wet as water
            let surface = (x - self.resistance * flux).max(0.0);
            if surface >= self.saturation {
                1.0
            } else {
                self.sorption.activity(surface)
            }
        })
    }

    /// Flux with content `xs` at the film's surface, `[kg/(m2 s)]`.
    fn surface_flux(&self, xs: f64) -> f64 {
        self.side.evaporation(self.sorption.activity(xs)).flux
    }

    /// X below which the film, not the air, holds the water back: at it the
    /// surface is just saturated, `X = Xsat + F1 R`.
    fn film_limited(&self) -> f64 {
        (self.saturation + self.wet_flux * self.resistance).min(self.touching)
    }

    /// Content at the surface, the root of `Xs + R F(Xs) = X`, between the
    /// balance with the air and X.
    fn surface_content(&self, x: f64) -> f64 {
        let inside = x.min(self.saturation);
        root(
            |xs| xs + self.resistance * self.surface_flux(xs) - x,
            self.balance,
            inside,
        )
    }

    /// Time in the falling stage between two surface contents, `[s]`.
    ///
    /// With `X = Xs + R F(Xs)` the time splits into the film's part, exact, and
    /// the air's part, smooth once `y = ln|Xs - Xeq|`:
    ///
    /// ```text
    /// t = 998 h int dX/F = 998 h ( R ln(Fa/Fb) + int (Xs - Xeq)/F dy )
    /// ```
    fn falling(&self, from: f64, to: f64) -> f64 {
        let (away_from, away_to) = (from - self.balance, to - self.balance);
        let film = (self.surface_flux(from) / self.surface_flux(to)).ln() * self.resistance;
        let (y_to, y_from) = (away_to.abs().ln(), away_from.abs().ln());
        // contents further than AT_BALANCE from balance span less than 40, so 64 is never reached
        let panels = ((y_from - y_to).abs() / PANEL).ceil().clamp(1.0, 64.0);
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "1 to 64"
        )]
        let panels = panels as u32;
        let by_air = integral(
            |y| {
                let away = y.exp() * away_from.signum();
                away / self.surface_flux(self.balance + away)
            },
            y_to,
            y_from,
            panels,
        );
        self.water * (film + by_air)
    }
}

impl Process for FilmInAir {
    /// Time for content `from` to fall to content `to` in this air, `[s]`;
    /// `None` if it never does.
    fn seconds(&self, from: f64, to: f64) -> Option<f64> {
        if from <= to {
            return Some(0.0);
        }
        if to <= self.balance + AT_BALANCE {
            return None;
        }
        // while wet, and while the air cannot take what the film could give: F = F1
        let steady_until = to.max(self.film_limited());
        let steady = if from > steady_until {
            if self.wet_flux <= 0.0 {
                return None;
            }
            self.water * (from - steady_until) / self.wet_flux
        } else {
            0.0
        };
        let start = from.min(steady_until);
        if start <= to {
            return Some(steady);
        }
        Some(steady + self.falling(self.surface_content(start), self.surface_content(to)))
    }

    /// Content after `seconds` in this air from content `x`.
    fn after(&self, x: f64, seconds: f64) -> f64 {
        let steady_until = self.film_limited();
        let (x, left) = if x > steady_until {
            if self.wet_flux <= 0.0 {
                return x;
            }
            let steady = self.water * (x - steady_until) / self.wet_flux;
            if steady >= seconds {
                return x - self.wet_flux * seconds / self.water;
            }
            (steady_until, seconds - steady)
        } else {
            (x, seconds)
        };
        let distance = (x - self.balance).abs();
        if distance < AT_BALANCE {
            return self.balance;
        }
        match self.surface_after(self.surface_content(x), distance, left) {
            Some(xs) => xs + self.resistance * self.surface_flux(xs),
            None => self.balance,
        }
    }

    /// Past the bend where the film, and no longer the air, holds the water back,
    /// what is left after a time is a smooth function of what there was: many
    /// films are read off a polynomial through a few.
    fn after_each(&self, coats: &mut [f64], seconds: f64) {
        let limited = self.film_limited();
        // the driest come first
        let falling = coats.partition_point(|&coat| coat <= limited);
        let (falling, others) = coats.split_at_mut(falling);
        for coat in others {
            *coat = self.after(*coat, seconds);
        }
        match (falling.first().copied(), falling.last().copied()) {
            (Some(least), Some(most)) if falling.len() > 2 * NODES => {
                let read = Interpolant::through(NODES, least, most, |x| self.after(x, seconds));
                for coat in falling {
                    *coat = read.at(*coat);
                }
            }
            _ => {
                for coat in falling {
                    *coat = self.after(*coat, seconds);
                }
            }
        }
    }
}

impl FilmInAir {
    /// Content at the surface after so many `seconds` of the falling stage, of a film
    /// whose X is `distance` from balance; `None` where it is at balance by then.
    ///
    /// With `Xs = Xeq + (Xs0 - Xeq) exp(v)` the time is nearly a straight line in v.
    fn surface_after(&self, start: f64, distance: f64, seconds: f64) -> Option<f64> {
        let away = start - self.balance;
        let at = |v: f64| self.balance + away * v.exp();
        let time = |v: f64| self.falling(start, at(v));
        // near balance X and Xs close in at the same rate
        let nearest = (AT_BALANCE / distance).ln();
        // the straight line that it would be if the flux kept its ratio to the distance
        let line = self.water * (self.resistance + away / self.surface_flux(start));
        let guess = (-seconds / line).max(nearest);
        let quickly = secant(|v| time(v) - seconds, (0.0, -seconds), guess);
        if let Some(v) = quickly.filter(|v| (nearest..=0.0).contains(v)) {
            return Some(at(v));
        }
        (time(nearest) > seconds).then(|| at(root(|v| time(v) - seconds, nearest, 0.0)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cure::air::Air;
    use crate::cure::transfer::{BASE_COUPLING, Exposure, Footprint};

    fn film(humidity: Humidity, dry: Length) -> FilmInAir {
        let diameter = Length::from_mm(25.0);
        let exposure = Exposure::alone(Footprint::Disc { diameter }).unwrap();
        let air = Air::REFERENCE.with_humidity(humidity).unwrap();
        FilmInAir::new(&Film {
            side: AirSide::new(&exposure, &air, BASE_COUPLING),
            sorption: FloryHuggins::ACRYLIC,
            saturation: FloryHuggins::ACRYLIC.saturation(),
            touching: 0.5625,
            humidity,
            dry,
            diffusivity: Diffusivity::from_m2_per_s(2e-11),
        })
    }

    /// The same integral by a second route: over X itself, in many fine panels,
    /// with the surface content found anew at each.
    #[test]
    fn substitution_agrees_with_the_plain_integral() {
        for (percent, mm) in [
            (0.0, 1.0),
            (50.0, 1.0),
            (50.0, 0.02),
            (80.0, 0.1),
            (84.0, 2.0),
        ] {
            let film = film(Humidity::from_percent(percent), Length::from_mm(mm));
            let start = film.film_limited();
            let plain = integral(
                |x| film.water / film.surface_flux(film.surface_content(x)),
                0.04,
                start,
                3000,
            );
            let quick = film.seconds(start, 0.04).unwrap();
            assert!(
                (quick / plain - 1.0).abs() < 1e-7,
                "{percent} % {mm} mm: {quick} {plain}"
            );
        }
    }

    /// A dry 1 mm film alone: the first mode of the slab is 6.7 % longer than
    /// the exact series, 18.89 h against 17.71 h (waterborne.csv, check), a
    /// difference that is kept, for it promises no sooner than the series does.
    #[test]
    fn thick_films_approach_the_slab() {
        let film = film(Humidity::from_percent(50.0), Length::from_mm(1.0));
        let hours = film.seconds(0.5625, 0.04).unwrap() / 3600.0;
        // the air side adds 0.44 h
        assert!((hours - 18.892) > 0.0 && (hours - 18.892) < 0.5, "{hours}");
    }

    #[test]
    fn content_after_a_time_undoes_the_time_to_a_content() {
        let film = film(Humidity::from_percent(50.0), Length::from_mm(1.0));
        for to in [0.9, 0.57, 0.5, 0.3, 0.1, 0.045, 0.03, 0.0212] {
            let seconds = film.seconds(1.0, to).unwrap();
            let back = film.after(1.0, seconds);
            assert!((back - to).abs() < 1e-9, "{to} {back}");
        }
    }
}
