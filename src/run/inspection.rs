//! Looking the pieces over, twice.

use crate::quantity::{Share, Time};

/// Two looks at every piece: when its last coat may be handled, and again later, for
/// some faults only show after days.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Inspection {
    /// Hands-on time for one piece, each time.
    pub hands_on: Time,
    /// How long after the first look the second is.
    pub again_after: Time,
    /// Share of pieces that passed the first look and are found bad at the second, less than one.
    pub late: Share,
    /// Share of sound pieces that are fit to sell as seconds only, less than one.
    pub seconds: Share,
}
