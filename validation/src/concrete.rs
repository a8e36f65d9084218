//! Breakout cones, edges, groups and pry-out, checked in concrete where the published values are.

use crate::{Computation, Error, Inputs, computation};
use resistance::{cone, edge, group, pry_out};
use rock::reach::base_width;
use units::{Angle, Force, Length, Stress};

fn mm(i: &Inputs, name: &str) -> Result<Length, Error> {
    Ok(Length::mm(i.number(name)?))
}
fn optional_mm(i: &Inputs, name: &str) -> Result<Option<Length>, Error> {
    Ok(i.optional_number(name)?.map(Length::mm))
}
fn inch(i: &Inputs, name: &str) -> Result<Length, Error> {
    Ok(Length::inch(i.number(name)?))
}
fn cone_si(i: &Inputs) -> Result<Force, Error> {
    Ok(cone::basic(i.number("k")?, Stress::mpa(i.number("f_mpa")?), mm(i, "hef_mm")?))
}
fn edge_si(i: &Inputs) -> Result<Force, Error> {
    let f = Stress::mpa(i.number("f_mpa")?);
    Ok(edge::basic(i.number("k9")?, mm(i, "diameter_mm")?, mm(i, "hef_mm")?, f, mm(i, "c1_mm")?))
}

/// Computations of this area.
pub fn computations() -> Vec<Computation> {
    vec![
        computation("cone_kn", |i| Ok(cone_si(i)?.as_kn())),
        computation("cone_design_kn", |i| Ok((cone_si(i)? / i.number("gamma")?).as_kn())),
        computation("cone_aci_lbf", |i| {
            let f = Stress::psi(i.number("f_psi")?);
            Ok(cone::basic_aci(i.number("kc")?, f, inch(i, "hef_in")?).as_lbf())
        }),
        computation("cone_deep_aci_kn", |i| {
            Ok(cone::deep_aci(Stress::psi(i.number("f_psi")?), inch(i, "hef_in")?).as_kn())
        }),
        computation("cone_group_kn", |i| {
            let ccr = mm(i, "hef_mm")? * 1.5;
            let spacing = |name| Ok::<_, Error>(optional_mm(i, name)?.into_iter().collect::<Vec<_>>());
            let (edge_x, edge_y) = (optional_mm(i, "edge_x_mm")?, optional_mm(i, "edge_y_mm")?);
            let x = base_width(edge_x, &spacing("spacing_x_mm")?, None, ccr);
            let y = base_width(edge_y, &spacing("spacing_y_mm")?, None, ccr);
            let nearest = edge_x.unwrap_or(ccr).min(edge_y.unwrap_or(ccr));
            let psi = group::edge_disturbance(nearest, ccr);
            Ok(cone::with_factors(cone_si(i)?, group::area_ratio(x, y, ccr), psi, 1.0, 1.0).as_kn())
        }),
        computation("cone_edge_aci_lbf", |i| {
            let (h, c) = (inch(i, "hef_in")?, inch(i, "c_in")?);
            let n = cone::basic_aci(i.number("kc")?, Stress::psi(i.number("f_psi")?), h);
            let area = group::area_ratio_at_edge(c, h * 1.5);
            let psi = group::edge_disturbance(c, h * 1.5);
            Ok(cone::with_factors(n * i.number("uncracked")?, area, psi, 1.0, 1.0).as_lbf())
        }),
        computation("edge_disturbance", |i| Ok(group::edge_disturbance(mm(i, "c_mm")?, mm(i, "c_cr_mm")?))),
        computation("edge_area_ratio", |i| Ok(group::area_ratio_at_edge(mm(i, "c_mm")?, mm(i, "c_cr_mm")?))),
        computation("eccentricity", |i| Ok(group::eccentricity(mm(i, "e_mm")?, mm(i, "s_cr_mm")?))),
        computation("tensile_cone_kn", |i| {
            let f = Stress::mpa(i.number("ft_mpa")?);
            Ok(cone::tensile_cone(f, mm(i, "hef_mm")?, mm(i, "hole_mm")?).as_kn())
        }),
        computation("edge_breakout_kn", |i| Ok(edge_si(i)?.as_kn())),
        computation("edge_breakout_corner_kn", |i| {
            let (c1, c2) = (mm(i, "c1_mm")?, mm(i, "c2_mm")?);
            let area = edge::area_ratio(c1, [Some(c2), None], None, None);
            Ok((edge_si(i)? * (area * edge::edge_disturbance(c1, c2))).as_kn())
        }),
        computation("edge_breakout_pair_kn", |i| {
            let (c1, thick) = (mm(i, "c1_mm")?, optional_mm(i, "thickness_mm")?);
            let area = edge::area_ratio(c1, [None, None], optional_mm(i, "spacing_mm")?, thick);
            let psi = thick.map_or(1.0, |h| edge::thickness_factor(c1, h));
            Ok((edge_si(i)? * (area * psi)).as_kn())
        }),
        computation("edge_direction_factor", |i| {
            Ok(edge::direction_factor(Angle::deg(i.number("angle_deg")?)))
        }),
        computation("edge_breakout_aci_lbf", |i| {
            let f = Stress::psi(i.number("f_psi")?);
            let (d, h) = (inch(i, "diameter_in")?, inch(i, "hef_in")?);
            Ok(edge::basic_aci(i.number("coefficient")?, d, h, f, inch(i, "c1_in")?).as_lbf())
        }),
        computation("pry_out_en_kn", |i| {
            let h = mm(i, "hef_mm")?;
            Ok(pry_out::resistance(pry_out::factor_en(h), cone_si(i)?).as_kn())
        }),
        computation("pry_out_aci_lbf", |i| {
            let f = Stress::psi(i.number("f_psi")?);
            let n = cone::basic_aci(i.number("kc")?, f, inch(i, "hef_in")?);
            Ok(pry_out::resistance(i.number("kcp")?, n).as_lbf())
        }),
        computation("pry_out_design_lbf", |i| {
            let n = Force::lbf(i.number("breakout_lbf")?);
            Ok((pry_out::resistance(i.number("kcp")?, n) * i.number("phi")?).as_lbf())
        }),
    ]
}
