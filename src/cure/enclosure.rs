//! A box around wet pieces, a cupboard or a tub, that fills with their vapour.
//!
//! ```text
//! Vb dc/dt = k A (cs - c) - n Vb (c - c_out)
//! c* = (k A cs + n Vb c_out)/(k A + n Vb),   tau = 1/(k A/Vb + n)
//! c(t) = c* + (c0 - c*) exp(-t/tau)
//! ```
//!
//! c is the vapour density in the box, cs that of saturated air, A the wet area of all
//! pieces, Vb the volume, n the air changes and k the mass-transfer coefficient. The
//! closed form holds while the surfaces stay wet and as warm as the air; how a film
//! dries through in a box, cooling itself, is what
//! [`WaterFilm`](super::water_film::WaterFilm) works out for a
//! [`Situation`](super::Situation) in one.
//!
//! Water that cardboard or bare wood takes up is not counted (it helps a little).
//!
//! How large an opening gives so many air changes is not told: the handbooks' rules
//! for openings need a wind or air that is warmer inside than outside, and a cupboard
//! in a still room has neither.

use super::air::{Air, AirError, Draught};
use super::psychro::{saturation_density, vapour_density};
use super::transfer::{Exposure, transfer_coefficient};
use crate::quantity::{
    AirChanges, AirFlow, Area, Density, Humidity, Mass, Share, Speed, Time, Volume,
};

/// A closed cupboard or a tub with a lid, and how many wet pieces are in it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Enclosure {
    volume: Volume,
    air_changes: AirChanges,
    pieces: u32,
    speed_inside: Speed,
}

/// Why a box was refused.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum EnclosureError {
    /// A volume outside 0.05 L to 1000 m3.
    #[error("a box of {:.3} L is outside 0.05 L to 1000 m3", .0.l())]
    Volume(Volume),
    /// Fewer than no air changes, or more than 100 000 an hour.
    #[error("{:.2} air changes an hour are outside 0 to 100000", .0.per_h())]
    AirChanges(AirChanges),
    /// No wet piece, or more than 100 000.
    #[error("{0} wet pieces in a box: it takes 1 to 100000")]
    Pieces(u32),
    /// Air that can't move like that.
    #[error(transparent)]
    Air(#[from] AirError),
}

impl Enclosure {
    /// A box of this inner volume, 0.05 L to 1000 m3, whose air is replaced by the
    /// room's so often (0 where it is sealed, 100 000 an hour at most) with so many wet
    /// pieces in it. Its air moves at 0.02 m/s, as under a lid.
    ///
    /// ```
    /// use brimful::cure::{air::Air, enclosure::Enclosure, transfer::{Exposure, Footprint}};
    /// use brimful::quantity::{AirChanges, Length, Volume};
    ///
    /// // one 25 mm round in a sealed tub of 5 L: the air in it takes 0.05 g of water
    /// let tub = Enclosure::new(Volume::from_l(5.0), AirChanges::ZERO, 1)?;
    /// let piece = Exposure::alone(Footprint::Disc { diameter: Length::from_mm(25.0) })?;
    /// let filling = tub.filling(&piece, &Air::REFERENCE);
    /// assert!((filling.takes_up().g() - 0.0513).abs() < 1e-3);
    /// assert_eq!(filling.slowdown(), None);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// [`EnclosureError`] naming what is out of range.
    pub fn new(
        volume: Volume,
        air_changes: AirChanges,
        pieces: u32,
    ) -> Result<Self, EnclosureError> {
        if !(0.05..=1e6).contains(&volume.l()) {
            return Err(EnclosureError::Volume(volume));
        }
        if !(0.0..=1e5).contains(&air_changes.per_h()) {
            return Err(EnclosureError::AirChanges(air_changes));
        }
        if !(1..=100_000).contains(&pieces) {
            return Err(EnclosureError::Pieces(pieces));
        }
        Ok(Self {
            volume,
            air_changes,
            pieces,
            speed_inside: Draught::ClosedBox.film_speed(),
        })
    }

    /// The same with air that moves otherwise inside: [`Draught::Sheltered`] in a
    /// cupboard, faster with a fan in it.
    ///
    /// # Errors
    /// [`EnclosureError::Air`] for a speed outside 0 to 5 m/s.
    pub fn with_air_inside(self, inside: Draught) -> Result<Self, EnclosureError> {
        self.with_speed_inside(inside.film_speed())
    }
    /// The same with air that moves so fast past the pieces.
    ///
    /// # Errors
    /// As [`with_air_inside`](Self::with_air_inside).
    pub fn with_speed_inside(self, speed_inside: Speed) -> Result<Self, EnclosureError> {
        Air::REFERENCE.with_speed(speed_inside)?;
        Ok(Self {
            speed_inside,
            ..self
        })
    }
    /// The same with its air replaced so often.
    ///
    /// # Errors
    /// [`EnclosureError::AirChanges`] outside 0 to 100 000 an hour.
    pub fn with_air_changes(self, air_changes: AirChanges) -> Result<Self, EnclosureError> {
        Ok(Self {
            speed_inside: self.speed_inside,
            ..Self::new(self.volume, air_changes, self.pieces)?
        })
    }

    /// Inner volume.
    #[must_use]
    pub fn volume(&self) -> Volume {
        self.volume
    }
    /// How often its air is replaced.
    #[must_use]
    pub fn air_changes(&self) -> AirChanges {
        self.air_changes
    }
    /// Wet pieces in it.
    #[must_use]
    pub fn pieces(&self) -> u32 {
        self.pieces
    }
    /// Speed of the air past the pieces.
    #[must_use]
    pub fn speed_inside(&self) -> Speed {
        self.speed_inside
    }
    /// Whether no air gets in or out.
    #[must_use]
    pub fn is_sealed(&self) -> bool {
        self.air_changes == AirChanges::ZERO
    }

    /// The air in it as long as no water has evaporated: that of the room, moving as
    /// the box's does.
    #[must_use]
    pub fn air_inside(&self, outside: &Air) -> Air {
        // the speed was checked when the box was made
        outside.with_speed(self.speed_inside()).unwrap_or(*outside)
    }

    /// Wet area of all its pieces, each of which lies like this one.
    #[must_use]
    pub fn wet_area(&self, exposure: &Exposure) -> Area {
        exposure.footprint().area() * f64::from(self.pieces)
    }

    /// The box as it fills with vapour from pieces that stay wet, starting from the
    /// room's air.
    #[must_use]
    pub fn filling(&self, exposure: &Exposure, outside: &Air) -> Filling {
        let transfer = transfer_coefficient(exposure, &self.air_inside(outside));
        Filling {
            enclosure: *self,
            conductance: transfer * self.wet_area(exposure).m2(),
            saturated: saturation_density(outside.temperature()).kg_per_m3(),
            outside: vapour_density(outside).kg_per_m3(),
        }
    }
}

/// A box filling with the vapour of surfaces that stay wet and as warm as the air.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Filling {
    enclosure: Enclosure,
    /// k A, `[m3/s]`.
    conductance: f64,
    /// cs, `[kg/m3]`.
    saturated: f64,
    /// `c_out`, and c0 with it, `[kg/m3]`.
    outside: f64,
}

impl Filling {
    /// n Vb, `[m3/s]`.
    fn exchange(&self) -> f64 {
        self.enclosure.air_changes.per_s() * self.enclosure.volume.m3()
    }

    /// `c*`, `[kg/m3]`.
    fn settled(&self) -> f64 {
        let (ka, nv) = (self.conductance, self.exchange());
        // c* = (k A cs + n Vb c_out)/(k A + n Vb)
        (ka * self.saturated + nv * self.outside) / (ka + nv)
    }

    fn humidity(&self, carried: f64) -> Humidity {
        Humidity::from_fraction(carried / self.saturated)
    }

    /// How fast it fills: `tau = 1/(k A/Vb + n)`.
    #[must_use]
    pub fn time_constant(&self) -> Time {
        let (ka, nv) = (self.conductance, self.exchange());
        Time::from_s(self.enclosure.volume.m3() / (ka + nv))
    }

    /// Vapour in the box after a time.
    #[must_use]
    pub fn carried_after(&self, time: Time) -> Density {
        let settled = self.settled();
        // c(t) = c* + (c0 - c*) exp(-t/tau)
        let left = (-(time / self.time_constant())).exp();
        Density::from_kg_per_m3(settled + (self.outside - settled) * left)
    }

    /// Relative humidity in the box after a time.
    #[must_use]
    pub fn humidity_after(&self, time: Time) -> Humidity {
        self.humidity(self.carried_after(time).kg_per_m3())
    }

    /// Relative humidity it settles at.
    #[must_use]
    pub fn settles_at(&self) -> Humidity {
        self.humidity(self.settled())
    }

    /// Vapour in the box once it has settled.
    #[must_use]
    pub fn settles_with(&self) -> Density {
        Density::from_kg_per_m3(self.settled())
    }

    /// Water evaporated by then.
    #[must_use]
    pub fn evaporated_by(&self, time: Time) -> Mass {
        let (settled, tau) = (self.settled(), self.time_constant().s());
        let gone = -(-time.s() / tau).exp_m1();
        // k A ((cs - c*) t - (c0 - c*) tau (1 - exp(-t/tau)))
        Mass::from_kg(
            self.conductance
                * ((self.saturated - settled) * time.s() - (self.outside - settled) * tau * gone),
        )
    }

    /// How many times longer the wet stage takes than in the open, in air that moves
    /// as the box's: `1 + k A/(n Vb)`. Nothing for a sealed box, where there is no end to it.
    #[must_use]
    pub fn slowdown(&self) -> Option<f64> {
        (!self.enclosure.is_sealed()).then(|| 1.0 + self.conductance / self.exchange())
    }

    /// Water that the air in the box takes up beside what it holds: `Vb (cs - c0)`.
    #[must_use]
    pub fn takes_up(&self) -> Mass {
        Mass::from_kg(self.enclosure.volume.m3() * (self.saturated - self.outside))
    }

    /// Time for so much water to evaporate; nothing where it never does.
    #[must_use]
    pub fn time_to_lose(&self, water: Mass) -> Option<Time> {
        if self.enclosure.is_sealed() && water >= self.takes_up() {
            return None;
        }
        let open = self.time_in_the_open(water)?;
        // a box never helps, and slows no more than its settled air does throughout
        let longest = self.slowdown().map_or_else(
            || {
                let share = 1.0 - water / self.takes_up();
                // sealed: 1 - exp(-t/tau) = water/takes_up
                self.time_constant() * -share.ln()
            },
            |times| open * times,
        );
        let missing = |t: f64| self.evaporated_by(Time::from_s(t)).kg() - water.kg();
        Some(Time::from_s(super::numeric::root(
            missing,
            open.s(),
            longest.s().max(open.s()),
        )))
    }

    /// The same with no box around, in air that moves as the box's; nothing in
    /// saturated air.
    #[must_use]
    pub fn time_in_the_open(&self, water: Mass) -> Option<Time> {
        let rate = self.conductance * (self.saturated - self.outside);
        (rate > 0.0).then(|| Time::from_s(water.kg() / rate))
    }

    /// When the pieces give off no more than this share of what they did at first;
    /// nothing where it settles at more than that.
    #[must_use]
    pub fn rate_falls_to(&self, share: Share) -> Option<Time> {
        let settled = (self.saturated - self.settled()) / (self.saturated - self.outside);
        // (cs - c)/(cs - c0) = settled + (1 - settled) exp(-t/tau)
        let left = (share.fraction() - settled) / (1.0 - settled);
        (left > 0.0 && left <= 1.0).then(|| self.time_constant() * -left.ln())
    }

    /// Fewest air changes for the wet stage to take at most `times` as long as in the
    /// open: `n Vb >= k A/(times - 1)`; for a quarter more, `n Vb >= 4 k A`. Nothing
    /// where no ventilation is enough, `times` being 1 or less.
    #[must_use]
    pub fn least_air_changes(&self, times: f64) -> Option<AirChanges> {
        let flow = self.least_fresh_air(times)?;
        Some(AirChanges::from_per_s(
            flow.m3_per_s() / self.enclosure.volume.m3(),
        ))
    }

    /// The same as a flow of fresh air, which does not depend on the size of the box.
    #[must_use]
    pub fn least_fresh_air(&self, times: f64) -> Option<AirFlow> {
        (times > 1.0).then(|| AirFlow::from_m3_per_s(self.conductance / (times - 1.0)))
    }
}
