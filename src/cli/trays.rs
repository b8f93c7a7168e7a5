//! `brimful trays`: how many pieces lie on a tray.

use std::io::Write;

use clap::ArgGroup;

use super::blank::Top;
use super::counts::whole;
use super::failure::{Failure, wrong};
use crate::ask::{self, TraysQuestion};
use crate::quantity::{Length, Units};
use crate::show::{none_fits, trays_text};

const EXAMPLES: &str = r#"Examples:
  brimful trays --round "25 mm" --tray "451 mm" "356 mm" --gap "10 mm" --count 96
  brimful trays --rectangle "20 mm" "50 mm" --corner "3 mm" --tray "300 mm" "400 mm"
  brimful trays --outline leaf.svg --width "40 mm" --tray "300 mm" "400 mm" --gap "8 mm"
  brimful trays --round "25 mm" --tray "300 mm" "400 mm" --magnet --json

The exit code is 1 where not even one fits."#;

/// Asks how many pieces lie on a tray, and how many trays a number of them takes.
#[derive(Debug, clap::Args)]
#[command(after_help = EXAMPLES, group = ArgGroup::new("blank").required(true))]
pub(super) struct Args {
    #[command(flatten)]
    top: Top,
    /// The tray's two sides, such as "300 mm" "400 mm"
    #[arg(long, num_args = 2, required = true, value_names = ["LENGTH", "WIDTH"], allow_hyphen_values = true)]
    tray: Vec<Length>,
    /// What stays free between two pieces, such as "10 mm"; left out, 10 mm
    #[arg(long, value_name = "WIDTH", allow_hyphen_values = true)]
    gap: Option<Length>,
    /// What stays free along the tray's edge; left out, as wide as the gap
    #[arg(long, value_name = "WIDTH", allow_hyphen_values = true)]
    margin: Option<Length>,
    /// How many pieces, for the trays they take
    #[arg(long, allow_hyphen_values = true, value_parser = whole(1..=1_000_000))]
    count: Option<u32>,
    /// They are magnets, which jump together: keep 40 mm between them where --gap is less
    #[arg(long)]
    magnet: bool,
    /// Show inches
    #[arg(long)]
    us: bool,
    /// Write JSON, each key with its unit
    #[arg(long)]
    json: bool,
}

impl Args {
    pub(super) fn run(&self, out: &mut dyn Write) -> Result<(), Failure> {
        let outline = self.top.outline()?;
        let outline =
            outline.ok_or_else(|| wrong("a blank is needed, such as --round \"25 mm\""))?;
        let &[length, width] = self.tray.as_slice() else {
            return Err(wrong(
                "--tray needs two sides, such as --tray \"300 mm\" \"400 mm\"",
            ));
        };
        let question = TraysQuestion {
            outline,
            tray: [length, width],
            gap: self.gap,
            margin: self.margin,
            magnet: self.magnet,
            count: self.count,
        };
        let answer = ask::trays(&question).map_err(wrong)?;
        let units = if self.us { Units::Us } else { Units::Metric };
        if self.json {
            super::json(out, &answer)?;
        } else {
            out.write_all(trays_text(&answer, units).as_bytes())?;
        }
        none_fits(&answer, units).map_or(Ok(()), |why| Err(Failure::CannotBeDone(why)))
    }
}
