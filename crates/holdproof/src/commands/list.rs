//! `list`: the placements of a register.

use crate::answer::{FORMAT, PlacementAnswer, last_seen};
use crate::desk::Desk;
use crate::exit::{Exit, Failure};
use crate::judging::{Judge, Judging};
use crate::select::Selection;
use crate::table::{Side, Table};
use crate::{caution, open, words};
use clap::builder::PossibleValue;
use judgement::Call;
use serde::Serialize;

/// Options.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  holdproof list --crag \"Harl Quarry\"
  holdproof list --call shun --call renew       what should not wait
  holdproof list --kind glue_in --json | jq '.placements[].placement'")]
pub struct Args {
    #[command(flatten)]
    selection: Selection,
    /// Only placements with this call (may be given several times)
    #[arg(long, value_name = "CALL")]
    call: Vec<CallChoice>,
    /// Only this kind of hardware: wedge_bolt, sleeve_bolt, drop_in, glue_in, compression_bolt,
    /// hammered_bolt, piton
    #[arg(long, value_name = "KIND", value_parser = kind)]
    kind: Vec<hardware::Kind>,
    #[command(flatten)]
    judging: Judging,
}

/// A call on the command line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CallChoice(pub Call);

impl clap::ValueEnum for CallChoice {
    fn value_variants<'a>() -> &'a [Self] {
        const ALL: [CallChoice; 5] = [
            CallChoice(Call::Sound),
            CallChoice(Call::Watch),
            CallChoice(Call::Tend),
            CallChoice(Call::Renew),
            CallChoice(Call::Shun),
        ];
        &ALL
    }

    fn to_possible_value(&self) -> Option<PossibleValue> {
        Some(PossibleValue::new(self.0.name()).help(self.0.meaning()))
    }
}

fn kind(text: &str) -> Result<hardware::Kind, String> {
    let word = text.trim().to_lowercase().replace([' ', '-'], "_");
    serde_json::from_value(serde_json::Value::String(word)).map_err(|_| {
        "the kinds are wedge_bolt, sleeve_bolt, drop_in, glue_in, compression_bolt, hammered_bolt, piton"
            .to_owned()
    })
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
    call: Call,
}

/// Prints the list.
pub fn run(args: &Args, desk: &mut Desk) -> Result<Exit, Failure> {
    let state = open::state(desk)?;
    let on = args.judging.date(desk.today);
    let mut placements = args.selection.placements(&state)?;
    if !args.kind.is_empty() {
        placements.retain(|known| {
            let kind = state.current_fitting(known.id, on).and_then(|fitting| fitting.record.kind);
            kind.is_some_and(|kind| args.kind.contains(&kind))
        });
    }
    let mut judged = Judge::new(&state, args.judging.policy()?, on).judge_all(&placements, desk.json);
    if !args.call.is_empty() {
        judged.retain(|one| args.call.contains(&CallChoice(one.judgement.call)));
    }
    if desk.json {
        let lines = judged.iter().map(|one| Line {
            placement: PlacementAnswer::new(&state, one.placement, on),
            call: one.judgement.call,
        });
        let answer =
            Answer { format: FORMAT, judged_on: on, placements: lines.collect(), caution: caution::SHORT };
        desk.write_json(&answer)?;
        return Ok(Exit::Fine);
    }
    if judged.is_empty() {
        writeln!(desk.out, "No placement fits.")?;
        return Ok(Exit::Fine);
    }
    let mut table = Table::new(&[
        ("placement", Side::Left),
        ("what", Side::Left),
        ("placed", Side::Left),
        ("last seen", Side::Left),
        ("call", Side::Left),
    ]);
    for one in &judged {
        let fitting = state.current_fitting(one.placement.id, on);
        table.row([
            one.placement.id.to_owned(),
            fitting.map_or_else(|| "nothing known".to_owned(), |f| words::fitting(f.record, desk.units)),
            fitting.map_or_else(|| "not known".to_owned(), |f| words::placed(f.record)),
            words::date(last_seen(&state, one.placement.id, on)),
            words::call_mark(one.judgement.call),
        ]);
    }
    table.write(&mut desk.out)?;
    writeln!(desk.out, "\n{}, judged on {on}.", words::count(judged.len(), "placement"))?;
    caution::print(&mut desk.out)?;
    Ok(Exit::Fine)
}
