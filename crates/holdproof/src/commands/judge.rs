//! `judge`: what placements hold, for how long, what to do.

use crate::answer::{FORMAT, JudgementAnswer, PlacementAnswer};
use crate::desk::Desk;
use crate::exit::{Exit, Failure};
use crate::judging::{Judge, Judged, Judging};
use crate::select::{self, Selection};
use crate::table::{Side, Table, hanging};
use crate::{caution, open, words};
use judgement::Judgement;
use register::State;
use serde::Serialize;
use std::io::Write;

/// Options.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  holdproof judge harl-quarry/blind-corner/3      one placement, with reasons
  holdproof judge --crag \"Tern Head\"              a table, most urgent first
  holdproof judge --all --on 2030-01-01 --json    as the evidence stands, four years on")]
pub struct Args {
    /// One placement (identity, as `holdproof list` shows it)
    #[arg(value_name = "PLACEMENT", conflicts_with_all = ["crag", "route", "all"])]
    placement: Option<String>,
    #[command(flatten)]
    selection: Selection,
    /// All placements
    #[arg(long)]
    all: bool,
    #[command(flatten)]
    judging: Judging,
}

#[derive(Serialize)]
struct Answer<'a> {
    format: u32,
    judged_on: jiff::civil::Date,
    placements: Vec<Line<'a>>,
    caution: &'static str,
}

#[derive(Serialize)]
struct Line<'a> {
    #[serde(flatten)]
    placement: PlacementAnswer<'a>,
    judgement: JudgementAnswer,
}

/// Prints the judgements.
pub fn run(args: &Args, desk: &mut Desk) -> Result<Exit, Failure> {
    if args.placement.is_none() && args.selection.is_empty() && !args.all {
        return Err(Failure::usage("which placements? Name one, or give --crag, --route or --all")
            .advise("Example: holdproof judge --all"));
    }
    let state = open::state(desk)?;
    let on = args.judging.date(desk.today);
    let placements = match &args.placement {
        Some(name) => vec![select::placement(&state, name)?],
        None => args.selection.placements(&state)?,
    };
    let mut judged = Judge::new(&state, args.judging.policy()?, on).judge_all(&placements, desk.json);
    if args.placement.is_some() && judged.is_empty() {
        return Err(Failure::usage("that placement is empty: its last fitting was removed"));
    }
    if desk.json {
        let lines = judged.iter().map(|one| Line {
            placement: PlacementAnswer::new(&state, one.placement, on),
            judgement: (&one.judgement).into(),
        });
        let answer =
            Answer { format: FORMAT, judged_on: on, placements: lines.collect(), caution: caution::SHORT };
        desk.write_json(&answer)?;
        return Ok(Exit::Fine);
    }
    if args.placement.is_some() {
        for one in &judged {
            one_placement(desk, &state, one, on)?;
        }
    } else {
        most_urgent_first(&mut judged);
        overview(desk, &judged)?;
        writeln!(desk.out, "\nJudged on {on}. `holdproof judge PLACEMENT` gives the reasons.")?;
    }
    caution::print(&mut desk.out)?;
    Ok(Exit::Fine)
}

/// Orders by call, then by the chance to hold if what is unknown turns out badly.
pub fn most_urgent_first(judged: &mut [Judged]) {
    judged.sort_by(|a, b| {
        report::urgency(&a.judgement, &b.judgement).then_with(|| a.placement.id.cmp(b.placement.id))
    });
}

fn overview(desk: &mut Desk, judged: &[Judged]) -> Result<(), Failure> {
    let mut table = Table::new(&[
        ("placement", Side::Left),
        ("call", Side::Left),
        ("holds a hard fall", Side::Left),
        ("resistance", Side::Left),
        ("years left", Side::Left),
    ]);
    for one in judged {
        let j = &one.judgement;
        table.row([
            one.placement.id.to_owned(),
            words::call_mark(j.call),
            words::chance(j.holds_hard_fall),
            words::band(j.resistance, desk.units),
            words::years_left(j.years_left),
        ]);
    }
    if table.is_empty() {
        writeln!(desk.out, "No placement fits.")?;
        return Ok(());
    }
    table.write(&mut desk.out)?;
    writeln!(desk.out)?;
    for call in words::CALLS {
        let n = judged.iter().filter(|one| one.judgement.call == call).count();
        if n > 0 {
            writeln!(desk.out, "{n:>6} {}  {}", words::call_mark(call), call.meaning())?;
        }
    }
    Ok(())
}

fn one_placement(desk: &mut Desk, state: &State, one: &Judged, on: jiff::civil::Date) -> Result<(), Failure> {
    let id = one.placement.id;
    let what = state.current_fitting(id, on).map_or_else(
        || "nothing is known of its hardware".to_owned(),
        |fitting| words::fitting(fitting.record, desk.units),
    );
    writeln!(desk.out, "{}: {what}", words::heading(id))?;
    judgement(&mut desk.out, &one.judgement, desk.units)?;
    writeln!(desk.out, "\nJudged on {on}. `holdproof explain {id}` prints every step.")?;
    Ok(())
}

/// Prints one judgement with its reasons and what is missing.
pub fn judgement(out: &mut dyn Write, j: &Judgement, units: units::UnitSystem) -> Result<(), Failure> {
    writeln!(out, "  call               {}: {}", words::call_mark(j.call), j.call.meaning())?;
    writeln!(out, "  holds a hard fall  {}", words::chance(j.holds_hard_fall))?;
    writeln!(out, "  holds a year       {}", words::chance(j.holds_year))?;
    writeln!(out, "  resistance         {}", words::band(j.resistance, units))?;
    writeln!(
        out,
        "  characteristic     {} (5 % lie below, at 75 % confidence)",
        words::force(j.characteristic, units)
    )?;
    writeln!(
        out,
        "  hard fall          {}, about {} falls or hangs a year",
        words::force(j.demand.hard_fall, units),
        round_count(j.demand.falls_per_year)
    )?;
    writeln!(out, "  years left         {} (of the steel)", words::years_left(j.years_left))?;
    writeln!(out, "  likely to fail as  {}", j.governing.what_happens())?;
    if !j.reasons.is_empty() {
        writeln!(out, "\nWhy:")?;
        for reason in &j.reasons {
            writeln!(out, "{}", hanging("  - ", &reason.statement.text(units), 92))?;
        }
    }
    if !j.missing.is_empty() {
        writeln!(out, "\nWhat would narrow the answer most:")?;
        for missing in j.missing.iter().take(3) {
            writeln!(
                out,
                "{}",
                hanging(
                    "  - ",
                    &format!("{} ({:.0} % of the doubt)", missing.advice, missing.share * 100.0),
                    92
                )
            )?;
        }
    }
    Ok(())
}

/// A count a year to two figures.
fn round_count(per_year: f64) -> String {
    match per_year {
        n if !n.is_finite() => "an unknown number of".to_owned(),
        n if n >= 10.0 => format!("{n:.0}"),
        n if n >= 1.0 => format!("{n:.1}"),
        n => format!("{n:.2}"),
    }
}
