//! How long the failure modes of one placement take, and that they do not touch the heap.

use hardware::{Fitting, Kind, Material, Resin};
use reckoning::Silent;
use resistance::{Anchorage, modes};
use rock::{RockEvidence, RockType, Surroundings};
use std::hint::black_box;
use units::{Angle, Length};

/// Counts allocations: the table must show none.
#[global_allocator]
static ALLOCATIONS: divan::AllocProfiler = divan::AllocProfiler::system();

fn main() {
    divan::main();
}

/// A fitting of which only the kind is known, in rock of which only the type is.
fn unknown(kind: Option<Kind>) -> Anchorage {
    let e = RockEvidence { rock_type: Some(RockType::Limestone), ..Default::default() };
    Anchorage {
        fitting: Fitting { kind, ..Default::default() },
        rock: rock::strength(&e, &mut Silent),
        surroundings: Surroundings::default(),
        proud: None,
        direction: Angle::deg(75.0),
        direction_spread: Angle::deg(15.0),
    }
}

/// The same with everything measured.
fn known(kind: Kind) -> Anchorage {
    let mut a = unknown(Some(kind));
    a.fitting.diameter = Some(Length::mm(10.0));
    a.fitting.embedment = Some(Length::mm(65.0));
    a.fitting.material = Some(Material::Stainless316);
    a.fitting.resin = (kind == Kind::GlueIn).then_some(Resin::Epoxy);
    a.surroundings =
        Surroundings { edge_distance: Some(Length::mm(200.0)), spacing: Some(Length::mm(300.0)) };
    a
}

#[divan::bench(args = [Some(Kind::WedgeBolt), Some(Kind::GlueIn), Some(Kind::CompressionBolt), None])]
fn only_the_kind_known(bencher: divan::Bencher<'_, '_>, kind: Option<Kind>) {
    let a = unknown(kind);
    bencher.bench(|| modes(black_box(&a), &mut Silent));
}

#[divan::bench(args = [Kind::WedgeBolt, Kind::GlueIn])]
fn all_measured(bencher: divan::Bencher<'_, '_>, kind: Kind) {
    let a = known(kind);
    bencher.bench(|| modes(black_box(&a), &mut Silent));
}

#[divan::bench]
fn rock_strength(bencher: divan::Bencher<'_, '_>) {
    let e = RockEvidence { rock_type: Some(RockType::Sandstone), rebound: Some(35.0), ..Default::default() };
    bencher.bench(|| rock::strength(black_box(&e), &mut Silent));
}
