//! Breakout of a cone of rock in tension.

use crate::constants::Cone;
use crate::group;
use units::{Force, Length, Stress};

/// k of EN 1992-4 for post-installed anchors in cracked concrete, characteristic, for N, MPa
/// and mm. Seen in two engineering digests.
pub const K_CRACKED: f64 = 7.7;
/// k of EN 1992-4 for post-installed anchors in uncracked concrete, characteristic. Seen in two
/// engineering digests.
pub const K_UNCRACKED: f64 = 11.0;
/// k for the mean of post-installed anchors in uncracked concrete, cylinder strength: 13.5 on cube
/// strength, 35 in inch units (Fuchs, Eligehausen & Breen 1995, from memory).
pub const K_MEAN: f64 = 14.7;

/// Breakout of a single anchor far from edges and neighbours, `N0 = k sqrt(f) h_ef^1.5`.
///
/// N0 in N with f (MPa) and h_ef (mm); k says what the result is: [`K_CRACKED`] 7.7 and [`K_UNCRACKED`]
/// 11.0 characteristic, 8.9 and 12.7 for cast-in heads, [`K_MEAN`] 14.7 mean, all on cylinder strength;
/// 7.2 and 10.1 characteristic on cube strength. Valid for h_ef of 40 mm and more (below: same formula,
/// double scatter) and f up to 60 MPa. Source: EN 1992-4 (7.2), ACI 318-19 17.6.2.2 (seen in engineering
/// digests).
pub fn basic(k: f64, f: Stress, h_ef: Length) -> Force {
    Force::n(basic_n(k, f.as_mpa(), h_ef.as_mm()))
}

#[inline]
pub(crate) fn basic_n(k: f64, f_mpa: f64, h_mm: f64) -> f64 {
    k * f_mpa.sqrt() * h_mm * h_mm.sqrt()
}

/// Breakout of a single anchor in the inch form of ACI 318, `N_b = k_c sqrt(f) h_ef^1.5` with lb, psi
/// and in: k_c = 24 cast-in, 17 post-installed (cracked; times 1.25 or 1.4 uncracked).
///
/// Valid for h_ef below 11 in. Source: ACI 318-19 (17.6.2.2.1) (seen in an engineering digest).
pub fn basic_aci(k_c: f64, f: Stress, h_ef: Length) -> Force {
    let h = h_ef.as_inch();
    Force::lbf(k_c * f.as_psi().sqrt() * h * h.sqrt())
}

/// Breakout of a deep cast-in anchor, `N_b = 16 sqrt(f) h_ef^(5/3)` with lb, psi and in, for h_ef of
/// 11 to 25 in. Source: ACI 318-19 (17.6.2.2.3) (seen in an engineering digest).
pub fn deep_aci(f: Stress, h_ef: Length) -> Force {
    Force::lbf(16.0 * f.as_psi().sqrt() * h_ef.as_inch().powf(5.0 / 3.0))
}

/// Breakout with edges and neighbours, `N = N0 (A / A0) psi_s psi_ec psi_re`.
///
/// N0 = [`basic`], the factors from [`group`]; psi_re = 1 in rock. For a group the total. Source: EN
/// 1992-4 (7.1), ACI 318-19 17.6.2.1 (seen in engineering digests).
pub fn with_factors(n0: Force, area_ratio: f64, psi_s: f64, psi_ec: f64, psi_re: f64) -> Force {
    n0 * (area_ratio * psi_s * psi_ec * psi_re)
}

/// Tensile cone at 45 degrees, `N = f_t pi h_ef (h_ef + d_h)`: a second opinion where the tensile
/// strength of the rock is known.
///
/// f_t = tensile strength, d_h = diameter of the hole or head. Source: ACI 349 before 2001 (from
/// memory); in rock judgement.
pub fn tensile_cone(f_t: Stress, h_ef: Length, d_h: Length) -> Force {
    Force::n(f_t.as_pa() * std::f64::consts::PI * h_ef.as_m() * (h_ef + d_h).as_m())
}

/// Median share of one anchor's cone in rock, N: strength capped, factors of one edge and one loaded
/// neighbour, joint factor j.
#[inline]
pub(crate) fn in_rock(c: &Cone, ucs: f64, j: f64, h: f64, edge: f64, spacing: f64) -> f64 {
    let (reach, apart) = (1.5 * h, 3.0 * h);
    basic_n(c.k_mean, ucs.min(c.strength_cap_mpa), h)
        * j
        * group::edge_share(edge, reach)
        * group::psi_s(edge / reach)
        * group::pair_share(spacing, apart)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::constants::Constants;
    use proptest::prelude::*;
    use rock::reach::base_width;

    const PSI_4000: Stress = Stress::psi(4000.0);

    #[test]
    fn basic_reproduces_en_1992_4() {
        // calculated from EN 1992-4 (7.2): k, f, h_ef -> kN
        for (k, f, h, want) in [
            (7.7, 20.0, 60.0, 16.004),
            (11.0, 25.0, 60.0, 25.562),
            (11.0, 50.0, 60.0, 36.150),
            (14.7, 50.0, 60.0, 48.309),
            (14.7, 30.0, 50.0, 28.466),
            (14.7, 60.0, 70.0, 66.687),
            (8.9, 25.0, 100.0, 44.500),
            (12.7, 25.0, 100.0, 63.500),
            (16.8, 25.0, 100.0, 84.000),
        ] {
            let got = basic(k, Stress::mpa(f), Length::mm(h)).as_kn();
            assert!((got - want).abs() < 6e-4, "{k} {f} {h}: {got}");
        }
    }

    #[test]
    fn inch_form_reproduces_aci_349_2r() {
        // ACI 349.2R-07 examples A1, A3, A4 as held in an open finite-element library's test suite
        assert!((basic_aci(24.0, PSI_4000, Length::inch(4.69)).as_lbf() / 15_417.0 - 1.0).abs() < 1e-5);
        assert!((basic_aci(24.0, PSI_4000, Length::inch(6.63)).as_lbf() / 25_912.6 - 1.0).abs() < 1e-5);
        assert!((deep_aci(PSI_4000, Length::inch(17.57)).as_kn() / 534.511 - 1.0).abs() < 1e-5);
        // calculated: 17, 2.25 in: 3628.7 lb cracked, 5080.2 lb uncracked; SI ratio 0.41848
        let n = basic_aci(17.0, PSI_4000, Length::inch(2.25));
        assert!((n.as_lbf() - 3628.7).abs() < 0.1 && ((n * 1.4).as_lbf() - 5080.2).abs() < 0.1);
        let si = basic(35.0 * 0.41848, PSI_4000, Length::inch(3.0));
        assert!((si / basic_aci(35.0, PSI_4000, Length::inch(3.0)) - 1.0).abs() < 1e-4);
    }

    #[test]
    fn mean_and_characteristic_differ_by_a_15_percent_scatter() {
        // 11.0 / 14.65 = 0.751 and 1 - 1.645 * 0.15 = 0.753 (EN 1992-4 against Fuchs et al. 1995)
        assert!((K_UNCRACKED / K_MEAN - (1.0 - 1.645 * 0.15)).abs() < 0.006);
        assert!((13.5 * 1.18_f64.sqrt() / K_MEAN - 1.0).abs() < 4e-3);
    }

    #[test]
    fn edges_and_groups_reproduce_reckoned_examples() {
        // calculated from EN 1992-4 for k 11, f 30, h_ef 60 (N0 28.001 kN)
        let mm = Length::mm;
        let n0 = basic(11.0, Stress::mpa(30.0), mm(60.0));
        let ccr = mm(90.0);
        let w = |a: Option<f64>, s: &[f64]| {
            let s: Vec<_> = s.iter().map(|s| mm(*s)).collect();
            base_width(a.map(mm), &s, None, ccr)
        };
        let n = |x, y, psi_s| with_factors(n0, group::area_ratio(x, y, ccr), psi_s, 1.0, 1.0).as_kn();
        let psi = group::edge_disturbance(mm(50.0), ccr);
        for (got, want) in [
            (n(w(Some(50.0), &[]), w(None, &[]), psi), 18.875),
            (n(w(None, &[100.0]), w(None, &[]), 1.0), 43.558),
            (n(w(None, &[100.0]), w(None, &[100.0]), 1.0), 67.757),
            (n(w(Some(50.0), &[]), w(Some(70.0), &[]), psi), 16.778),
            (n(w(None, &[100.0]), w(Some(50.0), &[]), psi), 29.361),
        ] {
            assert!((got - want).abs() < 6e-4, "{got} {want}");
        }
        // U staple, two legs 50 mm apart, h_ef 70, k 14.7, f 40: 54.450 -> 67.414 kN
        let n0 = basic(14.7, Stress::mpa(40.0), mm(70.0));
        let reach = mm(105.0);
        let pair = base_width(None, &[mm(50.0)], None, reach);
        let total = n0 * group::area_ratio(pair, mm(210.0), reach);
        assert!((n0.as_kn() - 54.450).abs() < 6e-4 && (total.as_kn() - 67.414).abs() < 6e-4);
    }

    #[test]
    fn tensile_cone_reproduces_reckoned_values() {
        let n = |d| tensile_cone(Stress::mpa(4.0), Length::mm(60.0), Length::mm(d)).as_kn();
        assert!((n(0.0) - 45.24).abs() < 0.005 && (n(12.0) - 54.29).abs() < 0.005);
    }

    proptest! {
        #[test]
        fn far_from_all_it_is_n0(h in 20.0..150.0f64, f in 2.0..200.0f64) {
            let c = &Constants::built_in().cone;
            let n0 = basic(c.k_mean, Stress::mpa(f.min(60.0)), Length::mm(h)).as_n();
            prop_assert!((in_rock(c, f, 1.0, h, 1.5 * h, 3.0 * h) / n0 - 1.0).abs() < 1e-12);
            prop_assert!((in_rock(c, f, 1.0, h, 1e6, 1e6) / n0 - 1.0).abs() < 1e-12);
        }

        #[test]
        fn a_pair_holds_between_one_and_two(h in 20.0..150.0f64, s in 0.0..600.0f64) {
            let c = &Constants::built_in().cone;
            let one = in_rock(c, 40.0, 1.0, h, 1e6, 1e6);
            let pair = 2.0 * in_rock(c, 40.0, 1.0, h, 1e6, s);
            prop_assert!(pair >= one * (1.0 - 1e-12) && pair <= 2.0 * one * (1.0 + 1e-12));
        }

        #[test]
        fn units_agree(h in 20.0..250.0f64, f in 5.0..60.0f64) {
            // inch form with k in inch units against SI: 1 lb / (psi^0.5 in^1.5) in N / (MPa^0.5 mm^1.5)
            let ratio = 4.448_221_615_260_5 / (6_894.757_293_168_361e-6_f64.sqrt() * 25.4_f64.powf(1.5));
            let (h, f) = (Length::mm(h), Stress::mpa(f));
            prop_assert!((basic(24.0 * ratio, f, h) / basic_aci(24.0, f, h) - 1.0).abs() < 1e-9);
        }
    }
}
