//! Resistance against demand for one placement.

use super::frame::{Frame, Style};
use crate::axis::Scale;
use crate::font::{self, Weight};
use crate::format::{self, Axes};
use crate::palette::Rgb;
use crate::scene::{Anchor, Area, Line, Outline, Point, Scene};
use crate::{symbol, wording};
use jiff::civil::Date;
use judgement::{Band, Judgement};
use units::{Force, UnitSystem};

/// What the chart needs.
#[derive(Clone, Copy, Debug)]
pub struct MarginView<'a> {
    /// Crag, route and placement: "Slow Lichen, bolt 3".
    pub place: &'a str,
    /// The hardware in plain words.
    pub fitting: &'a str,
    /// Date of the judgement.
    pub date: Date,
    /// The judgement.
    pub judgement: &'a Judgement,
}

/// One row of the chart below the curves.
struct Row {
    name: String,
    band: Band,
    color: Rgb,
    strong: bool,
    mark: Option<Force>,
    governs: Option<f64>,
}

/// Draws what one placement holds against what is asked of it on one axis of force: curves above, then
/// a band (5 % to 95 %) with its median for the load, the whole placement and each way of failing,
/// weakest first. The hard fall runs through all of it.
///
/// A curve is drawn from three fractiles only: with `z` a standard normal variate,
/// `ln x = m + b z + c z²` passes through the 5 %, 50 % and 95 % fractiles and its density is
/// `φ(z) / (x (b + 2 c z))`; `c` is held where that would fold over. Where the 5 % fractile is next to nothing, the upper half gives the shape
/// alone. Each curve is scaled to a height of
/// its own. Source: judgement (a drawing, not a computation).
pub fn margin(view: &MarginView<'_>, style: &Style) -> Scene {
    let j = view.judgement;
    let units = style.units;
    let title = format!("{}: {} chance to hold a hard fall", view.place, format::chance(j.holds_hard_fall));
    let subtitle = format!(
        "{} · judged {} · call: {} ({})",
        view.fitting,
        format::date(view.date),
        j.call.name(),
        j.call.meaning()
    );
    let foot = format!(
        "Bands run from the 5 % to the 95 % fractile, the bar marks the median. Hard fall: 95 % fractile of one \
         loading. Characteristic: 5 % fractile at 75 % confidence. Curves show shape only, each to a height of \
         its own. {}",
        wording::SHORT_CAUTION
    );
    let mut f = Frame::new(style, &title, &subtitle, &foot);
    describe(&mut f, j, units);
    let t = f.style.text;
    let p = f.palette;

    let rows = rows(j, &f);
    let row_height = t * 1.62;
    let axis_height = t * 2.9;
    let head = t * 1.5;
    let most = ((f.plot.h - axis_height - t * 7.0) / row_height).floor().max(3.0) as usize;
    let hidden = rows.len().saturating_sub(most);
    let rows: Vec<Row> = rows.into_iter().take(most).collect();

    // Columns: names, plot, numbers, share.
    let widest = |texts: &mut dyn Iterator<Item = String>, size: f64, weight: Weight| {
        texts.map(|s| font::width(&s, size, weight)).fold(0.0, f64::max)
    };
    let names = widest(&mut rows.iter().map(|r| r.name.clone()), t, Weight::Bold).min(f.plot.w * 0.26);
    let number_head = format!("median (band), {}", units.force_unit());
    let numbers = widest(&mut rows.iter().map(|r| format::band_number(r.band, units)), t, Weight::Bold)
        .max(font::width(&number_head, t * 0.84, Weight::Regular));
    let shares =
        font::width("governs", t * 0.84, Weight::Regular).max(font::width("100 %", t, Weight::Regular));
    let gap = t * 0.9;
    let left = f.plot.x + names + gap;
    let share_x = f.plot.right();
    let number_x = share_x - shares - gap;
    let right = number_x - numbers - gap * 1.8;
    let right = right.max(left + t * 6.0);

    let top_value = axis_top(j, units);
    let x = Scale::new(0.0, top_value, left, right);
    let table_top = f.plot.bottom() - axis_height - row_height * rows.len() as f64;
    let curve_base = table_top - head;
    let label_strip = t * 2.9;
    let curve_top = f.plot.y + label_strip;
    let curve_height = (curve_base - curve_top).max(t);
    let axis_y = f.plot.bottom() - axis_height + t * 0.2;

    for (v, label) in x.ticks(8) {
        let grid = Line::new(p.grid, t * 0.05);
        f.scene.line(x.at(v), curve_top, x.at(v), axis_y, grid);
        f.label(x.at(v), axis_y + t * 1.15, label, Anchor::Middle);
    }
    f.scene.line(left, axis_y, right, axis_y, Line::new(p.muted, t * 0.07));
    f.note((left + right) / 2.0, axis_y + t * 2.25, format!("force, {}", units.force_unit()), Anchor::Middle);
    f.scene.line(left, curve_base, right, curve_base, Line::new(p.muted, t * 0.07));

    let d = &j.demand;
    let curves = [
        (d.per_fall, p.asked, 0.16, 0.55),
        (d.worst_year, p.asked, 0.34, 0.78),
        (j.resistance, p.holds, 0.28, 1.0),
    ];
    for (band, color, opacity, height) in curves {
        curve(&mut f, x, band, color, opacity, curve_base, curve_height * height);
    }
    // The curves' names stand in the free corner above the numbers, where no curve can reach them.
    let words = [("load of one fall", curves[0]), ("worst year", curves[1]), ("holds", curves[2])];
    let key_x = right + gap * 1.8;
    // On a low picture there is no such corner; there the rows below carry the names alone.
    let shown = if curve_height > t * 4.4 { words.len() } else { 0 };
    for (i, (word, (_, color, opacity, _))) in words.into_iter().take(shown).enumerate() {
        let y = curve_top + t * (0.6 + 1.5 * i as f64);
        let swatch = Area { x: key_x, y: y - t * 0.62, w: t * 1.2, h: t * 0.72 };
        f.scene.shape(Outline::Box(swatch, 0.0), Some((color, opacity)), Some(Line::new(color, t * 0.08)));
        let room = f.plot.right() - key_x - t * 1.6;
        let word = font::shorten(word, t, Weight::Bold, room);
        f.scene.text(key_x + t * 1.6, y, word, t, Weight::Bold, color, Anchor::Start);
    }

    // The hard fall, through everything; the characteristic value, from the curve down to its row.
    let hard = x.held(units.force_value(d.hard_fall));
    let line = Line::dashed(p.asked, t * 0.12, t * 0.45);
    f.scene.line(hard, f.plot.y + t * 1.15, hard, axis_y, line);
    let characteristic = units.force_value(j.characteristic);
    if characteristic.is_finite() {
        let cx = x.held(characteristic);
        f.scene.line(cx, f.plot.y + t * 2.5, cx, curve_base, Line::new(p.holds, t * 0.1));
        let text = format!("characteristic {}", format::force(j.characteristic, units));
        let anchor = if cx >= hard { Anchor::Start } else { Anchor::End };
        let shift = if cx >= hard { t * 0.35 } else { -t * 0.35 };
        f.patch(cx + shift, f.plot.y + t * 2.3, &text, p.holds, anchor);
    }
    let text = format!("hard fall {}", format::force(d.hard_fall, units));
    let plot = f.plot;
    f.plot = Area { x: left, w: right - left, ..plot };
    f.patch(hard, f.plot.y + t * 0.85, &text, p.asked, Anchor::Middle);
    f.plot = plot;

    // Head of the number columns.
    let head_y = table_top - t * 0.35;
    f.note(number_x, head_y, number_head, Anchor::End);
    f.note(share_x, head_y, "governs", Anchor::End);

    let columns = [f.plot.x, names, number_x, share_x];
    for (i, row) in rows.iter().enumerate() {
        let y = table_top + row_height * i as f64;
        draw_row(&mut f, row, x, y, row_height, columns);
    }
    if hidden > 0 {
        let text = format!("{hidden} more, stronger, not drawn");
        f.note(f.plot.x, axis_y + t * 1.15, text, Anchor::Start);
    }
    let cap = f.plot.y + t * 0.9;
    symbol::draw(&mut f.scene, &p, j.call, f.plot.x + t * 0.75, cap - t * 0.32, t * 0.62);
    let size = t * 1.15;
    f.scene.text(f.plot.x + t * 1.8, cap + t * 0.06, j.call.name(), size, Weight::Bold, p.ink, Anchor::Start);
    f.scene
}

fn rows(j: &Judgement, f: &Frame) -> Vec<Row> {
    let p = f.palette;
    let mut rows = vec![
        Row {
            name: "load of one fall".to_owned(),
            band: j.demand.per_fall,
            color: p.asked,
            strong: false,
            mark: None,
            governs: None,
        },
        Row {
            name: "load of the worst year".to_owned(),
            band: j.demand.worst_year,
            color: p.asked,
            strong: true,
            mark: None,
            governs: None,
        },
        Row {
            name: "holds, all ways".to_owned(),
            band: j.resistance,
            color: p.holds,
            strong: true,
            mark: Some(j.characteristic),
            governs: None,
        },
    ];
    let mut modes: Vec<_> = j.modes.iter().collect();
    modes.sort_by(|a, b| a.band.p50.as_kn().total_cmp(&b.band.p50.as_kn()));
    rows.extend(modes.into_iter().map(|m| Row {
        name: m.mode.what_happens().to_owned(),
        band: m.band,
        color: p.holds,
        strong: false,
        mark: None,
        governs: Some(m.governs),
    }));
    rows
}

fn axis_top(j: &Judgement, units: UnitSystem) -> f64 {
    let wishes = [
        j.resistance.p95 * 1.1,
        j.demand.worst_year.p95 * 1.25,
        j.demand.hard_fall * 1.25,
        j.demand.per_fall.p95 * 1.25,
        j.characteristic * 1.1,
    ];
    let top = wishes.into_iter().map(|w| units.force_value(w)).filter(|v| v.is_finite()).fold(0.0, f64::max);
    if top > 0.0 { top } else { units.force_value(Force::kn(25.0)) }
}

fn curve(f: &mut Frame, x: Scale, band: Band, color: Rgb, opacity: f64, base: f64, height: f64) {
    let t = f.style.text;
    let units = f.style.units;
    let Some(points) = density(band, units) else {
        let at = x.held(units.force_value(band.p50));
        f.scene.line(at, base, at, base - height, Line::new(color, t * 0.12));
        return;
    };
    let peak = points.iter().map(|p| p.1).fold(0.0, f64::max);
    let mut path: Vec<Point> = points
        .iter()
        .filter(|(v, _)| x.has(*v))
        .map(|(v, d)| Point::new(x.at(*v), base - d / peak * height))
        .collect();
    let (Some(first), Some(last)) = (path.first().copied(), path.last().copied()) else { return };
    let stroke = Line::new(color, t * 0.09);
    let open = path.clone();
    path.insert(0, Point::new(first.x, base));
    path.push(Point::new(last.x, base));
    f.scene.shape(Outline::Path(path, true), Some((color, opacity)), None);
    f.scene.shape(Outline::Path(open, false), None, Some(stroke));
}

/// Points (value, density) of the curve through three fractiles; `None` where they span no width.
fn density(band: Band, units: UnitSystem) -> Option<Vec<(f64, f64)>> {
    const Z95: f64 = 1.644_853_626_951_472_2;
    let [low, mid, high] = [band.p05, band.p50, band.p95].map(|v| units.force_value(v));
    if !(low.is_finite() && mid.is_finite() && high.is_finite()) || mid <= 0.0 {
        return None;
    }
    let m = mid.ln();
    let high = high.max(mid).ln();
    // A lower fractile at or near zero (years without any fall) has no place on a logarithmic axis: then
    // the upper half gives the shape.
    let low = if low < mid * 0.02 { 2.0 * m - high } else { low.ln() };
    let b = (high - low) / (2.0 * Z95);
    if b < 1e-4 {
        return None;
    }
    let c = ((low + high - 2.0 * m) / (2.0 * Z95 * Z95)).clamp(-b / 6.6, b / 6.6);
    let n = 96;
    let points = (0..=n)
        .map(|i| {
            let z = -3.2 + 6.4 * f64::from(i) / f64::from(n);
            let v = (m + b * z + c * z * z).exp();
            (v, (-0.5 * z * z).exp() / (v * (b + 2.0 * c * z)))
        })
        .filter(|(v, d)| v.is_finite() && d.is_finite())
        .collect();
    Some(points)
}

fn draw_row(f: &mut Frame, row: &Row, x: Scale, y: f64, height: f64, columns: [f64; 4]) {
    let [name_x, name_w, number_x, share_x] = columns;
    let t = f.style.text;
    let units = f.style.units;
    let p = f.palette;
    let weight = if row.strong { Weight::Bold } else { Weight::Regular };
    let base = y + height / 2.0 + t * 0.36;
    let name = font::shorten(&row.name, t, weight, name_w);
    f.scene.text(name_x, base, name, t, weight, p.ink, Anchor::Start);
    f.scene.text(number_x, base, format::band_number(row.band, units), t, weight, p.ink, Anchor::End);
    if let Some(share) = row.governs {
        f.scene.text(share_x, base, format::share(share), t, weight, p.ink, Anchor::End);
    }
    let [low, mid, high] = [row.band.p05, row.band.p50, row.band.p95].map(|v| units.force_value(v));
    if !(low.is_finite() && mid.is_finite() && high.is_finite()) {
        return;
    }
    let middle = y + height / 2.0;
    let thick = if row.strong { t * 0.72 } else { t * 0.46 };
    let (a, b) = (x.held(low.min(high)), x.held(high.max(low)));
    let area = Area { x: a, y: middle - thick / 2.0, w: (b - a).max(t * 0.08), h: thick };
    let opacity = if row.strong { 0.62 } else { 0.4 };
    f.scene.shape(Outline::Box(area, thick * 0.2), Some((row.color, opacity)), None);
    if x.has(mid) {
        let mx = x.at(mid);
        f.scene.line(mx, middle - t * 0.5, mx, middle + t * 0.5, Line::new(p.ink, t * 0.16));
    }
    if high > x.top() {
        // The band goes on beyond the axis: an arrow head says so.
        let e = x.held(high);
        let head = vec![
            Point::new(e - t * 0.05, middle - t * 0.45),
            Point::new(e + t * 0.5, middle),
            Point::new(e - t * 0.05, middle + t * 0.45),
        ];
        f.scene.shape(Outline::Path(head, true), Some((row.color, 1.0)), None);
    }
    if let Some(v) = row.mark.map(|m| units.force_value(m)).filter(|v| x.has(*v)) {
        let (mx, r) = (x.at(v), t * 0.42);
        let points = vec![
            Point::new(mx, middle - r),
            Point::new(mx + r, middle),
            Point::new(mx, middle + r),
            Point::new(mx - r, middle),
        ];
        let line = Line::new(p.holds, t * 0.12);
        f.scene.shape(Outline::Path(points, true), Some((p.ground, 1.0)), Some(line));
    }
}

fn describe(f: &mut Frame, j: &Judgement, units: UnitSystem) {
    let band = |b: Band| format!("{} {}", format::band_number(b, units), units.force_unit());
    f.scene.description = format!(
        "It holds {} and at least {} with high confidence; a hard fall asks {}, the worst year {}; most likely \
         {} first. Years left: {}. {}",
        band(j.resistance),
        format::force(j.characteristic, units),
        format::force(j.demand.hard_fall, units),
        band(j.demand.worst_year),
        j.governing.what_happens(),
        format::years(j.years_left),
        wording::SHORT_CAUTION
    );
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn density_integrates_to_one_and_keeps_the_fractiles() {
        // Trapezium sum over the curve's own points; 3.2 standard deviations leave out 0.14 %.
        let band = Band { p05: Force::kn(10.0), p50: Force::kn(18.0), p95: Force::kn(28.0) };
        let points = density(band, UnitSystem::Metric).expect("a curve");
        let norm = (2.0 * std::f64::consts::PI).sqrt();
        let area = |from: f64, to: f64| -> f64 {
            points
                .windows(2)
                .filter(|w| w[0].0 >= from && w[1].0 <= to)
                .map(|w| (w[1].0 - w[0].0) * (w[0].1 + w[1].1) / 2.0 / norm)
                .sum()
        };
        assert!((area(0.0, 1e9) - 1.0).abs() < 0.005);
        assert!((area(0.0, 10.0) - 0.05).abs() < 0.01, "{}", area(0.0, 10.0));
        assert!((area(0.0, 18.0) - 0.5).abs() < 0.02);
        assert!((area(28.0, 1e9) - 0.05).abs() < 0.01);
    }
}
