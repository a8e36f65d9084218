//! Sketch map: where the routes are and what they ask for.

use super::frame::{Frame, Style};
use crate::axis::nice_step;
use crate::font::{self, Weight};
use crate::format::{self, Axes};
use crate::palette::CALLS;
use crate::scene::{Anchor, Area, Line, Outline, Point, Scene};
use crate::symbol;
use crate::view::GeoPoint;
use judgement::Call;
use units::{Length, UnitSystem};

/// Mean radius of the earth in metres (IUGG mean radius R1, from memory).
const EARTH_RADIUS: f64 = 6_371_008.8;

/// One route on the sketch.
#[derive(Clone, Debug, PartialEq)]
pub struct SketchRoute {
    /// Number in the route table.
    pub number: usize,
    /// Name.
    pub name: String,
    /// Its most urgent call; `None` without placements.
    pub call: Option<Call>,
    /// Where it is.
    pub point: Option<GeoPoint>,
}

/// Most routes that are labelled.
const MOST_LABELS: usize = 600;

/// What the sketch needs.
#[derive(Clone, Copy, Debug)]
pub struct Sketch<'a> {
    /// The crag.
    pub crag: &'a str,
    /// Its routes.
    pub routes: &'a [SketchRoute],
}

/// A route with its true and its drawn place in the picture.
struct Spot<'a> {
    route: &'a SketchRoute,
    truth: Point,
    drawn: Point,
}

/// Draws the routes' symbols by most urgent call in a local plan, north up, with scale bar and names.
///
/// Projection: `x = R cos(φ0) Δλ`, `y = R Δφ` about the median position (equirectangular; the error
/// over a crag of 1 km is far below the error of a satellite fix). Symbols that would hide each other
/// are moved apart and a thin line leads to the true place. Names that find no room give way to the
/// route's number, and numbers that find none are left out and counted below. Points absurdly far from
/// the others are left out and counted too.
pub fn sketch(view: &Sketch<'_>, style: &Style) -> Scene {
    let (local, off) = project(view.routes);
    let missing = view.routes.iter().filter(|r| r.point.is_none_or(|p| !p.is_valid())).count();
    let urgent = view.routes.iter().filter(|r| matches!(r.call, Some(Call::Renew | Call::Shun))).count();
    let title = match (view.routes.len(), urgent) {
        (0, _) => format!("{}: no routes", view.crag),
        (_, 0) => format!("{}: no route is called for renewal on this evidence", view.crag),
        (n, u) => format!(
            "{}: {u} of {} {} placements to renew or not to use",
            view.crag,
            format::count(n, "route", "routes"),
            if u == 1 { "has" } else { "have" }
        ),
    };
    let mut notes = Vec::new();
    if missing > 0 {
        notes.push(format!("{} without coordinates not drawn.", format::count(missing, "route", "routes")));
    }
    if off > 0 {
        notes.push(format!(
            "{} far from all others not drawn: check the coordinates.",
            format::count(off, "route", "routes")
        ));
    }
    // The count of labels left out is only known once they are placed: lay out first, then frame.
    let draft = |notes: &[String]| {
        let foot = format!("Sketch from recorded coordinates, no survey. {}", notes.join(" "));
        Frame::new(style, &title, "Each route by its most urgent call", foot.trim())
    };
    let mut f = draft(&notes);
    let words = in_words(view.routes);
    f.scene.description = words.clone();
    if local.is_empty() {
        f.empty("No coordinates are recorded, so no sketch can be drawn.");
        return f.scene;
    }
    let left_out = draw(&mut f, &local);
    if left_out > 0 {
        notes.push(format!("{} left out for want of room.", format::count(left_out, "label", "labels")));
        f = draft(&notes);
        draw(&mut f, &local);
    }
    f.scene.description = format!("{words} {}", notes.join(" "));
    f.scene
}

/// Routes by call, most urgent first, for those who cannot see the sketch.
fn in_words(routes: &[SketchRoute]) -> String {
    const NAMED: usize = 12;
    let mut out = String::from("Each route by its most urgent call.");
    for call in CALLS.into_iter().rev() {
        let names: Vec<&str> =
            routes.iter().filter(|r| r.call == Some(call)).map(|r| r.name.as_str()).collect();
        if names.is_empty() {
            continue;
        }
        let more = names.len().saturating_sub(NAMED);
        let tail = if more > 0 { format!(" and {more} more") } else { String::new() };
        let named = names[..names.len().min(NAMED)].join(", ");
        out.push_str(&format!(" {}: {named}{tail}.", call.name()));
    }
    out
}

/// Height in points that suits the shape of the crag on a page of the given width, 220 to 400.
pub(crate) fn sketch_height(routes: &[SketchRoute], width: f64) -> f64 {
    let (local, _) = project(routes);
    let span = |pick: fn(&(&SketchRoute, f64, f64)) -> f64| {
        let (low, high) =
            local.iter().map(pick).fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| (a.min(v), b.max(v)));
        (high - low).max(20.0)
    };
    if local.is_empty() {
        return 220.0;
    }
    let aspect = span(|l| l.2) / span(|l| l.1);
    (130.0 + (width - 60.0) * aspect).clamp(220.0, 400.0)
}

/// Metres east and north of the median place for each route that can be drawn, and how many lie absurdly
/// far off.
fn project(routes: &[SketchRoute]) -> (Vec<(&SketchRoute, f64, f64)>, usize) {
    let valid: Vec<(&SketchRoute, GeoPoint)> =
        routes.iter().filter_map(|r| r.point.filter(|p| p.is_valid()).map(|p| (r, p))).collect();
    if valid.is_empty() {
        return (Vec::new(), 0);
    }
    let median = |mut v: Vec<f64>| {
        v.sort_by(f64::total_cmp);
        v[v.len() / 2]
    };
    let lat0 = median(valid.iter().map(|v| v.1.latitude).collect());
    let lon0 = median(valid.iter().map(|v| v.1.longitude).collect());
    let local: Vec<(&SketchRoute, f64, f64)> = valid
        .into_iter()
        .map(|(r, p)| {
            let mut east = p.longitude - lon0;
            if east > 180.0 {
                east -= 360.0;
            } else if east < -180.0 {
                east += 360.0;
            }
            let x = EARTH_RADIUS * lat0.to_radians().cos() * east.to_radians();
            (r, x, EARTH_RADIUS * (p.latitude - lat0).to_radians())
        })
        .collect();
    let reach = (12.0 * median(local.iter().map(|l| l.1.hypot(l.2)).collect())).max(1500.0);
    let all = local.len();
    let near: Vec<_> = local.into_iter().filter(|l| l.1.hypot(l.2) <= reach).collect();
    let off = all - near.len();
    (near, off)
}

/// Draws the map into the frame; returns how many labels found no room.
fn draw(f: &mut Frame, local: &[(&SketchRoute, f64, f64)]) -> usize {
    let (t, p) = (f.style.text, f.palette);
    let legend_bottom = legend(f, local);
    let area = Area {
        x: f.plot.x,
        y: legend_bottom,
        w: f.plot.w,
        h: (f.plot.bottom() - legend_bottom).max(t * 4.0),
    };
    f.scene.shape(Outline::Box(area, t * 0.3), None, Some(Line::new(p.grid, t * 0.08)));

    let r = (t * 0.56).min((area.w * area.h / (local.len() as f64 * 7.0)).sqrt());
    let (pad_x, pad_y) = (t * 3.0, t * 2.4);
    let bounds = |pick: fn(&(&SketchRoute, f64, f64)) -> f64| {
        local.iter().map(pick).fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| (a.min(v), b.max(v)))
    };
    let ((x0, x1), (y0, y1)) = (bounds(|l| l.1), bounds(|l| l.2));
    let scale =
        ((area.w - 2.0 * pad_x) / (x1 - x0).max(20.0)).min((area.h - 2.0 * pad_y) / (y1 - y0).max(20.0));
    let centre = Point::new(area.x + area.w / 2.0, area.y + area.h / 2.0);
    let mut spots: Vec<Spot<'_>> = local
        .iter()
        .map(|(route, x, y)| {
            let truth = Point::new(
                centre.x + (x - (x0 + x1) / 2.0) * scale,
                centre.y - (y - (y0 + y1) / 2.0) * scale,
            );
            Spot { route, truth, drawn: truth }
        })
        .collect();
    // Most urgent last, so that it lies on top.
    spots.sort_by_key(|s| (s.route.call, std::cmp::Reverse(s.route.number)));

    let taken = corners(f, area, scale);
    move_apart(&mut spots, r * 2.25, area, r * 1.4, &taken);

    for s in &spots {
        let moved = (s.drawn.x - s.truth.x).hypot(s.drawn.y - s.truth.y);
        if moved > r * 0.5 {
            f.scene.line(s.truth.x, s.truth.y, s.drawn.x, s.drawn.y, Line::new(p.muted, t * 0.05));
            f.scene.shape(Outline::Circle(s.truth, t * 0.1), Some((p.muted, 1.0)), None);
        }
    }
    for s in &spots {
        match s.route.call {
            Some(call) => symbol::draw(&mut f.scene, &p, call, s.drawn.x, s.drawn.y, r),
            None => {
                let line = Line::new(p.muted, t * 0.08);
                f.scene.shape(Outline::Circle(s.drawn, r * 0.5), Some((p.ground, 1.0)), Some(line));
            }
        }
    }
    labels(f, &spots, r, area, taken)
}

/// Symbols and words across the top; returns where the map may begin.
fn legend(f: &mut Frame, local: &[(&SketchRoute, f64, f64)]) -> f64 {
    let (t, p) = (f.style.text, f.palette);
    let (mut x, mut y) = (f.plot.x, f.plot.y + t * 0.8);
    for call in CALLS.into_iter().rev() {
        let n = local.iter().filter(|l| l.0.call == Some(call)).count();
        if n == 0 {
            continue;
        }
        let word = format!("{} {n}", call.name());
        let w = t * 1.4 + font::width(&word, t, Weight::Bold);
        if x + w > f.plot.right() && x > f.plot.x {
            x = f.plot.x;
            y += t * 1.5;
        }
        symbol::draw(&mut f.scene, &p, call, x + t * 0.5, y - t * 0.35, t * 0.5);
        f.scene.text(x + t * 1.3, y, word, t, Weight::Bold, p.ink, Anchor::Start);
        x += w + t * 1.6;
    }
    y + t * 0.8
}

/// North arrow and scale bar; returns the boxes they take.
fn corners(f: &mut Frame, area: Area, scale: f64) -> Vec<Area> {
    let (t, p) = (f.style.text, f.palette);
    let (nx, ny) = (area.right() - t * 1.4, area.y + t * 0.9);
    let arrow = vec![
        Point::new(nx, ny),
        Point::new(nx + t * 0.5, ny + t * 1.5),
        Point::new(nx, ny + t * 1.15),
        Point::new(nx - t * 0.5, ny + t * 1.5),
    ];
    f.scene.shape(Outline::Path(arrow, true), Some((p.ink, 1.0)), None);
    f.scene.text(nx, ny + t * 2.5, "N", t, Weight::Bold, p.ink, Anchor::Middle);
    let north = Area { x: nx - t * 0.9, y: area.y, w: t * 2.3, h: t * 3.8 };

    // The longest round distance that takes at most a quarter of the width.
    let units = f.style.units;
    let unit = match units {
        UnitSystem::Metric => Length::m(1.0).as_m(),
        UnitSystem::Us => Length::foot(1.0).as_m(),
    };
    let want = area.w * 0.25 / scale / unit;
    let mut length = nice_step(want);
    if length > want {
        length = nice_step(want / 2.5);
    }
    let w = length * unit * scale;
    let (x, y) = (area.x + t * 0.9, area.bottom() - t * 0.8);
    for (i, fill) in [p.ink, p.ground].into_iter().enumerate() {
        let half = Area { x: x + w / 2.0 * i as f64, y: y - t * 0.28, w: w / 2.0, h: t * 0.28 };
        f.scene.shape(Outline::Box(half, 0.0), Some((fill, 1.0)), Some(Line::new(p.ink, t * 0.06)));
    }
    let text = format!("{} {}", trimmed(length), units.ground_unit());
    let text_w = font::width(&text, t * 0.84, Weight::Regular);
    f.note(x, y - t * 0.6, text, Anchor::Start);
    let bar = Area { x: area.x, y: y - t * 1.6, w: w.max(text_w) + t * 1.8, h: area.bottom() - y + t * 1.6 };
    vec![north, bar]
}

fn trimmed(v: f64) -> String {
    if v >= 1.0 { format::thousands(v) } else { format!("{v:.2}").trim_end_matches('0').to_owned() }
}

/// Pushes symbols apart until none hides another, within the map and off its corners.
fn move_apart(spots: &mut [Spot<'_>], distance: f64, area: Area, margin: f64, keep_off: &[Area]) {
    for _ in 0..80 {
        let mut moved = false;
        for i in 0..spots.len() {
            for j in i + 1..spots.len() {
                let (a, b) = (spots[i].drawn, spots[j].drawn);
                let (dx, dy) = (b.x - a.x, b.y - a.y);
                let d = dx.hypot(dy);
                if d >= distance {
                    continue;
                }
                // Symbols on one spot leave it in directions a golden angle apart.
                let (ux, uy) = if d > 1e-6 {
                    (dx / d, dy / d)
                } else {
                    let angle = 2.399_963 * j as f64;
                    (angle.cos(), angle.sin())
                };
                let push = (distance - d) / 2.0 + 1e-3;
                spots[i].drawn = Point::new(a.x - ux * push, a.y - uy * push);
                spots[j].drawn = Point::new(b.x + ux * push, b.y + uy * push);
                moved = true;
            }
        }
        for s in spots.iter_mut() {
            s.drawn.x = s.drawn.x.max(area.x + margin).min(area.right() - margin);
            s.drawn.y = s.drawn.y.max(area.y + margin).min(area.bottom() - margin);
            for k in keep_off {
                let box_of =
                    Area { x: s.drawn.x - margin, y: s.drawn.y - margin, w: 2.0 * margin, h: 2.0 * margin };
                if box_of.overlaps(*k) {
                    let up = k.y - area.y > area.bottom() - k.bottom();
                    s.drawn.y = if up { k.y - margin } else { k.bottom() + margin };
                    moved = true;
                }
            }
        }
        if !moved {
            break;
        }
    }
}

/// Writes names or numbers where they touch nothing; returns how many found no room.
fn labels(f: &mut Frame, spots: &[Spot<'_>], r: f64, area: Area, keep_off: Vec<Area>) -> usize {
    // Beyond this many a label says nothing any more, and looking for room takes long.
    if spots.len() > MOST_LABELS {
        return spots.len();
    }
    let size = f.style.text * 0.86;
    let (p, h) = (f.palette, size * (font::CAP + font::DESCENT));
    let names = spots.len() <= 60;
    let mut taken = keep_off;
    let mut left_out = 0;
    // Most urgent first: they get the best places.
    for s in spots.iter().rev() {
        let number = s.route.number.to_string();
        let name = format!("{number} {}", font::clean(&s.route.name));
        let full = font::shorten(&name, size, Weight::Regular, area.w * 0.28);
        let texts: &[&String] = if names { &[&full, &number] } else { &[&number] };
        let free = |place: Area| {
            // Air on both sides, so that two labels do not read as one.
            let wide = Area { x: place.x - size * 0.35, w: place.w + size * 0.7, ..place };
            wide.x > area.x
                && wide.right() < area.right()
                && place.y > area.y + 1.0
                && place.bottom() < area.bottom() - 1.0
                && !taken.iter().any(|o| o.overlaps(wide))
                && spots.iter().all(|o| {
                    let air = if std::ptr::eq(o, s) { r } else { r * 1.5 };
                    !around(o.drawn, air).overlaps(place)
                })
        };
        let found = texts.iter().find_map(|text| {
            let w = font::width(text, size, Weight::Regular);
            candidates(r, w, h).into_iter().find_map(|(dx, dy, far)| {
                let place = Area { x: s.drawn.x + dx, y: s.drawn.y + dy, w, h };
                let leader = far.then(|| lead(s.drawn, place, r));
                let clear = leader.is_none_or(|(from, to)| {
                    (0..=8).all(|i| {
                        let k = f64::from(i) / 8.0;
                        let at = Point::new(from.x + (to.x - from.x) * k, from.y + (to.y - from.y) * k);
                        let dot = around(at, 0.5);
                        !taken.iter().any(|o| o.overlaps(dot))
                            && spots.iter().all(|o| std::ptr::eq(o, s) || !around(o.drawn, r).overlaps(dot))
                    })
                });
                (free(place) && clear).then_some(((*text).clone(), place, leader))
            })
        });
        match found {
            Some((text, place, leader)) => {
                if let Some((from, to)) = leader {
                    f.scene.line(from.x, from.y, to.x, to.y, Line::new(p.muted, size * 0.06));
                }
                let base = place.y + size * font::CAP;
                f.scene.text(place.x, base, text, size, Weight::Regular, p.ink, Anchor::Start);
                taken.push(place);
            }
            None => left_out += 1,
        }
    }
    left_out
}

fn around(c: Point, r: f64) -> Area {
    Area { x: c.x - r, y: c.y - r, w: 2.0 * r, h: 2.0 * r }
}

/// Offsets of a label's corner from its symbol, best first, and whether it needs a line to lead to it.
fn candidates(r: f64, w: f64, h: f64) -> Vec<(f64, f64, bool)> {
    let mut out = Vec::with_capacity(72);
    for (i, reach) in [1.4, 2.6, 4.0, 5.8, 8.0, 10.5].into_iter().enumerate() {
        let g = r * reach;
        let places = [
            (g, -h / 2.0),
            (-g - w, -h / 2.0),
            (-w / 2.0, -g - h),
            (-w / 2.0, g),
            (-w * 0.2, -g - h),
            (-w * 0.8, -g - h),
            (-w * 0.2, g),
            (-w * 0.8, g),
            (g * 0.7, -g * 0.8 - h),
            (g * 0.7, g * 0.8),
            (-g * 0.7 - w, -g * 0.8 - h),
            (-g * 0.7 - w, g * 0.8),
        ];
        out.extend(places.map(|(dx, dy)| (dx, dy, i > 0)));
    }
    out
}

/// From the rim of a symbol to the nearest point of a label.
fn lead(symbol: Point, place: Area, r: f64) -> (Point, Point) {
    let to = Point::new(symbol.x.clamp(place.x, place.right()), symbol.y.clamp(place.y, place.bottom()));
    let (dx, dy) = (to.x - symbol.x, to.y - symbol.y);
    let d = dx.hypot(dy).max(1e-6);
    (
        Point::new(symbol.x + dx / d * r * 1.1, symbol.y + dy / d * r * 1.1),
        Point::new(to.x - dx / d, to.y - dy / d),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn route(number: usize, latitude: f64, longitude: f64) -> SketchRoute {
        let point = Some(GeoPoint { latitude, longitude });
        SketchRoute { number, name: format!("route {number}"), call: Some(Call::Watch), point }
    }

    #[test]
    fn a_minute_of_latitude_is_a_nautical_mile() {
        // One minute of arc on the mean earth is 1853.2 m (1852 m by definition of the nautical mile).
        let routes = [route(1, 50.0, 8.0), route(2, 50.0, 8.0), route(3, 50.0 + 1.0 / 60.0, 8.0)];
        let (local, off) = project(&routes);
        assert_eq!((local.len(), off), (2, 1), "a mile from two neighbours is far off");
        let two = [route(1, 50.0, 8.0), route(2, 50.0 + 1.0 / 60.0, 8.0)];
        let (local, _) = project(&two);
        let d = (local[0].2 - local[1].2).abs();
        assert!((d - 1852.0).abs() < 2.0, "{d}");
    }
}
