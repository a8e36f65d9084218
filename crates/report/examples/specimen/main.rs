//! Writes specimen charts and a specimen report from invented numbers into the folder given as argument.

#[allow(dead_code)]
mod sample;

use judgement::{Band, Call, Chance, YearsLeft};
use report::{
    AgeingView, CallCounts, CragReport, MarginView, Paper, Sketch, SketchRoute, Style, Theme, YearsGroup,
};
use std::path::{Path, PathBuf};
use units::{Force, UnitSystem};

fn main() -> std::io::Result<()> {
    let folder = std::env::args_os().nth(1).map_or_else(|| PathBuf::from("specimens"), PathBuf::from);
    std::fs::create_dir_all(&folder)?;
    charts(&folder, "light", Style::wall())?;
    charts(&folder, "dark", Style::wall().with_theme(Theme::Dark).with_units(UnitSystem::Us))?;
    edges(&folder)?;
    reports(&folder)
}

/// What happens at the edges: long names, many of a kind, nothing at all, certainty.
fn edges(folder: &Path) -> std::io::Result<()> {
    let style = Style::wall();
    let save = |chart: &str, svg: String| std::fs::write(folder.join(format!("edge-{chart}.svg")), svg);
    let mut judgement = sample::judgement(Call::Sound, &mut sample::Dice::new(5));
    let long = "A Very Long Winter's Walk Along the Upper Ledge to Nowhere in Particular, second pitch, third bolt \
                after the overhang, the left one of two";
    let date = jiff::civil::date(2026, 11, 25);
    let view = MarginView { place: long, fitting: long, date, judgement: &judgement };
    save("long-names", report::margin(&view, &style).to_svg())?;
    judgement.holds_hard_fall = Chance { best: 1.0, low: 1.0, high: 1.0 };
    let exact = Band { p05: Force::kn(25.0), p50: Force::kn(25.0), p95: Force::kn(25.0) };
    judgement.resistance = exact;
    judgement.modes.truncate(1);
    judgement.modes[0].band = exact;
    let view = MarginView { place: "Ebb, bolt 1", fitting: "glue-in", date, judgement: &judgement };
    save("certain", report::margin(&view, &style).to_svg())?;
    let many: Vec<CallCounts> =
        (0..60).map(|i| CallCounts { label: format!("crag {i}"), counts: [i, 3, 2, 1, i % 2] }).collect();
    save("many-crags", report::calls_by_group(&many, "by crag", &style).to_svg())?;
    save("no-crags", report::calls_by_group(&[], "by crag", &style).to_svg())?;
    let never = YearsLeft { best: Some(f64::INFINITY), low: None, high: None, horizon: 50.0 };
    let group = YearsGroup { label: "Ebb".to_owned(), years: vec![never; 7] };
    save("never", report::years_left(&[group], &style).to_svg())?;
    let routes = sketch_routes(&sample::crag(400, 1));
    save("400-routes", report::sketch(&Sketch { crag: "Tern Head", routes: &routes }, &style).to_svg())?;
    save("1-route", report::sketch(&Sketch { crag: "Tern Head", routes: &routes[..1] }, &style).to_svg())
}

fn sketch_routes(crag: &CragReport) -> Vec<SketchRoute> {
    let row = |(i, r): (usize, &report::RouteRow)| SketchRoute {
        number: i + 1,
        name: r.name.clone(),
        call: r.worst_call(),
        point: r.position(),
    };
    crag.routes.iter().enumerate().map(row).collect()
}

fn reports(folder: &Path) -> std::io::Result<()> {
    let mut without_places = sample::crag(3, 5);
    without_places.plan = None;
    for r in &mut without_places.routes {
        r.point = None;
    }
    let mut us = sample::crag(1, 1);
    (us.units, us.paper) = (UnitSystem::Us, Paper::Letter);
    let specimens = [
        ("report", sample::crag(24, 8)),
        ("report-large", sample::crag(80, 5)),
        ("report-unplaced", without_places),
        ("report-one-us-letter", us),
        ("report-empty", sample::crag(0, 0)),
    ];
    for (name, report) in specimens {
        let bytes = report::crag_report(&report).map_err(std::io::Error::other)?;
        std::fs::write(folder.join(format!("{name}.pdf")), bytes)?;
    }
    Ok(())
}

fn charts(folder: &Path, name: &str, style: Style) -> std::io::Result<()> {
    let save = |chart: &str, svg: String| std::fs::write(folder.join(format!("{chart}-{name}.svg")), svg);
    let crag = sample::crag(24, 8);
    let mut dice = sample::Dice::new(3);
    for (what, call) in [("sound", Call::Sound), ("renew", Call::Renew), ("shun", Call::Shun)] {
        let judgement = sample::judgement(call, &mut dice);
        let view = MarginView {
            place: "Tern Head, Slow Lichen, bolt 3",
            fitting: "wedge bolt M10 × 75, plated",
            date: crag.date,
            judgement: &judgement,
        };
        save(&format!("margin-{what}"), report::margin(&view, &style).to_svg())?;
    }
    let other = |label: &str, counts| CallCounts { label: label.to_owned(), counts };
    let groups = [
        crag.counts(),
        other("Harl Quarry", [180, 40, 22, 31, 1]),
        other("Otter Gorge", [60, 51, 9, 44, 12]),
    ];
    save("calls", report::calls_by_group(&groups, "by crag", &style).to_svg())?;
    save("decades", report::calls_by_decade(&crag.by_decade(), &style).to_svg())?;
    let years = |label: &str, skip: usize| YearsGroup {
        label: label.to_owned(),
        years: crag.placements().skip(skip).map(|(_, p)| p.judgement.years_left).collect(),
    };
    let groups = [years("Tern Head", 0), years("Harl Quarry", 60), years("Otter Gorge, lower walls", 120)];
    save("years", report::years_left(&groups, &style).to_svg())?;
    save("years-one", report::years_left(&groups[..1], &style).to_svg())?;
    let series = sample::ageing_series();
    let judgement = sample::judgement(Call::Watch, &mut dice);
    let view = AgeingView {
        place: "Slow Lichen, bolt 3",
        fitting: "wedge bolt M10 × 75, plated",
        now: 2026.9,
        series: &series,
        demand: &judgement.demand,
    };
    save("ageing", report::ageing(&view, &style).to_svg())?;
    if let Some(plan) = &crag.plan {
        save("plan", report::plan(plan, &style).to_svg())?;
    }
    let routes = sketch_routes(&crag);
    save("sketch", report::sketch(&Sketch { crag: "Tern Head", routes: &routes }, &style).to_svg())
}
