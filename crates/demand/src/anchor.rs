//! Static forces in anchors of two bolts, in a pendulum and in a line between two anchors.

use crate::impact::weight;
use units::{Angle, Force, Length, Mass};

/// Force in each of two equal legs at an included angle: `F_leg = F / (2 cos(theta / 2))`.
/// `included` theta in 0..180 degrees (exclusive); the force grows without bound towards 180.
/// Source: equilibrium.
pub fn leg_force(load: Force, included: Angle) -> Force {
    load / (2.0 * (included.as_rad() / 2.0).cos())
}

/// Forces in two legs at angles `a1`, `a2` to either side of the load's line:
/// `F1 = F sin(a2) / sin(a1 + a2)`, `F2 = F sin(a1) / sin(a1 + a2)`.
///
/// A negative result means that this leg is slack and the other one carries all. Stiffness does not
/// matter once both legs are taut. Not for parallel legs (a1 + a2 = 0 gives NaN). Source: equilibrium.
pub fn leg_forces(load: Force, a1: Angle, a2: Angle) -> (Force, Force) {
    let (a1, a2) = (a1.as_rad(), a2.as_rad());
    let s = (a1 + a2).sin();
    (load * (a2.sin() / s), load * (a1.sin() / s))
}

/// Force on each bolt of a single loop run through both bolts with a strand across the top:
/// `T = F / (2 cos(theta / 2))`, bolt `= 2 T cos((90 deg - theta / 2) / 2)`. The bolts are pulled
/// towards each other. `included` theta in 0..180 degrees (exclusive). Source: equilibrium, frictionless.
pub fn triangle_bolt_force(load: Force, included: Angle) -> Force {
    let half = included.as_rad() / 2.0;
    let turn = (std::f64::consts::FRAC_PI_2 - half) / 2.0;
    leg_force(load, included) * (2.0 * turn.cos())
}

/// A leg of an anchor in the plane of the wall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leg {
    /// Angle from the vertical at which the leg rises from the master point to its bolt.
    pub angle: Angle,
    /// Length from the master point to the bolt, > 0.
    pub length: Length,
}

/// Ideal sharing of a load between taut legs of one material, by stiffness `k_i = K / L_i`:
/// the master point moves by u with `[sum k_i n_i n_i^T] u = F`, leg i carries `F_i = k_i n_i . u`;
/// legs that would be pushed are dropped and the rest solved again.
///
/// * `load`: force on the master point, N; its line, drawn on past the master point, lies `off` the
///   vertical, counted as the legs' angles are
/// * `legs`: n_i is the direction (sin, cos) of a leg's angle
/// * `forces`: receives one force per leg, 0 for slack legs; must be as long as `legs`
///
/// Returns false, and leaves zeros, where no leg can hold the load or the lengths differ. Small
/// movements, no knots, no slack: real rigs share less evenly, so a single bolt is judged as if it
/// carried everything. Source: displacement method for pin-jointed bars (textbook).
pub fn share_by_stiffness(load: Force, off: Angle, legs: &[Leg], forces: &mut [Force]) -> bool {
    forces.fill(Force::n(0.0));
    if legs.len() != forces.len() {
        return false;
    }
    let (fx, fy) = (load.as_n() * off.as_rad().sin(), load.as_n() * off.as_rad().cos());
    let direction = |leg: &Leg| (leg.angle.as_rad().sin(), leg.angle.as_rad().cos());
    let stiffness = |leg: &Leg| 1.0 / leg.length.as_m();
    let mut dropped = 0_u64;
    for _ in 0..legs.len().min(64) {
        let taut = || legs.iter().enumerate().filter(|(i, _)| dropped & (1 << i) == 0);
        let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
        for (_, leg) in taut() {
            let ((x, y), k) = (direction(leg), stiffness(leg));
            xx += k * x * x;
            xy += k * x * y;
            yy += k * y * y;
        }
        let (det, trace) = (xx * yy - xy * xy, xx + yy);
        let (ux, uy) = if det > 1e-12 * trace * trace {
            ((yy * fx - xy * fy) / det, (xx * fy - xy * fx) / det)
        } else if let Some((_, leg)) = taut().next() {
            // all taut legs parallel: only the load along them is held
            let (x, y) = direction(leg);
            let along = (fx * x + fy * y) / trace;
            (along * x, along * y)
        } else {
            break;
        };
        let mut pushed = 0;
        for (i, leg) in taut() {
            let (x, y) = direction(leg);
            let force = stiffness(leg) * (x * ux + y * uy);
            forces[i] = Force::n(force.max(0.0));
            if force < 0.0 {
                pushed |= 1 << i;
            }
        }
        if pushed == 0 {
            return forces.iter().any(|f| f.as_n() > 0.0);
        }
        dropped |= pushed;
        forces.fill(Force::n(0.0));
    }
    forces.fill(Force::n(0.0));
    false
}

/// Tension at the lowest point of a pendulum swing released at rest from `release` a0 to the vertical:
/// `T = W (3 - 2 cos(a0))`, single strand. Source: energy of a pendulum.
pub fn pendulum_tension(mass: Mass, release: Angle) -> Force {
    weight(mass) * (3.0 - 2.0 * release.as_rad().cos())
}

/// Tension of a line of span L with a load W at its middle that hangs `sag` s below the anchors:
/// `T = W sqrt(L^2 / 4 + s^2) / (2 s)`. Lengths in m, s > 0. The line's own weight may be added as half
/// of it to W. Source: equilibrium.
pub fn line_tension(load: Force, span: Length, sag: Length) -> Force {
    let (l, s) = (span.as_m(), sag.as_m());
    load * ((l * l / 4.0 + s * s).sqrt() / (2.0 * s))
}

/// Sag of a line at its middle from its tension, the inverse of [`line_tension`]:
/// `s = L / (2 sqrt(4 (T / W)^2 - 1))`. `None` where T <= W / 2: such a line hangs straight down.
pub fn line_sag(load: Force, span: Length, tension: Force) -> Option<Length> {
    let q = tension / load;
    (q > 0.5).then(|| Length::m(span.as_m() / (2.0 * (4.0 * q * q - 1.0).sqrt())))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn equal_legs() {
        for (deg, want) in [
            (0.0, 0.5),
            (30.0, 0.518),
            (45.0, 0.541),
            (60.0, 0.5774),
            (90.0, std::f64::consts::FRAC_1_SQRT_2),
            (120.0, 1.0),
            (135.0, 1.307),
            (150.0, 1.9319),
            (170.0, 5.737),
        ] {
            let got = leg_force(Force::kn(1.0), Angle::deg(deg)).as_kn();
            assert!((got - want).abs() < 5e-4, "{deg}: {got}");
        }
    }

    #[test]
    fn unequal_legs_and_triangle() {
        let (a, b) = leg_forces(Force::kn(1.0), Angle::deg(20.0), Angle::deg(40.0));
        assert!((a.as_kn() - 0.7422).abs() < 1e-4 && (b.as_kn() - 0.3949).abs() < 1e-4);
        let (a, b) = leg_forces(Force::kn(1.0), Angle::deg(20.0), Angle::deg(10.0));
        assert!((a.as_kn() - 0.347).abs() < 1e-3 && (b.as_kn() - 0.684).abs() < 1e-3);
        for (deg, want) in [(30.0, 0.821), (60.0, 1.0), (90.0, 1.307)] {
            assert!((triangle_bolt_force(Force::kn(1.0), Angle::deg(deg)).as_kn() - want).abs() < 1e-3);
        }
    }

    fn shares(legs: &[(f64, f64)], off: f64) -> Vec<f64> {
        let legs: Vec<Leg> =
            legs.iter().map(|(a, l)| Leg { angle: Angle::deg(*a), length: Length::m(*l) }).collect();
        let mut forces = vec![Force::n(0.0); legs.len()];
        assert!(share_by_stiffness(Force::kn(1.0), Angle::deg(off), &legs, &mut forces));
        forces.into_iter().map(Force::as_kn).collect()
    }

    fn close(got: &[f64], want: &[f64], tol: f64) {
        assert!(got.iter().zip(want).all(|(g, w)| (g - w).abs() < tol), "{got:?} against {want:?}");
    }

    #[test]
    fn sharing_by_stiffness() {
        // reference, sec. 4.2 (independent computation)
        close(&shares(&[(0.0, 0.4), (0.0, 0.6), (0.0, 0.9)], 0.0), &[0.4737, 0.3158, 0.2105], 1e-4);
        close(&shares(&[(0.0, 0.3), (0.0, 0.6)], 0.0), &[0.667, 0.333], 5e-4);
        let three = [(-30.0, 0.6), (0.0, 0.5), (30.0, 0.6)];
        close(&shares(&three, 0.0), &[0.3208, 0.4444, 0.3208], 1e-4);
        close(&shares(&three, 10.0), &[0.142, 0.438, 0.490], 1e-3);
        // two legs are statically determinate: lengths do not matter
        let (a, b) = leg_forces(Force::kn(1.0), Angle::deg(20.0), Angle::deg(40.0));
        close(&shares(&[(-20.0, 0.2), (40.0, 1.5)], 0.0), &[a.as_kn(), b.as_kn()], 1e-9);
        // pulled past one leg: that leg goes slack, the other holds what lies along it
        close(&shares(&[(-10.0, 0.5), (30.0, 0.5)], 50.0), &[0.0, 20f64.to_radians().cos()], 1e-9);
        let mut none = [Force::n(0.0); 1];
        let down = [Leg { angle: Angle::deg(180.0), length: Length::m(1.0) }];
        assert!(!share_by_stiffness(Force::kn(1.0), Angle::deg(0.0), &down, &mut none));
        assert!(!share_by_stiffness(Force::kn(1.0), Angle::deg(0.0), &down, &mut []));
    }

    #[test]
    fn pendulum_and_line() {
        let w = weight(Mass::kg(80.0));
        assert!((pendulum_tension(Mass::kg(80.0), Angle::deg(90.0)) / w - 3.0).abs() < 1e-12);
        assert!((pendulum_tension(Mass::kg(80.0), Angle::deg(60.0)) / w - 2.0).abs() < 1e-12);
        let t = line_tension(Force::n(800.0), Length::m(20.0), Length::m(1.0));
        assert!((t.as_n() - 4019.95).abs() < 0.01);
        // measured line of 41 m, walker of 57 kg, 3.1 kN: sag 1.85 m
        let s = line_sag(weight(Mass::kg(57.0)), Length::m(41.0), Force::kn(3.1)).unwrap();
        assert!((s.as_m() / 1.85 - 1.0).abs() < 0.01, "{s:?}");
        assert!(line_sag(Force::kn(1.0), Length::m(10.0), Force::kn(0.5)).is_none());
    }

    proptest! {
        #[test]
        fn legs_balance_the_load(a1 in 1.0..80.0f64, a2 in 1.0..80.0f64) {
            let (f1, f2) = leg_forces(Force::kn(5.0), Angle::deg(a1), Angle::deg(a2));
            let (r1, r2) = (a1.to_radians(), a2.to_radians());
            prop_assert!((f1.as_kn() * r1.cos() + f2.as_kn() * r2.cos() - 5.0).abs() < 1e-9);
            prop_assert!((f1.as_kn() * r1.sin() - f2.as_kn() * r2.sin()).abs() < 1e-9);
        }
        #[test]
        fn sag_round_trip(span in 5.0..200.0f64, sag in 0.1..10.0f64) {
            let t = line_tension(Force::n(700.0), Length::m(span), Length::m(sag));
            let back = line_sag(Force::n(700.0), Length::m(span), t).unwrap().as_m();
            prop_assert!((back / sag - 1.0).abs() < 1e-6);
        }
    }
}
