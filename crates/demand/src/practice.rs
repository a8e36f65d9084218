//! The assumptions about climbers, ropes and belayers, read once from `data/practice.toml`.

use crate::{Steepness, UseClass};
use serde::Deserialize;
use std::sync::OnceLock;

/// One assumed quantity: median, logarithmic scatter, believed limits, unit and source.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Assumption {
    /// Value that half of the cases stay below, in `unit`.
    pub median: f64,
    /// Standard deviation of the natural logarithm.
    pub sd_ln: f64,
    /// Least value believed possible.
    pub low: f64,
    /// Greatest value believed possible.
    pub high: f64,
    /// Unit symbol.
    pub unit: String,
    /// Where it comes from.
    pub source: String,
}

/// A belay device as a share of all belays.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Device {
    /// Name in plain words.
    pub name: String,
    /// Share of all belays, 0..1.
    pub share: f64,
    /// Rope tension at which it slips, kN; absent = does not slip.
    pub slip_kn: Option<f64>,
    /// Scatter of the slip tension.
    pub sd_ln: f64,
    /// Whether the belayer can be lifted off the ground.
    pub lifted: bool,
    /// Where it comes from.
    pub source: String,
}

/// Shares of loadings that are falls.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Shares {
    /// At a lower-off.
    pub lower_off_fall: f64,
    /// At a belay.
    pub belay_fall: f64,
    /// Where it comes from.
    pub source: String,
}

/// What a placement of unknown role is likely to be.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RoleShares {
    /// Share of runners.
    pub runner: f64,
    /// Share of lower-offs.
    pub lower_off: f64,
    /// Share of belays.
    pub belay: f64,
    /// Where it comes from.
    pub source: String,
}

/// Loadings a year by role.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Loadings {
    /// Falls a year on a runner.
    pub runner: f64,
    /// Loadings a year of a lower-off.
    pub lower_off: f64,
    /// Loadings a year of a belay.
    pub belay: f64,
    /// Scatter of the logarithm.
    pub sd_ln: f64,
    /// Where it comes from.
    pub source: String,
}

/// Direction of pull from the rock's outward normal.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Direction {
    /// Degrees from the normal.
    pub degrees: f64,
    /// Half-width in degrees.
    pub spread: f64,
    /// Where it comes from.
    pub source: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct ByUse {
    rare: Loadings,
    regular: Loadings,
    popular: Loadings,
    unknown: Loadings,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct BySteepness {
    slab: Direction,
    vertical: Direction,
    overhang: Direction,
    roof: Direction,
    unknown: Direction,
}

/// Everything assumed about climbing practice. Public fields carry the entry's name in the data file.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
#[allow(missing_docs)]
pub struct Practice {
    pub climber_mass: Assumption,
    pub rope_modulus: Assumption,
    pub rope_stiffening: Assumption,
    pub friction_ratio: Assumption,
    pub body_softness: Assumption,
    pub belayer_lift: Assumption,
    pub relaxation_at_5m: Assumption,
    pub relaxation_per_ln_length: Assumption,
    pub model_error: Assumption,
    pub slack: Assumption,
    pub fall_point: Assumption,
    pub gap: Assumption,
    pub height: Assumption,
    pub first_height: Assumption,
    pub top_rope_slack: Assumption,
    pub lowering_dynamics: Assumption,
    pub belay_hang: Assumption,
    pub belay_fall_factor: Assumption,
    pub shares: Shares,
    pub role_shares: RoleShares,
    pub device: Vec<Device>,
    #[serde(rename = "use")]
    by_use: ByUse,
    direction: BySteepness,
}

impl Practice {
    /// Loadings a year for a class of use; `None` = not recorded.
    pub fn loadings(&self, class: Option<UseClass>) -> &Loadings {
        match class {
            Some(UseClass::Rare) => &self.by_use.rare,
            Some(UseClass::Regular) => &self.by_use.regular,
            Some(UseClass::Popular) => &self.by_use.popular,
            None => &self.by_use.unknown,
        }
    }

    /// Direction of pull for a steepness; `None` = not recorded.
    pub fn direction(&self, steepness: Option<Steepness>) -> &Direction {
        match steepness {
            Some(Steepness::Slab) => &self.direction.slab,
            Some(Steepness::Vertical) => &self.direction.vertical,
            Some(Steepness::Overhang) => &self.direction.overhang,
            Some(Steepness::Roof) => &self.direction.roof,
            None => &self.direction.unknown,
        }
    }
}

/// The built-in assumptions.
pub fn practice() -> &'static Practice {
    static PRACTICE: OnceLock<Practice> = OnceLock::new();
    PRACTICE.get_or_init(|| {
        toml::from_str(include_str!("../data/practice.toml")).expect("built-in data, parsed by the tests")
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn built_in_data_is_consistent() {
        let p = practice();
        assert!((p.device.iter().map(|d| d.share).sum::<f64>() - 1.0).abs() < 1e-12);
        let r = &p.role_shares;
        assert!((r.runner + r.lower_off + r.belay - 1.0).abs() < 1e-12);
        for a in [
            &p.climber_mass,
            &p.rope_modulus,
            &p.rope_stiffening,
            &p.friction_ratio,
            &p.body_softness,
            &p.belayer_lift,
            &p.relaxation_at_5m,
            &p.model_error,
            &p.slack,
            &p.fall_point,
            &p.gap,
            &p.height,
            &p.first_height,
            &p.top_rope_slack,
            &p.lowering_dynamics,
            &p.belay_hang,
            &p.belay_fall_factor,
        ] {
            assert!(a.low <= a.median && a.median <= a.high && !a.source.is_empty(), "{a:?}");
        }
    }
}
