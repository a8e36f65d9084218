//! Contradictions become findings; a sound register has none.

#![allow(clippy::unwrap_used)]

use evidence::{Extent, Finding as Found, Seen, Sign};
use hardware::{Kind, Resin};
use jiff::civil::{Date, date};
use proptest::prelude::*;
use register::rules::{self, Severity};
use register::{
    BatchRecord, Body, CragRecord, Fact, FittingRecord, PhotoRecord, PlacementRecord, PullEnd, PullRecord,
    RouteRecord, SightingRecord, Stamp, State, StockRecord, Subject,
};
use units::{Force, Length, Torque};
use uuid::Uuid;

const TODAY: Date = date(2026, 11, 25);
const P1: &str = "harl-quarry/r/1";

fn state(says: Vec<(Subject, Body)>) -> State {
    State::of(says.into_iter().enumerate().map(|(n, (subject, body))| Fact {
        id: Uuid::from_u64_pair(0, n as u64),
        author: "Ines Morrow".into(),
        stamp: Stamp { millis: n as u64, counter: 0, device: "hut".into() },
        wall_millis: 0,
        origin: None,
        subject,
        body,
    }))
}

fn placement(id: &str, number: u16, height: f64) -> (Subject, Body) {
    let record = PlacementRecord {
        route: Some("harl-quarry/r".into()),
        number: Some(number),
        height: Some(Length::m(height)),
        ..Default::default()
    };
    (Subject::Placement(id.into()), Body::Placement(record))
}

fn fitting(id: &str, record: FittingRecord) -> (Subject, Body) {
    let record = FittingRecord { placement: Some(P1.into()), ..record };
    (Subject::Fitting(id.into()), Body::Fitting(record))
}

fn sighting(on: Option<Date>, record: SightingRecord) -> (Subject, Body) {
    let record = SightingRecord { placement: Some(P1.into()), on, ..record };
    (Subject::Sighting("s".into()), Body::Sighting(record))
}

fn pull(on: Option<Date>, end: PullEnd, peak: f64) -> (Subject, Body) {
    let record = PullRecord {
        placement: Some(P1.into()),
        on,
        end: Some(end),
        peak: Some(Force::kn(peak)),
        ..Default::default()
    };
    (Subject::Pull("p".into()), Body::Pull(record))
}

/// A sound placement with a fitting of 2010, and what is added to it.
fn sound(more: Vec<(Subject, Body)>) -> State {
    let mut all = vec![
        (Subject::Crag("harl-quarry".into()), Body::Crag(CragRecord::default())),
        (
            Subject::Route("harl-quarry/r".into()),
            Body::Route(RouteRecord { crag: Some("harl-quarry".into()), ..Default::default() }),
        ),
        placement(P1, 1, 3.0),
        fitting(
            "f1",
            FittingRecord {
                placed_on: Some(date(2010, 5, 1)),
                kind: Some(Kind::WedgeBolt),
                diameter: Some(Length::mm(10.0)),
                length: Some(Length::mm(90.0)),
                embedment: Some(Length::mm(70.0)),
                torque: Some(Torque::nm(35.0)),
                rated_radial: Some(Force::kn(25.0)),
                ..Default::default()
            },
        ),
    ];
    all.extend(more);
    state(all)
}

/// The only finding.
fn only(more: Vec<(Subject, Body)>) -> (Severity, String) {
    let findings = rules::check(&sound(more), TODAY);
    assert_eq!(findings.len(), 1, "{findings:?}");
    (findings[0].severity, findings[0].text.clone())
}

fn f1(record: FittingRecord) -> Vec<(Subject, Body)> {
    vec![fitting("f1", record)]
}

#[test]
fn a_sound_register_has_no_findings() {
    let more = vec![
        placement("harl-quarry/r/2", 2, 5.0),
        sighting(
            Some(date(2020, 1, 1)),
            SightingRecord {
                signs: Some(vec![Seen { sign: Sign::Rust, finding: Found::Present(Extent::Slight) }]),
                ..Default::default()
            },
        ),
        pull(Some(date(2020, 1, 1)), PullEnd::ProofHeld, 8.0),
    ];
    assert_eq!(rules::check(&sound(more), TODAY), []);
}

#[test]
fn each_contradiction_is_found() {
    use Severity::{Contradiction, Doubt, Note};
    let mm = |value: f64| Some(Length::mm(value));
    type Case = (Vec<(Subject, Body)>, Severity, &'static str);
    let cases: Vec<Case> = vec![
        (
            f1(FittingRecord { embedment: mm(110.0), ..Default::default() }),
            Contradiction,
            "embedment (110 mm) is greater",
        ),
        (f1(FittingRecord { embedment: mm(30.0), ..Default::default() }), Doubt, "60 mm would stand out"),
        (
            f1(FittingRecord { diameter: mm(-10.0), ..Default::default() }),
            Contradiction,
            "diameter is -10 mm",
        ),
        (f1(FittingRecord { diameter: mm(0.0), ..Default::default() }), Contradiction, "diameter is 0 mm"),
        (f1(FittingRecord { diameter: mm(55.0), ..Default::default() }), Doubt, "4 to 40 mm"),
        (
            f1(FittingRecord { torque: Some(Torque::nm(900.0)), ..Default::default() }),
            Doubt,
            "torque is 900 N.m",
        ),
        (
            f1(FittingRecord { rated_axial: Some(Force::n(15.0)), ..Default::default() }),
            Doubt,
            "rating straight out is 0.015 kN",
        ),
        (
            f1(FittingRecord { placed_on: Some(date(2062, 5, 1)), ..Default::default() }),
            Contradiction,
            "in the future",
        ),
        (
            f1(FittingRecord { placed_on: Some(date(1889, 5, 1)), ..Default::default() }),
            Contradiction,
            "before there were bolts",
        ),
        (
            f1(FittingRecord { placed_year: Some(2012), ..Default::default() }),
            Contradiction,
            "its year says 2012",
        ),
        (
            f1(FittingRecord { removed_on: Some(date(2009, 5, 1)), ..Default::default() }),
            Contradiction,
            "before it was placed",
        ),
        (f1(FittingRecord { resin: Some(Resin::Epoxy), ..Default::default() }), Doubt, "has a resin"),
        (
            vec![fitting("f2", FittingRecord { placed_on: Some(date(2018, 5, 1)), ..Default::default() })],
            Doubt,
            "never removed",
        ),
        (
            vec![
                fitting("f1", FittingRecord { removed_on: Some(date(2019, 1, 1)), ..Default::default() }),
                fitting("f2", FittingRecord { placed_on: Some(date(2018, 5, 1)), ..Default::default() }),
            ],
            Contradiction,
            "still in the hole when f2",
        ),
        (
            vec![
                fitting("f1", FittingRecord { batch: Some("R-7".into()), ..Default::default() }),
                (
                    Subject::Batch("r-7".into()),
                    Body::Batch(BatchRecord { recalled: Some("brittle".into()), ..Default::default() }),
                ),
            ],
            Doubt,
            "recalled: brittle",
        ),
        (
            vec![sighting(Some(date(2009, 1, 1)), SightingRecord::default())],
            Contradiction,
            "before any fitting",
        ),
        (vec![sighting(Some(date(2027, 1, 1)), SightingRecord::default())], Contradiction, "in the future"),
        (vec![sighting(None, SightingRecord::default())], Note, "has no date"),
        (
            vec![sighting(
                Some(date(2020, 1, 1)),
                SightingRecord {
                    signs: Some(vec![
                        Seen { sign: Sign::Rust, finding: Found::Absent },
                        Seen { sign: Sign::Rust, finding: Found::Present(Extent::Severe) },
                    ]),
                    ..Default::default()
                },
            )],
            Contradiction,
            "two different things",
        ),
        (
            vec![pull(Some(date(2020, 1, 1)), PullEnd::PulledOut, 9.0)],
            Contradiction,
            "f1 is not recorded as removed",
        ),
        (vec![pull(Some(date(2020, 1, 1)), PullEnd::ProofHeld, -9.0)], Contradiction, "peak load is -9 kN"),
        (vec![pull(Some(date(2020, 1, 1)), PullEnd::ProofHeld, 8000.0)], Doubt, "peak load is 8000 kN"),
        (vec![pull(Some(date(2005, 1, 1)), PullEnd::Cone, 9.0)], Contradiction, "before any fitting"),
        (vec![placement("harl-quarry/r/one", 1, 3.0)], Contradiction, "number 1 is that of"),
        (vec![placement("harl-quarry/r/2", 2, 2.0)], Doubt, "sits lower (2.0 m)"),
        (
            vec![(Subject::Crag("harl-quarry".into()), Body::Withdrawn { reason: "twice".into() })],
            Doubt,
            "crag harl-quarry, which was withdrawn",
        ),
        (
            vec![(
                Subject::Placement(P1.into()),
                Body::Placement(PlacementRecord { route: Some("nowhere".into()), ..Default::default() }),
            )],
            Doubt,
            "route nowhere, which is not recorded",
        ),
        (
            vec![(Subject::Fitting("f9".into()), Body::Fitting(FittingRecord::default()))],
            Contradiction,
            "which placement",
        ),
        (
            vec![(
                Subject::Crag("harl-quarry".into()),
                Body::Crag(CragRecord {
                    latitude_deg: Some(95.0),
                    longitude_deg: Some(3.0),
                    ..Default::default()
                }),
            )],
            Contradiction,
            "not on the globe",
        ),
        (
            vec![(
                Subject::Photo("q".into()),
                Body::Photo(PhotoRecord { shows: Some("nothing".into()), ..Default::default() }),
            )],
            Doubt,
            "shows `nothing`",
        ),
        (
            vec![(
                Subject::Stock("m10".into()),
                Body::Stock(StockRecord { price: Some(-1.0), ..Default::default() }),
            )],
            Contradiction,
            "price is negative",
        ),
    ];
    for (more, severity, words) in cases {
        let (found, text) = only(more);
        assert!(text.contains(words), "{text} / {words}");
        assert_eq!(found, severity, "{text}");
    }
}

#[test]
fn a_failed_pull_with_a_removal_afterwards_is_no_contradiction() {
    let more = vec![
        pull(Some(date(2020, 1, 1)), PullEnd::PulledOut, 9.0),
        fitting("f1", FittingRecord { removed_on: Some(date(2020, 1, 1)), ..Default::default() }),
        fitting("f2", FittingRecord { placed_year: Some(2020), ..Default::default() }),
    ];
    assert_eq!(rules::check(&sound(more), TODAY), []);
}

#[test]
fn numbers_that_are_none_are_noticed_before_the_log() {
    let record = FittingRecord { length: Some(Length::mm(f64::INFINITY)), ..Default::default() };
    let (subject, body) = fitting("f1", record);
    let stamp = Stamp { millis: 1, counter: 0, device: "hut".into() };
    let author = "Ines Morrow".to_owned();
    let fact = Fact { id: Uuid::nil(), author, stamp, wall_millis: 0, origin: None, subject, body };
    let finding = rules::of_fact(&fact).unwrap();
    assert_eq!(finding.text, "Not a number, and left out: length.");
    assert_eq!(State::of([fact]).fitting("f1").unwrap().length, None);
}

#[test]
fn findings_of_one_placement_are_those_of_the_whole() {
    let more = f1(FittingRecord { embedment: Some(Length::mm(110.0)), ..Default::default() });
    let state = sound(more);
    assert_eq!(rules::of_placement(&state, P1, TODAY), rules::check(&state, TODAY));
    assert_eq!(rules::of_placement(&state, "nowhere", TODAY), []);
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    /// Any numbers at all: findings, never a panic; what cannot be never reaches a case.
    #[test]
    fn any_numbers(
        sizes in proptest::collection::vec(proptest::option::of(proptest::num::f64::ANY), 4),
        year in any::<Option<i16>>(),
        number in any::<u16>(),
    ) {
        let length = |at: usize| sizes[at].map(Length::m);
        let record = FittingRecord {
            placed_year: year, diameter: length(0), length: length(1), embedment: length(2), ..Default::default()
        };
        let other = PlacementRecord {
            route: Some("harl-quarry/r".into()), number: Some(number), height: length(3), spacing: length(0), ..Default::default()
        };
        let state = sound(vec![fitting("f2", record), (Subject::Placement("x".into()), Body::Placement(other))]);
        rules::check(&state, TODAY);
        for id in [P1, "x"] {
            let case = register::case::of(&state, id, TODAY, &Default::default()).unwrap();
            prop_assert!(case.fitting.diameter.is_none_or(|value| value.as_m() > 0.0));
            prop_assert!(case.age_years.is_none_or(|age| age >= 0.0));
            prop_assert!(case.position.next_gap.is_none_or(|gap| gap.as_m() > 0.0));
        }
    }
}
