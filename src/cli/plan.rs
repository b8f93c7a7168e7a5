//! `brimful plan`: the whole run.

use std::io::Write;
use std::path::{Path, PathBuf};

use anyhow::Context;

use super::{Failure, beside, save};
use crate::plan::{Plan, PlanError, plan};
use crate::run::Run;
use crate::show::{json, text, words};

const DEMO: &str = include_str!("../../data/demo.toml");

const ABOUT_THE_DEMO: &str = "\
This is the demo run: its maker, fair, pieces, bottles and prices are invented.
For a run of your own: brimful new fair.toml, change what it says, then brimful plan fair.toml
";

/// Plans a whole run from its file: how full, how much, how long.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  brimful plan fair.toml
  brimful plan fair.toml --json
  brimful plan fair.toml --save fair-plan

Exit codes: 0 done, 1 the run can't be done as asked, 2 the input is wrong.")]
pub(super) struct Args {
    /// The run file; `brimful new FILE` writes one to start from
    file: PathBuf,
    /// Tell the plan as JSON, each key with its unit
    #[arg(long)]
    json: bool,
    /// Also write the plan, its JSON and its pictures into this folder
    #[arg(long, value_name = "DIR")]
    save: Option<PathBuf>,
    /// Let --save replace files that are there already
    #[arg(long, requires = "save")]
    force: bool,
}

impl Args {
    pub(super) fn run(&self, out: &mut dyn Write) -> Result<(), Failure> {
        let run = read(&self.file)?;
        let plan = plan(&run).map_err(|why| refused(&why))?;
        if let Some(folder) = &self.save {
            let files = save::files(&run, &plan)?;
            save::write(folder, &files, self.force)?;
        }
        if self.json {
            let told = json::plan(&plan).map_err(|error| Failure::Io(error.into()))?;
            out.write_all(told.as_bytes())?;
        } else {
            out.write_all(text::plan(&plan).as_bytes())?;
        }
        done(&plan)
    }
}

/// Plans the demo run, and says that it is invented.
pub(super) fn demo(out: &mut dyn Write, as_json: bool) -> Result<(), Failure> {
    let run =
        Run::read(DEMO, "the demo run").map_err(|faults| Failure::Input(faults.to_string()))?;
    let plan = plan(&run).map_err(|why| refused(&why))?;
    if as_json {
        let told = json::plan(&plan).map_err(|error| Failure::Io(error.into()))?;
        writeln!(out, "{told}")?;
    } else {
        writeln!(out, "{ABOUT_THE_DEMO}")?;
        out.write_all(text::plan(&plan).as_bytes())?;
    }
    done(&plan)
}

fn read(file: &Path) -> Result<Run, Failure> {
    let shown = file.display().to_string();
    let bytes = std::fs::read(file)
        .with_context(|| format!("{shown} can't be read"))
        .map_err(Failure::Io)?;
    // a drawing or a record is named from where the run file lies
    let folder = file.parent().unwrap_or(Path::new(""));
    let beside = |name: &str| beside::read(&folder.join(name));
    Run::read_bytes_with(&bytes, &shown, &beside)
        .map_err(|faults| Failure::Input(faults.to_string()))
}

/// A plan that can't be made at all.
pub(super) fn refused(why: &PlanError) -> Failure {
    Failure::CannotBeDone(why.to_string())
}

/// Whether the run can be done as asked.
fn done(plan: &Plan) -> Result<(), Failure> {
    let units = plan.header.units;
    let stops = plan.stops().map(|warning| words::warning(warning, units));
    let late = plan.is_too_late().then(|| text::start(plan));
    let why: Vec<String> = stops.chain(late).collect();
    if why.is_empty() {
        Ok(())
    } else {
        Err(Failure::CannotBeDone(format!(
            "the run can't be done as asked\n{}",
            why.join("\n")
        )))
    }
}
