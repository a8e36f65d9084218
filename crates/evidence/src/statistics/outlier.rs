//! Values that stand apart.

use super::{Sample, StatisticsError, between_0_and_1, t_quantile};

/// On which side a value may stand apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Above or below.
    Either,
    /// Below the others.
    Low,
    /// Above the others.
    High,
}

/// The value farthest from the mean, and whether it stands apart. Nothing is ever dropped: a low pull
/// stays in unless a physical cause is found for it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Suspect {
    /// Place in the list, from 0.
    pub place: usize,
    /// Its distance from the mean in standard deviations.
    pub distance: f64,
    /// The distance that chance alone exceeds with probability alpha.
    pub critical: f64,
    /// True where it lies below the mean.
    pub low: bool,
}

impl Suspect {
    /// True where the distance is greater than chance allows.
    pub fn stands_apart(&self) -> bool {
        self.distance > self.critical
    }
}

/// Critical distance of Grubbs' test for `n` normal values:
/// `(n - 1)/sqrt n sqrt(t^2 / (n - 2 + t^2))`, t the Student quantile with n - 2 degrees of freedom at
/// `1 - alpha/n` (one side) or `1 - alpha/(2n)` (either side).
///
/// Errors: n < 3, alpha outside 0..1. Source: Grubbs 1969; NIST/SEMATECH e-Handbook 1.3.5.17.1 (from memory).
pub fn grubbs_critical(n: usize, alpha: f64, side: Side) -> Result<f64, StatisticsError> {
    if n < 3 {
        return Err(StatisticsError::TooFew { have: n, need: 3 });
    }
    let alpha = between_0_and_1("the risk of error", alpha)?;
    let size = n as f64;
    let ways = if side == Side::Either { 2.0 * size } else { size };
    let t = t_quantile(1.0 - alpha / ways, size - 2.0);
    let value = (size - 1.0) / size.sqrt() * (t * t / (size - 2.0 + t * t)).sqrt();
    if value.is_finite() { Ok(value) } else { Err(StatisticsError::NoSolution) }
}

/// Grubbs' test for one value that stands apart from a normal sample (hand in logarithms for loads).
///
/// Errors: fewer than three values, no scatter, a value that is not finite, alpha outside 0..1.
/// Source: as [`grubbs_critical`].
pub fn grubbs(values: &[f64], alpha: f64, side: Side) -> Result<Suspect, StatisticsError> {
    let critical = grubbs_critical(values.len(), alpha, side)?;
    let sample = Sample::new(values)?;
    if sample.sd <= 0.0 {
        return Err(StatisticsError::NoScatter);
    }
    let distance = |v: f64| match side {
        Side::Either => (v - sample.mean).abs(),
        Side::Low => sample.mean - v,
        Side::High => v - sample.mean,
    };
    let mut place = 0;
    for (i, v) in values.iter().enumerate() {
        if distance(*v) > distance(values[place]) {
            place = i;
        }
    }
    let low = values[place] < sample.mean;
    Ok(Suspect { place, distance: distance(values[place]) / sample.sd, critical, low })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn points_at_the_value_and_keeps_the_list() {
        let pulls = [24.1, 27.3, 22.8, 29.5, 25.6, 4.0];
        let s = grubbs(&pulls, 0.05, Side::Low).unwrap();
        assert!(s.place == 5 && s.low && s.stands_apart());
        assert!(!grubbs(&pulls, 0.05, Side::High).unwrap().stands_apart());
        assert_eq!(grubbs(&[3.0; 5], 0.05, Side::Either), Err(StatisticsError::NoScatter));
        assert!(grubbs(&[1.0, 2.0], 0.05, Side::Either).is_err());
    }
}
