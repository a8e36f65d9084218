//! How long the fold takes and how much memory the state needs: one fitting and one sighting per
//! placement, ten placements per route, a hundred routes per crag.

use divan::counter::ItemsCount;
use divan::{AllocProfiler, Bencher};
use hardware::Kind;
use jiff::civil::date;
use register::{
    Body, CragRecord, Fact, FittingRecord, PlacementRecord, RouteRecord, SightingRecord, Stamp, State,
    Subject, case, identity,
};
use std::hint::black_box;
use units::Length;
use uuid::Uuid;

#[global_allocator]
static ALLOC: AllocProfiler = AllocProfiler::system();

fn main() {
    divan::main();
}

fn statements(n: usize) -> impl Iterator<Item = (Subject, Body)> {
    let crag = format!("invented-crag-{}", n / 1000);
    let route = format!("{crag}/route-number-{}", n / 10);
    let number = (n % 10 + 1) as u16;
    let placement = identity::placement(&route, None, number);
    let fitting = FittingRecord {
        placement: Some(placement.clone()),
        placed_year: Some(1990 + (n % 30) as i16),
        kind: Some(Kind::WedgeBolt),
        diameter: Some(Length::mm(10.0)),
        length: Some(Length::mm(90.0)),
        ..Default::default()
    };
    let on = Some(date(2024, 5, (n % 28 + 1) as i8));
    let sighting = SightingRecord { placement: Some(placement.clone()), on, ..Default::default() };
    let place = PlacementRecord {
        route: Some(route.clone()),
        number: Some(number),
        height: Some(Length::m(2.5 * f64::from(number))),
        ..Default::default()
    };
    let of_crag = CragRecord { name: Some(crag.clone()), ..Default::default() };
    let of_route = RouteRecord { crag: Some(crag.clone()), name: Some(route.clone()), ..Default::default() };
    [
        n.is_multiple_of(1000).then_some((Subject::Crag(crag), Body::Crag(of_crag))),
        n.is_multiple_of(10).then_some((Subject::Route(route), Body::Route(of_route))),
        Some((Subject::Fitting(format!("{placement}/f")), Body::Fitting(fitting))),
        Some((Subject::Sighting(identity::sighting(&placement, on, None)), Body::Sighting(sighting))),
        Some((Subject::Placement(placement), Body::Placement(place))),
    ]
    .into_iter()
    .flatten()
}

fn facts(placements: usize) -> impl Iterator<Item = Fact> {
    (0..placements).flat_map(statements).enumerate().map(|(n, (subject, body))| Fact {
        id: Uuid::from_u128((0x0193_0000_0000_7000 << 64) | n as u128),
        author: "Ines Morrow".to_owned(),
        stamp: Stamp { millis: 1_764_000_000_000 + n as u64, counter: 0, device: "bench".to_owned() },
        wall_millis: 1_764_000_000_000,
        origin: None,
        subject,
        body,
    })
}

#[divan::bench(args = [10_000, 100_000, 1_000_000], sample_count = 3, sample_size = 1)]
fn fold(bencher: Bencher, placements: usize) {
    bencher
        .counter(ItemsCount::new(placements))
        .with_inputs(|| facts(placements).collect::<Vec<_>>())
        .bench_values(State::of);
}

/// With the making of the facts, which are dropped one by one: `max alloc` is the memory of the state.
#[divan::bench(args = [100_000, 1_000_000], sample_count = 1, sample_size = 1)]
fn memory_of_state(placements: usize) -> State {
    State::of(facts(placements))
}

#[divan::bench(sample_count = 20)]
fn one_more_sighting(bencher: Bencher) {
    let mut state = State::of(facts(100_000));
    let last = facts(100_000).last();
    bencher.bench_local(|| state.apply(last.clone()));
}

#[divan::bench(sample_count = 3, sample_size = 1)]
fn all_cases_of_100_000(bencher: Bencher) {
    let state = State::of(facts(100_000));
    bencher.counter(ItemsCount::new(100_000usize)).bench_local(|| {
        for placement in state.placements() {
            black_box(case::of(&state, placement.id, date(2026, 11, 25), &case::Params::default()).is_ok());
        }
    });
}
