//! Slip and pull-through of expansion bolts.

use crate::constants::PullOut;

/// How the strength of the rock acts on slip, relative to the reference strength of 20 MPa: in
/// proportion below it, with the root above it, level from 50 MPa on (MPa). Source: judgement.
#[inline]
pub(crate) fn rock_factor(p: &PullOut, ucs: f64) -> f64 {
    let x = ucs.min(p.cap_mpa) / p.reference_mpa;
    if x < 1.0 { x } else { x.sqrt() }
}

/// Median load at which an expansion bolt slips in rock of the reference strength, N, for a diameter in
/// mm: the parabola through the three sizes of the table, not below a fifth of the first. Source:
/// judgement (mean loads of tested products in 20 to 25 MPa concrete).
#[inline]
pub(crate) fn at_reference(p: &PullOut, d: f64) -> f64 {
    let [d0, d1, d2] = p.diameters_mm;
    let [f0, f1, f2] = p.loads_kn;
    let s01 = (f1 - f0) / (d1 - d0);
    let s12 = (f2 - f1) / (d2 - d1);
    let curve = f0 + (d - d0) * (s01 + (d - d1) * (s12 - s01) / (d2 - d0));
    // below the first size the parabola would turn up again; follow d^2 there
    let load = if d < d0 { f0 * (d / d0) * (d / d0) } else { curve };
    load * 1e3
}

/// Scatter of slip: that of products, passing over to that of soft rock between 25 and 20 MPa.
#[inline]
pub(crate) fn product_sd_ln(p: &PullOut, ucs: f64) -> f64 {
    let soft = ((p.soft_mpa - ucs) / (p.soft_mpa - p.reference_mpa)).clamp(0.0, 1.0);
    p.product_sd_ln + soft * (p.soft_sd_ln - p.product_sd_ln)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::constants::Constants;
    use proptest::prelude::*;

    #[test]
    fn the_sizes_of_the_table_come_out() {
        let p = &Constants::built_in().pull_out;
        for (d, kn) in [(8.0, 12.0), (10.0, 18.0), (12.0, 25.0)] {
            assert!((at_reference(p, d) / 1e3 - kn).abs() < 1e-9);
        }
        assert!((rock_factor(p, 20.0) - 1.0).abs() < 1e-12);
        assert!((rock_factor(p, 200.0) - 2.5_f64.sqrt()).abs() < 1e-12);
        assert!((rock_factor(p, 5.0) - 0.25).abs() < 1e-12);
    }

    proptest! {
        #[test]
        fn thicker_and_harder_never_weaker(d in 4.0..25.0f64, more in 0.0..5.0f64, f in 0.5..200.0f64, harder in 0.0..50.0f64) {
            let p = &Constants::built_in().pull_out;
            prop_assert!(at_reference(p, d + more) >= at_reference(p, d));
            prop_assert!(rock_factor(p, f + harder) >= rock_factor(p, f));
            prop_assert!(product_sd_ln(p, f + harder) <= product_sd_ln(p, f) + 1e-12);
        }
    }
}
