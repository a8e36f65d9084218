//! What pulls of sister fittings say about the ones that were not pulled.

use reckoning::normal;

/// One pull of a sister fitting, compared with what was judged for it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SisterPull {
    /// ln(load / judged median).
    pub ln_ratio: f64,
    /// Scatter of one fitting about what sisters have in common (standard deviation of ln), > 0.
    pub sd_ln: f64,
    /// True where the load held or something else gave way: the resistance is at least the load.
    pub held: bool,
}

/// A hidden setting defect: share of fittings that have one, and what these hold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DefectShare {
    /// Share, 0..1.
    pub share: f64,
    /// Median of the ratio to a good fitting, (0, 1].
    pub ratio: f64,
    /// Standard deviation of its logarithm, >= 0.
    pub sd_ln: f64,
}

/// Median ratio that sister fittings share and the standard deviation of its logarithm, from their
/// pulls: partial pooling towards 1.
///
/// Model: `ln ratio_i = b + e_i`, `b ~ N(0, prior_sd^2)` shared, `e_i ~ N(0, sd_i^2)`; with the defect's
/// share the fitting was a bad one and its ratio lower. A pull that held counts with the probability of
/// being stronger than its load (right-censored). Posterior of `b` by the midpoint rule over 4 prior
/// standard deviations to either side.
///
/// Values that are not finite are left out; without pulls the answer is `(1, prior_sd)`. Source: normal
/// hierarchical model with known variances and censoring, e.g. Gelman et al., Bayesian Data Analysis,
/// ch. 5 (from memory); for exact pulls without defects the closed form of normal-normal pooling, which
/// the tests check.
pub fn sister_ratio(pulls: &[SisterPull], prior_sd: f64, defect: Option<DefectShare>) -> (f64, f64) {
    const STEPS: i32 = 200;
    let usable: Vec<&SisterPull> =
        pulls.iter().filter(|p| p.ln_ratio.is_finite() && p.sd_ln.is_finite() && p.sd_ln > 0.0).collect();
    if usable.is_empty() || prior_sd.is_nan() || prior_sd <= 0.0 {
        return (1.0, prior_sd.max(0.0));
    }
    let likelihood = |pull: &SisterPull, b: f64| {
        let of = |centre: f64, sd: f64| {
            let z = (pull.ln_ratio - centre) / sd;
            if pull.held { normal::cdf(-z) } else { normal::pdf(z) / sd }
        };
        match defect {
            None => of(b, pull.sd_ln),
            Some(d) => {
                (1.0 - d.share) * of(b, pull.sd_ln)
                    + d.share * of(b + d.ratio.ln(), pull.sd_ln.hypot(d.sd_ln))
            }
        }
    };
    let log_weights: Vec<(f64, f64)> = (0..STEPS)
        .map(|i| {
            let b = prior_sd * (8.0 * (f64::from(i) + 0.5) / f64::from(STEPS) - 4.0);
            let z = b / prior_sd;
            let shown: f64 = usable.iter().map(|p| likelihood(p, b).max(f64::MIN_POSITIVE).ln()).sum();
            (b, shown - 0.5 * z * z)
        })
        .collect();
    let top = log_weights.iter().map(|(_, w)| *w).fold(f64::NEG_INFINITY, f64::max);
    let (mut total, mut first, mut second) = (0.0, 0.0, 0.0);
    for (b, log_weight) in &log_weights {
        let weight = (log_weight - top).exp();
        total += weight;
        first += weight * b;
        second += weight * b * b;
    }
    let mean = first / total;
    (mean.exp(), (second / total - mean * mean).max(0.0).sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn pull(ratio: f64, sd_ln: f64, held: bool) -> SisterPull {
        SisterPull { ln_ratio: ratio.ln(), sd_ln, held }
    }

    #[test]
    fn exact_pulls_follow_the_closed_form() {
        // posterior precision = 1/prior^2 + n/sd^2, mean = its inverse times sum(y)/sd^2
        let pulls = [0.7, 0.9, 0.6, 1.1].map(|r| pull(r, 0.3, false));
        let (ratio, sd) = sister_ratio(&pulls, 0.35, None);
        let precision = 1.0 / 0.35_f64.powi(2) + 4.0 / 0.3_f64.powi(2);
        let mean = pulls.iter().map(|p| p.ln_ratio).sum::<f64>() / 0.3_f64.powi(2) / precision;
        assert!((ratio.ln() - mean).abs() < 1e-3, "{} against {mean}", ratio.ln());
        assert!((sd - precision.sqrt().recip()).abs() < 1e-3, "{sd}");
    }

    #[test]
    fn without_pulls_nothing_is_learnt() {
        assert_eq!(sister_ratio(&[], 0.35, None), (1.0, 0.35));
        assert_eq!(sister_ratio(&[pull(f64::NAN, 0.3, false)], 0.35, None), (1.0, 0.35));
    }

    #[test]
    fn a_low_held_load_says_little_and_a_high_one_much() {
        let (low, _) = sister_ratio(&[pull(0.2, 0.3, true)], 0.35, None);
        let (high, _) = sister_ratio(&[pull(1.5, 0.3, true)], 0.35, None);
        assert!((low - 1.0).abs() < 0.01, "{low}");
        assert!(high > 1.15, "{high}");
    }

    #[test]
    fn one_bad_setting_does_not_condemn_its_sisters() {
        let mut pulls = vec![pull(1.0, 0.2, false); 6];
        pulls.push(pull(0.2, 0.2, false));
        let defect = DefectShare { share: 0.04, ratio: 0.3, sd_ln: 0.7 };
        let (with, _) = sister_ratio(&pulls, 0.35, Some(defect));
        let (without, _) = sister_ratio(&pulls, 0.35, None);
        assert!(with > 0.95 && without < 0.85, "{with} and {without}");
    }

    proptest! {
        #[test]
        fn more_strength_never_lowers_the_ratio(
            ln in proptest::collection::vec((-2.0..2.0_f64, 0.1..0.8_f64, any::<bool>()), 1..12),
            prior in 0.05..0.6_f64,
            lift in 0.0..0.5_f64,
        ) {
            let pulls: Vec<SisterPull> =
                ln.iter().map(|&(ln_ratio, sd_ln, held)| SisterPull { ln_ratio, sd_ln, held }).collect();
            let lifted: Vec<SisterPull> =
                pulls.iter().map(|p| SisterPull { ln_ratio: p.ln_ratio + lift, ..*p }).collect();
            let (a, sd) = sister_ratio(&pulls, prior, None);
            let (b, _) = sister_ratio(&lifted, prior, None);
            prop_assert!(b >= a - 1e-9);
            prop_assert!(sd <= prior * 1.01);
        }
    }
}
