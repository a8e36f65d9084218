//! What pulls of sister fittings say about a placement.

/// Pools the ratios of observed to judged resistance from pulls of sister fittings (same crag, rock and
/// kind) into one ratio: median and standard deviation of the logarithm of that median.
///
/// `ln_ratios` are logarithms of the ratios (not finite ones are left out); `within_sd` > 0 is the scatter
/// of ln(ratio) from one sister to the next, `prior_sd` > 0 how far the ratio of a whole group may stray
/// from 1. Normal-normal partial pooling: precision `1/prior^2 + n/within^2`, mean
/// `(sum ln_ratios / within^2) / precision`. Without pulls it gives (1, prior_sd); with many it tends to the
/// observed mean. The scatter of single placements comes on top. Where a scatter is not above zero the
/// other one decides alone: `within_sd` <= 0 takes the mean as exact, `prior_sd` <= 0 gives (1, 0).
///
/// Source: Gelman et al., Bayesian Data Analysis, normal model with known variance (from memory).
pub fn pooled_ratio(ln_ratios: &[f64], within_sd: f64, prior_sd: f64) -> (f64, f64) {
    let usable = || ln_ratios.iter().filter(|r| r.is_finite());
    let n = usable().count() as f64;
    let sum: f64 = usable().sum();
    // written so that NaN counts as "not above zero"
    let above_zero = |sd: f64| sd > 0.0;
    if !above_zero(prior_sd) {
        return (1.0, 0.0);
    }
    if n == 0.0 {
        return (1.0, prior_sd);
    }
    if !above_zero(within_sd) {
        return ((sum / n).exp(), 0.0);
    }
    let precision = prior_sd.powi(-2) + n * within_sd.powi(-2);
    ((sum * within_sd.powi(-2) / precision).exp(), precision.sqrt().recip())
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn limits() {
        assert_eq!(pooled_ratio(&[], 0.3, 0.4), (1.0, 0.4));
        assert_eq!(pooled_ratio(&[f64::NAN], 0.3, 0.4), (1.0, 0.4));
        // equal scatter, one pull: halfway, sd / sqrt 2
        let (median, sd) = pooled_ratio(&[0.5_f64.ln()], 0.4, 0.4);
        assert!((median - 0.5_f64.sqrt()).abs() < 1e-12 && (sd - 0.4 / 2.0_f64.sqrt()).abs() < 1e-12);
        let (median, sd) = pooled_ratio(&[0.7_f64.ln(); 1000], 0.3, 0.4);
        assert!((median - 0.7).abs() < 1e-3 && sd < 0.01);
    }

    proptest! {
        #[test]
        fn lies_between_one_and_the_mean_and_is_surer_than_the_prior(
            ln in proptest::collection::vec(-2.0..2.0_f64, 1..30),
            within in 0.05..1.0_f64,
            prior in 0.05..1.0_f64,
        ) {
            let (median, sd) = pooled_ratio(&ln, within, prior);
            let mean = (ln.iter().sum::<f64>() / ln.len() as f64).exp();
            prop_assert!(median >= mean.min(1.0) - 1e-12 && median <= mean.max(1.0) + 1e-12);
            prop_assert!(sd < prior);
        }
    }
}
