//! Edges, neighbours and eccentric loads: factors on breakout and bond.

use rock::reach;
use units::Length;

/// Share of the undisturbed base of a breakout body, `A / A0`, for a rectangle of anchors.
///
/// `A` = product of two base widths ([`reach::base_width`]), `A0 = (2 c_cr)^2` for one undisturbed
/// anchor; c_cr = 1.5 h_ef for a cone. Above 1 for a group. Source: EN 1992-4 7.2.1.4, ACI 318-19
/// 17.6.2.1 (seen in engineering digests).
pub fn area_ratio(width_x: Length, width_y: Length, c_cr: Length) -> f64 {
    let base = c_cr * 2.0;
    (width_x / base) * (width_y / base)
}

/// `A / A0` of one anchor beside one edge: c = edge distance, c_cr = reach.
pub fn area_ratio_at_edge(c: Length, c_cr: Length) -> f64 {
    let full = reach::base_width(None, &[], None, c_cr);
    area_ratio(reach::base_width(Some(c), &[], None, c_cr), full, c_cr)
}

/// Disturbance of the stress by an edge, `psi_s = 0.7 + 0.3 c / c_cr`, at most 1.
///
/// c = nearest edge distance, c_cr = reach (1.5 h_ef for a cone). Source: EN 1992-4 (7.4), ACI 318-19
/// 17.6.2.4 (seen in engineering digests).
pub fn edge_disturbance(c: Length, c_cr: Length) -> f64 {
    psi_s(c / c_cr)
}

/// Eccentric load on a group, `psi_ec = 1 / (1 + 2 e / s_cr)`.
///
/// e = distance of the load from the group's centre, s_cr = 3 h_ef for a cone. Source: EN 1992-4 (7.6)
/// (seen in an engineering digest).
pub fn eccentricity(e: Length, s_cr: Length) -> f64 {
    1.0 / (1.0 + 2.0 * (e / s_cr))
}

/// Shell spalling in densely reinforced concrete, `psi_re = 0.5 + h_ef / 200 mm`, at most 1. In rock it
/// is 1 (judgement); kept for published examples. Source: EN 1992-4 (7.5) (seen in an engineering digest).
pub fn shell_spalling(h_ef: Length) -> f64 {
    (0.5 + h_ef.as_mm() / 200.0).min(1.0)
}

#[inline]
pub(crate) fn psi_s(c_over_ccr: f64) -> f64 {
    (0.7 + 0.3 * c_over_ccr).min(1.0)
}

/// One anchor's share of the base area beside an edge at c: `(min(c, c_cr) + c_cr) / (2 c_cr)`.
#[inline]
pub(crate) fn edge_share(c: f64, c_cr: f64) -> f64 {
    (c.min(c_cr) + c_cr) / (2.0 * c_cr)
}

/// One anchor's share of the base area of a pair at spacing s: `(min(s, s_cr) + s_cr) / (2 s_cr)`.
#[inline]
pub(crate) fn pair_share(s: f64, s_cr: f64) -> f64 {
    (s.min(s_cr) + s_cr) / (2.0 * s_cr)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn factors_reproduce_published_values() {
        // EOTA TR 029 verification case: c 135, c_cr 315 -> 0.828571; area (135 + 315) / 630
        let (c, ccr) = (Length::mm(135.0), Length::mm(315.0));
        assert!((edge_disturbance(c, ccr) - 0.828571).abs() < 5e-7);
        assert!((area_ratio_at_edge(c, ccr) - 0.714286).abs() < 5e-7);
        // calculated from EN 1992-4: e 20, s_cr 180 -> 0.81818; h_ef 60 -> 0.8
        assert!((eccentricity(Length::mm(20.0), Length::mm(180.0)) - 0.81818).abs() < 5e-6);
        assert!((shell_spalling(Length::mm(60.0)) - 0.8).abs() < 1e-12);
        assert_eq!(edge_disturbance(Length::mm(400.0), ccr), 1.0);
    }

    #[test]
    fn shares_agree_with_areas() {
        let ccr = Length::mm(90.0);
        let mm = Length::mm;
        for c in [20.0, 50.0, 90.0, 200.0] {
            assert!((edge_share(c, 90.0) - area_ratio_at_edge(mm(c), ccr)).abs() < 1e-12);
        }
        for s in [20.0, 100.0, 180.0, 400.0] {
            let pair = reach::base_width(None, &[mm(s)], None, ccr);
            let area = area_ratio(pair, reach::base_width(None, &[], None, ccr), ccr);
            assert!((2.0 * pair_share(s, 180.0) - area).abs() < 1e-12);
        }
    }
}
