//! Calls as stacked bars: by crag and by decade set.

use super::frame::{Frame, Style};
use crate::font::{self, Weight};
use crate::format;
use crate::palette::CALLS;
use crate::scene::{Anchor, Area, Line, Outline, Scene};
use crate::view::CallCounts;
use crate::{symbol, wording};
use judgement::Call;

/// Bars by crag (or by sector, route, rock: whatever the labels say). `what` names the grouping in the
/// sub-title: "by crag".
pub fn calls_by_group(groups: &[CallCounts], what: &str, style: &Style) -> Scene {
    bars(groups, &finding(groups), &format!("{} {what}", subtitle(groups)), style)
}

/// Bars by decade set, in the order given.
pub fn calls_by_decade(decades: &[CallCounts], style: &Style) -> Scene {
    let most = decades.iter().max_by_key(|d| (urgent(d), std::cmp::Reverse(d.total())));
    let title = match most {
        Some(d) if urgent(d) > 0 && decades.len() > 1 => {
            let (n, of) = (format::thousands(urgent(d) as f64), format::thousands(d.total() as f64));
            let who = if d.label == "not known" {
                "Placements of unknown age have".to_owned()
            } else {
                format!("The {} have", d.label)
            };
            format!("{who} the most to renew or not to use: {n} of {of}")
        }
        _ => finding(decades),
    };
    bars(decades, &title, &format!("{} by decade set", subtitle(decades)), style)
}

fn urgent(group: &CallCounts) -> u64 {
    u64::from(group.get(Call::Renew)) + u64::from(group.get(Call::Shun))
}

fn total(groups: &[CallCounts], call: Call) -> u64 {
    groups.iter().map(|g| u64::from(g.get(call))).sum()
}

fn finding(groups: &[CallCounts]) -> String {
    let all: u64 = groups.iter().map(CallCounts::total).sum();
    let urgent: u64 = groups.iter().map(urgent).sum();
    match (all, urgent) {
        (0, _) => "No placements have been judged".to_owned(),
        (_, 0) => format!("None of {} is called for renewal on this evidence", format::thousands(all as f64)),
        _ => format!(
            "{} of {} {} to be renewed or not used at all",
            format::thousands(urgent as f64),
            format::count(all as usize, "placement", "placements"),
            if urgent == 1 { "is" } else { "are" }
        ),
    }
}

fn subtitle(groups: &[CallCounts]) -> String {
    let all: u64 = groups.iter().map(CallCounts::total).sum();
    format!("Calls for {}", format::count(all as usize, "placement", "placements"))
}

fn bars(groups: &[CallCounts], title: &str, subtitle: &str, style: &Style) -> Scene {
    let foot = format!("Counts of placements by call at the date of judgement. {}", wording::SHORT_CAUTION);
    let mut f = Frame::new(style, title, subtitle, &foot);
    f.scene.description = format!("{subtitle}. {} {}", in_words(groups), wording::SHORT_CAUTION);
    if groups.iter().all(|g| g.total() == 0) {
        f.empty("Nothing to draw: no placement has been judged yet.");
        return f.scene;
    }
    let t = f.style.text;
    let top = legend(&mut f, groups);

    // As many rows as there is room for; the smallest groups beyond that are drawn as one.
    let room = f.plot.bottom() - top;
    let most = (room / (t * 1.4)).floor().max(2.0) as usize;
    let (mut groups, rest) = gathered(groups, most);
    let drawn = groups.len();
    groups.extend(rest);
    let pitch = (room / groups.len() as f64).min(t * 5.8);
    let thick = (pitch * 0.66).min(t * 3.0);

    let name_w = groups
        .iter()
        .map(|g| font::width(&g.label, t, Weight::Regular))
        .fold(0.0, f64::max)
        .min(f.plot.w * 0.28);
    let left = f.plot.x + name_w + t * 0.8;
    let room = f.plot.right() - left;
    let longest = groups[..drawn].iter().map(CallCounts::total).max().unwrap_or(1).max(1) as f64;
    // Shorter bars leave more counts without room inside, and those need room after the bar.
    let mut per = room / longest;
    for _ in 0..6 {
        let fits = groups[..drawn]
            .iter()
            .map(|g| (room - tail_width(g, per, t)) / g.total().max(1) as f64)
            .fold(f64::INFINITY, f64::min);
        per = per.min(fits).max(t * 2.0 / longest);
    }

    for (i, g) in groups.iter().enumerate() {
        let y = top + pitch * (i as f64 + 0.5);
        let base = y + t * 0.36;
        let name = font::shorten(&g.label, t, Weight::Regular, name_w);
        f.label(left - t * 0.8, base, name, Anchor::End);
        // What was gathered is told in counts; a bar of it would dwarf all others.
        bar(&mut f, g, left, y, thick, if i < drawn { per } else { 0.0 });
    }
    f.scene
}

/// The segments of one bar with their counts; what is too narrow for its count is told after the bar.
fn bar(f: &mut Frame, g: &CallCounts, left: f64, y: f64, thick: f64, per: f64) {
    let (t, p) = (f.style.text, f.palette);
    let base = y + t * 0.36;
    let mut x = left;
    let mut narrow = Vec::new();
    for (call, n) in g.iter().filter(|(_, n)| *n > 0) {
        let w = f64::from(n) * per;
        let area = Area { x, y: y - thick / 2.0, w, h: thick };
        let fill = p.call(call);
        let line = Line::new(p.edge(call), t * 0.06);
        if w > 0.0 {
            f.scene.shape(Outline::Box(area, 0.0), Some((fill, 1.0)), Some(line));
        }
        let text = format::thousands(f64::from(n));
        let ink = p.ink_on(fill);
        if has_room(n, per, t) {
            f.scene.text(x + w / 2.0, base, &text, t, Weight::Bold, ink, Anchor::Middle);
        } else {
            narrow.push((call, text));
        }
        x += w;
    }
    x += t * 0.6;
    f.scene.text(x, base, format::thousands(g.total() as f64), t, Weight::Regular, p.muted, Anchor::Start);
    x += font::width(&format::thousands(g.total() as f64), t, Weight::Regular) + t * 0.8;
    for (call, text) in narrow {
        symbol::draw(&mut f.scene, &p, call, x + t * 0.35, y, t * 0.38);
        f.scene.text(x + t * 0.95, base, &text, t, Weight::Bold, p.ink, Anchor::Start);
        x += t * 1.5 + font::width(&text, t, Weight::Bold);
    }
}

/// True where a segment has room for its count.
fn has_room(n: u32, per: f64, t: f64) -> bool {
    f64::from(n) * per > font::width(&format::thousands(f64::from(n)), t, Weight::Bold) + t * 0.5
}

/// Room after a bar for its total and for the counts that do not fit inside.
fn tail_width(g: &CallCounts, per: f64, t: f64) -> f64 {
    let calls: f64 = g
        .iter()
        .filter(|(_, n)| *n > 0 && !has_room(*n, per, t))
        .map(|(_, n)| t * 1.5 + font::width(&format::thousands(f64::from(n)), t, Weight::Bold))
        .sum();
    t * 1.4 + font::width(&format::thousands(g.total() as f64), t, Weight::Regular) + calls
}

/// Symbol, word and total of each call across the top; returns where the bars may begin.
fn legend(f: &mut Frame, groups: &[CallCounts]) -> f64 {
    let (t, p) = (f.style.text, f.palette);
    let (mut x, mut y) = (f.plot.x, f.plot.y + t * 0.9);
    for call in CALLS {
        let word = format!("{} {}", call.name(), format::thousands(total(groups, call) as f64));
        let w = t * 1.35 + font::width(&word, t, Weight::Bold) + t * 1.6;
        if x + w - t * 1.6 > f.plot.right() && x > f.plot.x {
            x = f.plot.x;
            y += t * 1.6;
        }
        symbol::draw(&mut f.scene, &p, call, x + t * 0.55, y - t * 0.35, t * 0.55);
        f.scene.text(x + t * 1.35, y, word, t, Weight::Bold, p.ink, Anchor::Start);
        x += w;
    }
    y + t * 0.9
}

/// The groups that are drawn and, where there are more than `most`, the smallest gathered into one.
fn gathered(groups: &[CallCounts], most: usize) -> (Vec<CallCounts>, Option<CallCounts>) {
    if groups.len() <= most {
        return (groups.to_vec(), None);
    }
    let mut order: Vec<usize> = (0..groups.len()).collect();
    order.sort_by(|a, b| groups[*b].total().cmp(&groups[*a].total()).then(a.cmp(b)));
    let (kept, rest) = order.split_at(most - 1);
    let mut kept: Vec<usize> = kept.to_vec();
    kept.sort_unstable();
    let drawn = kept.iter().map(|i| groups[*i].clone()).collect();
    let mut counts = [0u32; 5];
    for i in rest {
        for (sum, n) in counts.iter_mut().zip(groups[*i].counts) {
            *sum = sum.saturating_add(n);
        }
    }
    (drawn, Some(CallCounts { label: format!("{} more, together", rest.len()), counts }))
}

fn in_words(groups: &[CallCounts]) -> String {
    groups
        .iter()
        .map(|g| {
            let parts: Vec<String> =
                g.iter().filter(|(_, n)| *n > 0).map(|(c, n)| format!("{n} {}", c.name())).collect();
            format!("{}: {}.", g.label, if parts.is_empty() { "none".to_owned() } else { parts.join(", ") })
        })
        .collect::<Vec<_>>()
        .join(" ")
}
