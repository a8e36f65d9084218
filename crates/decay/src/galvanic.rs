//! Unlike metals in contact.

use crate::data::{metals, steel};
use hardware::Material;

/// What two metals do to each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Couple {
    /// Difference of the anodic index, V.
    pub volts: f64,
    /// True above the limit for outdoor use, where the pair is not passive on both sides.
    pub risky: bool,
    /// True where the first metal is the one that is eaten.
    pub first_is_eaten: bool,
}

/// Anodic index of a material's surface, V; the greater is eaten first.
/// Source: common anodic index table (from memory). Ranks only: published series disagree by 0.1 V.
pub fn anodic_index(material: Material) -> f64 {
    let i = &metals().anodic_index;
    match material {
        Material::BareCarbonSteel => i.carbon_steel,
        Material::PlatedCarbonSteel | Material::HotDipCarbonSteel => i.zinc,
        Material::Stainless304
        | Material::Stainless316
        | Material::StainlessUnknown
        | Material::Duplex
        | Material::HighMolybdenum => i.stainless,
        Material::Titanium => i.titanium,
        Material::Aluminium => i.aluminium,
    }
}

fn is_passive(material: Material) -> bool {
    matches!(
        material,
        Material::Stainless304
            | Material::Stainless316
            | Material::StainlessUnknown
            | Material::Duplex
            | Material::HighMolybdenum
            | Material::Titanium
    )
}

/// The pair of two materials in contact: `dV = |A1 - A2|`, risky where dV exceeds 0.15 V (outdoors).
///
/// Two passive metals (stainless and titanium) are not called risky although their index differs by
/// 0.20 V: judgement. Source: limits of the anodic index method (page seen).
pub fn couple(first: Material, second: Material) -> Couple {
    let (a, b) = (anodic_index(first), anodic_index(second));
    let volts = (a - b).abs();
    Couple {
        volts,
        risky: volts > steel().galvanic.limit_v && !(is_passive(first) && is_passive(second)),
        first_is_eaten: a > b,
    }
}

/// Factor on the rate of the metal that is eaten: `M = 1 + g A_c / A_a`.
///
/// * `g`: 0.3 (0..1); `area_ratio` A_c / A_a >= 0: area of the nobler metal over that of the lesser,
///   capped at 10
///
/// Source: judgement; form from the catchment-area principle.
pub fn multiplier(g: f64, area_ratio: f64) -> f64 {
    1.0 + g * area_ratio.clamp(0.0, steel().galvanic.greatest_area_ratio)
}

#[cfg(test)]
mod tests {
    use super::*;
    use Material::*;

    #[test]
    fn pairs_of_the_reference() {
        // reference, sec. 3
        let c = couple(PlatedCarbonSteel, Stainless304);
        assert!((c.volts - 0.70).abs() < 1e-12 && c.risky && c.first_is_eaten);
        let c = couple(Stainless316, BareCarbonSteel);
        assert!((c.volts - 0.35).abs() < 1e-12 && c.risky && !c.first_is_eaten);
        let c = couple(Stainless316, Titanium);
        assert!((c.volts - 0.20).abs() < 1e-12 && !c.risky);
        assert!(!couple(Stainless304, Stainless316).risky);
        assert!((multiplier(0.3, 0.2) - 1.06).abs() < 1e-12);
        assert!((multiplier(0.3, 5.0) - 2.5).abs() < 1e-12);
        assert!((multiplier(0.3, 50.0) - 4.0).abs() < 1e-12);
    }
}
