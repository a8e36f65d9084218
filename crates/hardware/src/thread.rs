//! Screw threads and their stress areas.

use serde::Deserialize;
use units::Length;

/// Stress area of a metric thread in mm2: `As = pi / 4 (d - 0.9382 P)^2`.
///
/// d = nominal diameter, P = pitch; both > 0 and P < d. Source: ISO 898-1 with ISO 724 (from memory).
pub fn stress_area_metric_mm2(d: Length, pitch: Length) -> f64 {
    let root = d.as_mm() - 0.9382 * pitch.as_mm();
    std::f64::consts::FRAC_PI_4 * root * root
}

/// Stress area of an inch thread in mm2: `As = pi / 4 (d - 0.9743 / n)^2` with d in inches.
///
/// d = nominal diameter, n = threads per inch (1/in), both > 0. Source: ASME B1.1 (from memory).
pub fn stress_area_inch_mm2(d: Length, threads_per_inch: f64) -> f64 {
    let root = d.as_inch() - 0.9743 / threads_per_inch;
    std::f64::consts::FRAC_PI_4 * root * root * 645.16
}

/// A thread of the table.
#[derive(Clone, Debug, PartialEq)]
pub struct Thread {
    /// Designation, e.g. `M10` or `3/8-16`.
    pub name: String,
    /// Nominal diameter.
    pub diameter: Length,
    /// Stress area in mm2.
    pub stress_area_mm2: f64,
    /// Where the dimensions come from.
    pub source: String,
}

#[derive(Deserialize)]
struct Entry {
    name: String,
    diameter_mm: f64,
    pitch_mm: Option<f64>,
    threads_per_inch: Option<f64>,
    source: String,
}

#[derive(Deserialize)]
struct File {
    #[serde(rename = "thread")]
    threads: Vec<Entry>,
}

impl From<Entry> for Thread {
    fn from(e: Entry) -> Self {
        let diameter = Length::mm(e.diameter_mm);
        let stress_area_mm2 = match (e.pitch_mm, e.threads_per_inch) {
            (Some(p), _) => stress_area_metric_mm2(diameter, Length::mm(p)),
            (None, Some(n)) => stress_area_inch_mm2(diameter, n),
            (None, None) => std::f64::consts::FRAC_PI_4 * e.diameter_mm * e.diameter_mm,
        };
        Thread { name: e.name, diameter, stress_area_mm2, source: e.source }
    }
}

/// The threads of the built-in file, thinnest first.
pub(crate) fn read(text: &str) -> Result<Vec<Thread>, toml::de::Error> {
    let file: File = toml::from_str(text)?;
    Ok(file.threads.into_iter().map(Thread::from).collect())
}

/// The thread whose nominal diameter is nearest to `diameter`, if within 2.5 %.
pub(crate) fn nearest(threads: &[Thread], diameter: Length) -> Option<&Thread> {
    let gap = |t: &Thread| ((t.diameter - diameter) / diameter).abs();
    threads.iter().filter(|t| gap(t) <= 0.025).min_by(|a, b| gap(a).total_cmp(&gap(b)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Catalogue;

    #[test]
    fn stress_areas_reproduce_the_standards_tables() {
        // mm2; M16: 157 is the table value seen; the rest calculated from the standards' formula
        for (name, want, tol) in [
            ("M8", 36.61, 5e-4),
            ("M10", 57.99, 5e-4),
            ("M12", 84.27, 5e-4),
            ("M16", 156.67, 5e-4),
            ("M16", 157.0, 3e-3),
            ("1/4-20", 0.0318 * 645.16, 2e-3),
            ("5/16-18", 0.0524 * 645.16, 2e-3),
            ("3/8-16", 0.0775 * 645.16, 2e-3),
            ("1/2-13", 0.1419 * 645.16, 1e-3),
            ("5/8-11", 0.2260 * 645.16, 1e-3),
        ] {
            let t = Catalogue::built_in().threads().iter().find(|t| t.name == name).unwrap();
            assert!((t.stress_area_mm2 / want - 1.0).abs() < tol, "{name}: {}", t.stress_area_mm2);
        }
    }

    #[test]
    fn a_measured_diameter_finds_its_thread() {
        let c = Catalogue::built_in();
        let name = |d: Length| c.thread(d).map(|t| t.name.as_str());
        assert_eq!(name(Length::mm(9.9)), Some("M10"));
        assert_eq!(name(Length::inch(0.375)), Some("3/8-16"));
        assert_eq!(name(Length::inch(0.5)), Some("1/2-13"));
        assert_eq!(name(Length::mm(11.0)), None);
    }
}
