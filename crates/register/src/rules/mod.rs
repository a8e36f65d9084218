//! Rules: what in the register contradicts itself or cannot well be. They find and advise; they never
//! refuse a record, since a wrong record is still evidence of something.

mod field;
mod hardware;
mod plausible;
mod seen;

use crate::fact::{Fact, Subject};
use crate::record::*;
use crate::state::{Known, State, pitch_of};
use field::Book;
use jiff::civil::Date;
use serde::Serialize;

/// How much a finding weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Severity {
    /// Something is missing that is easily added.
    Note,
    /// Unlikely; look again.
    Doubt,
    /// Cannot be: at least one of the records is wrong.
    Contradiction,
}

/// Something that a rule found.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Finding {
    /// What it is about.
    pub subject: Subject,
    /// How much it weighs.
    pub severity: Severity,
    /// What is wrong, in one plain sentence.
    pub text: String,
    /// What to do about it, in one plain sentence.
    pub advice: String,
}

/// All findings of a register: crags, routes, placements with what belongs to them, then records that
/// belong to nothing. `today` decides what lies in the future.
pub fn check(state: &State, today: Date) -> Vec<Finding> {
    let mut book = Book::default();
    for crag in state.crags() {
        check_crag(crag, &mut book);
    }
    for route in state.routes() {
        check_route(state, route, &mut book);
    }
    for placement in state.placements() {
        check_placement(state, placement, today, &mut book);
    }
    check_strays(state, &mut book);
    for stock in state.stock() {
        if stock.record.price.is_some_and(|price| price < 0.0) {
            let subject = Subject::Stock(stock.id.to_owned());
            book.add(
                subject,
                Severity::Contradiction,
                "Its price is negative.",
                "Enter what one piece costs.",
            );
        }
    }
    book.findings
}

/// The findings of one placement and of its fittings, sightings and pulls.
pub fn of_placement(state: &State, placement: &str, today: Date) -> Vec<Finding> {
    let mut book = Book::default();
    if let Some(record) = state.placement(placement) {
        check_placement(state, Known { id: placement, record }, today, &mut book);
    }
    book.findings
}

/// The finding of a fact before it goes into the log: numbers that are none (NaN, infinite) are left out
/// of the log and of the state, so that only here they can be noticed.
pub fn of_fact(fact: &Fact) -> Option<Finding> {
    let fields = fact.body.empty_numbers();
    (!fields.is_empty()).then(|| Finding {
        subject: fact.subject.clone(),
        severity: Severity::Contradiction,
        text: format!("Not a number, and left out: {}.", fields.join(", ")),
        advice: "Enter the value again, or leave it empty if it is not known.".to_owned(),
    })
}

fn check_crag(crag: Known<'_, CragRecord>, book: &mut Book) {
    let subject = || Subject::Crag(crag.id.to_owned());
    let record = crag.record;
    field::position(book, subject, record.latitude_deg, record.longitude_deg);
    field::range(
        book,
        subject,
        "tested strength",
        "tested_ucs",
        record.tested_ucs.map(|value| value.as_mpa()),
    );
    field::range(book, subject, "unit weight", "unit_weight", record.unit_weight_kn_per_m3);
    field::range(
        book,
        subject,
        "mean temperature",
        "temperature",
        record.temperature.map(|value| value.as_celsius()),
    );
    field::range(book, subject, "relative humidity", "humidity", record.relative_humidity_percent);
    field::range(book, subject, "sulphur deposition", "deposition", record.sulphur_mg_m2_d);
    field::range(book, subject, "chloride deposition", "deposition", record.chloride_mg_m2_d);
    for (name, value) in [("visit time", record.visit_hours), ("visit cost", record.visit_cost)] {
        if value.is_some_and(|value| value < 0.0) {
            let text = format!("Its {name} is negative.");
            book.add(subject(), Severity::Contradiction, text, "Enter zero or more.");
        }
    }
}

fn check_route(state: &State, route: Known<'_, RouteRecord>, book: &mut Book) {
    let subject = || Subject::Route(route.id.to_owned());
    match route.record.crag.as_deref() {
        None => book.add(subject(), Severity::Note, "Its crag is not recorded.", "Enter the crag it is on."),
        Some(crag) if state.crag(crag).is_none() => {
            field::names_nothing(book, state, subject(), Subject::Crag(crag.to_owned()));
        }
        Some(_) => {}
    }
    field::position(book, subject, route.record.latitude_deg, route.record.longitude_deg);
    if route.record.length.is_some_and(|length| length.as_m() <= 0.0) {
        book.add(
            subject(),
            Severity::Contradiction,
            "Its length is zero or negative.",
            "Enter the length again.",
        );
    }
}

fn check_placement(state: &State, placement: Known<'_, PlacementRecord>, today: Date, book: &mut Book) {
    let Known { id, record } = placement;
    let subject = || Subject::Placement(id.to_owned());
    match record.route.as_deref() {
        None => {
            book.add(subject(), Severity::Note, "Its route is not recorded.", "Enter the route it is on.")
        }
        Some(route) if state.route(route).is_none() => {
            field::names_nothing(book, state, subject(), Subject::Route(route.to_owned()));
        }
        Some(_) => {}
    }
    field::position(book, subject, record.latitude_deg, record.longitude_deg);
    field::range(book, subject, "height", "height", record.height.map(|value| value.as_m()));
    field::range(
        book,
        subject,
        "edge distance",
        "edge_distance",
        record.edge_distance.map(|value| value.as_mm()),
    );
    field::range(book, subject, "spacing", "spacing", record.spacing.map(|value| value.as_mm()));
    field::range(book, subject, "rebound value", "rebound", record.rebound);
    field::range(
        book,
        subject,
        "point load index",
        "point_load_index",
        record.point_load_index.map(|value| value.as_mpa()),
    );
    check_order(state, placement, book);
    hardware::check(state, id, today, book);
    seen::check(state, id, today, book);
}

/// Numbers once, heights rising with the numbers.
fn check_order(state: &State, placement: Known<'_, PlacementRecord>, book: &mut Book) {
    let Known { id, record } = placement;
    let Some(number) = record.number else { return };
    let Some(below) = state.placements_before(id).next() else { return };
    if pitch_of(below.record) != pitch_of(record) {
        return;
    }
    let subject = Subject::Placement(id.to_owned());
    if below.record.number == Some(number) {
        let text = format!("Its number {number} is that of {} on the same pitch, too.", below.id);
        book.add(
            subject,
            Severity::Contradiction,
            text,
            "Count the bolts from the ground and correct the numbers, or withdraw the one that was entered twice.",
        );
    } else if let (Some(here), Some(there)) = (record.height, below.record.height)
        && here.as_m() < there.as_m()
    {
        let text = format!(
            "It has the higher number but sits lower ({:.1} m) than {} ({:.1} m).",
            here.as_m(),
            below.id,
            there.as_m()
        );
        book.add(subject, Severity::Doubt, text, "Check both heights and numbers.");
    }
}

/// Records that belong to a placement that is not there.
fn check_strays(state: &State, book: &mut Book) {
    let mut stray = |subject: Subject, placement: Option<&str>| match placement {
        None => book.add(
            subject,
            Severity::Contradiction,
            "It does not say which placement it belongs to.",
            "Enter the placement, or withdraw it.",
        ),
        Some(placement) if state.placement(placement).is_none() => {
            field::names_nothing(book, state, subject, Subject::Placement(placement.to_owned()));
        }
        Some(_) => {}
    };
    for fitting in state.fittings() {
        stray(Subject::Fitting(fitting.id.to_owned()), fitting.record.placement.as_deref());
    }
    for sighting in state.sightings() {
        stray(Subject::Sighting(sighting.id.to_owned()), sighting.record.placement.as_deref());
    }
    for pull in state.pulls() {
        stray(Subject::Pull(pull.id.to_owned()), pull.record.placement.as_deref());
    }
    for photo in state.photos() {
        let Some(shows) = photo.record.shows.as_deref() else { continue };
        let known =
            state.placement(shows).is_some() || state.route(shows).is_some() || state.crag(shows).is_some();
        if !known {
            let text = format!("It shows `{shows}`, which is not in the register.");
            let subject = Subject::Photo(photo.id.to_owned());
            book.add(subject, Severity::Doubt, text, "Say again what it shows.");
        }
    }
}
