//! Resin bond, the resin itself, and hardware that only experience covers.

use crate::{Computation, Error, Inputs, computation};
use hardware::{Fitting, Kind};
use reckoning::{Silent, Uncertain};
use resistance::{Anchorage, Mode, bond, group, modes};
use rock::{RockStrength, Surroundings};
use units::{Angle, Force, Length, Ratio, Stress};

fn mm(i: &Inputs, name: &str) -> Result<Length, Error> {
    Ok(Length::mm(i.number(name)?))
}
fn mpa(i: &Inputs, name: &str) -> Result<Stress, Error> {
    Ok(Stress::mpa(i.number(name)?))
}

/// Experience with a kind of the usual size in sound rock, far from edges and neighbours.
fn experience(i: &Inputs) -> Result<Uncertain<Force>, Error> {
    let far = Some(Length::m(5.0));
    let anchorage = Anchorage {
        fitting: Fitting {
            kind: Some(i.choice("kind", &Kind::ALL.map(|k| (k.name(), k)))?),
            diameter: Some(Length::mm(10.0)),
            ..Fitting::default()
        },
        rock: RockStrength {
            ucs: Uncertain::exact(mpa(i, "ucs_mpa")?),
            joint_factor: Uncertain::exact(Ratio::of(1.0)),
            rock_type: None,
        },
        surroundings: Surroundings { edge_distance: far, spacing: far },
        proud: None,
        direction: Angle::deg(i.number("angle_deg")?),
        direction_spread: Angle::deg(0.0),
    };
    let set = modes(&anchorage, &mut Silent);
    let found = set.iter().find(|m| m.mode == Mode::Experience);
    let mode = found.ok_or_else(|| Error::model("a formula covers this kind"))?;
    Ok(Uncertain::new(mode.median, mode.sd_ln()))
}

/// Computations of this area.
pub fn computations() -> Vec<Computation> {
    vec![
        computation("bond_kn", |i| {
            Ok(bond::basic(mm(i, "diameter_mm")?, mm(i, "hef_mm")?, mpa(i, "tau_mpa")?, 1.0).as_kn())
        }),
        computation("bond_design_kn", |i| {
            let n = bond::basic(mm(i, "diameter_mm")?, mm(i, "hef_mm")?, mpa(i, "tau_mpa")?, 1.0);
            Ok((n / i.number("gamma")?).as_kn())
        }),
        computation("bond_aci_lbf", |i| {
            let (d, h) = (Length::inch(i.number("diameter_in")?), Length::inch(i.number("hef_in")?));
            let tau = Stress::psi(i.number("tau_psi")?);
            let reach = bond::reach_aci(d, tau);
            let c = i.optional_number("c_in")?.map_or(reach, Length::inch);
            let factor = group::area_ratio_at_edge(c, reach) * group::edge_disturbance(c, reach);
            Ok((bond::basic(d, h, tau, 1.0) * factor).as_lbf())
        }),
        computation("bond_reach_aci_in", |i| {
            let d = Length::inch(i.number("diameter_in")?);
            Ok(bond::reach_aci(d, Stress::psi(i.number("tau_psi")?)).as_inch())
        }),
        computation("bond_pair_kn", |i| {
            let (d, h, tau) = (mm(i, "diameter_mm")?, mm(i, "hef_mm")?, mpa(i, "tau_mpa")?);
            let s = mm(i, "spacing_mm")?;
            let s_cr = bond::spacing_en(d, h, tau);
            let tau_c = bond::cone_stress(i.number("k3")?, d, h, mpa(i, "f_mpa")?);
            let psi = bond::group_factor(2, s, s_cr, tau, tau_c);
            let area = group::area_ratio(s.min(s_cr) + s_cr, s_cr, s_cr / 2.0);
            Ok((bond::basic(d, h, tau, 1.0) * (area * psi)).as_kn())
        }),
        computation("bond_spacing_mm", |i| {
            let (d, h, tau) = (mm(i, "diameter_mm")?, mm(i, "hef_mm")?, mpa(i, "tau_mpa")?);
            let form = i.choice("form", &[("EN 1992-4", true), ("TR 029", false)])?;
            Ok(if form { bond::spacing_en(d, h, tau) } else { bond::spacing_tr029(d, h, tau) }.as_mm())
        }),
        computation("bond_rock_floor_kn", |i| {
            let tau = bond::wall_floor(mpa(i, "ucs_mpa")?);
            Ok(bond::basic(mm(i, "hole_mm")?, mm(i, "hef_mm")?, tau, 1.0).as_kn())
        }),
        computation("experience_mean_kn", |i| Ok(experience(i)?.mean().as_kn())),
        computation("experience_fractile_kn", |i| Ok(experience(i)?.fractile(i.number("fractile")?).as_kn())),
        computation("resin_annulus_ml", |i| {
            Ok(bond::annulus_ml(mm(i, "hole_mm")?, mm(i, "rod_mm")?, mm(i, "length_mm")?))
        }),
    ]
}
