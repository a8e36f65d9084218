//! How the scatter of one input spreads to the resistance.

/// Where the outer nodes of the rule lie, in standard deviations.
pub(crate) const ROOT_3: f64 = 1.732_050_807_568_877_2;

/// Variance of ln R from one input by the three-point Gauss-Hermite rule: nodes at the median and at
/// +-sqrt(3) standard deviations, weights 2/3 and 1/6; exact for a quadratic, and it sees caps and
/// plateaus that a slope at the median would miss.
pub(crate) fn three_point(plus: f64, minus: f64) -> f64 {
    let mean = (plus + minus) / 6.0;
    ((plus * plus + minus * minus) / 6.0 - mean * mean).max(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_for_a_line_and_a_parabola() {
        // X normal, sd 0.3: Var(2 X) = 4 * 0.09; Var(X^2) = 2 * 0.09^2
        let x = 0.3 * ROOT_3;
        assert!((three_point(2.0 * x, -2.0 * x) - 0.36).abs() < 1e-12);
        assert!((three_point(x * x, x * x) - 2.0 * 0.0081).abs() < 1e-12);
    }
}
