//! What pulls say about the sisters of the fittings that were pulled.

use crate::case::{self, Params};
use crate::record::PullEnd;
use crate::sisters::{Family, PullRef, Sisters};
use crate::state::State;
use evidence::setting_defect;
use evidence::statistics::{DefectShare, SisterPull, sister_ratio};
use hardware::Kind;
use jiff::civil::Date;
use judgement::{Policy, stand_towards};
use rustc_hash::FxHashMap;
use units::Angle;

/// What the pulls made by a date say about the sisters of what was pulled.
#[derive(Clone, Debug)]
pub struct SisterRatios {
    on: Date,
    sisters: Sisters,
    /// Every pull compared with what would have been judged for it, by identity of the pull.
    compared: FxHashMap<String, SisterPull>,
    /// By family; for a fitting that was itself pulled its own pulls are left out afresh.
    by_family: FxHashMap<Family, (f64, f64)>,
    shared_sd: f64,
}

impl SisterRatios {
    /// Compares every pull made by `on` with what the records of the day before it let judge, in the
    /// direction of the pull, for the weakest mode that rock and setting decide. A pull in which steel or
    /// the hanger broke or that was stopped shows that rock and setting held at least that much. A pull
    /// whose direction was not written down counts as straight out: that is how rigs pull (common
    /// practice, no source).
    pub fn gather(state: &State, policy: &Policy, on: Date) -> Self {
        let sisters = Sisters::gather(state);
        let shared_sd = policy.sisters.shared_sd_ln;
        let compared = sisters
            .families()
            .flat_map(|(_, pulls)| pulls)
            .filter(|pull| pull.on <= on)
            .filter_map(|pull| Some((pull.pull.clone(), compare(state, policy, pull, shared_sd)?)))
            .collect();
        let mut ratios = Self { on, sisters, compared, by_family: FxHashMap::default(), shared_sd };
        ratios.by_family = ratios
            .sisters
            .families()
            .filter_map(|(family, pulls)| Some((family.clone(), ratios.ratio(family.kind, pulls.iter())?)))
            .collect();
        ratios
    }

    /// Median ratio of observed to judged resistance that the sisters of a placement share, and its
    /// logarithmic standard deviation; `None` without pulls.
    pub fn of(&self, state: &State, placement: &str) -> Option<(f64, f64)> {
        if self.by_family.is_empty() {
            return None;
        }
        let fitting = state.current_fitting(placement, self.on)?;
        let family = Family::of(state, placement, fitting.record.kind)?;
        let pulls = self.sisters.of_family(&family);
        if pulls.iter().any(|pull| pull.fitting == fitting.id) {
            self.ratio(family.kind, pulls.iter().filter(|pull| pull.fitting != fitting.id))
        } else {
            self.by_family.get(&family).copied()
        }
    }

    fn ratio<'a>(&self, kind: Kind, pulls: impl Iterator<Item = &'a PullRef>) -> Option<(f64, f64)> {
        let mut compared: Vec<(&str, SisterPull)> =
            pulls.filter_map(|pull| Some((&*pull.pull, *self.compared.get(&pull.pull)?))).collect();
        if compared.is_empty() {
            return None;
        }
        // one order, so that sums round alike on every run
        compared.sort_by(|a, b| a.0.cmp(b.0));
        let compared: Vec<SisterPull> = compared.into_iter().map(|(_, pull)| pull).collect();
        let defect = setting_defect(Some(kind));
        let defect = DefectShare { share: defect.share, ratio: defect.ratio, sd_ln: defect.sd_ln };
        Some(sister_ratio(&compared, self.shared_sd, Some(defect)))
    }
}

fn compare(state: &State, policy: &Policy, pull: &PullRef, shared_sd: f64) -> Option<SisterPull> {
    let day_before = pull.on.yesterday().ok()?;
    let case = case::of(state, &pull.placement, day_before, &Params::default()).ok()?;
    let direction = if pull.axial.unwrap_or(true) { Angle::deg(0.0) } else { Angle::deg(90.0) };
    let (ln_judged, sd_ln) = stand_towards(&case, policy, direction).weakest_in_rock()?;
    // the scatter of one fitting, without the doubt that all sisters share
    let own = (sd_ln * sd_ln - shared_sd * shared_sd).max(0.15 * 0.15).sqrt();
    Some(SisterPull {
        ln_ratio: pull.peak.as_n().ln() - ln_judged,
        sd_ln: own,
        held: !matches!(pull.end, PullEnd::Cone | PullEnd::PulledOut | PullEnd::BondFailed),
    })
}
