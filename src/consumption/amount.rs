//! How much of one coating a run draws from its bottles.
//!
//! The model, for one coating used in several ways (a flood coat on magnets
//! and a second on fobs, say):
//!
//! ```text
//! S      = sum over every pour of its volume         scatter: independent, pour by pour
//! on pieces = B S                                    B: the maker's bias, one draw for the run
//! poured    = B S / (1 - d)                          d drips, as a share of what is poured
//! mix       = poured + tool                          what to have ready in cups
//! needed    = mix / (1 - h)                          h stays in the bottles
//! ```
//!
//! Amounts cannot be negative, so both parts are lognormal. `B` has mean 1
//! and relative standard deviation `beta`. `S` has the mean and variance of
//! the sum, and a lognormal's shape: exact for one lognormal pour, and close
//! for sums of many, since a sum of alike lognormal pours is itself nearly
//! lognormal (Fenton and Wilkinson's moment match, named from memory). A
//! product of lognormals is lognormal, so every quantile is in closed form:
//!
//! ```text
//! mu      = sum of N k m                     cS^2 = sum of N k (c m)^2 / mu^2
//! s^2     = ln(1 + cS^2) + ln(1 + beta^2)
//! mix(F)  = tool + mu / (1 - d) exp(z(F) s - s^2 / 2)
//! ```
//!
//! with `z(F)` the standard normal's quantile. With gamma pours instead the
//! quantiles from 10 % to 99 % differ by less than 0.2 % for ten pours at
//! scatter 15 %, 0.6 % for ten at 30 %, and by up to 4 % for one single pour
//! at 30 % (`data/reference/consumption/amount.csv`).

use statrs::distribution::{ContinuousCDF, Normal};

use super::UseError;
use super::check::{self, MOST_COUNTED, number};
use crate::quantity::{Share, Volume};

/// One kind of pour: what one coat on one piece takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pour {
    /// Mean volume that stays on a piece, a coat, `[m3]`, 0 or more.
    pub each: Volume,
    /// Standard deviation from pour to pour over the mean, `[1]`, 0 to 1.
    pub scatter: Share,
    /// Coats of it on each piece, `[1]`.
    pub coats: u32,
}

/// A pour on a number of pieces.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pours {
    /// Pieces that get it, `[1]`: every piece started, as one that is lost later has had its coat.
    pub started: u64,
    /// What each piece gets.
    pub pour: Pour,
}

/// What is used up without staying on a piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Losses {
    /// What drips and runs off, as a share of what is poured, `[1]`, from 0 up to but not 1.
    pub drips: Share,
    /// What stays in the nozzle, brush or cup at each sitting, `[m3]`, 0 or more.
    pub tool: Volume,
    /// Sittings, `[1]`: each leaves its tool loss once.
    pub sittings: u32,
    /// The heel: what never comes out of a bottle, as a share of a full one, `[1]`, from 0 up to but not 1.
    pub heel: Share,
}

impl Losses {
    /// No losses at all.
    pub const NONE: Self = Self {
        drips: Share::ZERO,
        tool: Volume::ZERO,
        sittings: 0,
        heel: Share::ZERO,
    };
}

/// All that is asked of one coating in a run.
#[derive(Debug, Clone, PartialEq)]
pub struct Demand {
    /// Its uses; none is allowed and needs the tool loss only.
    pub uses: Vec<Pours>,
    /// Standard deviation of the maker's own bias against the model, `[1]`,
    /// 0 to 1: one draw for the whole run, so it never averages out.
    pub bias: Share,
    /// What is lost on the way.
    pub losses: Losses,
}

/// The expected amount, line by line, `[m3]`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lines {
    /// Stays on the pieces.
    pub on_pieces: Volume,
    /// Drips and runs off.
    pub drips: Volume,
    /// Stays in nozzle, brush or cup.
    pub tool: Volume,
    /// Stays in the bottles, in proportion to what is drawn.
    pub heel: Volume,
}

impl Lines {
    /// To have ready in cups: all but the heel, `[m3]`.
    #[must_use]
    pub fn mix_now(&self) -> Volume {
        self.on_pieces + self.drips + self.tool
    }

    /// To have in bottles: all the lines, `[m3]`.
    #[must_use]
    pub fn needed(&self) -> Volume {
        self.mix_now() + self.heel
    }
}

/// The two parts of the spread of the needed amount, as standard deviations, `[m3]`.
///
/// ```text
/// scatter^2 = mean over B of Var(needed | B) = (mu cS / ((1 - d)(1 - h)))^2 (1 + beta^2)
/// bias^2    = Var over B of mean(needed | B) = (mu beta / ((1 - d)(1 - h)))^2
/// ```
///
/// They are parts of one variance but never one figure: more pieces shrink
/// the first against the amount, only weighing shrinks the second.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    /// From pour to pour; averages out over a run.
    pub scatter: Volume,
    /// The maker's own, against the model; does not average out.
    pub bias: Volume,
}

/// How much of a coating a run needs, with its spread.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Amount {
    lines: Lines,
    spread: Spread,
    /// mu / (1 - d), `[m3]`
    poured: f64,
    /// The lognormal's shape, `[1]`.
    s: f64,
    /// h
    heel: f64,
}

/// Mean and variance of the sum of all pours.
#[derive(Default)]
struct Sum {
    /// mu `[m3]`
    mean: f64,
    /// `[m6]`
    variance: f64,
}

impl Sum {
    fn add(&mut self, uses: &Pours) -> Result<(), UseError> {
        check::at_most("the started pieces", uses.started, MOST_COUNTED)?;
        let m = check::volume("the mean volume of a pour in m3", uses.pour.each)?;
        let c = check::relative_spread("the scatter, as a fraction,", uses.pour.scatter)?;
        // N k: every coat is a pour of its own
        let pours = number(uses.started) * f64::from(uses.pour.coats);
        // mu = sum of N k m
        self.mean += pours * m;
        // sum of N k (c m)^2
        self.variance += pours * (c * m).powi(2);
        Ok(())
    }

    /// cS^2, the relative variance.
    fn relative(&self) -> f64 {
        if self.mean > 0.0 {
            self.variance / self.mean.powi(2)
        } else {
            0.0
        }
    }
}

impl Demand {
    /// The amount that these uses need.
    ///
    /// # Errors
    ///
    /// [`UseError::OutOfRange`] for a value outside the range its field
    /// states, [`UseError::TooMany`] above 1 000 000 000 pieces.
    ///
    /// ```
    /// use brimful::consumption::{Demand, Losses, Pour, Pours};
    /// use brimful::quantity::{Share, Volume};
    /// let pour = Pour { each: Volume::from_ml(2.0), scatter: Share::from_percent(10.0), coats: 1 };
    /// let demand = Demand {
    ///     uses: vec![Pours { started: 70, pour }],
    ///     bias: Share::from_percent(8.0),
    ///     losses: Losses { drips: Share::from_percent(5.0), ..Losses::NONE },
    /// };
    /// let amount = demand.amount()?;
    /// assert!((amount.lines().on_pieces.ml() - 140.0).abs() < 1e-9);
    /// assert!(amount.needed_for(Share::from_percent(95.0))?.ml() > amount.lines().needed().ml());
    /// # Ok::<(), brimful::consumption::UseError>(())
    /// ```
    pub fn amount(&self) -> Result<Amount, UseError> {
        self.amount_with(None)
    }

    /// The amount with one use more.
    pub(super) fn amount_with(&self, more: Option<&Pours>) -> Result<Amount, UseError> {
        let beta = check::relative_spread("the bias, as a fraction,", self.bias)?;
        let d = check::rate("the share that drips", self.losses.drips)?;
        let h = check::rate("the heel, as a share of a bottle,", self.losses.heel)?;
        let tool = check::volume("the volume left in the tool in m3", self.losses.tool)?;
        let mut sum = Sum::default();
        for uses in self.uses.iter().chain(more) {
            sum.add(uses)?;
        }
        let tool = tool * f64::from(self.losses.sittings);
        let poured = sum.mean / (1.0 - d);
        let mix = check::not_negative("the amount in m3", poured + tool)?;
        // mu / ((1 - d)(1 - h))
        let drawn = poured / (1.0 - h);
        let relative = sum.relative();
        Ok(Amount {
            lines: Lines {
                on_pieces: Volume::from_m3(sum.mean),
                drips: Volume::from_m3(poured * d),
                tool: Volume::from_m3(tool),
                heel: Volume::from_m3(mix * h / (1.0 - h)),
            },
            spread: Spread {
                scatter: Volume::from_m3(drawn * (relative * (1.0 + beta * beta)).sqrt()),
                bias: Volume::from_m3(drawn * beta),
            },
            poured,
            // s^2 = ln(1 + cS^2) + ln(1 + beta^2)
            s: (relative.ln_1p() + (beta * beta).ln_1p()).sqrt(),
            heel: h,
        })
    }
}

impl Amount {
    /// The expected amount, line by line.
    #[must_use]
    pub const fn lines(&self) -> Lines {
        self.lines
    }

    /// The spread of [`Lines::needed`], in its two parts.
    #[must_use]
    pub const fn spread(&self) -> Spread {
        self.spread
    }

    /// What to have ready in cups to be `sure` of enough, `[m3]`.
    ///
    /// ```text
    /// mix(F) = tool + mu / (1 - d) exp(z(F) s - s^2 / 2)
    /// ```
    ///
    /// # Errors
    ///
    /// [`UseError::OutOfRange`] for a sureness not above 0 or beyond 1 - 1e-12.
    pub fn mix_for(&self, sure: Share) -> Result<Volume, UseError> {
        let z = normal_quantile(check::sureness(sure)?);
        let poured = self.poured * (z * self.s - self.s * self.s / 2.0).exp();
        Ok(self.lines.tool + Volume::from_m3(poured))
    }

    /// What to have in bottles to be `sure` of enough, `[m3]`: [`Amount::mix_for`] and its heel.
    ///
    /// # Errors
    ///
    /// Those of [`Amount::mix_for`].
    pub fn needed_for(&self, sure: Share) -> Result<Volume, UseError> {
        Ok(self.mix_for(sure)? / (1.0 - self.heel))
    }

    /// The chance that a volume out of the bottles, heel not counted, is enough, `[1]`.
    ///
    /// ```text
    /// P(mix <= v) = Phi((ln((v - tool) (1 - d) / mu) + s^2 / 2) / s)
    /// ```
    ///
    /// Without any spread it is 0 or 1, forgiving one part in 1e9.
    #[must_use]
    pub fn chance(&self, out_of_bottles: Volume) -> Share {
        let over_tool = (out_of_bottles - self.lines.tool).m3();
        let x = over_tool / self.poured;
        let chance = if self.s > 0.0 && self.poured > 0.0 {
            if x > 0.0 {
                normal().cdf((x.ln() + self.s * self.s / 2.0) / self.s)
            } else {
                0.0
            }
        } else if out_of_bottles.m3() >= self.lines.mix_now().m3() * (1.0 - 1e-9) {
            1.0
        } else {
            0.0
        };
        Share::from_fraction(chance)
    }

    /// h, the share of a bottle that never comes out.
    pub(super) const fn heel(&self) -> f64 {
        self.heel
    }
}

/// The standard normal.
fn normal() -> Normal {
    Normal::standard()
}

/// z(F)
fn normal_quantile(sure: f64) -> f64 {
    normal().inverse_cdf(sure)
}
