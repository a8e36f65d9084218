//! Rules on the sightings and pulls of a placement.

use super::Severity;
use super::field::{self, Book};
use crate::fact::Subject;
use crate::identity::Placed;
use crate::record::*;
use crate::state::{Known, State, day_of};
use jiff::civil::Date;

pub(super) fn check(state: &State, placement: &str, today: Date, book: &mut Book) {
    for sighting in state.sightings_of(placement) {
        check_sighting(state, placement, sighting, today, book);
    }
    for pull in state.pulls_of(placement) {
        check_pull(state, placement, pull, today, book);
    }
}

/// True if every fitting of the placement was placed after this day.
fn before_any_fitting(state: &State, placement: &str, day: Date) -> bool {
    let mut fittings = state.fittings_of(placement).peekable();
    fittings.peek().is_some()
        && fittings.all(|fitting| day_of(Placed::from(fitting.record)) > day_of(Placed::On(day)))
}

fn check_sighting(
    state: &State,
    placement: &str,
    sighting: Known<'_, SightingRecord>,
    today: Date,
    book: &mut Book,
) {
    let record = sighting.record;
    let subject = || Subject::Sighting(sighting.id.to_owned());
    match record.on {
        None => book.add(
            subject(),
            Severity::Note,
            "It has no date, so it counts only where a single fitting was ever in the hole.",
            "Enter at least a likely date.",
        ),
        Some(day) => {
            field::day(book, subject, "made", record.on, today);
            if before_any_fitting(state, placement, day) {
                let text = format!("It was made on {day}, before any fitting of this placement was placed.");
                let advice =
                    "Check the dates of the sighting and of the placing, or record the older fitting.";
                book.add(subject(), Severity::Contradiction, text, advice);
            }
        }
    }
    field::range(
        book,
        subject,
        "distance proud of the rock",
        "proud",
        record.proud.map(|value| value.as_mm()),
    );
    field::range(
        book,
        subject,
        "measured loss",
        "measured_loss",
        record.measured_loss.map(|value| value.as_mm()),
    );
    field::range(
        book,
        subject,
        "edge distance",
        "edge_distance",
        record.edge_distance.map(|value| value.as_mm()),
    );
    field::range(book, subject, "torque", "torque", record.torque.map(|value| value.as_nm()));
    field::range(book, subject, "rebound value", "rebound", record.rebound);
    let signs = record.signs.as_deref().unwrap_or(&[]);
    for (at, seen) in signs.iter().enumerate() {
        if signs[..at].iter().any(|other| other.sign == seen.sign && other.finding != seen.finding) {
            let text = "It says two different things of one sign.";
            book.add(
                subject(),
                Severity::Contradiction,
                text,
                "Keep the finding that is right; the worse one is used.",
            );
        }
    }
}

fn check_pull(state: &State, placement: &str, pull: Known<'_, PullRecord>, today: Date, book: &mut Book) {
    let record = pull.record;
    let subject = || Subject::Pull(pull.id.to_owned());
    field::day(book, subject, "made", record.on, today);
    field::range(book, subject, "peak load", "peak", record.peak.map(|value| value.as_kn()));
    if record.peak.is_none() {
        book.add(
            subject(),
            Severity::Note,
            "Its peak load is not recorded.",
            "Enter the greatest load in kN.",
        );
    }
    if record.end.is_none() {
        let text = "It does not say how it ended.";
        book.add(subject(), Severity::Note, text, "Enter what gave way, or that a proof load held.");
    }
    let Some(day) = record.on else {
        let text = "It has no date, so it cannot be told which fitting was pulled.";
        book.add(subject(), Severity::Note, text, "Enter the date.");
        return;
    };
    if before_any_fitting(state, placement, day) {
        let text = format!("It was made on {day}, before any fitting of this placement was placed.");
        let advice = "Check the dates of the pull and of the placing, or record the older fitting.";
        book.add(subject(), Severity::Contradiction, text, advice);
        return;
    }
    if record.end.is_some_and(PullEnd::is_failure)
        && let Some(fitting) = state.fitting_pulled(placement, day, record.end)
        && state.current_fitting(placement, today.max(day)).is_some_and(|now| now.id == fitting.id)
    {
        let text = format!("It ended in failure on {day}, yet {} is not recorded as removed.", fitting.id);
        let advice = "Enter when the broken fitting was removed and what is in the hole now; until then treat it as unusable.";
        book.add(subject(), Severity::Contradiction, text, advice);
    }
}
