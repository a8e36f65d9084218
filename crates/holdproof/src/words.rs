//! Words for people: calls, fittings, places, dates.

use anstyle::{AnsiColor, Color, Style};
use demand::{Role, Steepness, UseClass};
use evidence::{Finding, Seen};
use jiff::civil::Date;
use judgement::{Band, Call, Chance, YearsLeft};
use register::identity::Placed;
use register::{FittingRecord, PlacementRecord, PullEnd};
use units::{Force, UnitSystem};

/// All calls, most urgent first.
pub const CALLS: [Call; 5] = [Call::Shun, Call::Renew, Call::Tend, Call::Watch, Call::Sound];

/// A call as symbol, word and colour: the symbol and the word say all that the colour says.
pub fn call_mark(which: Call) -> String {
    let (symbol, color) = match which {
        Call::Sound => ('●', AnsiColor::Blue),
        Call::Watch => ('◉', AnsiColor::Yellow),
        Call::Tend => ('▲', AnsiColor::Yellow),
        Call::Renew => ('◆', AnsiColor::Red),
        Call::Shun => ('✖', AnsiColor::Magenta),
    };
    let style = Style::new().fg_color(Some(Color::Ansi(color)));
    let style = if which >= Call::Renew { style.bold() } else { style };
    format!("{style}{symbol} {}{style:#}", which.name())
}

/// A heading.
pub fn heading(text: &str) -> String {
    let bold = Style::new().bold();
    format!("{bold}{text}{bold:#}")
}

/// What a placement is for.
pub const fn role(role: Role) -> &'static str {
    match role {
        Role::Runner => "bolt",
        Role::LowerOff => "lower-off",
        Role::Belay => "belay",
    }
}

/// Steepness of a wall.
pub const fn steepness(steepness: Steepness) -> &'static str {
    match steepness {
        Steepness::Slab => "slab",
        Steepness::Vertical => "vertical",
        Steepness::Overhang => "overhang",
        Steepness::Roof => "roof",
    }
}

/// Use of a route.
pub const fn use_class(class: UseClass) -> &'static str {
    match class {
        UseClass::Rare => "rarely climbed",
        UseClass::Regular => "regularly climbed",
        UseClass::Popular => "popular",
    }
}

/// How a pull ended.
pub const fn pull_end(end: PullEnd) -> &'static str {
    match end {
        PullEnd::ProofHeld => "proof load held",
        PullEnd::SteelBroke => "the steel broke",
        PullEnd::HangerBroke => "the hanger or eye broke",
        PullEnd::Cone => "a cone of rock came out",
        PullEnd::PulledOut => "it slipped or pulled through",
        PullEnd::BondFailed => "the bond gave way",
        PullEnd::Stopped => "stopped for another reason",
    }
}

/// A sign with what was found.
pub fn seen(seen: &Seen) -> String {
    let finding = match seen.finding {
        Finding::Absent => "looked for, not there",
        Finding::Present(extent) => extent.name(),
    };
    format!("{}: {finding}", seen.sign.name())
}

/// A placement as people on the route call it: `bolt 3`, `pitch 2, lower-off 9`.
pub fn place_on_route(id: &str, record: &PlacementRecord) -> String {
    let what = record.role.map_or("placement", role);
    let name = match record.number {
        Some(number) => format!("{what} {number}"),
        None => format!("{what} {}", id.rsplit('/').next().unwrap_or(id)),
    };
    match record.pitch {
        Some(pitch) if pitch > 1 => format!("pitch {pitch}, {name}"),
        _ => name,
    }
}

/// The hardware in plain words: `wedge bolt 10 x 90 mm, stainless 316`; what is not known is left out.
pub fn fitting(record: &FittingRecord, units: UnitSystem) -> String {
    let kind = record.kind.map_or("kind not known", hardware::Kind::name).to_owned();
    let size = record.diameter.map(|diameter| units.bolt_size(diameter, record.length));
    let material = record.material.map(|material| material.name().to_owned());
    let first = size.map_or_else(|| kind.clone(), |size| format!("{kind} {size}"));
    match material {
        Some(material) => format!("{first}, {material}"),
        None => first,
    }
}

/// When a fitting was placed, as well as it is known.
pub fn placed(record: &FittingRecord) -> String {
    match Placed::from(record) {
        Placed::Unknown => "not known".into(),
        Placed::Year(year) => year.to_string(),
        Placed::On(date) => date.to_string(),
    }
}

/// A date or `not known`.
pub fn date(date: Option<Date>) -> String {
    date.map_or_else(|| "not known".to_owned(), |date| date.to_string())
}

/// A moment as ISO 8601 in UTC, to the second.
pub fn moment(millis: i64) -> String {
    jiff::Timestamp::from_millisecond(millis)
        .map_or_else(|_| "not known".to_owned(), |at| at.strftime("%Y-%m-%d %H:%M:%SZ").to_string())
}

/// A band as `median (5 % to 95 %) unit`.
pub fn band(band: Band, units: UnitSystem) -> String {
    let unit = match units {
        UnitSystem::Metric => "kN",
        UnitSystem::Us => "lbf",
    };
    format!(
        "{} ({} to {}) {unit}",
        force_number(band.p50, units),
        force_number(band.p05, units),
        force_number(band.p95, units)
    )
}

/// A force with the figures a judgement can know.
pub fn force(value: Force, units: UnitSystem) -> String {
    match units {
        UnitSystem::Metric => format!("{} kN", force_number(value, units)),
        UnitSystem::Us => format!("{} lbf", force_number(value, units)),
    }
}

fn force_number(value: Force, units: UnitSystem) -> String {
    if !value.is_finite() {
        return "not known".to_owned();
    }
    match units {
        UnitSystem::Metric if value.as_kn().abs() < 10.0 => format!("{:.1}", value.as_kn()),
        UnitSystem::Metric => format!("{:.0}", value.as_kn()),
        UnitSystem::Us if value.as_lbf().abs() < 1000.0 => {
            format!("{:.0}", (value.as_lbf() / 10.0).round() * 10.0)
        }
        UnitSystem::Us => format!("{:.0}", (value.as_lbf() / 50.0).round() * 50.0),
    }
}

/// A probability in per cent, never rounded up to certainty or down to nothing.
pub fn share(p: f64) -> String {
    match p {
        p if !p.is_finite() => "not known".to_owned(),
        p if p > 0.999 => "> 99.9 %".to_owned(),
        p if p >= 0.995 => format!("{:.1} %", (p * 1000.0).floor() / 10.0),
        p if p < 0.001 => "< 0.1 %".to_owned(),
        p if p < 0.01 => format!("{:.1} %", p * 100.0),
        // down, so that 99.4 does not read as 100
        p => format!("{:.0} %", (p * 100.0).floor()),
    }
}

/// A chance as `best (bad to good)`.
pub fn chance(chance: Chance) -> String {
    let (best, low, high) = (share(chance.best), share(chance.low), share(chance.high));
    if low == high { best } else { format!("{best} ({low} to {high})") }
}

/// Years left as `best (bad to good) years`.
pub fn years_left(years: YearsLeft) -> String {
    let one = |left: Option<f64>| match left {
        Some(left) if left < years.horizon => {
            if left < 0.5 {
                "0".to_owned()
            } else {
                format!("{left:.0}")
            }
        }
        _ => format!("over {:.0}", years.horizon),
    };
    let (best, low, high) = (one(years.best), one(years.low), one(years.high));
    match (low == high, low.as_str()) {
        (true, "0") => "none left".to_owned(),
        (true, _) => format!("{best} years"),
        (false, _) => format!("{best} ({low} to {high}) years"),
    }
}

/// Money with two decimals, none where they are zero.
pub fn money(amount: f64) -> String {
    if amount.fract().abs() < 0.005 { format!("{amount:.0}") } else { format!("{amount:.2}") }
}

/// Counts with the right ending: `1 placement`, `2 placements`.
pub fn count(n: usize, one: &str) -> String {
    match (n, one.strip_suffix('y')) {
        (1, _) => format!("1 {one}"),
        (_, Some(stem)) if !stem.ends_with(['a', 'e', 'o', 'u']) => format!("{n} {stem}ies"),
        _ => format!("{n} {one}s"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn doubt_is_not_rounded_away() {
        assert_eq!(share(1.0), "> 99.9 %");
        assert_eq!(share(0.9949), "99 %");
        assert_eq!(share(0.9978), "99.7 %");
        assert_eq!(share(0.0), "< 0.1 %");
        assert_eq!(share(f64::NAN), "not known");
    }

    #[test]
    fn places_read_like_speech() {
        let record = PlacementRecord {
            number: Some(9),
            pitch: Some(2),
            role: Some(Role::LowerOff),
            ..PlacementRecord::default()
        };
        assert_eq!(place_on_route("a/b/p2-9", &record), "pitch 2, lower-off 9");
        assert_eq!(place_on_route("a/b/left", &PlacementRecord::default()), "placement left");
    }

    #[test]
    fn years_beyond_the_horizon_say_so() {
        let years = YearsLeft { best: None, low: Some(0.2), high: None, horizon: 50.0 };
        assert_eq!(years_left(years), "over 50 (0 to over 50) years");
    }
}
