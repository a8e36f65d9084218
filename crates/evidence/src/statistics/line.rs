//! A straight line through points.

use super::StatisticsError;

/// A least-squares line `y = intercept + slope x`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// Value at x = 0.
    pub intercept: f64,
    /// Rise per unit of x.
    pub slope: f64,
    /// Standard deviation of the residuals, divisor n - 2 (0 for two points).
    pub residual_sd: f64,
    /// Share of the variance of y that the line explains, 0..1; 1 for a level line through level points.
    pub r_squared: f64,
}

/// Least-squares line through points. Sums are taken about the means.
///
/// Errors: lists of unequal length or fewer than two points, a number that is not finite, all x equal.
/// Source: NIST/SEMATECH e-Handbook, linear least squares; checked against the StRD set Norris.
pub fn fit_line(x: &[f64], y: &[f64]) -> Result<Line, StatisticsError> {
    let n = x.len().min(y.len());
    if n < 2 || x.len() != y.len() {
        return Err(StatisticsError::TooFew { have: n, need: x.len().max(y.len()).max(2) });
    }
    for list in [x, y] {
        if let Some(place) = list.iter().position(|v| !v.is_finite()) {
            return Err(StatisticsError::BadValue { place: place + 1, value: list[place] });
        }
    }
    let size = n as f64;
    let (mx, my) = (x.iter().sum::<f64>() / size, y.iter().sum::<f64>() / size);
    let (mut sxx, mut sxy, mut syy) = (0.0, 0.0, 0.0);
    for (a, b) in x.iter().zip(y) {
        sxx += (a - mx) * (a - mx);
        sxy += (a - mx) * (b - my);
        syy += (b - my) * (b - my);
    }
    if sxx <= 0.0 {
        return Err(StatisticsError::NoScatter);
    }
    let slope = sxy / sxx;
    let intercept = my - slope * mx;
    let rest: f64 = x.iter().zip(y).map(|(a, b)| (b - my - slope * (a - mx)).powi(2)).sum();
    let residual_sd = if n > 2 { (rest / (size - 2.0)).sqrt() } else { 0.0 };
    let r_squared = if syy > 0.0 { (1.0 - rest / syy).clamp(0.0, 1.0) } else { 1.0 };
    Ok(Line { intercept, slope, residual_sd, r_squared })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bad_points_are_refused() {
        assert!(fit_line(&[1.0], &[1.0]).is_err());
        assert!(fit_line(&[1.0, 2.0], &[1.0]).is_err());
        assert_eq!(fit_line(&[1.0, 1.0], &[1.0, 2.0]), Err(StatisticsError::NoScatter));
        assert!(fit_line(&[1.0, f64::INFINITY], &[1.0, 2.0]).is_err());
        let level = fit_line(&[1.0, 2.0, 3.0], &[5.0; 3]).unwrap();
        assert_eq!((level.slope, level.r_squared), (0.0, 1.0));
    }
}
