//! The characteristic resistance of a group of pulls.

use super::sample::positive;
use super::{Sample, StatisticsError, between_0_and_1, noncentral_t_quantile, t_quantile};
use reckoning::normal;

/// One-sided tolerance factor `k`: with this confidence at least this share of the population lies above
/// `mean - k sd`, sample of `n` from a normal distribution, both mean and scatter unknown.
///
/// `k = t'(confidence; n - 1, z sqrt n) / sqrt n`, t' quantile of the noncentral t distribution, z normal
/// quantile of the share. Errors: n < 2, share or confidence outside 0..1. Source: NIST/SEMATECH
/// e-Handbook 7.2.6.3 (exact form; the handbook's own approximation is about 0.1 % higher at n = 43).
pub fn tolerance_factor(n: usize, share_above: f64, confidence: f64) -> Result<f64, StatisticsError> {
    if n < 2 {
        return Err(StatisticsError::TooFew { have: n, need: 2 });
    }
    let z = normal::quantile(between_0_and_1("the share", share_above)?);
    let root = (n as f64).sqrt();
    let t = noncentral_t_quantile(between_0_and_1("the confidence", confidence)?, n as f64 - 1.0, z * root);
    if t.is_finite() { Ok(t / root) } else { Err(StatisticsError::NoSolution) }
}

/// The same with the scatter of the population known: `k = z_share + z_confidence / sqrt n`.
///
/// Errors: n < 1, share or confidence outside 0..1. Source: as [`tolerance_factor`].
pub fn tolerance_factor_known(n: usize, share_above: f64, confidence: f64) -> Result<f64, StatisticsError> {
    if n < 1 {
        return Err(StatisticsError::TooFew { have: n, need: 1 });
    }
    let z = normal::quantile(between_0_and_1("the share", share_above)?);
    Ok(z + normal::quantile(between_0_and_1("the confidence", confidence)?) / (n as f64).sqrt())
}

/// Factor of EN 1990, annex D.7.2, for the 5 % fractile: the next value lies above `mean - k sd` with
/// 95 % probability. Not the same quantity as [`tolerance_factor`]: no confidence is attached.
///
/// Scatter unknown `k = t_0.95(n - 1) sqrt(1 + 1/n)`, n >= 2; known `k = 1.645 sqrt(1 + 1/n)`, n >= 1.
/// The printed table differs from the formula by up to 0.016 (from memory).
pub fn en1990_factor(n: usize, scatter_known: bool) -> Result<f64, StatisticsError> {
    let need = if scatter_known { 1 } else { 2 };
    if n < need {
        return Err(StatisticsError::TooFew { have: n, need });
    }
    let base = if scatter_known { normal::quantile(0.95) } else { t_quantile(0.95, n as f64 - 1.0) };
    Ok(base * (1.0 + 1.0 / n as f64).sqrt())
}

/// Which fractile is meant.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Rule {
    /// 5 % of the population lies below, with this confidence (0.75 in anchor assessment, 0.90 and 0.95
    /// elsewhere).
    Confidence(f64),
    /// The prediction of EN 1990, annex D.
    En1990,
}

/// Where the scatter comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Scatter {
    /// From the sample itself; at least 4 values (judgement: with 2 or 3 the factor says more than the
    /// values).
    Sample,
    /// Known beforehand as a coefficient of variation.
    Known(f64),
}

/// Family of distributions.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// Default for resistances; never below zero.
    LogNormal,
    /// For comparison with standards that use it. Can go below zero.
    Normal,
}

/// A characteristic value and how it was made.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Characteristic {
    /// The value, in the unit of the loads.
    pub value: f64,
    /// The factor k.
    pub factor: f64,
    /// Size, mean and scatter of the sample (of its logarithms for [`Shape::LogNormal`]).
    pub sample: Sample,
}

/// Characteristic value (5 % fractile) of loads above zero.
///
/// Log-normal: `exp(mean(ln x) - k s)`, s the sample's sd of ln x or `sqrt(ln(1 + V^2))`; normal:
/// `mean(x) - k s`, s the sample's sd or `V mean(x)`. Errors: too few values, a load that is not above
/// zero, V outside 0..2, confidence outside 0..1. Sources: EN 1990 D.7.2 (from memory); tolerance limits as
/// [`tolerance_factor`].
pub fn characteristic(
    loads: &[f64],
    shape: Shape,
    rule: Rule,
    scatter: Scatter,
) -> Result<Characteristic, StatisticsError> {
    const SHARE_ABOVE: f64 = 0.95;
    let need = match scatter {
        Scatter::Sample => 4,
        Scatter::Known(_) => 1,
    };
    if loads.len() < need {
        return Err(StatisticsError::TooFew { have: loads.len(), need });
    }
    positive(loads)?;
    let n = loads.len();
    let factor = match (rule, scatter) {
        (Rule::Confidence(c), Scatter::Sample) => tolerance_factor(n, SHARE_ABOVE, c)?,
        (Rule::Confidence(c), Scatter::Known(_)) => tolerance_factor_known(n, SHARE_ABOVE, c)?,
        (Rule::En1990, s) => en1990_factor(n, matches!(s, Scatter::Known(_)))?,
    };
    let known = |cov: f64| {
        if cov > 0.0 && cov < 2.0 {
            Ok(cov)
        } else {
            Err(StatisticsError::OutOfRange {
                name: "the known scatter",
                value: cov,
                range: "between 0 and 2",
            })
        }
    };
    let (value, sample) = match shape {
        Shape::LogNormal => {
            let sample = Sample::of_logarithms(loads)?;
            let sd = match scatter {
                Scatter::Sample => sample.sd,
                Scatter::Known(cov) => (1.0 + known(cov)?.powi(2)).ln().sqrt(),
            };
            ((sample.mean - factor * sd).exp(), sample)
        }
        Shape::Normal => {
            let sample = Sample::new(loads)?;
            let sd = match scatter {
                Scatter::Sample => sample.sd,
                Scatter::Known(cov) => known(cov)? * sample.mean,
            };
            (sample.mean - factor * sd, sample)
        }
    };
    Ok(Characteristic { value, factor, sample })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn factors_agree_with_a_general_library() {
        // scipy 1.17.1, nct.ppf(gamma, n - 1, z sqrt n) / sqrt n, share 0.95: confidences 0.75, 0.90, 0.95
        for (n, k75, k90, k95) in [
            (2, 5.1215, 13.0897, 26.2597),
            (3, 3.1518, 5.3115, 7.6559),
            (5, 2.4634, 3.3998, 4.2027),
            (10, 2.1037, 2.5684, 2.9110),
            (20, 1.9320, 2.2078, 2.3960),
            (50, 1.8109, 1.9653, 2.0650),
            (100, 1.7576, 1.8613, 1.9265),
        ] {
            for (confidence, want) in [(0.75, k75), (0.90, k90), (0.95, k95)] {
                let got = tolerance_factor(n, 0.95, confidence).unwrap();
                assert!((got - want).abs() < 6e-5, "n {n}, confidence {confidence}: {got} against {want}");
            }
        }
    }

    #[test]
    fn few_values_are_refused() {
        let rule = Rule::Confidence(0.75);
        let three = [20.0, 22.0, 24.0];
        let refused = characteristic(&three, Shape::LogNormal, rule, Scatter::Sample);
        assert_eq!(refused, Err(StatisticsError::TooFew { have: 3, need: 4 }));
        assert!(characteristic(&three[..1], Shape::LogNormal, rule, Scatter::Known(0.2)).is_ok());
        assert!(characteristic(&three, Shape::LogNormal, rule, Scatter::Known(f64::NAN)).is_err());
        assert!(characteristic(&[1.0, -2.0, 3.0, 4.0], Shape::Normal, rule, Scatter::Sample).is_err());
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(32))]
        #[test]
        fn scales_with_the_unit_and_stays_below_the_mean(
            loads in proptest::collection::vec(1.0..60.0_f64, 4..20),
            unit in 0.1..1000.0_f64,
        ) {
            let rule = Rule::Confidence(0.75);
            let a = characteristic(&loads, Shape::LogNormal, rule, Scatter::Sample).unwrap();
            let scaled: Vec<f64> = loads.iter().map(|x| x * unit).collect();
            let b = characteristic(&scaled, Shape::LogNormal, rule, Scatter::Sample).unwrap();
            prop_assert!((b.value / (a.value * unit) - 1.0).abs() < 1e-9);
            prop_assert!(a.value > 0.0 && a.value <= a.sample.mean.exp());
        }
    }
}
