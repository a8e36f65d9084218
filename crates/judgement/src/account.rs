//! The judgement's own steps in the account.

use crate::case::ProofHeld;
use crate::judge::Z_05;
use crate::outcome::Judgement;
use crate::standing::Standing;
use decay::Decay;
use evidence::{Action, Finding, Seen, SettingDefect, effects};
use reckoning::{Origin, Scribe, Step, Term};
use resistance::Mode;

/// A sign acting on a mode; `after_n` is the mode's median afterwards in newtons.
pub(crate) fn sign(scribe: &mut impl Scribe, seen: &Seen, mode: Mode, action: Action, after_n: f64) {
    scribe.step(|| {
        let extent = match seen.finding {
            Finding::Present(extent) => extent.name(),
            Finding::Absent => "absent",
        };
        Step {
            chapter: "signs",
            what: format!("{} ({extent}) acts on {}", seen.sign.name(), mode.name()).into(),
            formula: "R' = r_sign * R".into(),
            inputs: vec![
                Term::new("r_sign", action.ratio, "1", Origin::Table).with_sd(action.sd_ln),
                Term::new("R", after_n / action.ratio / 1e3, "kN", Origin::Computed),
            ],
            result: Term::new("R'", after_n / 1e3, "kN", Origin::Computed),
            source: effects(*seen).source.clone().into(),
        }
    });
}

/// Pulls of sister fittings: their ratio, and what of it is taken over.
pub(crate) fn sisters(scribe: &mut impl Scribe, ratio: f64, sd_ln: f64, taken: f64) {
    scribe.step(|| Step {
        chapter: "tests",
        what: "Pulls of sister fittings (same crag, rock and kind) against what was judged for them: factor on the modes of rock and setting, raises bounded by the policy".into(),
        formula: "r = min(r_sisters, most); R' = r * R".into(),
        inputs: vec![Term::new("r_sisters", ratio, "1", Origin::Measured).with_sd(sd_ln)],
        result: Term::new("r", taken, "1", Origin::Computed).with_sd(sd_ln),
        source: "Partial pooling of log ratios, normal model with censoring (general statistics); bound: judgement".into(),
    });
}

/// A proof load that held.
pub(crate) fn proof(scribe: &mut impl Scribe, proof: &ProofHeld) {
    scribe.step(|| Step {
        chapter: "tests",
        what: "A proof load held: what is weaker is ruled out, as far as steel lost since allows".into(),
        formula: "P(R > x | R > q) = P(R > max(x, q)) / P(R > q)".into(),
        inputs: vec![
            Term::new("q", proof.load.as_kn(), "kN", Origin::Measured),
            Term::new("years since", proof.years_ago, "a", Origin::Recorded),
        ],
        result: Term::new("q", proof.load.as_kn(), "kN", Origin::Measured),
        source: "Bayes' rule; truncation by a survived load".into(),
    });
}

/// The fitting gave way in a pull.
pub(crate) fn gave_way(scribe: &mut impl Scribe, (ratio, sd_ln): (f64, f64)) {
    scribe.step(|| Step {
        chapter: "tests",
        what: "It gave way in a pull test and nothing records a new fitting: it counts as holding nothing"
            .into(),
        formula: "R' = r * R".into(),
        inputs: vec![Term::new("r", ratio, "1", Origin::Table).with_sd(sd_ln)],
        result: Term::new("r", ratio, "1", Origin::Table).with_sd(sd_ln),
        source: "judgement".into(),
    });
}

/// Loads survived in service; `greatest_n` the median of the greatest in newtons.
pub(crate) fn service(scribe: &mut impl Scribe, counted: f64, years: f64, greatest_n: f64) {
    scribe.step(|| Step {
        chapter: "tests",
        what: "Loads it has survived in service: what is weaker than the greatest of them is ruled out"
            .into(),
        formula: "P(R > x | survived) = E_S[P(R > max(x, S))] / E_S[P(R > S)]; P(S < s) = G(s)^n".into(),
        inputs: vec![
            Term::new("n", counted, "1", Origin::Assumed),
            Term::new("years counted", years, "a", Origin::Computed),
        ],
        result: Term::new("S (median)", greatest_n / 1e3, "kN", Origin::Computed),
        source: "Bayes' rule; how many loads count: judgement".into(),
    });
}

/// Loads survived in service that contradict what is judged.
pub(crate) fn outlived(scribe: &mut impl Scribe, counted: f64) {
    scribe.step(|| Step {
        chapter: "tests",
        what: "It has survived loads that the judged strength would hardly have held: the loads are not counted, and either the records or the models are wrong here".into(),
        formula: "E_S[P(R > S)] < 0.01".into(),
        inputs: vec![Term::new("n", counted, "1", Origin::Assumed)],
        result: Term::new("n counted", 0.0, "1", Origin::Computed),
        source: "judgement".into(),
    });
}

/// The hidden states.
pub(crate) fn states(
    scribe: &mut impl Scribe,
    (steel, plate): (&Decay, Option<&Decay>),
    age_years: f64,
    age_known: bool,
    defect: &SettingDefect,
    defect_chance: f64,
    recalled: bool,
) {
    let origin = if age_known { Origin::Recorded } else { Origin::Assumed };
    for (part, history) in [("bolt", Some(steel)), ("hanger", plate)] {
        let Some(now) = history.map(|history| history.at(age_years)) else { continue };
        scribe.step(|| Step {
            chapter: "decay",
            what: format!("Steel of the {part} left at this age, as a share of the loaded area").into(),
            formula: if part == "bolt" { "A/A0 = (1 - 2 m D(t) / d0)^2" } else { "A/A0 = 1 - 2 m D(t) / s0" }
                .into(),
            inputs: vec![Term::new("t", age_years, "a", origin)],
            result: Term::new("A/A0", now.area_left.median.get(), "1", Origin::Computed)
                .with_sd(now.area_left.sd_ln),
            source: "ISO 9223, ISO 9224".into(),
        });
        scribe.step(|| Step {
            chapter: "decay",
            what: format!("Chance that the {part} has cracked by stress corrosion").into(),
            formula: "P = 1 - E[exp(-h t)]".into(),
            inputs: vec![Term::new("t", age_years, "a", origin)],
            result: Term::new("P(cracked)", now.cracked, "1", Origin::Computed),
            source: "judgement on published failures and laboratory cracking tests".into(),
        });
    }
    scribe.step(|| Step {
        chapter: "hidden defect",
        what: format!("Chance of a fault out of sight: {}", defect.what).into(),
        formula: if recalled {
            "w' = max(w L / (w L + 1 - w), share of a recalled batch)"
        } else {
            "w' = w L / (w L + 1 - w)"
        }
        .into(),
        inputs: vec![
            Term::new("w", defect.share, "1", Origin::Table),
            Term::new("strength then", defect.ratio, "1", Origin::Table).with_sd(defect.sd_ln),
        ],
        result: Term::new("w'", defect_chance, "1", Origin::Computed),
        source: defect.source.clone().into(),
    });
}

/// The figures of the judgement itself.
pub(crate) fn judgement(
    scribe: &mut impl Scribe,
    j: &Judgement,
    standing: &Standing,
    governing: &'static str,
) {
    scribe.step(|| {
        let inputs = j
            .modes
            .iter()
            .map(|m| {
                Term::new(m.mode.name(), m.band.p50.as_kn(), "kN", Origin::Computed)
                    .with_sd((m.band.p95.as_n() / m.band.p05.as_n()).ln() / (-2.0 * Z_05))
            })
            .collect();
        Step {
            chapter: "judgement",
            what: format!("Overall resistance: the weakest mode governs; most likely {governing}").into(),
            formula: "P(R > x) = sum_states w E_Z[ prod_m Phi((ln R_m + a_m Z - ln x)/b_m) ]".into(),
            inputs,
            result: Term::new("R (median)", j.resistance.p50.as_kn(), "kN", Origin::Computed)
                .with_sd((j.resistance.p95.as_n() / j.resistance.p05.as_n()).ln() / (-2.0 * Z_05)),
            source: "weakest-link model with one common factor (structural systems reliability)".into(),
        }
    });
    scribe.step(|| Step {
        chapter: "judgement",
        what: "Characteristic resistance: 5 % fractile at 75 % confidence".into(),
        formula: "R_k: P(R < R_k) = 5 % with what is unknown at its 25 % fractile".into(),
        inputs: vec![
            Term::new("R (median)", j.resistance.p50.as_kn(), "kN", Origin::Computed),
            Term::new("R (5 %)", j.resistance.p05.as_kn(), "kN", Origin::Computed),
        ],
        result: Term::new("R_k", j.characteristic.as_kn(), "kN", Origin::Computed),
        source: "5 % fractile at 75 % confidence as in EN 1990 annex D and anchor assessment practice (from memory); split of what can be known: judgement".into(),
    });
    scribe.step(|| Step {
        chapter: "judgement",
        what: "Chance to hold a typical hard fall".into(),
        formula: "p = P(R > F_hard)".into(),
        inputs: vec![
            Term::new("F_hard", j.demand.hard_fall.as_kn(), "kN", Origin::Computed),
            Term::new("p if the unknown turns out badly", j.holds_hard_fall.low, "1", Origin::Computed),
            Term::new("p if the unknown turns out well", j.holds_hard_fall.high, "1", Origin::Computed),
        ],
        result: Term::new("p", j.holds_hard_fall.best, "1", Origin::Computed),
        source: "definition".into(),
    });
    scribe.step(|| Step {
        chapter: "judgement",
        what: "Chance to hold a year of use".into(),
        formula: "p_year = E[ P(R > greatest load of a year) ]".into(),
        inputs: vec![
            Term::new("loadings a year", j.demand.falls_per_year, "1/a", Origin::Computed),
            Term::new("greatest load (median)", j.demand.worst_year.p50.as_kn(), "kN", Origin::Computed),
            Term::new("greatest load (95 %)", j.demand.worst_year.p95.as_kn(), "kN", Origin::Computed),
        ],
        result: Term::new("p_year", j.holds_year.best, "1", Origin::Computed),
        source: "Poisson maximum of falls".into(),
    });
    scribe.step(|| Step {
        chapter: "judgement",
        what: "Years left until the chance to hold a hard fall falls below the policy's threshold".into(),
        formula: "min t: P(R(t) > F_hard) < threshold".into(),
        inputs: vec![
            Term::new(
                "age now",
                standing.age_years,
                "a",
                if standing.age_sd_ln > 0.0 { Origin::Assumed } else { Origin::Recorded },
            ),
            Term::new("horizon", j.years_left.horizon, "a", Origin::Table),
        ],
        result: Term::new("years left", j.years_left.best.unwrap_or(f64::INFINITY), "a", Origin::Computed),
        source: "definition; threshold judgement".into(),
    });
}
