//! Exit codes and failures.

use std::fmt;

/// How a command ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Exit {
    /// Done, nothing to repair.
    Fine = 0,
    /// Done, but something needs repair or attention.
    Findings = 1,
    /// The command line is wrong, or names something that does not exist.
    Usage = 2,
    /// The register file cannot be used.
    Register = 3,
    /// Anything else: a file cannot be written, an internal fault.
    Internal = 4,
}

impl From<Exit> for std::process::ExitCode {
    fn from(exit: Exit) -> Self {
        Self::from(exit as u8)
    }
}

/// The exit codes as the help shows them.
pub const EXIT_CODES: &str = "\
Exit codes:
  0  done, nothing to repair
  1  done, but something needs repair or attention (see what was printed)
  2  the command line is wrong, or names something that is not there
  3  the register file cannot be used
  4  something else went wrong";

/// Why a command stopped: one sentence for a person, and the exit code.
#[derive(Debug)]
pub struct Failure {
    /// Exit code.
    pub exit: Exit,
    /// What is wrong and where.
    pub what: String,
    /// What to do about it.
    pub advice: Option<String>,
    /// The reader of the answer has gone: nobody is left to tell.
    pub closed_pipe: bool,
}

impl Failure {
    fn new(exit: Exit, what: impl fmt::Display) -> Self {
        Self { exit, what: what.to_string(), advice: None, closed_pipe: false }
    }

    /// The command line is wrong, or names something that does not exist.
    pub fn usage(what: impl fmt::Display) -> Self {
        Self::new(Exit::Usage, what)
    }

    /// The register file cannot be used.
    pub fn register(what: impl fmt::Display) -> Self {
        Self::new(Exit::Register, what)
    }

    /// Anything else.
    pub fn other(what: impl fmt::Display) -> Self {
        Self::new(Exit::Internal, what)
    }

    /// A file that could not be written or read on the way.
    pub fn file(doing: &str, path: &std::path::Path, error: impl fmt::Display) -> Self {
        Self::other(format!("cannot {doing} {}: {error}", path.display()))
    }

    /// Adds what to do.
    pub fn advise(mut self, advice: impl fmt::Display) -> Self {
        self.advice = Some(advice.to_string());
        self
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.what)?;
        if let Some(advice) = &self.advice {
            write!(f, "\n  {advice}")?;
        }
        Ok(())
    }
}

impl std::error::Error for Failure {}

impl From<std::io::Error> for Failure {
    fn from(error: std::io::Error) -> Self {
        let closed_pipe = error.kind() == std::io::ErrorKind::BrokenPipe;
        Self { closed_pipe, ..Self::other(format!("cannot write the answer: {error}")) }
    }
}

impl From<serde_json::Error> for Failure {
    fn from(error: serde_json::Error) -> Self {
        let closed_pipe = error.io_error_kind() == Some(std::io::ErrorKind::BrokenPipe);
        Self { closed_pipe, ..Self::other(format!("cannot write the answer as JSON: {error}")) }
    }
}
