//! The engine as its callers see it: limits, monotony, worked cases.

use demand::{Position, Role, Steepness, UseClass};
use evidence::{Extent, Finding, Seen, Sign};
use hardware::{Fitting, Kind, Material};
use judgement::{Call, Case, Knowledge, Policy, ProofHeld, Statement, assess, explain, judge};
use proptest::prelude::*;
use rock::{FieldGrade, RockEvidence, RockType, Soundness, Surroundings, Wetness};
use units::{Force, Length, Temperature, UnitSystem};

/// A modern, well-documented bolt in good rock.
fn good() -> Case {
    Case {
        fitting: Fitting {
            kind: Some(Kind::WedgeBolt),
            diameter: Some(Length::mm(12.0)),
            length: Some(Length::mm(90.0)),
            embedment: Some(Length::mm(65.0)),
            material: Some(Material::Stainless316),
            hanger_material: Some(Material::Stainless316),
            ..Fitting::default()
        },
        age_years: Some(8.0),
        rock: RockEvidence {
            rock_type: Some(RockType::Granite),
            grade: Some(FieldGrade::R5),
            wetness: Some(Wetness::Dry),
            soundness: Some(Soundness::Massive),
            ..RockEvidence::default()
        },
        surroundings: Surroundings { edge_distance: Some(Length::mm(600.0)), spacing: Some(Length::m(1.5)) },
        environment: decay::Environment {
            setting: Some(decay::Setting::Inland),
            temperature: Some(Temperature::celsius(7.0)),
            shelter: Some(decay::Shelter::Washed),
            ..decay::Environment::default()
        },
        position: Position {
            role: Some(Role::Runner),
            number: Some(4),
            height: Some(Length::m(10.0)),
            next_gap: Some(Length::m(2.5)),
            steepness: Some(Steepness::Vertical),
            use_class: Some(UseClass::Regular),
        },
        signs: [Sign::MovesInHole, Sign::HangerTurns, Sign::Rust, Sign::RockCrack]
            .map(|sign| Seen { sign, finding: Finding::Absent })
            .into_iter()
            .collect(),
        last_seen_years_ago: Some(1.0),
        ..Case::default()
    }
}

fn with_sign(mut case: Case, sign: Sign, extent: Extent) -> Case {
    case.signs.retain(|s| s.sign != sign);
    case.signs.push(Seen { sign, finding: Finding::Present(extent) });
    case
}

#[test]
fn a_modern_bolt_in_good_rock_asks_for_no_work() {
    let j = judge(&good(), Policy::built_in());
    assert_eq!(j.call, Call::Sound, "{j:#?}");
    // common practice, no source: modern bolts hold at least 25 kN along the face when well set
    assert!(j.resistance.p50.as_kn() > 25.0, "{:?}", j.resistance);
    assert!(j.holds_hard_fall.best > 0.99);
    assert_eq!(j.years_left.best, None);
}

#[test]
fn signs_make_calls() {
    let policy = Policy::built_in();
    let moving = judge(&with_sign(good(), Sign::MovesInHole, Extent::Severe), policy);
    assert_eq!(moving.call, Call::Shun);
    assert!(
        moving.reasons[0].statement.text(UnitSystem::Metric).starts_with("Bolt moves in its hole"),
        "{:?}",
        moving.reasons
    );
    let turning = judge(&with_sign(good(), Sign::HangerTurns, Extent::Slight), policy);
    assert_eq!(turning.call, Call::Tend);
    let mut old = good();
    old.fitting.kind = Some(Kind::CompressionBolt);
    old.fitting.diameter = Some(Length::inch(0.25));
    old.fitting.length = Some(Length::mm(32.0));
    old.fitting.embedment = None;
    old.fitting.material = Some(Material::BareCarbonSteel);
    old.age_years = Some(40.0);
    assert!(judge(&old, policy).call >= Call::Renew);
}

#[test]
fn what_is_not_known_widens_and_is_named() {
    let policy = Policy::built_in();
    let known = judge(&good(), policy);
    let nothing = judge(&Case::default(), policy);
    let width = |j: &judgement::Judgement| (j.resistance.p95 / j.resistance.p05).ln();
    assert!(width(&nothing) > 1.5 * width(&known));
    assert_ne!(nothing.call, Call::Sound);
    assert!(!nothing.missing.is_empty());
    assert!(nothing.reasons.iter().any(|r| r.kind == judgement::ReasonKind::Unknown));
}

#[test]
fn a_held_proof_rules_out_what_is_weaker() {
    let policy = Policy::built_in();
    let mut case = with_sign(good(), Sign::MovesInHole, Extent::Slight);
    let before = assess(&case, policy);
    case.proofs.push(ProofHeld { load: Force::kn(8.0), years_ago: 0.0, axial: true });
    let after = assess(&case, policy);
    assert!(after.judgement.resistance.p05.as_n() > before.judgement.resistance.p05.as_n());
    assert!(after.judgement.holds_hard_fall.best >= before.judgement.holds_hard_fall.best);
}

#[test]
fn the_account_explains_every_step() {
    let (assessed, account) = explain(&good(), Policy::built_in());
    for chapter in ["rock", "judgement", "hidden defect", "decay"] {
        assert!(account.steps.iter().any(|s| s.chapter == chapter), "no step on {chapter}");
    }
    for step in &account.steps {
        assert!(!step.formula.is_empty() && !step.source.is_empty(), "{step:?}");
    }
    assert_eq!(assessed.judgement, judge(&good(), Policy::built_in()), "explaining changes nothing");
}

#[test]
fn one_mode_against_a_scattering_load_agrees_with_the_closed_form() {
    // P(R < S) = Phi(-(lR - lS)/sqrt(zR^2 + zS^2)): one dominating mode, integrated over S by fractiles.
    // Textbook closed form for two log-normal variables.
    let mut case = good();
    case.fitting.kind = Some(Kind::Piton);
    case.age_years = Some(0.0);
    case.signs.clear();
    let assessed = assess(&case, Policy::built_in());
    let frame = assessed.standing.frame(0.0, Knowledge::Fixed(0.0));
    let load = reckoning::Uncertain::new(Force::kn(4.0), 0.4);
    let n = 20_000;
    let mean: f64 =
        (0..n).map(|i| frame.holds(load.fractile((f64::from(i) + 0.5) / f64::from(n)))).sum::<f64>()
            / f64::from(n);
    // the same from the frame's own fractiles: P(R > S) = E[F_S(R)]
    let swapped: f64 =
        (0..2000).map(|i| load.cdf(frame.fractile((f64::from(i) + 0.5) / 2000.0))).sum::<f64>() / 2000.0;
    assert!((mean - swapped).abs() < 1e-3, "{mean} against {swapped}");
}

fn any_case() -> impl Strategy<Value = Case> {
    let kinds = prop::sample::select(vec![
        None,
        Some(Kind::WedgeBolt),
        Some(Kind::SleeveBolt),
        Some(Kind::DropIn),
        Some(Kind::GlueIn),
        Some(Kind::CompressionBolt),
        Some(Kind::HammeredBolt),
        Some(Kind::Piton),
    ]);
    let materials = prop::sample::select(vec![
        None,
        Some(Material::PlatedCarbonSteel),
        Some(Material::Stainless304),
        Some(Material::StainlessUnknown),
        Some(Material::Titanium),
    ]);
    let sizes = prop::option::of(6.0..16.0f64);
    let depths = prop::option::of(25.0..150.0f64);
    let edges = prop::option::of(10.0..500.0f64);
    let ages = prop::option::of(0.0..70.0f64);
    let ucs = prop::option::of(3.0..250.0f64);
    let settings = prop::sample::select(vec![
        None,
        Some(decay::Setting::Inland),
        Some(decay::Setting::Coast),
        Some(decay::Setting::SeaCliff),
    ]);
    let steepness = prop::sample::select(vec![None, Some(Steepness::Slab), Some(Steepness::Roof)]);
    (kinds, materials, sizes, depths, edges, ages, ucs, settings, steepness).prop_map(
        |(kind, material, size, depth, edge, age, ucs, setting, steepness)| {
            let mut case = Case::default();
            case.fitting.kind = kind;
            case.fitting.material = material;
            case.fitting.diameter = size.map(Length::mm);
            case.fitting.embedment = depth.map(Length::mm);
            case.surroundings.edge_distance = edge.map(Length::mm);
            case.age_years = age;
            case.rock.tested_ucs = ucs.map(units::Stress::mpa);
            case.environment.setting = setting;
            case.position.steepness = steepness;
            case
        },
    )
}

proptest! {
    #[test]
    fn every_case_gets_finite_ordered_figures(case in any_case()) {
        let j = judge(&case, Policy::built_in());
        for band in [j.resistance, j.demand.per_fall, j.demand.worst_year] {
            prop_assert!(band.p05.is_finite() && band.p95.is_finite());
            prop_assert!(band.p05.as_n() <= band.p50.as_n() && band.p50.as_n() <= band.p95.as_n());
        }
        prop_assert!(j.characteristic.as_n() > 0.0 && j.characteristic.as_n() <= j.resistance.p50.as_n());
        for c in [j.holds_hard_fall, j.holds_year] {
            prop_assert!(0.0 <= c.low && c.low <= c.best && c.best <= c.high && c.high <= 1.0);
        }
        let governs: f64 = j.modes.iter().map(|m| m.governs).sum();
        prop_assert!((governs - 1.0).abs() < 1e-6, "{governs}");
        prop_assert!(!j.reasons.is_empty() || j.call == Call::Sound);
    }

    #[test]
    fn fractiles_invert_the_chance_to_hold(case in any_case(), p in 0.02..0.98f64) {
        let frame = assess(&case, Policy::built_in()).standing.frame(0.0, Knowledge::Spread);
        prop_assert!((frame.holds(frame.fractile(p)) - (1.0 - p)).abs() < 2e-3);
    }

    #[test]
    fn time_never_strengthens(case in any_case(), years in 0.0..40.0f64, share in 0.1..0.9f64) {
        // loads below the median: above it growing doubt alone may lift the upper tail
        let standing = assess(&case, Policy::built_in()).standing;
        let load = standing.frame(years + 5.0, Knowledge::Spread).fractile(0.5) * share;
        let now = standing.frame(years, Knowledge::Spread).holds(load);
        let later = standing.frame(years + 5.0, Knowledge::Spread).holds(load);
        // where almost no steel is left its scatter is capped, hence the allowance
        prop_assert!(later <= now + 1e-2, "{now} then {later}");
    }

    #[test]
    fn a_worse_sign_never_raises_the_chance(case in any_case(), which in 0..20usize) {
        let sign = Sign::ALL[which];
        let chance = |extent| judge(&with_sign(case.clone(), sign, extent), Policy::built_in()).holds_hard_fall.low;
        let (severe, slight) = (chance(Extent::Severe), chance(Extent::Slight));
        // below one half both are shunned, and the wider doubt of a worse sign may lift the tail
        prop_assert!(severe <= slight.max(0.5) + 2e-3, "{severe} after {slight} for {sign:?}");
    }
}

#[test]
fn a_recall_reaches_the_call_and_is_named() {
    let mut case = good();
    case.recalled = true;
    let j = judge(&case, Policy::built_in());
    assert!(j.call >= Call::Renew);
    assert!(j.reasons.iter().any(|r| r.statement == Statement::Recalled), "{:?}", j.reasons);
}

#[test]
fn a_sign_on_a_mode_that_does_not_govern_still_asks_for_a_look() {
    for (sign, extent) in [
        (Sign::MovesInHole, Extent::Slight),
        (Sign::StudTurns, Extent::Slight),
        (Sign::Bent, Extent::Severe),
        (Sign::ThreadExcess, Extent::Severe),
        (Sign::Rust, Extent::Severe),
    ] {
        let j = judge(&with_sign(good(), sign, extent), Policy::built_in());
        assert!(j.call >= Call::Watch, "{sign:?}");
        let told = j.reasons.iter().filter(|r| r.statement.kind() == judgement::ReasonKind::Sign).count();
        assert_eq!(told, 1, "{sign:?} is told once: {:?}", j.reasons);
    }
}

#[test]
fn a_hanger_cracks_by_its_own_alloy() {
    let at_sea = |hanger| {
        let mut case = good();
        case.fitting.material = Some(Material::Titanium);
        case.fitting.hanger_material = Some(hanger);
        case.age_years = Some(25.0);
        case.environment.setting = Some(decay::Setting::SeaCliff);
        case.environment.shelter = Some(decay::Shelter::Sheltered);
        case.environment.temperature = Some(Temperature::celsius(19.0));
        judge(&case, Policy::built_in()).holds_hard_fall.best
    };
    assert!(at_sea(Material::Titanium) > 0.98);
    assert!(at_sea(Material::Stainless304) < 0.9);
}

#[test]
fn soft_resin_weakens_a_glue_in_along_the_face_too() {
    let mut case = good();
    case.fitting.kind = Some(Kind::GlueIn);
    case.fitting.diameter = Some(Length::mm(12.0));
    case.fitting.embedment = Some(Length::mm(90.0));
    let firm = judge(&case, Policy::built_in()).resistance.p50;
    let soft = judge(&with_sign(case, Sign::ResinSoft, Extent::Marked), Policy::built_in()).resistance.p50;
    assert!(soft.as_n() < 0.8 * firm.as_n(), "{soft:?} against {firm:?}");
}
