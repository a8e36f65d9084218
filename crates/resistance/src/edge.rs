//! Breakout towards a free edge in shear.

use units::{Angle, Force, Length, Stress};

/// k9 of EN 1992-4 (7.41) for cracked concrete, characteristic.
pub const K_CRACKED: f64 = 1.7;
/// k9 of EN 1992-4 (7.41) for uncracked concrete, characteristic.
pub const K_UNCRACKED: f64 = 2.4;

/// Edge breakout of a single anchor, `V0 = k9 d^a l_f^b sqrt(f) c1^1.5`, `a = 0.1 sqrt(l_f / c1)`, `b =
/// 0.1 (d / c1)^0.2`, `l_f = min(h_ef, 12 d)`.
///
/// V0 in N with d, h_ef, c1 in mm and f in MPa; d up to 24 mm; c1 = distance to the edge that is pulled
/// towards. k9 as [`K_CRACKED`], [`K_UNCRACKED`]; 3.2 for a mean. Fasteners farther from the edge than
/// max(10 h_ef, 60 d) need no check (from memory). Source: EN 1992-4 (7.41) (seen in an engineering
/// digest).
pub fn basic(k9: f64, d: Length, h_ef: Length, f: Stress, c1: Length) -> Force {
    Force::n(basic_n(k9, d.as_mm(), h_ef.as_mm(), f.as_mpa(), c1.as_mm()))
}

#[inline]
pub(crate) fn basic_n(k9: f64, d: f64, h: f64, f: f64, c1: f64) -> f64 {
    let l_f = h.min(12.0 * d);
    let a = 0.1 * (l_f / c1).sqrt();
    let (ln_d, ln_l, ln_c) = (d.ln(), l_f.ln(), c1.ln());
    let b = 0.1 * (0.2 * (ln_d - ln_c)).exp();
    k9 * (a * ln_d + b * ln_l).exp() * f.sqrt() * c1 * c1.sqrt()
}

/// The inch form, `V_b = min(k (l_e / d)^0.2 sqrt(d), 9) sqrt(f) c1^1.5` with lb, psi and in, `l_e =
/// min(h_ef, 8 d)`; k = 7, or 8 for welded studs (without the bound of 9).
///
/// Source: ACI 318-19 (17.7.2.2.1) (seen in an engineering digest); 8 for welded studs after ACI 349.2R
/// examples A2, A3.
pub fn basic_aci(k: f64, d: Length, h_ef: Length, f: Stress, c1: Length) -> Force {
    let (d, h, c) = (d.as_inch(), h_ef.as_inch(), c1.as_inch());
    let own = k * (h.min(8.0 * d) / d).powf(0.2) * d.sqrt();
    let bound = if k > 7.0 { f64::INFINITY } else { 9.0 };
    Force::lbf(own.min(bound) * f.as_psi().sqrt() * c * c.sqrt())
}

/// Share of the undisturbed side area, `A / A0` with `A0 = 4.5 c1^2`.
///
/// `A = (min(c2a, 1.5 c1) + min(s, 3 c1) + min(c2b, 1.5 c1)) min(1.5 c1, h)`: c2 = distances to edges
/// beside (`None` = out of reach), s = spacing of a pair along the edge, h = thickness of the block
/// (`None` = thick). Source: EN 1992-4 7.2.2.5 (seen in an engineering digest).
pub fn area_ratio(
    c1: Length,
    beside: [Option<Length>; 2],
    pair: Option<Length>,
    thickness: Option<Length>,
) -> f64 {
    let reach = c1 * 1.5;
    let side = |c: Option<Length>| c.map_or(reach, |c| c.min(reach));
    let row = pair.map_or(Length::mm(0.0), |s| s.min(c1 * 3.0));
    let width = side(beside[0]) + row + side(beside[1]);
    let depth = thickness.map_or(reach, |h| h.min(reach));
    (width / (c1 * 3.0)) * (depth / reach)
}

/// Disturbance by an edge beside, `psi_s = 0.7 + 0.3 c2 / (1.5 c1)`, at most 1. Source: EN 1992-4 (7.44)
/// (seen in an engineering digest).
pub fn edge_disturbance(c1: Length, c2: Length) -> f64 {
    crate::group::psi_s(c2 / (c1 * 1.5))
}

/// Thin block, `psi_h = sqrt(1.5 c1 / h)`, at least 1. Source: EN 1992-4 (7.45) (seen in an engineering
/// digest).
pub fn thickness_factor(c1: Length, h: Length) -> f64 {
    ((c1 * 1.5) / h).sqrt().max(1.0)
}

/// Direction of the shear, `psi_alpha = 1 / sqrt(cos^2 a + (0.5 sin a)^2)`, a = angle from square to the
/// edge, 0..90 degrees: 1 towards it, 2 along it. Source: EN 1992-4 (7.48) (seen in an engineering
/// digest).
pub fn direction_factor(angle: Angle) -> f64 {
    let (sin, cos) = angle.as_rad().sin_cos();
    1.0 / (cos * cos + 0.25 * sin * sin).sqrt()
}

/// Median edge breakout of one anchor in rock, N: strength capped, joint factor j, a loaded neighbour
/// along the edge.
#[inline]
pub(crate) fn in_rock(
    e: &crate::constants::Edge,
    f: f64,
    j: f64,
    d: f64,
    h: f64,
    c1: f64,
    spacing: f64,
) -> f64 {
    // a bolt cannot stand nearer to the edge than its own radius
    let c1 = c1.max(0.5 * d);
    basic_n(e.k_mean, d, h, f, c1) * j * crate::group::pair_share(spacing, 3.0 * c1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::constants::Constants;
    use proptest::prelude::*;

    const fn mm(v: f64) -> Length {
        Length::mm(v)
    }

    #[test]
    fn basic_reproduces_en_1992_4() {
        // calculated from EN 1992-4 (7.41): k9, d, h_ef, f, c1 -> kN
        for (k, d, h, f, c, want) in [
            (1.7, 10.0, 60.0, 25.0, 50.0, 5.2035),
            (2.4, 10.0, 60.0, 25.0, 50.0, 7.3461),
            (2.4, 12.0, 70.0, 30.0, 60.0, 10.8716),
            (2.4, 12.0, 70.0, 30.0, 100.0, 21.3700),
        ] {
            let got = basic(k, mm(d), mm(h), Stress::mpa(f), mm(c)).as_kn();
            assert!((got - want).abs() < 6e-5, "{got} {want}");
        }
    }

    #[test]
    fn corners_pairs_and_thin_blocks_reproduce_en_1992_4() {
        // calculated for k9 2.4, d 12, h_ef 70, f 30, c1 60
        let c1 = mm(60.0);
        let v0 = basic(2.4, mm(12.0), mm(70.0), Stress::mpa(30.0), c1);
        let corner = area_ratio(c1, [Some(mm(70.0)), None], None, None);
        assert!((corner - 0.88889).abs() < 6e-6);
        let v = v0 * (corner * edge_disturbance(c1, mm(70.0)));
        assert!((v.as_kn() - 9.0194).abs() < 6e-5);
        let pair = area_ratio(c1, [None, None], Some(mm(100.0)), None);
        assert!(((v0 * pair).as_kn() - 16.911).abs() < 6e-4);
        let thin = area_ratio(c1, [None, None], Some(mm(100.0)), Some(mm(60.0)));
        assert!((thickness_factor(c1, mm(60.0)) - 1.22474).abs() < 6e-6);
        assert!(((v0 * (thin * thickness_factor(c1, mm(60.0)))).as_kn() - 13.808).abs() < 6e-4);
        for (deg, want) in [(0.0, 1.0), (45.0, 1.26491), (90.0, 2.0)] {
            assert!((direction_factor(Angle::deg(deg)) - want).abs() < 6e-6);
        }
    }

    #[test]
    fn inch_form_reproduces_aci_349_2r() {
        // ACI 349.2R-07 examples A2 (16.2538 kip) and A3 (25.2029 kip), welded studs; 7 would give 14.2221
        let f = Stress::psi(4000.0);
        let i = Length::inch;
        assert!((basic_aci(8.0, i(0.5), i(3.06), f, i(10.0)).as_lbf() / 16_253.8 - 1.0).abs() < 1e-5);
        assert!((basic_aci(8.0, i(0.625), i(6.63), f, i(12.0)).as_lbf() / 25_202.9 - 1.0).abs() < 1e-5);
        assert!((basic_aci(7.0, i(0.5), i(3.06), f, i(10.0)).as_lbf() / 14_222.1 - 1.0).abs() < 1e-5);
        // calculated: d 1/2, h_ef 4, c1 4 in: 3795.95 lb
        assert!((basic_aci(7.0, i(0.5), i(4.0), f, i(4.0)).as_lbf() - 3795.95).abs() < 0.05);
        assert!((area_ratio(i(10.0), [Some(i(18.0)), None], None, Some(i(18.0))) - 1.0).abs() < 1e-12);
    }

    proptest! {
        #[test]
        fn nearer_never_stronger_deeper_never_weaker(
            d in 5.0..20.0f64, h in 20.0..200.0f64, f in 1.0..60.0f64, c in 5.0..900.0f64, k in 1.0..1.5f64, s in 10.0..3000.0f64,
        ) {
            let e = &Constants::built_in().edge;
            let v = |h: f64, c: f64, f: f64| in_rock(e, f, 1.0, d, h, c, s);
            let here = v(h, c, f) * (1.0 - 1e-9);
            prop_assert!(v(h, c * k, f) >= here);
            prop_assert!(v(h, c, f * k) >= here);
            prop_assert!(v(h * k, c, f) >= here);
        }
    }
}
