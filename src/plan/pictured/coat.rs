//! A step's slowest coat, asked after in other air than the run's.

use super::rooms::InAir;
use crate::coating::Coating;
use crate::cure::air::Air;
use crate::cure::law::{Band, Basis, Hindrance, Law, Reached};
use crate::drying::{Outlook, TimeBand, law_of};
use crate::plan::StepPlan;
use crate::quantity::Time;
use crate::stage::Stage;

/// A step's slowest coat, to be put into other air.
pub(super) struct Coat<'p> {
    pub(super) law: Box<dyn Law>,
    pub(super) step: &'p StepPlan,
    pub(super) timed: &'p Outlook,
    pub(super) stage: Stage,
    /// The label's time for that, and the law's.
    pub(super) label: Time,
    pub(super) lapse: Time,
}

impl<'p> Coat<'p> {
    /// The coat of a step whose time depends on the room.
    pub(super) fn of(coating: &'p Coating, step: &'p StepPlan) -> Option<Self> {
        Self::told(coating, step, step.drying.timed()?)
    }

    /// The same with its times told otherwise.
    pub(super) fn told(
        coating: &'p Coating,
        step: &'p StepPlan,
        timed: &'p Outlook,
    ) -> Option<Self> {
        if timed.basis != Basis::Physics || coating.law() == crate::coating::Law::Lamp {
            return None;
        }
        let law = law_of(coating).ok()?;
        let (stage, label) = coating.label().awaited()?;
        let Ok(Reached::After(lapse)) = law.reach(stage, &timed.label) else {
            return None;
        };
        Some(Self {
            law,
            step,
            timed,
            stage,
            label,
            lapse,
        })
    }

    /// As the plan has it.
    pub(super) fn takes(&self) -> Option<TimeBand> {
        let mut stages = self.timed.stages.iter();
        stages.find(|told| told.stage == self.stage)?.here
    }

    pub(super) fn slowness(&self) -> f64 {
        self.takes().map_or(f64::INFINITY, |band| band.likely.s())
    }

    /// How long it takes by drying or curing alone in air that stays so; `None` for never.
    pub(super) fn by_process(&self, air: Air) -> Option<Time> {
        let here = self.timed.here.in_air(air);
        let Ok(Reached::After(lapse)) = self.law.reach(self.stage, &here) else {
            return None;
        };
        let ratio = Band::exactly(lapse / self.lapse);
        let planned = self
            .law
            .planned(self.stage, &self.timed.label, &here, ratio);
        Some(self.label * planned.likely)
    }

    pub(super) fn refusal(&self, air: Air) -> Option<Hindrance> {
        self.law.refusal(self.stage, &self.timed.here.in_air(air))
    }

    /// How long it takes in air that stays so; `None` for never, or where no date is given.
    pub(super) fn in_air(&self, air: Air) -> Option<Time> {
        match self.refusal(air) {
            Some(_) => None,
            None => self.by_process(air),
        }
    }

    pub(super) fn air(&self, (temperature, humidity): InAir) -> Option<Air> {
        let air = self.timed.here.air().with_temperature(temperature).ok()?;
        air.with_humidity(humidity).ok()
    }
}
