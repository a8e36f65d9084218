//! `check`: damage in the file, contradictions in the records.

use crate::answer::FORMAT;
use crate::desk::Desk;
use crate::exit::{Exit, Failure};
use crate::open;
use serde::Serialize;
use store::RegisterStore;

/// Options.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Reads the whole file, compares what it keeps with the log of facts, and looks for records that cannot
both be true.

Examples:
  holdproof check
  holdproof check --json | jq '.contradictions | length'")]
pub struct Args {}

#[derive(Serialize)]
struct Answer {
    format: u32,
    register: String,
    sound: bool,
    facts: usize,
    subjects: usize,
}

/// Checks.
pub fn run(_args: &Args, desk: &mut Desk) -> Result<Exit, Failure> {
    let store = open::to_read(desk)?;
    let checked = store.check()?;
    let register = desk.register.display().to_string();
    if desk.json {
        let answer = Answer {
            format: FORMAT,
            register,
            sound: true,
            facts: checked.facts,
            subjects: checked.subjects,
        };
        desk.write_json(&answer)?;
    } else {
        writeln!(
            desk.out,
            "{register}: {} facts about {} subjects, undamaged.",
            checked.facts, checked.subjects
        )?;
    }
    Ok(Exit::Fine)
}
