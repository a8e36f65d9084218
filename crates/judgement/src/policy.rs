//! The policy: thresholds and named judgements that turn numbers into a call, as editable data.

use crate::outcome::Call;
use hardware::Kind;
use serde::Deserialize;
use std::sync::OnceLock;

/// The policy could not be read.
#[derive(Debug, thiserror::Error)]
pub enum PolicyError {
    /// Not the expected TOML.
    #[error("the policy file cannot be read: {0}. Compare it with the built-in one (`policy.toml`).")]
    Syntax(#[from] toml::de::Error),
    /// A value outside its range.
    #[error("the policy's {name} is {value}; it must lie between {low} and {high}.")]
    OutOfRange {
        /// Name of the entry.
        name: &'static str,
        /// What was given.
        value: f64,
        /// Smallest allowed.
        low: f64,
        /// Largest allowed.
        high: f64,
    },
}

/// Chances (0..1) and times (years) at which a call changes. Source: judgement.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Thresholds {
    /// Chance to hold a hard fall below which the call is `shun`.
    pub shun_below: f64,
    /// ... `shun`, not `renew`, even where better knowledge could still show the placement to be good.
    pub doubt_shun_below: f64,
    /// ... `renew`.
    pub renew_below: f64,
    /// Unfavourable chance below which the call is `watch`.
    pub watch_below: f64,
    /// Chance to hold a year of use below which the call is `renew`.
    pub year_renew_below: f64,
    /// ... `watch`.
    pub year_watch_below: f64,
    /// Chance that ends the useful life.
    pub life_ends_below: f64,
    /// Years left below which the call is `renew`.
    pub renew_within_years: f64,
    /// Unfavourable years left below which the call is `watch`.
    pub watch_within_years: f64,
    /// Years since the last sighting after which the call is `watch`.
    pub look_again_after_years: f64,
    /// How far ahead years left are looked for.
    pub horizon_years: f64,
}

/// Age where it is unknown: log-normal.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct UnknownAge {
    /// Median in years.
    pub median_years: f64,
    /// Standard deviation of the logarithm.
    pub sd_ln: f64,
    /// Where the numbers come from.
    pub source: String,
}

/// How loads survived in service count as evidence.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Service {
    /// Only loads of the last so many years.
    pub counted_years: f64,
    /// Share of the expected loadings.
    pub counted_share: f64,
    /// At most so many.
    pub most_counted: f64,
    /// Where the numbers come from.
    pub source: String,
}

/// What sister fittings share.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sisters {
    /// Shared part of the model scatter, standard deviation of the logarithm.
    pub shared_sd_ln: f64,
    /// Greatest factor by which pulls of sisters may raise a resistance, >= 1.
    pub most_raise: f64,
    /// Where the number comes from.
    pub source: String,
}

/// What a recall of a batch does.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Recall {
    /// The call its fittings get at least.
    pub call: Call,
    /// Share of its settings that are taken to have a hidden defect at least, 0..1.
    pub defect_share: f64,
    /// Where the numbers come from.
    pub source: String,
}

/// The least urgent call that a kind of hardware can get.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KindFloor {
    /// Which kind.
    pub kind: Kind,
    /// The call it gets at least.
    pub call: Call,
    /// Why, as the start of a plain sentence.
    pub because: String,
    /// Where the rule comes from.
    pub source: String,
}

/// The whole policy.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Policy {
    /// Where calls change.
    pub thresholds: Thresholds,
    /// Age where it is unknown.
    pub unknown_age: UnknownAge,
    /// Loads survived in service.
    pub service: Service,
    /// What sister fittings share.
    pub sisters: Sisters,
    /// Recalled batches.
    pub recall: Recall,
    /// Floors by kind.
    #[serde(default)]
    pub kind_floor: Vec<KindFloor>,
}

impl Policy {
    /// The built-in policy (`data/policy.toml`).
    pub fn built_in() -> &'static Policy {
        static POLICY: OnceLock<Policy> = OnceLock::new();
        POLICY.get_or_init(|| {
            Self::from_toml(include_str!("../data/policy.toml")).expect("the built-in policy is tested")
        })
    }

    /// A policy from the text of a TOML file.
    ///
    /// # Errors
    /// [`PolicyError`] if the text is not such a file or a value lies outside its range.
    pub fn from_toml(text: &str) -> Result<Policy, PolicyError> {
        let policy: Policy = toml::from_str(text)?;
        let t = &policy.thresholds;
        let within = [
            ("shun_below", t.shun_below, 0.0, 1.0),
            ("doubt_shun_below", t.doubt_shun_below, 0.0, t.shun_below),
            ("renew_below", t.renew_below, t.shun_below, 1.0),
            ("watch_below", t.watch_below, 0.0, 1.0),
            ("year_renew_below", t.year_renew_below, 0.0, 1.0),
            ("year_watch_below", t.year_watch_below, t.year_renew_below, 1.0),
            ("sisters' most_raise", policy.sisters.most_raise, 1.0, 10.0),
            ("recall's defect_share", policy.recall.defect_share, 0.0, 1.0),
            ("life_ends_below", t.life_ends_below, 0.0, 1.0),
            ("renew_within_years", t.renew_within_years, 0.0, 200.0),
            ("watch_within_years", t.watch_within_years, 0.0, 200.0),
            ("look_again_after_years", t.look_again_after_years, 0.0, 200.0),
            ("horizon_years", t.horizon_years, 1.0, 200.0),
            ("unknown age's median_years", policy.unknown_age.median_years, 0.0, 100.0),
            ("unknown age's sd_ln", policy.unknown_age.sd_ln, 0.0, 2.0),
            ("service's counted_years", policy.service.counted_years, 0.0, 50.0),
            ("service's counted_share", policy.service.counted_share, 0.0, 1.0),
            ("service's most_counted", policy.service.most_counted, 0.0, 1000.0),
            ("sisters' shared_sd_ln", policy.sisters.shared_sd_ln, 0.0, 1.0),
        ];
        for (name, value, low, high) in within {
            if !(low..=high).contains(&value) {
                return Err(PolicyError::OutOfRange { name, value, low, high });
            }
        }
        Ok(policy)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn built_in_policy_is_readable() {
        assert_eq!(Policy::built_in().kind_floor.len(), 4);
    }

    #[test]
    fn values_out_of_range_are_refused() {
        let text = include_str!("../data/policy.toml").replace("shun_below = 0.85", "shun_below = 1.85");
        let error = Policy::from_toml(&text).unwrap_err().to_string();
        assert!(error.contains("shun_below is 1.85"), "{error}");
        let text = include_str!("../data/policy.toml").replace("shun_below = 0.85", "shun_below = nan");
        assert!(Policy::from_toml(&text).is_err());
    }
}
