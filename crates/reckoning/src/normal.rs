//! The standard normal distribution, accurate and fast.

use std::sync::OnceLock;

/// Probability that a standard normal variable is at most `z`. Relative accuracy about 1e-15
/// (complementary error function of the `libm` crate). NaN in, NaN out.
pub fn cdf(z: f64) -> f64 {
    0.5 * libm::erfc(-z / std::f64::consts::SQRT_2)
}

/// Density of the standard normal distribution at `z`.
pub fn pdf(z: f64) -> f64 {
    (-0.5 * z * z).exp() / (2.0 * std::f64::consts::PI).sqrt()
}

/// The `z` with `cdf(z) = p`, for 0 < p < 1; infinities at the ends, NaN outside.
///
/// [`quick_quantile`], then one Halley step on [`cdf`]; checked against statrs in the tests.
pub fn quantile(p: f64) -> f64 {
    let z = quick_quantile(p);
    if !z.is_finite() {
        return z;
    }
    let e = if z > 0.0 { -(cdf(-z) - (1.0 - p)) } else { cdf(z) - p };
    let u = e / pdf(z);
    z - u / (1.0 + z * u / 2.0)
}

/// [`quantile`] with a relative error up to 1.2e-9, for hot loops. Rational function after P. J. Acklam
/// (2003, coefficients from memory).
pub fn quick_quantile(p: f64) -> f64 {
    if !(0.0..=1.0).contains(&p) {
        return f64::NAN;
    }
    if p == 0.0 {
        return f64::NEG_INFINITY;
    }
    if p == 1.0 {
        return f64::INFINITY;
    }
    const A: [f64; 6] = [
        -3.969_683_028_665_376e1,
        2.209_460_984_245_205e2,
        -2.759_285_104_469_687e2,
        1.383_577_518_672_69e2,
        -3.066_479_806_614_716e1,
        2.506_628_277_459_239,
    ];
    const B: [f64; 5] = [
        -5.447_609_879_822_406e1,
        1.615_858_368_580_409e2,
        -1.556_989_798_598_866e2,
        6.680_131_188_771_972e1,
        -1.328_068_155_288_572e1,
    ];
    const C: [f64; 6] = [
        -7.784_894_002_430_293e-3,
        -3.223_964_580_411_365e-1,
        -2.400_758_277_161_838,
        -2.549_732_539_343_734,
        4.374_664_141_464_968,
        2.938_163_982_698_783,
    ];
    const D: [f64; 4] =
        [7.784_695_709_041_462e-3, 3.224_671_290_700_398e-1, 2.445_134_137_142_996, 3.754_408_661_907_416];
    let tail = |q: f64| {
        (((((C[0] * q + C[1]) * q + C[2]) * q + C[3]) * q + C[4]) * q + C[5])
            / ((((D[0] * q + D[1]) * q + D[2]) * q + D[3]) * q + 1.0)
    };
    if p < 0.02425 {
        tail((-2.0 * p.ln()).sqrt())
    } else if p > 1.0 - 0.02425 {
        -tail((-2.0 * (1.0 - p).ln()).sqrt())
    } else {
        let q = p - 0.5;
        let r = q * q;
        (((((A[0] * r + A[1]) * r + A[2]) * r + A[3]) * r + A[4]) * r + A[5]) * q
            / (((((B[0] * r + B[1]) * r + B[2]) * r + B[3]) * r + B[4]) * r + 1.0)
    }
}

/// Nodes and weights for the expectation of a function of a standard normal variable, seven-point
/// Gauss-Hermite rule (probabilists' form; weights add to 1). Exact for polynomials up to degree 13.
/// Source: Abramowitz & Stegun, table 25.10, rescaled by sqrt 2 and 1/sqrt pi (from memory; the tests
/// check the moments).
pub const HERMITE_7: [(f64, f64); 7] = [
    (-3.750_439_717_725_742_6, 5.482_688_559_722_18e-4),
    (-2.366_759_410_734_541, 3.075_712_396_758_651e-2),
    (-1.154_405_394_739_968_1, 2.401_231_786_050_126_6e-1),
    (0.0, 4.571_428_571_428_571_5e-1),
    (1.154_405_394_739_968_1, 2.401_231_786_050_126_6e-1),
    (2.366_759_410_734_541, 3.075_712_396_758_651e-2),
    (3.750_439_717_725_742_6, 5.482_688_559_722_18e-4),
];

/// A table of the normal distribution function for hot loops, absolute error below 1e-9.
///
/// Cubic Hermite interpolation between exact values of [`cdf`] and [`pdf`] at steps of 1/64 from -8
/// to 8; 0 and 1 outside (there the true value is within 7e-16 of them).
#[derive(Debug)]
pub struct Table {
    /// Polynomial of each step, constant term first.
    pieces: Vec<[f64; 4]>,
}

impl Table {
    const STEPS_PER_UNIT: f64 = 64.0;
    const REACH: f64 = 8.0;

    /// The one table, made at first use.
    pub fn get() -> &'static Table {
        static TABLE: OnceLock<Table> = OnceLock::new();
        TABLE.get_or_init(|| {
            let count = (2.0 * Self::REACH * Self::STEPS_PER_UNIT) as usize;
            let node = |i: usize| {
                let z = i as f64 / Self::STEPS_PER_UNIT - Self::REACH;
                (cdf(z), pdf(z) / Self::STEPS_PER_UNIT)
            };
            let piece = |i: usize| {
                let ((p0, m0), (p1, m1)) = (node(i), node(i + 1));
                let rise = p1 - p0;
                [p0, m0, 3.0 * rise - 2.0 * m0 - m1, m0 + m1 - 2.0 * rise]
            };
            Table { pieces: (0..count).map(piece).collect() }
        })
    }

    /// Probability that a standard normal variable is at most `z`; NaN counts as minus infinity.
    #[inline]
    pub fn cdf(&self, z: f64) -> f64 {
        let at = (z + Self::REACH) * Self::STEPS_PER_UNIT;
        if at.is_nan() || at <= 0.0 {
            return 0.0;
        }
        let index = at as usize;
        let Some([a, b, c, d]) = self.pieces.get(index) else { return 1.0 };
        let t = at - index as f64;
        a + t * (b + t * (c + t * d))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use statrs::distribution::{Continuous, ContinuousCDF, Normal};

    #[test]
    fn agrees_with_a_general_library() {
        let n = Normal::new(0.0, 1.0).unwrap();
        for i in -80..=80 {
            let z = f64::from(i) / 10.0;
            // statrs 0.19 is good to about 1e-10 here; the exact digits are checked below
            assert!((cdf(z) - n.cdf(z)).abs() <= 2e-10, "cdf at {z}: {} against {}", cdf(z), n.cdf(z));
            assert!((pdf(z) - n.pdf(z)).abs() < 1e-14, "pdf at {z}");
        }
        for p in [1e-9, 1e-4, 0.01, 0.05, 0.25, 0.5, 0.75, 0.95, 0.999, 1.0 - 1e-9] {
            assert!((quantile(p) - n.inverse_cdf(p)).abs() < 1e-6, "quantile at {p}");
            assert!((cdf(quantile(p)) / p - 1.0).abs() < 1e-12, "round trip at {p}");
            assert!((quick_quantile(p) - quantile(p)).abs() <= 1.2e-9 * quantile(p).abs().max(1.0), "at {p}");
        }
    }

    #[test]
    fn agrees_with_handbook_digits() {
        // Abramowitz & Stegun, table 26.1 (from memory)
        for (z, p) in
            [(0.5, 0.691_462_461_274_013), (1.0, 0.841_344_746_068_543), (2.0, 0.977_249_868_051_821)]
        {
            assert!((cdf(z) - p).abs() < 1e-14, "cdf at {z}: {}", cdf(z));
        }
    }

    #[test]
    fn table_agrees_with_the_exact_function() {
        let table = Table::get();
        for i in -9000..=9000 {
            let z = f64::from(i) / 1000.0 + 1.0 / 3000.0;
            assert!((table.cdf(z) - cdf(z)).abs() < 1e-9, "at {z}");
        }
        assert_eq!(table.cdf(f64::NAN), 0.0);
        assert_eq!(table.cdf(f64::INFINITY), 1.0);
        assert_eq!(table.cdf(f64::NEG_INFINITY), 0.0);
    }

    #[test]
    fn hermite_rule_reproduces_normal_moments() {
        let moment = |k: i32| HERMITE_7.iter().map(|(x, w)| w * x.powi(k)).sum::<f64>();
        for (k, want) in [(0, 1.0), (1, 0.0), (2, 1.0), (4, 3.0), (6, 15.0), (8, 105.0), (12, 10395.0)] {
            assert!((moment(k) - want).abs() < 1e-9 * want.max(1.0), "moment {k}: {}", moment(k));
        }
    }
}
