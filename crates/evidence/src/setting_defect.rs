//! The chance that a placement has a setting defect that nobody can see.

use crate::Seen;
use crate::sign_table::{Group, effects};
use hardware::Kind;
use resistance::Mode;
use serde::Deserialize;
use std::sync::OnceLock;

/// A setting defect out of sight, by kind of hardware: how common it is before anybody has looked, and
/// what such a placement holds. A latent class of its own beside the well-set placements.
#[derive(Clone, Debug, PartialEq)]
pub struct SettingDefect {
    /// Kind; `None` = not known.
    pub kind: Option<Kind>,
    /// What is wrong, in plain words.
    pub what: String,
    /// Share of placements that have it, before any sign was looked for.
    pub share: f64,
    /// Modes it acts on.
    pub modes: Box<[Mode]>,
    /// Median resistance of these modes compared with a well-set placement.
    pub ratio: f64,
    /// Standard deviation of the ratio's logarithm.
    pub sd_ln: f64,
    /// Citation or "judgement".
    pub source: String,
}

/// Greatest shift of the odds that signs together may bring about. Source: judgement (correlated signs
/// must not add up to a certainty).
pub const GREATEST_SHIFT: f64 = 20.0;

/// The setting defect of a kind. Source: `data/setting_defects.toml` (judgement).
pub fn setting_defect(kind: Option<Kind>) -> &'static SettingDefect {
    let index = kind.map_or(Kind::ALL.len(), |k| k as usize);
    &table()[index]
}

/// Chance that a placement of this kind has a setting defect out of sight, given what was looked for.
///
/// `w' = w L / (w L + 1 - w)`, w prior share, L product over the groups of signs of the strongest
/// likelihood ratio of the group, kept within 1/20..20. In a group with a sign that speaks for a defect
/// the signs that speak against it are not heard. Signs not looked for change nothing. Order does not
/// matter. Source: Bayes' rule; ratios and caps judgement.
pub fn hidden_defect(kind: Option<Kind>, seen: &[Seen]) -> f64 {
    let mut of_group = [1.0_f64; Group::COUNT];
    for &s in seen {
        let e = effects(s);
        let so_far = &mut of_group[e.group as usize];
        *so_far = stronger(*so_far, e.defect);
    }
    let shift: f64 = of_group.iter().product();
    let share = setting_defect(kind).share;
    let mut weights = [share, 1.0 - share];
    reweigh(&mut weights, &[shift.clamp(1.0 / GREATEST_SHIFT, GREATEST_SHIFT), 1.0]);
    weights[0]
}

fn stronger(a: f64, b: f64) -> f64 {
    if a > 1.0 || b > 1.0 { a.max(b) } else { a.min(b) }
}

/// Bayes' rule for latent classes: multiplies each weight by the likelihood of what was found in that
/// class and scales the weights to add to 1. Weights stay as they are if nothing is left (all products
/// zero) or if the lists differ in length.
pub fn reweigh(weights: &mut [f64], likelihoods: &[f64]) {
    if weights.len() != likelihoods.len() {
        return;
    }
    let total: f64 = weights.iter().zip(likelihoods).map(|(w, l)| w * l).sum();
    if total > 0.0 && total.is_finite() {
        for (w, l) in weights.iter_mut().zip(likelihoods) {
            *w *= l / total;
        }
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    defect: Vec<Row>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    kind: KindOrUnknown,
    what: String,
    share: f64,
    modes: Vec<Mode>,
    ratio: f64,
    sd_ln: f64,
    source: String,
}

#[derive(Clone, Copy, PartialEq, Deserialize)]
#[serde(untagged)]
enum KindOrUnknown {
    Kind(Kind),
    Unknown(Unknown),
}

#[derive(Clone, Copy, PartialEq, Deserialize)]
#[serde(rename_all = "snake_case")]
enum Unknown {
    Unknown,
}

fn table() -> &'static [SettingDefect] {
    static TABLE: OnceLock<Vec<SettingDefect>> = OnceLock::new();
    TABLE.get_or_init(|| {
        // the tests read the same built-in text and check that every kind is there
        parse(include_str!("../data/setting_defects.toml"))
            .expect("the built-in table of setting defects is complete")
    })
}

fn parse(text: &str) -> Result<Vec<SettingDefect>, String> {
    let file: File = toml::from_str(text).map_err(|e| e.to_string())?;
    Kind::ALL
        .into_iter()
        .map(Some)
        .chain([None])
        .map(|kind| {
            let key = kind.map_or(KindOrUnknown::Unknown(Unknown::Unknown), KindOrUnknown::Kind);
            let row =
                file.defect.iter().find(|r| r.kind == key).ok_or_else(|| format!("{kind:?} is missing"))?;
            let sane = (0.0..1.0).contains(&row.share)
                && row.ratio > 0.0
                && row.ratio <= 1.0
                && row.sd_ln >= 0.0
                && row.sd_ln.is_finite();
            if !sane {
                return Err(format!("{kind:?}: share, ratio or scatter out of range"));
            }
            Ok(SettingDefect {
                kind,
                what: row.what.clone(),
                share: row.share,
                modes: row.modes.clone().into(),
                ratio: row.ratio,
                sd_ln: row.sd_ln,
                source: row.source.clone(),
            })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Extent, Finding, Sign};
    use proptest::prelude::*;

    fn seen(sign: Sign, finding: Finding) -> Seen {
        Seen { sign, finding }
    }

    #[test]
    fn every_kind_has_an_entry_in_its_place() {
        parse(include_str!("../data/setting_defects.toml")).unwrap();
        for (index, kind) in Kind::ALL.into_iter().enumerate() {
            assert_eq!(kind as usize, index);
            assert_eq!(setting_defect(Some(kind)).kind, Some(kind));
        }
        assert_eq!(setting_defect(None).kind, None);
    }

    #[test]
    fn nothing_looked_for_changes_nothing() {
        for kind in Kind::ALL.map(Some).into_iter().chain([None]) {
            assert_eq!(hidden_defect(kind, &[]), setting_defect(kind).share);
        }
    }

    #[test]
    fn classes_are_reweighed_by_bayes_rule() {
        // three classes, a rust streak of likelihood 0.10, 0.50, 0.90: worked by hand
        let mut w = [0.90, 0.08, 0.02];
        reweigh(&mut w, &[0.10, 0.50, 0.90]);
        for (got, want) in w.into_iter().zip([0.09 / 0.148, 0.04 / 0.148, 0.018 / 0.148]) {
            assert!((got - want).abs() < 1e-15);
        }
        let before = w;
        reweigh(&mut w, &[0.0; 3]);
        reweigh(&mut w, &[1.0; 2]);
        assert_eq!(w, before);
    }

    #[test]
    fn absence_lowers_and_presence_raises_the_chance() {
        let kind = Some(Kind::WedgeBolt);
        let prior = hidden_defect(kind, &[]);
        let absent = hidden_defect(kind, &[seen(Sign::MovesInHole, Finding::Absent)]);
        let loose = hidden_defect(kind, &[seen(Sign::NutLoose, Finding::Present(Extent::Severe))]);
        assert!(absent < prior && prior < loose);
        // signs of one group are heard once
        let twice = [
            seen(Sign::NutLoose, Finding::Present(Extent::Severe)),
            seen(Sign::HangerTurns, Finding::Present(Extent::Marked)),
        ];
        assert_eq!(hidden_defect(kind, &twice), loose);
    }

    fn any_seen() -> impl Strategy<Value = Seen> {
        (0..Sign::COUNT, 0..4_usize).prop_map(|(s, f)| {
            let finding = if f == 0 { Finding::Absent } else { Finding::Present(Extent::ALL[f - 1]) };
            Seen { sign: Sign::ALL[s], finding }
        })
    }

    proptest! {
        #[test]
        fn stays_a_probability_within_the_cap_and_ignores_order(
            mut signs in proptest::collection::vec(any_seen(), 0..20),
            kind in 0..8_usize,
        ) {
            let kind = Kind::ALL.get(kind).copied();
            let w = setting_defect(kind).share;
            let p = hidden_defect(kind, &signs);
            let odds = |p: f64| p / (1.0 - p);
            prop_assert!(odds(p) <= odds(w) * GREATEST_SHIFT * (1.0 + 1e-12));
            prop_assert!(odds(p) >= odds(w) / GREATEST_SHIFT * (1.0 - 1e-12));
            signs.reverse();
            prop_assert!((hidden_defect(kind, &signs) - p).abs() < 1e-15);
        }
    }
}
