//! Mean and scatter of a sample.

use super::StatisticsError;

/// Size, mean and standard deviation of a list of numbers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sample {
    /// Number of values.
    pub n: usize,
    /// Arithmetic mean.
    pub mean: f64,
    /// Standard deviation with divisor n - 1; 0 for a single value.
    pub sd: f64,
}

impl Sample {
    /// Of finite numbers. Two passes, so that a small scatter about a large mean keeps its digits.
    /// Errors: an empty list, a value that is not finite.
    pub fn new(values: &[f64]) -> Result<Self, StatisticsError> {
        if values.is_empty() {
            return Err(StatisticsError::TooFew { have: 0, need: 1 });
        }
        if let Some(place) = values.iter().position(|v| !v.is_finite()) {
            return Err(StatisticsError::BadValue { place: place + 1, value: values[place] });
        }
        let n = values.len() as f64;
        let mean = values.iter().sum::<f64>() / n;
        let (squares, rest) =
            values.iter().fold((0.0, 0.0), |(s, r), v| (s + (v - mean) * (v - mean), r + (v - mean)));
        let sd =
            if values.len() < 2 { 0.0 } else { ((squares - rest * rest / n) / (n - 1.0)).max(0.0).sqrt() };
        Ok(Self { n: values.len(), mean: mean + rest / n, sd })
    }

    /// Of the logarithms of numbers above zero. Errors: as [`Sample::new`], and a value of zero or less.
    pub fn of_logarithms(values: &[f64]) -> Result<Self, StatisticsError> {
        positive(values)?;
        Self::new(&values.iter().map(|v| v.ln()).collect::<Vec<_>>())
    }
}

/// An error that names the first value that is not a finite number above zero.
pub(super) fn positive(values: &[f64]) -> Result<(), StatisticsError> {
    match values.iter().position(|v| !(v.is_finite() && *v > 0.0)) {
        Some(place) => Err(StatisticsError::BadValue { place: place + 1, value: values[place] }),
        None => Ok(()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keeps_digits_of_a_small_scatter() {
        // NIST StRD, univariate set NumAcc4: 10000000.2, then 1000 values alternating 10000000.1 and .3;
        // certified sd 0.1 exactly (from memory)
        let mut v = vec![10_000_000.2];
        for _ in 0..500 {
            v.extend([10_000_000.1, 10_000_000.3]);
        }
        let s = Sample::new(&v).unwrap();
        assert!((s.sd - 0.1).abs() < 1e-8, "{}", s.sd);
    }

    #[test]
    fn bad_values_are_named() {
        assert_eq!(Sample::new(&[]), Err(StatisticsError::TooFew { have: 0, need: 1 }));
        assert!(matches!(Sample::new(&[1.0, f64::NAN]), Err(StatisticsError::BadValue { place: 2, .. })));
        assert!(matches!(
            Sample::of_logarithms(&[1.0, 0.0]),
            Err(StatisticsError::BadValue { place: 2, .. })
        ));
    }
}
