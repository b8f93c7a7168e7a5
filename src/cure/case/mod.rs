//! A coat against its label, in the air that it lies in from the pour on: steady,
//! or changing by the hour.

mod causes;
mod memory;
mod sooner;
mod warned;

use super::air::{Air, COLDEST};
use super::compare::{Comparison, Factor, Outcome, StageComparison, at_label, pace};
use super::doubt;
use super::hours;
use super::law::{Hindrance, Law, LawError, Reached};
use super::series::{Promise, time_through};
use super::situation::{Situation, Spell};
use crate::quantity::{Humidity, Share, Temperature, TemperatureDifference, Time};
use crate::stage::Stage;
use memory::Memory;
use std::borrow::Cow;
use std::collections::BTreeMap;
use std::rc::Rc;

/// A coat here and on its label.
#[derive(Debug, Clone)]
pub struct Case<'a> {
    law: &'a dyn Law,
    label: Situation,
    here: Situation,
    weather: Weather<'a>,
    /// The stage that the factor is told for, where it is not the law's whole.
    ruling: Option<Stage>,
    /// What the law has told this case and those made of it.
    memory: Rc<Memory>,
}

/// The air that the coat lies in.
#[derive(Debug, Clone)]
enum Weather<'a> {
    /// The situation's own, throughout.
    Steady,
    /// Spell after spell from the pour on, with the label's times: how the hours
    /// of a day fall on a coat depends on how long it takes.
    Changing {
        spells: Cow<'a, [Spell]>,
        times: BTreeMap<Stage, Time>,
    },
}

/// How a ratio came out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Ratio {
    /// So many times the label's time.
    Times(f64),
    /// Never, as things stand.
    Never(Hindrance),
}

impl<'a> Case<'a> {
    /// A coat in air that stays as it is.
    #[must_use]
    pub fn steady(law: &'a dyn Law, label: &Situation, here: &Situation) -> Self {
        Self {
            law,
            label: *label,
            here: *here,
            weather: Weather::Steady,
            ruling: None,
            memory: Rc::default(),
        }
    }

    /// A coat that goes through spells of air from the pour on. It has the stages
    /// that the label gives `times` for; the last spell must not end before the coat
    /// is there.
    ///
    /// # Errors
    /// [`LawError::OutOfRange`] where there is no spell, or no time.
    pub fn through(
        law: &'a dyn Law,
        label: &Situation,
        here: &Situation,
        spells: &'a [Spell],
        times: BTreeMap<Stage, Time>,
    ) -> Result<Self, LawError> {
        LawError::check("number of spells", count(spells.len()), (1.0, 1e7))?;
        LawError::check("number of label times", count(times.len()), (1.0, 1e3))?;
        Ok(Self {
            law,
            label: *label,
            here: *here,
            weather: Weather::Changing {
                spells: Cow::Borrowed(spells),
                times,
            },
            ruling: None,
            memory: Rc::default(),
        })
    }

    /// The same with the factor told for this stage.
    #[must_use]
    pub fn told_for(self, stage: Stage) -> Self {
        Self {
            ruling: Some(stage),
            ..self
        }
    }

    /// The label's situation.
    #[must_use]
    pub fn label(&self) -> &Situation {
        &self.label
    }
    /// The situation here; where the air changes, its air is that of the pour.
    #[must_use]
    pub fn here(&self) -> Situation {
        match &self.weather {
            Weather::Changing { spells, .. } => spells
                .first()
                .map_or(self.here, |first| self.here.in_air(first.air)),
            Weather::Steady => self.here,
        }
    }
    /// Every air that the coat lies in until it is there; a week's, where it never is.
    ///
    /// # Errors
    /// As [`compare`](Self::compare).
    pub(super) fn airs(&self) -> Result<Vec<Air>, LawError> {
        Ok(match &self.weather {
            Weather::Steady => vec![self.here.air()],
            Weather::Changing { spells, .. } => {
                let until = match self.ratio(self.ruling())? {
                    Ratio::Times(times) => self.label_time(self.ruling())?.map(|t| t * times),
                    Ratio::Never(_) => None,
                };
                let met = hours::until(spells, Some(until.unwrap_or(hours::LOOKED_AT)));
                met.map(|(spell, _)| spell.air).collect()
            }
        })
    }
    /// Whether its air changes.
    pub(super) fn changes(&self) -> bool {
        matches!(self.weather, Weather::Changing { .. })
    }

    /// The same with the situation here changed in all but its air.
    pub(super) fn lying(&self, here: Situation) -> Self {
        Self {
            here,
            ..self.clone()
        }
    }
    /// The same in other air; `None` where the change does not give air.
    pub(super) fn in_air(&self, change: impl Fn(Air) -> Option<Air>) -> Option<Self> {
        let mut other = self.clone();
        other.here = self.here.in_air(change(self.here.air())?);
        if let Weather::Changing { spells, .. } = &mut other.weather {
            for spell in spells.to_mut() {
                spell.air = change(spell.air)?;
            }
        }
        Some(other)
    }
    /// The same coat laid so much later; `None` in steady air, or where the spells end before.
    pub(super) fn begun_later(&self, by: Time) -> Option<Self> {
        let Weather::Changing { spells, times } = &self.weather else {
            return None;
        };
        let (mut left, mut later) = (by.s(), Vec::with_capacity(spells.len()));
        for spell in spells.iter() {
            let skipped = left.min(spell.lasts.s());
            left -= skipped;
            let lasts = Time::from_s(spell.lasts.s() - skipped);
            if lasts > Time::ZERO {
                later.push(Spell { lasts, ..*spell });
            }
        }
        (!later.is_empty()).then(|| Self {
            weather: Weather::Changing {
                spells: Cow::Owned(later),
                times: times.clone(),
            },
            ..self.clone()
        })
    }

    /// Compares the coat here with the same coat at its label's conditions.
    ///
    /// # Errors
    /// [`LawError::OutOfRange`] where either situation is outside what the law
    /// covers, [`LawError::LabelNever`] where the label's own conditions never get there.
    pub fn compare(&self) -> Result<Comparison, LawError> {
        let stages = self
            .stages()
            .into_iter()
            .map(|stage| self.stage(stage))
            .collect::<Result<Vec<_>, _>>()?;
        let whole = self.whole()?;
        let until = self.until(&whole);
        let mean = self.here.in_air(self.mean_air(until));
        let warnings = self.warnings(&whole, until, self.surface_time()?);
        Ok(Comparison {
            stages,
            factor: Factor {
                whole,
                parts: self.parts(&mean)?,
            },
            pace: pace(&whole, &warnings),
            basis: self.law.basis(),
            warnings,
        })
    }

    /// How many times the label's time the whole takes.
    ///
    /// # Errors
    /// As [`compare`](Self::compare).
    pub fn whole(&self) -> Result<Outcome, LawError> {
        self.outcome(self.ruling())
    }

    /// How long the whole takes, in air that changes; `None` where the air is
    /// steady or it is never there.
    ///
    /// # Errors
    /// As [`compare`](Self::compare).
    pub(super) fn takes(&self, outcome: &Outcome) -> Option<Time> {
        let Weather::Changing { times, .. } = &self.weather else {
            return None;
        };
        Some(*times.get(&self.ruling())? * outcome.likely()?)
    }

    /// The ratio of a stage by the process alone, told even where no date would be
    /// given: water leaves a film that will not form all the same.
    ///
    /// # Errors
    /// As [`compare`](Self::compare).
    pub fn process_alone(&self, stage: Stage) -> Result<Outcome, LawError> {
        self.weigh(stage, self.ratio(stage)?)
    }

    /// The same in air so much damper, or drier by less than nothing, and so much colder: at the
    /// dampest saturated, at the driest without vapour and at the coldest as cold as the laws
    /// take. `None` where that is no air.
    #[must_use]
    pub fn in_worse_air(&self, damper: Share, colder: TemperatureDifference) -> Option<Self> {
        self.in_air(|air| {
            let celsius = (air.temperature().celsius() - colder.k()).max(COLDEST.celsius());
            let fraction = air.humidity().fraction() + damper.fraction();
            air.with_temperature(Temperature::from_celsius(celsius))
                .and_then(|air| {
                    air.with_humidity(Humidity::from_fraction(fraction.clamp(0.0, 1.0)))
                })
                .ok()
        })
    }

    /// The stages it can tell of, earliest first.
    fn stages(&self) -> Vec<Stage> {
        let spoken = self.law.stages().iter().copied();
        match &self.weather {
            Weather::Steady => spoken.collect(),
            Weather::Changing { times, .. } => spoken.filter(|it| times.contains_key(it)).collect(),
        }
    }

    /// The stage that the factor is told for: the one asked for, or the law's whole, or
    /// where the air changes and the label has no time for that, the last it has.
    fn ruling(&self) -> Stage {
        let whole = self.law.whole();
        match (&self.weather, self.ruling) {
            (_, Some(told)) => told,
            (Weather::Changing { times, .. }, None) if !times.contains_key(&whole) => {
                let last = times.keys().next_back();
                last.copied().unwrap_or(whole)
            }
            _ => whole,
        }
    }

    /// How long a stage takes in a situation by the law alone, good to a factor of 1.5 to 2.
    /// `None`: its clock is not time, or the coat is never there.
    ///
    /// # Errors
    /// [`LawError::OutOfRange`] for a situation outside what the law covers.
    pub fn first_principles(
        &self,
        stage: Stage,
        situation: &Situation,
    ) -> Result<Option<Time>, LawError> {
        Ok(match self.reach(stage, situation)? {
            Reached::After(lapse) if self.law.tells_time() => Some(lapse),
            _ => None,
        })
    }

    fn stage(&self, stage: Stage) -> Result<StageComparison, LawError> {
        let outcome = self.outcome(stage)?;
        let told_here = matches!(outcome, Outcome::Times(_)) && !self.changes();
        Ok(StageComparison {
            stage,
            outcome,
            first_principles_at_label: self.first_principles(stage, &self.label)?,
            first_principles_here: if told_here {
                self.first_principles(stage, &self.here)?
            } else {
                None
            },
        })
    }

    /// How many times the label's time a stage takes.
    ///
    /// # Errors
    /// As [`compare`](Self::compare).
    pub fn outcome(&self, stage: Stage) -> Result<Outcome, LawError> {
        let ratio = self.ratio(stage)?;
        match self.refusal(stage, ratio)? {
            Some(why) => Ok(Outcome::Never(why)),
            None => self.weigh(stage, ratio),
        }
    }

    /// How many times the label's time a stage likely takes, without its band; `None` for never.
    ///
    /// # Errors
    /// As [`compare`](Self::compare).
    pub fn likely(&self, stage: Stage) -> Result<Option<f64>, LawError> {
        let ratio = self.ratio(stage)?;
        if self.refusal(stage, ratio)?.is_some() {
            return Ok(None);
        }
        let Ratio::Times(likely) = ratio else {
            return Ok(None);
        };
        let until = self.label_time(stage)?.map(|takes| takes * likely);
        let here = self.here.in_air(self.mean_air(until));
        let exactly = super::law::Band::exactly(likely);
        let planned = self.law.planned(stage, &self.label, &here, exactly);
        Ok(Some(planned.likely))
    }

    /// A ratio with its band.
    fn weigh(&self, stage: Stage, ratio: Ratio) -> Result<Outcome, LawError> {
        Ok(match ratio {
            Ratio::Never(why) => Outcome::Never(why),
            Ratio::Times(likely) => {
                let band = doubt::band(self, stage, likely)?;
                let until = self.label_time(stage)?.map(|takes| takes * likely);
                let here = self.here.in_air(self.mean_air(until));
                Outcome::Times(self.law.planned(stage, &self.label, &here, band))
            }
        })
    }

    /// How many times the label's time a stage takes.
    pub(super) fn ratio(&self, stage: Stage) -> Result<Ratio, LawError> {
        match &self.weather {
            Weather::Steady => {
                let at_label = at_label(self.reach(stage, &self.label)?)?;
                Ok(match self.reach(stage, &self.here)? {
                    Reached::After(lapse) => Ratio::Times(lapse / at_label),
                    Reached::Never(why) => Ratio::Never(why),
                })
            }
            Weather::Changing { spells, .. } => {
                let Some(takes) = self.label_time(stage)? else {
                    return Ok(Ratio::Never(Hindrance::NoHeadway));
                };
                let promise = Promise {
                    stage,
                    takes,
                    at: self.label,
                };
                match time_through(self.law, &promise, &self.here, spells.iter().copied())? {
                    Some(time) => Ok(Ratio::Times(time / takes)),
                    None => self.why_never(stage).map(Ratio::Never),
                }
            }
        }
    }

    /// The label's time for a stage, in air that changes: its own, or for a surface that
    /// it does not name what [`Promise::of_surface`] makes of it.
    fn label_time(&self, stage: Stage) -> Result<Option<Time>, LawError> {
        let Weather::Changing { times, .. } = &self.weather else {
            return Ok(None);
        };
        if let Some(&takes) = times.get(&stage) {
            return Ok(Some(takes));
        }
        let ruling = self.ruling();
        let Some(&takes) = times.get(&ruling) else {
            return Ok(None);
        };
        if !stage.is_of_surface() {
            return Ok(Some(takes));
        }
        let promise = Promise {
            stage: ruling,
            takes,
            at: self.label,
        };
        Ok(Some(promise.of_surface(self.law, None)?.takes))
    }

    /// How long the surface stays open here: dew, blush and cold matter until then.
    /// `None` in steady air, or where the record ends first.
    fn surface_time(&self) -> Result<Option<Time>, LawError> {
        Ok(
            match (
                self.label_time(Stage::TackFree)?,
                self.ratio(Stage::TackFree)?,
            ) {
                (Some(takes), Ratio::Times(times)) => Some(takes * times),
                _ => None,
            },
        )
    }

    /// Why a coat was not there when its spells ended: the mean air would never do,
    /// or they are too short.
    fn why_never(&self, stage: Stage) -> Result<Hindrance, LawError> {
        let mean = self.here.in_air(self.mean_air(None));
        Ok(match self.reach(stage, &mean)? {
            Reached::Never(why) => why,
            Reached::After(_) => Hindrance::NotWithin {
                lasts: self.lasts(),
            },
        })
    }

    /// Why no date should be given. A film must be warm enough whenever it is wet;
    /// all else goes by the mean air.
    fn refusal(&self, stage: Stage, ratio: Ratio) -> Result<Option<Hindrance>, LawError> {
        let Weather::Changing { spells, times } = &self.weather else {
            return Ok(self.law.refusal(stage, &self.here));
        };
        let wet = self.surface_time()?.unwrap_or(hours::LOOKED_AT);
        // of all the hours that are too cold, the one that needs the most warmth
        let mut worst: Option<(f64, Hindrance)> = None;
        for (spell, _) in hours::until(spells, Some(wet)) {
            let why = self.law.refusal(stage, &self.here.in_air(spell.air));
            if let Some(why @ Hindrance::TooColdToForm { warm_enough, .. }) = why {
                let needs = warm_enough.map_or(f64::INFINITY, Temperature::celsius);
                if worst.is_none_or(|(most, _)| needs > most) {
                    worst = Some((needs, why));
                }
            }
        }
        if let Some((_, why)) = worst {
            return Ok(Some(why));
        }
        let until = match ratio {
            Ratio::Times(ratio) => times.get(&stage).map(|&takes| takes * ratio),
            Ratio::Never(_) => None,
        };
        let mean = self
            .law
            .refusal(stage, &self.here.in_air(self.mean_air(until)));
        Ok(mean.filter(|why| !matches!(why, Hindrance::TooColdToForm { .. })))
    }

    /// How long the spells last.
    fn lasts(&self) -> Time {
        match &self.weather {
            Weather::Steady => Time::from_s(f64::INFINITY),
            Weather::Changing { spells, .. } => spells.iter().map(|spell| spell.lasts).sum(),
        }
    }

    /// Until when the coat's air matters: till the whole is reached.
    fn until(&self, whole: &Outcome) -> Option<Time> {
        self.takes(whole)
    }

    /// The mean of the air until a time, or of all of it.
    fn mean_air(&self, until: Option<Time>) -> Air {
        match &self.weather {
            Weather::Steady => self.here.air(),
            Weather::Changing { spells, .. } => {
                hours::mean_air(hours::until(spells, until)).unwrap_or(self.here.air())
            }
        }
    }
}

#[expect(clippy::cast_precision_loss, reason = "a count far below 2^52")]
fn count(length: usize) -> f64 {
    length as f64
}
