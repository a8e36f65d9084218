//! Sizes of bolts as people write them.

use crate::number::{leading, plain};
use crate::read_length::within;
use crate::{Length, LengthUnit, ParseError};

/// Diameter and, where written, length of a bolt.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BoltSize {
    /// Nominal diameter.
    pub diameter: Length,
    /// Length under the head or of the stud.
    pub length: Option<Length>,
}

/// Smallest and largest bolt diameter taken, in metres (judgement: no climbing hardware lies outside).
const DIAMETER: (f64, f64) = (0.003, 0.040);
/// Smallest and largest bolt length taken, in metres (judgement).
const LENGTH: (f64, f64) = (0.010, 1.0);
/// Bare numbers of this range are millimetres in a diameter column (judgement: the same number of
/// inches is beyond any bolt).
const BARE_MM: std::ops::RangeInclusive<f64> = 6.0..=30.0;

/// Reads the diameter of a bolt: `M12`, `12`, `12mm`, `3/8`, `3/8"`, `0.5 in`, `.375`.
///
/// Bare fractions are inches, bare numbers from 6 to 30 millimetres. A bare decimal that is a whole
/// number of sixteenths between 3/16 and 1 1/2 with a fractional part is inches, for as millimetres
/// it would be a wire. All other bare numbers are ambiguous.
///
/// Range: 3 mm to 40 mm (judgement).
///
/// # Errors
/// [`ParseError`]; ambiguous ones name both readings.
pub fn parse_diameter(text: &str) -> Result<Length, ParseError> {
    let tidy = plain(text);
    if tidy.is_empty() {
        return Err(ParseError::Empty);
    }
    diameter(&tidy, text, None).map(|(d, _)| d)
}

/// Reads a bolt's size: `M12x90`, `M12x1.75x110`, `10x100`, `12 mm x 100 mm`, `3/8 x 2 1/4`,
/// `1/2" x 2-3/4"`, `3/8-16 x 3`, `M10`, `3/8`.
///
/// A unit written once stands for both parts. A bare length takes the unit of the diameter where it
/// makes a bolt (20 mm and more, or up to 12 in) and is ambiguous elsewhere. A thread pitch
/// (`M12x1.75`) or a count of threads per inch (`3/8-16`) is left out.
///
/// Range: diameter 3 mm to 40 mm, length 10 mm to 1 m (judgement).
///
/// # Errors
/// [`ParseError`]; ambiguous ones name both readings.
pub fn parse_bolt_size(text: &str) -> Result<BoltSize, ParseError> {
    let tidy = plain(text).replace(" by ", " x ");
    if tidy.is_empty() {
        return Err(ParseError::Empty);
    }
    let mut parts: Vec<&str> = tidy.split('x').map(str::trim).collect();
    if parts.iter().any(|part| part.is_empty()) || parts.len() > 3 {
        return Err(ParseError::NotANumber { text: text.trim().to_owned(), quantity: "bolt size" });
    }
    let metric_thread = is_metric_thread(parts[0]);
    // The pitch of a metric thread stands second and has less than 4 mm.
    let pitched = metric_thread
        && parts.len() >= 2
        && leading(parts[1], text, "bolt size")
            .is_ok_and(|(n, rest)| n.value < 4.0 && !n.fraction && matches!(rest.trim(), "" | "mm"));
    if pitched {
        parts.remove(1);
    } else if parts.len() == 3 {
        return Err(ParseError::NotANumber { text: text.trim().to_owned(), quantity: "bolt size" });
    }
    let stated = parts.get(1).and_then(|part| stated_unit(part));
    let (diameter, unit) = diameter(parts[0], text, stated)?;
    let length = match parts.get(1) {
        Some(part) => Some(length(part, text, unit)?),
        None => None,
    };
    Ok(BoltSize { diameter, length })
}

fn is_metric_thread(part: &str) -> bool {
    part.strip_prefix('m').is_some_and(|rest| rest.trim_start().starts_with(|c: char| c.is_ascii_digit()))
}

/// Unit written at the end of a part.
fn stated_unit(part: &str) -> Option<LengthUnit> {
    let start = part.rfind(|c: char| c.is_ascii_digit())? + 1;
    LengthUnit::named(&part[start..])
}

/// The diameter and the unit it is in. `stated` is the unit written on the length.
fn diameter(part: &str, text: &str, stated: Option<LengthUnit>) -> Result<(Length, LengthUnit), ParseError> {
    const QUANTITY: &str = "bolt diameter";
    let ranged = |value: Length| within(value, text, DIAMETER.0, DIAMETER.1, QUANTITY, "3 mm", "40 mm");
    let mut bare = part;
    for mark in ["diameter", "dia.", "dia", "ø", "⌀", "d"] {
        bare = bare.strip_prefix(mark).unwrap_or(bare).trim();
    }
    bare = bare.strip_suffix(['ø', '⌀']).unwrap_or(bare).trim();
    if is_metric_thread(bare) {
        let (number, rest) = leading(bare[1..].trim_start(), text, QUANTITY)?;
        if !matches!(rest.trim(), "" | "mm") || number.fraction {
            return Err(unknown_unit(text, rest.trim()));
        }
        return Ok((ranged(Length::mm(number.value))?, LengthUnit::Millimetre));
    }
    let (number, rest) = leading(bare, text, QUANTITY)?;
    let rest = rest.trim();
    // 3/8-16: sixteen threads to the inch.
    let threads = number.fraction
        && rest
            .strip_prefix('-')
            .is_some_and(|t| t.trim().parse::<u8>().is_ok_and(|t| (4..=64).contains(&t)));
    if rest.is_empty() || threads {
        let (value, inches) = (number.value, Length::inch(number.value));
        let ambiguous = || ParseError::Ambiguous {
            text: text.trim().to_owned(),
            first: format!("{value} mm"),
            second: format!("{value} in"),
        };
        if number.fraction {
            return Ok((ranged(inches)?, LengthUnit::Inch));
        }
        if BARE_MM.contains(&value) {
            // `12 x 4 in`: the unit on the length does not fit this number.
            if matches!(stated, Some(LengthUnit::Inch)) {
                return Err(ambiguous());
            }
            return Ok((ranged(Length::mm(value))?, LengthUnit::Millimetre));
        }
        match stated {
            Some(LengthUnit::Inch) => return Ok((ranged(inches)?, LengthUnit::Inch)),
            Some(LengthUnit::Millimetre) => return Ok((ranged(Length::mm(value))?, LengthUnit::Millimetre)),
            _ => {}
        }
        let sixteenths = value * 16.0;
        if value.fract() != 0.0 && sixteenths.fract() == 0.0 && (3.0..=24.0).contains(&sixteenths) {
            return Ok((ranged(inches)?, LengthUnit::Inch));
        }
        if !(0.0..=30.0).contains(&value) {
            return ranged(Length::mm(value)).map(|d| (d, LengthUnit::Millimetre));
        }
        return Err(ambiguous());
    }
    let unit = LengthUnit::named(rest).ok_or_else(|| unknown_unit(text, rest))?;
    Ok((ranged(unit.of(number.value))?, unit))
}

fn length(part: &str, text: &str, unit: LengthUnit) -> Result<Length, ParseError> {
    const QUANTITY: &str = "bolt length";
    let ranged = |value: Length| within(value, text, LENGTH.0, LENGTH.1, QUANTITY, "10 mm", "1 m");
    let part = part.strip_suffix("long").unwrap_or(part).trim();
    let (number, rest) = leading(part, text, QUANTITY)?;
    let rest = rest.trim();
    if !rest.is_empty() {
        let unit = LengthUnit::named(rest).ok_or_else(|| unknown_unit(text, rest))?;
        return ranged(unit.of(number.value));
    }
    let value = number.value;
    let ambiguous = || ParseError::Ambiguous {
        text: text.trim().to_owned(),
        first: format!("a length of {value} mm"),
        second: format!("a length of {value} in"),
    };
    match unit {
        LengthUnit::Inch if number.fraction || value <= 12.0 => ranged(Length::inch(value)),
        LengthUnit::Inch => Err(ambiguous()),
        _ if number.fraction => Err(ambiguous()),
        _ if value >= 20.0 => ranged(Length::mm(value)),
        _ if value <= 0.0 => ranged(Length::mm(value)),
        _ => Err(ambiguous()),
    }
}

fn unknown_unit(text: &str, unit: &str) -> ParseError {
    ParseError::UnknownUnit {
        text: text.trim().to_owned(),
        unit: unit.to_owned(),
        quantity: "length",
        example: "M12x90 or 3/8 x 2 1/4",
    }
}
