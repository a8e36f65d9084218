//! Loss over the years from the loss of the first year.

use units::Length;

/// Years after which the power law goes on as its tangent. Source: ISO 9224:2012.
pub const TANGENT_FROM: f64 = 20.0;

/// Loss after `years` as a multiple of the first year's: `t^b` up to 20 years, then the tangent
/// `20^b + b 20^(b-1) (t - 20)`.
///
/// * `years` t >= 0 (negative and NaN count as 0); `exponent` b: 0.523 steel, 0.813 zinc (means),
///   0.575 and 0.873 (upper)
///
/// Source: ISO 9224:2012 (exponents from memory).
pub fn growth(years: f64, exponent: f64) -> f64 {
    let t = years.max(0.0);
    if t <= TANGENT_FROM {
        return t.powf(exponent);
    }
    let at = TANGENT_FROM.powf(exponent);
    at + exponent * at / TANGENT_FROM * (t - TANGENT_FROM)
}

/// Loss after `years`, `D = r growth(t, b)`, from the first year's loss r. See [`growth`].
pub fn loss(first_year: Length, exponent: f64, years: f64) -> Length {
    first_year * growth(years, exponent)
}

/// Years until a depth is lost, the inverse of [`loss`]:
/// `t = (c / r)^(1/b)` up to 20 years, else `20 + (c / r - 20^b) / (b 20^(b-1))`.
/// Infinite where r <= 0; 0 where c <= 0. Used for the life of a zinc coating. Source: ISO 9224:2012 solved for t.
pub fn years_to_lose(depth: Length, first_year: Length, exponent: f64) -> f64 {
    if depth.as_m() <= 0.0 {
        return 0.0;
    }
    if first_year.as_m() <= 0.0 {
        return f64::INFINITY;
    }
    let q = depth / first_year;
    let at = TANGENT_FROM.powf(exponent);
    if q <= at { q.powf(1.0 / exponent) } else { TANGENT_FROM + (q - at) * TANGENT_FROM / (exponent * at) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn factors_of_the_reference() {
        // reference, sec. 1.3 (independent computation)
        let years = [2.0, 5.0, 10.0, 15.0, 20.0, 30.0, 50.0, 100.0];
        for (b, row) in [
            (0.523, [1.4369, 2.3204, 3.3343, 4.1219, 4.7911, 6.0440, 8.5498, 14.8142]),
            (0.575, [1.4897, 2.5229, 3.7584, 4.7452, 5.5988, 7.2084, 10.4277, 18.4759]),
            (0.813, [1.7569, 3.7005, 6.5013, 9.0399, 11.4219, 16.0649, 25.3509, 48.5658]),
            (0.873, [1.8315, 4.0757, 7.4645, 10.6348, 13.6710, 19.6383, 31.5731, 61.4100]),
        ] {
            for (t, want) in years.iter().zip(row) {
                assert!((growth(*t, b) - want).abs() < 1e-4, "{b} {t}: {}", growth(*t, b));
            }
        }
    }

    #[test]
    fn life_of_a_coating() {
        // reference, sec. 1.4 (independent computation)
        for (c, r, b, want) in [
            (5.0, 2.1, 0.813, 2.907),
            (8.0, 4.2, 0.813, 2.209),
            (45.0, 4.2, 0.813, 18.49),
            (45.0, 2.1, 0.813, 41.552),
            (45.0, 2.1, 0.873, 33.00),
        ] {
            let got = years_to_lose(Length::um(c), Length::um(r), b);
            assert!((got - want).abs() < 5e-3, "{c} {r}: {got}");
        }
    }

    proptest! {
        #[test]
        fn inverse_and_monotone(r in 0.1..300.0f64, b in 0.3..1.0f64, t in 0.1..200.0f64) {
            let d = loss(Length::um(r), b, t);
            let back = years_to_lose(d, Length::um(r), b);
            prop_assert!((back / t - 1.0).abs() < 1e-9);
            prop_assert!(loss(Length::um(r), b, t * 1.01) > d);
            prop_assert!(loss(Length::um(r * 1.01), b, t) > d);
        }
    }
}
