//! One cell: its text read as what its column holds.

use crate::column::Column;
use crate::dates::{DateOrder, Known, Resolved, Written, long, month_name, resolve, scan};
use crate::findings::Told;
use crate::label::{Label, read_label};
use crate::signs;
use crate::vocabulary::{Absence, Direction, Reading, Vocabulary, all, is_unknown};
use decay::{Setting, Shelter};
use demand::{Role, Steepness, UseClass};
use evidence::{Finding as SignFinding, Seen};
use hardware::{Kind, Material, Resin};
use jiff::civil::Date;
use register::PullEnd;
use rock::{FieldGrade, RockType, Soundness, Wetness};
use serde::de::DeserializeOwned;
use std::hash::{DefaultHasher, Hash, Hasher};
use units::{
    BoltSize, Force, ForceUnit, Length, LengthUnit, ParseError, Stress, StressUnit, Temperature,
    TemperatureUnit, Torque, TorqueUnit, UnitSystem, parse_bolt_size, parse_diameter, parse_force,
    parse_length, parse_number, parse_stress, parse_temperature, parse_torque,
};

/// What a cell says.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Value {
    /// The text itself.
    Text,
    Length(Length),
    Size(BoltSize),
    Force(Force),
    Rating {
        radial: Force,
        axial: Option<Force>,
    },
    Torque(Torque),
    Stress(Stress),
    Temperature(Temperature),
    Number(f64),
    Count(u32),
    /// A date and, where the record cannot hold all that was written, a note.
    Date(Known, Option<String>),
    Kind(Kind),
    Material(Material),
    Resin(Resin),
    RockType(RockType),
    RockGrade(FieldGrade),
    Wetness(Wetness),
    Soundness(Soundness),
    Setting(Setting),
    Shelter(Shelter),
    Role(Role),
    Steepness(Steepness),
    UseClass(UseClass),
    PullEnd(PullEnd),
    Axial(bool),
    Position {
        latitude: f64,
        longitude: f64,
    },
    Signs(Vec<Seen>),
    Finding(SignFinding),
    Extent(evidence::Extent),
    Label(Label),
}

/// Why a cell was not taken, and what to do.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Trouble {
    pub reason: String,
    pub advice: String,
}

impl Trouble {
    pub(crate) fn new(reason: impl Into<String>, advice: impl Into<String>) -> Self {
        Self { reason: reason.into(), advice: advice.into() }
    }
}

/// A cell that was read.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct CellReading {
    /// None if the cell says nothing.
    pub value: Option<Value>,
    pub trouble: Option<Trouble>,
    /// What has to be told about the reading.
    pub told: Vec<Told>,
    /// Mark of what was read, equal for cells that say the same.
    pub mark: u32,
}

/// What the cells of a column share.
#[derive(Clone, Debug)]
pub(crate) struct About {
    pub column: Column,
    /// Unit from the heading or the mapping.
    pub unit: Option<String>,
    pub system: UnitSystem,
    pub order: Option<DateOrder>,
    pub today: Date,
}

type Read = Result<(Option<Value>, Vec<Told>), Trouble>;

/// Reads a cell.
pub(crate) fn read(about: &About, text: &str) -> CellReading {
    if text.is_empty() {
        return CellReading::default();
    }
    match read_value(about, text) {
        Ok((value, told)) => {
            let mark = match &value {
                None => 0,
                Some(Value::Text) => mark(&crate::vocabulary::tidy(text)),
                Some(value) => mark(&format!("{value:?}")),
            };
            CellReading { value, trouble: None, told, mark }
        }
        Err(trouble) => CellReading { value: None, trouble: Some(trouble), told: Vec::new(), mark: 0 },
    }
}

/// A mark of a text; never 0, which stands for nothing stated.
pub(crate) fn mark(text: &str) -> u32 {
    let mut hasher = DefaultHasher::new();
    text.hash(&mut hasher);
    (hasher.finish() as u32).max(1)
}

fn said(value: Value) -> Read {
    Ok((Some(value), Vec::new()))
}

fn read_value(about: &About, text: &str) -> Read {
    let words = all();
    if is_formula_error(text) {
        return Err(Trouble::new(
            format!("\"{text}\" is what a spreadsheet shows for a formula that went wrong"),
            "mend the formula, or write the value itself",
        ));
    }
    // The mark by which spreadsheets keep a number as text.
    let text = match text.strip_prefix('\'') {
        Some(number) if number.starts_with(|c: char| c.is_ascii_digit()) && !number.contains('\'') => number,
        _ => text,
    };
    use Column as C;
    match about.column {
        C::Crag
        | C::Sector
        | C::Route
        | C::Note
        | C::Batch
        | C::SetBy
        | C::By
        | C::Trace
        | C::ClimbingGrade
        | C::Item
        | C::What
        | C::Recalled
        | C::Placement => {
            if is_unknown(text) {
                Ok((None, Vec::new()))
            } else {
                said(Value::Text)
            }
        }
        C::Signs => signs::read_list(text, false).map(|(seen, told)| (Some(Value::Signs(seen)), told)),
        C::Absent => signs::read_list(text, true).map(|(seen, told)| (Some(Value::Signs(seen)), told)),
        C::Sign(_) => sign_finding(text),
        _ if is_unknown(text) => Ok((None, Vec::new())),
        C::Kind => word(text, &words.kind, "kind of bolt", Value::Kind),
        C::Material => word(text, &words.material, "material", Value::Material),
        C::HangerMaterial => match text.to_ascii_lowercase().as_str() {
            "none" | "no" | "no hanger" => Ok((None, Vec::new())),
            _ => word(text, &words.material, "material", Value::Material),
        },
        C::Resin => match text.to_ascii_lowercase().as_str() {
            "none" | "no" => Ok((None, Vec::new())),
            _ => word(text, &words.resin, "resin", Value::Resin),
        },
        C::RockType => word(text, &words.rock_type, "rock", Value::RockType),
        C::RockGrade => word(text, &words.rock_grade, "rock grade (R0 to R6)", Value::RockGrade),
        C::Wetness => word(text, &words.wetness, "wetness", Value::Wetness),
        C::Soundness => word(text, &words.soundness, "soundness", Value::Soundness),
        C::Setting => word(text, &words.setting, "setting", Value::Setting),
        C::Shelter => word(text, &words.shelter, "shelter", Value::Shelter),
        C::Role => word(text, &words.role, "role", Value::Role),
        C::Steepness => word(text, &words.steepness, "steepness", Value::Steepness),
        C::UseClass => word(text, &words.use_class, "use", Value::UseClass),
        C::End => word(text, &words.pull_end, "end of a pull", Value::PullEnd),
        C::Extent => word(text, &words.extent, "extent", Value::Extent),
        C::Direction => word(text, &words.direction, "direction (axial or radial)", |d| {
            Value::Axial(d == Direction::Axial)
        }),
        C::Size => match (parse_bolt_size(text), length_unit(about)) {
            (Ok(size), _) => said(Value::Size(size)),
            // A bare number under a heading with a unit.
            (Err(e), Some(unit)) => match parse_length(text, Some(unit)) {
                Ok(diameter) if (2.99..40.01).contains(&diameter.as_mm()) => {
                    said(Value::Size(BoltSize { diameter, length: None }))
                }
                _ => Err(size_trouble(text, &e, about.today)),
            },
            (Err(e), None) => Err(size_trouble(text, &e, about.today)),
        },
        C::Diameter => match length_unit(about) {
            Some(unit) => {
                let bare = text.trim_start_matches(['M', 'm', 'Ø', 'ø']).trim();
                let diameter =
                    parse_length(bare, Some(unit)).map_err(|e| size_trouble(text, &e, about.today))?;
                within(
                    Value::Length(diameter),
                    diameter.as_mm(),
                    2.99,
                    40.01,
                    text,
                    "a bolt's diameter is 3 to 40 mm",
                )
            }
            None => {
                let diameter = parse_diameter(text).map_err(|e| size_trouble(text, &e, about.today))?;
                said(Value::Length(diameter))
            }
        },
        C::Length => small_length(about, text, 10.0, 1000.0, "a bolt's length is 10 to 1000 mm"),
        C::Embedment => small_length(about, text, 5.0, 1000.0, "an embedment is 5 to 1000 mm"),
        C::EdgeDistance => small_length(about, text, 0.0, 20_000.0, "an edge distance is up to 20 m"),
        C::Spacing => small_length(about, text, 0.0, 100_000.0, "a spacing is up to 100 m"),
        C::Proud => tiny_length(about, text, 300.0, "a hanger stands at most 300 mm proud"),
        C::MeasuredLoss => tiny_length(about, text, 40.0, "a loss is at most the bolt"),
        C::Displacement => tiny_length(about, text, 1000.0, "a displacement is at most 1000 mm"),
        C::Height => tall_length(about, text, 0.0, 2000.0, "a height is up to 2000 m"),
        C::RouteLength => tall_length(about, text, 1.0, 2000.0, "a route's length is 1 to 2000 m"),
        C::Peak => force(about, text, 0.01, 300.0, "a pull's peak is 0.01 to 300 kN"),
        C::Rating | C::RatedRadial | C::RatedAxial => rating(about, text),
        C::Torque => torque(about, text),
        C::TestedUcs => stress(about, text, 0.5, 600.0, "a rock's compressive strength is 0.5 to 600 MPa"),
        C::PointLoadIndex => stress(about, text, 0.01, 40.0, "a point load index is 0.01 to 40 MPa"),
        C::Temperature => temperature(about, text),
        C::Rebound => number(text, 0.0, 100.0, "a rebound value is 0 to 100"),
        C::UnitWeight => {
            number(strip(text, &["kN/m3", "kN/m³"]), 10.0, 40.0, "a rock's unit weight is 10 to 40 kN/m3")
        }
        C::Humidity => number(strip(text, &["%"]), 0.0, 100.0, "a humidity is 0 to 100 %"),
        C::Sulphur | C::Chloride => number(
            strip(text, &["mg/m2d", "mg/(m2 d)"]),
            0.0,
            10_000.0,
            "a deposition is 0 to 10 000 mg/(m2 d)",
        ),
        C::VisitHours => {
            number(strip(text, &["hours", "hrs", "h"]), 0.0, 200.0, "a visit takes 0 to 200 hours")
        }
        C::VisitCost | C::Price => number(&money(text), 0.0, 1e7, "a price is 0 to 10 000 000"),
        C::Latitude => coordinate(text, 90.0, "a latitude is -90 to 90 degrees"),
        C::Longitude => coordinate(text, 180.0, "a longitude is -180 to 180 degrees"),
        C::Coordinates => position(text),
        C::InHand => count(text, 1_000_000),
        C::Pitch => count(text.trim_start_matches(|c: char| !c.is_ascii_digit()), 200),
        C::Number => read_label(text).map(|label| (Some(Value::Label(label)), Vec::new())),
        C::PlacedOn | C::RemovedOn | C::On | C::BoughtOn | C::ExpiresOn => date(about, text),
    }
}

/// What spreadsheets show for a formula that went wrong. `#N/A` is not among them: it says that the value
/// is not known.
fn is_formula_error(text: &str) -> bool {
    text.starts_with('#')
        && ["#REF!", "#NAME?", "#VALUE!", "#DIV/0!", "#NUM!", "#NULL!", "#SPILL!", "#CALC!"]
            .iter()
            .any(|error| text.eq_ignore_ascii_case(error))
}

fn word<T: Copy + PartialEq + DeserializeOwned>(
    text: &str,
    vocabulary: &Vocabulary<T>,
    what: &str,
    wrap: impl Fn(T) -> Value,
) -> Read {
    match vocabulary.read(text) {
        Reading::Exact(term) => said(wrap(term)),
        Reading::Near(term, name) => Ok((Some(wrap(term)), vec![Told::near(text, &name)])),
        Reading::Unknown => Ok((None, Vec::new())),
        Reading::Between(first, second) => Err(Trouble::new(
            format!("\"{text}\" can mean {first} or {second}"),
            format!("write {first} or {second}, or leave it empty if it is not known"),
        )),
        Reading::Strange => Err(Trouble::new(
            format!("\"{text}\" is no {what} that is known"),
            "write it in other words, or leave it empty if it is not known",
        )),
    }
}

/// A finding in the column of one sign. Only words that say so mean looked for and absent: those under
/// `absence` in `data/vocabulary.toml`. A dash does not tell whether anyone looked.
fn sign_finding(text: &str) -> Read {
    let words = all();
    if let Reading::Exact(Absence::Absent) = words.absence.read(text) {
        return said(Value::Finding(SignFinding::Absent));
    }
    if text.chars().all(|c| matches!(c, '-' | '–' | '—' | ' ')) {
        let told = "a dash does not tell whether anyone looked: nothing was taken from it; write no where the \
                    sign was looked for and is not there";
        return Ok((None, vec![told.to_owned().into()]));
    }
    if is_unknown(text) || matches!(words.absence.read(text), Reading::Exact(Absence::NotLooked)) {
        return Ok((None, Vec::new()));
    }
    match words.extent.read(text) {
        Reading::Exact(extent) => {
            let told = signs::is_bare_yes(text).then(|| {
                Told::case("no extent is stated", format!("\"{text}\" read as {}", words.extent.name(extent)))
            });
            Ok((Some(Value::Finding(SignFinding::Present(extent))), told.into_iter().collect()))
        }
        Reading::Near(extent, name) => {
            Ok((Some(Value::Finding(SignFinding::Present(extent))), vec![Told::near(text, &name)]))
        }
        _ => Err(Trouble::new(
            format!("\"{text}\" does not tell whether the sign is there and how far it goes"),
            "write none, slight, marked or severe, or leave it empty if nobody looked",
        )),
    }
}

fn length_unit(about: &About) -> Option<LengthUnit> {
    about.unit.as_deref().and_then(LengthUnit::named)
}

fn plain(error: &ParseError) -> Trouble {
    let advice = match error {
        ParseError::Ambiguous { first, second, .. } => format!("write {first} or {second} with its unit"),
        ParseError::OutOfRange { least, most, .. } => {
            format!("measure again; a value from {least} to {most} is taken")
        }
        ParseError::MissingUnit { example, .. } | ParseError::UnknownUnit { example, .. } => {
            format!("write for example {example}")
        }
        _ => "write a number with its unit, or leave it empty if it is not known".to_owned(),
    };
    Trouble::new(error.to_string(), advice)
}

/// A size that cannot be read; a spreadsheet may have made a date of a fraction.
fn size_trouble(text: &str, error: &ParseError, today: Date) -> Trouble {
    let dated = matches!(scan(text, today), Written::Known(Known::Day(_)) | Written::Serial(_));
    let month_day =
        text.split(['-', ' ', '/']).any(|part| part.len() == 3 && part.chars().all(char::is_alphabetic))
            && text.chars().any(|c| c.is_ascii_digit());
    if dated || month_day {
        return Trouble::new(
            format!(
                "\"{text}\" is a date where a size should stand; spreadsheet programs make dates of fractions"
            ),
            "write the size again with its unit, for example 3/8 in",
        );
    }
    plain(error)
}

fn within(value: Value, number: f64, low: f64, high: f64, text: &str, rule: &str) -> Read {
    if number >= low && number <= high { said(value) } else { Err(impossible(text, rule)) }
}

fn impossible(text: &str, rule: &str) -> Trouble {
    Trouble::new(
        format!("\"{text}\" cannot be true: {rule}"),
        "measure or look it up again, or leave it empty if it is not known",
    )
}

/// A cell that is nothing but a number.
fn bare(text: &str) -> Option<f64> {
    text.chars()
        .all(|c| c.is_ascii_digit() || c == '.' || c == ',')
        .then(|| parse_number(text).ok())
        .flatten()
}

fn assumed(unit: &str) -> Vec<Told> {
    vec![format!("numbers without a unit were read as {unit}").into()]
}

/// Lengths of bolts and around them: millimetres or inches. A bare number is told apart by size where it
/// can be.
fn small_length(about: &About, text: &str, low: f64, high: f64, rule: &str) -> Read {
    let unit = length_unit(about);
    let (length, told) = match (unit, bare(text)) {
        (None, Some(number)) => {
            let unit = match about.system {
                _ if number == 0.0 => LengthUnit::Millimetre,
                _ if number >= 20.0 => LengthUnit::Millimetre,
                UnitSystem::Us if number <= 12.0 => LengthUnit::Inch,
                _ => {
                    return Err(Trouble::new(
                        format!("\"{text}\" can be read as {text} mm or as {text} in"),
                        "write the unit",
                    ));
                }
            };
            (unit.of(number), assumed(unit.symbol()))
        }
        _ => (parse_length(text, unit).map_err(|e| length_trouble(text, &e, rule))?, Vec::new()),
    };
    let (value, _) = within(Value::Length(length), length.as_mm(), low - 1e-9, high + 1e-6, text, rule)?;
    Ok((value, told))
}

/// A length that cannot be read, or that no length of this kind can have.
fn length_trouble(text: &str, error: &ParseError, rule: &str) -> Trouble {
    match error {
        ParseError::OutOfRange { .. } => impossible(text, rule),
        other => plain(other),
    }
}

fn tiny_length(about: &About, text: &str, high: f64, rule: &str) -> Read {
    let stated = length_unit(about);
    let unit = stated.unwrap_or(match about.system {
        UnitSystem::Metric => LengthUnit::Millimetre,
        UnitSystem::Us => LengthUnit::Inch,
    });
    let length = parse_length(text, Some(unit)).map_err(|e| length_trouble(text, &e, rule))?;
    let told = if stated.is_none() && bare(text).is_some() { assumed(unit.symbol()) } else { Vec::new() };
    let (value, _) = within(Value::Length(length), length.as_mm(), 0.0, high + 1e-6, text, rule)?;
    Ok((value, told))
}

fn tall_length(about: &About, text: &str, low: f64, high: f64, rule: &str) -> Read {
    let stated = length_unit(about);
    let unit = stated.unwrap_or(match about.system {
        UnitSystem::Metric => LengthUnit::Metre,
        UnitSystem::Us => LengthUnit::Foot,
    });
    let length = parse_length(text, Some(unit)).map_err(|e| length_trouble(text, &e, rule))?;
    let told = if stated.is_none() && bare(text).is_some() { assumed(unit.symbol()) } else { Vec::new() };
    let (value, _) = within(Value::Length(length), length.as_m(), low, high, text, rule)?;
    Ok((value, told))
}

fn force(about: &About, text: &str, low: f64, high: f64, rule: &str) -> Read {
    let stated = about.unit.as_deref().and_then(ForceUnit::named);
    let (unit, told) = match (stated, bare(text)) {
        (Some(unit), _) => (Some(unit), Vec::new()),
        (None, Some(number)) => match about.system {
            UnitSystem::Metric if number <= 60.0 => (Some(ForceUnit::Kilonewton), assumed("kN")),
            UnitSystem::Us if number >= 200.0 => (Some(ForceUnit::PoundForce), assumed("lbf")),
            _ => (None, Vec::new()),
        },
        (None, None) => (None, Vec::new()),
    };
    let force = parse_force(text, unit).map_err(|e| plain(&e))?;
    let (value, _) = within(Value::Force(force), force.as_kn(), low, high, text, rule)?;
    Ok((value, told))
}

/// `25 kN`, `25/20 kN`, `25kN radial 20kN axial`, `25-20`: radial first, then axial.
fn rating(about: &About, text: &str) -> Read {
    const RULE: &str = "a rating is 1 to 100 kN";
    let lower = text.to_lowercase();
    let cleaned: String = ["radial", "axial", "shear", "tension", "rad", "ax", "->", "→", "↑", "↓"]
        .iter()
        .fold(lower.clone(), |t, w| t.replace(w, " "));
    let parts: Vec<&str> =
        cleaned.split(['/', ';', '|', '+']).map(str::trim).filter(|p| !p.is_empty()).collect();
    let one = |part: &str, fallback: Option<ForceUnit>| -> Result<(Force, Vec<Told>), Trouble> {
        let about = match fallback {
            Some(unit) if bare(part).is_some() => {
                About { unit: Some(unit.symbol().to_owned()), ..about.clone() }
            }
            _ => about.clone(),
        };
        match force(&about, part, 1.0, 100.0, RULE)? {
            (Some(Value::Force(force)), told) => Ok((force, told)),
            _ => Err(Trouble::new(format!("\"{text}\" is no rating"), "write for example 25 kN")),
        }
    };
    match parts[..] {
        [single] => {
            let (radial, told) = one(single, None)?;
            Ok((Some(Value::Rating { radial, axial: None }), told))
        }
        [first, second] => {
            let trailing =
                second.trim_start_matches(|c: char| c.is_ascii_digit() || matches!(c, '.' | ',' | ' '));
            let unit = ForceUnit::named(trailing);
            let (a, told) = one(first, unit)?;
            let (b, _) = one(second, unit)?;
            let axial_first = lower.find("axial").or(lower.find("tension")).unwrap_or(usize::MAX)
                < lower.find("radial").or(lower.find("shear")).unwrap_or(usize::MAX)
                && (lower.contains("radial") || lower.contains("shear"));
            let (radial, axial) = if axial_first { (b, a) } else { (a, b) };
            Ok((Some(Value::Rating { radial, axial: Some(axial) }), told))
        }
        _ => Err(Trouble::new(
            format!("\"{text}\" is no rating"),
            "write for example 25 kN, or 25/20 kN (along the face, then straight out)",
        )),
    }
}

fn torque(about: &About, text: &str) -> Read {
    let stated = about.unit.as_deref().and_then(TorqueUnit::named);
    let unit = stated.unwrap_or(match about.system {
        UnitSystem::Metric => TorqueUnit::NewtonMetre,
        UnitSystem::Us => TorqueUnit::FootPound,
    });
    let torque = parse_torque(text, Some(unit)).map_err(|e| plain(&e))?;
    let told = if stated.is_none() && bare(text).is_some() { assumed(unit.symbol()) } else { Vec::new() };
    let (value, _) =
        within(Value::Torque(torque), torque.as_nm(), 0.0, 1000.0, text, "a torque is 0 to 1000 N·m")?;
    Ok((value, told))
}

fn stress(about: &About, text: &str, low: f64, high: f64, rule: &str) -> Read {
    let stated = about.unit.as_deref().and_then(StressUnit::named);
    let (unit, symbol) = stated.map_or(
        match about.system {
            UnitSystem::Metric => (StressUnit::Megapascal, "MPa"),
            UnitSystem::Us => (StressUnit::Psi, "psi"),
        },
        |unit| (unit, ""),
    );
    let stress = parse_stress(text, Some(unit)).map_err(|e| plain(&e))?;
    let told = if stated.is_none() && bare(text).is_some() { assumed(symbol) } else { Vec::new() };
    let (value, _) = within(Value::Stress(stress), stress.as_mpa(), low, high, text, rule)?;
    Ok((value, told))
}

fn temperature(about: &About, text: &str) -> Read {
    let stated = about.unit.as_deref().and_then(TemperatureUnit::named);
    let (unit, symbol) = stated.map_or(
        match about.system {
            UnitSystem::Metric => (TemperatureUnit::Celsius, "°C"),
            UnitSystem::Us => (TemperatureUnit::Fahrenheit, "°F"),
        },
        |unit| (unit, ""),
    );
    let temperature = parse_temperature(text, Some(unit)).map_err(|e| plain(&e))?;
    let bare = bare(text.trim_start_matches('-')).is_some();
    let told = if stated.is_none() && bare { assumed(symbol) } else { Vec::new() };
    let (value, _) = within(
        Value::Temperature(temperature),
        temperature.as_celsius(),
        -40.0,
        45.0,
        text,
        "an annual mean temperature is -40 to 45 °C",
    )?;
    Ok((value, told))
}

fn strip<'t>(text: &'t str, units: &[&str]) -> &'t str {
    units.iter().find_map(|unit| text.strip_suffix(unit)).unwrap_or(text).trim()
}

/// A price without its currency.
fn money(text: &str) -> String {
    text.chars()
        .filter(|c| c.is_ascii_digit() || matches!(c, '.' | ',' | '-' | ' '))
        .collect::<String>()
        .trim()
        .to_owned()
}

fn number(text: &str, low: f64, high: f64, rule: &str) -> Read {
    let number = parse_number(text).map_err(|e| plain(&e))?;
    within(Value::Number(number), number, low, high, text, rule)
}

fn count(text: &str, most: u32) -> Read {
    let number = parse_number(text).map_err(|e| plain(&e))?;
    if number.fract() != 0.0 || number < 0.0 || number > f64::from(most) {
        return Err(Trouble::new(
            format!("\"{text}\" is no whole number from 0 to {most}"),
            "write a whole number, or leave it empty if it is not known",
        ));
    }
    said(Value::Count(number as u32))
}

/// Degrees with a point or comma, or degrees, minutes and seconds, with N, S, E, W or a sign.
fn coordinate(text: &str, most: f64, rule: &str) -> Read {
    let degrees = degrees(text).ok_or_else(|| {
        Trouble::new(
            format!("\"{text}\" is no coordinate"),
            "write degrees with a decimal point, for example 54.1234",
        )
    })?;
    within(Value::Number(degrees), degrees, -most, most, text, rule)
}

fn degrees(text: &str) -> Option<f64> {
    if text.len() > 48 {
        return None;
    }
    let upper = text.to_uppercase();
    let negative = upper.contains('S') || upper.contains('W') || upper.trim_start().starts_with(['-', '−']);
    let numbers: Vec<f64> = upper
        .split(|c: char| !(c.is_ascii_digit() || c == '.' || c == ','))
        .filter(|p| p.chars().any(|c| c.is_ascii_digit()))
        .map(|p| p.trim_matches(',').replace(',', ".").parse::<f64>().ok())
        .collect::<Option<_>>()?;
    let value = match numbers[..] {
        [d] => d,
        [d, m] if m < 60.0 => d + m / 60.0,
        [d, m, s] if m < 60.0 && s < 60.0 => d + m / 60.0 + s / 3600.0,
        _ => return None,
    };
    Some(if negative { -value } else { value })
}

fn position(text: &str) -> Read {
    let trouble = || {
        Trouble::new(
            format!("\"{text}\" is no position"),
            "write latitude, longitude in degrees with decimal points, for example 54.1234, -2.3456",
        )
    };
    if text.len() > 96 {
        return Err(trouble());
    }
    // Between two parts: a semicolon; else a comma with a blank; else the letter of the latitude; else a
    // comma or blank.
    let upper = text.to_uppercase();
    let halves = upper
        .split_once(';')
        .or_else(|| upper.split_once(", "))
        .or_else(|| {
            let at = upper.find(['N', 'S'])?;
            (at > 0).then(|| upper.split_at(at + 1))
        })
        .or_else(|| upper.split_once(','))
        .or_else(|| upper.split_once(' '))
        .ok_or_else(trouble)?;
    match (degrees(halves.0), degrees(halves.1)) {
        (Some(latitude), Some(longitude)) if latitude.abs() <= 90.0 && longitude.abs() <= 180.0 => {
            said(Value::Position { latitude, longitude })
        }
        _ => Err(trouble()),
    }
}

fn date(about: &About, text: &str) -> Read {
    let today = about.today;
    let written = scan(text, today);
    let known = match resolve(written, about.order, today) {
        Resolved::Known(known) => known,
        Resolved::Ambiguous(first, second) => {
            return Err(Trouble::new(
                format!("\"{text}\" can be {first} or {second}, and no other date of the column tells which"),
                "write it as year-month-day, or state the order of the column in the mapping",
            ));
        }
        Resolved::Strange if written == Written::Decade => {
            return Err(Trouble::new(
                format!("\"{text}\" names a decade, not a year"),
                "write the most likely year, and the doubt in a note",
            ));
        }
        Resolved::Strange => {
            return Err(Trouble::new(
                format!("\"{text}\" is no date"),
                "write it as year-month-day, or the year alone",
            ));
        }
    };
    let early = known.year() < 1900;
    let late = known.earliest().is_none_or(|day| day > today) && about.column != Column::ExpiresOn;
    if early || late {
        return Err(Trouble::new(
            format!(
                "\"{text}\" lies {} {}",
                if early { "before" } else { "after" },
                if early { "1900".to_owned() } else { format!("today ({})", long(today)) }
            ),
            "correct the date, or leave it empty if it is not known",
        ));
    }
    let mut told = Vec::new();
    let note = match (written, known) {
        (Written::Serial(_), _) => {
            told.push("day counts of a spreadsheet were read as dates".to_owned().into());
            None
        }
        (Written::Open { .. }, _) if two_figure_year(text) => {
            let years = (today.year() - 99, today.year());
            told.push(format!("years of two figures were read as {} to {}", years.0, years.1).into());
            None
        }
        (Written::About(year), _) => {
            told.push(Told::case("rough dates were taken as years", format!("\"{text}\" as {year}")));
            Some(text.to_owned())
        }
        (Written::Season(year), _) => {
            let case = format!("\"{text}\" as {year}");
            told.push(Told::case("of seasons the year was taken, the season went into the note", case));
            Some(text.to_owned())
        }
        (_, Known::Month(year, month)) => Some(format!("{} {year}", month_name(month))),
        _ => None,
    };
    Ok((Some(Value::Date(known, note)), told))
}

fn two_figure_year(text: &str) -> bool {
    let last = text.rsplit(['/', '.', '-', ' ']).next().unwrap_or("");
    last.len() == 2
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;
    use proptest::prelude::*;

    fn about(column: Column) -> About {
        About { column, unit: None, system: UnitSystem::Metric, order: None, today: date(2026, 11, 25) }
    }

    fn value(column: Column, text: &str) -> Option<Value> {
        let reading = read(&about(column), text);
        assert_eq!(reading.trouble, None, "{text}");
        reading.value
    }

    fn trouble(column: Column, text: &str) -> String {
        read(&about(column), text).trouble.unwrap_or_else(|| panic!("{text} was taken")).reason
    }

    #[test]
    fn cells() {
        assert_eq!(value(Column::Embedment, "90"), Some(Value::Length(Length::mm(90.0))));
        assert_eq!(value(Column::Embedment, "9 cm"), Some(Value::Length(Length::mm(90.0))));
        assert_eq!(value(Column::Peak, "22.4"), Some(Value::Force(Force::kn(22.4))));
        assert_eq!(value(Column::Torque, "25"), Some(Value::Torque(Torque::nm(25.0))));
        assert_eq!(value(Column::Price, "£3.40"), Some(Value::Number(3.4)));
        assert_eq!(value(Column::Humidity, "78 %"), Some(Value::Number(78.0)));
        assert_eq!(value(Column::InHand, "40"), Some(Value::Count(40)));
        assert_eq!(value(Column::Kind, "?"), None);
        // Only words that say so mean that a sign was looked for and is not there.
        let rust = Column::Sign(evidence::Sign::Rust);
        for absent in ["no", "None", "absent", "0", "ok", "nil"] {
            assert_eq!(value(rust, absent), Some(Value::Finding(SignFinding::Absent)), "{absent}");
        }
        for silent in ["-", "–", "--", "?", "n/a", "not checked"] {
            assert_eq!(value(rust, silent), None, "{silent}");
        }
        assert!(read(&about(rust), "-").told[0].text.contains("a dash does not tell"));
        assert_eq!(read(&about(rust), "n/a").told, []);
        assert_eq!(
            value(Column::Rating, "25/20 kN"),
            Some(Value::Rating { radial: Force::kn(25.0), axial: Some(Force::kn(20.0)) })
        );
        assert_eq!(
            value(Column::Rating, "axial 20kN / radial 25kN"),
            Some(Value::Rating { radial: Force::kn(25.0), axial: Some(Force::kn(20.0)) })
        );
        assert_eq!(value(Column::Latitude, "54.25"), Some(Value::Number(54.25)));
        assert_eq!(value(Column::Longitude, "2°30'0\" W"), Some(Value::Number(-2.5)));
        assert_eq!(
            value(Column::Coordinates, "54.25, -2.5"),
            Some(Value::Position { latitude: 54.25, longitude: -2.5 })
        );
        assert_eq!(
            value(Column::Coordinates, "54,25; -2,5"),
            Some(Value::Position { latitude: 54.25, longitude: -2.5 })
        );
        assert_eq!(
            value(Column::Coordinates, "54.25N 2.5W"),
            Some(Value::Position { latitude: 54.25, longitude: -2.5 })
        );
    }

    #[test]
    fn refused_cells() {
        assert!(trouble(Column::Size, "2026-03-08").contains("date where a size"));
        assert!(trouble(Column::Diameter, "08-Mar").contains("date where a size"));
        assert!(trouble(Column::Embedment, "3").contains("3 mm or as 3 in"));
        assert!(trouble(Column::Embedment, "-90 mm").contains("an embedment is 5 to 1000 mm"));
        assert!(trouble(Column::Length, "4 m").contains("cannot be true"));
        assert!(trouble(Column::Peak, "2200").contains("no unit"));
        assert!(trouble(Column::Peak, "9999 kN").contains("outside"));
        assert!(trouble(Column::PlacedOn, "2027-01-01").contains("after today"));
        assert!(trouble(Column::PlacedOn, "03/05/2021").contains("3 May 2021 or 5 March 2021"));
        assert!(trouble(Column::PlacedOn, "80s").contains("decade"));
        assert!(trouble(Column::Latitude, "454.2").contains("cannot be true"));
        assert!(trouble(Column::Humidity, "120").contains("cannot be true"));
        assert!(trouble(Column::Embedment, "NaN").contains("cannot be read as a length"));
        assert!(trouble(Column::Latitude, "NaN").contains("no coordinate"));
        for column in [Column::Crag, Column::Embedment, Column::Note, Column::Sign(evidence::Sign::Rust)] {
            assert!(trouble(column, "#REF!").contains("formula"), "{column:?}");
        }
        assert_eq!(value(Column::Embedment, "'70"), Some(Value::Length(Length::mm(70.0))));
    }

    proptest! {
        /// No text in any column makes the reading panic.
        #[test]
        fn any_text_in_any_column(text in "\\PC{0,20}", at in 0usize..70) {
            let known: Vec<Column> = ["crag", "route", "pitch", "number", "placement", "role", "height", "steepness", "edge_distance",
                "rock_type", "rock_grade", "rebound", "point_load_index", "latitude", "coordinates", "kind", "size", "diameter",
                "length", "embedment", "material", "resin", "placed_on", "rating", "torque", "on", "signs", "absent", "extent",
                "proud", "peak", "direction", "end", "displacement", "tested_ucs", "unit_weight", "setting", "temperature",
                "humidity", "visit_cost", "in_hand", "price", "sign:rust"].iter().filter_map(|n| n.parse().ok()).collect();
            let mut about = about(known[at % known.len()]);
            let _ = read(&about, &text);
            about.system = UnitSystem::Us;
            let _ = read(&about, &text);
        }
    }
}
