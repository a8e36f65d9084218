//! Forces, torques, stresses, angles and temperatures as people write them.

use crate::number::{leading, plain};
use crate::{Angle, Force, ParseError, Stress, Temperature, Torque};
use serde::{Deserialize, Serialize};

/// Unit of a force, for columns whose header states one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs)]
pub enum ForceUnit {
    Newton,
    Decanewton,
    Kilonewton,
    PoundForce,
    KilopoundForce,
    KilogramForce,
}

impl ForceUnit {
    /// A force of `value` of this unit.
    pub const fn of(self, value: f64) -> Force {
        match self {
            Self::Newton => Force::n(value),
            Self::Decanewton => Force::n(value * 10.0),
            Self::Kilonewton => Force::kn(value),
            Self::PoundForce => Force::lbf(value),
            Self::KilopoundForce => Force::lbf(value * 1e3),
            Self::KilogramForce => Force::kgf(value),
        }
    }

    /// The unit that `text` names, in any case. `kg` and `lb` stand for the weight of that mass.
    pub fn named(text: &str) -> Option<Self> {
        Some(match plain(text).trim_matches(['.', ' ']) {
            "n" | "newton" | "newtons" => Self::Newton,
            "dan" => Self::Decanewton,
            "kn" | "kilonewton" | "kilonewtons" => Self::Kilonewton,
            "lbf" | "lb" | "lbs" | "pound" | "pounds" | "lb f" => Self::PoundForce,
            "klbf" | "kip" | "kips" | "klb" | "klbs" => Self::KilopoundForce,
            "kgf" | "kg" | "kgs" | "kp" => Self::KilogramForce,
            _ => return None,
        })
    }

    /// The unit's symbol.
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Newton => "N",
            Self::Decanewton => "daN",
            Self::Kilonewton => "kN",
            Self::PoundForce => "lbf",
            Self::KilopoundForce => "klbf",
            Self::KilogramForce => "kgf",
        }
    }
}

/// Unit of a torque, for columns whose header states one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs)]
pub enum TorqueUnit {
    NewtonMetre,
    FootPound,
    InchPound,
    KilogramMetre,
}

impl TorqueUnit {
    /// A torque of `value` of this unit.
    pub const fn of(self, value: f64) -> Torque {
        match self {
            Self::NewtonMetre => Torque::nm(value),
            Self::FootPound => Torque::ft_lbf(value),
            Self::InchPound => Torque::in_lbf(value),
            Self::KilogramMetre => Torque::nm(value * 9.806_65),
        }
    }

    /// The unit that `text` names, in any case and with any sign between its parts.
    pub fn named(text: &str) -> Option<Self> {
        let squeezed: String = plain(text).chars().filter(|c| c.is_alphanumeric()).collect();
        Some(match squeezed.as_str() {
            "nm" | "newtonmetre" | "newtonmetres" | "newtonmeter" | "newtonmeters" => Self::NewtonMetre,
            "ftlb" | "ftlbs" | "ftlbf" | "lbft" | "lbsft" | "lbfft" | "footpound" | "footpounds"
            | "poundfeet" | "poundfoot" => Self::FootPound,
            "inlb" | "inlbs" | "inlbf" | "lbin" | "lbsin" | "lbfin" | "inchpound" | "inchpounds" => {
                Self::InchPound
            }
            "kgm" | "kgfm" | "mkg" | "mkgf" => Self::KilogramMetre,
            _ => return None,
        })
    }

    /// The unit's symbol.
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::NewtonMetre => "N·m",
            Self::FootPound => "ft·lbf",
            Self::InchPound => "in·lbf",
            Self::KilogramMetre => "kgf·m",
        }
    }
}

/// Unit of a stress, for columns whose header states one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs)]
pub enum StressUnit {
    Pascal,
    Kilopascal,
    Megapascal,
    Gigapascal,
    Psi,
    Ksi,
    Bar,
}

impl StressUnit {
    /// A stress of `value` of this unit.
    pub const fn of(self, value: f64) -> Stress {
        match self {
            Self::Pascal => Stress::pa(value),
            Self::Kilopascal => Stress::pa(value * 1e3),
            Self::Megapascal => Stress::mpa(value),
            Self::Gigapascal => Stress::mpa(value * 1e3),
            Self::Psi => Stress::psi(value),
            Self::Ksi => Stress::psi(value * 1e3),
            Self::Bar => Stress::pa(value * 1e5),
        }
    }

    /// The unit that `text` names, in any case.
    pub fn named(text: &str) -> Option<Self> {
        let squeezed: String = plain(text).chars().filter(|c| !c.is_whitespace()).collect();
        Some(match squeezed.as_str() {
            "pa" => Self::Pascal,
            "kpa" | "kn/m2" | "kn/m^2" => Self::Kilopascal,
            "mpa" | "n/mm2" | "n/mm^2" | "mn/m2" | "mn/m^2" => Self::Megapascal,
            "gpa" => Self::Gigapascal,
            "psi" | "lbf/in2" | "lb/in2" => Self::Psi,
            "ksi" => Self::Ksi,
            "bar" => Self::Bar,
            _ => return None,
        })
    }
}

/// Unit of a plane angle, for columns whose header states one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs)]
pub enum AngleUnit {
    Degree,
    Radian,
}

impl AngleUnit {
    /// The unit that `text` names, in any case.
    pub fn named(text: &str) -> Option<Self> {
        Some(match plain(text).trim_matches(['.', ' ']) {
            "°" | "deg" | "degs" | "degree" | "degrees" => Self::Degree,
            "rad" | "radian" | "radians" => Self::Radian,
            _ => return None,
        })
    }
}

/// Unit of a temperature, for columns whose header states one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs)]
pub enum TemperatureUnit {
    Celsius,
    Fahrenheit,
    Kelvin,
}

impl TemperatureUnit {
    /// The unit that `text` names, in any case.
    pub fn named(text: &str) -> Option<Self> {
        let squeezed: String = plain(text).chars().filter(|c| c.is_alphabetic()).collect();
        Some(match squeezed.as_str() {
            "c" | "degc" | "celsius" | "degreesc" | "degreescelsius" => Self::Celsius,
            "f" | "degf" | "fahrenheit" | "degreesf" | "degreesfahrenheit" => Self::Fahrenheit,
            "k" | "kelvin" => Self::Kelvin,
            _ => return None,
        })
    }
}

/// Words about one quantity for its errors.
struct About {
    quantity: &'static str,
    example: &'static str,
    least: &'static str,
    most: &'static str,
}

/// Reads number and unit; `named` finds the unit, `default` stands in where none is written.
fn read<U>(
    text: &str,
    default: Option<U>,
    named: impl Fn(&str) -> Option<U>,
    about: &About,
) -> Result<(f64, U), ParseError> {
    let tidy = plain(text);
    let (number, rest) = leading(&tidy, text, about.quantity)?;
    // `plain` took a star for the sign between two sizes; between units it means the same as a dot.
    let rest = rest.trim().replace("nxm", "n.m");
    let unit = if rest.is_empty() {
        default
            .ok_or_else(|| ParseError::MissingUnit { text: text.trim().to_owned(), example: about.example })?
    } else {
        named(&rest).ok_or_else(|| ParseError::UnknownUnit {
            text: text.trim().to_owned(),
            unit: rest.clone(),
            quantity: about.quantity,
            example: about.example,
        })?
    };
    Ok((number.value, unit))
}

fn ranged(value: f64, low: f64, high: f64, text: &str, about: &About) -> Result<(), ParseError> {
    if value >= low && value <= high {
        Ok(())
    } else {
        Err(ParseError::OutOfRange {
            text: text.trim().to_owned(),
            quantity: about.quantity,
            least: about.least,
            most: about.most,
        })
    }
}

/// Reads a force: `25 kN`, `22000 N`, `2200 daN`, `5,620.5 lbf`, `2250 kgf`, `5.6 klbf`.
///
/// 1 lbf = 4.4482216152605 N and 1 kgf = 9.80665 N, both exactly (NIST SP 811, B.8). Range: 0 to
/// 2000 kN.
///
/// # Errors
/// [`ParseError`]; a number without a unit needs `default`.
pub fn parse_force(text: &str, default: Option<ForceUnit>) -> Result<Force, ParseError> {
    let about = About { quantity: "force", example: "25 kN or 5600 lbf", least: "0", most: "2000 kN" };
    let (value, unit) = read(text, default, ForceUnit::named, &about)?;
    let force = unit.of(value);
    ranged(force.as_kn(), 0.0, 2000.0, text, &about)?;
    Ok(force)
}

/// Reads a torque: `25 Nm`, `25 N·m`, `18 ft-lb`, `18 ft·lbf`, `220 in-lb`, `2.5 kgf m`.
///
/// 1 ft·lbf = 1.3558179483314004 N·m, one twelfth of it is 1 in·lbf (NIST SP 811, B.8). Range: 0 to
/// 5000 N·m.
///
/// # Errors
/// [`ParseError`]; a number without a unit needs `default`.
pub fn parse_torque(text: &str, default: Option<TorqueUnit>) -> Result<Torque, ParseError> {
    let about = About { quantity: "torque", example: "25 Nm or 18 ft-lb", least: "0", most: "5000 N·m" };
    let (value, unit) = read(text, default, TorqueUnit::named, &about)?;
    let torque = unit.of(value);
    ranged(torque.as_nm(), 0.0, 5000.0, text, &about)?;
    Ok(torque)
}

/// Reads a stress: `60 MPa`, `60 N/mm2`, `8700 psi`, `8.7 ksi`, `600 bar`.
///
/// 1 psi = 6894.757 Pa (NIST SP 811, B.8). Range: 0 to 10 GPa.
///
/// # Errors
/// [`ParseError`]; a number without a unit needs `default`.
pub fn parse_stress(text: &str, default: Option<StressUnit>) -> Result<Stress, ParseError> {
    let about = About { quantity: "stress", example: "60 MPa or 8700 psi", least: "0", most: "10 000 MPa" };
    let (value, unit) = read(text, default, StressUnit::named, &about)?;
    let stress = unit.of(value);
    ranged(stress.as_mpa(), 0.0, 10_000.0, text, &about)?;
    Ok(stress)
}

/// Reads a plane angle: `30°`, `30 deg`, `0.5 rad`. Range: 0 to 360 degrees.
///
/// # Errors
/// [`ParseError`]; a number without a unit needs `default`.
pub fn parse_angle(text: &str, default: Option<AngleUnit>) -> Result<Angle, ParseError> {
    let about = About { quantity: "angle", example: "30° or 0.5 rad", least: "0°", most: "360°" };
    let (value, unit) = read(text, default, AngleUnit::named, &about)?;
    let angle = match unit {
        AngleUnit::Degree => Angle::deg(value),
        AngleUnit::Radian => Angle::rad(value),
    };
    ranged(angle.as_deg(), 0.0, 360.0 + 1e-9, text, &about)?;
    Ok(angle)
}

/// Reads a temperature of air or rock: `8 °C`, `-5C`, `46 F`, `281 K`.
///
/// t/°C = (t/°F − 32)/1.8 and t/°C = T/K − 273.15 (NIST SP 811, B.8). Range: −100 to 100 °C.
///
/// # Errors
/// [`ParseError`]; a number without a unit needs `default`.
pub fn parse_temperature(text: &str, default: Option<TemperatureUnit>) -> Result<Temperature, ParseError> {
    let about =
        About { quantity: "temperature", example: "8 °C or 46 °F", least: "-100 °C", most: "100 °C" };
    let (value, unit) = read(text, default, TemperatureUnit::named, &about)?;
    let temperature = match unit {
        TemperatureUnit::Celsius => Temperature::celsius(value),
        TemperatureUnit::Fahrenheit => Temperature::fahrenheit(value),
        TemperatureUnit::Kelvin => Temperature::celsius(value - 273.15),
    };
    ranged(temperature.as_celsius(), -100.0, 100.0, text, &about)?;
    Ok(temperature)
}
