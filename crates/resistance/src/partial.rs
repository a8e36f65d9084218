//! Partial factors for the design of new work. They are for comparison with published designs; an
//! assessment of what is there does not use them.

use units::Stress;

/// `gamma_Ms` of steel in tension, `max(1.2 f_u / f_y, 1.4)`. Source: EN 1992-4 table 4.1 (seen in two
/// engineering digests).
pub fn steel_tension(f_u: Stress, f_y: Stress) -> f64 {
    (1.2 * (f_u / f_y)).max(1.4)
}

/// `gamma_Ms` of steel in shear, `max(f_u / f_y, 1.25)` for f_u up to 800 MPa and f_y / f_u up to 0.8,
/// else 1.5. Source: EN 1992-4 table 4.1 (seen in two engineering digests).
pub fn steel_shear(f_u: Stress, f_y: Stress) -> f64 {
    if f_u.as_mpa() <= 800.0 && f_y / f_u <= 0.8 { (f_u / f_y).max(1.25) } else { 1.5 }
}

/// `gamma_Mc = 1.5 gamma_inst` of breakout; gamma_inst = 1.0, 1.2 or 1.4 by how sensitive the product is
/// to its setting. Source: EN 1992-4 table 4.1 (seen in two engineering digests).
pub fn breakout(gamma_inst: f64) -> f64 {
    1.5 * gamma_inst
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn factors_follow_table_4_1() {
        // A4-70 (700 / 450): tension 1.2 * 700 / 450 = 1.867, shear 1.556; 10.9: shear 1.5
        let (u, y) = (Stress::mpa(700.0), Stress::mpa(450.0));
        assert!((steel_tension(u, y) - 1.8667).abs() < 1e-4 && (steel_shear(u, y) - 1.5556).abs() < 1e-4);
        assert_eq!(steel_shear(Stress::mpa(1000.0), Stress::mpa(900.0)), 1.5);
        // EOTA TR 029 case: gamma_inst 1.4 -> 2.1
        assert!((breakout(1.4) - 2.1).abs() < 1e-12);
    }
}
