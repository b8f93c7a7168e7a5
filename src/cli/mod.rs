//! The command line: one subcommand a file, each with its `Args`.
//!
//! Only here does the program print. Exit codes: 0 done, 1 the run can't be
//! done as asked, 2 the input is wrong.

mod beside;
mod blank;
mod coatings;
mod counts;
mod dome;
mod dome_extra;
mod dry;
mod dry_lamp;
mod failure;
mod mix;
mod new;
mod patience;
mod plan;
mod price;
mod room;
mod save;
mod season;
mod shell;
mod trays;

use std::io::{self, Write};
use std::process::ExitCode;

use clap::{Parser, Subcommand};

pub use failure::Failure;

const EXAMPLES: &str = r#"Examples:
  brimful                          plan the demo run, which is invented
  brimful new fair.toml            write a run file of your own to change
  brimful plan fair.toml           plan it
  brimful plan fair.toml --save fair-plan
  brimful dome --round "25 mm" --coating "water-based dome glaze"
  brimful dry --coating "water-based dome glaze" --at "12 C" "70 %"
  brimful mix --coating "two-part dome epoxy" --weight "40 g" --working "20 min"
  brimful price --fixed 80 --price 6.00 --materials 0.95 --labour 0.80 --lost "10 %""#;

/// Plans a run of small coated pieces: how full, how much, how long, in the room as it is.
#[derive(Debug, Parser)]
#[command(name = "brimful", version, about, after_help = EXAMPLES, max_term_width = 100, args_conflicts_with_subcommands = true)]
struct Cli {
    /// The demo's plan as JSON, each key with its unit
    #[arg(long)]
    json: bool,
    #[command(flatten)]
    save: save::Save,
    #[command(subcommand)]
    question: Option<Question>,
}

/// What can be asked.
#[derive(Debug, Subcommand)]
enum Question {
    Plan(plan::Args),
    New(new::Args),
    Dome(dome::Args),
    Dry(Box<dry::Args>),
    Season(season::Args),
    Mix(mix::Args),
    Trays(trays::Args),
    Price(price::Args),
    Coatings(coatings::Args),
    Completions(shell::Completions),
    Man(shell::Man),
}

impl Question {
    fn run(&self, out: &mut dyn Write) -> Result<(), Failure> {
        match self {
            Self::Plan(args) => args.run(out),
            Self::New(args) => args.run(out),
            Self::Dome(args) => args.run(out),
            Self::Dry(args) => args.run(out),
            Self::Season(args) => args.run(out),
            Self::Mix(args) => args.run(out),
            Self::Trays(args) => args.run(out),
            Self::Price(args) => args.run(out),
            Self::Coatings(args) => args.run(out),
            Self::Completions(args) => args.run(out),
            Self::Man(args) => args.run(out),
        }
    }
}

/// Writes an answer as JSON.
fn json(out: &mut dyn Write, answer: &impl serde::Serialize) -> Result<(), Failure> {
    serde_json::to_writer_pretty(&mut *out, answer).map_err(io::Error::from)?;
    writeln!(out)?;
    Ok(())
}

/// Runs the program with the process's own arguments, and gives its exit code.
#[must_use]
pub fn main() -> ExitCode {
    let cli = match Cli::try_parse() {
        Ok(cli) => cli,
        Err(usage) => usage.exit(),
    };
    // This thread works too.
    let workers = rayon::ThreadPoolBuilder::new().use_current_thread();
    if let Err(error) = workers.build_global() {
        return Failure::Io(error.into()).tell();
    }
    let mut out = io::BufWriter::new(io::stdout().lock());
    let done = match &cli.question {
        Some(question) => question.run(&mut out),
        None => plan::demo(&mut out, cli.json, &cli.save),
    };
    // What was answered is shown even where the run can't be done as asked.
    let flushed = out.flush().map_err(Failure::from);
    match done.and(flushed) {
        Err(failure) if !failure.is_closed_pipe() => failure.tell(),
        _ => ExitCode::SUCCESS,
    }
}
