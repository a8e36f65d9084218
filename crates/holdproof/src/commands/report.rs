//! `report`: the PDF report of a crag, and charts.

use crate::commands::chart;
use crate::desk::Desk;
use crate::exit::{Exit, Failure};
use crate::judging::{Judge, Judged, Judging};
use crate::planning::{Means, solve};
use crate::{caution, open, progress, select, views, words};
use clap::ValueEnum;
use jiff::civil::Date;
use report::{CragReport, MarginView, Paper, Style};
use serde::Serialize;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

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
    let state = open::state(desk)?;
    let on = args.judging.date(desk.today);
    let crag = args.crag.as_deref().map(|name| select::crag(&state, name)).transpose()?;
    let placements: Vec<_> = state
        .placements()
        .filter(|placement| crag.is_none_or(|crag| state.crag_of(placement.id) == Some(crag)))
        .collect();
    let judged = Judge::new(&state, args.judging.policy()?, on).judge_all(&placements, desk.json);
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
    let plan = if asked {
        let budget = args.means.budget(&defaults)?;
        let campaign =
            solve(&state, &judged, &BTreeSet::new(), !args.means.no_stock, budget.limits, &defaults)?;
        Some(views::plan(&state, &campaign, &judged, &defaults))
    } else {
        None
    };

    let bar = progress::bar(crags.len() as u64, "reports", desk.json);
    for (id, placements) in &crags {
        let record = state.crag(id);
        let name = record.and_then(|crag| crag.name.clone()).unwrap_or_else(|| (*id).to_owned());
        let rock = record.and_then(|crag| crag.rock_type).map_or("rock not known", rock::RockType::name);
        let routes = views::routes(&state, placements, on, desk.units);
        let here: BTreeSet<&str> = routes.iter().map(|route| route.name.as_str()).collect();
        let plan = plan.clone().map(|mut plan| {
            plan.rows.retain(|row| here.contains(row.route.as_str()));
            plan.routes.retain(|route| here.contains(route.route.as_str()));
            plan
        });
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
            notes: Vec::new(),
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
    if let Some(plan) = &plan {
        files.write("plan.svg", report::plan(plan, &style).to_svg().as_bytes())?;
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

fn margin(state: &register::State, one: &Judged, on: Date, desk: &Desk, style: &Style) -> String {
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
