//! Lengths as people write them.

use crate::number::{leading, plain};
use crate::{Length, ParseError, Quantity};
use serde::{Deserialize, Serialize};

/// Unit of a length, for columns whose header states one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs)]
pub enum LengthUnit {
    Micrometre,
    Millimetre,
    Centimetre,
    Metre,
    Inch,
    Foot,
}

impl LengthUnit {
    /// A length of `value` of this unit.
    pub const fn of(self, value: f64) -> Length {
        match self {
            Self::Micrometre => Length::um(value),
            Self::Millimetre => Length::mm(value),
            Self::Centimetre => Length::mm(value * 10.0),
            Self::Metre => Length::m(value),
            Self::Inch => Length::inch(value),
            Self::Foot => Length::foot(value),
        }
    }

    /// The unit that `text` names (`mm`, `in`, `inches`, `"`, `ft`, ...), in any case.
    pub fn named(text: &str) -> Option<Self> {
        Some(match plain(text).trim_matches(['.', ' ']) {
            "um" | "micron" | "microns" | "micrometre" | "micrometres" | "micrometer" | "micrometers" => {
                Self::Micrometre
            }
            "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" | "mil" => Self::Millimetre,
            "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => Self::Centimetre,
            "m" | "metre" | "metres" | "meter" | "meters" | "mtr" => Self::Metre,
            "in" | "ins" | "inch" | "inches" | "\"" => Self::Inch,
            "ft" | "foot" | "feet" | "'" => Self::Foot,
            _ => return None,
        })
    }

    /// The unit's symbol.
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Micrometre => "µm",
            Self::Millimetre => "mm",
            Self::Centimetre => "cm",
            Self::Metre => "m",
            Self::Inch => "in",
            Self::Foot => "ft",
        }
    }
}

/// Reads a length: `10mm`, `12,5 mm`, `0.5 in`, `1 1/2 in`, `3/8"`, `2-3/4"`, `5' 6"`, `3/8`, `10`.
///
/// A number without a unit takes `default`; without a default it is refused. A bare fraction is in
/// inches, for nobody writes fractions of a millimetre; where `default` is metres or feet it is
/// ambiguous. One inch is 25.4 mm exactly (NIST SP 811).
///
/// Range: 0 to 10 000 m.
///
/// # Errors
/// [`ParseError`], with both readings named where two are possible (`1,250 mm`).
pub fn parse_length(text: &str, default: Option<LengthUnit>) -> Result<Length, ParseError> {
    const QUANTITY: &str = "length";
    let tidy = plain(text);
    let (number, rest) = leading(&tidy, text, QUANTITY)?;
    let rest = rest.trim();
    let unit = if rest.is_empty() {
        match (number.fraction, default) {
            (true, Some(unit @ (LengthUnit::Metre | LengthUnit::Foot))) => {
                return Err(ParseError::Ambiguous {
                    text: text.trim().to_owned(),
                    first: format!("{} in", number.value),
                    second: format!("{} {}", number.value, unit.symbol()),
                });
            }
            (true, _) => LengthUnit::Inch,
            (false, Some(unit)) => unit,
            (false, None) => {
                return Err(ParseError::MissingUnit {
                    text: text.trim().to_owned(),
                    example: "10 mm or 3/8 in",
                });
            }
        }
    } else if let Some(unit) = LengthUnit::named(rest) {
        unit
    } else if let Some((feet, inches)) = feet_and_inches(rest, text)? {
        let total = Length::foot(number.value + feet) + inches;
        return within(total, text, 0.0, 10_000.0, "length", "0", "10 000 m");
    } else {
        return Err(ParseError::UnknownUnit {
            text: text.trim().to_owned(),
            unit: rest.to_owned(),
            quantity: QUANTITY,
            example: "10 mm or 3/8 in",
        });
    };
    within(unit.of(number.value), text, 0.0, 10_000.0, QUANTITY, "0", "10 000 m")
}

/// After the feet's number: a foot mark and inches. Gives (0, inches).
fn feet_and_inches(rest: &str, written: &str) -> Result<Option<(f64, Length)>, ParseError> {
    let Some(after) = ["feet", "foot", "ft", "'"].iter().find_map(|mark| rest.strip_prefix(mark)) else {
        return Ok(None);
    };
    let after = after.trim_start_matches(['.', ' ', '-']);
    if !after.starts_with(|c: char| c.is_ascii_digit()) {
        return Ok(None);
    }
    let (number, unit) = leading(after, written, "length")?;
    match unit.trim() {
        "" => {}
        unit if LengthUnit::named(unit) == Some(LengthUnit::Inch) => {}
        _ => return Ok(None),
    }
    Ok((number.value < 12.0).then_some((0.0, Length::inch(number.value))))
}

/// `value` if it lies in `low..=high` metres.
pub(crate) fn within(
    value: Length,
    text: &str,
    low: f64,
    high: f64,
    quantity: &'static str,
    least: &'static str,
    most: &'static str,
) -> Result<Length, ParseError> {
    // A length given in inches may miss the metric bound by rounding only.
    let slack = 1e-12;
    if value.si() >= low - slack && value.si() <= high + slack {
        Ok(value)
    } else {
        Err(ParseError::OutOfRange { text: text.trim().to_owned(), quantity, least, most })
    }
}
