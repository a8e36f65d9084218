//! Years left: how many placements fall below the threshold by when.

use super::frame::{Frame, Style};
use crate::axis::{Scale, spread};
use crate::font::{self, Weight};
use crate::scene::{Anchor, Area, Line, Outline, Point, Scene};
use crate::{format, wording};
use judgement::YearsLeft;

/// The placements of one crag.
#[derive(Clone, Debug, PartialEq)]
pub struct YearsGroup {
    /// Name of the crag.
    pub label: String,
    /// Years left of each placement.
    pub years: Vec<YearsLeft>,
}

/// Draws how many placements will have sunk below the policy's threshold, year by year: best estimate
/// as a line, the band between bad and good luck with what is unknown as a surface; those not below
/// within the horizon are told at the right. With more than one group a table at the right says when
/// for each of them.
pub fn years_left(groups: &[YearsGroup], style: &Style) -> Scene {
    let all: Vec<YearsLeft> = groups.iter().flat_map(|g| g.years.iter().copied()).collect();
    let horizon = all.iter().map(|y| y.horizon).filter(|h| h.is_finite() && *h > 0.0).fold(0.0, f64::max);
    let horizon = if horizon > 0.0 { horizon.min(1e4) } else { 50.0 };
    let soon = if horizon > 10.0 { 10.0 } else { horizon };
    let [low, best, high] =
        [at(&all, soon, |y| y.low), at(&all, soon, |y| y.best), at(&all, soon, |y| y.high)];
    let title = if all.is_empty() {
        "No placements have been judged".to_owned()
    } else {
        let count = |n: usize| format::thousands(n as f64);
        let band = if low == high {
            String::new()
        } else {
            format!(" ({} – {})", count(high.min(low)), count(low.max(high)))
        };
        format!(
            "Within {soon:.0} years {}{band} of {} fall below the threshold",
            count(best),
            count(all.len())
        )
    };
    let foot = format!(
        "Threshold: the least chance to hold a hard fall that the policy accepts. Line: best estimate; surface: if \
         what is unknown turns out badly or well. {}",
        wording::SHORT_CAUTION
    );
    let subtitle = "Placements below the threshold, by years from the date of judgement";
    let mut f = Frame::new(style, &title, subtitle, &foot);
    if all.is_empty() {
        f.empty("Nothing to draw: no placement has been judged yet.");
        return f.scene;
    }
    let t = f.style.text;
    let whole = f.plot;
    if groups.len() > 1 && whole.w > t * 46.0 {
        let w = t * 26.0;
        let table = Area { x: whole.right() - w, w, ..whole };
        when_table(&mut f, groups, horizon, table);
        f.plot = Area { w: whole.w - w - t * 2.0, ..whole };
    }
    curve(&mut f, &all, horizon);
    f.scene
}

fn at(all: &[YearsLeft], t: f64, pick: impl Fn(&YearsLeft) -> Option<f64>) -> usize {
    all.iter().filter(|y| pick(y).is_some_and(|v| v <= t)).count()
}

fn curve(f: &mut Frame, all: &[YearsLeft], horizon: f64) {
    let (t, p) = (f.style.text, f.palette);
    let beyond = all.len() - at(all, horizon, |y| y.best);
    let beyond_text =
        [format!("{} not within", format::thousands(beyond as f64)), format!("{horizon:.0} years")];
    let note_w = beyond_text
        .iter()
        .map(|s| font::width(s, t, Weight::Bold))
        .fold(font::width("pessimistic 9,999", t, Weight::Regular), f64::max);
    let left = f.plot.x + font::width(&format::thousands(all.len() as f64), t, Weight::Regular) + t * 0.8;
    let right = f.plot.right() - note_w - t * 1.2;
    let (top, base) = (f.plot.y + t * 0.8, f.plot.bottom() - t * 2.9);
    let x = Scale::new(0.0, horizon, left, right);
    let y = Scale::new(0.0, all.len() as f64, base, top);
    for (v, label) in y.ticks(5) {
        if v.fract() == 0.0 {
            f.scene.line(left, y.at(v), right, y.at(v), Line::new(p.grid, t * 0.05));
            f.label(left - t * 0.5, y.at(v) + t * 0.36, label, Anchor::End);
        }
    }
    for (v, label) in x.ticks(6) {
        f.scene.line(x.at(v), base, x.at(v), base + t * 0.3, Line::new(p.muted, t * 0.07));
        f.label(x.at(v), base + t * 1.4, label, Anchor::Middle);
    }
    f.note((left + right) / 2.0, base + t * 2.6, "years from now", Anchor::Middle);

    let bad = steps(all, horizon, |y| y.low);
    let best = steps(all, horizon, |y| y.best);
    let good = steps(all, horizon, |y| y.high);
    let to_points = |s: &[(f64, usize)]| -> Vec<Point> {
        let mut out = Vec::with_capacity(s.len() * 2);
        let mut last = None;
        for (v, n) in s {
            if let Some(before) = last {
                out.push(Point::new(x.held(*v), y.at(before)));
            }
            out.push(Point::new(x.held(*v), y.at(*n as f64)));
            last = Some(*n as f64);
        }
        out
    };
    let mut surface = to_points(&bad);
    let mut lower = to_points(&good);
    lower.reverse();
    surface.extend(lower);
    f.scene.shape(Outline::Path(surface, true), Some((p.asked, 0.22)), None);
    f.scene.shape(Outline::Path(to_points(&best), false), None, Some(Line::new(p.asked, t * 0.18)));
    f.scene.line(left, base, right, base, Line::new(p.muted, t * 0.07));

    // Ends of the three curves, labelled in place; what is beyond the horizon above them.
    let end = |s: &[(f64, usize)]| s.last().map_or(0, |e| e.1);
    let ends = [end(&bad), end(&best), end(&good)];
    let words = ["pessimistic", "best", "optimistic"];
    let same = ends[0] == ends[2];
    let labels: Vec<(String, f64, Weight)> = if same {
        vec![(format!("{} below", format::thousands(ends[1] as f64)), y.at(ends[1] as f64), Weight::Bold)]
    } else {
        (0..3)
            .map(|i| {
                let weight = if i == 1 { Weight::Bold } else { Weight::Regular };
                (format!("{} {}", words[i], format::thousands(ends[i] as f64)), y.at(ends[i] as f64), weight)
            })
            .collect()
    };
    let mut wishes: Vec<f64> = labels.iter().map(|l| l.1 + t * 0.36).collect();
    if beyond > 0 {
        let middle = (y.at(ends[1] as f64) + top) / 2.0;
        wishes.push(middle.min(y.at(ends[1] as f64)));
        wishes.push(middle.min(y.at(ends[1] as f64)) + 1e-3);
    }
    let placed = spread(&wishes, t * 1.3, top + t * 0.4, base);
    for (label, y) in labels.iter().zip(&placed) {
        f.scene.text(right + t * 0.5, *y, &label.0, t, label.2, p.asked, Anchor::Start);
    }
    if beyond > 0 {
        for (text, y) in beyond_text.iter().zip(&placed[labels.len()..]) {
            f.scene.text(right + t * 0.5, *y, text, t, Weight::Bold, p.holds, Anchor::Start);
        }
        let span = (top, y.at(ends[1] as f64));
        f.scene.line(right + t * 0.15, span.0, right + t * 0.15, span.1, Line::new(p.holds, t * 0.16));
    }
}

/// The counting curve: (years, placements below by then), from 0 to the horizon.
fn steps(all: &[YearsLeft], horizon: f64, pick: impl Fn(&YearsLeft) -> Option<f64>) -> Vec<(f64, usize)> {
    let mut times: Vec<f64> =
        all.iter().filter_map(&pick).filter(|v| v.is_finite() && *v <= horizon).map(|v| v.max(0.0)).collect();
    times.sort_by(f64::total_cmp);
    let now = times.iter().filter(|v| **v <= 0.0).count();
    let mut out = vec![(0.0, now)];
    for (i, v) in times.iter().enumerate().skip(now) {
        match out.last_mut() {
            Some(last) if last.0 == *v => last.1 = i + 1,
            _ => out.push((*v, i + 1)),
        }
    }
    out.push((horizon, times.len()));
    out
}

/// When, by group: counts of best estimates in spans of years.
fn when_table(f: &mut Frame, groups: &[YearsGroup], horizon: f64, area: Area) {
    let (t, p) = (f.style.text, f.palette);
    let heads = ["now", "to 5", "to 20", "later", &format!("> {horizon:.0}")];
    let bounds = [0.5, 5.0, 20.0, horizon];
    let cell = t * 2.9;
    let name_w = area.w - cell * heads.len() as f64 - t * 0.4;
    let size = t * 0.92;
    let top = area.y + t * 1.0;
    f.note(area.x, top, "years left, best", Anchor::Start);
    for (i, head) in heads.iter().enumerate() {
        f.note(area.x + name_w + cell * (i as f64 + 0.5) + t * 0.4, top, head, Anchor::Middle);
    }
    let room = area.bottom() - top - t * 0.6;
    let most = (room / (t * 1.9)).floor().max(2.0) as usize;
    let shown = if groups.len() <= most { groups.len() } else { most - 1 };
    let pitch = t * 1.9;
    let mut rows: Vec<(String, Vec<&YearsLeft>)> =
        groups.iter().take(shown).map(|g| (g.label.clone(), g.years.iter().collect())).collect();
    if shown < groups.len() {
        let rest = groups.iter().skip(shown).flat_map(|g| &g.years).collect();
        rows.push((format!("{} more", groups.len() - shown), rest));
    }
    for (i, (label, years)) in rows.iter().enumerate() {
        let y = top + t * 0.7 + pitch * i as f64;
        let base = y + pitch / 2.0 + t * 0.34;
        f.scene.text(
            area.x,
            base,
            font::shorten(label, size, Weight::Regular, name_w),
            size,
            Weight::Regular,
            p.ink,
            Anchor::Start,
        );
        let mut counts = [0usize; 5];
        for y in years {
            let best = y.best.filter(|v| *v < horizon).unwrap_or(f64::INFINITY);
            let slot = bounds.iter().position(|b| best < *b).unwrap_or(4);
            counts[slot] += 1;
        }
        let total = years.len().max(1) as f64;
        for (k, n) in counts.iter().enumerate() {
            let x = area.x + name_w + cell * k as f64 + t * 0.4;
            let color = if k == 4 { p.holds } else { p.asked };
            let part = *n as f64 / total;
            let tile = Area { x: x + t * 0.08, y: y + t * 0.08, w: cell - t * 0.16, h: pitch - t * 0.16 };
            f.scene.shape(Outline::Box(tile, t * 0.15), Some((color, 0.05 + 0.35 * part)), None);
            let weight = if *n > 0 { Weight::Bold } else { Weight::Regular };
            let ink = if *n > 0 { p.ink } else { p.muted };
            f.scene.text(
                x + cell / 2.0,
                base,
                format::thousands(*n as f64),
                size,
                weight,
                ink,
                Anchor::Middle,
            );
        }
    }
}
