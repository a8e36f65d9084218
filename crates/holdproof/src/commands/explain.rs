//! `explain`: every step from the inputs to the call.

use crate::answer::{FORMAT, JudgementAnswer, PlacementAnswer};
use crate::desk::Desk;
use crate::exit::{Exit, Failure};
use crate::judging::{Judge, Judging};
use crate::table::{hanging, wrap};
use crate::{caution, open, select, words};
use evidence::Finding;
use jiff::civil::Date;
use reckoning::{Account, Origin, Step, Term};
use register::case::{Given, LeftOut, Provenance};
use register::{State, Subject};
use serde::Serialize;
use std::io::Write;
use units::UnitSystem;

/// Options.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Each step shows what was computed, the formula, the numbers that went in (with unit, scatter and
where they came from), the number that came out, and the source of the formula.

Examples:
  holdproof explain harl-quarry/blind-corner/3
  holdproof explain harl-quarry/blind-corner/3 --json > steps.json")]
pub struct Args {
    /// The placement (identity, as `holdproof list` shows it)
    #[arg(value_name = "PLACEMENT")]
    placement: String,
    #[command(flatten)]
    judging: Judging,
}

#[derive(Serialize)]
struct Answer<'a> {
    format: u32,
    judged_on: Date,
    #[serde(flatten)]
    placement: PlacementAnswer<'a>,
    inputs: &'a [Given],
    left_out: &'a [LeftOut],
    steps: &'a [Step],
    judgement: JudgementAnswer,
    caution: &'static str,
}

/// Prints the steps.
pub fn run(args: &Args, desk: &mut Desk) -> Result<Exit, Failure> {
    let state = open::state(desk)?;
    let on = args.judging.date(desk.today);
    let placement = select::placement(&state, &args.placement)?;
    let (assessed, account, provenance) =
        Judge::new(&state, args.judging.policy()?, on).explain(placement.id)?;
    if desk.json {
        let answer = Answer {
            format: FORMAT,
            judged_on: on,
            placement: PlacementAnswer::new(&state, placement, on),
            inputs: &provenance.given,
            left_out: &provenance.left_out,
            steps: &account.steps,
            judgement: (&assessed.judgement).into(),
            caution: caution::SHORT,
        };
        desk.write_json(&answer)?;
        return Ok(Exit::Fine);
    }
    writeln!(desk.out, "{}, judged on {on}", words::heading(placement.id))?;
    records(&mut desk.out, &provenance, &state, on, desk.units)?;
    if desk.units == UnitSystem::Us {
        writeln!(
            desk.out,
            "\nThe steps are in SI units, as they were computed; the summary at the end is in US units."
        )?;
    }
    steps(&mut desk.out, &account)?;
    writeln!(desk.out, "\n{}", words::heading("In short"))?;
    super::judge::judgement(&mut desk.out, &assessed.judgement, desk.units)?;
    caution::print(&mut desk.out)?;
    Ok(Exit::Fine)
}

/// Which records the inputs came from, with what was taken from each, and what was recorded but not used.
fn records(
    out: &mut dyn Write,
    provenance: &Provenance,
    state: &State,
    on: Date,
    units: UnitSystem,
) -> Result<(), Failure> {
    writeln!(out, "\n{}", words::heading("Records used"))?;
    let mut of_record: Vec<(&Subject, Vec<String>)> = Vec::new();
    for given in &provenance.given {
        let field = field_name(given.record_field);
        match of_record.iter_mut().find(|(subject, _)| *subject == &given.subject) {
            Some((_, fields)) if fields.contains(&field) => {}
            Some((_, fields)) => fields.push(field),
            None => of_record.push((&given.subject, vec![field])),
        }
    }
    for (subject, fields) in of_record {
        writeln!(out, "{}", hanging(&format!("  {subject}: "), &fields.join(", "), 96))?;
        if let Some(says) = record_says(state, subject, on, units) {
            writeln!(out, "{}", wrap(&says, 96, "      "))?;
        }
    }
    if provenance.given.is_empty() {
        writeln!(out, "  none: nothing is known of this placement")?;
    }
    for left_out in &provenance.left_out {
        writeln!(out, "  not used: {} ({})", left_out.reason, left_out.subject)?;
    }
    Ok(())
}

/// A field of a record in words, without its unit.
fn field_name(field: &str) -> String {
    let units = ["_kn_per_m3", "_percent", "_mg_m2_d", "_deg"];
    let bare = units.iter().find_map(|unit| field.strip_suffix(unit)).unwrap_or(field);
    if bare == "on" { "date".to_owned() } else { bare.replace('_', " ") }
}

/// What a fitting is and how old, or what a sighting found and how long ago.
fn record_says(state: &State, subject: &Subject, on: Date, units: UnitSystem) -> Option<String> {
    let years = |date: Date| f64::from((on - date).get_days()) / 365.25;
    match subject {
        Subject::Fitting(id) => {
            let record = state.fitting(id)?;
            let age = match (record.placed_on, record.placed_year) {
                (Some(date), _) => format!("{:.1} years ago", years(date)),
                (None, Some(year)) => format!("about {} years ago", on.year() - year),
                (None, None) => "at a time that is not known".to_owned(),
            };
            Some(format!("{}, placed {age}", words::fitting(record, units)))
        }
        Subject::Sighting(id) => {
            let record = state.sighting(id)?;
            let signs = || record.signs.iter().flatten();
            let there = signs().filter(|seen| seen.finding != Finding::Absent).map(words::seen);
            let absent: Vec<&str> =
                signs().filter(|seen| seen.finding == Finding::Absent).map(|seen| seen.sign.name()).collect();
            let absent =
                (!absent.is_empty()).then(|| format!("looked for and not there: {}", absent.join(", ")));
            let found: Vec<String> = there.chain(absent).collect();
            let found = if found.is_empty() { "no sign stated".to_owned() } else { found.join("; ") };
            let when = record.on.map_or_else(String::new, |date| format!("{:.1} years ago: ", years(date)));
            Some(format!("{when}{found}"))
        }
        _ => None,
    }
}

fn steps(out: &mut dyn Write, account: &Account) -> Result<(), Failure> {
    let mut chapter = "";
    for (index, step) in account.steps.iter().enumerate() {
        if step.chapter != chapter {
            chapter = step.chapter;
            writeln!(out, "\n{}", words::heading(&capital(chapter)))?;
        }
        writeln!(out, "\n{:>3}. {}", index + 1, wrap(&step.what, 90, "     ").trim_start())?;
        writeln!(out, "     {}", step.formula)?;
        let width =
            step.inputs.iter().chain([&step.result]).map(|t| t.symbol.chars().count()).max().unwrap_or(0);
        for input in &step.inputs {
            writeln!(out, "       {}", term(input, width, "with"))?;
        }
        writeln!(out, "       {}", term(&step.result, width, "gives"))?;
        writeln!(out, "{}", wrap(&format!("source: {}", step.source), 90, "     "))?;
    }
    Ok(())
}

fn term(term: &Term, width: usize, lead: &str) -> String {
    let pad = " ".repeat(width.saturating_sub(term.symbol.chars().count()));
    let unit = if term.unit == "1" { String::new() } else { format!(" {}", term.unit) };
    let scatter = match term.sd_ln {
        Some(sd) if sd > 0.0 => format!(
            "  (half of the time between {} and {})",
            number(quartile(term.value, -sd)),
            number(quartile(term.value, sd))
        ),
        _ => String::new(),
    };
    format!(
        "{lead:<5} {}{pad} = {}{unit}{scatter}  [{}]",
        term.symbol,
        number(term.value),
        origin(term.origin)
    )
}

/// The quarter points of a log-normal quantity: median times `exp(+-0.6745 s)`.
fn quartile(median: f64, sd_ln: f64) -> f64 {
    median * (0.674_489_750_196_1 * sd_ln).exp()
}

/// Four significant figures.
fn number(value: f64) -> String {
    if value == f64::INFINITY {
        return "beyond the horizon".to_owned();
    }
    if !value.is_finite() {
        return "not a number".to_owned();
    }
    let magnitude = value.abs().max(1e-300).log10().floor() as i32;
    if value != 0.0 && !(-4..7).contains(&magnitude) {
        return format!("{value:.3e}");
    }
    let decimals = usize::try_from(3 - magnitude).unwrap_or(0).min(8);
    let text = format!("{value:.decimals$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

const fn origin(origin: Origin) -> &'static str {
    match origin {
        Origin::Measured => "measured",
        Origin::Recorded => "recorded",
        Origin::Assumed => "assumed",
        Origin::Computed => "computed",
        Origin::Table => "table",
    }
}

fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_have_four_figures() {
        assert_eq!(number(1234.56), "1235");
        assert_eq!(number(0.0123456), "0.01235");
        assert_eq!(number(25.0), "25");
        assert_eq!(number(0.0), "0");
        assert_eq!(number(3.2e-9), "3.200e-9");
    }

    #[test]
    fn terms_show_scatter_and_origin() {
        let with = Term::new("f_c", 100.0, "MPa", Origin::Assumed).with_sd(0.3);
        // 100 exp(-0.2023) = 81.68, 100 exp(0.2023) = 122.4
        assert_eq!(
            term(&with, 4, "with"),
            "with  f_c  = 100 MPa  (half of the time between 81.68 and 122.4)  [assumed]"
        );
    }
}
