//! Writing and reading of a register file. Facts per placement: one of the placement, its fitting and a
//! sighting; ten placements per route.

use divan::Bencher;
use divan::counter::ItemsCount;
use hardware::Kind;
use jiff::civil::date;
use register::{
    Body, CragRecord, Fact, FittingRecord, PlacementRecord, RouteRecord, SightingRecord, Stamp, State,
    Subject, identity,
};
use store::{RegisterStore, SqliteStore};
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
            stamp: Stamp { millis: 1_764_000_000_000, counter: n as u32, device: "bench".to_owned() },
            wall_millis: 1_764_000_000_000,
            origin: Some(format!("bolts.xlsx, sheet Harl, row {n}")),
            subject,
            body,
        });
    };
    for n in 0..placements {
        let crag = identity::crag(&format!("Invented Crag {}", n / 1000));
        let route = format!("{crag}/route-number-{}", n / 10);
        if n % 1000 == 0 {
            let record = CragRecord { name: Some(crag.clone()), ..Default::default() };
            say(Subject::Crag(crag.clone()), Body::Crag(record));
        }
        if n % 10 == 0 {
            let record = RouteRecord { crag: Some(crag), name: Some(route.clone()), ..Default::default() };
            say(Subject::Route(route.clone()), Body::Route(record));
        }
        let number = (n % 10 + 1) as u16;
        let placement = identity::placement(&route, None, number);
        let height = Some(Length::m(2.5 * f64::from(number)));
        let record =
            PlacementRecord { route: Some(route), number: Some(number), height, ..Default::default() };
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

#[divan::bench(sample_count = 5, sample_size = 1)]
fn append_100_000_facts_in_one_batch(bencher: Bencher) {
    let mut facts = facts(33_000);
    facts.truncate(100_000);
    bencher
        .counter(ItemsCount::new(facts.len()))
        .with_inputs(|| {
            let folder = tempfile::tempdir().expect("a folder");
            let store = SqliteStore::create(&folder.path().join("r.holdproof")).expect("a new register");
            (folder, store)
        })
        .bench_local_values(|(folder, mut store)| {
            store.append(&facts).expect("a batch");
            (folder, store)
        });
}

#[divan::bench(sample_count = 20, sample_size = 1)]
fn append_one_fact(bencher: Bencher) {
    let folder = tempfile::tempdir().expect("a folder");
    let mut store = SqliteStore::create(&folder.path().join("r.holdproof")).expect("a new register");
    let mut facts = facts(10_000);
    let mut more = facts.split_off(facts.len() - 200);
    store.append(&facts).expect("a batch");
    bencher
        .with_inputs(|| more.pop().expect("enough facts"))
        .bench_local_values(|fact| store.append(&[fact]));
}

fn filled(placements: usize) -> (tempfile::TempDir, std::path::PathBuf) {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("r.holdproof");
    SqliteStore::create(&path).expect("a new register").append(&facts(placements)).expect("a batch");
    (folder, path)
}

#[divan::bench(args = [10_000, 100_000], sample_count = 5, sample_size = 1)]
fn open_with_quick_check(bencher: Bencher, placements: usize) {
    let (_folder, path) = filled(placements);
    bencher.bench_local(|| SqliteStore::open_to_read(&path));
}

#[divan::bench(args = [10_000, 100_000], sample_count = 5, sample_size = 1)]
fn load_state(bencher: Bencher, placements: usize) {
    let (_folder, path) = filled(placements);
    let store = SqliteStore::open_to_read(&path).expect("a register");
    bencher.counter(ItemsCount::new(placements)).bench_local(|| store.state());
}

#[divan::bench(args = [10_000, 100_000], sample_count = 5, sample_size = 1)]
fn fold_log_instead(bencher: Bencher, placements: usize) {
    let (_folder, path) = filled(placements);
    let store = SqliteStore::open_to_read(&path).expect("a register");
    bencher.counter(ItemsCount::new(placements)).bench_local(|| {
        let facts = store.facts_after(store::Position(0), usize::MAX).expect("facts");
        State::of(facts.into_iter().map(|(_, fact)| fact))
    });
}
