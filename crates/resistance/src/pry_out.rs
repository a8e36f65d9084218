//! Pry-out: a short bolt levers rock out behind it.

use units::{Force, Length};

/// Pry-out, `V_cp = k8 N_c`.
///
/// N_c = breakout in tension (for bonded anchors the lesser of breakout and bond), k8 = 1 below h_ef 60
/// mm, 2 from there on ([`factor_en`]), or passing over ([`factor`]). Source: EN 1992-4 (7.39), ACI
/// 318-19 17.7.3 (seen in engineering digests).
pub fn resistance(k8: f64, cone: Force) -> Force {
    cone * k8
}

/// k8 of the standards: 1 for h_ef below 60 mm, else 2. Source: EN 1992-4 7.2.2.4 (seen in an engineering
/// digest).
pub fn factor_en(h_ef: Length) -> f64 {
    if h_ef.as_mm() < 60.0 { 1.0 } else { 2.0 }
}

/// k8 for estimates: 1 up to 50 mm, 2 from 70 mm, linear between. The step of the standards at 60 mm is a
/// rule, not physics. Source: judgement.
pub fn factor(h_ef: Length) -> f64 {
    factor_mm(&crate::constants::Constants::built_in().pry_out, h_ef.as_mm())
}

#[inline]
pub(crate) fn factor_mm(p: &crate::constants::PryOut, h: f64) -> f64 {
    1.0 + ((h - p.low_mm) / (p.high_mm - p.low_mm)).clamp(0.0, 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cone;
    use units::Stress;

    #[test]
    fn reproduces_published_values() {
        // ACI 349.2R-07 examples A2, A3: 16.25 and 51.8252 kip
        let f = Stress::psi(4000.0);
        let n2 = cone::basic_aci(24.0, f, Length::inch(3.06));
        assert!((resistance(2.0, n2).as_lbf() / 16_250.0 - 1.0).abs() < 1e-5);
        let n3 = cone::basic_aci(24.0, f, Length::inch(6.63));
        assert!((resistance(2.0, n3).as_lbf() / 51_825.2 - 1.0).abs() < 1e-5);
        // public hand example: 0.70 * 2 * 20 694.61 lb = 28 972.45 lb
        let v = resistance(2.0, Force::lbf(20_694.61)) * 0.70;
        assert!((v.as_lbf() - 28_972.45).abs() < 0.01);
    }

    #[test]
    fn reproduces_en_1992_4() {
        // calculated: k 11, f 25: h_ef 50 -> 19.445 kN, 60 -> 51.124 kN
        for (h, want) in [(50.0, 19.445), (60.0, 51.124)] {
            let h = Length::mm(h);
            let v = resistance(factor_en(h), cone::basic(11.0, Stress::mpa(25.0), h));
            // 51.124 is twice the rounded 25.562
            assert!((v.as_kn() - want).abs() < 1e-3);
        }
        assert_eq!([40.0, 60.0, 80.0].map(|h| factor(Length::mm(h))), [1.0, 1.5, 2.0]);
    }
}
