//! Years left: how long until the chance to hold a hard fall sinks below the policy's threshold.

use crate::frame::Frame;
use crate::outcome::YearsLeft;
use crate::policy::Thresholds;
use crate::standing::{Knowledge, Standing};
use units::Force;

/// How many standard deviations of ln the unfavourable and favourable ends of a band lie from the
/// median: the 10 % and 90 % fractiles of a normal distribution.
pub(crate) const BAND_Z: f64 = 1.281_551_565_544_6;

/// Years until `standing` holds `hard_fall` with less than `thresholds.life_ends_below`, for the best
/// estimate and for both ends of what is unknown, to a quarter of a year. `today`: the frames of today
/// for the best estimate and the unfavourable and the favourable end.
///
/// Found by the Illinois rule on the chance. Valid for a hazard that only grows: nothing repairs itself.
/// Source: definition in the project's vocabulary; threshold is judgement.
pub(crate) fn years_left(
    standing: &Standing,
    hard_fall: Force,
    today: [&Frame; 3],
    thresholds: &Thresholds,
) -> YearsLeft {
    let until = |now: &Frame, knowledge: Knowledge| {
        let spare_of = |frame: &Frame| frame.holds(hard_fall) - thresholds.life_ends_below;
        let spare = |years: f64| spare_of(&standing.later(now, years, knowledge));
        let mut spare_still = spare_of(now);
        if spare_still < 0.0 {
            return Some(0.0);
        }
        let (mut still, mut no_more) = (0.0, thresholds.horizon_years);
        let mut spare_no_more = spare(no_more);
        if spare_no_more >= 0.0 {
            return None;
        }
        while no_more - still > 0.25 {
            let cut = still + (no_more - still) * spare_still / (spare_still - spare_no_more);
            // off the ends, so that both of them move
            let middle = cut.clamp(still + 0.12, no_more - 0.12);
            let spare = spare(middle);
            if spare >= 0.0 {
                (still, spare_still) = (middle, spare);
                spare_no_more *= 0.5;
            } else {
                (no_more, spare_no_more) = (middle, spare);
                spare_still *= 0.5;
            }
        }
        Some(still)
    };
    let best = until(today[0], Knowledge::Spread);
    let low = if best == Some(0.0) { Some(0.0) } else { until(today[1], Knowledge::Fixed(-BAND_Z)) };
    let high = if best.is_none() { None } else { until(today[2], Knowledge::Fixed(BAND_Z)) };
    // A band end may not lie on the wrong side of the best estimate: scatter that is spread (best) and
    // scatter that is fixed (ends) are different views of the same doubt.
    let later = |a: Option<f64>, b: Option<f64>| match (a, b) {
        (Some(a), Some(b)) => Some(a.max(b)),
        _ => None,
    };
    let sooner = |a: Option<f64>, b: Option<f64>| match (a, b) {
        (Some(a), Some(b)) => Some(a.min(b)),
        (one, other) => one.or(other),
    };
    YearsLeft { best, low: sooner(low, best), high: later(high, best), horizon: thresholds.horizon_years }
}
