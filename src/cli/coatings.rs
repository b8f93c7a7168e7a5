//! `brimful coatings`: the families and what is assumed of them.

use std::io::Write;

use super::Failure;
use crate::ask::{coatings, family_named};
use crate::coating::families;
use crate::quantity::Units;
use crate::show::{coating_list, coating_text};

const EXAMPLES: &str = r#"Examples:
  brimful coatings
  brimful coatings "two-part dome epoxy""#;

/// Lists the coatings, or tells what is assumed of one, with sources and cautions.
#[derive(Debug, clap::Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct Args {
    /// The coating to tell about; left out, all are listed
    name: Option<String>,
    /// Show US units
    #[arg(long)]
    us: bool,
    /// Write JSON: a list, each figure with its unit
    #[arg(long)]
    json: bool,
}

impl Args {
    pub(super) fn run(&self, out: &mut dyn Write) -> Result<(), Failure> {
        let asked = match &self.name {
            Some(name) => {
                vec![family_named(name).map_err(|slip| Failure::Input(slip.to_string()))?]
            }
            None => families().iter().collect(),
        };
        let answers = coatings(asked);
        let units = if self.us { Units::Us } else { Units::Metric };
        match answers.as_slice() {
            all if self.json => super::json(out, &all)?,
            [only] => out.write_all(coating_text(only, units).as_bytes())?,
            all => out.write_all(coating_list(all).as_bytes())?,
        }
        Ok(())
    }
}
