//! What a number of proof loads proves.

use super::{StatisticsError, between_0_and_1, bisect};

/// Bounds of the share of placements that would fail the proof load, when `failures` of `n` tested at
/// random failed. Each bound is wrong with probability `alpha` at most (for a two-sided interval halve it).
///
/// Clopper-Pearson: the upper bound p solves `P(X <= failures | n, p) = alpha`, the lower one
/// `P(X >= failures | n, p) = alpha`, X binomial; with no failure the upper one is `1 - alpha^(1/n)`.
/// Errors: n = 0, more failures than tests, alpha outside 0..1. Source: Clopper & Pearson 1934 (from memory).
pub fn proof_bounds(failures: u64, n: u64, alpha: f64) -> Result<(f64, f64), StatisticsError> {
    let alpha = between_0_and_1("the risk of error", alpha)?;
    if n == 0 {
        return Err(StatisticsError::TooFew { have: 0, need: 1 });
    }
    if failures > n {
        let range = "between 0 and the number of tests";
        return Err(StatisticsError::OutOfRange {
            name: "the number of failures",
            value: failures as f64,
            range,
        });
    }
    let lower = if failures == 0 {
        0.0
    } else {
        // P(X >= failures) rises with p
        bisect(0.0, 1.0, |p| 1.0 - binomial_at_most(failures - 1, n, p) - alpha)
            .ok_or(StatisticsError::NoSolution)?
    };
    let upper = if failures == n {
        1.0
    } else if failures == 0 {
        -libm::expm1(alpha.ln() / n as f64)
    } else {
        bisect(0.0, 1.0, |p| alpha - binomial_at_most(failures, n, p)).ok_or(StatisticsError::NoSolution)?
    };
    Ok((lower, upper))
}

/// How many proof loads must hold, none failing, to say with this confidence that at least this share
/// of the placements holds it: `ln(1 - confidence) / ln(share)`, rounded up.
///
/// Errors: share or confidence outside 0..1. Source: binomial distribution.
pub fn tests_needed(share_that_holds: f64, confidence: f64) -> Result<u64, StatisticsError> {
    let share = between_0_and_1("the share", share_that_holds)?;
    let confidence = between_0_and_1("the confidence", confidence)?;
    // a whole number that misses by rounding stays what it is
    Ok(((-confidence).ln_1p() / share.ln() - 1e-9).ceil().max(1.0) as u64)
}

/// Greatest number of bad placements among `all` of a crag that is still compatible with `tested` drawn
/// at random and none bad: the largest D with `C(all - D, tested) / C(all, tested) > alpha`.
///
/// Errors: tested = 0 or more than all, alpha outside 0..1. Source: hypergeometric distribution.
pub fn finite_crag_bad(all: u64, tested: u64, alpha: f64) -> Result<u64, StatisticsError> {
    let alpha = between_0_and_1("the risk of error", alpha)?;
    if tested == 0 || tested > all {
        let range = "between 1 and the number of placements";
        return Err(StatisticsError::OutOfRange { name: "the number tested", value: tested as f64, range });
    }
    let mut chance = 1.0;
    let mut bad = 0;
    while bad < all - tested {
        // from D to D + 1 the chance of drawing none is multiplied by (all - D - tested) / (all - D)
        chance *= (all - bad - tested) as f64 / (all - bad) as f64;
        if chance <= alpha {
            return Ok(bad);
        }
        bad += 1;
    }
    Ok(bad)
}

fn binomial_at_most(k: u64, n: u64, p: f64) -> f64 {
    if p <= 0.0 {
        return 1.0;
    }
    if p >= 1.0 {
        return if k >= n { 1.0 } else { 0.0 };
    }
    let n = n as f64;
    let ln_n = libm::lgamma(n + 1.0);
    (0..=k)
        .map(|i| {
            let i = i as f64;
            (ln_n - libm::lgamma(i + 1.0) - libm::lgamma(n - i + 1.0) + i * p.ln() + (n - i) * (-p).ln_1p())
                .exp()
        })
        .sum::<f64>()
        .min(1.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use statrs::function::beta::beta_reg;

    #[test]
    fn bounds_agree_with_the_beta_distribution_of_a_library() {
        for (x, n) in [(1_u64, 20_u64), (2, 30), (3, 50), (10, 12), (40, 300)] {
            let (low, high) = proof_bounds(x, n, 0.05).unwrap();
            let (a, b) = (x as f64, n as f64);
            assert!((beta_reg(a + 1.0, b - a, high) - 0.95).abs() < 1e-9);
            assert!((beta_reg(a, b - a + 1.0, low) - 0.05).abs() < 1e-9);
        }
    }

    #[test]
    fn ends_and_nonsense() {
        assert_eq!(proof_bounds(5, 5, 0.05).unwrap().1, 1.0);
        assert_eq!(proof_bounds(0, 5, 0.05).unwrap().0, 0.0);
        assert!(proof_bounds(6, 5, 0.05).is_err());
        assert!(proof_bounds(0, 0, 0.05).is_err());
        assert!(proof_bounds(0, 5, 1.0).is_err());
        assert_eq!(finite_crag_bad(10, 10, 0.05).unwrap(), 0);
        assert!(finite_crag_bad(10, 11, 0.05).is_err());
        assert_eq!(tests_needed(0.5, 0.75).unwrap(), 2);
    }

    proptest! {
        #[test]
        fn more_failures_raise_and_more_tests_lower_the_bounds(n in 2..200_u64, x in 0..200_u64, risk in 0.01..0.4_f64) {
            let x = x % n;
            let (low, high) = proof_bounds(x, n, risk).unwrap();
            prop_assert!(low <= x as f64 / n as f64 && x as f64 / n as f64 <= high);
            let (more_low, more_high) = proof_bounds(x + 1, n, risk).unwrap();
            prop_assert!(more_low >= low && more_high >= high);
            let (_, longer_high) = proof_bounds(x, n + 1, risk).unwrap();
            prop_assert!(longer_high <= high);
        }

        #[test]
        fn a_small_crag_hides_less_than_a_binomial_share(all in 2..300_u64, part in 0.05..1.0_f64) {
            let tested = ((all as f64 * part) as u64).clamp(1, all);
            let bad = finite_crag_bad(all, tested, 0.05).unwrap();
            let (_, share) = proof_bounds(0, tested, 0.05).unwrap();
            prop_assert!(bad <= all - tested);
            prop_assert!(bad as f64 <= share * all as f64 + 1.0);
        }
    }
}
