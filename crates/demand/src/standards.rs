//! Limits of the standards for ropes, read once from `data/standards.toml`.

use serde::Deserialize;
use std::sync::OnceLock;

/// Limits of EN 892 for one type of dynamic rope.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DynamicRope {
    /// Drop mass, kg.
    pub mass_kg: f64,
    /// Greatest peak force of the first fall, kN.
    pub peak_kn: f64,
    /// Greatest elongation under 80 kg at rest, per cent.
    pub static_elongation_percent: f64,
    /// Greatest elongation in the first fall, per cent.
    pub dynamic_elongation_percent: f64,
    /// Falls to be held.
    pub falls: u8,
    /// Where it comes from.
    pub source: String,
}

/// Limits of EN 1891 for one type of low-stretch rope.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LowStretchRope {
    /// Static strength, kN.
    pub static_strength_kn: f64,
    /// Strength with end knots held for three minutes, kN.
    pub knotted_strength_kn: f64,
    /// Drop mass, kg.
    pub mass_kg: f64,
    /// Fall factor of the drop.
    pub fall_factor: f64,
    /// Peak force must stay below, kN.
    pub peak_kn: f64,
    /// Greatest elongation from 50 to 150 kg, per cent.
    pub elongation_percent: f64,
    /// Where it comes from.
    pub source: String,
}

/// The limits by standard; fields carry the standard's number.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
#[allow(missing_docs)]
pub struct Standards {
    pub en892_single: DynamicRope,
    pub en892_half: DynamicRope,
    pub en892_twin: DynamicRope,
    pub en1891_a: LowStretchRope,
    pub en1891_b: LowStretchRope,
}

/// The built-in limits.
pub fn standards() -> &'static Standards {
    static STANDARDS: OnceLock<Standards> = OnceLock::new();
    STANDARDS.get_or_init(|| {
        toml::from_str(include_str!("../data/standards.toml")).expect("built-in data, parsed by the tests")
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::impact::{STANDARD_FALL_FACTOR, impact_force, modulus_from_rating};
    use units::{Force, Mass, Ratio};

    #[test]
    fn a_rope_at_the_limit_gives_the_limit() {
        for rope in [&standards().en892_single, &standards().en892_half, &standards().en892_twin] {
            let (mass, f) = (Mass::kg(rope.mass_kg), Ratio::of(STANDARD_FALL_FACTOR));
            let k = modulus_from_rating(Force::kn(rope.peak_kn), mass, f).unwrap();
            assert!((impact_force(mass, k, f).as_kn() - rope.peak_kn).abs() < 1e-9);
        }
        // reference, sec. 1.2: the 6 kN limit with 100 kg at f = 0.3 allows K up to 41.2 kN
        let a = &standards().en1891_a;
        let k =
            modulus_from_rating(Force::kn(a.peak_kn), Mass::kg(a.mass_kg), Ratio::of(a.fall_factor)).unwrap();
        assert!((k.as_kn() - 41.2).abs() < 0.05, "{k:?}");
    }
}
