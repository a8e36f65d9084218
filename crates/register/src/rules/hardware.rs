//! Rules on the fittings of a placement.

use super::field::{self, Book, number};
use super::{Severity, plausible};
use crate::fact::Subject;
use crate::identity::Placed;
use crate::record::FittingRecord;
use crate::state::{Known, State, day_of};
use hardware::Kind;
use jiff::civil::Date;

pub(super) fn check(state: &State, placement: &str, today: Date, book: &mut Book) {
    let mut earlier: Option<Known<'_, FittingRecord>> = None;
    for fitting in state.fittings_of(placement) {
        one(state, fitting, today, book);
        if let Some(earlier) = earlier {
            at_once(earlier, fitting, book);
        }
        earlier = Some(fitting);
    }
}

fn one(state: &State, fitting: Known<'_, FittingRecord>, today: Date, book: &mut Book) {
    let record = fitting.record;
    let subject = || Subject::Fitting(fitting.id.to_owned());
    field::day(book, subject, "placed", record.placed_on, today);
    field::day(book, subject, "removed", record.removed_on, today);
    if let Some(year) = record.placed_year {
        let advice = "Check the year.";
        if year > today.year() {
            let text = format!("It was placed in {year}, which lies in the future.");
            book.add(subject(), Severity::Contradiction, text, advice);
        } else if field::before_bolts(year) {
            let text = format!("It was placed in {year}, before there were bolts.");
            book.add(subject(), Severity::Contradiction, text, advice);
        }
        if let Some(day) = record.placed_on
            && day.year() != year
        {
            let text = format!("It was placed on {day}, but its year says {year}.");
            book.add(subject(), Severity::Contradiction, text, "Correct the one that is wrong.");
        }
    }
    if let Some(removed) = record.removed_on
        && day_of(Placed::On(removed)) < day_of(Placed::from(record))
    {
        let text = format!("It was removed on {removed}, before it was placed.");
        book.add(subject(), Severity::Contradiction, text, "Check both dates; they may be swapped.");
    }
    sizes(fitting, book);
    if record.resin.is_some()
        && let Some(kind) = record.kind
        && kind != Kind::GlueIn
    {
        let text = "It has a resin but is not recorded as a glue-in.";
        book.add(subject(), Severity::Doubt, text, "Check what kind of fitting it is.");
    }
    if let Some(batch) = record.batch.as_deref()
        && let Some(why) = state.batch(batch).and_then(|batch| batch.recalled.as_deref())
        && record.removed_on.is_none()
    {
        let text = format!("It was made from batch {batch}, which was recalled: {why}.");
        book.add(subject(), Severity::Doubt, text, "Follow the recall; inspect it or plan to replace it.");
    }
}

fn sizes(fitting: Known<'_, FittingRecord>, book: &mut Book) {
    let record = fitting.record;
    let subject = || Subject::Fitting(fitting.id.to_owned());
    field::range(book, subject, "diameter", "diameter", record.diameter.map(|value| value.as_mm()));
    field::range(book, subject, "length", "length", record.length.map(|value| value.as_mm()));
    field::range(book, subject, "embedment", "embedment", record.embedment.map(|value| value.as_mm()));
    field::range(book, subject, "torque", "torque", record.torque.map(|value| value.as_nm()));
    field::range(
        book,
        subject,
        "rating along the face",
        "rating",
        record.rated_radial.map(|value| value.as_kn()),
    );
    field::range(
        book,
        subject,
        "rating straight out",
        "rating",
        record.rated_axial.map(|value| value.as_kn()),
    );
    if let (Some(length), Some(embedment)) = (record.length, record.embedment)
        && length.as_mm() > 0.0
        && embedment.as_mm() > 0.0
    {
        let out = length.as_mm() - embedment.as_mm();
        let (long, deep) = (number(length.as_mm()), number(embedment.as_mm()));
        // A hundredth of a millimetre covers sizes written in inches.
        if out < -0.01 {
            let text = format!("Its embedment ({deep} mm) is greater than its length ({long} mm).");
            book.add(subject(), Severity::Contradiction, text, "Measure again; the two may be swapped.");
        } else if plausible::range("protrusion").is_some_and(|range| out > range.high) {
            let text = format!(
                "It is {long} mm long but only {deep} mm deep in the rock, so {} mm would stand out.",
                number(out)
            );
            let advice = "Check both sizes; if they are right, record how far the hanger sits proud.";
            book.add(subject(), Severity::Doubt, text, advice);
        }
    }
    if let (Some(length), Some(diameter)) = (record.length, record.diameter)
        && diameter.as_mm() > length.as_mm()
        && length.as_mm() > 0.0
    {
        let text = format!(
            "Its diameter ({} mm) is greater than its length ({} mm).",
            number(diameter.as_mm()),
            number(length.as_mm())
        );
        book.add(subject(), Severity::Doubt, text, "Check both sizes; they may be swapped.");
    }
}

/// Two fittings in one hole at a time.
fn at_once(earlier: Known<'_, FittingRecord>, later: Known<'_, FittingRecord>, book: &mut Book) {
    let placed = Placed::from(later.record);
    let gone = earlier.record.removed_on.map(|day| day_of(Placed::On(day)));
    let subject = Subject::Fitting(earlier.id.to_owned());
    match (gone, placed) {
        (None, _) => {
            let text = format!("It was never removed, yet {} is recorded in the same hole.", later.id);
            let advice = "Enter the date it was removed, or withdraw the one that was recorded twice.";
            book.add(subject, Severity::Doubt, text, advice);
        }
        // A removal within the year is no contradiction to a year alone.
        (Some(gone), Placed::Year(year)) if gone.0 <= year => {}
        (Some(_), Placed::Unknown) => {}
        (Some(gone), placed) if gone > day_of(placed) => {
            let text = format!("It was still in the hole when {} was placed.", later.id);
            book.add(
                subject,
                Severity::Contradiction,
                text,
                "Check the date of removal and that of the new placing.",
            );
        }
        _ => {}
    }
}
