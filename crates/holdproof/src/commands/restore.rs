//! `restore`: a backup takes the register's place.

use super::backup::Answer;
use crate::desk::Desk;
use crate::exit::{Exit, Failure};
use crate::words;
use std::path::PathBuf;

/// Options.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
The backup is checked before and after it is copied. A register that is there is written over only
with --overwrite; make a backup of it first.

Examples:
  holdproof restore group-2026-06-01.holdproof
  holdproof restore group-2026-06-01.holdproof --register group.holdproof --overwrite")]
pub struct Args {
    /// The backup
    #[arg(value_name = "BACKUP")]
    backup: PathBuf,
    /// Write over the register that is there
    #[arg(long)]
    overwrite: bool,
}

/// Brings it back.
pub fn run(args: &Args, desk: &mut Desk) -> Result<Exit, Failure> {
    let checked = store::restore(&args.backup, &desk.register, args.overwrite)?;
    let answer = Answer::new(&args.backup, &desk.register, checked);
    if desk.json {
        desk.write_json(&answer)?;
    } else {
        let facts = words::count(answer.facts, "fact");
        writeln!(desk.out, "Restored {facts} from {} to {}.", answer.from, answer.to)?;
    }
    Ok(Exit::Fine)
}
