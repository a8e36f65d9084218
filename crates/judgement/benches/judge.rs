//! How long judging takes: 10,000 different placements, and one of them again.

use demand::{Role, Steepness, UseClass};
use evidence::{Extent, Finding, Seen, Sign};
use hardware::{Kind, Material};
use judgement::{Case, Policy, explain, judge};
use reckoning::normal::{self, Table};
use units::Length;

fn main() {
    divan::main();
}

/// `count` cases that differ in kind, size, age, rock, setting and signs.
fn cases(count: usize) -> Vec<Case> {
    let kinds = [
        Some(Kind::WedgeBolt),
        Some(Kind::GlueIn),
        Some(Kind::SleeveBolt),
        Some(Kind::CompressionBolt),
        Some(Kind::DropIn),
        None,
    ];
    let materials =
        [Some(Material::PlatedCarbonSteel), Some(Material::Stainless304), Some(Material::Stainless316), None];
    let settings = [Some(decay::Setting::Inland), Some(decay::Setting::SeaCliff), None];
    let rocks =
        [Some(rock::RockType::Granite), Some(rock::RockType::Sandstone), Some(rock::RockType::Limestone)];
    (0..count)
        .map(|i| {
            let mut case = Case::default();
            case.fitting.kind = kinds[i % 6];
            case.fitting.diameter = (i % 7 != 0).then(|| Length::mm(8.0 + (i % 5) as f64));
            case.fitting.embedment = (i % 3 == 0).then(|| Length::mm(40.0 + (i % 50) as f64));
            case.fitting.material = materials[i % 4];
            case.age_years = (i % 11 != 0).then_some((i % 45) as f64);
            case.rock.rock_type = rocks[i % 3];
            case.environment.setting = settings[(i / 3) % 3];
            case.surroundings.edge_distance = (i % 5 == 0).then(|| Length::mm(60.0 + (i % 200) as f64));
            case.position.role = Some(if i % 9 == 8 { Role::LowerOff } else { Role::Runner });
            case.position.height = Some(Length::m(2.0 + (i % 20) as f64));
            case.position.next_gap = Some(Length::m(1.0 + (i % 4) as f64 * 0.7));
            case.position.steepness =
                Some([Steepness::Slab, Steepness::Vertical, Steepness::Overhang][i % 3]);
            case.position.use_class = Some(UseClass::Regular);
            case.signs = [Sign::MovesInHole, Sign::HangerTurns, Sign::Rust, Sign::Proud]
                .into_iter()
                .enumerate()
                .map(|(k, sign)| Seen {
                    sign,
                    finding: if (i + k) % 6 == 0 {
                        Finding::Present(Extent::Slight)
                    } else {
                        Finding::Absent
                    },
                })
                .collect();
            case.last_seen_years_ago = Some((i % 8) as f64);
            case
        })
        .collect()
}

#[divan::bench(sample_count = 20, sample_size = 1)]
fn ten_thousand_placements_on_one_core(bencher: divan::Bencher) {
    let cases = cases(10_000);
    let policy = Policy::built_in();
    bencher.counter(divan::counter::ItemsCount::new(cases.len())).bench_local(|| {
        cases.iter().map(|case| judge(divan::black_box(case), policy).holds_hard_fall.best).sum::<f64>()
    });
}

#[divan::bench]
fn one_changed_placement(bencher: divan::Bencher) {
    let case = cases(1).remove(0);
    let policy = Policy::built_in();
    bencher.bench_local(|| judge(divan::black_box(&case), policy));
}

/// The same with the account of every step.
#[divan::bench]
fn one_changed_placement_explained(bencher: divan::Bencher) {
    let case = cases(1).remove(0);
    let policy = Policy::built_in();
    bencher.bench_local(|| explain(divan::black_box(&case), policy));
}

/// A thousand values of the normal distribution from the table that judging uses.
#[divan::bench]
fn normal_table(bencher: divan::Bencher) {
    let table = Table::get();
    bencher.bench_local(|| {
        (0..1000).map(|i| table.cdf(divan::black_box(f64::from(i) * 0.012 - 6.0))).sum::<f64>()
    });
}

/// The same from the exact function.
#[divan::bench]
fn normal_exact(bencher: divan::Bencher) {
    bencher.bench_local(|| {
        (0..1000).map(|i| normal::cdf(divan::black_box(f64::from(i) * 0.012 - 6.0))).sum::<f64>()
    });
}
