//! The bolt's steel: tension, shear, bending of a proud bolt, and all together.

use units::{Force, Length, Stress, Torque};

/// Steel resistance in tension, `N_s = A_s f_u`.
///
/// A_s = stress area (mm2), f_u = tensile strength; with least values of f_u a characteristic
/// resistance. Source: EN 1992-4 7.2.1.3, ACI 318-19 17.6.1 (seen in engineering digests).
pub fn tension(area_mm2: f64, f_u: Stress) -> Force {
    Force::n(area_mm2 * f_u.as_mpa())
}

/// Steel resistance in shear without lever arm, `V_s = k A_s f_u`.
///
/// k = ratio of shear to tension strength: [`shear_ratio_en`], 0.6 (ACI bolts), 1 (ACI welded studs);
/// 0.62 for a mean. Source: EN 1992-4 (7.34), ACI 318-19 17.7.1 (seen in engineering digests).
pub fn shear(area_mm2: f64, f_u: Stress, ratio: f64) -> Force {
    tension(area_mm2, f_u) * ratio
}

/// k_6 of EN 1992-4 (7.34): 0.6 up to f_u = 500 MPa, 0.5 above (to 1000 MPa). Seen in an engineering
/// digest.
pub fn shear_ratio_en(f_u: Stress) -> f64 {
    if f_u.as_mpa() <= 500.0 { 0.6 } else { 0.5 }
}

/// Diameter to reckon bending with where thread lies in the bending zone, `d = sqrt(4 A_s / pi)`.
pub fn bending_diameter(area_mm2: f64) -> Length {
    Length::mm((area_mm2 / std::f64::consts::FRAC_PI_4).sqrt())
}

/// Bending resistance of a round bolt, `M_0 = 1.2 W_el f_u` with `W_el = pi d^3 / 32`.
///
/// d = diameter in the bending zone, f_u = tensile strength. Source: EN 1992-4 (7.38) and notes (seen in
/// an engineering digest).
pub fn bending_resistance(d: Length, f_u: Stress) -> Torque {
    Torque::nm(bending_nmm(d.as_mm(), f_u.as_mpa()) * 1e-3)
}

fn bending_nmm(d_mm: f64, fu_mpa: f64) -> f64 {
    1.2 * std::f64::consts::PI / 32.0 * d_mm * d_mm * d_mm * fu_mpa
}

/// Lever arm, `l_a = e_1 + a_3`: e_1 = distance from the shear force to the face of the rock, `a_3 = 0.5
/// d` for the depth at which the bolt is held. Source: EN 1992-4 6.2.2.3 (from memory).
pub fn lever_arm(e_1: Length, d: Length) -> Length {
    e_1 + d * 0.5
}

/// Shear that bends a proud bolt for good, `V_s,M = a_M M_0 (1 - N / N_s) / l_a`.
///
/// M_0 = [`bending_resistance`], l_a = [`lever_arm`] (> 0), a_M = 1 (free to turn, a single hanger) to 2
/// (held fast), N / N_s = tension over tension resistance, 0..1. It is the first hinge: a tough bolt
/// goes on to carry in tension. Source: EN 1992-4 (7.37), (7.38) (seen in an engineering digest).
pub fn bending_shear(m_0: Torque, l_a: Length, a_m: f64, tension_ratio: f64) -> Force {
    Force::n(a_m * m_0.as_nm() * (1.0 - tension_ratio).max(0.0) / l_a.as_m())
}

/// Shear resistance of a bolt whose hanger stands proud, and how much of it is bending.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct ProudShear {
    /// Ultimate shear, N.
    pub ultimate: f64,
    /// Shear that bends it for good, N.
    pub bends_at: f64,
    /// 0 = plain shear governs, 1 = bending or what comes after it.
    pub bent: f64,
}

/// Median ultimate shear of a proud bolt (N, mm, MPa).
///
/// Tough steel keeps its shear strength up to a lever arm e_1 of one diameter, holds 0.4 of its tension
/// strength from three diameters on (bent over and pulled like a rope), and passes over between the two
/// linearly in the logarithm; never less than its bending load. Steel that is not tough: the bending
/// load where that is lower. Source: judgement on EN 1992-4 (7.37).
pub(crate) fn proud_shear(
    p: &crate::constants::Proud,
    area: f64,
    d: f64,
    fu: f64,
    plain: f64,
    e_1: f64,
    tough: bool,
) -> ProudShear {
    let d_bending = (area / std::f64::consts::FRAC_PI_4).sqrt();
    let bends_at = p.end_fixity * bending_nmm(d_bending, fu) / (e_1 + p.embedded_lever_diameters * d);
    if !tough {
        let ultimate = plain.min(bends_at);
        return ProudShear { ultimate, bends_at, bent: if bends_at < plain { 1.0 } else { 0.0 } };
    }
    let (full, hinge) = (p.full_strength_diameters * d, p.hinge_diameters * d);
    let bent = ((e_1 - full) / (hinge - full)).clamp(0.0, 1.0);
    let end = (p.catenary_share * area * fu).min(plain);
    let passed = if bent == 0.0 { plain } else { plain * (bent * (end / plain).ln()).exp() };
    ProudShear { ultimate: passed.max(bends_at).min(plain), bends_at, bent }
}

#[cfg(test)]
mod tests {
    use super::*;
    use hardware::{stress_area_inch_mm2, stress_area_metric_mm2};
    use proptest::prelude::*;

    fn m(d: f64, p: f64) -> f64 {
        stress_area_metric_mm2(Length::mm(d), Length::mm(p))
    }
    const A4_70: Stress = Stress::mpa(700.0);

    #[test]
    fn tension_and_shear_reproduce_en_1992_4() {
        // calculated from EN 1992-4 (7.34); M10, f_u 700: N 40.6, V 24.36 (0.6) and 20.3 (k_6 0.5)
        let a = m(10.0, 1.5);
        assert!((tension(a, A4_70).as_kn() - 40.6).abs() < 0.01);
        assert!((shear(a, A4_70, 0.6).as_kn() - 24.36).abs() < 0.01);
        assert!((shear(a, A4_70, shear_ratio_en(A4_70)).as_kn() - 20.3).abs() < 0.01);
        assert_eq!(shear_ratio_en(Stress::mpa(500.0)), 0.6);
        // 3/8 in sleeve bolt with 5/16-18 core at f_u 620: 21.0 kN
        let core = stress_area_inch_mm2(Length::inch(0.3125), 18.0);
        assert!((tension(core, Stress::mpa(620.0)).as_kn() - 21.0).abs() < 0.03);
    }

    #[test]
    fn bending_reproduces_en_1992_4() {
        // calculated from EN 1992-4 (7.37), (7.38): bolt, f_u, e_1 -> d_eff, M_0 (N m), l_a, V_s,M (kN)
        // the reckoned values start from the rounded table areas 58.0, 84.3 and 50.0 mm2
        for (area, d, fu, e, d_eff, m0, la, v) in [
            (58.0, 10.0, 700.0, 10.0, 8.593, 52.33, 15.0, 3.489),
            (58.0, 10.0, 700.0, 20.0, 8.593, 52.33, 25.0, 2.093),
            (84.3, 12.0, 700.0, 10.0, 10.360, 91.70, 16.0, 5.731),
            (50.0, 9.525, 620.0, 15.0, 7.979, 37.10, 19.76, 1.877),
        ] {
            let de = bending_diameter(area);
            let m_0 = bending_resistance(de, Stress::mpa(fu));
            let l_a = lever_arm(Length::mm(e), Length::mm(d));
            assert!((de.as_mm() - d_eff).abs() < 1.5e-3);
            assert!((m_0.as_nm() / m0 - 1.0).abs() < 1e-3);
            assert!((l_a.as_mm() - la).abs() < 5e-3);
            assert!((bending_shear(m_0, l_a, 1.0, 0.0).as_kn() / v - 1.0).abs() < 1e-3);
            // N = 0 removes the term, N = N_s leaves nothing
            assert_eq!(bending_shear(m_0, l_a, 1.0, 1.0).as_n(), 0.0);
        }
    }

    proptest! {
        #[test]
        fn standing_prouder_never_strengthens(e in 0.0..80.0f64, more in 0.0..40.0f64, tough: bool, d in 6.0..16.0f64) {
            let p = &crate::constants::Constants::built_in().proud;
            let area = 0.72 * std::f64::consts::FRAC_PI_4 * d * d;
            let plain = 0.62 * area * 600.0;
            let at = |e: f64| proud_shear(p, area, d, 600.0, plain, e, tough);
            prop_assert!(at(e + more).ultimate <= at(e).ultimate * (1.0 + 1e-12));
            prop_assert!(at(e).ultimate <= plain && at(e).ultimate >= at(e).bends_at.min(plain) * (1.0 - 1e-12));
        }
    }
}
