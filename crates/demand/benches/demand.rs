//! Cost of one demand.

use demand::{Position, Role, Steepness, UseClass, demand, worst_year_cdf, worst_year_fractile};
use reckoning::Silent;
use std::hint::black_box;
use units::{Force, Length};

fn main() {
    divan::main();
}

fn known(role: Role) -> Position {
    Position {
        role: Some(role),
        number: Some(4),
        height: Some(Length::m(12.0)),
        next_gap: Some(Length::m(2.2)),
        steepness: Some(Steepness::Vertical),
        use_class: Some(UseClass::Regular),
    }
}

#[divan::bench(args = [Role::Runner, Role::LowerOff, Role::Belay])]
fn known_position(bencher: divan::Bencher, role: Role) {
    let p = known(role);
    bencher.bench(|| demand(black_box(&p), &mut Silent));
}

#[divan::bench]
fn runner_of_unknown_height_and_gap(bencher: divan::Bencher) {
    let p = Position { role: Some(Role::Runner), ..Position::default() };
    bencher.bench(|| demand(black_box(&p), &mut Silent));
}

#[divan::bench]
fn nothing_known(bencher: divan::Bencher) {
    bencher.bench(|| demand(black_box(&Position::default()), &mut Silent));
}

#[divan::bench]
fn worst_year(bencher: divan::Bencher) {
    let d = demand(&known(Role::Runner), &mut Silent);
    bencher.bench(|| worst_year_cdf(black_box(&d), Force::kn(6.0)));
}

#[divan::bench]
fn worst_year_95(bencher: divan::Bencher) {
    let d = demand(&known(Role::Runner), &mut Silent);
    bencher.bench(|| worst_year_fractile(black_box(&d), 0.95));
}
