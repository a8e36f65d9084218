//! The set of modes of a placement: limits, directions, monotonicity, and what is not known.

use hardware::{Fitting, Kind, Material, Rating, Resin};
use proptest::prelude::*;
use reckoning::{Account, Silent, Uncertain};
use resistance::{Anchorage, Mode, ModeResistance, ModeSet, Source, cone, modes};
use rock::{RockStrength, Surroundings};
use units::{Angle, Force, Length, Ratio, Stress, Torque};

fn mm(v: f64) -> Length {
    Length::mm(v)
}

/// Everything measured, in sound rock of 40 MPa, far from edges and neighbours.
fn measured(kind: Kind) -> Anchorage {
    Anchorage {
        fitting: Fitting {
            kind: Some(kind),
            diameter: Some(mm(10.0)),
            embedment: Some(mm(65.0)),
            material: Some(Material::Stainless316),
            hanger_material: Some(Material::Stainless316),
            resin: (kind == Kind::GlueIn).then_some(Resin::Epoxy),
            torque: Some(Torque::nm(35.0)),
            ..Default::default()
        },
        rock: RockStrength {
            ucs: Uncertain::exact(Stress::mpa(40.0)),
            joint_factor: Uncertain::exact(Ratio::of(1.0)),
            rock_type: None,
        },
        surroundings: Surroundings { edge_distance: Some(mm(2000.0)), spacing: Some(mm(5000.0)) },
        proud: None,
        direction: Angle::deg(0.0),
        direction_spread: Angle::deg(0.0),
    }
}

fn of(a: &Anchorage) -> ModeSet {
    modes(a, &mut Silent)
}
fn mode(set: &ModeSet, mode: Mode) -> ModeResistance {
    *set.iter().find(|m| m.mode == mode).unwrap_or_else(|| panic!("no {mode:?}"))
}
fn weakest(a: &Anchorage) -> f64 {
    of(a).iter().map(|m| m.median.as_kn()).fold(f64::INFINITY, f64::min)
}

#[test]
fn straight_out_and_along_the_face_are_the_plain_resistances() {
    for kind in [Kind::WedgeBolt, Kind::SleeveBolt, Kind::DropIn, Kind::GlueIn] {
        let mut a = measured(kind);
        let out = of(&a);
        // far from all: exactly the basic formula (Fuchs et al. 1995 mean)
        let n0 = cone::basic(cone::K_MEAN, Stress::mpa(40.0), mm(65.0));
        assert!((mode(&out, Mode::Cone).median / n0 - 1.0).abs() < 1e-9, "{kind:?}");
        assert!(!out.iter().any(|m| matches!(m.mode, Mode::PryOut | Mode::EdgeBreakout)));

        a.direction = Angle::deg(90.0);
        let along = of(&a);
        // pry-out: k8 = 1.75 at 65 mm; bonded anchors count the weaker of cone and bond
        let pry = mode(&along, Mode::PryOut).median;
        if kind != Kind::GlueIn {
            assert!((pry / (n0 * 1.75) - 1.0).abs() < 1e-9, "{kind:?}");
        }
        assert!(!along.iter().any(|m| matches!(m.mode, Mode::Cone | Mode::PullOut | Mode::Bond)));

        // near the edge it governs, once
        a.surroundings.edge_distance = Some(mm(40.0));
        let near = of(&a);
        let v = mode(&near, Mode::EdgeBreakout).median;
        assert!(v < mode(&near, Mode::PryOut).median);
        let mean = resistance::edge::basic(3.2, mm(10.0), mm(65.0), Stress::mpa(40.0), mm(40.0));
        assert!((v / mean - 1.0).abs() < 1e-9, "{kind:?}");
    }
}

#[test]
fn in_between_the_weakest_two_are_combined_under_the_name_of_the_one_used_more() {
    let mut a = measured(Kind::WedgeBolt);
    let plain = |deg: f64, m: Mode| {
        let mut a = measured(Kind::WedgeBolt);
        a.direction = Angle::deg(deg);
        mode(&of(&a), m).median
    };
    let (n, v) = (plain(0.0, Mode::PullOut), plain(90.0, Mode::PryOut));
    for (deg, name) in [(20.0, Mode::PullOut), (80.0, Mode::PryOut)] {
        a.direction = Angle::deg(deg);
        let want = resistance::interaction::at_angle(n, v, a.direction, 1.5);
        assert!((mode(&of(&a), name).median / want - 1.0).abs() < 1e-9, "{deg}");
        let cone = plain(0.0, Mode::Cone) / a.direction.as_rad().cos();
        assert!((mode(&of(&a), Mode::Cone).median / cone - 1.0).abs() < 1e-9);
    }
}

#[test]
fn a_modern_wedge_bolt_in_granite_passes_what_the_standard_asks() {
    // EN 959:2018: at least 15 kN axial and 25 kN radial in concrete near 50 MPa; common practice: steel
    // governs a well-set M12 in hard rock
    let mut a = measured(Kind::WedgeBolt);
    a.fitting.diameter = Some(mm(12.0));
    a.rock.ucs = Uncertain::exact(Stress::mpa(50.0));
    assert!(weakest(&a) > 15.0);
    a.direction = Angle::deg(90.0);
    assert!(weakest(&a) > 25.0);
}

#[test]
fn an_arete_governs_whatever_the_label() {
    // at 50 mm from an edge an M10 in 25 MPa rock holds about 7.3 / 0.75 kN towards it (EN 1992-4 (7.41))
    let mut a = measured(Kind::WedgeBolt);
    a.fitting.embedment = Some(mm(60.0));
    a.rock.ucs = Uncertain::exact(Stress::mpa(25.0));
    a.surroundings.edge_distance = Some(mm(50.0));
    a.direction = Angle::deg(90.0);
    let v = mode(&of(&a), Mode::EdgeBreakout).median.as_kn();
    assert!((v / (7.3461 / 0.75) - 1.0).abs() < 1e-3, "{v}");
}

#[test]
fn measured_inputs_leave_only_model_and_setting() {
    for kind in [Kind::WedgeBolt, Kind::GlueIn] {
        for m in of(&measured(kind)) {
            for s in Source::ALL {
                let allowed = !s.can_be_narrowed()
                    || (s == Source::Resin && m.mode == Mode::Bond)
                    || (s == Source::Material && m.mode == Mode::Steel);
                assert!(allowed || m.variance[s as usize] == 0.0, "{:?} {s:?}", m.mode);
            }
        }
    }
}

#[test]
fn each_unknown_shows_under_its_own_source() {
    let known = measured(Kind::GlueIn);
    let sides = |change: &dyn Fn(&mut Anchorage), m: Mode, s: Source| {
        let mut a = known;
        a.direction = Angle::deg(60.0);
        let before = mode(&of(&a), m).variance[s as usize];
        change(&mut a);
        let after = mode(&of(&a), m);
        assert!(after.variance[s as usize] > before, "{m:?} {s:?}");
        assert!(after.sd_ln().is_finite());
    };
    sides(&|a| a.fitting.embedment = None, Mode::Cone, Source::Embedment);
    sides(&|a| a.fitting.diameter = None, Mode::Steel, Source::Diameter);
    sides(&|a| a.fitting.material = None, Mode::Steel, Source::Material);
    sides(&|a| a.fitting.resin = None, Mode::Bond, Source::Resin);
    sides(&|a| a.surroundings.edge_distance = None, Mode::Cone, Source::Surroundings);
    sides(&|a| a.direction_spread = Angle::deg(15.0), Mode::Steel, Source::Direction);
    sides(&|a| a.rock.ucs.sd_ln = 0.4, Mode::Cone, Source::RockStrength);
    sides(&|a| a.rock.joint_factor = Uncertain::new(Ratio::of(0.9), 0.25), Mode::Cone, Source::RockSoundness);
    // an edge that was not measured may be close: that shows although the usual distance is harmless
    let mut a = known;
    a.direction = Angle::deg(90.0);
    a.surroundings.edge_distance = None;
    assert!(mode(&of(&a), Mode::EdgeBreakout).variance[Source::Surroundings as usize] > 0.5);
    // and not knowing the kind shows under Kind
    let mut a = known;
    (a.fitting.kind, a.fitting.resin) = (None, None);
    assert!(mode(&of(&a), Mode::Experience).variance[Source::Kind as usize] > 0.2);
}

#[test]
fn the_cone_follows_the_root_of_the_strength_until_the_cap() {
    let mut a = measured(Kind::WedgeBolt);
    a.rock.ucs = Uncertain::new(Stress::mpa(20.0), 0.2);
    let m = mode(&of(&a), Mode::Cone);
    assert!((m.rock_exponent - 0.5).abs() < 1e-9);
    assert!((m.variance[Source::RockStrength as usize] - (0.5_f64 * 0.2).powi(2)).abs() < 1e-12);
    a.rock.ucs = Uncertain::new(Stress::mpa(200.0), 0.2);
    assert_eq!(mode(&of(&a), Mode::Cone).rock_exponent, 0.0);
    assert_eq!(mode(&of(&a), Mode::Steel).rock_exponent, 0.0);
}

#[test]
fn a_mark_helps_metal_and_not_rock() {
    let mut a = measured(Kind::WedgeBolt);
    a.direction = Angle::deg(80.0);
    let plain = of(&a);
    a.fitting.rating = Some(Rating { radial: Force::kn(25.0), axial: Force::kn(15.0) });
    let marked = of(&a);
    for m in [Mode::Steel, Mode::Hanger] {
        assert!(mode(&marked, m).median > mode(&plain, m).median, "{m:?}");
        assert!(mode(&marked, m).sd_ln() < mode(&plain, m).sd_ln(), "{m:?}");
    }
    for m in [Mode::Cone, Mode::PullOut] {
        assert_eq!(mode(&marked, m), mode(&plain, m));
    }
}

#[test]
fn a_proud_bolt_holds_less_and_bends_by_the_section_cubed() {
    let mut a = measured(Kind::WedgeBolt);
    a.direction = Angle::deg(90.0);
    let flush = mode(&of(&a), Mode::Steel);
    a.proud = Some(mm(40.0));
    let proud = mode(&of(&a), Mode::Steel);
    assert!(proud.median < flush.median * 0.8);
    assert!((flush.section_exponent - 1.0).abs() < 1e-12 && (proud.section_exponent - 1.5).abs() < 1e-12);
    assert!(proud.variance[Source::Model as usize] > flush.variance[Source::Model as usize]);
}

#[test]
fn old_hardware_is_weak_and_wide() {
    // soft-rock guide of 2011: hammered bolts, outward mean 5 kN, least 0.3 kN
    let mut a = measured(Kind::HammeredBolt);
    a.rock.ucs = Uncertain::exact(Stress::mpa(15.0));
    let m = mode(&of(&a), Mode::Experience);
    let r = Uncertain::new(m.median, m.sd_ln());
    assert!((r.mean().as_kn() - 5.0).abs() < 0.05);
    assert!(r.fractile(0.01).as_kn() < 0.3 && r.fractile(0.05).as_kn() > 0.3);
    a.direction = Angle::deg(90.0);
    let m = mode(&of(&a), Mode::Experience);
    assert!((Uncertain::new(m.median, m.sd_ln()).mean().as_kn() - 13.0).abs() < 0.1);
    assert!(of(&measured(Kind::Piton)).iter().all(|m| m.mode != Mode::Steel));
}

#[test]
fn shallow_anchors_scatter_twice_as_much() {
    let mut a = measured(Kind::DropIn);
    let model = |a: &Anchorage| mode(&of(a), Mode::Cone).variance[Source::Model as usize].sqrt();
    let deep = model(&a);
    a.fitting.embedment = Some(mm(30.0));
    assert!((model(&a) / deep - 2.0).abs() < 1e-9);
}

#[test]
fn the_account_names_assumptions_and_gives_the_same_numbers() {
    let mut a = measured(Kind::WedgeBolt);
    a.fitting.embedment = None;
    a.proud = Some(mm(15.0));
    a.direction = Angle::deg(70.0);
    let mut account = Account::default();
    assert_eq!(modes(&a, &mut account), of(&a));
    assert!(account.steps.iter().any(|s| s.what.contains("embedment") && s.what.contains("not measured")));
    assert!(account.steps.iter().any(|s| s.what.contains("bends")));
    for s in &account.steps {
        assert!(!s.source.is_empty() && s.result.value.is_finite(), "{s:?}");
    }
    // every mode's last word is its resistance
    for m in of(&a) {
        if matches!(m.mode, Mode::Steel | Mode::Hanger | Mode::Cone | Mode::PullOut) {
            let said =
                account.steps.iter().rev().find(|s| s.chapter == m.mode.name() && s.result.symbol == "R");
            assert!((said.unwrap().result.value - m.median.as_kn()).abs() < 1e-9);
        }
    }
}

/// A Halton point in one base, (0, 1).
fn halton(mut i: u32, base: u32) -> f64 {
    let (mut f, mut r) = (1.0, 0.0);
    while i > 0 {
        f /= f64::from(base);
        r += f * f64::from(i % base);
        i /= base;
    }
    r
}

#[test]
fn the_variance_by_source_adds_up_to_that_of_sampling() {
    // independent way: sample what is not known and look at the spread of ln R of exactly known anchors
    let unknown = |deg: f64, spread: f64| {
        let mut a = measured(Kind::WedgeBolt);
        a.fitting.embedment = None;
        a.surroundings = Surroundings::default();
        a.rock.ucs = Uncertain::new(Stress::mpa(45.0), 0.5);
        a.rock.joint_factor = Uncertain::new(Ratio::of(0.7), 0.25);
        a.direction = Angle::deg(deg);
        a.direction_spread = Angle::deg(spread);
        a
    };
    for (deg, spread, m) in [
        (0.0, 0.0, Mode::Cone),
        (20.0, 10.0, Mode::PullOut),
        (80.0, 5.0, Mode::PryOut),
        (90.0, 0.0, Mode::EdgeBreakout),
    ] {
        let a = unknown(deg, spread);
        let stated = mode(&of(&a), m);
        let own = [Source::Model, Source::Setting].map(|s| stated.variance[s as usize]).iter().sum::<f64>();
        let by_source = stated.variance.iter().sum::<f64>() - own;
        // medians and scatters that the account names
        let mut account = Account::default();
        modes(&a, &mut account);
        let named = |symbol: &str| {
            let step =
                account.steps.iter().find(|s| s.chapter == "inputs" && s.result.symbol == symbol).unwrap();
            (step.result.value, step.result.sd_ln.unwrap())
        };
        let inputs = [named("h_ef"), named("c"), named("s"), (45.0, 0.5), (0.7, 0.25)];
        let n = 8000;
        let (mut sum, mut squares) = (0.0, 0.0);
        for i in 1..=n {
            let z = [2, 3, 5, 7, 11].map(|base| reckoning::normal::quantile(halton(i, base)));
            let x = |k: usize| inputs[k].0 * (inputs[k].1 * z[k]).exp();
            let mut b = a;
            b.fitting.embedment = Some(mm(x(0)));
            b.surroundings = Surroundings { edge_distance: Some(mm(x(1))), spacing: Some(mm(x(2))) };
            b.rock.ucs = Uncertain::exact(Stress::mpa(x(3)));
            b.rock.joint_factor = Uncertain::exact(Ratio::of(x(4).min(1.0)));
            b.direction = Angle::deg(deg + spread * (2.0 * halton(i, 13) - 1.0));
            b.direction_spread = Angle::deg(0.0);
            let set = of(&b);
            // the weakest rock mode but, for the edge, the edge alone
            let ln = set
                .iter()
                .filter(|r| match m {
                    Mode::EdgeBreakout => r.mode == m,
                    _ => !matches!(r.mode, Mode::Steel | Mode::Hanger | Mode::EdgeBreakout),
                })
                .filter(|r| m != Mode::Cone || r.mode == Mode::Cone)
                .map(|r| r.median.as_n().ln())
                .fold(f64::INFINITY, f64::min);
            sum += ln;
            squares += ln * ln;
        }
        let n = f64::from(n);
        let sampled = squares / n - (sum / n).powi(2);
        // sums of one-at-a-time variances leave out what inputs do together: a fifth of the spread
        let ratio = (by_source / sampled).sqrt();
        assert!((0.8..=1.25).contains(&ratio), "{m:?}: stated {by_source:.4}, sampled {sampled:.4}");
    }
}

fn any_kind() -> impl Strategy<Value = Kind> {
    (0..Kind::ALL.len()).prop_map(|i| Kind::ALL[i])
}

prop_compose! {
    fn usual()(
        kind in any_kind(), d in 6.0..16.0f64, h in 25.0..130.0f64, ucs in 3.0..200.0f64,
        edge in 20.0..900.0f64, spacing in 30.0..1500.0f64, deg in 0.0..90.0f64, joint in 0.1..1.0f64,
    ) -> Anchorage {
        let mut a = measured(kind);
        a.fitting.diameter = Some(mm(d));
        a.fitting.embedment = Some(mm(h));
        a.rock.ucs = Uncertain::new(Stress::mpa(ucs), 0.3);
        a.rock.joint_factor = Uncertain::new(Ratio::of(joint), 0.1);
        a.surroundings = Surroundings { edge_distance: Some(mm(edge)), spacing: Some(mm(spacing)) };
        a.direction = Angle::deg(deg);
        a
    }
}

prop_compose! {
    fn anything()(
        kind in proptest::option::of(any_kind()),
        v in proptest::collection::vec(proptest::option::of(proptest::num::f64::ANY), 12),
        resin in proptest::option::of(0..4_usize),
        material in proptest::option::of(0..10_usize),
        ucs in proptest::num::f64::ANY, sd in proptest::num::f64::ANY, joint in proptest::num::f64::ANY,
    ) -> Anchorage {
        let length = |i: usize| v[i].map(Length::mm);
        Anchorage {
            fitting: Fitting {
                kind,
                diameter: length(0),
                length: length(1),
                embedment: length(2),
                material: material.map(|i| Material::ALL[i]),
                hanger_material: None,
                resin: resin.map(|i| Resin::ALL[i]),
                rating: v[3].zip(v[4]).map(|(r, a)| Rating { radial: Force::kn(r), axial: Force::kn(a) }),
                torque: v[5].map(Torque::nm),
            },
            rock: RockStrength {
                ucs: Uncertain::new(Stress::mpa(ucs), sd),
                joint_factor: Uncertain::new(Ratio::of(joint), sd),
                rock_type: None,
            },
            surroundings: Surroundings { edge_distance: length(6), spacing: length(7) },
            proud: length(8),
            direction: Angle::deg(v[9].unwrap_or(45.0)),
            direction_spread: Angle::deg(v[10].unwrap_or(0.0)),
        }
    }
}

proptest! {
    #[test]
    fn any_input_gives_finite_modes(a in anything()) {
        let set = of(&a);
        prop_assert!(!set.is_empty());
        for m in &set {
            prop_assert!(m.median.as_n() > 0.0 && m.median.is_finite(), "{:?}", m);
            prop_assert!(m.variance.iter().all(|v| *v >= 0.0 && v.is_finite()), "{:?}", m);
            prop_assert!(m.rock_exponent >= 0.0 && m.rock_exponent.is_finite());
        }
    }

    #[test]
    fn deeper_harder_farther_sounder_never_weaker(a in usual(), k in 1.0..1.4f64) {
        let least = weakest(&a) * (1.0 - 1e-9);
        let mut b = a;
        b.fitting.embedment = a.fitting.embedment.map(|h| h * k);
        prop_assert!(weakest(&b) >= least, "embedment");
        let mut b = a;
        b.rock.ucs.median = a.rock.ucs.median * k;
        prop_assert!(weakest(&b) >= least, "rock");
        let mut b = a;
        b.rock.joint_factor.median = Ratio::of((a.rock.joint_factor.median.get() * k).min(1.0));
        prop_assert!(weakest(&b) >= least, "joints");
        let mut b = a;
        b.surroundings.edge_distance = a.surroundings.edge_distance.map(|c| c * k);
        prop_assert!(weakest(&b) >= least, "edge");
        let mut b = a;
        b.surroundings.spacing = a.surroundings.spacing.map(|s| s * k);
        prop_assert!(weakest(&b) >= least, "spacing");
        let mut b = a;
        b.proud = Some(mm(10.0 * (k - 1.0)));
        prop_assert!(weakest(&b) <= weakest(&a) * (1.0 + 1e-9), "proud");
    }

    #[test]
    fn rock_variance_is_the_exponent_times_the_scatter(a in usual()) {
        for m in of(&a) {
            let want = (m.rock_exponent * a.rock.ucs.sd_ln).powi(2);
            prop_assert!((m.variance[Source::RockStrength as usize] - want).abs() < 1e-12);
        }
    }

    #[test]
    fn a_pair_holds_between_one_and_two(a in usual(), s in 1.0..2000.0f64) {
        let mut alone = a;
        alone.surroundings.spacing = Some(mm(1e5));
        let mut paired = a;
        paired.surroundings.spacing = Some(mm(s));
        let rock = |a: &Anchorage| {
            let held = |m: &&ModeResistance| !matches!(m.mode, Mode::Steel | Mode::Hanger);
            of(a).iter().filter(held).map(|m| m.median.as_n()).fold(f64::INFINITY, f64::min)
        };
        let total = 2.0 * rock(&paired) / rock(&alone);
        prop_assert!((1.0 - 1e-9..=2.0 + 1e-9).contains(&total), "{total}");
    }
}
