//! The greatest load of many loadings.

use crate::Demand;
use reckoning::{Uncertain, normal};
use units::{Force, Ratio};

/// Probability that the greatest of a Poisson number of loadings stays at or below a load:
/// `P = exp(-lambda (1 - G))`.
///
/// * `loadings` lambda: expected number, >= 0 (for t years: lambda t)
/// * `below` G: probability that one loading stays at or below the load, 0..1
///
/// Needs no asymptotics. Source: Poisson process with independent loadings (textbook).
pub fn greatest_below(loadings: f64, below: f64) -> f64 {
    (-loadings.max(0.0) * (1.0 - below)).exp()
}

/// Probability that one loading stays at or below `load`, the log-normal truncated at the ceiling:
/// `G(x) = Phi(ln(x / median) / s) / Phi(ln(ceiling / median) / s)`, 1 from the ceiling on.
/// Source: judgement, because physics bounds the force (device slip, fall factor 2, stiffest rope).
pub fn per_fall_cdf(d: &Demand, load: Force) -> f64 {
    if load.as_n() >= d.ceiling.as_n() {
        return 1.0;
    }
    (d.per_fall.cdf(load) / d.per_fall.cdf(d.ceiling).max(f64::MIN_POSITIVE)).min(1.0)
}

/// Expectation of exp(-lambda u) and of its derivative's size, over the uncertain lambda.
fn laplace(lambda: &Uncertain<Ratio>, u: f64) -> (f64, f64) {
    let m = lambda.median.get().max(0.0);
    if lambda.sd_ln == 0.0 {
        let e = (-m * u).exp();
        return (e, m * e);
    }
    normal::HERMITE_7.iter().fold((0.0, 0.0), |(p, dp), &(z, w)| {
        let l = m * (lambda.sd_ln * z).exp();
        let e = w * (-l * u).exp();
        (p + e, dp + l * e)
    })
}

/// Probability that no loading of a year exceeds `load`:
/// `P = E[exp(-lambda (1 - G(load)))]`, lambda log-normal (seven-point Gauss-Hermite rule), G by
/// [`per_fall_cdf`]. At load 0 this is the chance of a year without any loading. Source: reference
/// equation of [`greatest_below`].
pub fn worst_year_cdf(d: &Demand, load: Force) -> f64 {
    laplace(&d.falls_per_year, 1.0 - per_fall_cdf(d, load)).0
}

/// The load that the greatest loading of a year stays below with probability `p` (0 < p < 1); the
/// inverse of [`worst_year_cdf`]. Zero where a year without any loading is at least that likely; the
/// ceiling at p >= 1.
pub fn worst_year_fractile(d: &Demand, p: f64) -> Force {
    worst_year_fractiles(d, [p])[0]
}

/// [`worst_year_fractile`] for several probabilities, which must not rise: each starts from the one
/// before.
pub fn worst_year_fractiles<const N: usize>(d: &Demand, falling: [f64; N]) -> [Force; N] {
    let below_ceiling = d.per_fall.cdf(d.ceiling);
    let no_loading = laplace(&d.falls_per_year, 1.0).0;
    let mut u = 1e-9;
    falling.map(|p| {
        if p >= 1.0 {
            return d.ceiling;
        }
        if p.is_nan() || p <= no_loading {
            return Force::n(0.0);
        }
        // Newton on ln(-ln E[exp(-lambda u)]) over ln u, a straight line if lambda is exact; a step of
        // 1e-3 leaves an error of its square
        let want = -p.ln();
        for _ in 0..60 {
            let (q, slope) = laplace(&d.falls_per_year, u);
            let have = -q.ln();
            let step = (want / have).ln() * have * q / (u * slope);
            u *= step.clamp(-3.0, 30.0).exp();
            if step.abs() < 1e-3 {
                break;
            }
        }
        let g = (1.0 - u).clamp(0.0, 1.0) * below_ceiling;
        let z = normal::quick_quantile(g);
        Force::n(d.per_fall.median.as_n() * (d.per_fall.sd_ln * z).exp()).min(d.ceiling)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use units::Angle;

    fn demand(median_kn: f64, sd_ln: f64, lambda: f64, lambda_sd: f64) -> Demand {
        Demand {
            per_fall: Uncertain::new(Force::kn(median_kn), sd_ln),
            ceiling: Force::kn(1e6),
            falls_per_year: Uncertain::new(Ratio::of(lambda), lambda_sd),
            hard_fall: Force::kn(5.0),
            direction: Angle::deg(85.0),
            direction_spread: Angle::deg(5.0),
        }
    }

    /// Log-normal of median 2.5 kN and coefficient of variation 0.40.
    fn worked() -> f64 {
        (1.0f64 + 0.16).ln().sqrt()
    }

    #[test]
    fn worked_example_of_the_reference() {
        // reference, sec. 5.3 (independent computation)
        let d = demand(2.5, worked(), 50.0, 0.0);
        assert!((d.per_fall.fractile(0.99).as_kn() - 6.126).abs() < 2e-3);
        for (x, want, tol) in [(6.0, 0.438, 5e-4), (8.0, 0.0614, 5e-4), (12.0, 0.00117, 2e-5)] {
            let p = 1.0 - worst_year_cdf(&d, Force::kn(x));
            assert!((p - want).abs() < tol, "{x}: {p}");
        }
        // greatest of exactly n falls, n = 10, 50, 100, 1000: median and 95 % (exact columns)
        for (n, median, p95) in
            [(10, 4.454, 6.723), (50, 5.844, 8.198), (100, 6.455, 8.857), (1000, 8.569, 11.165)]
        {
            let at = |p: f64| d.per_fall.fractile(p.powf(1.0 / f64::from(n))).as_kn();
            assert!((at(0.5) - median).abs() < 3e-3 && (at(0.95) - p95).abs() < 3e-3, "{n}");
        }
    }

    #[test]
    fn uncertain_rate_agrees_with_fine_integration() {
        for (sd, tol) in [(0.9, 5e-3), (1.8, 2e-2), (2.1, 3e-2)] {
            let d = demand(3.0, 0.4, 10.0, sd);
            for x in [2.0, 3.0, 4.0, 6.0, 8.0] {
                let u = 1.0 - d.per_fall.cdf(Force::kn(x));
                let n = 4000;
                let fine: f64 = (0..n)
                    .map(|i| {
                        let z = normal::quantile((f64::from(i) + 0.5) / f64::from(n));
                        (-10.0 * (sd * z).exp() * u).exp() / f64::from(n)
                    })
                    .sum();
                let fast = worst_year_cdf(&d, Force::kn(x));
                assert!((fast - fine).abs() < tol, "{sd} {x}: {fast} {fine}");
            }
        }
    }

    proptest! {
        #[test]
        fn fractile_inverts_the_distribution(
            m in 1.0..6.0f64, s in 0.05..0.9f64, lambda in 0.01..1000.0f64, ls in 0.0..2.0f64,
            c in 1.2..6.0f64, p in 0.001..0.999f64,
        ) {
            let mut d = demand(m, s, lambda, ls);
            d.ceiling = Force::kn(m * c);
            let x = worst_year_fractile(&d, p);
            prop_assert!(x.as_n() <= d.ceiling.as_n());
            let back = worst_year_cdf(&d, x);
            if x.as_n() > 0.0 {
                prop_assert!((back - p).abs() < 1e-6, "{back} {p}");
            } else {
                prop_assert!(worst_year_cdf(&d, Force::n(0.0)) >= p - 1e-9);
            }
        }
        #[test]
        fn grows_with_the_load(m in 1.0..6.0f64, s in 0.05..0.9f64, lambda in 0.01..1000.0f64, x in 0.0..20.0f64) {
            let d = demand(m, s, lambda, 0.8);
            let (a, b) = (worst_year_cdf(&d, Force::kn(x)), worst_year_cdf(&d, Force::kn(x + 0.5)));
            prop_assert!((0.0..=1.0 + 1e-12).contains(&a) && b >= a - 1e-12);
        }
    }
}
