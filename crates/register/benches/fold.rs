//! How long the fold takes: one fitting and one sighting per placement, ten placements per route.

use divan::Bencher;
use divan::counter::ItemsCount;
use hardware::Kind;
use jiff::civil::date;
use register::{
    Body, CragRecord, Fact, FittingRecord, PlacementRecord, RouteRecord, SightingRecord, Stamp, State,
    Subject, identity,
};
use units::Length;
use uuid::Uuid;

fn main() {
    divan::main();
}

fn facts(placements: usize) -> Vec<Fact> {
    let mut out = Vec::with_capacity(placements * 3 + placements / 5);
    let mut say = |subject, body| {
        let n = out.len() as u128;
        out.push(Fact {
            id: Uuid::from_u128((0x0193_0000_0000_7000 << 64) | n),
            author: "Ines Morrow".to_owned(),
            stamp: Stamp { millis: 1_764_000_000_000 + n as u64, counter: 0, device: "bench".to_owned() },
            wall_millis: 1_764_000_000_000,
            origin: None,
            subject,
            body,
        });
    };
    for n in 0..placements {
        let crag = identity::crag(&format!("Invented Crag {}", n / 1000));
        let route = format!("{crag}/route-number-{}", n / 10);
        if n % 1000 == 0 {
            say(
                Subject::Crag(crag.clone()),
                Body::Crag(CragRecord { name: Some(crag.clone()), ..Default::default() }),
            );
        }
        if n % 10 == 0 {
            let record = RouteRecord { crag: Some(crag), name: Some(route.clone()), ..Default::default() };
            say(Subject::Route(route.clone()), Body::Route(record));
        }
        let number = (n % 10 + 1) as u16;
        let placement = identity::placement(&route, None, number);
        let record = PlacementRecord {
            route: Some(route),
            number: Some(number),
            height: Some(Length::m(2.5 * f64::from(number))),
            ..Default::default()
        };
        say(Subject::Placement(placement.clone()), Body::Placement(record));
        let record = FittingRecord {
            placement: Some(placement.clone()),
            placed_year: Some(1990 + (n % 30) as i16),
            kind: Some(Kind::WedgeBolt),
            diameter: Some(Length::mm(10.0)),
            length: Some(Length::mm(90.0)),
            ..Default::default()
        };
        say(Subject::Fitting(format!("{placement}/f")), Body::Fitting(record));
        let on = Some(date(2024, 5, (n % 28 + 1) as i8));
        let record = SightingRecord { placement: Some(placement.clone()), on, ..Default::default() };
        say(Subject::Sighting(identity::sighting(&placement, on, None)), Body::Sighting(record));
    }
    out
}

#[divan::bench(args = [10_000, 100_000, 1_000_000], sample_count = 3, sample_size = 1)]
fn fold(bencher: Bencher, placements: usize) {
    bencher.counter(ItemsCount::new(placements)).with_inputs(|| facts(placements)).bench_values(State::of);
}

#[divan::bench(sample_count = 20)]
fn one_more_sighting(bencher: Bencher) {
    let mut facts = facts(100_000);
    let last = facts.pop();
    let mut state = State::of(facts);
    bencher.bench_local(|| state.apply(last.clone()));
}
