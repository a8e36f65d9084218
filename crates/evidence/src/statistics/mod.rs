//! Statistics of pull tests.
//!
//! Loads may be in any unit, the same for all numbers of one call; results come back in it. Lists are
//! never changed: a suspicious value is pointed at, not dropped.

mod count;
mod line;
mod noncentral_t;
mod outlier;
mod sample;
mod sisters;
mod tolerance;
mod weibull;

pub use count::{finite_crag_bad, proof_bounds, tests_needed};
pub use line::{Line, fit_line};
pub use noncentral_t::{noncentral_t_cdf, noncentral_t_quantile, t_quantile};
pub use outlier::{Side, Suspect, grubbs, grubbs_critical};
pub use sample::Sample;
pub use sisters::{DefectShare, SisterPull, sister_ratio};
pub use tolerance::{
    Characteristic, Rule, Scatter, Shape, characteristic, en1990_factor, tolerance_factor,
    tolerance_factor_known,
};
pub use weibull::{Weibull, fit_weibull, weibull_scale_bound};

/// Why a statistic has no value.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum StatisticsError {
    /// Too few values.
    #[error("{have} usable values, but this needs at least {need}")]
    TooFew {
        /// How many there are.
        have: usize,
        /// How many it takes.
        need: usize,
    },
    /// A value that is not a finite number, or not above zero where it must be.
    #[error("value number {place} is {value}; loads must be finite numbers above zero")]
    BadValue {
        /// Place in the list, from 1.
        place: usize,
        /// The value.
        value: f64,
    },
    /// A share, confidence or scatter out of its range.
    #[error("{name} is {value}, but must lie {range}")]
    OutOfRange {
        /// Which argument.
        name: &'static str,
        /// Its value.
        value: f64,
        /// What would do.
        range: &'static str,
    },
    /// All values are the same, so no scatter or shape can be found.
    #[error("all values are equal, so their scatter cannot be judged")]
    NoScatter,
    /// The search did not end; with sound input this does not happen.
    #[error("no solution was found in the range searched")]
    NoSolution,
}

fn between_0_and_1(name: &'static str, value: f64) -> Result<f64, StatisticsError> {
    if value > 0.0 && value < 1.0 {
        Ok(value)
    } else {
        Err(StatisticsError::OutOfRange { name, value, range: "between 0 and 1" })
    }
}

/// The root of a rising function between `low` and `high`, by bisection to the last bits. `None` if the
/// function does not change sign there.
fn bisect(mut low: f64, mut high: f64, f: impl Fn(f64) -> f64) -> Option<f64> {
    if !(f(low) <= 0.0 && f(high) >= 0.0) {
        return None;
    }
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if middle <= low || middle >= high {
            break;
        }
        if f(middle) < 0.0 { low = middle } else { high = middle }
    }
    Some(0.5 * (low + high))
}
