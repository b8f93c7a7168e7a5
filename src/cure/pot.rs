//! A mixed resin in its cup, which heats itself.
//!
//! ```text
//! m cp dT/dt = m DH da/dt - U A (T - Ta)
//! 1/U = 1/h + (path inside)
//! ```
//!
//! One temperature for the whole cup, and a reaction that its glass transition does
//! not slow, for it runs hot: so its peak is an upper bound and is never told as a
//! figure. The speed of the resin comes from the pot life on its own label.

use super::epoxy::glass::arrhenius;
use super::epoxy::kinetics::{Freezing, GEL, Kinetics};
use super::law::LawError;
use super::numeric::{GAS_CONSTANT, integral, root};
use super::runge_kutta::{Tolerance, follow};
use crate::quantity::{
    Area, Density, Length, Mass, Share, Temperature, TemperatureDifference, Time,
};
use std::f64::consts::PI;

/// What a mixed resin is like to heat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Resin {
    /// DH: heat of the whole reaction, `[J/kg]`.
    pub heat_of_reaction: f64,
    /// cp: heat to warm it, `[J/(kg K)]`.
    pub heat_capacity: f64,
    /// Density of the mix, `[kg/m3]`.
    pub density: Density,
    /// How it conducts heat, `[W/(m K)]`.
    pub conductivity: f64,
}

impl Resin {
    /// A usual dome resin. The heat of reaction: 356 J/g is published for one resin that
    /// cures at room temperature, 300 to 450 J/g typical; the rest is typical, from memory.
    pub const USUAL: Self = Self {
        heat_of_reaction: 350e3,
        heat_capacity: 1900.0,
        density: Density::from_kg_per_m3(1100.0),
        conductivity: 0.20,
    };

    /// How much it would warm if none of its heat got away: `DH / cp`.
    #[must_use]
    pub fn adiabatic_rise(&self) -> TemperatureDifference {
        TemperatureDifference::from_k(self.heat_of_reaction / self.heat_capacity)
    }
}

/// How heat leaves a cup into still air, `[W/(m2 K)]`: typical, from memory.
const AIR_FILM: f64 = 10.0;

/// What the mix stands in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Cup {
    /// A beaker filled as high as it is wide.
    AsTallAsWide,
    /// A flat round tray, filled so deep.
    Tray {
        /// Depth of the resin, above 0.
        depth: Length,
    },
}

/// A mix standing in its cup.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mix {
    /// How much was mixed, 0.1 g to 10 kg.
    pub mass: Mass,
    /// What it stands in.
    pub cup: Cup,
    /// Temperature of the room, and of the parts before mixing, -20 to 60 °C.
    pub room: Temperature,
}

/// How a cup loses heat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cooling {
    /// U: from the middle of the resin to the air, `[W/(m2 K)]`.
    pub u: f64,
    /// A: all of its surface.
    pub area: Area,
}

impl Mix {
    /// How the cup loses heat.
    ///
    /// ```text
    /// a beaker:  D = (4 V/pi)^(1/3)     A = 3 pi D^2/2           1/U = 1/h + (D/2)/(4 lambda)
    /// a tray:    D = (4 V/(pi s))^1/2   A = pi D^2/2 + pi D s    1/U = 1/h + (s/2)/(3 lambda)
    /// ```
    ///
    /// The paths inside are those from the mean of an evenly heated long cylinder
    /// and of an evenly heated slab to their surfaces.
    #[must_use]
    pub fn cooling(&self, resin: &Resin) -> Cooling {
        let volume = self.mass.kg() / resin.density.kg_per_m3();
        let (area, inside) = match self.cup {
            Cup::AsTallAsWide => {
                let d = (4.0 * volume / PI).cbrt();
                (1.5 * PI * d * d, d / 2.0 / (4.0 * resin.conductivity))
            }
            Cup::Tray { depth } => {
                let s = depth.m();
                let d = (4.0 * volume / (PI * s)).sqrt();
                (
                    PI * d * d / 2.0 + PI * d * s,
                    s / 2.0 / (3.0 * resin.conductivity),
                )
            }
        };
        Cooling {
            u: 1.0 / (1.0 / AIR_FILM + inside),
            area: Area::from_m2(area),
        }
    }

    fn check(&self) -> Result<(), LawError> {
        LawError::check("mass of a mix", self.mass.kg(), (1e-4, 10.0))?;
        LawError::check("temperature of a mix", self.room.celsius(), (-20.0, 60.0))?;
        match self.cup {
            Cup::AsTallAsWide => Ok(()),
            Cup::Tray { depth } => LawError::check("depth of a tray", depth.m(), (1e-4, 0.1)),
        }
    }
}

/// What the label says of pot life.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PotLife {
    /// The pot life: taken as the time until the stated mass gels in its cup.
    pub lasts: Time,
    /// The mass it holds for.
    pub mass: StatedMass,
    /// The temperature it holds at.
    pub at: Temperature,
}

/// The mass that a pot life holds for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum StatedMass {
    /// The label names it.
    Named(Mass),
    /// The label doesn't: the usual 100 g are assumed, and the worst is that it meant a thin coat.
    NotNamed,
}

impl StatedMass {
    /// What makers of resin usually test: common practice, no source.
    pub const USUAL: Mass = Mass::from_g(100.0);

    /// The mass to reckon with.
    #[must_use]
    pub fn mass(self) -> Mass {
        match self {
            Self::Named(mass) => mass,
            Self::NotNamed => Self::USUAL,
        }
    }
}

/// The share of a cup's gel time in which it still pours and levels: long before the
/// gel its viscosity has doubled. Common practice, no source.
pub const WORKABLE: Share = Share::from_fraction(0.6);

/// The rise by which a mix is to be poured or spread out.
pub const WARM: TemperatureDifference = TemperatureDifference::from_k(10.0);

/// A resin in its cup.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pot {
    kinetics: Kinetics,
    resin: Resin,
}

/// What becomes of a mix that stays in its cup.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Outlook {
    mix: Mix,
    gel: Time,
    warm: Option<Time>,
    peak: (Time, Temperature),
    limit: TemperatureDifference,
}

impl Pot {
    /// A resin of these kinetics, at their own speed.
    #[must_use]
    pub fn new(kinetics: Kinetics, resin: Resin) -> Self {
        Self { kinetics, resin }
    }

    /// The same resin as fast as its label says: the stated mass, in a beaker as tall
    /// as wide, gels after the pot life.
    ///
    /// # Errors
    /// [`LawError::OutOfRange`] for a pot life outside a minute to a week, a mass
    /// outside 0.1 g to 10 kg or a temperature outside -20 to 60 °C.
    pub fn as_labelled(self, label: &PotLife) -> Result<Self, LawError> {
        LawError::check("pot life", label.lasts.s(), (60.0, 604_800.0))?;
        let mix = Mix {
            mass: label.mass.mass(),
            cup: Cup::AsTallAsWide,
            room: label.at,
        };
        mix.check()?;
        // With no heat lost it gels soonest, with all of it lost at once latest.
        let bounds = [self.gel_with_no_loss(label.at), self.thin_gel(label.at)]
            .map(|gel| (gel / label.lasts).ln());
        let late = |log: f64| {
            let gels = self.faster(log.exp()).outlook_of(&mix).gel;
            (gels / label.lasts).ln()
        };
        Ok(self.faster(root(late, bounds[0], bounds[1]).exp()))
    }

    /// The same resin if its label's pot life holds for a thin coat: the quickest
    /// that the label can mean.
    ///
    /// # Errors
    /// As [`as_labelled`](Self::as_labelled).
    pub fn at_worst(self, label: &PotLife) -> Result<Self, LawError> {
        match label.mass {
            StatedMass::Named(_) => self.as_labelled(label),
            StatedMass::NotNamed => {
                LawError::check("pot life", label.lasts.s(), (60.0, 604_800.0))?;
                LawError::check("temperature of a mix", label.at.celsius(), (-20.0, 60.0))?;
                Ok(self.faster(self.thin_gel(label.at) / label.lasts))
            }
        }
    }

    fn faster(self, times: f64) -> Self {
        Self {
            kinetics: self.kinetics.faster(times),
            ..self
        }
    }

    /// Its kinetics, with the speed they have been given.
    #[must_use]
    pub fn kinetics(&self) -> &Kinetics {
        &self.kinetics
    }

    /// How long it takes to gel spread thin, where it stays as warm as the room.
    #[must_use]
    pub fn thin_gel(&self, room: Temperature) -> Time {
        Time::from_s(self.kinetics.at(room, Freezing::Never).seconds(0.0, GEL))
    }

    /// How long it would take to gel if no heat got away.
    ///
    /// ```text
    /// t = integral of da / (da/dt at T0 + DH/cp a)
    /// ```
    #[must_use]
    pub fn gel_with_no_loss(&self, from: Temperature) -> Time {
        let seconds = |a: f64| {
            let here = from + self.resin.adiabatic_rise() * a;
            1.0 / self.kinetics.at(here, Freezing::Never).rate(a)
        };
        // the start bends most: panels that double
        let mut edges = vec![0.0];
        edges.extend((0..20).rev().map(|i| GEL * 0.5f64.powi(i)));
        let sum = edges
            .windows(2)
            .map(|panel| integral(seconds, panel[0], panel[1], 1))
            .sum();
        Time::from_s(sum)
    }

    /// The rise past which a cup makes heat faster than it can lose it, after Semenov: `R T^2 / E`.
    #[must_use]
    pub fn runaway_rise(&self, room: Temperature) -> TemperatureDifference {
        let around = [5.0, 40.0].map(Temperature::from_celsius);
        let energy = self.kinetics.apparent_energy(around, Freezing::Never);
        let t = room.kelvin();
        TemperatureDifference::from_k(GAS_CONSTANT * t * t / energy.j_per_mol())
    }

    /// What becomes of a mix that stays in its cup.
    ///
    /// # Errors
    /// [`LawError::OutOfRange`] for a mass outside 0.1 g to 10 kg, a depth outside
    /// 0.1 to 100 mm or a room outside -20 to 60 °C.
    pub fn outlook(&self, mix: &Mix) -> Result<Outlook, LawError> {
        mix.check()?;
        Ok(self.outlook_of(mix))
    }

    fn outlook_of(&self, mix: &Mix) -> Outlook {
        self.outlook_within(mix, 1e-8)
    }

    /// The state is the conversion and the rise above the room, each step followed to `tolerance`.
    fn outlook_within(&self, mix: &Mix, tolerance: f64) -> Outlook {
        let Cooling { u, area } = mix.cooling(&self.resin);
        // U A / (m cp), [1/s]
        let loss = u * area.m2() / (mix.mass.kg() * self.resin.heat_capacity);
        let rise = self.resin.adiabatic_rise().k();
        let [k1, k2] = self.kinetics.constants(mix.room);
        let [e1, e2] = self.kinetics.energies();
        let [m, n] = self.kinetics.orders();
        let slope = |&[a, warmer]: &[f64; 2]| {
            let here = mix.room + TemperatureDifference::from_k(warmer);
            let k1 = k1 * arrhenius(e1, mix.room, here);
            let k2 = k2 * arrhenius(e2, mix.room, here);
            // da/dt = (k1 + k2 a^m) (1 - a)^n; a trial stage may stray a rounding past 0 or 1
            let a = a.clamp(0.0, 1.0);
            let rate = (k1 + k2 * a.powf(m)) * (1.0 - a).powf(n);
            // dT/dt = DH/cp da/dt - U A/(m cp) (T - Ta)
            [rate, rise * rate - loss * warmer]
        };
        let (mut gel, mut warm, mut peak) = (None, None, None);
        let close = Tolerance {
            relative: tolerance,
            absolute: [tolerance, tolerance * rise],
        };
        follow(
            slope,
            [0.0, 0.0],
            1e-3 / k1.max(1e-12) * 1e-3,
            &close,
            |step| {
                gel = gel.or_else(|| step.crossing(|y| y[0] - GEL));
                warm = warm.or_else(|| step.crossing(|y| y[1] - WARM.k()));
                peak = peak.or_else(|| step.crossing(|y| -slope(y)[1]));
                gel.is_none() || peak.is_none()
            },
        );
        let never = (f64::INFINITY, [GEL, 0.0]);
        let (peak_at, [_, warmest]) = peak.unwrap_or(never);
        Outlook {
            mix: *mix,
            gel: Time::from_s(gel.unwrap_or(never).0),
            warm: warm.map(|(t, _)| Time::from_s(t)),
            peak: (
                Time::from_s(peak_at),
                mix.room + TemperatureDifference::from_k(warmest),
            ),
            limit: self.runaway_rise(mix.room),
        }
    }
}

impl Outlook {
    /// The mix.
    #[must_use]
    pub fn mix(&self) -> Mix {
        self.mix
    }
    /// When it gels in the cup.
    #[must_use]
    pub fn gel(&self) -> Time {
        self.gel
    }
    /// The longest it should be worked with: [`WORKABLE`] of the time to gel.
    #[must_use]
    pub fn working(&self) -> Time {
        self.gel * WORKABLE.fraction()
    }
    /// When it is [`WARM`] above the room, if it ever is.
    #[must_use]
    pub fn warm(&self) -> Option<Time> {
        self.warm
    }
    /// When it is hottest.
    #[must_use]
    pub fn peak_time(&self) -> Time {
        self.peak.0
    }
    /// An upper bound of how hot it gets. For judging only, never to be told as a
    /// figure: one temperature for a whole cup is too simple for that.
    #[must_use]
    pub fn peak_upper_bound(&self) -> Temperature {
        self.peak.1
    }
    /// Whether, left in its cup, it comes to make heat faster than it can lose it.
    #[must_use]
    pub fn runs_away(&self) -> bool {
        self.peak.1 - self.mix.room > self.limit
    }
}
