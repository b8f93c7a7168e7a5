//! `brimful mix`: how a mix splits, how long it lasts, how much to mix.

use std::io::Write;

use super::failure::{Failure, wrong};
use crate::ask::{self, MixQuestion, family_named};
use crate::coating::{Coating, Key};
use crate::quantity::{Kind, Length, Mass, Measured, Ratio, Temperature, Time, Units};
use crate::show::{mix_text, mix_too_short};

const EXAMPLES: &str = r#"Examples:
  brimful mix --coating "two-part dome epoxy" --weight "40 g" --working "20 min"
  brimful mix --coating "two-part dome epoxy" --weight "140 g" --pot-life "60 min" --at "25 C"
  brimful mix --coating "two-part dome epoxy" --weight "3 g" --scale "1 g"
  brimful mix --coating "two-part dome epoxy" --weight "90 g" --pot-life "40 min" --pot-life-mass "100 g"

The exit code is 1 where the mix can't be worked with for as long as --working asks."#;

/// Asks how a mix splits into its parts, how long it lasts in its cup, and how much to mix.
#[derive(Debug, clap::Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct Args {
    /// The coating, mixed from two parts; `brimful coatings` lists them
    #[arg(long, value_name = "NAME")]
    coating: String,
    /// Weight of the mix, such as "40 g"
    #[arg(long, allow_hyphen_values = true)]
    weight: Mass,
    /// The room's temperature, such as "23 C"; left out, the label's
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    at: Option<Temperature>,
    /// What the scale reads to, such as "0.1 g"; left out, 1 g
    #[arg(long, value_name = "STEP", allow_hyphen_values = true)]
    scale: Option<Mass>,
    /// How long its parts are stirred together first, such as "3 min"
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    stirring: Option<Time>,
    /// How long it is to be worked with after that, such as "20 min"
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    working: Option<Time>,
    /// How deep it would lie in a flat tray; left out, 10 mm
    #[arg(long, value_name = "DEPTH", allow_hyphen_values = true)]
    flat: Option<Length>,
    /// The label's pot life, such as "40 min"
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    pot_life: Option<Time>,
    /// The mass that the label states its pot life for, such as "100 g"
    #[arg(long, value_name = "WEIGHT", allow_hyphen_values = true)]
    pot_life_mass: Option<Mass>,
    /// The label's parts of A to B by volume, such as "2:1"
    #[arg(long, value_name = "A:B", allow_hyphen_values = true)]
    ratio: Option<Ratio>,
    /// Show degrees Fahrenheit, inches, ounces by weight and fluid ounces
    #[arg(long)]
    us: bool,
    /// Write JSON, each key with its unit
    #[arg(long)]
    json: bool,
}

impl Args {
    pub(super) fn run(&self, out: &mut dyn Write) -> Result<(), Failure> {
        let family = family_named(&self.coating).map_err(wrong)?;
        let own = |key, kind, si: Option<f64>| Some((key, Measured { kind, si: si? }));
        let own = [
            own(Key::PotLife, Kind::Time, self.pot_life.map(Time::s)),
            own(
                Key::PotLifeMass,
                Kind::Mass,
                self.pot_life_mass.map(Mass::kg),
            ),
            own(Key::Stirring, Kind::Time, self.stirring.map(Time::s)),
            own(Key::VolumeRatio, Kind::Ratio, self.ratio.map(Ratio::number)),
        ];
        // what a family is never given, its answer refuses in its own words
        let mixed = Coating::of(family).two_parts().is_some();
        let own = own.into_iter().flatten().filter(|_| mixed);
        let question = MixQuestion {
            coating: Coating::with(family, own, family.label.clone()).map_err(wrong)?,
            mass: self.weight,
            room: self.at,
            scale: self.scale,
            working: self.working,
            flat: self.flat,
        };
        let answer = ask::mix(&question).map_err(wrong)?;
        let units = if self.us { Units::Us } else { Units::Metric };
        if self.json {
            super::json(out, &answer)?;
        } else {
            out.write_all(mix_text(&answer, units).as_bytes())?;
        }
        mix_too_short(&answer, units).map_or(Ok(()), |why| Err(Failure::CannotBeDone(why)))
    }
}
