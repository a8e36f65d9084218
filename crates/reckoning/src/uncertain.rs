//! A positive quantity known as a log-normal distribution.

use crate::normal;
use serde::{Deserialize, Serialize};
use units::Quantity;

/// A positive quantity with log-normal uncertainty.
///
/// `median` carries the unit of `Q`; `sd_ln` is the standard deviation of the natural logarithm
/// (dimensionless, >= 0). `sd_ln = 0` is an exact value. For small scatter `sd_ln` is close to the
/// coefficient of variation. Source: definition of the log-normal distribution, e.g. JCSS
/// Probabilistic Model Code, part 1 (from memory).
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Uncertain<Q> {
    /// The value exceeded half of the time.
    pub median: Q,
    /// Standard deviation of ln(value).
    pub sd_ln: f64,
}

impl<Q: Quantity> Uncertain<Q> {
    /// A median with its logarithmic standard deviation.
    pub const fn new(median: Q, sd_ln: f64) -> Self {
        Self { median, sd_ln }
    }

    /// A value taken as exact.
    pub const fn exact(value: Q) -> Self {
        Self { median: value, sd_ln: 0.0 }
    }

    /// From an arithmetic mean and a coefficient of variation (both > 0):
    /// `s = sqrt(ln(1 + V^2))`, `median = mean / exp(s^2 / 2)`.
    pub fn from_mean_cov(mean: Q, cov: f64) -> Self {
        let s2 = (1.0 + cov * cov).ln();
        Self { median: Q::from_si(mean.si() / (s2 / 2.0).exp()), sd_ln: s2.sqrt() }
    }

    /// The value below which a share `p` (0 < p < 1) of the distribution lies.
    pub fn fractile(&self, p: f64) -> Q {
        Q::from_si(self.median.si() * (self.sd_ln * normal::quantile(p)).exp())
    }

    /// Probability that the quantity is at most `x`; 0 for `x <= 0`.
    pub fn cdf(&self, x: Q) -> f64 {
        let x = x.si();
        if x <= 0.0 {
            return 0.0;
        }
        if self.sd_ln == 0.0 {
            return if x >= self.median.si() { 1.0 } else { 0.0 };
        }
        normal::cdf((x / self.median.si()).ln() / self.sd_ln)
    }

    /// The arithmetic mean, `median * exp(sd_ln^2 / 2)`.
    pub fn mean(&self) -> Q {
        Q::from_si(self.median.si() * (self.sd_ln * self.sd_ln / 2.0).exp())
    }

    /// The quantity times an independent uncertain factor: medians multiply, variances of the
    /// logarithm add.
    pub fn times(&self, factor: f64, factor_sd_ln: f64) -> Self {
        Self { median: Q::from_si(self.median.si() * factor), sd_ln: self.sd_ln.hypot(factor_sd_ln) }
    }
}
