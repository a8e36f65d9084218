//! Strength against time for one placement.

use super::frame::{Frame, Style};
use crate::axis::{Scale, spread};
use crate::font::Weight;
use crate::format::{self, Axes};
use crate::scene::{Anchor, Area, Line, Outline, Point, Scene};
use crate::wording;
use judgement::{Band, DemandView};
use units::UnitSystem;

/// Resistance at one time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AgeingPoint {
    /// Calendar year, e.g. 2031.5.
    pub year: f64,
    /// Overall resistance then.
    pub resistance: Band,
}

/// What the chart needs.
#[derive(Clone, Copy, Debug)]
pub struct AgeingView<'a> {
    /// Crag, route and placement.
    pub place: &'a str,
    /// The hardware in plain words.
    pub fitting: &'a str,
    /// Calendar year of the judgement, e.g. 2026.9.
    pub now: f64,
    /// Resistance over time, in any order.
    pub series: &'a [AgeingPoint],
    /// The load to be held.
    pub demand: &'a DemandView,
}

/// Draws median and band of the resistance over the years, the hard fall as a line, the worst year's
/// load as a band, today's date, and where the curves meet the hard fall.
pub fn ageing(view: &AgeingView<'_>, style: &Style) -> Scene {
    let units = style.units;
    let value = |f: units::Force| units.force_value(f);
    let mut series: Vec<(f64, [f64; 3])> = view
        .series
        .iter()
        .map(|s| (s.year, [s.resistance.p05, s.resistance.p50, s.resistance.p95].map(value)))
        .filter(|(year, v)| year.is_finite() && v.iter().all(|f| f.is_finite()))
        .collect();
    series.sort_by(|a, b| a.0.total_cmp(&b.0));
    let hard = value(view.demand.hard_fall);
    let cautious = crossing(&series, 0, hard);
    let middle = crossing(&series, 1, hard);
    let end = series.last().map_or(view.now, |s| s.0);
    let title = match (series.is_empty(), cautious, middle) {
        (true, ..) => format!("{}: no strength over time has been computed", view.place),
        (_, Some(c), Some(m)) if format!("{c:.0}") == format!("{m:.0}") => {
            format!("{}: more likely than not below a hard fall from {m:.0}", view.place)
        }
        (_, Some(c), Some(m)) => {
            format!(
                "{}: may fall below a hard fall from {c:.0}, more likely than not from {m:.0}",
                view.place
            )
        }
        (_, Some(c), None) => format!("{}: may fall below a hard fall from {c:.0}", view.place),
        _ => format!("{}: the 5 % fractile stays above a hard fall to {end:.0}", view.place),
    };
    let foot = format!(
        "Line: median; surface: 5 % to 95 % fractile; dashed: hard fall, 95 % fractile of one loading; stripe: \
         greatest load of a year, 5 % to 95 %. {}",
        wording::SHORT_CAUTION
    );
    let mut f = Frame::new(style, &title, view.fitting, &foot);
    if series.is_empty() {
        f.empty("Nothing to draw: the series has no readable point.");
        return f.scene;
    }
    let (t, p) = (f.style.text, f.palette);
    let worst = [view.demand.worst_year.p05, view.demand.worst_year.p95].map(value);
    let top =
        series.iter().map(|s| s.1[2]).chain([hard, worst[1]]).filter(|v| v.is_finite()).fold(0.0, f64::max)
            * 1.08;
    let left = f.plot.x + t * 3.6;
    let right = f.plot.right() - t * 8.2;
    let (ceiling, base) = (f.plot.y + t * 1.6, f.plot.bottom() - t * 1.9);
    let start = series.first().map_or(view.now, |s| s.0);
    let x = Scale::new(start, end, left, right);
    let y = Scale::new(0.0, top, base, ceiling);
    f.note(f.plot.x, f.plot.y + t * 0.7, format!("holds, {}", units.force_unit()), Anchor::Start);
    for (v, label) in y.ticks(6) {
        f.scene.line(left, y.at(v), right, y.at(v), Line::new(p.grid, t * 0.05));
        f.label(left - t * 0.5, y.at(v) + t * 0.36, label, Anchor::End);
    }
    for (v, _) in x.ticks(7) {
        if v.fract() == 0.0 {
            f.scene.line(x.at(v), base, x.at(v), base + t * 0.3, Line::new(p.muted, t * 0.07));
            f.label(x.at(v), base + t * 1.4, format!("{v:.0}"), Anchor::Middle);
        }
    }
    f.scene.line(left, base, right, base, Line::new(p.muted, t * 0.07));
    if worst.iter().all(|v| v.is_finite()) {
        let (a, b) = (y.held(worst[1].max(worst[0])), y.held(worst[0].min(worst[1])));
        f.scene.fill_box(Area { x: left, y: a, w: right - left, h: b - a }, p.asked, 0.18);
    }
    let line = |k: usize| -> Vec<Point> {
        series.iter().map(|(year, v)| Point::new(x.held(*year), y.held(v[k]))).collect()
    };
    let mut surface = line(2);
    let mut lower = line(0);
    lower.reverse();
    surface.extend(lower);
    f.scene.shape(Outline::Path(surface, true), Some((p.holds, 0.24)), None);
    f.scene.shape(Outline::Path(line(0), false), None, Some(Line::new(p.holds, t * 0.07)));
    f.scene.shape(Outline::Path(line(2), false), None, Some(Line::new(p.holds, t * 0.07)));
    f.scene.shape(Outline::Path(line(1), false), None, Some(Line::new(p.holds, t * 0.18)));
    if hard.is_finite() {
        f.scene.line(left, y.held(hard), right, y.held(hard), Line::dashed(p.asked, t * 0.13, t * 0.45));
    }
    for year in [cautious, middle].into_iter().flatten() {
        let centre = Point::new(x.held(year), y.held(hard));
        f.scene.shape(
            Outline::Circle(centre, t * 0.34),
            Some((p.ground, 1.0)),
            Some(Line::new(p.ink, t * 0.13)),
        );
    }
    if x.has(view.now) {
        let nx = x.at(view.now);
        f.scene.line(nx, ceiling - t * 0.2, nx, base, Line::dashed(p.muted, t * 0.07, t * 0.25));
        f.patch(nx + t * 0.3, ceiling + t * 0.2, "judged", p.muted, Anchor::Start);
    }
    // Labels at the right end.
    let last = series.last().map_or([0.0; 3], |s| s.1);
    let labels = [
        ("95 %", last[2], p.holds, Weight::Regular),
        ("median", last[1], p.holds, Weight::Bold),
        ("5 %", last[0], p.holds, Weight::Regular),
        ("hard fall", hard, p.asked, Weight::Bold),
        ("worst year", (worst[0] + worst[1]) / 2.0, p.asked, Weight::Regular),
    ];
    let wishes: Vec<f64> = labels.iter().map(|l| y.held(l.1) + t * 0.36).collect();
    let placed = spread(&wishes, t * 1.22, ceiling, base + t * 0.4);
    for ((word, v, color, weight), at) in labels.into_iter().zip(placed) {
        let text = if word == "worst year" {
            word.to_owned()
        } else {
            format!("{word}: {}", format::force_number(force_of(v, units), units))
        };
        f.scene.text(right + t * 0.5, at, text, t, weight, color, Anchor::Start);
    }
    let words: Vec<String> = series
        .iter()
        .step_by((series.len() / 6).max(1))
        .map(|(year, v)| format!("{year:.0}: {:.1} ({:.1} to {:.1})", v[1], v[0], v[2]))
        .collect();
    f.scene.description = format!(
        "Strength in {}, median and band: {}. Hard fall {}. {}",
        units.force_unit(),
        words.join("; "),
        format::force(view.demand.hard_fall, units),
        wording::SHORT_CAUTION
    );
    f.scene
}

fn force_of(value: f64, units: UnitSystem) -> units::Force {
    match units {
        UnitSystem::Metric => units::Force::kn(value),
        UnitSystem::Us => units::Force::lbf(value),
    }
}

/// First year in which fractile `k` sinks below `level`, by straight lines between the points.
fn crossing(series: &[(f64, [f64; 3])], k: usize, level: f64) -> Option<f64> {
    if !level.is_finite() {
        return None;
    }
    let first = series.first()?;
    if first.1[k] < level {
        return Some(first.0);
    }
    series.windows(2).find_map(|w| {
        let (a, b) = (w[0].1[k], w[1].1[k]);
        (a >= level && b < level).then(|| w[0].0 + (w[1].0 - w[0].0) * (a - level) / (a - b))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn crossing_is_interpolated() {
        let series = [(2000.0, [20.0; 3]), (2010.0, [10.0; 3]), (2020.0, [4.0; 3])];
        assert_eq!(crossing(&series, 1, 7.0), Some(2015.0));
        assert_eq!(crossing(&series, 1, 2.0), None);
        assert_eq!(crossing(&series, 1, 30.0), Some(2000.0));
    }
}
