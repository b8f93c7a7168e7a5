//! What a shell and a manual reader want to know of the commands.

use std::io::Write;

use clap::CommandFactory;
use clap_complete::Shell;

use super::{Cli, Failure, failure::wrong};

/// Writes a shell's completions for brimful: bash, zsh, fish, elvish or powershell
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  brimful completions bash > ~/.local/share/bash-completion/completions/brimful
  brimful completions fish > ~/.config/fish/completions/brimful.fish")]
pub(super) struct Completions {
    /// The shell that they are for
    shell: Shell,
}

impl Completions {
    pub(super) fn run(&self, out: &mut dyn Write) -> Result<(), Failure> {
        let mut script = Vec::new();
        clap_complete::generate(self.shell, &mut Cli::command(), "brimful", &mut script);
        Ok(out.write_all(&script)?)
    }
}

/// Writes the manual page of brimful or of one of its commands, as man reads it
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  brimful man | man -l -
  brimful man plan > brimful-plan.1")]
pub(super) struct Man {
    /// The command that it is for; brimful itself where none is named
    command: Option<String>,
}

impl Man {
    pub(super) fn run(&self, out: &mut dyn Write) -> Result<(), Failure> {
        let mut command = Cli::command();
        command.build();
        if let Some(name) = &self.command {
            let known: Vec<String> = command
                .get_subcommands()
                .map(|one| one.get_name().to_owned())
                .collect();
            let Some(one) = command.find_subcommand(name) else {
                return Err(wrong(format!(
                    "there is no command \"{name}\" to write the manual of; expected one of {}",
                    known.join(", ")
                )));
            };
            command = one.clone();
        }
        let mut page = Vec::new();
        clap_mangen::Man::new(command).render(&mut page)?;
        Ok(out.write_all(&page)?)
    }
}
