//! Strength of rock from field evidence.

use crate::{Computation, Error, computation};
use reckoning::Silent;
use rock::{FieldGrade, RockEvidence, RockType, Wetness, index, strength};
use units::Stress;

/// Computations of this area.
pub fn computations() -> Vec<Computation> {
    vec![
        computation("rebound_ucs_mpa", |i| {
            let ucs = index::rebound_ucs(i.number("rebound")?, i.number("unit_weight_kn_per_m3")?);
            Ok(ucs.map_err(Error::model)?.as_mpa())
        }),
        computation("point_load_ucs_mpa", |i| {
            let ucs = index::point_load_ucs(Stress::mpa(i.number("is50_mpa")?), i.number("k")?);
            Ok(ucs.map_err(Error::model)?.as_mpa())
        }),
        computation("rock_mass_tension_mpa", |i| {
            let ucs = Stress::mpa(i.number("ucs_mpa")?);
            Ok(index::rock_mass_tension(i.number("gsi")?, i.number("mi")?, ucs).as_mpa())
        }),
        computation("graded_ucs_mpa", |i| {
            let grade = i.choice("grade", &FieldGrade::ALL.map(|g| (g.name(), g)))?;
            let e = RockEvidence { grade: Some(grade), wetness: Some(Wetness::Dry), ..Default::default() };
            Ok(strength(&e, &mut Silent).ucs.median.as_mpa())
        }),
        computation("usual_ucs_mpa", |i| {
            let rock_type = i.choice("type", &RockType::ALL.map(|t| (t.name(), t)))?;
            let e = RockEvidence {
                rock_type: Some(rock_type),
                wetness: Some(Wetness::Dry),
                ..Default::default()
            };
            Ok(strength(&e, &mut Silent).ucs.fractile(i.number("fractile")?).as_mpa())
        }),
        computation("wet_strength_share", |i| {
            let e = RockEvidence {
                rock_type: Some(i.choice("type", &RockType::ALL.map(|t| (t.name(), t)))?),
                tested_ucs: Some(Stress::mpa(i.number("dry_mpa")?)),
                ..Default::default()
            };
            let at = |wetness| strength(&RockEvidence { wetness, ..e }, &mut Silent).ucs.median;
            Ok(at(Some(Wetness::Wet)) / at(Some(Wetness::Dry)))
        }),
    ]
}
