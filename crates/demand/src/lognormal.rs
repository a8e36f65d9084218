//! Small algebra of log-normal forces: the smaller of two, a weighted mixture.

use reckoning::normal;

/// Mean and variance of the logarithm of a force in newtons.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct LnForce {
    pub mean: f64,
    pub var: f64,
}

impl LnForce {
    /// The smaller of two independent log-normal forces, by the exact first two moments of the minimum
    /// of two normal variables. Source: C. E. Clark, Operations Research 9 (1961) 145 (from memory; the
    /// tests check it by simulation).
    pub fn min(self, other: Self) -> Self {
        let theta = (self.var + other.var).sqrt();
        let gap = other.mean - self.mean;
        if gap > 6.0 * theta {
            return self;
        }
        if theta == 0.0 {
            return if gap >= 0.0 { self } else { other };
        }
        let a = gap / theta;
        let (share, phi) = (normal::cdf(a), normal::pdf(a));
        // shift by self.mean so that squares of small numbers are added
        let first = gap * (1.0 - share) - theta * phi;
        let second = self.var * share + (gap * gap + other.var) * (1.0 - share) - gap * theta * phi;
        Self { mean: self.mean + first, var: (second - first * first).max(0.0) }
    }
}

/// Collects weighted log-normal parts into the log-normal with the same mean and variance of the
/// logarithm.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Pool {
    weight: f64,
    first: f64,
    second: f64,
}

impl Pool {
    pub fn add(&mut self, weight: f64, part: LnForce) {
        // 8 = ln(3 kN): keeps the squares small
        let m = part.mean - 8.0;
        self.weight += weight;
        self.first += weight * m;
        self.second += weight * (part.var + m * m);
    }

    pub fn pooled(&self) -> LnForce {
        let m = self.first / self.weight;
        LnForce { mean: m + 8.0, var: (self.second / self.weight - m * m).max(0.0) }
    }
}

/// ln of the force that a mixture stays below with probability `p`. Weights need not add to 1.
/// Safeguarded Newton; about ten steps.
pub(crate) fn mixture_fractile(parts: &[(f64, LnForce)], p: f64) -> f64 {
    let total: f64 = parts.iter().map(|(w, _)| w).sum();
    let z = normal::quantile(p);
    let ends = parts.iter().filter(|(w, _)| *w > 0.0).map(|(_, f)| f.mean + z * f.var.sqrt());
    let (mut lo, mut hi) = ends.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), x| (l.min(x), h.max(x)));
    let mut x = 0.5 * (lo + hi);
    for _ in 0..50 {
        let (mut g, mut slope) = (-p, 0.0);
        for (w, f) in parts {
            let s = f.var.sqrt().max(1e-9);
            let t = (x - f.mean) / s;
            g += w / total * normal::cdf(t);
            slope += w / total * normal::pdf(t) / s;
        }
        if g > 0.0 {
            hi = x
        } else {
            lo = x
        }
        let newton = x - g / slope;
        let next = if newton > lo && newton < hi { newton } else { 0.5 * (lo + hi) };
        if (next - x).abs() < 1e-7 {
            return next;
        }
        x = next;
    }
    x
}

#[cfg(test)]
mod tests {
    use super::*;
    use rand::SeedableRng;
    use rand_distr::{Distribution, StandardNormal};

    #[test]
    fn smaller_of_two_agrees_with_simulation() {
        let mut rng = rand_chacha::ChaCha8Rng::seed_from_u64(7);
        for (m1, v1, m2, v2) in [(8.0, 0.1, 8.3, 0.09), (8.0, 0.2, 7.5, 0.05), (8.0, 0.1, 9.5, 0.1)] {
            let n = 200_000;
            let (mut s, mut q) = (0.0, 0.0);
            for _ in 0..n {
                let z1: f64 = StandardNormal.sample(&mut rng);
                let z2: f64 = StandardNormal.sample(&mut rng);
                let x = (m1 + f64::sqrt(v1) * z1).min(m2 + f64::sqrt(v2) * z2) - 8.0;
                s += x;
                q += x * x;
            }
            let mean = s / f64::from(n);
            let var = q / f64::from(n) - mean * mean;
            let got = LnForce { mean: m1, var: v1 }.min(LnForce { mean: m2, var: v2 });
            assert!((got.mean - 8.0 - mean).abs() < 4e-3, "{got:?} {mean}");
            assert!((got.var / var - 1.0).abs() < 0.02, "{got:?} {var}");
        }
    }

    #[test]
    fn fractile_of_a_mixture() {
        let one = LnForce { mean: 8.0, var: 0.09 };
        let x = mixture_fractile(&[(3.0, one)], 0.95);
        assert!((x - (8.0 + 0.3 * 1.644_853_626_951)).abs() < 1e-7);
        let parts = [(0.9, LnForce { mean: 7.2, var: 0.06 }), (0.1, LnForce { mean: 8.2, var: 0.1 })];
        for p in [0.05, 0.5, 0.95, 0.999] {
            let x = mixture_fractile(&parts, p);
            let g: f64 = parts.iter().map(|(w, f)| w * normal::cdf((x - f.mean) / f.var.sqrt())).sum();
            assert!((g - p).abs() < 1e-6, "{p}: {g}");
        }
    }
}
