//! Judging a register: all placements on all cores, and one after a new sighting.
//!
//! Aims: 1,000,000 placements within 10 s on two cores; one changed placement in less than 5 ms.

use benches::{invented, judging};
use divan::Bencher;
use divan::counter::ItemsCount;
use judgement::Policy;
use register::{SisterRatios, State, case};
use std::hint::black_box;

fn main() {
    divan::main();
}

fn state(placements: usize) -> State {
    State::of(invented::facts(placements))
}

#[divan::bench(sample_count = 20, sample_size = 1)]
fn all_of_10_000(bencher: Bencher) {
    let state = state(10_000);
    bencher.counter(ItemsCount::new(10_000u32)).bench_local(|| judging::all(&state));
}

#[divan::bench(sample_count = 3, sample_size = 1)]
fn all_of_1_000_000(bencher: Bencher) {
    let state = state(1_000_000);
    bencher.counter(ItemsCount::new(1_000_000u32)).bench_local(|| judging::all(&state));
}

/// The part of `all_of_1_000_000` that only puts the records together, on one core.
#[divan::bench(sample_count = 3, sample_size = 1)]
fn cases_of_100_000(bencher: Bencher) {
    let state = state(100_000);
    bencher.counter(ItemsCount::new(100_000u32)).bench_local(|| {
        for placement in state.placements() {
            black_box(case::of(&state, placement.id, invented::TODAY, &case::Params::default()).is_ok());
        }
    });
}

/// A new sighting goes into the state of 100,000 placements, and its placement is judged again.
#[divan::bench(sample_count = 200, sample_size = 1)]
fn one_changed_of_100_000(bencher: Bencher) {
    let mut state = state(100_000);
    let policy = Policy::built_in();
    let sisters = SisterRatios::gather(&state, policy, invented::TODAY);
    let ids: Vec<String> = state.placements().step_by(499).map(|p| p.id.to_owned()).collect();
    let mut next = 0;
    bencher.bench_local(|| {
        let id = &ids[next % ids.len()];
        state.apply([invented::new_sighting(id, next)]);
        next += 1;
        judging::one(&state, &sisters, policy, id)
    });
}

/// The same where also the pulls of sister fittings are compared anew.
#[divan::bench(sample_count = 20, sample_size = 1)]
fn one_changed_of_100_000_with_sisters(bencher: Bencher) {
    let mut state = state(100_000);
    let policy = Policy::built_in();
    let ids: Vec<String> = state.placements().step_by(499).map(|p| p.id.to_owned()).collect();
    let mut next = 0;
    bencher.bench_local(|| {
        let id = &ids[next % ids.len()];
        state.apply([invented::new_sighting(id, next)]);
        next += 1;
        let sisters = SisterRatios::gather(&state, policy, invented::TODAY);
        judging::one(&state, &sisters, policy, id)
    });
}
