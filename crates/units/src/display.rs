//! Quantities for people, in the units they think in.

use crate::{Angle, Force, Length, Mass, Quantity, Stress, Temperature, Torque};
use serde::{Deserialize, Serialize};

/// The units that a person wants to read.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum UnitSystem {
    /// Millimetres, metres, kilonewtons, newton-metres, megapascals, degrees Celsius.
    #[default]
    Metric,
    /// Inches, feet, pounds-force, foot-pounds-force, psi, degrees Fahrenheit.
    Us,
}

impl UnitSystem {
    /// A force with three significant digits: `12.3 kN`, `2770 lbf`.
    pub fn force(self, force: Force) -> String {
        match self {
            Self::Metric => with_unit(force.as_kn(), 3, "kN"),
            Self::Us => with_unit(force.as_lbf(), 3, "lbf"),
        }
    }

    /// A small length with three significant digits, none finer than a tenth of a millimetre or a
    /// hundredth of an inch: `90 mm`, `12.5 mm`, `3.54 in`.
    pub fn length(self, length: Length) -> String {
        match self {
            Self::Metric => format!("{} mm", trimmed(length.as_mm(), 3, 1)),
            Self::Us => format!("{} in", trimmed(length.as_inch(), 3, 2)),
        }
    }

    /// A height or distance on a crag with three significant digits, none finer than a tenth:
    /// `12.5 m`, `41 ft`.
    pub fn height(self, height: Length) -> String {
        match self {
            Self::Metric => format!("{} m", trimmed(height.as_m(), 3, 1)),
            Self::Us => format!("{} ft", trimmed(height.as_foot(), 3, 1)),
        }
    }

    /// The size of a bolt as it is bought. Sizes that are whole sixteenths of an inch are shown as
    /// fractions, in metric with their millimetres before; all others in millimetres, in US units with
    /// inches after: `12 x 90 mm`, `9.5 mm (3/8 in)`, `3/8 x 2 1/4 in`, `12 mm (0.47 in)`.
    pub fn bolt_size(self, diameter: Length, length: Option<Length>) -> String {
        let fraction = inch_fraction(diameter);
        match (self, fraction) {
            (Self::Metric, None) => match length {
                Some(l) => format!("{} x {}", trimmed(diameter.as_mm(), 3, 1), self.length(l)),
                None => self.length(diameter),
            },
            (Self::Metric, Some(inches)) => match length {
                Some(l) => format!("{} x {} ({inches} in)", trimmed(diameter.as_mm(), 3, 1), self.length(l)),
                None => format!("{} ({inches} in)", self.length(diameter)),
            },
            (Self::Us, Some(inches)) => match length {
                Some(l) => format!("{inches} x {} in", fraction_or_decimal(l)),
                None => format!("{inches} in"),
            },
            (Self::Us, None) => {
                let mm = Self::Metric.bolt_size(diameter, length);
                match length {
                    Some(l) => format!(
                        "{mm} ({} x {} in)",
                        trimmed(diameter.as_inch(), 3, 2),
                        trimmed(l.as_inch(), 3, 2)
                    ),
                    None => format!("{mm} ({} in)", trimmed(diameter.as_inch(), 3, 2)),
                }
            }
        }
    }

    /// A torque with three significant digits: `25 N·m`, `18.4 ft·lbf`.
    pub fn torque(self, torque: Torque) -> String {
        match self {
            Self::Metric => format!("{} N·m", trimmed(torque.as_nm(), 3, 1)),
            Self::Us => format!("{} ft·lbf", trimmed(torque.as_ft_lbf(), 3, 1)),
        }
    }

    /// A stress with three significant digits: `62.5 MPa`, `9060 psi`.
    pub fn stress(self, stress: Stress) -> String {
        match self {
            Self::Metric => with_unit(stress.as_mpa(), 3, "MPa"),
            Self::Us => with_unit(stress.as_psi(), 3, "psi"),
        }
    }

    /// A mass with three significant digits: `80 kg`, `176 lb`.
    pub fn mass(self, mass: Mass) -> String {
        match self {
            Self::Metric => format!("{} kg", trimmed(mass.as_kg(), 3, 1)),
            Self::Us => format!("{} lb", trimmed(mass.as_lb(), 3, 1)),
        }
    }

    /// An angle in whole degrees in either system: `30°`.
    pub fn angle(self, angle: Angle) -> String {
        format!("{}°", trimmed(angle.as_deg(), 3, 0))
    }

    /// A temperature to half a degree or better: `8.5 °C`, `47 °F`.
    pub fn temperature(self, temperature: Temperature) -> String {
        match self {
            Self::Metric => format!("{} °C", trimmed(temperature.as_celsius(), 3, 1)),
            Self::Us => format!("{} °F", trimmed(temperature.as_fahrenheit(), 3, 0)),
        }
    }
}

/// `value` with `digits` significant digits, trailing zeros kept (they tell the precision).
fn with_unit(value: f64, digits: i32, unit: &str) -> String {
    format!("{} {unit}", significant(value, digits, i32::MAX))
}

/// `value` with at most `digits` significant digits and `places` decimals, no trailing zeros.
fn trimmed(value: f64, digits: i32, places: i32) -> String {
    let text = significant(value, digits, places);
    match text.split_once('.') {
        Some(_) => text.trim_end_matches('0').trim_end_matches('.').to_owned(),
        None => text,
    }
}

fn significant(value: f64, digits: i32, places: i32) -> String {
    if !value.is_finite() {
        return "unknown".to_owned();
    }
    if value == 0.0 {
        return "0".to_owned();
    }
    let magnitude = |v: f64| v.abs().log10().floor() as i32;
    let mut decimals = (digits - 1 - magnitude(value)).min(places);
    let rounded = round_to(value, decimals);
    if rounded == 0.0 {
        return "0".to_owned();
    }
    // 9.996 becomes 10.0, not 10.00.
    decimals = (digits - 1 - magnitude(rounded)).min(places);
    let rounded = round_to(value, decimals);
    format!("{rounded:.*}", decimals.clamp(0, 12) as usize)
}

fn round_to(value: f64, decimals: i32) -> f64 {
    if decimals >= 0 {
        let scale = 10f64.powi(decimals.min(15));
        (value * scale).round() / scale
    } else {
        let scale = 10f64.powi(-decimals);
        (value / scale).round() * scale
    }
}

/// The fraction of an inch that `length` is, to 0.02 mm, in sixteenths: `3/8`, `1`, `2 1/4`.
/// `None` for lengths that are none, or above 12 in.
fn inch_fraction(length: Length) -> Option<String> {
    let sixteenths = length.as_inch() * 16.0;
    let nearest = sixteenths.round();
    if !(1.0..=192.0).contains(&nearest) || (Length::inch(nearest / 16.0) - length).si().abs() > 2e-5 {
        return None;
    }
    let (whole, part) = ((nearest as u32) / 16, (nearest as u32) % 16);
    let fraction = [16, 8, 4, 2, 1]
        .into_iter()
        .find(|step| part % step == 0)
        .map(|step| format!("{}/{}", part / step, 16 / step))
        .unwrap_or_default();
    Some(match (whole, part) {
        (w, 0) => w.to_string(),
        (0, _) => fraction,
        (w, _) => format!("{w} {fraction}"),
    })
}

fn fraction_or_decimal(length: Length) -> String {
    inch_fraction(length).unwrap_or_else(|| trimmed(length.as_inch(), 3, 2))
}
