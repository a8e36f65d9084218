//! Repeatable chance.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

const SEED: u64 = 0x5A11_0171_D6E0;

/// A stream of chance. Each part of the scenario draws from a stream of its own, so that a change to one
/// part leaves the others as they were.
pub(crate) struct Dice(ChaCha8Rng);

impl Dice {
    pub(crate) fn stream(number: u64) -> Self {
        let mut rng = ChaCha8Rng::seed_from_u64(SEED);
        rng.set_stream(number);
        Self(rng)
    }

    /// Uniform in [0, 1).
    pub(crate) fn unit(&mut self) -> f64 {
        (self.0.next_u64() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// Uniform in [low, high).
    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    /// Whole number in low..=high.
    pub(crate) fn whole(&mut self, low: i64, high: i64) -> i64 {
        low + (self.unit() * (high - low + 1) as f64) as i64
    }

    pub(crate) fn chance(&mut self, probability: f64) -> bool {
        self.unit() < probability
    }

    /// Standard normal (Box and Muller 1958).
    pub(crate) fn normal(&mut self) -> f64 {
        let radius = (-2.0 * libm::log(1.0 - self.unit())).sqrt();
        radius * libm::cos(core::f64::consts::TAU * self.unit())
    }

    /// Log-normal with the given median and standard deviation of the logarithm.
    pub(crate) fn around(&mut self, median: f64, sd_ln: f64) -> f64 {
        median * libm::exp(sd_ln * self.normal())
    }

    pub(crate) fn pick<T: Copy>(&mut self, from: &[T]) -> T {
        from[((self.unit() * from.len() as f64) as usize).min(from.len() - 1)]
    }

    /// One of the things, each as often as its weight says.
    pub(crate) fn weighted<T: Copy>(&mut self, from: &[(f64, T)]) -> T {
        let mut left = self.unit() * from.iter().map(|(weight, _)| weight).sum::<f64>();
        for &(weight, thing) in from {
            left -= weight;
            if left < 0.0 {
                return thing;
            }
        }
        from[from.len() - 1].1
    }

    pub(crate) fn shuffle<T>(&mut self, things: &mut [T]) {
        for last in (1..things.len()).rev() {
            things.swap(last, self.whole(0, last as i64) as usize);
        }
    }
}
