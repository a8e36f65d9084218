//! `init`: an empty register.

use crate::answer::FORMAT;
use crate::desk::Desk;
use crate::exit::{Exit, Failure};
use serde::Serialize;
use store::SqliteStore;

/// Options.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
A file of that name that is there already is left as it is.

Examples:
  holdproof init
  holdproof init --register sallow-ridge.holdproof")]
pub struct Args {}

#[derive(Serialize)]
struct Answer {
    format: u32,
    register: String,
    created: bool,
}

/// Makes the file.
pub fn run(_args: &Args, desk: &mut Desk) -> Result<Exit, Failure> {
    SqliteStore::create(&desk.register)?;
    let register = desk.register.display().to_string();
    if desk.json {
        desk.write_json(&Answer { format: FORMAT, register, created: true })?;
    } else {
        writeln!(desk.out, "Made the register {register}. Next: holdproof import FILES")?;
    }
    Ok(Exit::Fine)
}
