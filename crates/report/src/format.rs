//! Numbers as people read them.

use judgement::{Band, Chance, YearsLeft};
use units::{Force, UnitSystem};

/// The units of a chart's axes.
pub(crate) trait Axes {
    /// Symbol of the force unit.
    fn force_unit(self) -> &'static str;
    /// A force in the unit of [`Self::force_unit`].
    fn force_value(self, force: Force) -> f64;
    /// Symbol of the unit of distance on the ground.
    fn ground_unit(self) -> &'static str;
}

impl Axes for UnitSystem {
    fn force_unit(self) -> &'static str {
        match self {
            UnitSystem::Metric => "kN",
            UnitSystem::Us => "lbf",
        }
    }

    fn force_value(self, force: Force) -> f64 {
        match self {
            UnitSystem::Metric => force.as_kn(),
            UnitSystem::Us => force.as_lbf(),
        }
    }

    fn ground_unit(self) -> &'static str {
        match self {
            UnitSystem::Metric => "m",
            UnitSystem::Us => "ft",
        }
    }
}

/// A force without its unit, rounded to what a judgement can know: two or three figures.
pub fn force_number(force: Force, units: UnitSystem) -> String {
    let v = units.force_value(force);
    if !v.is_finite() {
        return "not known".to_owned();
    }
    match units {
        _ if v.abs() >= 1e6 => format!("{v:.1e}"),
        UnitSystem::Metric if v.abs() < 9.95 => format!("{v:.1}"),
        UnitSystem::Metric => thousands(v.round()),
        UnitSystem::Us if v.abs() < 1000.0 => thousands((v / 10.0).round() * 10.0),
        UnitSystem::Us => thousands((v / 50.0).round() * 50.0),
    }
}

/// A force with its unit.
pub fn force(value: Force, units: UnitSystem) -> String {
    format!("{} {}", force_number(value, units), units.force_unit())
}

/// Beyond this a load is so far from anything that climbing asks of an anchor that its figure tells nothing.
const AMPLE: Force = Force::kn(50.0);

/// A band as `median (5 % – 95 %)`, without the unit.
pub fn band_number(band: Band, units: UnitSystem) -> String {
    if band.p05 > AMPLE {
        return format!("over {}", force_number(AMPLE, units));
    }
    format!(
        "{} ({}–{})",
        force_number(band.p50, units),
        force_number(band.p05, units),
        force_number(band.p95, units)
    )
}

/// A whole number with commas between groups of three figures.
pub fn thousands(v: f64) -> String {
    let digits = format!("{:.0}", v.abs());
    let mut out = String::new();
    for (i, c) in digits.chars().enumerate() {
        if i > 0 && (digits.len() - i).is_multiple_of(3) {
            out.push(',');
        }
        out.push(c);
    }
    if v < 0.0 && digits != "0" { format!("−{out}") } else { out }
}

/// A probability in chances out of 100 or 1,000, never rounded up to certainty or down to nothing.
pub fn share(p: f64) -> String {
    if !p.is_finite() {
        return "not known".to_owned();
    }
    let p = p.clamp(0.0, 1.0);
    if p > 0.999 {
        "> 99.9 %".to_owned()
    } else if p >= 0.995 {
        format!("{:.1} %", (p * 1000.0).floor() / 10.0)
    } else if p < 0.001 {
        "< 0.1 %".to_owned()
    } else if p < 0.01 {
        format!("{:.1} %", p * 100.0)
    } else {
        format!("{:.0} %", p * 100.0)
    }
}

/// A chance as `best (low–high)`.
pub fn chance(c: Chance) -> String {
    let (low, high) = (share(c.low), share(c.high));
    match (low.strip_suffix(" %"), high.strip_suffix(" %")) {
        (Some(l), Some(h)) if !l.starts_with('>') && !h.starts_with('<') && l != h => {
            format!("{} ({l} – {h})", share(c.best))
        }
        _ if low == high => share(c.best),
        _ => format!("{} ({low} – {high})", share(c.best)),
    }
}

/// Years as whole years, `now` for none left.
fn year_number(years: Option<f64>, horizon: f64) -> String {
    match years {
        Some(y) if y.is_finite() && y < horizon => {
            if y < 0.5 {
                "now".to_owned()
            } else {
                format!("{y:.0}")
            }
        }
        _ => format!("> {horizon:.0}"),
    }
}

/// Years left as `best (low – high)`; what lies beyond the horizon says so.
pub fn years(y: YearsLeft) -> String {
    let horizon = if y.horizon.is_finite() && y.horizon > 0.0 { y.horizon } else { 0.0 };
    let best = year_number(y.best, horizon);
    let (low, high) = (year_number(y.low, horizon), year_number(y.high, horizon));
    if low == high { best } else { format!("{best} ({low} – {high})") }
}

/// A date as `25 November 2026`, the same in every place.
pub fn date(d: jiff::civil::Date) -> String {
    const MONTHS: [&str; 12] = [
        "January",
        "February",
        "March",
        "April",
        "May",
        "June",
        "July",
        "August",
        "September",
        "October",
        "November",
        "December",
    ];
    let month = usize::try_from(d.month()).ok().and_then(|m| MONTHS.get(m.saturating_sub(1))).unwrap_or(&"");
    format!("{} {month} {}", d.day(), d.year())
}

/// `1 placement`, `2 placements`.
pub fn count(n: usize, one: &str, many: &str) -> String {
    format!("{} {}", thousands(n as f64), if n == 1 { one } else { many })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn doubt_is_not_rounded_away() {
        assert_eq!(share(1.0), "> 99.9 %");
        assert_eq!(share(0.9991), "> 99.9 %");
        assert_eq!(share(0.9989), "99.8 %");
        assert_eq!(share(0.994), "99 %");
        assert_eq!(share(0.0), "< 0.1 %");
        assert_eq!(share(f64::NAN), "not known");
        assert_eq!(chance(Chance { best: 0.9, low: 0.8, high: 0.97 }), "90 % (80 – 97)");
        assert_eq!(chance(Chance { best: 1.0, low: 1.0, high: 1.0 }), "> 99.9 %");
    }

    #[test]
    fn forces_carry_two_or_three_figures() {
        assert_eq!(force(Force::kn(7.44), UnitSystem::Metric), "7.4 kN");
        assert_eq!(force(Force::kn(22.3), UnitSystem::Metric), "22 kN");
        // 25 kN = 5620 lbf (25,000 / 4.44822).
        assert_eq!(force(Force::kn(25.0), UnitSystem::Us), "5,600 lbf");
    }

    #[test]
    fn years_beyond_the_horizon_say_so() {
        let y = |best, low, high| YearsLeft { best, low, high, horizon: 50.0 };
        assert_eq!(years(y(None, None, None)), "> 50");
        assert_eq!(years(y(Some(0.0), Some(0.0), Some(4.2))), "now (now – 4)");
        assert_eq!(years(y(Some(f64::INFINITY), Some(12.0), None)), "> 50 (12 – > 50)");
    }
}
