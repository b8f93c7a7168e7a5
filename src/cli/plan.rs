//! `brimful plan`: the whole run.

use std::io::Write;
use std::path::{Path, PathBuf};

use anyhow::Context;
use jiff::civil::DateTime;

use super::save::Save;
use super::{Failure, beside, patience};
use crate::plan::{Plan, PlanError, Warning, Watch, plan_watched};
use crate::run::Run;
use crate::show::{Beside, json, text, words};

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
  brimful plan fair.toml --from now
  brimful plan fair.toml --against fair-in-epoxy.toml

Exit codes: 0 done, 1 the run can't be done as asked, 2 the input is wrong.")]
pub(super) struct Args {
    /// The run file; `brimful new FILE` writes one to start from
    file: PathBuf,
    /// Tell the plan as JSON, each key with its unit
    #[arg(long)]
    json: bool,
    /// From when you can begin and order, such as "2027-04-02 18:30", or "now"; in place of the file's start
    #[arg(long, value_name = "WHEN")]
    from: Option<From>,
    /// Another run file to set beside this one: date, cost, space, cautions
    #[arg(long, value_name = "FILE", conflicts_with = "folder")]
    against: Option<PathBuf>,
    #[command(flatten)]
    save: Save,
}

impl Args {
    pub(super) fn run(&self, out: &mut dyn Write) -> Result<(), Failure> {
        let run = self.begun(read(&self.file)?)?;
        let plan = worked_out(&run)?;
        if let Some(other) = &self.against {
            return self.beside(&plan, other, out);
        }
        self.save.write(&run, &plan)?;
        if self.json {
            let told = json::plan(&plan).map_err(|error| Failure::Io(error.into()))?;
            out.write_all(told.as_bytes())?;
        } else {
            out.write_all(text::plan(&plan).as_bytes())?;
        }
        done(&plan)
    }
}

/// From when work can begin.
#[derive(Debug, Clone, Copy)]
enum From {
    /// As the machine's clock has it.
    Now,
    /// A moment of the maker's own clock.
    At(DateTime),
}

impl std::str::FromStr for From {
    type Err = String;

    fn from_str(words: &str) -> Result<Self, String> {
        if words.trim() == "now" {
            return Ok(Self::Now);
        }
        words.trim().parse().map(Self::At).map_err(|_| {
            "expected a date and time by your own clock, such as \"2027-04-02 18:30\", or \"now\"".to_owned()
        })
    }
}

impl Args {
    /// The run with the start that was asked for.
    fn begun(&self, mut run: Run) -> Result<Run, Failure> {
        let start = match self.from {
            None => return Ok(run),
            Some(From::At(at)) => at,
            Some(From::Now) => jiff::tz::TimeZone::system().to_datetime(jiff::Timestamp::now()),
        };
        if let Some(ready_by) = run.header.ready_by.filter(|&ready_by| start >= ready_by) {
            return Err(Failure::CannotBeDone(format!(
                "--from {} is not before the run's ready_by, {}",
                start.strftime("%Y-%m-%d %H:%M"),
                ready_by.strftime("%Y-%m-%d %H:%M")
            )));
        }
        run.header.start = Some(start);
        Ok(run)
    }

    /// Two ways side by side.
    fn beside(
        &self,
        plan_of_this: &Plan,
        other: &Path,
        out: &mut dyn Write,
    ) -> Result<(), Failure> {
        let run = self.begun(read(other)?)?;
        let plan_of_other = worked_out(&run)?;
        let names = [self.file.as_path(), other].map(|file| file.display().to_string());
        let both = Beside {
            names: names.each_ref().map(String::as_str),
            plans: [plan_of_this, &plan_of_other],
        };
        if self.json {
            super::json(out, &json::beside(&both))?;
        } else {
            out.write_all(text::beside(&both).as_bytes())?;
        }
        done(plan_of_this)?;
        done(&plan_of_other)
    }
}

/// Plans the demo run, and says that it is invented.
pub(super) fn demo(out: &mut dyn Write, as_json: bool, save: &Save) -> Result<(), Failure> {
    let run =
        Run::read(DEMO, "the demo run").map_err(|faults| Failure::Input(faults.to_string()))?;
    let plan = worked_out(&run)?;
    save.write(&run, &plan)?;
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
    // goods that come late are a reason to be too late, and by themselves none to stop
    let goods = (plan.warnings.iter())
        .filter(|warning| late.is_some() && matches!(warning, Warning::OrderTooLate { .. }))
        .map(|warning| words::warning(warning, units));
    let why: Vec<String> = stops.chain(late.clone()).chain(goods).collect();
    if why.is_empty() {
        Ok(())
    } else {
        Err(Failure::CannotBeDone(format!(
            "the run can't be done as asked\n{}",
            why.join("\n")
        )))
    }
}

/// Plans a run; where that takes a while, a bar says so.
fn worked_out(run: &Run) -> Result<Plan, Failure> {
    let watch = Watch::default();
    patience::watched(("planning", &watch), || plan_watched(run, &watch))
        .map_err(|why| refused(&why))
}
