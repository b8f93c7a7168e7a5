//! `brimful dome`: how much one blank holds.

use std::io::Write;

use clap::ArgGroup;

use super::blank::Flags;
use super::counts::whole;
use super::dome_extra::Extra;
use super::failure::{Failure, wrong};
use crate::ask::{self, By, DomeQuestion, Overrides, Verdict, family_named};
use crate::coating::Coating;
use crate::quantity::{Angle, Density, Length, Mass, SurfaceTension, Units, Volume};
use crate::show::{dome_text, dome_verdict};

const EXAMPLES: &str = r#"Examples:
  brimful dome --round "25 mm" --coating "water-based dome glaze" --count 48
  brimful dome --rectangle "20 mm" "50 mm" --corner "3 mm" --coating "two-part dome epoxy"
  brimful dome --oval "25 mm" "18 mm" --coating "water-based dome glaze"
  brimful dome --regular 6 "25 mm" --corner "2 mm" --coating "water-based dome glaze"
  brimful dome --outline leaf.svg --width "40 mm" --coating "water-based dome glaze"
  brimful dome --round "38 mm" --hole "3 mm" "0 mm" "14 mm" --coating "two-part dome epoxy"
  brimful dome --round "25 mm" --wall "2 mm" --coating "two-part dome epoxy"
  brimful dome --round "38 mm" --coating "water-based dome glaze" --dry-height "0.9 mm" --drops 96
  brimful dome --round "1 1/2 in" --coating "water-based dome glaze" --weight "0.05 oz wt" --us

Asked by height, volume or weight, the exit code is 1 where the coat would run over; too little
is warned of. Asked by edge angle it is a question about the shape."#;

/// Asks how much one blank holds.
#[derive(Debug, clap::Args)]
#[command(
    after_help = EXAMPLES,
    group = ArgGroup::new("blank").required(true),
    group = ArgGroup::new("measure"),
)]
pub(super) struct Args {
    #[command(flatten)]
    blank: Flags,
    /// The coating; `brimful coatings` lists them
    #[arg(long, value_name = "NAME")]
    coating: String,
    /// How many pieces, for a total
    #[arg(long, allow_hyphen_values = true, value_parser = whole(1..=1_000_000))]
    count: Option<u32>,
    /// Ask by the edge angle, such as "45 deg"; left out, it is the coating's target
    #[arg(
        long,
        group = "measure",
        value_name = "ANGLE",
        allow_hyphen_values = true
    )]
    edge_angle: Option<Angle>,
    /// Ask by the wet height in the middle, such as "1.5 mm"
    #[arg(
        long,
        group = "measure",
        value_name = "HEIGHT",
        allow_hyphen_values = true
    )]
    peak: Option<Length>,
    /// Ask by the wet volume on one piece, such as "0.5 mL"
    #[arg(long, group = "measure", allow_hyphen_values = true)]
    volume: Option<Volume>,
    /// Ask by the wet weight on one piece, such as "0.6 g"
    #[arg(long, group = "measure", allow_hyphen_values = true)]
    weight: Option<Mass>,
    /// The wet coating's surface tension, such as "35 mN/m"
    #[arg(long, value_name = "TENSION", allow_hyphen_values = true)]
    surface_tension: Option<SurfaceTension>,
    /// The wet coating's density, such as "1.05 g/mL"
    #[arg(long, allow_hyphen_values = true)]
    density: Option<Density>,
    #[command(flatten)]
    extra: Extra,
    /// Show inches, fluid ounces and ounces by weight
    #[arg(long)]
    us: bool,
    /// Write JSON, each key with its unit
    #[arg(long)]
    json: bool,
}

impl Args {
    pub(super) fn run(&self, out: &mut dyn Write) -> Result<(), Failure> {
        let family = family_named(&self.coating).map_err(wrong)?;
        let question = DomeQuestion {
            blank: self.blank.blank()?,
            coating: Coating::of(family),
            count: self.count,
            by: self.by(),
            overrides: Overrides {
                surface_tension: self.surface_tension,
                density: self.density,
                solids: self.extra.solids(),
            },
            piece: self.extra.piece(),
        };
        let answer = ask::dome(&question).map_err(wrong)?;
        let units = if self.us { Units::Us } else { Units::Metric };
        if self.json {
            super::json(out, &answer)?;
        } else {
            out.write_all(dome_text(&answer, units).as_bytes())?;
        }
        // too little is warned of; an angle is a question about the shape
        let is_shape = matches!(answer.by, By::EdgeAngle(_));
        if answer.verdict == Verdict::RunsOver && !is_shape {
            Err(Failure::CannotBeDone(dome_verdict(&answer, units)))
        } else {
            Ok(())
        }
    }

    /// clap has seen to it that at most one is there.
    fn by(&self) -> By {
        let asked = [
            self.edge_angle.map(By::EdgeAngle),
            self.peak.map(By::Peak),
            self.extra.dry_height(),
            self.volume.map(By::Volume),
            self.weight.map(By::Mass),
        ];
        asked.into_iter().flatten().next().unwrap_or(By::Target)
    }
}
