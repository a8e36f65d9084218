//! Tension and shear together.

use units::{Angle, Force};

/// Resistance against a load at an angle by a power law:
/// `R = ((cos t / N)^p + (sin t / V)^p)^(-1/p)`.
///
/// t = angle from the rock's normal (0 = straight out), 0..90 degrees; N, V = resistances straight out
/// and along the face (force, > 0); p = power (1): 2 where steel governs both, 1.5 where rock does, 5/3
/// in ACI 318. `R(0) = N`, `R(90 deg) = V`. Source: EN 1992-4 (7.54), (7.55) (seen in an engineering
/// digest), ACI 318-19 17.8.
pub fn at_angle(tension: Force, shear: Force, direction: Angle, power: f64) -> Force {
    let (sin, cos) = direction.as_rad().sin_cos();
    let (x, y) = (cos.max(0.0) / tension.as_n(), sin.abs() / shear.as_n());
    Force::n((x.powf(power) + y.powf(power)).powf(-1.0 / power))
}

/// Utilisation by a power law, `(N_E / N)^p + (V_E / V)^p`; up to 1 holds. Source as [`at_angle`].
pub fn utilisation(tension: f64, shear: f64, power: f64) -> f64 {
    tension.powf(power) + shear.powf(power)
}

/// Resistance against a load at an angle by the trilinear rule: `N_E / N + V_E / V <= 1.2`, each at most
/// 1, and the full strength where the other utilisation is at most 0.2.
///
/// Symbols as in [`at_angle`]. Source: ACI 318-19 17.8 (seen in an engineering digest; ACI 349.2R
/// example A3).
pub fn at_angle_trilinear(tension: Force, shear: Force, direction: Angle) -> Force {
    let (sin, cos) = direction.as_rad().sin_cos();
    let (x, y) = (cos.max(0.0) / tension.as_n(), sin.abs() / shear.as_n());
    Force::n((1.2 / (x + y)).min(1.0 / x).min(1.0 / y))
}

/// Sum of the utilisations, `N_E / N + V_E / V`; up to 1.2 holds by the trilinear rule. Source: ACI
/// 318-19 17.8.3 (seen in an engineering digest).
pub fn linear_sum(tension: f64, shear: f64) -> f64 {
    tension + shear
}

/// The direction of a load in the form that the models use.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Direction {
    pub sin: f64,
    pub cos: f64,
}

impl Direction {
    pub fn new(rad: f64) -> Self {
        let (sin, cos) = rad.sin_cos();
        // a load pressed straight into the rock has no resistance to speak of; keep it finite
        let cos = cos.max(0.0);
        Direction { sin: if cos == 0.0 { sin.abs().max(1e-3) } else { sin.abs() }, cos }
    }
}

/// Power law with p = 2, and the share of the tension term.
#[inline]
pub(crate) fn steel(n: f64, v: f64, dir: Direction) -> (f64, f64) {
    let (x, y) = (dir.cos / n, dir.sin / v);
    let (xx, yy) = (x * x, y * y);
    (1.0 / (xx + yy).sqrt(), xx / (xx + yy))
}

/// Power law with p = 1.5, and the share of the tension term.
#[inline]
pub(crate) fn rock(n: f64, v: f64, dir: Direction) -> (f64, f64) {
    let (x, y) = (dir.cos / n, dir.sin / v);
    let (xx, yy) = (x * x.sqrt(), y * y.sqrt());
    let sum = xx + yy;
    let root = sum.cbrt();
    (1.0 / (root * root), xx / sum)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const N: Force = Force::kn(40.0);
    const V: Force = Force::kn(25.0);

    #[test]
    fn angles_reproduce_reckoned_values() {
        // calculated from EN 1992-4 (7.54), (7.55) and ACI 318-19 17.8 for N 40, V 25 kN at 45 degrees
        let a = Angle::deg(45.0);
        for (p, want) in [(1.5, 27.052), (5.0 / 3.0, 28.210), (2.0, 29.981)] {
            assert!((at_angle(N, V, a, p).as_kn() - want).abs() < 6e-4, "{p}");
        }
        assert!((at_angle_trilinear(N, V, a).as_kn() - 26.109).abs() < 6e-4);
    }

    #[test]
    fn utilisations_reproduce_reckoned_values() {
        for (p, want) in [(2.0, 0.850), (1.5, 1.0504), (5.0 / 3.0, 0.9787)] {
            assert!((utilisation(0.6, 0.7, p) - want).abs() < 6e-5, "{p}");
        }
        assert!((linear_sum(0.6, 0.7) - 1.3).abs() < 1e-12);
        // ACI 349.2R example A3: 8 / 15.9534 + 6 / 14.9563
        assert!((linear_sum(8.0 / 15.9534, 6.0 / 14.9563) - 0.9026).abs() < 6e-5);
    }

    #[test]
    fn ends_are_exact() {
        for p in [1.5, 2.0] {
            assert!((at_angle(N, V, Angle::deg(0.0), p) / N - 1.0).abs() < 1e-12);
            assert!((at_angle(N, V, Angle::deg(90.0), p) / V - 1.0).abs() < 1e-12);
        }
    }

    proptest! {
        #[test]
        fn fast_forms_agree_with_the_power_law(n in 1.0..100.0f64, v in 1.0..100.0f64, deg in 0.0..90.0f64) {
            let (n, v, a) = (Force::kn(n), Force::kn(v), Angle::deg(deg));
            let d = Direction::new(a.as_rad());
            prop_assert!((steel(n.as_n(), v.as_n(), d).0 / at_angle(n, v, a, 2.0).as_n() - 1.0).abs() < 1e-12);
            prop_assert!((rock(n.as_n(), v.as_n(), d).0 / at_angle(n, v, a, 1.5).as_n() - 1.0).abs() < 1e-12);
        }

        #[test]
        fn trilinear_lies_between_linear_and_the_box(n in 1.0..100.0f64, v in 1.0..100.0f64, deg in 0.0..90.0f64) {
            let (n, v, a) = (Force::kn(n), Force::kn(v), Angle::deg(deg));
            let t = at_angle_trilinear(n, v, a);
            let (sin, cos) = a.as_rad().sin_cos();
            prop_assert!(t.as_n() >= at_angle(n, v, a, 1.0).as_n() * (1.0 - 1e-12));
            prop_assert!(t.as_n() * cos <= n.as_n() * (1.0 + 1e-12) && t.as_n() * sin <= v.as_n() * (1.0 + 1e-12));
        }
    }
}
