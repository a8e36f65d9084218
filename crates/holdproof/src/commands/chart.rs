//! `chart`: one chart as SVG.

use crate::desk::Desk;
use crate::exit::{Exit, Failure};
use crate::judging::{Judge, Judged, Judging};
use crate::planning::{Means, solve};
use crate::select::{self, Selection};
use crate::{open, views, words};
use clap::ValueEnum;
use jiff::civil::Date;
use judgement::{Band, Knowledge};
use report::{
    AgeingPoint, AgeingView, CallCounts, MarginView, Scene, Sketch, SketchRoute, Style, Theme, YearsGroup,
};
use std::collections::BTreeSet;
use std::path::PathBuf;

/// Which chart.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Chart {
    /// What one placement holds against what is asked of it
    Margin,
    /// Strength of one placement over the years
    Ageing,
    /// Calls by crag
    Calls,
    /// Calls by the decade the hardware was set
    Decades,
    /// Years left of all placements
    Years,
    /// Sketch map of one crag
    Map,
    /// What the money and time of a plan buy
    Plan,
}

/// Options.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  holdproof chart margin --placement harl-quarry/blind-corner/3 --out margin.svg
  holdproof chart calls > calls.svg
  holdproof chart map --crag \"Tern Head\" --theme dark --out tern-head.svg
  holdproof chart plan --money 1500 --days 12 --out plan.svg")]
pub struct Args {
    /// Which chart
    #[arg(value_enum)]
    chart: Chart,
    /// The placement of a margin or ageing chart
    #[arg(long, value_name = "PLACEMENT")]
    placement: Option<String>,
    #[command(flatten)]
    selection: Selection,
    /// Write to this file instead of the output
    #[arg(long, value_name = "FILE")]
    out: Option<PathBuf>,
    /// Light or dark ground
    #[arg(long, value_enum, default_value_t = ThemeChoice::Light)]
    theme: ThemeChoice,
    #[command(flatten)]
    judging: Judging,
    #[command(flatten)]
    means: Means,
}

/// Ground of a chart.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
#[allow(missing_docs)]
pub enum ThemeChoice {
    Light,
    Dark,
}

/// Draws the chart.
pub fn run(args: &Args, desk: &mut Desk) -> Result<Exit, Failure> {
    let state = open::state(desk)?;
    let on = args.judging.date(desk.today);
    let policy = args.judging.policy()?;
    let horizon = policy.thresholds.horizon_years;
    let judge = Judge::new(&state, policy, on);
    let theme = match args.theme {
        ThemeChoice::Light => Theme::Light,
        ThemeChoice::Dark => Theme::Dark,
    };
    let style = Style::wall().with_theme(theme).with_units(desk.units);
    let scene = match args.chart {
        Chart::Margin | Chart::Ageing => {
            let name = args
                .placement
                .as_deref()
                .ok_or_else(|| Failure::usage("which placement? Give --placement"))?;
            let placement = select::placement(&state, name)?;
            let assessed = judge.assess(placement.id)?;
            let fitting = state
                .current_fitting(placement.id, on)
                .map_or_else(|| "hardware not known".to_owned(), |f| words::fitting(f.record, desk.units));
            let judged = Judged { placement, judgement: assessed.judgement.clone() };
            let place = views::place(&state, &judged);
            if args.chart == Chart::Margin {
                let view =
                    MarginView { place: &place, fitting: &fitting, date: on, judgement: &assessed.judgement };
                report::margin(&view, &style)
            } else {
                let series = series(&assessed, on, horizon);
                let view = AgeingView {
                    place: &place,
                    fitting: &fitting,
                    now: views::calendar_year(on),
                    series: &series,
                    demand: &assessed.judgement.demand,
                };
                report::ageing(&view, &style)
            }
        }
        _ => {
            let placements = args.selection.placements(&state)?;
            let judged = judge.judge_all(&placements, false);
            match args.chart {
                Chart::Decades => decades(&state, &judged, on, desk, &style),
                Chart::Years => years(&state, &judged, &style),
                Chart::Map => {
                    let crags = views::by_crag(&state, &judged);
                    let [(crag, placements)] = crags.as_slice() else {
                        return Err(Failure::usage("a map shows one crag: give --crag"));
                    };
                    let name = state.crag(crag).and_then(|crag| crag.name.as_deref()).unwrap_or(crag);
                    let routes = sketch_routes(&views::routes(&state, placements, on, desk.units));
                    report::sketch(&Sketch { crag: name, routes: &routes }, &style)
                }
                Chart::Plan => {
                    let defaults = args.means.defaults()?;
                    let budget = args.means.budget(&defaults)?;
                    let stock = args.means.stock(&state, desk.today)?;
                    let campaign = solve(&judge, &judged, &BTreeSet::new(), &stock, &budget, &defaults)?;
                    report::plan(
                        &views::plan(&state, &campaign, &judged, &defaults, None, desk.units),
                        &style,
                    )
                }
                _ => calls(&state, &judged, &style),
            }
        }
    };
    match &args.out {
        Some(path) => {
            std::fs::write(path, scene.to_svg()).map_err(|e| Failure::file("write", path, e))?;
            if !desk.json {
                writeln!(desk.out, "Wrote {}", path.display())?;
            }
        }
        None => desk.out.write_all(scene.to_svg().as_bytes())?,
    }
    Ok(Exit::Fine)
}

/// Resistance now and every two years to the horizon.
fn series(assessed: &judgement::Assessed, on: Date, horizon_years: f64) -> Vec<AgeingPoint> {
    let now = views::calendar_year(on);
    let steps = (horizon_years / 2.0).floor() as u32;
    (0..=steps)
        .map(|step| {
            let ahead = f64::from(step) * 2.0;
            let frame = assessed.standing.frame(ahead, Knowledge::Spread);
            let resistance =
                Band { p05: frame.fractile(0.05), p50: frame.fractile(0.5), p95: frame.fractile(0.95) };
            AgeingPoint { year: now + ahead, resistance }
        })
        .collect()
}

/// Routes as the map shows them.
pub fn sketch_routes(routes: &[report::RouteRow]) -> Vec<SketchRoute> {
    routes
        .iter()
        .enumerate()
        .map(|(index, route)| SketchRoute {
            number: index + 1,
            name: route.name.clone(),
            call: route.worst_call(),
            point: route.position(),
        })
        .collect()
}

/// Calls by crag.
pub fn calls(state: &register::State, judged: &[Judged], style: &Style) -> Scene {
    let counts: Vec<CallCounts> = views::by_crag(state, judged)
        .into_iter()
        .map(|(crag, placements)| {
            let name = state.crag(crag).and_then(|crag| crag.name.as_deref()).unwrap_or(crag);
            CallCounts::of(name, placements.iter().map(|one| one.judgement.call))
        })
        .collect();
    report::calls_by_group(&counts, "by crag", style)
}

/// Calls by decade.
pub fn decades(state: &register::State, judged: &[Judged], on: Date, desk: &Desk, style: &Style) -> Scene {
    let all: Vec<&Judged> = judged.iter().collect();
    let rows = views::routes(state, &all, on, desk.units);
    let placements = rows.iter().flat_map(|row| &row.placements);
    let counts = report::by_decade(placements.map(|row| (row.set_year, row.judgement.call)));
    report::calls_by_decade(&counts, style)
}

/// Years left by crag.
pub fn years(state: &register::State, judged: &[Judged], style: &Style) -> Scene {
    let groups: Vec<YearsGroup> = views::by_crag(state, judged)
        .into_iter()
        .map(|(crag, placements)| YearsGroup {
            label: state.crag(crag).and_then(|crag| crag.name.clone()).unwrap_or_else(|| crag.to_owned()),
            years: placements.iter().map(|one| one.judgement.years_left).collect(),
        })
        .collect();
    report::years_left(&groups, style)
}
