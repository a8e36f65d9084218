//! The fall model against simulation, against its limits, and against what the trade knows.

#![allow(clippy::unwrap_used)]

use demand::{Demand, Position, Role, Steepness, UseClass, demand, per_fall_cdf, practice};
use proptest::prelude::*;
use rand::SeedableRng;
use rand_distr::{Distribution, StandardNormal, Uniform};
use reckoning::{Account, Silent};
use units::{Force, Length};

fn runner(height: f64, gap: f64) -> Position {
    Position {
        role: Some(Role::Runner),
        height: Some(Length::m(height)),
        next_gap: Some(Length::m(gap)),
        steepness: Some(Steepness::Vertical),
        use_class: Some(UseClass::Regular),
        number: None,
    }
}

fn of(p: &Position) -> Demand {
    demand(p, &mut Silent)
}

/// The same assumptions, drawn one by one: no derivatives, no pooling, no log-normal at the end.
fn simulate(height: f64, gap: f64, n: usize) -> Vec<f64> {
    let data = practice();
    let mut rng = rand_chacha::ChaCha8Rng::seed_from_u64(11);
    let even = Uniform::new(0.0, 1.0).unwrap();
    let mut out: Vec<f64> = (0..n)
        .map(|_| {
            let mut draw = |median: f64, sd: f64| {
                let z: f64 = StandardNormal.sample(&mut rng);
                median * (sd * z).exp()
            };
            let m = draw(data.climber_mass.median, data.climber_mass.sd_ln);
            let k = draw(data.rope_modulus.median, data.rope_modulus.sd_ln)
                * draw(data.rope_stiffening.median, data.rope_stiffening.sd_ln)
                * 1e3;
            let r = draw(data.friction_ratio.median, data.friction_ratio.sd_ln).max(1.0);
            let b = draw(data.body_softness.median, data.body_softness.sd_ln);
            let c = draw(data.belayer_lift.median, data.belayer_lift.sd_ln);
            let s = draw(data.slack.median, data.slack.sd_ln);
            let e = draw(1.0, data.model_error.sd_ln) * draw(1.0, data.relaxation_at_5m.sd_ln);
            let slip = draw(1e3, data.device[0].sd_ln);
            let u: f64 = even.sample(&mut rng);
            let a = gap * (1.0 - (1.0 - u).powf(1.0 / data.fall_point.median));
            let mut pick: f64 = even.sample(&mut rng);
            let device = data
                .device
                .iter()
                .find(|d| {
                    pick -= d.share;
                    pick <= 0.0
                })
                .unwrap_or(&data.device[0]);
            let w = 9.81 * m;
            let f1 = w + (w * w + 2.0 * w * k * (2.0 * a + s) / (a + s + height / r)).sqrt();
            let c = if device.lifted { c } else { 1.0 };
            let q = (0.96 - 0.09 * ((a + s + height) / 5.0).ln()).clamp(0.75, 1.05);
            let mut f = (w + b * c * (f1 - w)) * q * e;
            if let Some(kn) = device.slip_kn {
                f = f.min(r * slip * kn);
            }
            f * (1.0 + 1.0 / r) / 1e3
        })
        .collect();
    out.sort_by(f64::total_cmp);
    out
}

#[test]
fn agrees_with_simulation() {
    for (height, gap) in [(3.0, 2.0), (6.0, 2.0), (12.0, 2.2), (25.0, 3.0), (15.0, 6.0)] {
        let d = of(&runner(height, gap));
        let sample = simulate(height, gap, 100_000);
        let at = |p: f64| sample[(p * sample.len() as f64) as usize];
        for (p, tol) in [(0.5, 0.03), (0.75, 0.03), (0.95, 0.06), (0.99, 0.12)] {
            let got = d.per_fall.fractile(p).as_kn();
            assert!((got / at(p) - 1.0).abs() < tol, "{height} {gap} {p}: {got} against {}", at(p));
        }
    }
}

#[test]
fn square_root_limit_of_the_sampler() {
    // reference, sec. 5.2: strong falls, F = sqrt(2 g m K f): median 3116.4 N, spread 0.3288
    let median = (2.0 * 9.81 * 75.0 * 22_000.0 * 0.3f64).sqrt();
    let spread = (0.18f64.powi(2) + 0.2f64.powi(2) + 0.6f64.powi(2)).sqrt() / 2.0;
    assert!((median - 3116.4).abs() < 0.5 && (spread - 0.3288).abs() < 1e-4);
    // and the full equation at the same medians
    let full = demand::impact::impact_force(units::Mass::kg(75.0), Force::n(22_000.0), units::Ratio::of(0.3));
    assert!((full.as_n() - 3937.8).abs() < 0.1, "{full:?}");
}

/// Ordinary sport positions: 4 to 28 m up, 1.5 to 3.5 m apart, and high enough that the longest fall
/// (gap, slack and 1.5 m of stretch below the placement) ends above the ground.
fn ordinary() -> Vec<Demand> {
    let mut all = Vec::new();
    for height in [4.0, 7.0, 10.0, 13.0, 16.0, 19.0, 22.0, 25.0, 28.0] {
        for gap in [1.5, 2.0, 2.5, 3.5] {
            if height > gap + 0.4 + 1.5 {
                all.push(of(&runner(height, gap)));
            }
        }
    }
    all
}

#[test]
fn facts_of_the_trade() {
    // common practice, no source: median of sport falls below 5 kN, the hardest above 4 kN; real falls
    // mostly below 8 kN and most at half of that or less
    let all = ordinary();
    let mean = |f: &dyn Fn(&Demand) -> f64| all.iter().map(f).sum::<f64>() / all.len() as f64;
    let below = |kn: f64| mean(&|d| per_fall_cdf(d, Force::kn(kn)));
    assert!(below(5.0) > 0.5 && below(4.0) < 0.999);
    assert!(below(8.0) > 0.95, "below 8 kN: {}", below(8.0));
    assert!(below(4.0) > 0.5, "below 4 kN: {}", below(4.0));
}

#[test]
fn unknown_inputs_widen() {
    let known = of(&runner(10.0, 2.2));
    let no_height = of(&Position { height: None, ..runner(10.0, 2.2) });
    let no_gap = of(&Position { next_gap: None, ..runner(10.0, 2.2) });
    let neither = of(&Position { height: None, next_gap: None, ..runner(10.0, 2.2) });
    let nothing = of(&Position::default());
    assert!(no_height.per_fall.sd_ln > known.per_fall.sd_ln);
    assert!(no_gap.per_fall.sd_ln > known.per_fall.sd_ln);
    assert!(neither.per_fall.sd_ln > no_height.per_fall.sd_ln.max(no_gap.per_fall.sd_ln));
    assert!(nothing.per_fall.sd_ln > neither.per_fall.sd_ln, "{nothing:?} {neither:?}");
    assert!(nothing.falls_per_year.sd_ln > known.falls_per_year.sd_ln);
    assert!(nothing.direction_spread > known.direction_spread);
    assert!(nothing.ceiling >= neither.ceiling && neither.ceiling > known.ceiling);
}

#[test]
fn lower_off_and_belay_are_mostly_hung_on() {
    let lower_off = of(&Position { role: Some(Role::LowerOff), ..runner(15.0, 2.0) });
    // reference, sec. 3.1: lowering 1.3 to 1.6 kN for 80 kg; a fall on a rope with 1-2 m slack 3 to 5 kN
    assert!((1.2..1.8).contains(&lower_off.per_fall.median.as_kn()), "{lower_off:?}");
    assert!((3.0..5.0).contains(&lower_off.hard_fall.as_kn()), "{lower_off:?}");
    let belay = of(&Position { role: Some(Role::Belay), ..runner(15.0, 2.0) });
    assert!((0.7..2.0).contains(&belay.per_fall.median.as_kn()), "{belay:?}");
    // near-worst falls 8 kN in practice; a slipping device keeps most of them well below
    assert!((4.0..8.0).contains(&belay.hard_fall.as_kn()), "{belay:?}");
    // single strand, 130 kg, K 45 kN, f = 2: 16.5 kN
    assert!((belay.ceiling.as_kn() - 16.5).abs() < 0.1, "{belay:?}");
    assert!(lower_off.falls_per_year.median.get() > of(&runner(15.0, 2.0)).falls_per_year.median.get());
}

#[test]
fn the_account_ends_at_the_result() {
    for role in [None, Some(Role::Runner), Some(Role::LowerOff), Some(Role::Belay)] {
        let p = Position { role, ..runner(10.0, 2.0) };
        let mut account = Account::default();
        let d = demand(&p, &mut account);
        assert_eq!(d, of(&p));
        let hard = account.steps.iter().find(|s| s.result.symbol == "F_95").unwrap();
        assert!((hard.result.value - d.hard_fall.as_kn()).abs() < 1e-12);
        assert!(account.steps.iter().all(|s| s.result.value.is_finite() && !s.source.is_empty()));
    }
}

proptest! {
    #[test]
    fn any_position_gives_a_usable_demand(
        role in prop::option::of(prop_oneof![Just(Role::Runner), Just(Role::LowerOff), Just(Role::Belay)]),
        number in prop::option::of(any::<u16>()),
        height in prop::option::of(prop_oneof![any::<f64>(), 0.0..100.0f64]),
        gap in prop::option::of(prop_oneof![any::<f64>(), 0.0..30.0f64]),
    ) {
        let p = Position { role, number, height: height.map(Length::m), next_gap: gap.map(Length::m), ..Position::default() };
        let d = of(&p);
        prop_assert!(d.per_fall.median.is_finite() && d.per_fall.median.as_kn() > 0.3, "{d:?}");
        prop_assert!(d.per_fall.sd_ln.is_finite() && d.per_fall.sd_ln > 0.1 && d.per_fall.sd_ln < 2.0, "{d:?}");
        prop_assert!(d.hard_fall <= d.ceiling && d.per_fall.median < d.ceiling, "{d:?}");
        prop_assert!(d.ceiling.as_kn() < 40.0);
    }

    #[test]
    fn more_rope_softens_and_more_gap_hardens(height in 2.0..30.0f64, gap in 0.5..6.0f64) {
        let d = of(&runner(height, gap));
        prop_assert!(of(&runner(height * 1.2, gap)).per_fall.median < d.per_fall.median);
        prop_assert!(of(&runner(height, gap * 1.2)).per_fall.median > d.per_fall.median);
        prop_assert!(of(&runner(height, gap * 1.2)).ceiling >= d.ceiling);
    }
}
