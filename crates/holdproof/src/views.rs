//! From judged placements to what charts and reports are drawn from.

use crate::judging::Judged;
use crate::planning::Campaign;
use crate::words;
use crate::works::Defaults;
use jiff::civil::Date;
use judgement::Judgement;
use register::identity::Placed;
use register::{FittingRecord, State};
use report::{GeoPoint, PlacementRow, PlanView, RouteRow, WorkNote};
use std::collections::HashMap;
use units::UnitSystem;

fn point(latitude: Option<f64>, longitude: Option<f64>) -> Option<GeoPoint> {
    Some(GeoPoint { latitude: latitude?, longitude: longitude? })
}

/// Judged placements by the crag they lie in, crags by identity; those without a crag are left out.
pub fn by_crag<'j, 'a>(state: &'a State, judged: &'j [Judged<'a>]) -> Vec<(&'a str, Vec<&'j Judged<'a>>)> {
    let mut crags: Vec<(&str, Vec<&Judged>)> = Vec::new();
    let mut place: HashMap<&str, usize> = HashMap::new();
    for one in judged {
        let Some(crag) = state.crag_of(one.placement.id) else { continue };
        let at = *place.entry(crag).or_insert_with(|| {
            crags.push((crag, Vec::new()));
            crags.len() - 1
        });
        crags[at].1.push(one);
    }
    crags.sort_by(|a, b| a.0.cmp(b.0));
    crags
}

/// Routes with their placements, in the order of the register.
pub fn routes(state: &State, judged: &[&Judged], on: Date, units: UnitSystem) -> Vec<RouteRow> {
    let mut rows: Vec<RouteRow> = Vec::new();
    let mut last: Option<&str> = None;
    for one in judged {
        let route_id = one.placement.record.route.as_deref();
        if rows.is_empty() || last != route_id {
            let route = route_id.and_then(|id| state.route(id));
            rows.push(RouteRow {
                name: route
                    .and_then(|route| route.name.clone())
                    .or_else(|| route_id.map(str::to_owned))
                    .unwrap_or_else(|| "no route".to_owned()),
                sector: route.and_then(|route| route.sector.clone()),
                point: route.and_then(|route| point(route.latitude_deg, route.longitude_deg)),
                placements: Vec::new(),
            });
            last = route_id;
        }
        if let Some(row) = rows.last_mut() {
            row.placements.push(placement(state, one, on, units));
        }
    }
    rows
}

fn placement(state: &State, one: &Judged, on: Date, units: UnitSystem) -> PlacementRow {
    let record = one.placement.record;
    let unknown = FittingRecord::default();
    let current = state.current_fitting(one.placement.id, on);
    let fitting = current.as_ref().map_or(&unknown, |fitting| fitting.record);
    PlacementRow {
        label: words::place_on_route(one.placement.id, record),
        fitting: words::fitting(fitting, units),
        set_year: Placed::from(fitting).year(),
        point: point(record.latitude_deg, record.longitude_deg),
        judgement: one.judgement.clone(),
    }
}

/// A solved campaign for charts and reports. With `crag` (an identity) only the works there are listed;
/// sums and limits stay those of the whole campaign.
pub fn plan(
    state: &State,
    campaign: &Campaign,
    judged: &[Judged],
    defaults: &Defaults,
    crag: Option<&str>,
    units: UnitSystem,
) -> PlanView {
    let by_id: HashMap<&str, &Judged> = judged.iter().map(|one| (one.placement.id, one)).collect();
    let todo: HashMap<&str, String> = campaign
        .offer
        .problem
        .works
        .iter()
        .zip(&campaign.offer.todo)
        .map(|(work, todo)| (work.placement.as_str(), todo.words()))
        .collect();
    let mut view =
        PlanView::new(&campaign.offer.problem, &campaign.plan, defaults.currency.clone(), |work| {
            let judged = by_id.get(work.placement.as_str());
            WorkNote {
                placement: judged.map_or_else(
                    || work.placement.clone(),
                    |one| words::place_on_route(one.placement.id, one.placement.record),
                ),
                call: judged.map_or(judgement::Call::Renew, |one| one.judgement.call),
                todo: todo.get(work.placement.as_str()).cloned().unwrap_or_default(),
                why: judged.map_or_else(String::new, |one| first_reason(&one.judgement, units)),
            }
        });
    if crag.is_some() {
        let here = |route: &str| state.route(route).and_then(|route| route.crag.as_deref()) == crag;
        view.rows.retain(|row| here(&row.route));
        view.routes.retain(|route| here(&route.route));
    }
    let name = |id: &str| state.route(id).and_then(|route| route.name.clone());
    for row in &mut view.rows {
        if let Some(name) = name(&row.route) {
            row.route = name;
        }
    }
    for route in &mut view.routes {
        if let Some(name) = name(&route.route) {
            route.route = name;
        }
    }
    view
}

/// The reason that made the call.
fn first_reason(judgement: &Judgement, units: UnitSystem) -> String {
    judgement.reasons.first().map_or_else(String::new, |reason| reason.statement.text(units))
}

/// Crag, route and placement in plain words: `Slow Lichen, bolt 3`.
pub fn place(state: &State, one: &Judged) -> String {
    let record = one.placement.record;
    let label = words::place_on_route(one.placement.id, record);
    match record.route.as_deref().and_then(|id| state.route(id)).and_then(|route| route.name.as_deref()) {
        Some(route) => format!("{route}, {label}"),
        None => label,
    }
}

/// A date as a calendar year: 2026-07-02 is about 2026.5.
pub fn calendar_year(date: Date) -> f64 {
    f64::from(date.year()) + f64::from(date.day_of_year() - 1) / f64::from(date.days_in_year())
}
