//! Bond of a glue-in: resin to rod and resin to rock.

use crate::constants::Bond;
use crate::group;
use units::{Force, Length, Stress};

/// Uniform bond, `N_p0 = psi_sus pi d h_ef tau`.
///
/// d = rod diameter (or that of the hole, with the bond stress at the rock), h_ef = bonded length, tau =
/// bond stress, psi_sus = factor for a permanent load (1 for falls). Valid for h_ef of 40 mm and 4 d to
/// 20 d. Source: EN 1992-4 7.2.1.6, ACI 318-19 17.6.5.2 (seen in engineering digests).
pub fn basic(d: Length, h_ef: Length, tau: Stress, psi_sus: f64) -> Force {
    Force::n(psi_sus * std::f64::consts::PI * d.as_m() * h_ef.as_m() * tau.as_pa())
}

/// Spacing at which bonds no longer disturb each other, `s_cr = 7.3 d sqrt(tau)`, at most 3 h_ef (mm,
/// MPa). Source: EN 1992-4 (7.15) (from memory).
pub fn spacing_en(d: Length, h_ef: Length, tau: Stress) -> Length {
    Length::mm(7.3 * d.as_mm() * tau.as_mpa().sqrt()).min(h_ef * 3.0)
}

/// The older form, `s_cr = 20 d sqrt(tau / 7.5 MPa)`, at most 3 h_ef. Source: EOTA TR 029 (5.2c) (seen in
/// an engineering digest).
pub fn spacing_tr029(d: Length, h_ef: Length, tau: Stress) -> Length {
    (d * (20.0 * (tau.as_mpa() / 7.5).sqrt())).min(h_ef * 3.0)
}

/// Reach beside one bonded anchor, `c_Na = 10 d sqrt(tau / 1100 psi)`. Source: ACI 318-19 (17.6.5.1.2b)
/// (from memory).
pub fn reach_aci(d: Length, tau: Stress) -> Length {
    d * (10.0 * (tau.as_psi() / 1100.0).sqrt())
}

/// Bond stress at which the cone governs, `tau_c = k3 sqrt(h_ef f) / (pi d)` (mm, MPa; k3 = 7.7 cracked,
/// 11.0 uncracked). Source: EN 1992-4 (7.19) (from memory).
pub fn cone_stress(k3: f64, d: Length, h_ef: Length, f: Stress) -> Stress {
    Stress::mpa(k3 * (h_ef.as_mm() * f.as_mpa()).sqrt() / (std::f64::consts::PI * d.as_mm()))
}

/// Factor of a group of n bonds, `psi_g = psi_0 - sqrt(s / s_cr) (psi_0 - 1)` with `psi_0 = sqrt(n) -
/// (sqrt(n) - 1) (tau / tau_c)^1.5`, both at least 1.
///
/// s = mean spacing, s_cr = [`spacing_en`], tau_c = [`cone_stress`]. Source: EN 1992-4 (7.17), (7.18)
/// (from memory).
pub fn group_factor(n: u32, s: Length, s_cr: Length, tau: Stress, tau_c: Stress) -> f64 {
    psi_group(f64::from(n).sqrt(), s / s_cr, tau / tau_c)
}

#[inline]
fn psi_group(root_n: f64, s_over_scr: f64, tau_over_tauc: f64) -> f64 {
    let t = tau_over_tauc.max(0.0);
    let psi_0 = (root_n - (root_n - 1.0) * t * t.sqrt()).max(1.0);
    (psi_0 - s_over_scr.clamp(0.0, 1.0).sqrt() * (psi_0 - 1.0)).max(1.0)
}

/// Bond stress at the rock of long cement-grouted anchors, `UCS / 10`, at most 4.2 MPa.
///
/// A floor: for threaded rod in resin in a small rough hole in strong rock it reads two to three times
/// too low. Source: Littlejohn & Bruce 1977 (from memory).
pub fn wall_floor(ucs: Stress) -> Stress {
    (ucs / 10.0).min(Stress::mpa(4.2))
}

/// Volume of resin between rod and hole, `V = pi / 4 (d_0^2 - d^2) L`, in ml.
///
/// d_0 = hole, d = rod, L = length. A net volume: waste and the first stroke of a nozzle come on top.
/// Source: geometry.
pub fn annulus_ml(hole: Length, rod: Length, length: Length) -> f64 {
    let (h, r) = (hole.as_mm(), rod.as_mm());
    std::f64::consts::FRAC_PI_4 * (h * h - r * r) * length.as_mm() * 1e-3
}

/// What the bond model needs, N, mm, MPa.
#[derive(Clone, Copy, Debug)]
pub(crate) struct BondInputs {
    pub d: f64,
    pub hole: f64,
    pub h: f64,
    pub tau: f64,
    pub ucs: f64,
    pub edge: f64,
    pub spacing: f64,
}

/// Median bond of one glue-in in rock, N, and whether the wall of the hole governs.
///
/// The lesser of resin to rod, `pi d h tau`, and resin to rock, `pi d_0 h (0.2 UCS)`; times the edge's
/// or the neighbour's effect, whichever is worse (not their product: with s_cr capped at 3 h_ef that
/// would let a deeper bolt hold less).
#[inline]
pub(crate) fn in_rock(b: &Bond, k_mean: f64, strength_cap: f64, x: &BondInputs) -> (f64, bool) {
    let resin = x.d * x.tau;
    let wall = x.hole * b.wall_ratio * x.ucs;
    let n0 = std::f64::consts::PI * x.h * resin.min(wall);
    let s_cr = (7.3 * x.d * x.tau.sqrt()).min(3.0 * x.h);
    let c_cr = 0.5 * s_cr;
    let by_edge = group::edge_share(x.edge, c_cr) * group::psi_s(x.edge / c_cr);
    let by_pair = if x.spacing >= s_cr {
        1.0
    } else {
        let tau_c = k_mean * (x.h * x.ucs.min(strength_cap)).sqrt() / (std::f64::consts::PI * x.d);
        group::pair_share(x.spacing, s_cr)
            * psi_group(std::f64::consts::SQRT_2, x.spacing / s_cr, x.tau / tau_c)
    };
    (n0 * by_edge.min(by_pair.min(1.0)), wall < resin)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::constants::Constants;
    use proptest::prelude::*;

    const fn mm(v: f64) -> Length {
        Length::mm(v)
    }
    const fn mpa(v: f64) -> Stress {
        Stress::mpa(v)
    }

    #[test]
    fn uniform_bond_reproduces_published_values() {
        // EOTA TR 029 verification case: d 25, h_ef 210, tau 7.5, gamma 2.1 -> 58.9 kN
        let n = basic(mm(25.0), mm(210.0), mpa(7.5), 1.0).as_kn();
        assert!((n - 123.700).abs() < 6e-4 && (n / 2.1 - 58.9).abs() < 0.03);
        // calculated from EN 1992-4 7.2.1.6
        for (d, h, tau, want) in
            [(12.0, 80.0, 10.0, 30.159), (10.0, 80.0, 7.0, 17.593), (12.0, 100.0, 15.0, 56.549)]
        {
            assert!((basic(mm(d), mm(h), mpa(tau), 1.0).as_kn() - want).abs() < 6e-4);
        }
        // ACI 318-19 17.6.5: 1/2 in, 4 in, 1000 psi -> 6283.2 lb
        let n = basic(Length::inch(0.5), Length::inch(4.0), Stress::psi(1000.0), 1.0);
        assert!((n.as_lbf() - 6283.2).abs() < 0.05);
    }

    #[test]
    fn pair_of_bonds_reproduces_en_1992_4() {
        // calculated from EN 1992-4 (7.15) ff for d 12, h_ef 80, tau 10, f 30, s 100, k3 11
        let (d, h, tau, s) = (mm(12.0), mm(80.0), mpa(10.0), mm(100.0));
        let s_cr = spacing_en(d, h, tau);
        assert!((s_cr.as_mm() - 240.0).abs() < 1e-9);
        let tau_c = cone_stress(11.0, d, h, mpa(30.0));
        assert!((tau_c.as_mpa() - 14.294).abs() < 6e-4);
        let psi = group_factor(2, s, s_cr, tau, tau_c);
        assert!((psi - 1.06092).abs() < 6e-6);
        let area = group::area_ratio(s + s_cr, s_cr, s_cr / 2.0);
        assert!((area - 1.41667).abs() < 6e-6);
        assert!(((basic(d, h, tau, 1.0) * (area * psi)).as_kn() - 45.329).abs() < 6e-4);
        // the two forms of s_cr agree: 277.02 against 277.13
        let deep = mm(500.0);
        assert!((spacing_en(d, deep, tau).as_mm() - 277.02).abs() < 0.01);
        assert!((spacing_tr029(d, deep, tau).as_mm() - 277.13).abs() < 0.01);
    }

    #[test]
    fn inch_form_reproduces_aci_318() {
        // calculated from ACI 318-19 17.6.5: c_Na 4.7673 in, A_Na0 90.909 in2, c 3 in -> 4549.3 lb
        let (d, tau) = (Length::inch(0.5), Stress::psi(1000.0));
        let c_na = reach_aci(d, tau);
        assert!((c_na.as_inch() - 4.7673).abs() < 6e-5);
        assert!(((c_na.as_inch() * 2.0).powi(2) - 90.909).abs() < 6e-4);
        let c = Length::inch(3.0);
        let factor = group::area_ratio_at_edge(c, c_na) * group::edge_disturbance(c, c_na);
        let n = basic(d, Length::inch(4.0), tau, 1.0) * factor;
        assert!((n.as_lbf() - 4549.3).abs() < 0.1, "{}", n.as_lbf());
    }

    #[test]
    fn annulus_reproduces_reckoned_volumes() {
        for (hole, rod, l, want) in [
            (12.0, 10.0, 90.0, 3.110),
            (14.0, 12.0, 80.0, 3.267),
            (16.0, 12.0, 100.0, 8.796),
            (18.0, 12.0, 100.0, 14.137),
        ] {
            assert!((annulus_ml(mm(hole), mm(rod), mm(l)) - want).abs() < 6e-4);
        }
    }

    proptest! {
        #[test]
        fn deeper_farther_harder_never_weaker(
            d in 6.0..20.0f64, h in 30.0..200.0f64, tau in 2.0..25.0f64, ucs in 2.0..200.0f64,
            edge in 10.0..600.0f64, spacing in 10.0..900.0f64, k in 1.0..1.5f64,
        ) {
            let c = Constants::built_in();
            let n = |x: BondInputs| in_rock(&c.bond, c.cone.k_mean, c.cone.strength_cap_mpa, &x).0;
            let x = BondInputs { d, hole: d + 2.0, h, tau, ucs, edge, spacing };
            let least = n(x) * (1.0 - 1e-9);
            let held = n(BondInputs { h: h * k, ..x });
            prop_assert!(held >= least);
            let held = n(BondInputs { edge: edge * k, ..x });
            prop_assert!(held >= least);
            let held = n(BondInputs { spacing: spacing * k, ..x });
            prop_assert!(held >= least);
            let held = n(BondInputs { ucs: ucs * k, ..x });
            prop_assert!(held >= least);
        }
    }
}
