//! Whether a step's coat has a time here.

use super::steps::Timed;
use super::{Notes, Warning};
use crate::cure::Enclosure;
use crate::cure::law::Basis;
use crate::cure::transfer::{Exposure, ExposureError, Footprint, Tray};
use crate::drying::{self, Drier, NoTime, Outlook};
use crate::quantity::{Length, Time};
use crate::stage::Stage;

/// How long a step's coat takes.
#[derive(Debug, Clone, PartialEq)]
pub enum Drying {
    /// It uses no coating.
    NotNeeded,
    /// Set against the label.
    Timed(Box<Outlook>),
    /// It can't be told.
    Unknown(NoTime),
}

impl Drying {
    /// The times, where they can be told.
    #[must_use]
    pub fn timed(&self) -> Option<&Outlook> {
        match self {
            Self::Timed(timed) => Some(timed),
            Self::NotNeeded | Self::Unknown(_) => None,
        }
    }
}

/// Warns of coats that dry by no law that is worked out here, once for each step.
pub(super) fn warn_of_labels_alone(steps: &[Timed], notes: &mut Notes) {
    for step in steps {
        if (step.plan.drying.timed()).is_some_and(|timed| timed.basis == Basis::LabelOnly) {
            notes.warnings.push(Warning::NotWorkedOut {
                step: step.plan.name.clone(),
            });
        }
    }
}

/// What a wet piece lies among.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Among {
    /// Its tray, full. `None`: it lies apart.
    pub tray: Option<Tray>,
    /// The box that it is shut in, if any.
    pub shut_in: Option<Enclosure>,
}

impl Among {
    /// How a wet surface lies in the air.
    fn lies(&self, on: Footprint) -> Result<Exposure, ExposureError> {
        match self.tray {
            Some(tray) => Exposure::among(on, tray),
            None => Exposure::alone(on),
        }
    }
}

/// One coat of a step: how deep, on what, among what.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Coat {
    pub depth: Length,
    pub on: Footprint,
    pub among: Among,
}

impl Coat {
    /// As it lies in the room.
    fn lying(&self) -> Result<drying::Coat, NoTime> {
        Ok(drying::Coat {
            depth: self.depth,
            label_depth: None,
            lies: self.among.lies(self.on)?,
            shut_in: self.among.shut_in,
            light: None,
        })
    }

    /// How slow it is, to find the slowest; infinite where that can't be told.
    pub(super) fn slowness(&self, drier: &Drier) -> f64 {
        self.lying()
            .map_or(f64::INFINITY, |coat| drier.slowness(&coat))
    }

    /// How long until a stage, where that can be told.
    pub(super) fn takes(&self, drier: &Drier, stage: Stage) -> Option<Time> {
        drier.takes(&self.lying().ok()?, stage).ok().flatten()
    }

    /// How long it takes; with what would help only where that is asked for.
    pub(super) fn outlook(&self, drier: &Drier, closely: bool) -> Drying {
        let look = |coat: drying::Coat| {
            if closely {
                drier.outlook(&coat)
            } else {
                drier.glance(&coat)
            }
        };
        match self.lying().and_then(look) {
            Ok(outlook) => Drying::Timed(Box::new(outlook)),
            Err(why) => Drying::Unknown(why),
        }
    }
}
