//! `backup`: a verified copy of the register.

use crate::answer::FORMAT;
use crate::desk::Desk;
use crate::exit::{Exit, Failure};
use crate::{open, words};
use serde::Serialize;
use std::path::{Path, PathBuf};
use store::{Checked, RegisterStore, StoreError};

/// Options.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
The copy is read back and compared before it takes its name. A file that is there is not written over.

Examples:
  holdproof backup group-2026-06-01.holdproof
  holdproof backup                                names the copy after today")]
pub struct Args {
    /// File to write; named after today if left out
    #[arg(value_name = "FILE")]
    target: Option<PathBuf>,
}

/// What was copied.
#[derive(Serialize)]
pub struct Answer {
    pub format: u32,
    pub from: String,
    pub to: String,
    pub facts: usize,
}

impl Answer {
    /// After a copy.
    pub fn new(from: &Path, to: &Path, checked: Checked) -> Self {
        Self {
            format: FORMAT,
            from: from.display().to_string(),
            to: to.display().to_string(),
            facts: checked.facts,
        }
    }
}

/// Writes the copy.
pub fn run(args: &Args, desk: &mut Desk) -> Result<Exit, Failure> {
    let store = open::to_read(desk)?;
    let target = args.target.clone().unwrap_or_else(|| {
        let stem = desk.register.file_stem().unwrap_or_default().to_string_lossy().into_owned();
        desk.register.with_file_name(format!("{stem}-{}.holdproof", desk.today))
    });
    let checked = store.backup_to(&target).map_err(|error| match error {
        // the register is well; it is the copy that cannot be written
        StoreError::Exists { .. } | StoreError::Io { .. } | StoreError::DiskFull { .. } => {
            Failure::other(error)
        }
        other => other.into(),
    })?;
    let answer = Answer::new(&desk.register, &target, checked);
    if desk.json {
        desk.write_json(&answer)?;
    } else {
        let facts = words::count(answer.facts, "fact");
        writeln!(desk.out, "Copied {facts} to {} and read them back.", answer.to)?;
    }
    Ok(Exit::Fine)
}
