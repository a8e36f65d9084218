//! How much of a breakout body the edges and neighbours leave.

use units::Length;

/// Width of a breakout body's base, limited by edges, over a row of loaded anchors.
///
/// `w = min(c_a, c_cr) + sum(min(s_i, 2 c_cr)) + min(c_b, c_cr)`, c_a and c_b = distances to the free
/// edges on both sides (`None` = none in reach), s_i = spacings in the row, c_cr = reach of the body
/// beside one anchor (1.5 h_ef for a cone). All lengths >= 0. Source: EN 1992-4 7.2.1.4 (seen in two
/// engineering digests).
pub fn base_width(
    edge_a: Option<Length>,
    spacings: &[Length],
    edge_b: Option<Length>,
    reach: Length,
) -> Length {
    let side = |edge: Option<Length>| edge.map_or(reach, |c| c.min(reach));
    let row = spacings.iter().fold(Length::mm(0.0), |sum, s| sum + s.min(reach * 2.0));
    side(edge_a) + row + side(edge_b)
}

/// Embedment to reckon with where three or more edges stand within reach (a prow or block):
/// `h_ef' = max(c_max / c_cr, s_max / s_cr) h_ef`, not more than h_ef.
///
/// c_max = largest of the edge distances that lie within reach, s_max = largest spacing (0 for a single
/// anchor), c_cr = 1.5 h_ef, s_cr = 3 h_ef. Source: EN 1992-4 7.2.1.4 (8) (seen in an engineering
/// digest).
pub fn embedment_among_edges(h_ef: Length, c_max: Length, s_max: Length) -> Length {
    let by_edge = c_max / (h_ef * 1.5);
    let by_spacing = s_max / (h_ef * 3.0);
    h_ef * by_edge.max(by_spacing).min(1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn widths_reproduce_hand_reckoned_areas() {
        // h_ef 60: reach 90. Areas in mm2: edge 50 -> 25 200; pair s 100 -> 50 400; corner 50, 70 -> 22 400
        let mm = Length::mm;
        let w = |a: Option<f64>, s: &[f64]| {
            let s: Vec<_> = s.iter().map(|s| mm(*s)).collect();
            base_width(a.map(mm), &s, None, mm(90.0)).as_mm()
        };
        assert!((w(Some(50.0), &[]) * w(None, &[]) - 25_200.0).abs() < 1e-6);
        assert!((w(None, &[100.0]) * w(None, &[]) - 50_400.0).abs() < 1e-6);
        assert!((w(Some(50.0), &[]) * w(Some(70.0), &[]) - 22_400.0).abs() < 1e-6);
        assert!((w(None, &[1000.0]) - 360.0).abs() < 1e-9);
    }

    #[test]
    fn a_prow_shortens_the_embedment() {
        let h = embedment_among_edges(Length::mm(80.0), Length::mm(60.0), Length::mm(0.0));
        assert!((h.as_mm() - 40.0).abs() < 1e-9);
        let far = embedment_among_edges(Length::mm(80.0), Length::mm(600.0), Length::mm(0.0));
        assert!((far.as_mm() - 80.0).abs() < 1e-9);
    }
}
