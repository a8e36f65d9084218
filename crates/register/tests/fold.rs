//! The state depends on which facts are there and on nothing else.

#![allow(clippy::unwrap_used)]

use hardware::Kind;
use jiff::civil::date;
use proptest::prelude::*;
use register::{
    Body, Clock, CragRecord, Fact, FittingRecord, Folded, Log, PhotoRecord, PlacementRecord, RouteRecord,
    SightingRecord, Stamp, State, Subject,
};
use units::{Length, Torque};
use uuid::Uuid;

/// Few subjects and few values, so that facts meet and contradict each other.
fn statement() -> impl Strategy<Value = (Subject, Body)> {
    let text = || prop_oneof![Just(None), "[ab]".prop_map(Some)];
    let length = || prop_oneof![Just(None), Just(Some(Length::mm(8.0))), Just(Some(Length::mm(f64::NAN)))];
    let crag = ("[cd]", text())
        .prop_map(|(id, name)| (Subject::Crag(id), Body::Crag(CragRecord { name, ..CragRecord::default() })));
    let route =
        ("[rs]", prop_oneof![Just(None), "[cd]".prop_map(Some)], text()).prop_map(|(id, crag, name)| {
            (Subject::Route(id), Body::Route(RouteRecord { crag, name, ..RouteRecord::default() }))
        });
    let placement = (
        "[1-3]",
        prop_oneof![Just(None), "[rs]".prop_map(Some)],
        proptest::option::of(1u16..4),
        proptest::option::of(1u16..3),
        length(),
    )
        .prop_map(|(id, route, number, pitch, height)| {
            let record = PlacementRecord { route, number, pitch, height, ..PlacementRecord::default() };
            (Subject::Placement(id), Body::Placement(record))
        });
    let fitting = (
        "f[1-2]",
        proptest::option::of("[1-3]"),
        proptest::option::of(1i8..4),
        length(),
        proptest::option::of(Just(Kind::GlueIn)),
        proptest::option::of("[xX]"),
    )
        .prop_map(|(id, placement, day, diameter, kind, batch)| {
            let placed_on = day.map(|day| date(2019, 5, day));
            let record =
                FittingRecord { placement, placed_on, diameter, kind, batch, ..FittingRecord::default() };
            (Subject::Fitting(id), Body::Fitting(record))
        });
    let sighting = ("s[1-2]", proptest::option::of("[1-3]"), proptest::option::of(1i8..4)).prop_map(
        |(id, placement, day)| {
            let on = day.map(|day| date(2024, 5, day));
            let torque = on.map(|_| Torque::nm(20.0));
            let record = SightingRecord { placement, on, torque, ..SightingRecord::default() };
            (Subject::Sighting(id), Body::Sighting(record))
        },
    );
    let photo = ("q[1-2]", proptest::option::of("[1-3]")).prop_map(|(id, shows)| {
        (Subject::Photo(id), Body::Photo(PhotoRecord { shows, ..PhotoRecord::default() }))
    });
    let any_subject = prop_oneof![
        "[1-3]".prop_map(Subject::Placement),
        "f[1-2]".prop_map(Subject::Fitting),
        "[cd]".prop_map(Subject::Crag),
    ];
    let withdrawal =
        any_subject.clone().prop_map(|subject| (subject, Body::Withdrawn { reason: "twice".into() }));
    let fields =
        proptest::sample::subsequence(vec!["name", "placement", "route", "diameter", "no field"], 0..4);
    let retraction = (any_subject, fields).prop_map(|(subject, fields)| {
        let fields = fields.into_iter().map(str::to_owned).collect();
        (subject, Body::Retracted { fields, reason: "not so".into() })
    });
    // A record of another kind than its subject says nothing.
    let mismatch = Just((Subject::Crag("c".into()), Body::Route(RouteRecord::default())));
    prop_oneof![
        2 => crag, 2 => route, 4 => placement, 4 => fitting, 2 => sighting, 1 => photo,
        2 => withdrawal, 2 => retraction, 1 => mismatch
    ]
}

/// Facts with few distinct stamps, so that ties are broken by device and by id.
fn facts() -> impl Strategy<Value = Vec<Fact>> {
    let one = (statement(), 0u64..4, 0u32..2, "[mn]");
    proptest::collection::vec(one, 0..40).prop_map(|all| {
        all.into_iter()
            .enumerate()
            .map(|(n, ((subject, body), millis, counter, device))| Fact {
                // Ids in an order of their own.
                id: Uuid::from_u128((n as u128).wrapping_mul(0x9E37_79B9_7F4A_7C15_F39C_C060_5CED_C835)),
                author: "Ines Morrow".into(),
                stamp: Stamp { millis, counter, device },
                wall_millis: 0,
                origin: None,
                subject,
                body,
            })
            .collect()
    })
}

fn log(facts: &[Fact]) -> Log {
    let mut log = Log::default();
    for fact in facts {
        log.add(fact.clone()).unwrap();
    }
    log
}

/// Everything that look-ups show, in the order they show it.
fn shown(state: &State) -> String {
    let on = date(2019, 5, 2);
    let mut out = format!("{:?} {:?}\n", state.counts(), state.latest());
    for crag in state.crags() {
        out += &format!("{crag:?} {:?}\n", state.routes_of(crag.id).collect::<Vec<_>>());
    }
    for route in state.routes() {
        out += &format!("{route:?} {:?}\n", state.placements_of(route.id).collect::<Vec<_>>());
    }
    for placement in state.placements() {
        out += &format!(
            "{placement:?} {:?} {:?} {:?} {:?} {:?}\n",
            state.fittings_of(placement.id).collect::<Vec<_>>(),
            state.current_fitting(placement.id, on),
            state.sightings_of(placement.id).collect::<Vec<_>>(),
            state.photos_of(placement.id).collect::<Vec<_>>(),
            state.crag_of(placement.id),
        );
    }
    out + &format!("{:?}", state.fittings_of_batch("x").collect::<Vec<_>>())
}

/// The rule in its plainest form: per field the statement with the greatest (stamp, id).
fn diameter_by_hand(facts: &[Fact], id: &str) -> Option<Length> {
    let mut best: Option<(&Stamp, Uuid, Option<Length>)> = None;
    for fact in facts.iter().filter(|fact| fact.subject == Subject::Fitting(id.into())) {
        let says = match &fact.body {
            Body::Fitting(record) => record.diameter.filter(|diameter| diameter.is_finite()).map(Some),
            Body::Retracted { fields, .. } => fields.iter().any(|field| field == "diameter").then_some(None),
            _ => None,
        };
        if let Some(value) = says
            && best.is_none_or(|(stamp, id, _)| (stamp, id) < (&fact.stamp, fact.id))
        {
            best = Some((&fact.stamp, fact.id, value));
        }
    }
    best.and_then(|(_, _, value)| value)
}

fn visible_by_hand(facts: &[Fact], id: &str) -> bool {
    let about = || facts.iter().filter(|fact| fact.subject == Subject::Fitting(id.into()));
    let latest = |wanted: fn(&Body) -> bool| {
        about().filter(|fact| wanted(&fact.body)).map(|fact| (&fact.stamp, fact.id)).max()
    };
    let stated = latest(|body| matches!(body, Body::Fitting(_)));
    stated.is_some() && stated > latest(|body| matches!(body, Body::Withdrawn { .. }))
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_order_and_any_split_give_the_same_state(
        (facts, shuffled) in facts().prop_flat_map(|facts| (Just(facts.clone()), Just(facts).prop_shuffle())),
        cut in 0usize..40,
        again in 0usize..40,
    ) {
        let straight = State::of(facts.clone());
        let mut pieces = State::default();
        let cut = cut.min(shuffled.len());
        pieces.apply(shuffled[..cut].to_vec());
        pieces.apply(shuffled[cut..].to_vec());
        // Facts that come twice change nothing.
        pieces.apply(shuffled[again.min(shuffled.len())..].to_vec());
        prop_assert!(straight == pieces);
        prop_assert_eq!(shown(&straight), shown(&pieces));
    }

    #[test]
    fn fields_and_visibility_follow_the_plain_rule(facts in facts()) {
        let state = State::of(facts.clone());
        for id in ["f1", "f2"] {
            let visible = visible_by_hand(&facts, id);
            prop_assert_eq!(state.fitting(id).is_some(), visible);
            if visible {
                prop_assert_eq!(state.fitting(id).unwrap().diameter, diameter_by_hand(&facts, id));
            }
        }
    }

    #[test]
    fn merge_is_a_union(a in facts(), cut in 0usize..40, other in 0usize..40) {
        let (cut, other) = (cut.min(a.len()), other.min(a.len()));
        let (x, y, z) = (log(&a[..cut]), log(&a[other..]), log(&a[cut.min(other)..cut.max(other)]));
        let merge = |a: &Log, b: &Log| a.clone().merge(b.clone()).unwrap();
        prop_assert_eq!(merge(&x, &y), merge(&y, &x));
        prop_assert_eq!(merge(&merge(&x, &y), &z), merge(&x, &merge(&y, &z)));
        prop_assert_eq!(merge(&x, &x), x.clone());
        let all = merge(&merge(&x, &y), &z);
        prop_assert!(State::of(merge(&y, &x)) == State::of(merge(&x, &y)));
        prop_assert!(State::of(all) == State::of(merge(&z, &merge(&y, &x))));
    }

    #[test]
    fn states_taken_apart_come_back(facts in facts(), more in facts()) {
        let mut state = State::of(facts.clone());
        let mut subjects: Vec<Subject> = facts.iter().map(|fact| fact.subject.clone()).collect();
        subjects.sort();
        subjects.dedup();
        let parts: Vec<Folded> = subjects.iter().filter_map(|subject| state.folded(subject)).collect();
        let text = serde_json::to_string(&parts).unwrap();
        let parts: Vec<Folded> = serde_json::from_str(&text).unwrap();
        let mut back = State::restore(parts);
        prop_assert!(back == state);
        prop_assert_eq!(back.counts(), state.counts());
        // ... and go on as before.
        let more: Vec<Fact> = more.into_iter().map(|mut fact| { fact.id = Uuid::from_u128(!fact.id.as_u128()); fact }).collect();
        state.apply(more.clone());
        back.apply(more);
        prop_assert!(back == state);
    }

    #[test]
    fn what_is_known_is_no_news(facts in facts()) {
        let state = State::of(facts.clone());
        for fact in &facts {
            if let Some(news) = state.news(&fact.subject, fact.body.clone()) {
                let mut next = state.clone();
                let stamp = Stamp { millis: 100, counter: 0, device: "z".into() };
                let fact = Fact { id: Uuid::from_u128(u128::MAX), stamp, body: news, ..fact.clone() };
                let body = fact.body.clone();
                let subject = fact.subject.clone();
                next.apply([fact]);
                if body.says() == subject.kind() {
                    prop_assert_eq!(next.news(&subject, body), None);
                }
            }
        }
    }
}

/// Three devices, one clock a week ahead, one in the past, each working offline and syncing in turns.
#[test]
fn three_devices_meet() {
    struct Device {
        clock: Clock,
        log: Log,
        count: u128,
        seed: u128,
    }
    impl Device {
        fn new(name: &str, seed: u128) -> Self {
            Self { clock: Clock::resume(name, None), log: Log::default(), count: 0, seed }
        }
        fn say(&mut self, now: u64, diameter: f64) {
            self.count += 1;
            let record = FittingRecord { diameter: Some(Length::mm(diameter)), ..FittingRecord::default() };
            let fact = Fact {
                id: Uuid::from_u128(self.seed + self.count),
                author: "Ines Morrow".into(),
                stamp: self.clock.tick(now),
                wall_millis: now as i64,
                origin: None,
                subject: Subject::Fitting("f1".into()),
                body: Body::Fitting(record),
            };
            self.log.add(fact).unwrap();
        }
        fn hear(&mut self, other: &Device) {
            for fact in other.log.facts() {
                self.clock.observe(&fact.stamp).unwrap();
            }
            self.log = self.log.clone().merge(other.log.clone()).unwrap();
        }
        fn diameter(&self) -> f64 {
            let state = State::of(self.log.clone());
            state.fitting("f1").unwrap().diameter.unwrap().as_mm().round()
        }
    }
    let now = 1_764_000_000_000;
    let week = 7 * 86_400_000;
    let (mut fast, mut right, mut past) =
        (Device::new("a", 1 << 64), Device::new("b", 2 << 64), Device::new("c", 3 << 64));
    fast.say(now + week, 10.0);
    right.say(now, 12.0);
    past.say(now - 100 * week, 8.0);
    // Nobody had seen another's word, so the fast clock wins everywhere alike.
    for (to, from) in [(0, 1), (1, 2), (2, 0), (0, 2), (1, 0), (2, 1)] {
        let other = Device { log: [&fast, &right, &past][from].log.clone(), ..Device::new("x", 0) };
        [&mut fast, &mut right, &mut past][to].hear(&other);
    }
    assert_eq!([fast.diameter(), right.diameter(), past.diameter()], [10.0; 3]);
    // The device with its clock in the past corrects what it has seen, and wins.
    past.say(now - 100 * week + 1, 16.0);
    right.hear(&past);
    fast.hear(&right);
    assert_eq!([fast.diameter(), right.diameter(), past.diameter()], [16.0; 3]);
    assert_eq!(fast.log, past.log);
}

#[test]
fn two_contents_under_one_id_are_refused() {
    let fact = |name: &str| Fact {
        id: Uuid::from_u128(7),
        author: "Ines Morrow".into(),
        stamp: Stamp { millis: 1, counter: 0, device: "a".into() },
        wall_millis: 0,
        origin: None,
        subject: Subject::Crag("c".into()),
        body: Body::Crag(CragRecord { name: Some(name.into()), ..CragRecord::default() }),
    };
    let mut log = Log::default();
    assert!(log.add(fact("Harl Quarry")).unwrap());
    assert!(!log.add(fact("Harl Quarry")).unwrap());
    let error = log.add(fact("Tern Head")).unwrap_err();
    assert!(error.to_string().contains("twice with different content"));
    assert_eq!(log.len(), 1);
}
