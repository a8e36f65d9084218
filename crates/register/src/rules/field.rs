//! Rules on a single field, and the book that findings are written in.

use super::{Finding, Severity, plausible};
use crate::fact::Subject;
use crate::state::State;
use jiff::civil::Date;

/// Where findings are written.
#[derive(Debug, Default)]
pub(super) struct Book {
    pub(super) findings: Vec<Finding>,
}

impl Book {
    pub(super) fn add(
        &mut self,
        subject: Subject,
        severity: Severity,
        text: impl Into<String>,
        advice: impl Into<String>,
    ) {
        self.findings.push(Finding { subject, severity, text: text.into(), advice: advice.into() });
    }
}

/// A number with at most three decimals and no useless zeros.
pub(super) fn number(value: f64) -> String {
    let text = format!("{value:.3}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// A value in its plausible range. Zero and negative sizes cannot be; others outside are a doubt.
pub(super) fn range(
    book: &mut Book,
    subject: impl FnOnce() -> Subject,
    words: &str,
    name: &str,
    value: Option<f64>,
) {
    let (Some(value), Some(range)) = (value, plausible::range(name)) else { return };
    if (range.low..=range.high).contains(&value) {
        return;
    }
    let unit = if range.unit.is_empty() { String::new() } else { format!(" {}", range.unit) };
    let impossible = range.low >= 0.0 && (value < 0.0 || (value == 0.0 && range.low > 0.0));
    let (severity, text) = if impossible {
        (Severity::Contradiction, format!("Its {words} is {}{unit}, which cannot be.", number(value)))
    } else {
        let text = format!(
            "Its {words} is {}{unit}; values from {} to {}{unit} are usual.",
            number(value),
            number(range.low),
            number(range.high)
        );
        (Severity::Doubt, text)
    };
    book.add(subject(), severity, text, "Check the value and its unit, and enter it again.");
}

/// Latitude and longitude: both or none, and on the globe.
pub(super) fn position(
    book: &mut Book,
    subject: impl FnOnce() -> Subject,
    latitude_deg: Option<f64>,
    longitude_deg: Option<f64>,
) {
    let advice = "Enter both in decimal degrees, south and west negative.";
    match (latitude_deg, longitude_deg) {
        (None, None) => {}
        (Some(latitude), Some(longitude)) => {
            if latitude.abs() > 90.0 || longitude.abs() > 180.0 {
                let text = format!(
                    "Its position ({}, {}) is not on the globe.",
                    number(latitude),
                    number(longitude)
                );
                book.add(subject(), Severity::Contradiction, text, advice);
            }
        }
        _ => book.add(subject(), Severity::Doubt, "Only one of latitude and longitude is recorded.", advice),
    }
}

/// A day that has come and is not from before there were bolts. `what` completes "It was ... on".
pub(super) fn day(
    book: &mut Book,
    subject: impl FnOnce() -> Subject,
    what: &str,
    day: Option<Date>,
    today: Date,
) {
    let Some(day) = day else { return };
    let advice = "Check the date; day and month or the century may be mixed up.";
    if day > today {
        let text = format!("It was {what} on {day}, which lies in the future.");
        book.add(subject(), Severity::Contradiction, text, advice);
    } else if before_bolts(day.year()) {
        let text = format!("It was {what} on {day}, before there were bolts.");
        book.add(subject(), Severity::Contradiction, text, advice);
    }
}

pub(super) fn before_bolts(year: i16) -> bool {
    plausible::range("year").is_some_and(|range| f64::from(year) < range.low)
}

/// A record that belongs to a subject that is not in the state.
pub(super) fn names_nothing(book: &mut Book, state: &State, subject: Subject, missing: Subject) {
    let text = if state.is_withdrawn(&missing) {
        format!("It belongs to {missing}, which was withdrawn.")
    } else {
        format!("It belongs to {missing}, which is not recorded.")
    };
    let advice = format!("Record the {} again, or say where this belongs.", missing.kind());
    book.add(subject, Severity::Doubt, text, advice);
}
