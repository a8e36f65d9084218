//! `report`: the PDF report of a crag, and charts.

use crate::commands::chart;
use crate::desk::Desk;
use crate::exit::{Exit, Failure};
use crate::judging::{Judge, Judged, Judging};
use crate::planning::{Means, solve};
use crate::{caution, open, progress, select, views, words};
use clap::ValueEnum;
use jiff::civil::Date;
use register::State;
use register::rules::{self, Severity};
use report::{CragReport, MarginView, Paper, Style};
use serde::Serialize;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use store::RegisterStore;

/// Options.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Writes a PDF for each crag (summary, map, routes, actions, cautions, method in plain words) and charts
as SVG. With --money and --days the plan for these means is part of the report.

Examples:
  holdproof report --crag \"Harl Quarry\" --out reports
  holdproof report --all --out reports --money 1500 --days 12 --group \"Sallow Ridge Bolting Group\"")]
pub struct Args {
    /// The crag (name or identity)
    #[arg(long, value_name = "CRAG", conflicts_with = "all", required_unless_present = "all")]
    crag: Option<String>,
    /// All crags, and charts over all of them
    #[arg(long)]
    all: bool,
    /// Folder to write to; it is made if needed
    #[arg(long, value_name = "DIR", default_value = "reports")]
    out: PathBuf,
    /// Who keeps the register, for the front page
    #[arg(long, value_name = "NAME", default_value = "")]
    group: String,
    /// Size of the paper
    #[arg(long, value_enum, default_value_t = PaperChoice::A4)]
    paper: PaperChoice,
    #[command(flatten)]
    judging: Judging,
    #[command(flatten)]
    means: Means,
}

/// Size of the paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum PaperChoice {
    /// 210 x 297 mm
    A4,
    /// 8.5 x 11 in
    Letter,
}

#[derive(Serialize)]
struct Answer {
    format: u32,
    judged_on: Date,
    files: Vec<String>,
    caution: &'static str,
}

/// Writes the files.
pub fn run(args: &Args, desk: &mut Desk) -> Result<Exit, Failure> {
    let store = open::to_read(desk)?;
    let state = store.state()?;
    let waiting = store.repairs(true)?.len();
    let on = args.judging.date(desk.today);
    let crag = args.crag.as_deref().map(|name| select::crag(&state, name)).transpose()?;
    let placements: Vec<_> = state
        .placements()
        .filter(|placement| crag.is_none_or(|crag| state.crag_of(placement.id) == Some(crag)))
        .collect();
    let judge = Judge::new(&state, args.judging.policy()?, on);
    let judged = judge.judge_all(&placements, desk.json);
    let crags = views::by_crag(&state, &judged);
    if crags.is_empty() {
        return Err(Failure::usage("there is no placement to report on")
            .advise("Import some with `holdproof import`."));
    }
    std::fs::create_dir_all(&args.out).map_err(|e| Failure::file("make the folder", &args.out, e))?;
    let style = Style::wall().with_units(desk.units);
    let mut files = Files { folder: &args.out, written: Vec::new() };

    let defaults = args.means.defaults()?;
    let asked = args.means.money.is_some() || args.means.days.is_some() || args.means.limits.is_some();
    let campaign = if asked {
        let budget = args.means.budget(&defaults)?;
        let stock = args.means.stock(&state, desk.today)?;
        let campaign = solve(&judge, &judged, &BTreeSet::new(), &stock, &budget, &defaults)?;
        Some(campaign)
    } else {
        None
    };

    let bar = progress::bar(crags.len() as u64, "reports", desk.json);
    for (id, placements) in &crags {
        let record = state.crag(id);
        let name = record.and_then(|crag| crag.name.clone()).unwrap_or_else(|| (*id).to_owned());
        let rock = record.and_then(|crag| crag.rock_type).map_or("rock not known", rock::RockType::name);
        let routes = views::routes(&state, placements, on, desk.units);
        let plan = campaign
            .as_ref()
            .map(|campaign| views::plan(&state, campaign, &judged, &defaults, Some(id), desk.units));
        let view = CragReport {
            group: args.group.clone(),
            crag: name.clone(),
            setting: rock.to_owned(),
            date: on,
            units: desk.units,
            paper: match args.paper {
                PaperChoice::A4 => Paper::A4,
                PaperChoice::Letter => Paper::Letter,
            },
            routes,
            plan,
            notes: notes(&state, id, waiting, desk.today),
        };
        let pdf = report::crag_report(&view).map_err(Failure::other)?;
        files.write(&format!("{id}.pdf"), &pdf)?;
        let routes = chart::sketch_routes(&view.routes);
        let map = report::sketch(&report::Sketch { crag: &name, routes: &routes }, &style);
        files.write(&format!("{id}-map.svg"), map.to_svg().as_bytes())?;
        if let Some(worst) = placements.iter().min_by(|a, b| report::urgency(&a.judgement, &b.judgement)) {
            files.write(
                &format!("{id}-most-urgent.svg"),
                margin(&state, worst, on, desk, &style).as_bytes(),
            )?;
        }
        bar.inc(1);
    }
    bar.finish_and_clear();
    files.write("calls.svg", chart::calls(&state, &judged, &style).to_svg().as_bytes())?;
    files.write("decades.svg", chart::decades(&state, &judged, on, desk, &style).to_svg().as_bytes())?;
    files.write("years-left.svg", chart::years(&state, &judged, &style).to_svg().as_bytes())?;
    if let Some(campaign) = &campaign {
        let plan = views::plan(&state, campaign, &judged, &defaults, None, desk.units);
        files.write("plan.svg", report::plan(&plan, &style).to_svg().as_bytes())?;
    }

    if desk.json {
        let files = files.written;
        let answer = Answer { format: crate::answer::FORMAT, judged_on: on, files, caution: caution::SHORT };
        desk.write_json(&answer)?;
    } else {
        for file in &files.written {
            writeln!(desk.out, "Wrote {file}")?;
        }
        caution::print(&mut desk.out)?;
    }
    Ok(Exit::Fine)
}

/// What a reader should know of the records themselves.
fn notes(state: &State, crag: &str, waiting: usize, today: Date) -> Vec<String> {
    let mut notes = Vec::new();
    if waiting > 0 {
        notes.push(format!(
            "{} of the imported sheets could not be read; what they say is no part of this report; the register's keeper has the list.",
            words::count(waiting, "value")
        ));
    }
    let placements = state.routes_of(crag).flat_map(|route| state.placements_of(route.id));
    let contradictions = placements
        .flat_map(|placement| rules::of_placement(state, placement.id, today))
        .filter(|finding| finding.severity == Severity::Contradiction)
        .count();
    if contradictions > 0 {
        notes.push(format!(
            "The records of this crag hold {}; the judgements leave out what cannot be.",
            words::count(contradictions, "contradiction")
        ));
    }
    notes
}

fn margin(state: &State, one: &Judged, on: Date, desk: &Desk, style: &Style) -> String {
    let fitting = state
        .current_fitting(one.placement.id, on)
        .map_or_else(|| "hardware not known".to_owned(), |f| words::fitting(f.record, desk.units));
    let place = views::place(state, one);
    let view = MarginView { place: &place, fitting: &fitting, date: on, judgement: &one.judgement };
    report::margin(&view, style).to_svg()
}

/// Files written into one folder.
struct Files<'f> {
    folder: &'f Path,
    written: Vec<String>,
}

impl Files<'_> {
    fn write(&mut self, name: &str, bytes: &[u8]) -> Result<(), Failure> {
        let path = self.folder.join(name.replace('/', "-"));
        std::fs::write(&path, bytes).map_err(|e| Failure::file("write", &path, e))?;
        self.written.push(path.display().to_string());
        Ok(())
    }
}
