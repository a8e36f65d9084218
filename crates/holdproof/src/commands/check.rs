//! `check`: damage in the file, contradictions in the records.

use crate::answer::FORMAT;
use crate::desk::Desk;
use crate::exit::{Exit, Failure};
use crate::table::wrap;
use crate::{open, words};
use register::rules::{self, Finding, Severity};
use serde::Serialize;
use std::io::Write;
use store::RegisterStore;

/// Options.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Reads the whole file, compares what it keeps with the log of facts, and looks for records that cannot
both be true.

Examples:
  holdproof check
  holdproof check --all                            also doubts and what is missing
  holdproof check --json | jq '.findings | length'")]
pub struct Args {
    /// Also show what is unlikely and what is missing, not only what cannot be
    #[arg(long)]
    all: bool,
}

#[derive(Serialize)]
struct Answer<'a> {
    format: u32,
    register: String,
    facts: usize,
    subjects: usize,
    contradictions: usize,
    doubts: usize,
    notes: usize,
    findings: Vec<Line<'a>>,
}

#[derive(Serialize)]
struct Line<'a> {
    subject_kind: &'static str,
    subject: &'a str,
    severity: Severity,
    text: &'a str,
    advice: &'a str,
}

/// Checks.
pub fn run(args: &Args, desk: &mut Desk) -> Result<Exit, Failure> {
    let store = open::to_read(desk)?;
    let checked = store.check()?;
    let mut findings = rules::check(&store.state()?, desk.today);
    findings.sort_by_key(|finding| std::cmp::Reverse(finding.severity));
    let count = |severity| findings.iter().filter(|finding| finding.severity == severity).count();
    let (contradictions, doubts, notes) =
        (count(Severity::Contradiction), count(Severity::Doubt), count(Severity::Note));
    let shown = |finding: &&Finding| args.all || finding.severity == Severity::Contradiction;
    let register = desk.register.display().to_string();
    if desk.json {
        let answer = Answer {
            format: FORMAT,
            register,
            facts: checked.facts,
            subjects: checked.subjects,
            contradictions,
            doubts,
            notes,
            findings: findings.iter().filter(shown).map(line).collect(),
        };
        desk.write_json(&answer)?;
    } else {
        let out = &mut desk.out;
        let (facts, subjects) =
            (words::count(checked.facts, "fact"), words::count(checked.subjects, "subject"));
        writeln!(out, "{register}: {facts} about {subjects}, undamaged.")?;
        print(out, findings.iter().filter(shown))?;
        writeln!(
            out,
            "{}, {}, {}.{}",
            words::count(contradictions, "contradiction"),
            words::count(doubts, "doubt"),
            words::count(notes, "note"),
            if args.all || doubts + notes == 0 { "" } else { " `holdproof check --all` shows all of them." }
        )?;
    }
    Ok(if contradictions > 0 { Exit::Findings } else { Exit::Fine })
}

fn line(finding: &Finding) -> Line<'_> {
    Line {
        subject_kind: finding.subject.kind(),
        subject: finding.subject.id(),
        severity: finding.severity,
        text: &finding.text,
        advice: &finding.advice,
    }
}

fn print<'f>(out: &mut dyn Write, findings: impl Iterator<Item = &'f Finding>) -> Result<(), Failure> {
    let mut last = None;
    for finding in findings {
        if last != Some(finding.severity) {
            last = Some(finding.severity);
            let title = match finding.severity {
                Severity::Contradiction => "Cannot be: at least one record is wrong",
                Severity::Doubt => "Unlikely: look again",
                Severity::Note => "Missing",
            };
            writeln!(out, "\n{}", words::heading(title))?;
        }
        writeln!(out, "  {}", finding.subject)?;
        writeln!(out, "{}", wrap(&format!("{} {}", finding.text, finding.advice), 94, "      "))?;
    }
    if last.is_some() {
        writeln!(out)?;
    }
    Ok(())
}
