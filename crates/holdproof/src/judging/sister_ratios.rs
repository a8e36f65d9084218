//! What pulls to failure say about the fittings that were not pulled.

use evidence::{effects, statistics::pooled_ratio};
use jiff::civil::Date;
use judgement::Policy;
use reckoning::Silent;
use register::case::{self, Params};
use register::{PullEnd, PullRecord, Sisters, State};
use resistance::{Anchorage, Mode};
use std::collections::HashMap;
use units::{Angle, Force};

/// Ratios of observed to judged resistance of every pull that rock or setting decided.
pub struct SisterRatios {
    sisters: Sisters,
    /// ln(observed / judged) and the scatter of the judged value, by identity of the pull.
    ratios: HashMap<String, (f64, f64)>,
    /// How far the ratio of a whole family may stray from 1 (standard deviation of ln).
    prior_sd: f64,
}

impl SisterRatios {
    /// Compares every pull that rock or setting decided with what would have been judged on the day
    /// before. Pulls that broke steel say nothing about rock and are left out.
    pub fn gather(state: &State, policy: &Policy) -> Self {
        let ratios =
            state.pulls().filter_map(|pull| Some((pull.id.to_owned(), ratio(state, pull.record)?))).collect();
        Self { sisters: Sisters::gather(state), ratios, prior_sd: policy.sisters.shared_sd_ln }
    }

    /// Median of the ratio for the sisters of a placement and its logarithmic standard deviation; `None`
    /// without pulls.
    pub fn of(&self, state: &State, placement: &str, on: Date) -> Option<(f64, f64)> {
        if self.ratios.is_empty() {
            return None;
        }
        let pulls = self.sisters.of(state, placement, on);
        let known: Vec<(f64, f64)> = pulls.filter_map(|pull| self.ratios.get(&pull.pull)).copied().collect();
        if known.is_empty() {
            return None;
        }
        let ln_ratios: Vec<f64> = known.iter().map(|(ln_ratio, _)| *ln_ratio).collect();
        let within = (known.iter().map(|(_, sd)| sd * sd).sum::<f64>() / known.len() as f64).sqrt();
        Some(pooled_ratio(&ln_ratios, within, self.prior_sd))
    }
}

/// ln(peak / judged median) of a pull and the scatter of what was judged, for the weakest mode that
/// rock or setting decides, in the direction of the pull.
fn ratio(state: &State, pull: &PullRecord) -> Option<(f64, f64)> {
    if !matches!(pull.end?, PullEnd::Cone | PullEnd::PulledOut | PullEnd::BondFailed) {
        return None;
    }
    let peak = pull.peak.filter(|peak| *peak > Force::n(0.0) && peak.is_finite())?;
    let day_before = pull.on?.yesterday().ok()?;
    let case = case::of(state, pull.placement.as_deref()?, day_before, &Params::default()).ok()?;
    let anchorage = Anchorage {
        fitting: case.fitting,
        rock: rock::strength(&case.rock, &mut Silent),
        surroundings: case.surroundings,
        proud: case.proud,
        // a pull whose direction was not written down was straight out: that is how rigs pull
        direction: if pull.axial.unwrap_or(true) { Angle::deg(0.0) } else { Angle::deg(90.0) },
        direction_spread: Angle::deg(0.0),
    };
    let (ln_judged, variance) = resistance::modes(&anchorage, &mut Silent)
        .iter()
        .filter(|mode| !matches!(mode.mode, Mode::Steel | Mode::Hanger))
        .filter(|mode| mode.median.is_finite() && mode.median > Force::n(0.0))
        .map(|mode| {
            let mut ln_median = mode.median.as_n().ln();
            let mut variance: f64 = mode.variance.iter().sum();
            for action in case.signs.iter().filter_map(|seen| effects(*seen).on(mode.mode)) {
                ln_median += action.ratio.ln();
                variance += action.sd_ln * action.sd_ln;
            }
            (ln_median, variance)
        })
        .min_by(|a, b| a.0.total_cmp(&b.0))?;
    Some((peak.as_n().ln() - ln_judged, variance.sqrt()))
}
