//! Weibull distribution with loads that held.

use super::sample::positive;
use super::{StatisticsError, between_0_and_1, bisect};

/// A Weibull distribution, `P(X <= x) = 1 - exp(-(x / scale)^shape)`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weibull {
    /// Shape, dimensionless.
    pub shape: f64,
    /// Scale, in the unit of the loads.
    pub scale: f64,
    /// Logarithm of the likelihood at the fit.
    pub ln_likelihood: f64,
}

impl Weibull {
    /// Load below which a share `p` (0 < p < 1) of the population fails.
    pub fn fractile(&self, p: f64) -> f64 {
        self.scale * (-(-p).ln_1p()).powf(1.0 / self.shape)
    }

    /// Mean, `scale Gamma(1 + 1/shape)`.
    pub fn mean(&self) -> f64 {
        self.scale * libm::tgamma(1.0 + 1.0 / self.shape)
    }

    /// Standard deviation, `scale sqrt(Gamma(1 + 2/shape) - Gamma(1 + 1/shape)^2)`.
    pub fn sd(&self) -> f64 {
        let first = libm::tgamma(1.0 + 1.0 / self.shape);
        self.scale * (libm::tgamma(1.0 + 2.0 / self.shape) - first * first).max(0.0).sqrt()
    }
}

/// Maximum likelihood fit to loads at which pulls failed and loads that others held (right-censored).
///
/// The shape b solves `sum x^b ln x / sum x^b - 1/b - mean of ln x over failures = 0` (sums over all
/// loads), which rises with b and has one root; then `scale = (sum x^b / failures)^(1/b)`. Loads are scaled
/// by the greatest first. With few failures the shape comes out too high. Beyond the greatest load tested
/// the fit is extrapolation. Errors: fewer than two failures, all failures equal and nothing held higher,
/// a load not above zero, a shape outside 0.02..500. Source: NIST/SEMATECH e-Handbook 8.4.1.3 and the
/// likelihood of censored data.
pub fn fit_weibull(failed: &[f64], held: &[f64]) -> Result<Weibull, StatisticsError> {
    positive(failed)?;
    positive(held)?;
    if failed.len() < 2 {
        return Err(StatisticsError::TooFew { have: failed.len(), need: 2 });
    }
    if failed.iter().all(|x| *x == failed[0]) {
        return Err(StatisticsError::NoScatter);
    }
    let all = || failed.iter().chain(held);
    let greatest = all().copied().fold(0.0, f64::max);
    let failures = failed.len() as f64;
    let mean_ln = failed.iter().map(|x| (x / greatest).ln()).sum::<f64>() / failures;
    let profile = |b: f64| {
        let (top, bottom) = all().fold((0.0, 0.0), |(top, bottom), x| {
            let ln = (x / greatest).ln();
            let power = (b * ln).exp();
            (top + power * ln, bottom + power)
        });
        top / bottom - 1.0 / b - mean_ln
    };
    let shape = bisect(0.02, 500.0, profile).ok_or(StatisticsError::NoSolution)?;
    let sum: f64 = all().map(|x| (x / greatest).powf(shape)).sum();
    let scale = greatest * (sum / failures).powf(1.0 / shape);
    let ln_likelihood =
        failed.iter().map(|x| shape.ln() - scale.ln() + (shape - 1.0) * (x / scale).ln()).sum::<f64>()
            - all().map(|x| (x / scale).powf(shape)).sum::<f64>();
    if !(scale.is_finite() && ln_likelihood.is_finite()) {
        return Err(StatisticsError::NoSolution);
    }
    Ok(Weibull { shape, scale, ln_likelihood })
}

/// Lower bound of the Weibull scale when every load held, for a shape taken as known:
/// `(sum x^shape / -ln alpha)^(1/shape)`, with confidence 1 - alpha.
///
/// Errors: no loads, a load not above zero, alpha outside 0..1, shape not above 0. Source: likelihood of
/// censored data with no failure ("Weibayes", from memory); the shape is judgement.
pub fn weibull_scale_bound(held: &[f64], shape: f64, alpha: f64) -> Result<f64, StatisticsError> {
    positive(held)?;
    if held.is_empty() {
        return Err(StatisticsError::TooFew { have: 0, need: 1 });
    }
    if !(shape > 0.0 && shape < 500.0) {
        return Err(StatisticsError::OutOfRange {
            name: "the shape",
            value: shape,
            range: "between 0 and 500",
        });
    }
    let alpha = between_0_and_1("the risk of error", alpha)?;
    let greatest = held.iter().copied().fold(0.0, f64::max);
    let sum: f64 = held.iter().map(|x| (x / greatest).powf(shape)).sum();
    Ok(greatest * (sum / -alpha.ln()).powf(1.0 / shape))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn what_cannot_be_fitted_is_refused() {
        assert_eq!(fit_weibull(&[10.0], &[15.0; 9]), Err(StatisticsError::TooFew { have: 1, need: 2 }));
        assert_eq!(fit_weibull(&[10.0; 3], &[]), Err(StatisticsError::NoScatter));
        assert!(matches!(fit_weibull(&[10.0, -1.0], &[]), Err(StatisticsError::BadValue { place: 2, .. })));
        assert!(weibull_scale_bound(&[], 5.0, 0.05).is_err());
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]
        #[test]
        fn the_fit_is_a_maximum_and_scales_with_the_unit(
            failed in proptest::collection::vec(2.0..40.0_f64, 3..20),
            held in proptest::collection::vec(2.0..40.0_f64, 0..20),
            unit in 0.01..100.0_f64,
        ) {
            let fit = fit_weibull(&failed, &held).unwrap();
            let likelihood = |shape: f64, scale: f64| {
                failed.iter().map(|x| shape.ln() - scale.ln() + (shape - 1.0) * (x / scale).ln()).sum::<f64>()
                    - failed.iter().chain(&held).map(|x| (x / scale).powf(shape)).sum::<f64>()
            };
            for (a, b) in [(1.02, 1.0), (0.98, 1.0), (1.0, 1.02), (1.0, 0.98)] {
                prop_assert!(likelihood(fit.shape * a, fit.scale * b) <= fit.ln_likelihood + 1e-9);
            }
            let times = |v: &[f64]| v.iter().map(|x| x * unit).collect::<Vec<_>>();
            let other = fit_weibull(&times(&failed), &times(&held)).unwrap();
            prop_assert!((other.shape / fit.shape - 1.0).abs() < 1e-6);
            prop_assert!((other.scale / (fit.scale * unit) - 1.0).abs() < 1e-6);
        }
    }
}
