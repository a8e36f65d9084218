//! What the budget buys: gain by route and its sum over the hours.

use super::frame::{Frame, Style};
use crate::axis::Scale;
use crate::font::{self, Weight};
use crate::scene::{Anchor, Area, Line, Outline, Point, Scene};
use crate::view::{PlanView, RouteGain};
use crate::{format, wording};

/// Draws each route's gain as a bar in order of doing (left) and the sum of gains over the person-hours
/// (right), as shares of all that could be avoided.
pub fn plan(view: &PlanView, style: &Style) -> Scene {
    let finite = |v: f64| if v.is_finite() { v.max(0.0) } else { 0.0 };
    let routes: Vec<RouteGain> = view
        .routes
        .iter()
        .map(|r| RouteGain { gain: finite(r.gain), hours: finite(r.hours), ..r.clone() })
        .collect();
    let sum: f64 = routes.iter().map(|r| r.gain).sum();
    let possible = finite(view.possible).max(sum);
    let part = |gain: f64| if possible > 0.0 { gain / possible } else { 0.0 };
    let works: usize = routes.iter().map(|r| r.works).sum();
    let title = if routes.is_empty() {
        "The plan holds no works".to_owned()
    } else {
        format!(
            "{} on {} {} {} of the gain that all works together would bring{}",
            format::count(works, "work", "works"),
            format::count(routes.len(), "route", "routes"),
            if works == 1 { "brings" } else { "bring" },
            format::share(part(sum)).trim_start_matches("> "),
            if view.is_part() { " at all crags" } else { "" }
        )
    };
    let subtitle = format!(
        "{}{} {} of {} and {} of {} person-hours",
        if view.is_part() { "Part of a plan over several crags: " } else { "" },
        view.currency,
        format::thousands(finite(view.money).round()),
        format::thousands(finite(view.limits.money).round()),
        format::thousands(finite(view.hours).round()),
        format::thousands(finite(view.limits.hours).round())
    );
    let gap = wording::optimality(view.gap);
    let foot = format!(
        "Routes in order of doing. Gains are expected failures avoided over the plan's horizon, from the same \
         estimates as the calls, weighted by consequence: they rank works, they are no forecast. {gap} {}",
        wording::SHORT_CAUTION
    );
    let mut f = Frame::new(style, &title, &subtitle, &foot);
    if routes.is_empty() {
        f.empty("Nothing to draw: no work was chosen.");
        return f.scene;
    }
    let words: Vec<String> =
        routes.iter().take(20).map(|r| format!("{} {}", r.route, format::share(part(r.gain)))).collect();
    f.scene.description = format!("{subtitle}. In order: {}. {foot}", words.join("; "));
    let (t, whole) = (f.style.text, f.plot);
    let gap = t * 2.5;
    let left_w = (whole.w - gap) * 0.55;
    f.plot = Area { w: left_w, ..whole };
    bars(&mut f, &routes, part);
    f.plot = Area { x: whole.x + left_w + gap, w: whole.w - left_w - gap, ..whole };
    sum_curve(&mut f, &routes, part, view);
    f.scene
}

fn bars(f: &mut Frame, routes: &[RouteGain], part: impl Fn(f64) -> f64) {
    let (t, p, area) = (f.style.text, f.palette, f.plot);
    f.note(area.x, area.y + t * 0.6, "share of avoidable failures, by route", Anchor::Start);
    let top = area.y + t * 1.3;
    let most = ((area.bottom() - top) / (t * 1.6)).floor().max(2.0) as usize;
    let mut rows: Vec<RouteGain> = routes.to_vec();
    if rows.len() > most {
        let rest = rows.split_off(most - 1);
        rows.push(RouteGain {
            route: format!("{} more routes", rest.len()),
            works: rest.iter().map(|r| r.works).sum(),
            gain: rest.iter().map(|r| r.gain).sum(),
            hours: rest.iter().map(|r| r.hours).sum(),
            carry: Vec::new(),
        });
    }
    let pitch = ((area.bottom() - top) / rows.len() as f64).min(t * 2.2);
    let name_w =
        rows.iter().map(|r| font::width(&r.route, t, Weight::Regular)).fold(0.0, f64::max).min(area.w * 0.4);
    let note = |r: &RouteGain| {
        format!(
            "{} · {} · {:.1} h",
            format::share(part(r.gain)),
            format::count(r.works, "work", "works"),
            r.hours
        )
    };
    let note_w = rows.iter().map(|r| font::width(&note(r), t * 0.84, Weight::Regular)).fold(0.0, f64::max);
    let left = area.x + name_w + t * 0.7;
    let room = (area.right() - left - note_w - t).max(t);
    let longest = rows.iter().map(|r| r.gain).fold(0.0, f64::max);
    for (i, r) in rows.iter().enumerate() {
        let y = top + pitch * (i as f64 + 0.5);
        let name = font::shorten(&r.route, t, Weight::Regular, name_w);
        f.label(left - t * 0.7, y + t * 0.36, name, Anchor::End);
        let w = if longest > 0.0 { r.gain / longest * room } else { 0.0 };
        let thick = pitch * 0.6;
        let bar = Area { x: left, y: y - thick / 2.0, w: w.max(t * 0.08), h: thick };
        f.scene.shape(Outline::Box(bar, 0.0), Some((p.holds, 0.85)), None);
        f.note(left + w + t * 0.5, y + t * 0.3, note(r), Anchor::Start);
    }
}

fn sum_curve(f: &mut Frame, routes: &[RouteGain], part: impl Fn(f64) -> f64, view: &PlanView) {
    let (t, p, area) = (f.style.text, f.palette, f.plot);
    f.note(area.x, area.y + t * 0.6, "sum of gains over person-hours", Anchor::Start);
    let left = area.x + t * 3.2;
    let (top, base, right) = (area.y + t * 1.6, area.bottom() - t * 2.9, area.right() - t * 0.8);
    let hours: f64 = routes.iter().map(|r| r.hours).sum();
    let limit = if view.limits.hours.is_finite() && !view.is_part() { view.limits.hours } else { 0.0 };
    // A limit far beyond the plan would squeeze the curve: then it is told, not drawn.
    let shown_limit = limit > 0.0 && limit < hours * 2.5;
    let x = Scale::new(0.0, if shown_limit { hours.max(limit) } else { hours } * 1.04, left, right);
    let y = Scale::new(0.0, 1.0, base, top);
    for v in [0.0, 0.25, 0.5, 0.75, 1.0] {
        f.scene.line(left, y.at(v), right, y.at(v), Line::new(p.grid, t * 0.05));
        f.label(left - t * 0.5, y.at(v) + t * 0.36, format!("{:.0} %", v * 100.0), Anchor::End);
    }
    for (v, label) in x.ticks(5) {
        f.scene.line(x.at(v), base, x.at(v), base + t * 0.3, Line::new(p.muted, t * 0.07));
        f.label(x.at(v), base + t * 1.4, label, Anchor::Middle);
    }
    f.note((left + right) / 2.0, base + t * 2.6, "person-hours", Anchor::Middle);
    let mut points = vec![Point::new(left, base)];
    let (mut h, mut g) = (0.0, 0.0);
    for r in routes {
        h += r.hours;
        g += r.gain;
        points.push(Point::new(x.held(h), y.held(part(g))));
    }
    let mut surface = points.clone();
    surface.push(Point::new(x.held(h), base));
    f.scene.shape(Outline::Path(surface, true), Some((p.holds, 0.16)), None);
    let radius = if routes.len() > 30 { 0.0 } else { t * 0.24 };
    for point in points.iter().skip(1).filter(|_| radius > 0.0) {
        f.scene.shape(Outline::Circle(*point, radius), Some((p.holds, 1.0)), None);
    }
    f.scene.shape(Outline::Path(points, false), None, Some(Line::new(p.holds, t * 0.16)));
    f.scene.line(left, base, right, base, Line::new(p.muted, t * 0.07));
    let end = y.held(part(g));
    let (text, label_y) = (format!("plan {}", format::share(part(g))), (end + base) / 2.0);
    f.scene.text(x.held(h) - t * 0.5, label_y, text, t, Weight::Bold, p.holds, Anchor::End);
    if shown_limit {
        f.scene.line(x.held(limit), top, x.held(limit), base, Line::dashed(p.asked, t * 0.12, t * 0.4));
        let text = format!("limit {} h", format::thousands(limit.round()));
        f.patch(x.held(limit) - t * 0.3, base - t * 0.6, &text, p.asked, Anchor::End);
    }
}
