//! `brimful plan`: the whole run.

use std::io::Write;
use std::path::PathBuf;

use anyhow::Context;

use super::Failure;
use crate::run::Run;

const DEMO: &str = include_str!("../../data/demo.toml");

/// Plans a whole run from its file.
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:\n  brimful plan fair.toml")]
pub(super) struct Args {
    /// The run file; `brimful new FILE` writes one to start from
    file: PathBuf,
}

impl Args {
    pub(super) fn run(&self, out: &mut dyn Write) -> Result<(), Failure> {
        let shown = self.file.display().to_string();
        let bytes = std::fs::read(&self.file)
            .with_context(|| format!("{shown} can't be read"))
            .map_err(Failure::Io)?;
        let run =
            Run::read_bytes(&bytes, &shown).map_err(|faults| Failure::Input(faults.to_string()))?;
        writeln!(out, "{}", run.header.name)?;
        Ok(())
    }
}

/// Plans the demo run, and says that it is invented.
pub(super) fn demo(out: &mut dyn Write) -> Result<(), Failure> {
    let run =
        Run::read(DEMO, "the demo run").map_err(|faults| Failure::Input(faults.to_string()))?;
    writeln!(out, "{}", run.header.name)?;
    Ok(())
}
