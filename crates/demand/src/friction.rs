//! Friction where the rope runs over a carabiner, and the force two strands put on a bolt.

use units::{Angle, Force, Ratio};

/// Ratio of the tensions on both sides of a sliding rope: `T_high / T_low = exp(mu * theta)`.
///
/// * `friction` mu: 0.10..0.35 for rope on aluminium or steel, dimensionless
/// * `wrap` theta: angle the rope is deflected by, rad
///
/// Leaves out the loss by bending at each entry and exit. Source: capstan (Euler-Eytelwein) law.
pub fn capstan(friction: Ratio, wrap: Angle) -> Ratio {
    Ratio::of((friction.get() * wrap.as_rad()).exp())
}

/// Coefficient of friction from the tension ratio over a full return: `mu = ln(R180) / pi`, R180 >= 1.
/// Source: capstan law.
pub fn friction_from_ratio(ratio_180: Ratio) -> Ratio {
    Ratio::of(ratio_180.get().ln() / std::f64::consts::PI)
}

/// Coefficient of friction from the forces that raise and lower one load over a bar:
/// `mu = ln(T_raise / T_lower) / (2 theta)`. Forces in any same unit, > 0. Source: capstan law both ways,
/// as used by Delaney, Physics for Roping Technicians, 2022.
pub fn friction_from_raise_and_lower(raise: Force, lower: Force, wrap: Angle) -> Ratio {
    Ratio::of((raise / lower).ln() / (2.0 * wrap.as_rad()))
}

/// Force on a bolt from the tensions of the two strands through its carabiner:
/// `F = sqrt(Ta^2 + Tb^2 - 2 Ta Tb cos(theta))`, `wrap` theta = 0 straight through, pi full return.
/// Unit: N. Source: vector sum.
pub fn bolt_force(a: Force, b: Force, wrap: Angle) -> Force {
    let (ta, tb) = (a.as_n(), b.as_n());
    // the same sum in a form that stays exact near a straight rope
    let s = (wrap.as_rad() / 2.0).sin();
    Force::n(((ta - tb) * (ta - tb) + 4.0 * ta * tb * s * s).sqrt())
}

/// Force on the top bolt from the climber's tension: `F_top = F (1 + 1/R)`, full return.
///
/// * `climber` F: tension on the climber's side, N
/// * `ratio_180` R >= 1: 1.4..2.1; R = 1 (no friction) doubles the force
///
/// Source: [`bolt_force`] with theta = pi and the capstan law.
pub fn top_bolt_force(climber: Force, ratio_180: Ratio) -> Force {
    climber * (1.0 + 1.0 / ratio_180.get())
}

/// Greatest forces when the belay device lets rope slip at tension `slip` F_s:
/// climber `R F_s`, top bolt `F_s (1 + R)`. `ratio` R >= 1 is that of the whole rope path.
/// Returns (climber, top bolt), N. Source: capstan law.
pub fn slip_bound(slip: Force, ratio: Ratio) -> (Force, Force) {
    (slip * ratio.get(), slip * (1.0 + ratio.get()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn capstan_table() {
        // reference table, sec. 2.1 (independent computation)
        for (mu, deg, want) in [
            (0.10, 30.0, 1.054),
            (0.15, 180.0, 1.602),
            (0.20, 90.0, 1.369),
            (0.30, 150.0, 2.193),
            (0.35, 60.0, 1.443),
        ] {
            let got = capstan(Ratio::of(mu), Angle::deg(deg)).get();
            assert!((got - want).abs() < 6e-4, "{mu} {deg}: {got}");
        }
    }

    #[test]
    fn coefficients_measured_by_raising_and_lowering() {
        // Delaney 2022: 88/35 kgf on 50 mm aluminium (0.15), 127/29 on a 10 mm steel bar (0.24)
        let mu = |r, l| friction_from_raise_and_lower(Force::kgf(r), Force::kgf(l), Angle::deg(180.0)).get();
        assert!((mu(88.0, 35.0) - 0.147).abs() < 0.002);
        assert!((mu(127.0, 29.0) - 0.235).abs() < 0.002);
    }

    #[test]
    fn strands_through_a_carabiner() {
        let f = |deg| bolt_force(Force::kn(3.0), Force::kn(2.0), Angle::deg(deg)).as_kn();
        assert!((f(180.0) - 5.0).abs() < 1e-12);
        assert!((f(0.0) - 1.0).abs() < 1e-12);
        assert!((f(90.0) - 13.0f64.sqrt()).abs() < 1e-12);
        for (r, want) in [(1.0, 2.0), (1.5, 1.667), (1.6, 1.625), (1.7, 1.588)] {
            assert!((top_bolt_force(Force::kn(1.0), Ratio::of(r)).as_kn() - want).abs() < 1e-3);
        }
        let (climber, top) = slip_bound(Force::kn(2.5), Ratio::of(1.6));
        assert!((climber.as_kn() - 4.0).abs() < 1e-12 && (top.as_kn() - 6.5).abs() < 1e-12);
    }

    proptest! {
        #[test]
        fn bolt_force_lies_between_difference_and_sum(a in 0.0..20.0f64, b in 0.0..20.0f64, deg in 0.0..180.0f64) {
            let f = bolt_force(Force::kn(a), Force::kn(b), Angle::deg(deg)).as_kn();
            prop_assert!(f >= (a - b).abs() - 1e-9 && f <= a + b + 1e-9);
        }
        #[test]
        fn friction_round_trip(r in 1.0..4.0f64) {
            let mu = friction_from_ratio(Ratio::of(r));
            prop_assert!((capstan(mu, Angle::deg(180.0)).get() / r - 1.0).abs() < 1e-12);
        }
    }
}
