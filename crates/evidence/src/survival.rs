//! What a load that held says about the resistance.

use reckoning::{Uncertain, normal};
use units::{Force, Quantity};

/// Survived service loads counted at most, however many there were: they came from the same few people
/// and conditions, and nobody measured them. Source: judgement.
pub const MOST_SURVIVALS: f64 = 10.0;

/// A resistance of which it is known that it held a proof load, without damage: the log-normal prior cut
/// off below the load, `f(r | R > q) = f(r) / (1 - F(q))` for r > q.
///
/// Valid at the time of the test and in its direction. Source: Bayes' rule; Melchers & Beck, Structural
/// Reliability Analysis and Prediction, on proof loading (from memory).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Held {
    prior: Uncertain<Force>,
    /// Proof load in standard deviations of ln R above the median; minus infinity for no load.
    cut: f64,
}

impl Held {
    /// A prior and the load that held. A load of zero or less, or a prior without scatter, changes nothing.
    pub fn new(prior: Uncertain<Force>, proof: Force) -> Self {
        let ratio = proof.si() / prior.median.si();
        let cut = if ratio > 0.0 && prior.sd_ln > 0.0 { ratio.ln() / prior.sd_ln } else { f64::NEG_INFINITY };
        Self { prior, cut }
    }

    /// Probability that the test would have broken the placement, as judged before it.
    pub fn chance_of_breaking(&self) -> f64 {
        normal::cdf(self.cut)
    }

    /// Probability that the resistance is at most `x`, now that the load held.
    pub fn cdf(&self, x: Force) -> f64 {
        if self.cut == f64::NEG_INFINITY {
            return self.prior.cdf(x);
        }
        let z = (x.si() / self.prior.median.si()).ln() / self.prior.sd_ln;
        if z.is_nan() || z <= self.cut {
            return 0.0;
        }
        let above = |z: f64| normal::cdf(-z);
        let left = above(self.cut);
        if left > 0.0 { ((left - above(z)) / left).clamp(0.0, 1.0) } else { 1.0 }
    }

    /// Log-normal with the same mean and scatter of ln R, for models that need one: with
    /// `h = phi(a) / (1 - Phi(a))` and a the cut, `mean = mu + sd h`, `variance = sd^2 (1 + a h - h^2)`.
    ///
    /// Leaves a little mass below the proof load; use [`Held::cdf`] where that matters. Source: moments of
    /// the truncated normal distribution.
    pub fn as_log_normal(&self) -> Uncertain<Force> {
        if self.cut == f64::NEG_INFINITY {
            return self.prior;
        }
        let a = self.cut;
        let left = normal::cdf(-a);
        // far out in the tail the ratio tends to a + 1/a
        let hazard = if left > 1e-290 { normal::pdf(a) / left } else { a + 1.0 / a };
        let variance = (1.0 + a * hazard - hazard * hazard).clamp(0.0, 1.0);
        let sd = self.prior.sd_ln;
        Uncertain::new(self.prior.median * (sd * hazard).exp(), sd * variance.sqrt())
    }

    /// Probability that a load exceeds the resistance, now that the proof load held.
    ///
    /// `load_exceeds(x)` is the probability that the load is above x. Integral over the cut distribution
    /// of ln R by Simpson's rule; relative error about 1e-9 for smooth loads.
    pub fn chance_to_fail(&self, load_exceeds: impl Fn(Force) -> f64) -> f64 {
        let at = |z: f64| self.prior.median * (self.prior.sd_ln * z).exp();
        if self.prior.sd_ln <= 0.0 {
            return load_exceeds(self.prior.median).clamp(0.0, 1.0);
        }
        over_normal_above(self.cut, |z| load_exceeds(at(z))).clamp(0.0, 1.0)
    }
}

/// Probability that a load exceeds a resistance; `load_exceeds(x)` is the probability that the load is
/// above x. `p = integral f_R(r) P(S > r) dr`, Simpson's rule over ln R.
///
/// Source: basic reliability integral, JCSS Probabilistic Model Code, part 1 (from memory).
pub fn chance_to_fail(resistance: Uncertain<Force>, load_exceeds: impl Fn(Force) -> f64) -> f64 {
    Held { prior: resistance, cut: f64::NEG_INFINITY }.chance_to_fail(load_exceeds)
}

/// Probability that the next service load breaks a placement that survived `survived` loads of the same
/// kind: `1 - A(n + 1) / A(n)`, `A(n) = integral f_R(r) F_S(r)^n dr`.
///
/// n is cut to [`MOST_SURVIVALS`] unless `counted_in_full` (for checks against the formula). `load_below(x)`
/// is the probability that a load is at most x. Valid only if the resistance has not fallen since.
/// Source: Bayes' rule, as for the proof load; cap judgement.
pub fn chance_to_fail_after_survivals(
    resistance: Uncertain<Force>,
    load_below: impl Fn(Force) -> f64,
    survived: f64,
    counted_in_full: bool,
) -> f64 {
    let n = if counted_in_full { survived.max(0.0) } else { survived.clamp(0.0, MOST_SURVIVALS) };
    let at = |z: f64| resistance.median * (resistance.sd_ln * z).exp();
    let a = |n: f64| over_normal_above(f64::NEG_INFINITY, |z| load_below(at(z)).clamp(0.0, 1.0).powf(n));
    let before = a(n);
    if before > 0.0 { (1.0 - a(n + 1.0) / before).clamp(0.0, 1.0) } else { 1.0 }
}

/// Mean of `f` over a standard normal variable of which it is known that it lies above `cut`.
///
/// Simpson's rule with 2000 intervals for both the integral of f and the mass itself, weights relative to
/// the density at the cut so that nothing underflows far out.
fn over_normal_above(cut: f64, f: impl Fn(f64) -> f64) -> f64 {
    const INTERVALS: usize = 2000;
    let low = cut.max(-9.0);
    let high = if low < 0.0 { 9.0 } else { low + 9.0 / (1.0 + 0.25 * low) };
    let step = (high - low) / INTERVALS as f64;
    let base = if low > 0.0 { low * low } else { 0.0 };
    let (mut top, mut mass) = (0.0, 0.0);
    for i in 0..=INTERVALS {
        let z = low + i as f64 * step;
        let simpson = if i == 0 || i == INTERVALS {
            1.0
        } else if i % 2 == 1 {
            4.0
        } else {
            2.0
        };
        let weight = simpson * (-0.5 * (z * z - base)).exp();
        top += weight * f(z);
        mass += weight;
    }
    top / mass
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn kn(x: f64) -> Force {
        Force::kn(x)
    }

    #[test]
    fn two_log_normals_agree_with_the_closed_form() {
        // beta = (ln of the ratio of medians) / root of the sum of variances
        let r = Uncertain::from_mean_cov(kn(25.0), 0.15);
        let s = Uncertain::from_mean_cov(kn(9.0), 0.25);
        let beta = (r.median / s.median).ln() / r.sd_ln.hypot(s.sd_ln);
        let p = chance_to_fail(r, |x| 1.0 - s.cdf(x));
        assert!((p / normal::cdf(-beta) - 1.0).abs() < 1e-7, "{p}");
    }

    #[test]
    fn a_proof_load_of_nothing_changes_nothing() {
        let r = Uncertain::new(kn(20.0), 0.3);
        let held = Held::new(r, kn(0.0));
        assert_eq!(held.as_log_normal(), r);
        assert_eq!(held.chance_of_breaking(), 0.0);
        assert_eq!(held.cdf(kn(18.0)), r.cdf(kn(18.0)));
        assert_eq!(Held::new(Uncertain::exact(kn(20.0)), kn(5.0)).as_log_normal().sd_ln, 0.0);
    }

    #[test]
    fn far_out_proofs_stay_finite() {
        // a proof load far above what was thought possible
        let r = Uncertain::new(kn(1.0), 0.05);
        let held = Held::new(r, kn(20.0));
        let after = held.as_log_normal();
        assert!(after.median >= kn(20.0 * 0.999) && after.median < kn(21.0), "{after:?}");
        let p = held.chance_to_fail(|x| if x < kn(19.0) { 1.0 } else { 0.0 });
        assert_eq!(p, 0.0);
    }

    proptest! {
        #[test]
        fn a_greater_proof_never_lowers_the_resistance(
            median in 2.0..50.0_f64,
            sd in 0.05..0.9_f64,
            q in 0.5..40.0_f64,
            more in 0.1..10.0_f64,
        ) {
            let r = Uncertain::new(kn(median), sd);
            let (a, b) = (Held::new(r, kn(q)), Held::new(r, kn(q + more)));
            prop_assert!(a.as_log_normal().median.si() <= b.as_log_normal().median.si() * (1.0 + 1e-9));
            prop_assert!(r.median.si() <= a.as_log_normal().median.si() * (1.0 + 1e-12));
            prop_assert!(a.as_log_normal().sd_ln <= sd * (1.0 + 1e-12));
            for x in [1.0, 5.0, 12.0, 30.0, 80.0] {
                prop_assert!(b.cdf(kn(x)) <= a.cdf(kn(x)) + 1e-12);
                prop_assert!(a.cdf(kn(x)) <= r.cdf(kn(x)) + 1e-12);
            }
            prop_assert_eq!(a.cdf(kn(q)), 0.0);
        }
    }
}
