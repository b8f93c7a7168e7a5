//! Whether a step's coat has a time here.

use crate::coating::Coating;
use crate::cure::Enclosure;
use crate::cure::transfer::{Exposure, Footprint};
use crate::drying::{self, Drier, NoTime, Outlook};
use crate::quantity::Length;

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

/// One coat of a step: how deep, on what.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Coat {
    pub depth: Length,
    pub on: Footprint,
    pub shut_in: Option<Enclosure>,
}

impl Coat {
    /// As it lies in the room: alone.
    fn lying(&self, coating: &Coating) -> Result<drying::Coat, NoTime> {
        Ok(drying::Coat {
            depth: self.depth,
            label_depth: coating.label_depth(self.depth),
            lies: Exposure::alone(self.on)?,
            shut_in: self.shut_in,
            light: None,
        })
    }

    /// How slow it is, to find the slowest; infinite where that can't be told.
    pub(super) fn slowness(&self, drier: &Drier, coating: &Coating) -> f64 {
        self.lying(coating)
            .map_or(f64::INFINITY, |coat| drier.slowness(&coat))
    }

    /// How long it takes.
    pub(super) fn outlook(&self, drier: &Drier, coating: &Coating) -> Drying {
        let outlook = self.lying(coating).and_then(|coat| drier.outlook(&coat));
        match outlook {
            Ok(outlook) => Drying::Timed(Box::new(outlook)),
            Err(why) => Drying::Unknown(why),
        }
    }
}
