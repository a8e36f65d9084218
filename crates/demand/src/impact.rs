//! Energy model of a roped fall: what the rope's stretch must take up.

use units::{Force, Length, Mass, Ratio};

/// Acceleration of fall used throughout, m/s2. Source: rounded standard gravity; 9.80665 shifts forces
/// by less than 0.04 %.
pub const GRAVITY: f64 = 9.81;

/// Fall factor of the standard rope test, 4.6 m of fall on 2.6 m of rope.
///
/// Printed sources give 1.75 to 1.78 and recall of EN 892 gives 1.714; the choice moves the rope
/// modulus by +3 / -1 % and the force at fall factor 0.3 by less than 1.5 %.
pub const STANDARD_FALL_FACTOR: f64 = 1.77;

/// Weight `W = m g` of a mass. Unit: N.
pub fn weight(mass: Mass) -> Force {
    Force::n(mass.as_kg() * GRAVITY)
}

/// Peak tension in the rope on the climber's side, fixed belay, no friction, linear rope:
///
/// `F = W + sqrt(W^2 + 2 W K f)`, `W = m g`.
///
/// * `mass` m: climber, rigid, kg
/// * `modulus` K: rope tension per unit strain, N
/// * `fall_factor` f: free fall over rope in play, 0..2 in ordinary roped climbing
///
/// At f = 0 (rope just taut) F = 2 W. Negative K or f count as 0. Depends on f only, not on the length
/// of the fall. Source: Wexler, "The Theory of Belaying", American Alpine Journal 1950 (energy treatment).
pub fn impact_force(mass: Mass, modulus: Force, fall_factor: Ratio) -> Force {
    let w = weight(mass).as_n();
    let kf = modulus.as_n().max(0.0) * fall_factor.get().max(0.0);
    Force::n(w + (w * w + 2.0 * w * kf).sqrt())
}

/// Rope modulus from the rated impact force, the inverse of [`impact_force`]:
///
/// `K = F0 (F0 - 2 W0) / (2 W0 f0)`
///
/// * `rating` F0: impact force printed for the rope, N; at least 2 W0
/// * `test_mass` m0: 80 kg for single, 55 kg for half ropes (EN 892)
/// * `fall_factor` f0 > 0: of the standard test, [`STANDARD_FALL_FACTOR`]
///
/// `None` where F0 < 2 W0 or f0 <= 0: no linear rope gives that. Source: equation (1) solved for K.
pub fn modulus_from_rating(rating: Force, test_mass: Mass, fall_factor: Ratio) -> Option<Force> {
    let (f0, w0, ff) = (rating.as_n(), weight(test_mass).as_n(), fall_factor.get());
    (f0 >= 2.0 * w0 && w0 > 0.0 && ff > 0.0).then(|| Force::n(f0 * (f0 - 2.0 * w0) / (2.0 * w0 * ff)))
}

/// Strain of the rope at the peak, `x / L = F / K`. Dimensionless. Same model as [`impact_force`].
pub fn peak_strain(peak: Force, modulus: Force) -> Ratio {
    Ratio::of(peak / modulus)
}

/// Time from taut rope to peak tension, seconds:
///
/// `t = (pi - atan2(B, A)) / w0`, `w0 = sqrt(K / (L m))`, `A = W L / K`, `B = sqrt(2 g h) / w0`.
///
/// * `free_fall` h and `rope` L in m, both > 0; `mass` m in kg; `modulus` K in N.
///
/// Source: undamped mass on a spring.
pub fn time_to_peak(mass: Mass, modulus: Force, rope: Length, free_fall: Length) -> f64 {
    let (m, k, l) = (mass.as_kg(), modulus.as_n(), rope.as_m());
    let w0 = (k / (l * m)).sqrt();
    let a = m * GRAVITY * l / k;
    let b = (2.0 * GRAVITY * free_fall.as_m().max(0.0)).sqrt() / w0;
    (std::f64::consts::PI - b.atan2(a)) / w0
}

/// Fall factor of a leader `above` the last placement with `slack`, on a rope `rope_to_belay` long from
/// that placement to the belay: `f = (2 a + s) / (a + s + H)`. Lengths in m, >= 0; 0 for no rope at all.
/// Source: geometry.
pub fn fall_factor(above: Length, slack: Length, rope_to_belay: Length) -> Ratio {
    let (a, s, h) = (above.as_m().max(0.0), slack.as_m().max(0.0), rope_to_belay.as_m().max(0.0));
    let rope = a + s + h;
    Ratio::of(if rope > 0.0 { (2.0 * a + s) / rope } else { 0.0 })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn k85() -> Force {
        modulus_from_rating(Force::kn(8.5), Mass::kg(80.0), Ratio::of(STANDARD_FALL_FACTOR)).unwrap()
    }

    #[test]
    fn limit_of_a_taut_rope_is_twice_the_weight() {
        // encyclopedia article on the fall factor: 2 m g at f = 0
        let f = impact_force(Mass::kg(80.0), k85(), Ratio::of(0.0));
        assert!((f.as_n() - 1569.6).abs() < 0.1, "{f:?}");
    }

    #[test]
    fn rating_comes_back_from_its_modulus() {
        // independent computation of the reference table, sec. 1.1
        assert!((k85().as_n() - 21_204.0).abs() < 1.0);
        let f = |ff| impact_force(Mass::kg(80.0), k85(), Ratio::of(ff)).as_n();
        for (ff, want) in
            [(0.1, 2771.0), (0.3, 4041.0), (0.5, 4939.0), (1.0, 6607.0), (1.77, 8500.0), (2.0, 8981.1)]
        {
            assert!((f(ff) - want).abs() < 0.6, "f {ff}: {}", f(ff));
        }
        let strain = peak_strain(Force::kn(8.5), k85()).get();
        assert!((strain - 0.4009).abs() < 2e-4, "{strain}");
        let t = time_to_peak(Mass::kg(80.0), k85(), Length::m(2.6), Length::m(2.6 * STANDARD_FALL_FACTOR));
        assert!((t / 0.1657 - 1.0).abs() < 0.005, "{t}");
    }

    #[test]
    fn peak_time_and_force_agree_with_stepping_the_motion() {
        // the same mass and spring stepped through time: an independent way to the same peak
        let (m, k, l, h) = (80.0, k85().as_n(), 10.0, 4.0);
        let (mut x, mut v, mut t, dt) = (0.0, (2.0 * GRAVITY * h).sqrt(), 0.0, 1e-5);
        while v > 0.0 {
            v += dt * (GRAVITY - k * x / (l * m));
            x += dt * v;
            t += dt;
        }
        let f = impact_force(Mass::kg(m), k85(), Ratio::of(h / l)).as_n();
        assert!((k * x / l / f - 1.0).abs() < 1e-3);
        assert!((t / time_to_peak(Mass::kg(m), k85(), Length::m(l), Length::m(h)) - 1.0).abs() < 1e-3);
    }

    #[test]
    fn ratings_no_rope_can_have_are_refused() {
        assert!(modulus_from_rating(Force::kn(1.0), Mass::kg(80.0), Ratio::of(1.77)).is_none());
        assert!(modulus_from_rating(Force::kn(9.0), Mass::kg(80.0), Ratio::of(0.0)).is_none());
    }

    proptest! {
        #[test]
        fn inverse_and_monotone(f0 in 3.0..15.0f64, ff in 0.05..2.0f64, m in 40.0..130.0f64) {
            prop_assume!(f0 * 1e3 > 2.0 * m * GRAVITY);
            let k = modulus_from_rating(Force::kn(f0), Mass::kg(m), Ratio::of(ff)).unwrap();
            let back = impact_force(Mass::kg(m), k, Ratio::of(ff)).as_kn();
            prop_assert!((back / f0 - 1.0).abs() < 1e-9);
            prop_assert!(impact_force(Mass::kg(m * 1.1), k, Ratio::of(ff)).as_kn() > back);
            prop_assert!(impact_force(Mass::kg(m), k, Ratio::of(ff * 1.1)).as_kn() >= back);
        }
        #[test]
        fn fall_factor_stays_within_nought_and_two(a in 0.0..30.0f64, s in 0.0..5.0f64, h in 0.0..60.0f64) {
            let f = fall_factor(Length::m(a), Length::m(s), Length::m(h)).get();
            prop_assert!((0.0..=2.0).contains(&f));
        }
    }
}
