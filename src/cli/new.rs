//! `brimful new`: a run file to start from.

use std::fs::OpenOptions;
use std::io::{ErrorKind, Write};
use std::path::PathBuf;

use anyhow::Context;

use super::Failure;

const TEMPLATE: &str = include_str!("../../data/template.toml");

/// Writes a commented run file to start from.
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:\n  brimful new fair.toml")]
pub(super) struct Args {
    /// The file to write; one that is there already is left alone
    file: PathBuf,
}

impl Args {
    pub(super) fn run(&self, out: &mut dyn Write) -> Result<(), Failure> {
        let shown = self.file.display();
        let mut file = match OpenOptions::new()
            .write(true)
            .create_new(true)
            .open(&self.file)
        {
            Ok(file) => file,
            Err(error) if error.kind() == ErrorKind::AlreadyExists => {
                return Err(Failure::Input(format!(
                    "{shown} is there already, and is left as it is; choose another name"
                )));
            }
            Err(error) => {
                let error = anyhow::Error::new(error).context(format!("{shown} can't be written"));
                return Err(Failure::Io(error));
            }
        };
        file.write_all(TEMPLATE.as_bytes())
            .with_context(|| format!("{shown} can't be written"))
            .map_err(Failure::Io)?;
        writeln!(
            out,
            "Wrote {shown}. Change it to your own run, then: brimful plan {shown}"
        )?;
        Ok(())
    }
}
