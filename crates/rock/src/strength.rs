//! One rock strength from all the evidence there is.

use crate::evidence::{RockEvidence, RockStrength};
use crate::index;
use crate::table::{Prior, Table};
use crate::water::wet_factor;
use reckoning::{Origin, Scribe, Step, Term, Uncertain};
use std::borrow::Cow;
use units::{Quantity, Ratio, Stress};

const CHAPTER: &str = "rock";

/// One method's estimate of ln(UCS / MPa).
#[derive(Clone, Copy)]
struct Estimate {
    ln_mpa: f64,
    variance: f64,
}

/// The strength of the rock at a placement, from whatever evidence there is.
///
/// In ln(UCS):
/// 1. prior from the rock type, N(m0, s0^2), the table's range being the middle 90 %; all types together
///    where the type is not known;
/// 2. each method i gives y_i with variance v_i (its reading and its relation to UCS): field grade,
///    rebound hammer ([`index::rebound_ucs`]), point load ([`index::point_load_ucs`]), laboratory test;
/// 3. methods are weighted by precision, `y = sum(y_i / v_i) / sum(1 / v_i)`, `v = 1 / sum(1 / v_i)`; if
///    they disagree by more than their scatter, v is multiplied by the Birge ratio
///    `sum((y_i - y)^2 / v_i) / (n - 1)`;
/// 4. a prior that the methods contradict gives way: its variance becomes the larger of s0^2 and
///    `(y - m0)^2 - v` (the value that makes the readings most likely); weathered granite is not held
///    to be fresh granite;
/// 5. posterior by precision; plus the variation from hole to hole; times the wetness factor.
///
/// The joint factor acts on capacities, not on the strength. Readings are taken to be from dry rock.
/// A reading outside of its range (see [`index::IndexError`]) is left out and the account says so.
/// Result: UCS in place (stress, log-normal) and joint factor (1, log-normal).
/// Source: Bayes' rule for normal variables; Birge 1932 (from memory); type II maximum likelihood, e.g.
/// Berger 1985 (from memory); constants in data/rock.toml.
pub fn strength(e: &RockEvidence, scribe: &mut impl Scribe) -> RockStrength {
    let table = Table::built_in();
    let prior = table.prior(e.rock_type);
    step_prior(e, prior, scribe);

    let estimates = [
        from_grade(table, e, scribe),
        from_rebound(table, prior, e, scribe),
        from_point_load(table, e, scribe),
        from_test(table, e, scribe),
    ];
    let (mean_ln, variance) = match combine(&estimates) {
        Some(direct) => update(prior, direct, scribe),
        None => (prior.mean_ln, prior.variance),
    };

    let place = table.place.sd_ln;
    let water = wet_factor(table, prior, mean_ln, e.wetness);
    let variance_in_place = variance + place * place + water.sd_ln * water.sd_ln;
    let ucs = Uncertain::new(Stress::mpa(mean_ln.exp() * water.factor), variance_in_place.sqrt());
    scribe.step(|| Step {
        chapter: CHAPTER,
        what: Cow::Owned(match e.wetness {
            Some(w) => format!("strength of the rock in place, {}", w.name()),
            None => "strength of the rock in place, wetness not known".to_owned(),
        }),
        formula: "UCS = UCS_dry * f_water; sd^2 = sd_dry^2 + sd_place^2 + sd_water^2".into(),
        inputs: vec![
            Term::new("UCS_dry", mean_ln.exp(), "MPa", Origin::Computed).with_sd(variance.sqrt()),
            Term::new(
                "f_water",
                water.factor,
                "1",
                if e.wetness.is_some() { Origin::Table } else { Origin::Assumed },
            )
            .with_sd(water.sd_ln),
            Term::new("sd_place", place, "1", Origin::Table),
        ],
        result: Term::new("UCS", ucs.median.as_mpa(), "MPa", Origin::Computed).with_sd(ucs.sd_ln),
        source: Cow::Owned(format!("water: {}; place: {}", table.water.source, table.place.source)),
    });

    let joint = table.joint(e.soundness);
    scribe.step(|| Step {
        chapter: CHAPTER,
        what: Cow::Owned(match e.soundness {
            Some(s) => format!("factor for joints and hollowness: {}", s.name()),
            None => "factor for joints and hollowness: not looked at".to_owned(),
        }),
        formula: "J by soundness, on the capacity of rock modes".into(),
        inputs: vec![],
        result: Term::new(
            "J",
            joint.factor,
            "1",
            if e.soundness.is_some() { Origin::Table } else { Origin::Assumed },
        )
        .with_sd(joint.sd_ln),
        source: Cow::Borrowed(&joint.source),
    });

    RockStrength {
        ucs,
        joint_factor: Uncertain::new(Ratio::of(joint.factor), joint.sd_ln),
        rock_type: e.rock_type,
    }
}

/// Precision-weighted mean of the methods, its variance widened by the Birge ratio where they disagree.
fn combine(estimates: &[Option<Estimate>]) -> Option<Estimate> {
    let (mut precision, mut weighted, mut n) = (0.0, 0.0, 0_u32);
    for e in estimates.iter().flatten() {
        precision += 1.0 / e.variance;
        weighted += e.ln_mpa / e.variance;
        n += 1;
    }
    if n == 0 {
        return None;
    }
    let ln_mpa = weighted / precision;
    let chi2: f64 = estimates.iter().flatten().map(|e| (e.ln_mpa - ln_mpa).powi(2) / e.variance).sum();
    let birge = if n > 1 { (chi2 / f64::from(n - 1)).max(1.0) } else { 1.0 };
    Some(Estimate { ln_mpa, variance: birge / precision })
}

/// Bayes' rule with a prior that gives way to a contradiction.
fn update(prior: &Prior, direct: Estimate, scribe: &mut impl Scribe) -> (f64, f64) {
    let gap = direct.ln_mpa - prior.mean_ln;
    let prior_variance = prior.variance.max(gap * gap - direct.variance);
    let precision = 1.0 / prior_variance + 1.0 / direct.variance;
    let mean = (prior.mean_ln / prior_variance + direct.ln_mpa / direct.variance) / precision;
    scribe.step(|| Step {
        chapter: CHAPTER,
        what: if prior_variance > prior.variance {
            "strength of the dry rock: readings contradict the rock type, which gives way".into()
        } else {
            "strength of the dry rock: rock type and readings together".into()
        },
        formula: "ln UCS = (ln U0 / s0^2 + ln U1 / s1^2) / (1 / s0^2 + 1 / s1^2)".into(),
        inputs: vec![
            Term::new("U0", prior.mean_ln.exp(), "MPa", Origin::Table).with_sd(prior_variance.sqrt()),
            Term::new("U1", direct.ln_mpa.exp(), "MPa", Origin::Computed).with_sd(direct.variance.sqrt()),
        ],
        result: Term::new("UCS_dry", mean.exp(), "MPa", Origin::Computed).with_sd((1.0 / precision).sqrt()),
        source: "Bayes' rule for normal variables; between-method scatter after Birge".into(),
    });
    (mean, 1.0 / precision)
}

fn step_prior(e: &RockEvidence, prior: &'static Prior, scribe: &mut impl Scribe) {
    scribe.step(|| Step {
        chapter: CHAPTER,
        what: Cow::Owned(match e.rock_type {
            Some(t) => format!("strength usual for {}", t.name()),
            None => "strength of rock whose type is not known".to_owned(),
        }),
        formula: "U0 = sqrt(U_low * U_high); s0 = ln(U_high / U_low) / (2 * 1.645)".into(),
        inputs: vec![
            Term::new("U_low", prior.entry.ucs_low_mpa, "MPa", Origin::Table),
            Term::new("U_high", prior.entry.ucs_high_mpa, "MPa", Origin::Table),
        ],
        result: Term::new(
            "U0",
            prior.mean_ln.exp(),
            "MPa",
            if e.rock_type.is_some() { Origin::Table } else { Origin::Assumed },
        )
        .with_sd(prior.variance.sqrt()),
        source: Cow::Borrowed(&prior.entry.source),
    });
}

fn from_grade(table: &'static Table, e: &RockEvidence, scribe: &mut impl Scribe) -> Option<Estimate> {
    let grade = e.grade?;
    let entry = table.grade(grade)?;
    let variance = table.methods.grade.variance() + entry.sd_ln * entry.sd_ln;
    scribe.step(|| Step {
        chapter: CHAPTER,
        what: Cow::Owned(format!("strength from field grade {} ({})", grade.name(), grade.field_test())),
        formula: "U = middle of the grade's band".into(),
        inputs: vec![],
        result: Term::new("U", entry.ucs_mpa, "MPa", Origin::Recorded).with_sd(variance.sqrt()),
        source: Cow::Borrowed(&entry.source),
    });
    Some(Estimate { ln_mpa: entry.ucs_mpa.ln(), variance })
}

fn from_rebound(
    table: &'static Table,
    prior: &Prior,
    e: &RockEvidence,
    scribe: &mut impl Scribe,
) -> Option<Estimate> {
    let rebound = e.rebound?;
    let t = &table.rebound;
    let known = e
        .unit_weight_kn_per_m3
        .filter(|g| (t.unit_weight_low_kn_per_m3..=t.unit_weight_high_kn_per_m3).contains(g));
    let unit_weight = known.unwrap_or(prior.entry.unit_weight_kn_per_m3);
    if let Err(why) = index::rebound_ucs(rebound, unit_weight) {
        left_out(scribe, rebound, "1", why, &t.source);
        return None;
    }
    let ln_mpa = index::rebound_ln_mpa(rebound, unit_weight);
    let doubt = if known.is_some() {
        0.0
    } else {
        index::rebound_slope(rebound) * table.rebound.unit_weight_sd_kn_per_m3
    };
    let variance = table.methods.rebound.variance() + doubt * doubt;
    scribe.step(|| Step {
        chapter: CHAPTER,
        what: "strength from the rebound hammer".into(),
        formula: "log10(U / MPa) = 0.00088 * g * R + 1.01".into(),
        inputs: vec![
            Term::new("R", rebound, "1", Origin::Measured),
            Term::new(
                "g",
                unit_weight,
                "kN/m3",
                if known.is_some() { Origin::Recorded } else { Origin::Assumed },
            ),
        ],
        result: Term::new("U", ln_mpa.exp(), "MPa", Origin::Computed).with_sd(variance.sqrt()),
        source: Cow::Borrowed(&table.methods.rebound.source),
    });
    Some(Estimate { ln_mpa, variance })
}

fn from_point_load(table: &'static Table, e: &RockEvidence, scribe: &mut impl Scribe) -> Option<Estimate> {
    let is50 = e.point_load_index?;
    let k = index::point_load_ratio(is50);
    let ucs = match index::point_load_ucs(is50, k) {
        Ok(ucs) => ucs,
        Err(why) => {
            left_out(scribe, is50.as_mpa(), "MPa", why, &table.point_load.source);
            return None;
        }
    };
    let variance = table.methods.point_load.variance();
    scribe.step(|| Step {
        chapter: CHAPTER,
        what: "strength from the point load index".into(),
        formula: "U = K * Is50".into(),
        inputs: vec![
            Term::new("Is50", is50.as_mpa(), "MPa", Origin::Measured),
            Term::new("K", k, "1", Origin::Table),
        ],
        result: Term::new("U", ucs.as_mpa(), "MPa", Origin::Computed).with_sd(variance.sqrt()),
        source: Cow::Borrowed(&table.point_load.source),
    });
    Some(Estimate { ln_mpa: ucs.as_mpa().ln(), variance })
}

fn from_test(table: &'static Table, e: &RockEvidence, scribe: &mut impl Scribe) -> Option<Estimate> {
    let ucs = e.tested_ucs?;
    if !(ucs.si() > 0.0 && ucs.is_finite()) {
        left_out(
            scribe,
            ucs.as_mpa(),
            "MPa",
            index::IndexError::Strength(ucs.as_mpa()),
            &table.methods.tested.source,
        );
        return None;
    }
    let variance = table.methods.tested.variance();
    scribe.step(|| Step {
        chapter: CHAPTER,
        what: "strength tested in a laboratory".into(),
        formula: "U = UCS of the specimens".into(),
        inputs: vec![],
        result: Term::new("U", ucs.as_mpa(), "MPa", Origin::Measured).with_sd(variance.sqrt()),
        source: Cow::Borrowed(&table.methods.tested.source),
    });
    Some(Estimate { ln_mpa: ucs.as_mpa().ln(), variance })
}

/// Notes a reading that was not used.
fn left_out(
    scribe: &mut impl Scribe,
    value: f64,
    unit: &'static str,
    why: index::IndexError,
    source: &'static str,
) {
    scribe.step(|| Step {
        chapter: CHAPTER,
        what: Cow::Owned(format!("reading left out: {why}")),
        formula: "not used".into(),
        inputs: vec![Term::new("reading", value, unit, Origin::Recorded)],
        result: Term::new("weight", 0.0, "1", Origin::Computed),
        source: source.into(),
    });
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::evidence::{FieldGrade, RockType, Soundness, Wetness};
    use proptest::prelude::*;
    use reckoning::{Account, Silent};

    fn of(e: RockEvidence) -> RockStrength {
        strength(&e, &mut Silent)
    }
    fn dry(rock_type: RockType) -> RockEvidence {
        RockEvidence { rock_type: Some(rock_type), wetness: Some(Wetness::Dry), ..Default::default() }
    }

    #[test]
    fn type_alone_covers_the_table_range() {
        // reprinted rock-property table: limestone 30-250 MPa
        let s = of(dry(RockType::Limestone));
        assert!((s.ucs.median.as_mpa() - (30.0_f64 * 250.0).sqrt()).abs() < 1e-9);
        assert!(s.ucs.fractile(0.05).as_mpa() <= 30.0 && s.ucs.fractile(0.95).as_mpa() >= 250.0);
    }

    #[test]
    fn two_readings_weigh_by_precision() {
        // worked by hand: limestone prior ln(86.60), s0^2 = (ln(250/30)/3.28971)^2 = 0.415404;
        // grade R4: ln 71, v = 0.35^2 + 0.20^2 = 0.1625; lab 90 MPa: v = 0.0225.
        // y = (ln71/0.1625 + ln90/0.0225)/(1/0.1625 + 1/0.0225) = 4.470964, v = 0.019763, chi2 = 0.303
        let e = RockEvidence {
            grade: Some(FieldGrade::R4),
            tested_ucs: Some(Stress::mpa(90.0)),
            ..dry(RockType::Limestone)
        };
        let (y1, y2) = (71.0_f64.ln(), 90.0_f64.ln());
        let y = (y1 / 0.1625 + y2 / 0.0225) / (1.0 / 0.1625 + 1.0 / 0.0225);
        let v = 1.0 / (1.0 / 0.1625 + 1.0 / 0.0225);
        let s0 = ((250.0_f64 / 30.0).ln() / 3.289_707_253_902_944).powi(2);
        let m0 = (30.0_f64 * 250.0).ln() / 2.0;
        let post = (m0 / s0 + y / v) / (1.0 / s0 + 1.0 / v);
        let s = of(e);
        assert!((s.ucs.median.as_mpa().ln() - post).abs() < 1e-9);
        assert!((s.ucs.sd_ln.powi(2) - (1.0 / (1.0 / s0 + 1.0 / v) + 0.04)).abs() < 1e-9);
    }

    #[test]
    fn a_contradicted_type_gives_way() {
        // granite that a knife peels is weathered: the estimate must go near R2 (5-25 MPa), not near 150
        let s = of(RockEvidence { grade: Some(FieldGrade::R2), ..dry(RockType::Granite) });
        assert!(s.ucs.median.as_mpa() < 20.0, "{}", s.ucs.median.as_mpa());
    }

    #[test]
    fn disagreeing_readings_widen() {
        let agree = RockEvidence {
            grade: Some(FieldGrade::R4),
            point_load_index: Some(Stress::mpa(71.0 / 22.0)),
            ..dry(RockType::Limestone)
        };
        let differ = RockEvidence { point_load_index: Some(Stress::mpa(0.3)), ..agree };
        assert!(of(differ).ucs.sd_ln > 1.5 * of(agree).ucs.sd_ln);
    }

    #[test]
    fn unknown_is_wider_than_known() {
        let known = RockEvidence { soundness: Some(Soundness::Massive), ..dry(RockType::Granite) };
        let none = of(RockEvidence::default());
        let s = of(known);
        assert!(none.ucs.sd_ln > 1.5 * s.ucs.sd_ln);
        assert!(none.joint_factor.sd_ln > s.joint_factor.sd_ln);
        assert!(none.joint_factor.median.get() < 1.0);
        // without the unit weight the rebound hammer says less
        let hammer = RockEvidence { rebound: Some(50.0), ..dry(RockType::Limestone) };
        let both = RockEvidence { unit_weight_kn_per_m3: Some(25.0), ..hammer };
        assert!(of(hammer).ucs.sd_ln > of(both).ucs.sd_ln);
    }

    #[test]
    fn account_says_what_was_left_out() {
        let mut account = Account::default();
        let e = RockEvidence { rebound: Some(500.0), ..dry(RockType::Granite) };
        let s = strength(&e, &mut account);
        assert_eq!(s, of(dry(RockType::Granite)));
        assert!(account.steps.iter().any(|s| s.what.contains("left out")));
        assert!(account.steps.iter().all(|s| !s.source.is_empty()));
    }

    fn any_evidence() -> impl Strategy<Value = RockEvidence> {
        let f = || proptest::option::of(proptest::num::f64::ANY);
        (0..11_usize, 0..8_usize, f(), f(), f(), f(), 0..4_usize, 0..5_usize).prop_map(
            |(t, g, rebound, unit_weight_kn_per_m3, point, tested, w, s)| RockEvidence {
                rock_type: RockType::ALL.get(t).copied(),
                grade: FieldGrade::ALL.get(g).copied(),
                rebound,
                unit_weight_kn_per_m3,
                point_load_index: point.map(Stress::mpa),
                tested_ucs: tested.map(Stress::mpa),
                wetness: Wetness::ALL.get(w).copied(),
                soundness: Soundness::ALL.get(s).copied(),
            },
        )
    }

    proptest! {
        #[test]
        fn any_input_gives_a_usable_strength(e in any_evidence()) {
            let s = of(e);
            prop_assert!(s.ucs.median.as_mpa() > 0.0);
            prop_assert!(s.ucs.sd_ln > 0.0 && s.ucs.sd_ln.is_finite());
            prop_assert!(s.joint_factor.median.get() > 0.0 && s.joint_factor.median.get() <= 1.0);
        }

        #[test]
        fn a_stronger_specimen_never_lowers_the_estimate(a in 1.0..400.0f64, b in 1.0..400.0f64, t in 0..10_usize) {
            let at = |u: f64| of(RockEvidence { tested_ucs: Some(Stress::mpa(u)), wetness: None, ..dry(RockType::ALL[t]) });
            prop_assert!(at(a.min(b)).ucs.median.as_mpa() <= at(a.max(b)).ucs.median.as_mpa() + 1e-9);
        }

        #[test]
        fn an_agreeing_reading_narrows(t in 0..10_usize) {
            let without = of(dry(RockType::ALL[t]));
            let with = of(RockEvidence { tested_ucs: Some(without.ucs.median), ..dry(RockType::ALL[t]) });
            prop_assert!(with.ucs.sd_ln < without.ucs.sd_ln);
            prop_assert!((with.ucs.median.as_mpa() / without.ucs.median.as_mpa() - 1.0).abs() < 1e-9);
        }
    }
}
