//! How an amine epoxy reacts: autocatalytic kinetics that freeze as the resin turns glassy.
//!
//! ```text
//! da/dt = (k1 + k2 a^m) (1 - a)^n f_d,     ki = ki(23 °C) exp(-Ei/R (1/T - 1/296.15 K))
//! f_d   = 1 / (1 + exp(30 (a - av(T) - 0.04)))
//! ```
//!
//! `a` is the conversion, `[1]`; `av` the conversion at which the resin turns glassy
//! ([`Glass::conversion`]); `f_d` the factor of Chern and Poehlein (1987), its width of 30
//! and offset of 0.04 assumed. It gels at `a = 1/sqrt(3)` (Flory and Stockmayer:
//! a diepoxide with a diamine whose hydrogens react alike).
//!
//! No complete published set was found for a resin that cures at room temperature,
//! so the energies are published and the speed is anchored to a gel time:
//!
//! | set | energies from |
//! | --- | --- |
//! | [`Kinetics::aliphatic`] | Riccardi, Adabbo and Williams 1984, abstract: DGEBA with ethylenediamine |
//! | [`Kinetics::usual`] | the fit below, at a craft resin's speed: **the default** |
//! | [`Kinetics::hot_cured`] | fitted to isotherms of DGEBA/MCDEA at 80, 135 and 160 °C attributed to Girard-Reydet et al. 1995, rms 0.026 in conversion |
//! | [`Kinetics::low_energy`] | Barral et al. 1995, abstract: DGEBA with 1,3-bisaminomethylcyclohexane; which energy is which, m and n are assumed |

use super::glass::{Glass, arrhenius};
use crate::cure::numeric::{GAS_CONSTANT, integral};
use crate::quantity::{MolarEnergy, Temperature, Time};

/// The conversion at which the resin gels, `1/sqrt(3)`, `[1]`.
pub const GEL: f64 = 0.577_350_269_189_625_8;

/// Where the speeds of the sets are stated.
pub const STATED_AT: Temperature = Temperature::from_celsius(23.0);

/// The gel time at 23 °C that the unanchored sets are given: assumed, a craft resin's thin coat.
const ASSUMED_GEL: Time = Time::from_h(5.0);

/// `k1/k2` at 23 °C of a craft resin, `[1]`: assumed.
const ASSUMED_RATIO: f64 = 0.05;

/// Whether the glass transition slows the reaction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Freezing {
    /// It does: a thin coat at the temperature of its room.
    As(Glass),
    /// It doesn't, `f_d = 1`: a hot cupful, or the bare chemistry.
    Never,
}

/// The kinetics of one resin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Kinetics {
    /// E1, of the uncatalysed path.
    e1: MolarEnergy,
    /// E2, of the path that the reaction's own product speeds up.
    e2: MolarEnergy,
    m: f64,
    n: f64,
    /// k1 at 23 °C, `[1/s]`.
    k1: f64,
    /// k2 at 23 °C, `[1/s]`.
    k2: f64,
}

impl Kinetics {
    /// A set of energies and orders with a ratio `k1/k2`, at the assumed gel time.
    fn with_energies(kj: [f64; 2], (m, n): (f64, f64)) -> Self {
        Self {
            e1: MolarEnergy::from_kj_per_mol(kj[0]),
            e2: MolarEnergy::from_kj_per_mol(kj[1]),
            m,
            n,
            k1: ASSUMED_RATIO,
            k2: 1.0,
        }
        .gelling_in(ASSUMED_GEL, STATED_AT)
    }

    /// Set A: a fast aliphatic amine, the steepest with temperature.
    #[must_use]
    pub fn aliphatic() -> Self {
        Self::with_energies([102.5, 58.6], (1.0, 2.0))
    }

    /// Set B at a craft resin's speed: the default.
    #[must_use]
    pub fn usual() -> Self {
        Self::with_energies([76.0067, 53.4204], (1.0, 2.0))
    }

    /// Set B as it was fitted, for an amine that cures hot. Only its isotherms
    /// at 80 to 160 °C are measured; at room temperature it would take weeks.
    #[must_use]
    pub fn hot_cured() -> Self {
        Self {
            k1: 0.000_967_231 * 8.767_72e-7,
            k2: 8.767_72e-7,
            ..Self::usual()
        }
    }

    /// Set C: a cycloaliphatic amine, the flattest with temperature.
    #[must_use]
    pub fn low_energy() -> Self {
        Self::with_energies([57.0, 44.0], (0.8, 1.9))
    }

    /// The same resin, made as fast as one that gels in this time at this temperature in a thin coat.
    #[must_use]
    pub fn gelling_in(self, time: Time, at: Temperature) -> Self {
        let now = self.at(at, Freezing::Never).seconds(0.0, GEL);
        self.faster(now / time.s())
    }

    /// The same resin, that many times faster at every temperature.
    #[must_use]
    pub fn faster(self, times: f64) -> Self {
        Self {
            k1: self.k1 * times,
            k2: self.k2 * times,
            ..self
        }
    }

    /// E1 and E2.
    #[must_use]
    pub fn energies(&self) -> [MolarEnergy; 2] {
        [self.e1, self.e2]
    }
    /// The orders m and n, `[1]`.
    #[must_use]
    pub fn orders(&self) -> [f64; 2] {
        [self.m, self.n]
    }

    /// The rate constants k1 and k2, `[1/s]`.
    #[must_use]
    pub fn constants(&self, at: Temperature) -> [f64; 2] {
        // ki = ki(23 °C) exp(-Ei/R (1/T - 1/296.15))
        [
            self.k1 * arrhenius(self.e1, STATED_AT, at),
            self.k2 * arrhenius(self.e2, STATED_AT, at),
        ]
    }

    /// The reaction while its temperature does not change.
    #[must_use]
    pub fn at(&self, temperature: Temperature, freezing: Freezing) -> Isotherm {
        let [k1, k2] = self.constants(temperature);
        Isotherm {
            k1,
            k2,
            m: self.m,
            n: self.n,
            frozen: match freezing {
                Freezing::As(glass) => glass.conversion(temperature) + OFFSET,
                Freezing::Never => f64::INFINITY,
            },
        }
    }

    /// One energy that says as much as both: from the gel times at two temperatures.
    ///
    /// ```text
    /// E = R ln(t1/t2) / (1/T1 - 1/T2)
    /// ```
    #[must_use]
    pub fn apparent_energy(&self, between: [Temperature; 2], freezing: Freezing) -> MolarEnergy {
        let [t1, t2] = between.map(|at| self.at(at, freezing).seconds(0.0, GEL));
        let [inverse1, inverse2] = between.map(|at| 1.0 / at.kelvin());
        MolarEnergy::from_j_per_mol(GAS_CONSTANT * (t1 / t2).ln() / (inverse1 - inverse2))
    }
}

/// Width of the Chern-Poehlein factor, `[1]`: assumed.
const WIDTH: f64 = 30.0;
/// Its offset past the glass transition, `[1]`: assumed.
const OFFSET: f64 = 0.04;

/// The reaction at one temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Isotherm {
    k1: f64,
    k2: f64,
    m: f64,
    n: f64,
    /// The conversion at which `f_d` is a half.
    frozen: f64,
}

/// Nothing reacts past this: what is left is below what any clock could tell.
const ALL: f64 = 1.0 - 1e-12;

impl Isotherm {
    /// How long one unit of conversion takes here, `1 / (da/dt)`, `[s]`.
    fn seconds_per_conversion(&self, a: f64) -> f64 {
        // 1/f_d = 1 + exp(30 (a - av - 0.04))
        let slowed = 1.0 + (WIDTH * (a - self.frozen)).exp();
        slowed / ((self.k1 + self.k2 * a.powf(self.m)) * (1.0 - a).powf(self.n))
    }

    /// `da/dt` at a conversion from 0 up to 1, `[1/s]`.
    #[must_use]
    pub fn rate(&self, conversion: f64) -> f64 {
        1.0 / self.seconds_per_conversion(conversion)
    }

    /// Where a panel of the quadrature that starts at `a` ends: no wider than the
    /// distance to whatever bends the integrand, so that eight points give 1e-11.
    pub(in crate::cure) fn panel_end(&self, a: f64) -> f64 {
        // poles at a = -k1/k2 and at 1; exp(30 a); with m other than 1 a branch point at 0
        let integral_order = (self.m - 1.0).abs() < f64::EPSILON;
        let grain = if integral_order {
            self.k1 / self.k2
        } else {
            1e-5
        };
        a + (a + grain).min(0.2).min((1.0 - a) / 2.0)
    }

    fn panel(&self, from: f64, to: f64) -> f64 {
        integral(|a| self.seconds_per_conversion(a), from, to, 1)
    }

    /// How long it takes from one conversion to another, both from 0 to 1, `[s]`.
    /// Nothing if it is there already, for ever to 1.
    #[must_use]
    pub fn seconds(&self, from: f64, to: f64) -> f64 {
        if to > ALL {
            return f64::INFINITY;
        }
        let (mut a, mut passed) = (from, 0.0);
        while a < to {
            let end = self.panel_end(a).min(to);
            passed += self.panel(a, end);
            a = end;
        }
        passed
    }

    /// The conversion after so many seconds: the inverse of [`seconds`](Self::seconds).
    #[must_use]
    pub fn after(&self, from: f64, seconds: f64) -> f64 {
        let (mut a, mut left) = (from, seconds);
        while a < ALL {
            let end = self.panel_end(a);
            let takes = self.panel(a, end);
            if takes >= left {
                return self.within(a, end, left);
            }
            left -= takes;
            a = end;
        }
        a
    }

    /// The conversion between `from` and `end` that is reached after `seconds`:
    /// Newton's method, halving wherever it would leave its bracket.
    fn within(&self, from: f64, end: f64, seconds: f64) -> f64 {
        let (mut low, mut high) = (from, end);
        let mut a = from + seconds * self.rate(from);
        for _ in 0..60 {
            if !(low..=high).contains(&a) {
                a = f64::midpoint(low, high);
            }
            let over = self.panel(from, a) - seconds;
            if over > 0.0 {
                high = a;
            } else {
                low = a;
            }
            // d(seconds)/da = 1 / rate
            let step = over * self.rate(a);
            a -= step;
            if step.abs() < 1e-13 {
                break;
            }
        }
        a.clamp(low, high)
    }
}
