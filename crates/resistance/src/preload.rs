//! Torque and preload.

use units::{Force, Length, Stress, Torque};

/// Preload from torque, `F = T / (K d)`.
///
/// T = torque, d = thread diameter, K = friction factor (1): 0.20 dry plated, 0.12-0.16 lubricated,
/// 0.25-0.35 dry stainless. Relaxes to about half. In anchors K is often larger: a preload above the
/// rated pull is a known paradox. Source: handbook formula (from memory).
pub fn preload(torque: Torque, friction: f64, d: Length) -> Force {
    Force::n(torque.as_nm() / (friction * d.as_m()))
}

/// Torque at which the stress area reaches the yield stress in pure tension, `T = K d A_s f_y`.
///
/// With the twist of tightening yield starts at about 0.8 of it (judgement). Source as [`preload`].
pub fn yield_torque(friction: f64, d: Length, area_mm2: f64, f_y: Stress) -> Torque {
    Torque::nm(friction * d.as_m() * area_mm2 * f_y.as_mpa())
}

#[cfg(test)]
mod tests {
    use super::*;
    use hardware::{stress_area_inch_mm2, stress_area_metric_mm2};

    #[test]
    fn reproduces_reckoned_values() {
        // calculated from T = K d F with K 0.2
        for (t, d, want) in [
            (Torque::nm(35.0), Length::mm(10.0), 17.5),
            (Torque::nm(60.0), Length::mm(12.0), 25.0),
            (Torque::ft_lbf(25.0), Length::inch(0.375), 17.79),
            (Torque::ft_lbf(35.0), Length::inch(0.375), 24.91),
            (Torque::ft_lbf(55.0), Length::inch(0.5), 29.36),
        ] {
            assert!((preload(t, 0.2, d).as_kn() / want - 1.0).abs() < 5e-4, "{want}");
        }
        // torque that yields A4-70: M10 52.2, M12 91.0, 3/8 42.9, 1/2 104.6 N m
        let fy = Stress::mpa(450.0);
        for (d, a, want) in [
            (Length::mm(10.0), stress_area_metric_mm2(Length::mm(10.0), Length::mm(1.5)), 52.2),
            (Length::mm(12.0), stress_area_metric_mm2(Length::mm(12.0), Length::mm(1.75)), 91.0),
            (Length::inch(0.375), stress_area_inch_mm2(Length::inch(0.375), 16.0), 42.9),
            (Length::inch(0.5), stress_area_inch_mm2(Length::inch(0.5), 13.0), 104.6),
        ] {
            assert!((yield_torque(0.2, d, a, fy).as_nm() - want).abs() < 0.05, "{want}");
        }
    }
}
