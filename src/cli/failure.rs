//! Why a question was not answered as asked.

use std::io::{self, Write};
use std::process::ExitCode;

/// Why a question was not answered as asked.
#[derive(Debug)]
pub enum Failure {
    /// The input is wrong: exit code 2.
    Input(String),
    /// It can't be done as asked, and what would make it possible: exit code 1.
    CannotBeDone(String),
    /// A file can't be read or written: exit code 2.
    Io(anyhow::Error),
}

/// The input is wrong, in these words.
pub(super) fn wrong(words: impl std::fmt::Display) -> Failure {
    Failure::Input(words.to_string())
}

impl From<io::Error> for Failure {
    fn from(error: io::Error) -> Self {
        Self::Io(error.into())
    }
}

impl Failure {
    /// Whether whoever was reading has had enough, as `head` has: no failure at all.
    pub(super) fn is_closed_pipe(&self) -> bool {
        let Self::Io(error) = self else { return false };
        error
            .downcast_ref::<io::Error>()
            .is_some_and(|error| error.kind() == io::ErrorKind::BrokenPipe)
    }

    /// Says it on standard error, and gives the exit code.
    pub(super) fn tell(&self) -> ExitCode {
        let (words, code) = match self {
            Self::Input(words) => (words.clone(), 2),
            Self::CannotBeDone(words) => (words.clone(), 1),
            // "{:#}" tells the chain of causes and never a backtrace.
            Self::Io(error) => (format!("{error:#}"), 2),
        };
        // With standard error closed too, nobody is left to tell; the exit code remains.
        let _ = writeln!(io::stderr(), "error: {words}");
        ExitCode::from(code)
    }
}
