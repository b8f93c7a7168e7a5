//! `brimful season`: which weeks are fit to coat in.

use std::io::Write;

use super::blank::Top;
use super::failure::{Failure, wrong};
use super::room::RecordArgs;
use crate::ask::{self, DryQuestion, family_named};
use crate::coating::Coating;
use crate::drying::{EVENING, footprint};
use crate::quantity::{Length, Units};
use crate::show::season_text;

const EXAMPLES: &str = r#"Examples:
  brimful season --coating "water-based dome glaze" --weather town.epw --heated "18 C"
  brimful season --coating "two-part dome epoxy" --weather town.epw --warmer "6 K" --json
  brimful season --coating "water-based sealer" --logger loft.csv

The exit code is 1 where no week of the record is fit at all."#;

/// Asks which weeks of a weather file, or of a logger's record, are fit to coat in.
#[derive(Debug, clap::Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct Args {
    /// The coating; `brimful coatings` lists them
    #[arg(long, value_name = "NAME")]
    coating: String,
    #[command(flatten)]
    record: RecordArgs,
    /// Wet depth of the coat, such as "1.5 mm"; left out, 2 mm for a dome, or the family's usual film
    #[arg(long, allow_hyphen_values = true)]
    depth: Option<Length>,
    #[command(flatten)]
    top: Top,
    /// Show degrees Fahrenheit
    #[arg(long)]
    us: bool,
    /// Write JSON, each key with its unit
    #[arg(long)]
    json: bool,
}

impl Args {
    pub(super) fn run(&self, out: &mut dyn Write) -> Result<(), Failure> {
        let family = family_named(&self.coating).map_err(wrong)?;
        let Some(recorded) = self.record.read(EVENING)? else {
            return Err(wrong(
                "a season is told from a record: --weather FILE, a typical year in the EPW format, or --logger FILE",
            ));
        };
        let question = DryQuestion {
            coating: Coating::of(family),
            room: recorded.room,
            depth: self.depth,
            label_depth: None,
            blank: self.top.outline()?.map(|top| footprint(&top)),
            tray: None,
            shut_in: None,
            lamp: None,
            within: None,
            notices: recorded.notices,
            poured: None,
            asleep: None,
        };
        let answer = ask::season(&question, &recorded.stretches).map_err(wrong)?;
        let units = if self.us { Units::Us } else { Units::Metric };
        if self.json {
            super::json(out, &answer)?;
        } else {
            out.write_all(season_text(&answer, units).as_bytes())?;
        }
        if answer.weeks.iter().all(|week| week.fit.fraction() == 0.0) {
            let words = "no week of the record is fit to coat in: a warmer or drier room would do, see --heated and --warmer";
            return Err(Failure::CannotBeDone(words.to_owned()));
        }
        Ok(())
    }
}
