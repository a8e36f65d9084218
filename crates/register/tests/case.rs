//! From records to cases, with expected values worked out by hand.

#![allow(clippy::unwrap_used)]

use decay::{Setting, Shelter};
use demand::{Role, Steepness, UseClass};
use evidence::{Extent, Finding, Seen, Sign};
use hardware::Kind;
use jiff::civil::{Date, date};
use register::{
    BatchRecord, Body, CragRecord, Fact, FittingRecord, PlacementRecord, PullEnd, PullRecord, RouteRecord,
    SightingRecord, Stamp, State, Subject, case, identity, sisters,
};
use rock::{FieldGrade, RockType, Wetness};
use units::{Force, Length, Stress};
use uuid::Uuid;

const ON: Date = date(2026, 11, 25);

#[derive(Default)]
struct Book(Vec<Fact>);

impl Book {
    fn say(&mut self, subject: Subject, body: Body) -> &mut Self {
        let n = self.0.len() as u64 + 1;
        self.0.push(Fact {
            id: Uuid::from_u64_pair(0, n),
            author: "Ines Morrow".into(),
            stamp: Stamp { millis: n, counter: 0, device: "hut".into() },
            wall_millis: 0,
            origin: None,
            subject,
            body,
        });
        self
    }
    fn crag(&mut self) -> &mut Self {
        let record = CragRecord {
            name: Some("Harl Quarry".into()),
            rock_type: Some(RockType::Granite),
            grade: Some(FieldGrade::R5),
            tested_ucs: Some(Stress::mpa(140.0)),
            wetness: Some(Wetness::Dry),
            setting: Some(Setting::Inland),
            ..Default::default()
        };
        self.say(Subject::Crag("harl-quarry".into()), Body::Crag(record));
        let record = RouteRecord {
            crag: Some("harl-quarry".into()),
            steepness: Some(Steepness::Vertical),
            use_class: Some(UseClass::Popular),
            ..Default::default()
        };
        self.say(Subject::Route("harl-quarry/r".into()), Body::Route(record))
    }
    fn placement(&mut self, number: u16, record: PlacementRecord) -> &mut Self {
        let id = identity::placement("harl-quarry/r", record.pitch, number);
        let record = PlacementRecord { route: Some("harl-quarry/r".into()), number: Some(number), ..record };
        self.say(Subject::Placement(id), Body::Placement(record))
    }
    fn fitting(&mut self, placement: &str, record: FittingRecord) -> &mut Self {
        let id = identity::fitting(placement, (&record).into());
        self.say(
            Subject::Fitting(id),
            Body::Fitting(FittingRecord { placement: Some(placement.into()), ..record }),
        )
    }
    fn sighting(&mut self, placement: &str, on: Option<Date>, record: SightingRecord) -> &mut Self {
        let id = identity::sighting(placement, on, record.by.as_deref());
        let record = SightingRecord { placement: Some(placement.into()), on, ..record };
        self.say(Subject::Sighting(id), Body::Sighting(record))
    }
    fn pull(&mut self, placement: &str, on: Option<Date>, record: PullRecord) -> &mut Self {
        let id = identity::pull(placement, on, 1);
        self.say(
            Subject::Pull(id),
            Body::Pull(PullRecord { placement: Some(placement.into()), on, ..record }),
        )
    }
    fn state(&self) -> State {
        State::of(self.0.clone())
    }
}

fn at(height: f64) -> PlacementRecord {
    PlacementRecord { height: Some(Length::m(height)), ..Default::default() }
}

fn placed(on: Date) -> FittingRecord {
    FittingRecord {
        placed_on: Some(on),
        kind: Some(Kind::WedgeBolt),
        diameter: Some(Length::mm(10.0)),
        ..Default::default()
    }
}

fn saw(sign: Sign, finding: Finding) -> SightingRecord {
    SightingRecord { signs: Some(vec![Seen { sign, finding }]), ..Default::default() }
}

const P1: &str = "harl-quarry/r/1";
const P2: &str = "harl-quarry/r/2";

fn judged(state: &State, id: &str) -> judgement::Case {
    case::of(state, id, ON, &case::Params::default()).unwrap()
}

#[test]
fn placement_overrides_route_overrides_crag() {
    let mut book = Book::default();
    book.crag().placement(1, at(3.0)).placement(
        2,
        PlacementRecord {
            wetness: Some(Wetness::Wet),
            steepness: Some(Steepness::Roof),
            shelter: Some(Shelter::Seeping),
            rock_type: Some(RockType::Limestone),
            role: Some(Role::Runner),
            ..at(5.5)
        },
    );
    let state = book.state();
    let plain = judged(&state, P1);
    assert_eq!(plain.rock.rock_type, Some(RockType::Granite));
    assert_eq!(plain.rock.grade, Some(FieldGrade::R5));
    assert_eq!(plain.rock.wetness, Some(Wetness::Dry));
    assert_eq!(plain.position.steepness, Some(Steepness::Vertical));
    assert_eq!(plain.position.use_class, Some(UseClass::Popular));
    assert_eq!(plain.position.role, None);
    assert_eq!(plain.environment.setting, Some(Setting::Inland));
    assert_eq!(plain.fitting, hardware::Fitting::default());
    let own = judged(&state, P2);
    assert_eq!(own.rock.rock_type, Some(RockType::Limestone));
    // The crag's grade and test are of granite.
    assert_eq!((own.rock.grade, own.rock.tested_ucs), (None, None));
    assert_eq!(own.rock.wetness, Some(Wetness::Wet));
    assert_eq!(own.position.steepness, Some(Steepness::Roof));
    assert_eq!(own.environment.shelter, Some(Shelter::Seeping));
}

#[test]
fn gap_to_the_next_of_the_pitch() {
    let mut book = Book::default();
    book.crag().placement(1, at(3.0)).placement(2, at(5.5)).placement(3, PlacementRecord::default());
    book.placement(4, at(10.0))
        .placement(5, at(10.0))
        .placement(1, PlacementRecord { pitch: Some(2), ..at(2.0) });
    let state = book.state();
    let gap = |id: &str| judged(&state, id).position.next_gap.map(|gap| (gap.as_mm()).round());
    assert_eq!(gap(P1), Some(2500.0));
    assert_eq!(gap(P2), None, "the next one's height is not known");
    assert_eq!(gap("harl-quarry/r/4"), None, "the two of a belay, then another pitch");
    assert_eq!(gap("harl-quarry/r/p2-1"), None, "the last one");
}

#[test]
fn age_and_proofs_count_from_their_dates() {
    let mut book = Book::default();
    let proof = |axial| PullRecord {
        end: Some(PullEnd::ProofHeld),
        peak: Some(Force::kn(8.0)),
        axial,
        ..Default::default()
    };
    book.crag().placement(1, at(3.0)).fitting(P1, placed(date(2016, 11, 25)));
    book.pull(P1, Some(date(2015, 1, 1)), proof(Some(true)));
    book.pull(P1, Some(date(2024, 11, 25)), proof(Some(true)));
    book.pull(P1, Some(date(2025, 11, 25)), proof(None));
    book.placement(2, at(5.0)).fitting(P2, FittingRecord { placed_year: Some(1996), ..Default::default() });
    let state = book.state();
    let (case, provenance) = case::traced(&state, P1, ON, &case::Params::default()).unwrap();
    // Ten years with the leap days of 2020 and 2024: 3652 days.
    assert!((case.age_years.unwrap() - 3652.0 / 365.25).abs() < 1e-12);
    assert_eq!(case.proofs.len(), 1);
    assert!((case.proofs[0].years_ago - 730.0 / 365.25).abs() < 1e-12);
    assert_eq!(provenance.left_out.len(), 2, "{:?}", provenance.left_out);
    let diameter = provenance.given.iter().find(|given| given.field == "fitting.diameter").unwrap();
    assert_eq!(diameter.subject, Subject::Fitting(format!("{P1}/f2016-11-25")));
    assert_eq!(diameter.fact, Some(Uuid::from_u64_pair(0, 4)));
    // Middle of 1996 to 25 November 2026 (day 329 of 365): 30.4 years.
    let age = judged(&state, P2).age_years.unwrap();
    assert!((age - 30.4).abs() < 0.01, "{age}");
}

#[test]
fn newest_finding_of_each_sign_in_the_life_of_the_fitting() {
    use Extent::{Marked, Severe, Slight};
    use Finding::{Absent, Present};
    let mut book = Book::default();
    book.crag().placement(1, at(3.0));
    book.fitting(P1, FittingRecord { removed_on: Some(date(2018, 5, 1)), ..placed(date(1995, 5, 1)) });
    book.fitting(P1, placed(date(2018, 5, 1)));
    book.sighting(P1, Some(date(2017, 5, 1)), saw(Sign::Rust, Present(Severe)));
    book.sighting(P1, Some(date(2017, 6, 1)), saw(Sign::RockHollow, Present(Marked)));
    // On the day of the replacement: of the old one or the new?
    book.sighting(P1, Some(date(2018, 5, 1)), saw(Sign::MovesInHole, Present(Severe)));
    book.sighting(P1, Some(date(2020, 5, 1)), saw(Sign::NutLoose, Present(Marked)));
    book.sighting(
        P1,
        Some(date(2022, 5, 1)),
        SightingRecord {
            signs: Some(vec![
                Seen { sign: Sign::NutLoose, finding: Absent },
                Seen { sign: Sign::Worn, finding: Absent },
            ]),
            proud: Some(Length::mm(4.0)),
            ..Default::default()
        },
    );
    let by = |name: &str, record: SightingRecord| SightingRecord { by: Some(name.into()), ..record };
    book.sighting(P1, Some(date(2022, 5, 1)), by("Tam Orrin", saw(Sign::Worn, Present(Slight))));
    book.sighting(P1, Some(date(2027, 1, 1)), saw(Sign::Bent, Present(Severe)));
    book.sighting(P1, None, saw(Sign::Proud, Present(Severe)));
    let case = judged(&book.state(), P1);
    let signs: Vec<_> = case.signs.iter().map(|seen| (seen.sign, seen.finding)).collect();
    assert_eq!(
        signs,
        [(Sign::NutLoose, Absent), (Sign::Worn, Present(Slight)), (Sign::RockHollow, Present(Marked))]
    );
    assert_eq!(case.proud, Some(Length::mm(4.0)));
    // 2022-05-01 to 2026-11-25.
    assert!((case.last_seen_years_ago.unwrap() - 1669.0 / 365.25).abs() < 1e-12);
}

#[test]
fn damage_that_does_not_heal_outlasts_a_later_look() {
    use Finding::{Absent, Present};
    let mut book = Book::default();
    book.crag().placement(1, at(3.0)).fitting(P1, placed(date(2010, 5, 1)));
    for (sign, on, finding) in [
        (Sign::MetalCrack, date(2022, 5, 1), Present(Extent::Severe)),
        (Sign::MetalCrack, date(2025, 5, 1), Absent),
        (Sign::NutLoose, date(2022, 5, 1), Present(Extent::Severe)),
        (Sign::NutLoose, date(2025, 5, 1), Absent),
    ] {
        let by = if finding == Absent { "Ada" } else { "Bo" };
        let record = SightingRecord { by: Some(format!("{by} {sign:?}")), ..saw(sign, finding) };
        book.sighting(P1, Some(on), record);
    }
    let found = |sign| judged(&book.state(), P1).signs.iter().find(|s| s.sign == sign).unwrap().finding;
    assert_eq!(found(Sign::MetalCrack), Present(Extent::Severe));
    assert_eq!(found(Sign::NutLoose), Absent, "a nut can be tightened");
}

#[test]
fn a_recall_and_the_date_of_a_measured_loss_reach_the_case() {
    let mut book = Book::default();
    book.crag().placement(1, at(3.0));
    book.fitting(P1, FittingRecord { batch: Some("VB-0417".into()), ..placed(date(2010, 5, 1)) });
    let loss = SightingRecord { measured_loss: Some(Length::mm(0.4)), ..Default::default() };
    book.sighting(P1, Some(date(2016, 11, 25)), loss);
    let batch = |recalled: Option<&str>| BatchRecord {
        code: Some("VB-0417".into()),
        recalled: recalled.map(str::to_owned),
        ..Default::default()
    };
    let subject = || Subject::Batch(identity::batch("VB-0417"));
    book.say(subject(), Body::Batch(batch(None)));
    assert!(!judged(&book.state(), P1).recalled);
    book.say(subject(), Body::Batch(batch(Some("resin may stay soft"))));
    let case = judged(&book.state(), P1);
    assert!(case.recalled);
    let (depth, years_ago) = case.measured_loss.unwrap();
    assert_eq!(depth, Length::mm(0.4));
    // 2016-11-25 to 2026-11-25: 3652 days
    assert!((years_ago - 3652.0 / 365.25).abs() < 1e-12, "{years_ago}");
}

#[test]
fn a_year_alone_starts_when_the_one_before_came_out() {
    let mut book = Book::default();
    book.crag().placement(1, at(3.0));
    book.fitting(P1, FittingRecord { removed_on: Some(date(2018, 6, 1)), ..placed(date(1995, 5, 1)) });
    book.fitting(P1, FittingRecord { placed_year: Some(2018), ..Default::default() });
    book.sighting(P1, Some(date(2018, 3, 1)), saw(Sign::Rust, Finding::Present(Extent::Severe)));
    assert!(judged(&book.state(), P1).signs.is_empty(), "the rust was that of the old one");
    book.sighting(P1, Some(date(2018, 9, 1)), saw(Sign::Rust, Finding::Absent));
    assert_eq!(judged(&book.state(), P1).signs.len(), 1);
}

#[test]
fn the_current_fitting_is_the_one_placed_last_and_not_removed() {
    let mut book = Book::default();
    book.crag().placement(1, at(3.0)).fitting(P1, placed(date(1995, 5, 1)));
    book.fitting(P1, FittingRecord { diameter: Some(Length::mm(12.0)), ..placed(date(2018, 5, 1)) });
    let state = book.state();
    let diameter = |on| case::of(&state, P1, on, &case::Params::default()).unwrap().fitting.diameter;
    assert_eq!(diameter(ON), Some(Length::mm(12.0)));
    assert_eq!(diameter(date(2018, 4, 30)), Some(Length::mm(10.0)));
    // Replaced some time in 2018: while the old one was in, it was the old one.
    book.placement(2, at(5.0));
    book.fitting(P2, FittingRecord { removed_on: Some(date(2018, 6, 1)), ..placed(date(1995, 5, 1)) });
    book.fitting(
        P2,
        FittingRecord { placed_year: Some(2018), diameter: Some(Length::mm(12.0)), ..Default::default() },
    );
    let replaced = book.state();
    let year = |on: Date| replaced.current_fitting(P2, on).unwrap().record.placed_year;
    assert_eq!((year(date(2018, 5, 31)), year(date(2018, 6, 1))), (None, Some(2018)));
    book.placement(3, at(7.0)).fitting("harl-quarry/r/3", placed(date(1995, 5, 1)));
    book.fitting("harl-quarry/r/3", FittingRecord { placed_year: Some(2018), ..Default::default() });
    let unsaid = book.state();
    let broke = unsaid.fitting_pulled("harl-quarry/r/3", date(2018, 6, 1), Some(PullEnd::Cone)).unwrap();
    assert_eq!(broke.record.placed_year, None, "the new one came after the old one broke");
    let pulled = replaced.fitting_pulled(P2, date(2018, 6, 1), Some(PullEnd::Cone)).unwrap();
    assert_eq!(pulled.record.placed_year, None, "the one that came out on the day of the pull");
    let removed = FittingRecord { removed_on: Some(date(2020, 1, 1)), ..Default::default() };
    for old in ["f1995-05-01", "f2018-05-01"] {
        book.say(Subject::Fitting(format!("{P1}/{old}")), Body::Fitting(removed.clone()));
    }
    let error = case::of(&book.state(), P1, ON, &case::Params::default()).unwrap_err();
    assert_eq!(error, case::CaseError::Empty { id: P1.into(), since: date(2020, 1, 1) });
    assert!(matches!(
        case::of(&state, "nowhere", ON, &case::Params::default()),
        Err(case::CaseError::NoPlacement { .. })
    ));
}

#[test]
fn a_fitting_that_gave_way_says_so() {
    let mut book = Book::default();
    let pull = PullRecord { end: Some(PullEnd::PulledOut), peak: Some(Force::kn(6.0)), ..Default::default() };
    book.crag().placement(1, at(3.0)).fitting(P1, placed(date(2010, 5, 1)));
    book.pull(P1, Some(date(2020, 6, 1)), pull);
    let gave_way =
        |state: &State, on| case::of(state, P1, on, &case::Params::default()).unwrap().gave_way_years_ago;
    let state = book.state();
    assert_eq!(gave_way(&state, date(2020, 5, 31)), None, "before the pull");
    assert_eq!(gave_way(&state, date(2020, 6, 1)), Some(0.0));
    assert!(gave_way(&state, ON).is_some());
    // Replaced on the same day, though nobody wrote that the old one came out.
    book.fitting(P1, placed(date(2020, 6, 1)));
    assert_eq!(gave_way(&book.state(), ON), None);
    let removed = FittingRecord { removed_on: Some(date(2020, 6, 1)), ..Default::default() };
    book.say(Subject::Fitting(format!("{P1}/f2010-05-01")), Body::Fitting(removed));
    assert_eq!(gave_way(&book.state(), ON), None);
    // The new one is proved on that day, and gives way a year later.
    let pulled = |end| book.state().fitting_pulled(P1, date(2020, 6, 1), Some(end)).unwrap().id.to_owned();
    assert_eq!(pulled(PullEnd::ProofHeld), format!("{P1}/f2020-06-01"));
    assert_eq!(pulled(PullEnd::PulledOut), format!("{P1}/f2010-05-01"));
    let again = PullRecord { end: Some(PullEnd::SteelBroke), ..Default::default() };
    book.pull(P1, Some(date(2021, 6, 1)), again);
    assert!(gave_way(&book.state(), ON).is_some());
}

#[test]
fn what_cannot_be_is_left_out_and_said() {
    let mut book = Book::default();
    book.crag().placement(1, at(-3.0));
    let record = FittingRecord {
        length: Some(Length::mm(-90.0)),
        rated_radial: Some(Force::kn(25.0)),
        ..placed(date(2062, 5, 1))
    };
    book.fitting(P1, record);
    let (case, provenance) = case::traced(&book.state(), P1, ON, &case::Params::default()).unwrap();
    assert_eq!((case.fitting.length, case.fitting.rating, case.age_years), (None, None, None));
    assert_eq!(case.position.height, None);
    assert_eq!(case.fitting.diameter, Some(Length::mm(10.0)));
    let fields: Vec<_> = provenance.left_out.iter().map(|left| left.subject.kind()).collect();
    assert_eq!(fields, ["fitting", "fitting", "fitting", "placement"]);
}

#[test]
fn spacing_is_that_of_the_partner_at_a_belay() {
    let mut book = Book::default();
    let belay = |spacing: Option<f64>| PlacementRecord {
        role: Some(Role::Belay),
        spacing: spacing.map(Length::mm),
        ..at(20.0)
    };
    book.crag().placement(1, at(3.0)).placement(8, belay(Some(250.0))).placement(9, belay(None));
    let state = book.state();
    assert_eq!(judged(&state, "harl-quarry/r/9").surroundings.spacing, Some(Length::mm(250.0)));
    assert_eq!(judged(&state, P1).surroundings.spacing, None);
    book.placement(10, belay(None));
    assert_eq!(judged(&book.state(), "harl-quarry/r/9").surroundings.spacing, None, "three points");
}

#[test]
fn sisters_share_crag_rock_and_kind() {
    let mut book = Book::default();
    book.crag();
    let broke = |peak| PullRecord {
        end: Some(PullEnd::Cone),
        peak: Some(Force::kn(peak)),
        axial: Some(true),
        ..Default::default()
    };
    for number in 1..=5 {
        book.placement(number, at(f64::from(number)));
    }
    let id = |number: u16| identity::placement("harl-quarry/r", None, number);
    book.fitting(&id(1), placed(date(2010, 1, 1)));
    // Removed on the day of the pull.
    book.fitting(&id(2), FittingRecord { removed_on: Some(date(2020, 6, 1)), ..placed(date(2010, 1, 1)) });
    book.pull(&id(2), Some(date(2020, 6, 1)), broke(21.0));
    book.fitting(&id(3), FittingRecord { kind: Some(Kind::GlueIn), ..placed(date(2010, 1, 1)) });
    book.pull(&id(3), Some(date(2020, 6, 1)), broke(40.0));
    book.fitting(&id(4), placed(date(2010, 1, 1)));
    book.pull(&id(4), Some(date(2020, 6, 1)), PullRecord { end: Some(PullEnd::ProofHeld), ..broke(8.0) });
    book.fitting(&id(5), placed(date(2010, 1, 1)));
    book.pull(&id(5), Some(date(2027, 6, 1)), broke(19.0));
    let state = book.state();
    let found = sisters(&state, P1, ON);
    let mut peaks: Vec<f64> = found.iter().map(|pull| pull.peak.as_kn()).collect();
    peaks.sort_by(f64::total_cmp);
    assert_eq!(peaks, [8.0, 21.0], "the failure and the proof that held, of this kind and by this date");
    assert_eq!(sisters(&state, P2, date(2020, 5, 1)), [], "no pull by then");
}
