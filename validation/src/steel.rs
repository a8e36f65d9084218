//! Stress areas, steel resistance, bending, interaction, partial factors and preload.

use crate::{Computation, Error, Inputs, computation};
use resistance::{interaction, partial, preload, steel};
use units::{Angle, Force, Length, Stress, Torque};

fn mm(i: &Inputs, name: &str) -> Result<Length, Error> {
    Ok(Length::mm(i.number(name)?))
}
fn mpa(i: &Inputs, name: &str) -> Result<Stress, Error> {
    Ok(Stress::mpa(i.number(name)?))
}

/// Computations of this area.
pub fn computations() -> Vec<Computation> {
    vec![
        computation("stress_area_metric_mm2", |i| {
            Ok(hardware::stress_area_metric_mm2(mm(i, "diameter_mm")?, mm(i, "pitch_mm")?))
        }),
        computation("stress_area_inch_mm2", |i| {
            let d = Length::inch(i.number("diameter_in")?);
            Ok(hardware::stress_area_inch_mm2(d, i.number("threads_per_inch")?))
        }),
        computation("steel_tension_kn", |i| {
            Ok(steel::tension(i.number("area_mm2")?, mpa(i, "fu_mpa")?).as_kn())
        }),
        computation("steel_shear_kn", |i| {
            Ok(steel::shear(i.number("area_mm2")?, mpa(i, "fu_mpa")?, i.number("ratio")?).as_kn())
        }),
        computation("shear_ratio_en", |i| Ok(steel::shear_ratio_en(mpa(i, "fu_mpa")?))),
        computation("bending_resistance_nm", |i| {
            let d = steel::bending_diameter(i.number("area_mm2")?);
            Ok(steel::bending_resistance(d, mpa(i, "fu_mpa")?).as_nm())
        }),
        computation("bending_shear_kn", |i| {
            let d = steel::bending_diameter(i.number("area_mm2")?);
            let m_0 = steel::bending_resistance(d, mpa(i, "fu_mpa")?);
            let l_a = steel::lever_arm(mm(i, "e1_mm")?, mm(i, "diameter_mm")?);
            Ok(steel::bending_shear(m_0, l_a, i.number("fixity")?, i.number("tension_ratio")?).as_kn())
        }),
        computation("resistance_at_angle_kn", |i| {
            let (n, v) = (Force::kn(i.number("n_kn")?), Force::kn(i.number("v_kn")?));
            let angle = Angle::deg(i.number("angle_deg")?);
            Ok(match i.optional_number("power")? {
                Some(p) => interaction::at_angle(n, v, angle, p),
                None => interaction::at_angle_trilinear(n, v, angle),
            }
            .as_kn())
        }),
        computation("utilisation", |i| {
            let (n, v) = (i.number("n_load")? / i.number("n")?, i.number("v_load")? / i.number("v")?);
            Ok(match i.optional_number("power")? {
                Some(p) => interaction::utilisation(n, v, p),
                None => interaction::linear_sum(n, v),
            })
        }),
        computation("partial_factor", |i| {
            let kind = i.choice("of", &[("steel tension", 0), ("steel shear", 1), ("breakout", 2)])?;
            Ok(match kind {
                0 => partial::steel_tension(mpa(i, "fu_mpa")?, mpa(i, "fy_mpa")?),
                1 => partial::steel_shear(mpa(i, "fu_mpa")?, mpa(i, "fy_mpa")?),
                _ => partial::breakout(i.number("gamma_inst")?),
            })
        }),
        computation("preload_kn", |i| {
            let torque = Torque::nm(i.number("torque_nm")?);
            Ok(preload::preload(torque, i.number("friction")?, mm(i, "diameter_mm")?).as_kn())
        }),
    ]
}
