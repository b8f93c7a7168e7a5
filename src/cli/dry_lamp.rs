//! The lamp of `brimful dry`.

use crate::ask::{LampQuestion, Shines};
use crate::cure::lamp::Shining;
use crate::quantity::{Irradiance, Length, Time};

/// What the command line says of a lamp.
#[derive(Debug, clap::Args)]
pub(super) struct LampArgs {
    /// For what a lamp cures: its irradiance at the piece, such as "8 mW/cm2"
    #[arg(long, value_name = "IRRADIANCE", allow_hyphen_values = true)]
    light: Option<Irradiance>,
    /// How far from the lamp that was measured, such as "50 mm"
    #[arg(
        long,
        value_name = "DISTANCE",
        requires = "light",
        allow_hyphen_values = true
    )]
    light_at: Option<Length>,
    /// How far from the lamp the piece is held, such as "80 mm"
    #[arg(
        long,
        value_name = "DISTANCE",
        requires = "light_at",
        allow_hyphen_values = true
    )]
    held_at: Option<Length>,
    /// How long one pass under the lamp lasts, such as "60 s"
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    pass: Option<Time>,
}

impl LampArgs {
    /// The lamp asked after; none where nothing is said of one.
    pub(super) fn read(&self) -> Option<LampQuestion> {
        if self.light.is_none() && self.pass.is_none() {
            return None;
        }
        let shines = match (self.light, self.light_at) {
            (None, _) => Shines::AsUsual,
            (Some(light), None) => Shines::Here(light),
            (Some(light), Some(distance)) => Shines::Moved {
                lamp: Shining { distance, light },
                to: self.held_at.unwrap_or(distance),
            },
        };
        Some(LampQuestion {
            shines,
            pass: self.pass,
        })
    }
}
