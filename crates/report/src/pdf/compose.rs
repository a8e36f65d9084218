//! What the report says, block by block.

use super::flow::{Flow, Pages, TEXT};
use super::rich::{self, Run, bold, muted, plain};
use super::table::{left, right};
use super::tags::Role;
use crate::chart::{self, Sketch, SketchRoute, Style, YearsGroup};
use crate::font::{self, Weight};
use crate::format::{self, Axes, count};
use crate::palette::CALLS;
use crate::scene::{Anchor, Area, Line, Outline, Scene};
use crate::view::{CallCounts, CragReport, PlacementRow, PlanView, RouteRow, urgency};
use crate::{symbol, wording};
use judgement::{Call, Judgement};
use resistance::Source;
use units::UnitSystem;

/// Placements told about on the front page.
const URGENT: usize = 5;
/// Reasons told for each of them.
const REASONS: usize = 2;
/// Placements listed by urgency, beyond a plan or without one.
const LISTED: usize = 60;

/// The whole report on pages.
pub(super) fn pages(report: &CragReport) -> Pages {
    let mut flow = Flow::new(report.paper);
    let on_front = front(&mut flow, report);
    where_it_is(&mut flow, report);
    charts(&mut flow, report, on_front);
    routes(&mut flow, report);
    works(&mut flow, report);
    unknowns(&mut flow, report);
    cautions(&mut flow, report);
    method(&mut flow, report);
    let head = format!("{} · {}", report.crag, report.group);
    flow.finish([&head, &format::date(report.date)], wording::SHORT_CAUTION)
}

/// The page of summary; true where the chart by decade found room on it.
fn front(flow: &mut Flow, report: &CragReport) -> bool {
    let name = font::clean(&report.crag);
    flow.heading(1, if name.trim().is_empty() { "Crag without a name" } else { &name });
    let line = format!("Condition of the fixed anchors, judged on {}", format::date(report.date));
    flow.paragraph(
        &[bold(line), Run::Break, muted(format!("{} · {}", report.setting, report.group))],
        TEXT + 1.0,
    );
    flow.gap(4.0);
    flow.callout(
        &[
            bold("Read this first. "),
            plain(
                "The numbers are estimates from recorded evidence; no inspection sees inside the hole. Follow the \
                 maker's instructions, local codes, the land manager's rules and competent, licensed practice. Back \
                 up what you doubt.",
            ),
        ],
        TEXT,
    );
    let counts = report.counts();
    tiles(flow, &counts);
    flow.paragraph(&[plain(summary(report, &counts))], TEXT);

    let mut all: Vec<(&RouteRow, &PlacementRow)> = report.placements().collect();
    all.sort_by(|a, b| urgency(&a.1.judgement, &b.1.judgement));
    let asking = all.iter().filter(|(_, p)| p.judgement.call >= Call::Tend).count();
    all.truncate(asking.min(URGENT));
    let mut items: Vec<Vec<Run>> = all.iter().map(|(r, p)| urgent(r, p, report.units)).collect();
    let chart = (counts.total() > 0).then(|| decades(flow, report, 0.0));
    if let Some(chart) = &chart {
        // A placement or two less where that gives the chart its room on this page.
        let height =
            |items: &[Vec<Run>]| items.iter().map(|i| flow.list_item_height(i, TEXT - 0.5)).sum::<f64>();
        let room = flow.room() - chart.height - 80.0;
        let fewer = (URGENT - 2..=items.len()).rev().find(|n| height(&items[..*n]) <= room);
        items.truncate(fewer.unwrap_or(items.len()));
    }
    let told = items.len();
    flow.heading(2, "Most urgent placements");
    if all.is_empty() {
        let nothing = match counts.total() {
            0 => "No placement has been judged, so nothing can be said about urgency.",
            _ => "On this evidence no placement asks for work now.",
        };
        flow.paragraph(&[plain(nothing)], TEXT);
    }
    if !items.is_empty() {
        flow.list(&items, true, TEXT - 0.5);
    }
    if asking > told {
        let text = format!(
            "{} more {} for work: see the route table and the works in order.",
            asking - told,
            if asking - told == 1 { "placement asks" } else { "placements ask" }
        );
        flow.paragraph(&[muted(text)], TEXT);
    }
    let Some(chart) = chart else { return false };
    flow.gap(4.0);
    let fits = flow.room() >= chart.height;
    if fits {
        flow.figure(&decades(flow, report, flow.room()));
    }
    fits
}

fn urgent(route: &RouteRow, p: &PlacementRow, units: UnitSystem) -> Vec<Run> {
    let j = &p.judgement;
    let mut runs = vec![bold(format!("{}, {} ", route.name, p.label))];
    runs.extend(rich::call(j.call));
    runs.push(muted(format!(
        " · {} chance to hold a hard fall · {}",
        format::chance(j.holds_hard_fall),
        p.fitting
    )));
    runs.push(Run::Break);
    let reasons = why(j, REASONS, units);
    runs.push(plain(if reasons.is_empty() { "No reason was given.".to_owned() } else { reasons }));
    runs
}

/// The strongest reasons as sentences; those that made the call come first.
fn why(j: &Judgement, most: usize, units: UnitSystem) -> String {
    j.reasons.iter().take(most).map(|r| r.statement.text(units)).collect::<Vec<_>>().join(" ")
}

/// Five tiles with symbol, count, word and meaning of each call.
fn tiles(flow: &mut Flow, counts: &CallCounts) {
    let gap = 6.0;
    let w = (flow.width - 4.0 * gap) / 5.0;
    let h = 64.0;
    flow.need(h + 10.0);
    let (top, start, p) = (flow.y(), flow.left, flow.palette);
    for (i, call) in CALLS.into_iter().rev().enumerate() {
        let x = start + (w + gap) * i as f64;
        let area = Area { x, y: top, w, h };
        flow.put(None, |s| {
            s.shape(Outline::Box(area, 3.0), Some((p.call(call), 0.14)), Some(Line::new(p.edge(call), 0.9)));
            symbol::draw(s, &p, call, x + 15.0, top + 18.0, 8.0);
        });
        let tag = flow.tag(Role::Paragraph, None);
        let n = format::thousands(f64::from(counts.get(call)));
        let size = if n.len() > 5 { 13.0 } else { 19.0 };
        flow.put(Some(tag), |s| {
            s.text(x + 28.0, top + 24.5, format!("{n} "), size, Weight::Bold, p.ink, Anchor::Start);
            s.text(x + 7.0, top + 38.0, format!("{} ", call.name()), 9.5, Weight::Bold, p.ink, Anchor::Start);
            let lines = font::wrap(call.meaning(), 7.2, Weight::Regular, w - 13.0);
            for (k, line) in lines.iter().enumerate() {
                let y = top + 47.5 + 9.0 * k as f64;
                s.text(x + 7.0, y, format!("{line} "), 7.2, Weight::Regular, p.muted, Anchor::Start);
            }
        });
    }
    flow.advance(h + 10.0);
}

fn summary(report: &CragReport, counts: &CallCounts) -> String {
    let n = counts.total() as usize;
    if n == 0 {
        return "No placements have been judged at this crag yet.".to_owned();
    }
    let years = || report.placements().map(|(_, p)| p.judgement.years_left);
    let horizon = years().map(|y| y.horizon).fold(0.0, f64::max);
    let soon = years().filter(|y| y.best.is_some_and(|v| v <= 5.0)).count();
    let beyond = years().filter(|y| y.best.is_none_or(|v| v >= y.horizon)).count();
    let mut out = format!(
        "{} on {} {} judged. By best estimate {} below the accepted chance to hold a hard fall within five years",
        count(n, "placement", "placements"),
        count(report.routes.iter().filter(|r| !r.placements.is_empty()).count(), "route", "routes"),
        if n == 1 { "was" } else { "were" },
        match soon {
            0 => "none falls".to_owned(),
            1 => "1 falls".to_owned(),
            k => format!("{} fall", format::thousands(k as f64)),
        },
    );
    if horizon.is_finite() && horizon > 0.0 {
        let stay = match beyond {
            0 => "none stays".to_owned(),
            1 => "1 stays".to_owned(),
            k => format!("{} stay", format::thousands(k as f64)),
        };
        out.push_str(&format!(", and {stay} above it for all of the {horizon:.0} years looked ahead"));
    }
    out.push('.');
    out
}

fn where_it_is(flow: &mut Flow, report: &CragReport) {
    if report.routes.is_empty() {
        return;
    }
    flow.new_page();
    flow.heading(2, "Where");
    let routes: Vec<SketchRoute> = report
        .routes
        .iter()
        .enumerate()
        .map(|(i, r)| SketchRoute {
            number: i + 1,
            name: r.name.clone(),
            call: r.worst_call(),
            point: r.position(),
        })
        .collect();
    let known = routes.iter().any(|r| r.point.is_some());
    let style =
        Style::page(flow.width, if known { chart::sketch_height(&routes, flow.width) } else { 140.0 })
            .with_units(report.units);
    flow.figure(&chart::sketch(&Sketch { crag: &report.crag, routes: &routes }, &style));
    flow.paragraph(&[muted("The numbers are those of the route table.")], TEXT - 1.0);
}

fn charts(flow: &mut Flow, report: &CragReport, on_front: bool) {
    if report.counts().total() == 0 {
        return;
    }
    // the heading goes with the chart that follows it
    flow.need(300.0);
    flow.heading(2, "How old and how long");
    if !on_front {
        flow.figure(&decades(flow, report, f64::MAX));
        flow.gap(6.0);
    }
    let style = Style::page(flow.width, 240.0).with_units(report.units);
    let years = YearsGroup {
        label: report.crag.clone(),
        years: report.placements().map(|(_, p)| p.judgement.years_left).collect(),
    };
    flow.figure(&chart::years_left(&[years], &style));
}

/// The chart by decade set, as high as suits its rows but no higher than `room` if they can be drawn in it.
fn decades(flow: &Flow, report: &CragReport, room: f64) -> Scene {
    let decades = report.by_decade();
    let n = decades.len() as f64;
    let height = room.clamp(62.0 + 14.0 * n, 80.0 + 17.5 * n);
    chart::calls_by_decade(&decades, &Style::page(flow.width, height).with_units(report.units))
}

fn routes(flow: &mut Flow, report: &CragReport) {
    if report.routes.is_empty() {
        return;
    }
    flow.need(240.0);
    flow.heading(2, "Routes");
    flow.paragraph(
        &[plain(format!(
            "Each route by its most urgent placement. Characteristic: the load, in {}, that the weakest placement \
             will very likely hold (5 % fractile at 75 % confidence). Years left: until the chance to hold a hard \
             fall sinks below the accepted one, with its range. Chance: that the most urgent placement holds a hard \
             fall, with the range that better evidence could move it in.",
            report.units.force_unit()
        ))],
        TEXT - 0.5,
    );
    let columns = [
        right("No."),
        left("Route", 27.0),
        left("Placements by call", 23.0),
        left("Most urgent", 17.0),
        right("Weakest"),
        right("Years left"),
        right("Chance"),
    ];
    let mut rows = Vec::with_capacity(report.routes.len());
    for (i, r) in report.routes.iter().enumerate() {
        let mut name = vec![plain(r.name.clone())];
        if let Some(sector) = &r.sector {
            name.extend([Run::Break, muted(sector.clone())]);
        }
        let counts = CallCounts::of("", r.placements.iter().map(|p| p.judgement.call));
        let mut tally = Vec::new();
        for (call, n) in counts.iter().rev().filter(|(_, n)| *n > 0) {
            tally.extend([Run::Symbol { call, spoken: true }, plain(format!("{n} "))]);
        }
        if tally.is_empty() {
            tally.push(muted("none"));
        }
        let most = r.most_urgent();
        let mut urgent = Vec::new();
        if let Some(p) = most {
            urgent.extend(rich::call(p.judgement.call));
            urgent.extend([Run::Break, muted(p.label.clone())]);
        }
        rows.push(vec![
            vec![muted((i + 1).to_string())],
            name,
            tally,
            urgent,
            r.weakest().map(|f| vec![plain(format::force_number(f, report.units))]).unwrap_or_default(),
            r.shortest().map(|y| vec![plain(format::years(y))]).unwrap_or_default(),
            most.map(|p| vec![plain(format::chance(p.judgement.holds_hard_fall))]).unwrap_or_default(),
        ]);
    }
    flow.table(&columns, &rows, 8.5, "Routes with their placements, calls, strength, years left and chance");
    let key: Vec<Run> = CALLS
        .into_iter()
        .rev()
        .flat_map(|c| {
            let [symbol, word] = rich::call(c);
            [symbol, word, muted(format!(" {}   ", c.meaning()))]
        })
        .collect();
    flow.paragraph(&key, 8.0);
}

fn works(flow: &mut Flow, report: &CragReport) {
    if report.counts().total() == 0 {
        return;
    }
    flow.heading(2, "Works in order");
    match report.plan.as_ref().filter(|p| !p.rows.is_empty()) {
        Some(plan) => planned(flow, report, plan),
        None => unplanned(flow, report),
    }
}

fn planned(flow: &mut Flow, report: &CragReport, plan: &PlanView) {
    let (works, routes) =
        (count(plan.rows.len(), "work", "works"), count(plan.routes.len(), "route", "routes"));
    let whole = format!(
        "{} and about {} person-hours",
        money(plan, plan.money),
        format::thousands(plan.hours.round())
    );
    let mut text = if plan.is_part() {
        format!(
            "{works} on {routes} here, about {} person-hours with visits: part of a plan over several crags that takes \
             {whole}.",
            format::thousands(plan.hours_shown().round())
        )
    } else {
        format!("{works} on {routes}, {whole}, visits included.")
    };
    text.push(' ');
    text.push_str(&wording::optimality(plan.gap));
    flow.paragraph(&[plain(text)], TEXT);
    if plan.routes.len() > 1 {
        let style = Style::page(flow.width, 250.0).with_units(report.units);
        flow.figure(&chart::plan(plan, &style));
    }
    let columns =
        [right(""), left("Where", 25.0), left("What to do", 28.0), left("Why", 44.0), right("Hours")];
    let mut rows: Vec<Vec<Vec<Run>>> = Vec::with_capacity(plan.rows.len() + plan.routes.len());
    let mut last: Option<&str> = None;
    for (i, w) in plan.rows.iter().enumerate() {
        if last != Some(w.route.as_str()) {
            rows.push(route_row(plan, &w.route));
            last = Some(&w.route);
        }
        let [symbol, word] = rich::call(w.call);
        rows.push(vec![
            vec![muted((i + 1).to_string())],
            vec![plain(format!("{} ", w.placement)), symbol, word],
            vec![plain(w.todo.clone())],
            vec![plain(w.why.clone())],
            vec![plain(format!("{:.1}", w.hours))],
        ]);
    }
    flow.table(
        &columns,
        &rows,
        8.0,
        "Works in order of doing, route by route, with reason, hardware and hours",
    );
    if !plan.buy.is_empty() {
        flow.heading(3, if plan.is_part() { "To buy for the whole plan" } else { "To buy" });
        let items: Vec<Vec<Run>> = plan
            .buy
            .iter()
            .map(|b| {
                let price = b.price.map(|p| format!(" · {}", money(plan, p))).unwrap_or_default();
                vec![bold(format!("{} × ", b.pieces)), plain(b.name.clone()), muted(price)]
            })
            .collect();
        flow.list(&items, false, TEXT);
    }
    beyond(flow, report, plan);
}

/// The row that opens a route's works: how many, what to carry, hours with the visit.
fn route_row(plan: &PlanView, name: &str) -> Vec<Vec<Run>> {
    let Some(route) = plan.routes.iter().find(|r| r.route == name) else {
        return vec![Vec::new(), vec![bold(name)]];
    };
    let carry =
        if route.carry.is_empty() { Vec::new() } else { vec![bold("Carry "), plain(route.carry.join(", "))] };
    vec![
        Vec::new(),
        vec![bold(name)],
        vec![bold(count(route.works, "work", "works"))],
        carry,
        vec![bold(format!("{:.1}", route.hours))],
    ]
}

/// What asks for work and is not in the plan.
fn beyond(flow: &mut Flow, report: &CragReport, plan: &PlanView) {
    let planned = |r: &RouteRow, p: &PlacementRow| {
        plan.rows.iter().any(|w| w.route == r.name && w.placement == p.label)
    };
    let rest: Vec<(&RouteRow, &PlacementRow)> =
        report.placements().filter(|(r, p)| p.judgement.call >= Call::Tend && !planned(r, p)).collect();
    if rest.is_empty() {
        return;
    }
    flow.heading(3, "Not in this plan");
    let pressing = rest.iter().filter(|(_, p)| p.judgement.call >= Call::Renew).count();
    if pressing > 0 {
        let text = format!(
            "{} to be renewed or not to be used {} left for later: warn, or close the route, until the work is done.",
            count(pressing, "placement", "placements"),
            if pressing == 1 { "is" } else { "are" }
        );
        flow.paragraph(&[bold(text)], TEXT);
    }
    by_urgency(flow, rest, report.units);
}

fn money(plan: &PlanView, amount: f64) -> String {
    format!("{} {}", plan.currency, format::thousands(amount.round()))
}

fn unplanned(flow: &mut Flow, report: &CragReport) {
    let all: Vec<(&RouteRow, &PlacementRow)> =
        report.placements().filter(|(_, p)| p.judgement.call >= Call::Tend).collect();
    if all.is_empty() {
        flow.paragraph(&[plain("On this evidence no placement asks for work now.")], TEXT);
        return;
    }
    let text = match report.plan {
        Some(_) => "The plan holds no work at this crag; these are its placements by urgency alone.",
        None => "No campaign has been planned; these are the placements by urgency alone.",
    };
    flow.paragraph(&[plain(text)], TEXT);
    by_urgency(flow, all, report.units);
}

/// Placements that ask for work, most urgent first; how many are not listed is said.
fn by_urgency(flow: &mut Flow, mut all: Vec<(&RouteRow, &PlacementRow)>, units: UnitSystem) {
    all.sort_by(|a, b| urgency(&a.1.judgement, &b.1.judgement));
    let more = all.len().saturating_sub(LISTED);
    all.truncate(LISTED);
    let columns = [right(""), left("Where", 30.0), left("What to do", 22.0), left("Why", 40.0)];
    let rows: Vec<Vec<Vec<Run>>> = all
        .iter()
        .enumerate()
        .map(|(i, (r, p))| {
            let [symbol, word] = rich::call(p.judgement.call);
            vec![
                vec![muted((i + 1).to_string())],
                vec![bold(format!("{}, {} ", r.name, p.label)), muted(p.fitting.clone())],
                vec![symbol, word, plain(format!(": {}", p.judgement.call.meaning()))],
                vec![plain(why(&p.judgement, REASONS, units))],
            ]
        })
        .collect();
    flow.table(&columns, &rows, 8.0, "Placements that ask for work, most urgent first");
    if more > 0 {
        let text = format!("{} more, less urgent, not listed here.", count(more, "placement", "placements"));
        flow.paragraph(&[muted(text)], TEXT);
    }
}

fn unknowns(flow: &mut Flow, report: &CragReport) {
    // By source: in how many placements it is the doubt, how much of the doubt it carries, what to do.
    let n = report.placements().count();
    if n == 0 {
        return;
    }
    flow.heading(2, "Worth finding out");
    let mut found: Vec<(Source, usize, f64, &'static str)> = Vec::new();
    for (_, p) in report.placements() {
        for m in p.judgement.missing.iter().filter(|m| m.share.is_finite() && m.source.can_be_narrowed()) {
            match found.iter_mut().find(|f| f.0 == m.source) {
                Some(f) => {
                    f.1 += 1;
                    f.2 += m.share;
                }
                None => found.push((m.source, 1, m.share, m.advice)),
            }
        }
    }
    found.sort_by(|a, b| b.2.total_cmp(&a.2).then(a.0.cmp(&b.0)));
    if found.is_empty() {
        flow.paragraph(
            &[plain("No single missing piece of evidence would narrow the judgements much.")],
            TEXT,
        );
        return;
    }
    flow.paragraph(
        &[plain(
            "What is not known widens every range above. These would narrow the judgements most, best first.",
        )],
        TEXT,
    );
    let columns = [
        left("Not known", 24.0),
        right("Placements"),
        right("Share of the doubt"),
        left("How to find out", 54.0),
    ];
    let rows: Vec<Vec<Vec<Run>>> = found
        .iter()
        .take(8)
        .map(|(source, k, sum, advice)| {
            vec![
                vec![bold((*source).name())],
                vec![plain(format::thousands(*k as f64))],
                vec![plain(format::share(sum / *k as f64))],
                vec![plain(*advice)],
            ]
        })
        .collect();
    flow.table(&columns, &rows, 8.5, "Missing evidence by how much it would narrow the judgements");
}

fn cautions(flow: &mut Flow, report: &CragReport) {
    flow.heading(2, "Cautions");
    let notes = report.notes.iter().map(|n| vec![plain(n.clone())]);
    let items: Vec<Vec<Run>> = wording::CAUTIONS.iter().map(|c| vec![plain(*c)]).chain(notes).collect();
    flow.list(&items, false, TEXT);
}

fn method(flow: &mut Flow, report: &CragReport) {
    flow.heading(2, "How the numbers are made");
    for (head, text) in wording::METHOD {
        flow.paragraph(&[bold(format!("{head}. ")), plain(text)], TEXT);
    }
    flow.paragraph(
        &[muted(format!(
            "Made with Holdproof for {}. Typeface: Noto Sans, SIL Open Font License 1.1.",
            report.group
        ))],
        TEXT - 1.5,
    );
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::Item;
    use crate::view::Paper;

    fn report() -> CragReport {
        CragReport {
            group: "Sallow Ridge Bolting Group".to_owned(),
            crag: "Otter Gorge".to_owned(),
            setting: "county of Marrowdale · sandstone".to_owned(),
            date: jiff::civil::date(2026, 11, 25),
            units: UnitSystem::Metric,
            paper: Paper::A4,
            routes: (0..120)
                .map(|i| RouteRow {
                    name: format!("route {i}"),
                    sector: None,
                    point: None,
                    placements: Vec::new(),
                })
                .collect(),
            plan: None,
            notes: Vec::new(),
        }
    }

    fn texts(pages: &Pages, page: usize) -> Vec<String> {
        pages.pages[page]
            .items
            .iter()
            .filter_map(|(_, i)| if let Item::Text { text, .. } = i { Some(text.clone()) } else { None })
            .collect()
    }

    #[test]
    fn every_page_has_its_number_and_tables_repeat_their_head() {
        let pages = pages(&report());
        let total = pages.pages.len();
        assert!(total >= 5, "{total}");
        let mut heads = 0;
        for i in 0..total {
            let texts = texts(&pages, i);
            assert!(texts.contains(&format!("page {} of {total}", i + 1)));
            let has_rows = texts.iter().any(|t| t.starts_with("route "));
            let has_head = texts.iter().any(|t| t == "Placements by call");
            if has_rows && texts.iter().any(|t| t == "none") {
                assert!(has_head, "page {}", i + 1);
                heads += 1;
            }
        }
        assert!(heads >= 3);
    }

    #[test]
    fn every_route_is_in_the_table_once() {
        let pages = pages(&report());
        let all: Vec<String> = (0..pages.pages.len()).flat_map(|i| texts(&pages, i)).collect();
        for i in 0..120 {
            let name = format!("route {i}");
            assert_eq!(all.iter().filter(|t| **t == name).count(), 1, "{name}");
        }
    }

    #[test]
    fn nothing_leaves_the_page_or_lies_in_its_margin() {
        let pages = pages(&report());
        for page in &pages.pages {
            for area in page.items.iter().filter_map(|(_, item)| item.text_area()) {
                assert!(area.x >= 40.0 && area.right() <= pages.width - 40.0, "{area:?}");
                assert!(area.y >= 20.0 && area.bottom() <= pages.height - 20.0, "{area:?}");
            }
        }
    }

    #[test]
    fn headings_go_down_by_one_level_at_a_time_and_cautions_are_there() {
        let pages = pages(&report());
        let mut before = 0;
        for b in &pages.bookmarks {
            assert!(b.level <= before + 1, "{b:?}");
            before = b.level;
        }
        let all: String = (0..pages.pages.len()).flat_map(|i| texts(&pages, i)).collect();
        for words in ["no inspection sees inside the hole", "Back up what you doubt", "maker's instructions"]
        {
            assert!(all.contains(words), "{words}");
        }
        assert!(!all.to_lowercase().contains(" safe"), "the report never says safe");
    }
}
