//! The channel frequency class filter.

use serde::{Deserialize, Serialize};

/// Channel frequency class of SAE J211 / ISO 6487. The number is not the cut-off: run both ways the
/// filter is 3 dB down at about 1.67 times the class in Hz.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Cfc {
    /// Falls on rope.
    Cfc60,
    /// Between the two.
    Cfc180,
    /// Shocks of metal on metal.
    Cfc600,
    /// Widest.
    Cfc1000,
}

impl Cfc {
    /// The class as a number.
    pub const fn number(self) -> f64 {
        match self {
            Self::Cfc60 => 60.0,
            Self::Cfc180 => 180.0,
            Self::Cfc600 => 600.0,
            Self::Cfc1000 => 1000.0,
        }
    }
}

/// Coefficients of the two-pole low-pass `y[i] = a0 x[i] + a1 x[i-1] + a2 x[i-2] + b1 y[i-1] + b2 y[i-2]`.
#[derive(Clone, Copy, Debug, PartialEq)]
#[allow(missing_docs)]
pub struct Coefficients {
    pub a0: f64,
    pub a1: f64,
    pub a2: f64,
    pub b1: f64,
    pub b2: f64,
}

impl Coefficients {
    /// For a class and a sampling step in s, or `None` where the sampling is too slow: the rate must be
    /// at least ten times the class.
    ///
    /// `wa = tan(pi CFC 2.0775 dt)`, `q = 1 + sqrt2 wa + wa^2`, `a0 = a2 = wa^2/q`, `a1 = 2 a0`,
    /// `b1 = -2 (wa^2 - 1)/q`, `b2 = (-1 + sqrt2 wa - wa^2)/q`. Source: SAE J211-1, appendix C (constants from
    /// memory; equal to a general library's Butterworth filter at 2.0775 CFC).
    pub fn new(class: Cfc, step_s: f64) -> Option<Self> {
        // a hair of slack, so that a rate of exactly ten times the class counts
        if !(step_s > 0.0 && step_s * 10.0 * class.number() <= 1.0 + 1e-6) {
            return None;
        }
        let root2 = std::f64::consts::SQRT_2;
        let wa = (std::f64::consts::PI * class.number() * 2.0775 * step_s).tan();
        let q = 1.0 + root2 * wa + wa * wa;
        let a0 = wa * wa / q;
        Some(Self {
            a0,
            a1: 2.0 * a0,
            a2: a0,
            b1: -2.0 * (wa * wa - 1.0) / q,
            b2: (-1.0 + root2 * wa - wa * wa) / q,
        })
    }

    /// Runs the filter forward and backward, so that nothing is shifted in time. `values` must be evenly
    /// spaced. Both ends are continued by their point reflection over `padding` values (fewer where the
    /// list is shorter), and the filter starts in the steady state of the first value.
    pub fn forward_backward(&self, values: &[f64], padding: usize) -> Vec<f64> {
        let n = values.len();
        if n < 2 {
            return values.to_vec();
        }
        let pad = padding.min(n - 1);
        let (first, last) = (values[0], values[n - 1]);
        let mut row = Vec::with_capacity(n + 2 * pad);
        row.extend((1..=pad).rev().map(|i| 2.0 * first - values[i]));
        row.extend_from_slice(values);
        row.extend((1..=pad).map(|i| 2.0 * last - values[n - 1 - i]));
        self.pass(&mut row);
        row.reverse();
        self.pass(&mut row);
        row.reverse();
        row[pad..pad + n].to_vec()
    }

    fn pass(&self, row: &mut [f64]) {
        let start = row[0];
        let (mut x1, mut x2, mut y1, mut y2) = (start, start, start, start);
        for value in row {
            let x = *value;
            let y = self.a0 * x + self.a1 * x1 + self.a2 * x2 + self.b1 * y1 + self.b2 * y2;
            (x2, x1, y2, y1) = (x1, x, y1, y);
            *value = y;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn slow_sampling_has_no_filter() {
        assert!(Coefficients::new(Cfc::Cfc60, 1.0 / 600.0).is_some());
        assert!(Coefficients::new(Cfc::Cfc60, 1.0 / 500.0).is_none());
        assert!(Coefficients::new(Cfc::Cfc1000, f64::NAN).is_none());
    }

    #[test]
    fn gain_at_the_class_is_nearly_one_and_half_at_the_corner() {
        // run both ways: -0.454 dB at 60 Hz, -6.021 dB at 2.0775 x 60 Hz, CFC 60, 10 kHz (general library)
        let c = Coefficients::new(Cfc::Cfc60, 1e-4).unwrap();
        for (hz, db) in [(60.0, -0.454), (60.0 * 2.0775, -6.021)] {
            let wave: Vec<f64> =
                (0..40_000).map(|i| (2.0 * std::f64::consts::PI * hz * f64::from(i) * 1e-4).sin()).collect();
            let out = c.forward_backward(&wave, 1000);
            let top = out[10_000..30_000].iter().fold(0.0_f64, |g, v| g.max(*v));
            assert!((20.0 * top.log10() - db).abs() < 0.002, "{hz} Hz: {}", 20.0 * top.log10());
        }
    }

    proptest! {
        #[test]
        fn keeps_straight_lines_and_is_linear(
            values in proptest::collection::vec(-1e4..1e4_f64, 2..200),
            level in -1e4..1e4_f64,
            slope in -10.0..10.0_f64,
        ) {
            let c = Coefficients::new(Cfc::Cfc180, 1e-4).unwrap();
            let flat = c.forward_backward(&vec![level; values.len()], 50);
            prop_assert!(flat.iter().all(|v| (v - level).abs() < 1e-6 * (1.0 + level.abs())));
            let shifted: Vec<f64> = values.iter().map(|v| slope * v + level).collect();
            let (a, b) = (c.forward_backward(&values, 50), c.forward_backward(&shifted, 50));
            for (x, y) in a.iter().zip(&b) {
                prop_assert!((slope * x + level - y).abs() < 1e-6 * (1.0 + level.abs() + 1e4 * slope.abs()));
            }
        }
    }
}
