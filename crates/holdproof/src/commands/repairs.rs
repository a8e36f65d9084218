//! `repairs`: what imports could not take.

use crate::answer::FORMAT;
use crate::desk::Desk;
use crate::exit::{Exit, Failure};
use crate::table::wrap;
use crate::{open, words};
use serde::Serialize;
use store::{KeptRepair, RegisterStore};

/// Options.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Correct the sheet, or the repair list (CSV) that the import wrote, and import it again: what can be
read then leaves the list, and nothing is recorded twice. What is settled as it stands does not come
back with the same sheet.

Examples:
  holdproof repairs
  holdproof repairs --all           also those that are settled
  holdproof repairs --settle 12     this one stays as it is")]
pub struct Args {
    /// Also show what is settled
    #[arg(long)]
    all: bool,
    /// Mark an entry as settled, by its number
    #[arg(long, value_name = "NUMBER")]
    settle: Option<u64>,
}

#[derive(Serialize)]
struct Answer<'a> {
    format: u32,
    repairs: Vec<Line<'a>>,
}

#[derive(Serialize)]
struct Line<'a> {
    number: u64,
    file: &'a str,
    sheet: Option<&'a str>,
    row: u32,
    column: Option<&'a str>,
    value: &'a str,
    reason: &'a str,
    first_seen: String,
    settled: Option<String>,
}

/// Prints the list.
pub fn run(args: &Args, desk: &mut Desk) -> Result<Exit, Failure> {
    if let Some(number) = args.settle {
        let mut store = open::to_write(desk)?;
        if !store.resolve_repair(number, desk.now_millis())? {
            return Err(Failure::usage(format!("there is no open entry number {number}"))
                .advise("`holdproof repairs` shows the numbers."));
        }
        drop(store);
        if !desk.json {
            writeln!(desk.out, "Entry {number} is settled.")?;
        }
    }
    let repairs = open::to_read(desk)?.repairs(!args.all)?;
    let open = repairs.iter().filter(|kept| kept.resolved.is_none()).count();
    if desk.json {
        let repairs = repairs.iter().map(line).collect();
        desk.write_json(&Answer { format: FORMAT, repairs })?;
    } else {
        print(desk, &repairs, open)?;
    }
    Ok(if open > 0 { Exit::Findings } else { Exit::Fine })
}

fn line(kept: &KeptRepair) -> Line<'_> {
    Line {
        number: kept.id,
        file: &kept.file,
        sheet: kept.repair.sheet.as_deref(),
        row: kept.repair.row,
        column: kept.repair.column.as_deref(),
        value: &kept.repair.value,
        reason: &kept.repair.reason,
        first_seen: words::moment(kept.first_seen),
        settled: kept.resolved.map(words::moment),
    }
}

fn print(desk: &mut Desk, repairs: &[KeptRepair], open: usize) -> Result<(), Failure> {
    let out = &mut desk.out;
    if repairs.is_empty() {
        writeln!(out, "Nothing is waiting for repair.")?;
        return Ok(());
    }
    let mut last = None;
    for kept in repairs {
        let place = (&kept.file, &kept.repair.sheet);
        if last != Some(place) {
            last = Some(place);
            let sheet =
                kept.repair.sheet.as_deref().map_or_else(String::new, |sheet| format!(", sheet {sheet}"));
            writeln!(out, "{}", words::heading(&format!("{}{sheet}", kept.file)))?;
        }
        let repair = &kept.repair;
        let column = repair.column.as_deref().map_or_else(String::new, |column| format!(", {column}"));
        let settled = if kept.resolved.is_some() { " (settled)" } else { "" };
        let value = if repair.value.is_empty() { String::new() } else { format!(": '{}'", repair.value) };
        writeln!(out, "  {:>4}  row {}{column}{value}{settled}", kept.id, repair.row)?;
        writeln!(out, "{}", wrap(&repair.reason, 92, "        "))?;
    }
    writeln!(
        out,
        "\n{} waiting. Correct the sheet, or the list that the import wrote, and import it again.",
        words::count(open, "entry")
    )?;
    Ok(())
}
