//! The distribution of resistance at one time: its chances and fractiles.

use crate::outcome::Band;
use reckoning::normal::{self, HERMITE_7, Table};
use smallvec::SmallVec;
use units::Force;

/// ln of a resistance in newtons: median, loading on the shared rock strength, variance of the rest.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Spread {
    pub ln_median: f64,
    pub rock_loading: f64,
    pub variance: f64,
}

impl Spread {
    /// Times an independent uncertain factor.
    pub fn times(self, ratio: f64, sd_ln: f64) -> Self {
        Self { ln_median: self.ln_median + ratio.ln(), variance: self.variance + sd_ln * sd_ln, ..self }
    }

    /// The form that chances are computed from.
    pub fn prepared(self) -> Prepared {
        let inverse_own_sd = 1.0 / self.variance.sqrt();
        Prepared { ln_median: self.ln_median, rock_loading: self.rock_loading, inverse_own_sd }
    }
}

/// A [`Spread`] with the inverse of the standard deviation of the rest.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Prepared {
    ln_median: f64,
    rock_loading: f64,
    inverse_own_sd: f64,
}

impl Prepared {
    /// The resistance exceeds `x` with probability `Phi(at + per_z Z)` where the rock is `Z`.
    fn margin(&self, ln_x: f64) -> Margin {
        Margin {
            at: (self.ln_median - ln_x) * self.inverse_own_sd,
            per_z: self.rock_loading * self.inverse_own_sd,
        }
    }

    /// Standard deviation of ln, the rock's scatter included.
    fn sd(&self) -> f64 {
        (1.0 / self.inverse_own_sd).hypot(self.rock_loading)
    }
}

#[derive(Clone, Copy)]
struct Margin {
    at: f64,
    per_z: f64,
}

impl Margin {
    /// True where the rule for `Z` as a whole would find less than about 1e-6 of failure: each bound is
    /// set by the weight of its node.
    fn is_ample(self) -> bool {
        let least_at = |z: f64| self.at - z * self.per_z.abs();
        least_at(0.0) > 5.0
            && least_at(HERMITE_7[4].0) > 5.0
            && least_at(HERMITE_7[5].0) > 4.5
            && least_at(HERMITE_7[6].0) > 3.3
    }
}

/// One mode at the time of a [`Frame`].
#[derive(Clone, Copy, Debug)]
pub(crate) struct FrameMode {
    /// Weakened by cracks and lost to rust, rather than by defects of setting; not loaded by the rock.
    pub is_metal: bool,
    pub sound: Prepared,
    /// The same mode cracked (metal) or badly set (rock), where that changes it.
    pub weakened: Option<Prepared>,
    /// Chance that this part is cracked, 0..1 (metal; bolt and hanger crack apart from each other).
    pub cracked: f64,
    /// ln of the load shown to hold, which proves nothing about steel that is cracked now; minus
    /// infinity without a test.
    pub ln_proved: f64,
    /// What the mode has lost since the loads it survived in service, as ln (<= 0).
    pub ln_lost_since: f64,
}

/// A load survived in service.
#[derive(Clone, Copy, Debug)]
struct Served {
    weight: f64,
    ln_load: f64,
    /// What it still shows of the rock mode most damaged since.
    ln_left: f64,
    /// Chance that the rock's modes exceed what it shows of them.
    rock: f64,
}

/// The distribution of resistance at one time and one state of knowledge.
#[derive(Clone, Debug)]
pub struct Frame {
    modes: SmallVec<[FrameMode; 8]>,
    /// Chance of a hidden setting defect.
    badly_set: f64,
    /// True where the shared rock factor has to be integrated over.
    shares_rock: bool,
    /// Greatest load survived in service.
    service: SmallVec<[Served; 4]>,
    /// Probability of what tests and service have shown.
    shown_chance: f64,
    /// What the truncated distribution is divided by: the same, or 1 where that contradicts this frame.
    total: f64,
}

/// Tests and service that a frame gives less than this chance contradict what the frame takes as known
/// (a cautious view of an old bolt that is still there), and say nothing within it. Source: judgement.
const IMPLAUSIBLE: f64 = 1e-8;

impl Frame {
    /// `service`: (weight, ln of newtons).
    pub(crate) fn new(modes: SmallVec<[FrameMode; 8]>, badly_set: f64, service: &[(f64, f64)]) -> Self {
        let mut frame = Self {
            shares_rock: modes.iter().any(|m| m.sound.rock_loading != 0.0),
            badly_set: badly_set.clamp(0.0, 1.0),
            service: SmallVec::new(),
            shown_chance: 1.0,
            total: 1.0,
            modes,
        };
        let lost = frame.modes.iter().filter(|m| !m.is_metal).map(|m| m.ln_lost_since).fold(0.0, f64::min);
        let served = |&(weight, ln_load): &(f64, f64)| Served {
            weight,
            ln_load,
            ln_left: ln_load + lost,
            rock: frame.rock(f64::NEG_INFINITY, ln_load),
        };
        frame.service = service.iter().map(served).collect();
        frame.believe()
    }

    /// The same placement at another time: its rock stays as it is, its metal is `metal`'s.
    pub(crate) fn with_metal(&self, metal: impl Fn(usize) -> FrameMode) -> Self {
        let mut frame = self.clone();
        for (i, mode) in frame.modes.iter_mut().enumerate().filter(|(_, m)| m.is_metal) {
            *mode = metal(i);
        }
        frame.believe()
    }

    /// Takes in what tests and service have shown.
    fn believe(mut self) -> Self {
        (self.shown_chance, self.total) = (1.0, 1.0);
        if !self.service.is_empty() || self.modes.iter().any(|m| m.ln_proved > f64::NEG_INFINITY) {
            self.shown_chance = self.survives(f64::NEG_INFINITY);
            if self.shown_chance > IMPLAUSIBLE {
                self.total = self.shown_chance;
            } else {
                self.service.clear();
                self.modes.iter_mut().for_each(|m| m.ln_proved = f64::NEG_INFINITY);
            }
        }
        self
    }

    /// Probability, before the event, of what tests and service have shown; 1 without them.
    pub(crate) fn shown_chance(&self) -> f64 {
        self.shown_chance
    }

    /// Probability of holding `load`, 0..1.
    pub fn holds(&self, load: Force) -> f64 {
        self.holds_ln(load.as_n().max(1e-9).ln())
    }

    fn holds_ln(&self, ln_load: f64) -> f64 {
        (self.survives(ln_load) / self.total).clamp(0.0, 1.0)
    }

    /// Joint probability that every mode exceeds the load, what it has been proved to, and what it has
    /// survived in service.
    fn survives(&self, ln_load: f64) -> f64 {
        let unserved = || self.metal(ln_load, f64::NEG_INFINITY) * self.rock(ln_load, f64::NEG_INFINITY);
        if self.service.is_empty() {
            return unserved();
        }
        let mut below = 0.0;
        let mut total = 0.0;
        for served in &self.service {
            if served.ln_load <= ln_load {
                below += served.weight;
                continue;
            }
            let shown_rock =
                if ln_load <= served.ln_left { served.rock } else { self.rock(ln_load, served.ln_load) };
            total += served.weight * self.metal(ln_load, served.ln_load) * shown_rock;
        }
        if below > 0.0 { total + below * unserved() } else { total }
    }

    /// Chance that all metal exceeds a load and what it has survived and been proved to. Of a part that is
    /// cracked now half of the survived loads came before the crack, and no proof counts.
    fn metal(&self, ln_load: f64, ln_served: f64) -> f64 {
        let table = Table::get();
        let mut all = 1.0;
        for mode in self.modes.iter().filter(|m| m.is_metal) {
            let ln_shown = ln_load.max(ln_served + mode.ln_lost_since);
            let mut chance = table.cdf(mode.sound.margin(ln_shown.max(mode.ln_proved)).at);
            if let Some(weakened) = mode.weakened.filter(|_| mode.cracked > 0.0) {
                let mut cracked = table.cdf(weakened.margin(ln_load).at);
                if ln_shown > ln_load {
                    cracked = 0.5 * (cracked + table.cdf(weakened.margin(ln_shown).at));
                }
                chance += mode.cracked * (cracked - chance);
            }
            all *= chance;
        }
        all
    }

    /// Chance that the modes of the rock exceed a load and what they have survived and been proved to, over
    /// the rock's strength and both states of the setting.
    fn rock(&self, ln_load: f64, ln_served: f64) -> f64 {
        let table = Table::get();
        let mut close: SmallVec<[(Margin, Option<Margin>); 8]> = SmallVec::new();
        for mode in self.modes.iter().filter(|m| !m.is_metal) {
            let ln_x = ln_load.max(ln_served + mode.ln_lost_since).max(mode.ln_proved);
            let (sound, weakened) = (mode.sound.margin(ln_x), mode.weakened.map(|w| w.margin(ln_x)));
            if !(sound.is_ample() && weakened.is_none_or(Margin::is_ample)) {
                close.push((sound, weakened));
            }
        }
        let at = |z: f64| {
            let (mut always, mut well_set, mut badly_set) = (1.0, 1.0, 1.0);
            for (sound, weakened) in &close {
                let chance = table.cdf(sound.at + sound.per_z * z);
                match weakened {
                    None => always *= chance,
                    Some(weakened) => {
                        well_set *= chance;
                        badly_set *= table.cdf(weakened.at + weakened.per_z * z);
                    }
                }
            }
            always * ((1.0 - self.badly_set) * well_set + self.badly_set * badly_set)
        };
        match (close.is_empty(), self.shares_rock) {
            (true, _) => 1.0,
            (false, true) => HERMITE_7.iter().map(|(z, weight)| weight * at(*z)).sum(),
            (false, false) => at(0.0),
        }
    }

    /// A mode in the likeliest of the hidden states, and what it has shown to hold there.
    fn likeliest(&self, mode: &FrameMode) -> (Prepared, f64) {
        let chance = if mode.is_metal { mode.cracked } else { self.badly_set };
        // of the greatest load survived in service the middle node stands for all
        let served =
            self.service.get(self.service.len() / 2).map_or(f64::NEG_INFINITY, |served| served.ln_load);
        let shown = mode.ln_proved.max(served + mode.ln_lost_since);
        match mode.weakened.filter(|_| chance > 0.5) {
            Some(cracked) if mode.is_metal => (cracked, f64::NEG_INFINITY),
            Some(badly_set) => (badly_set, shown),
            None => (mode.sound, shown),
        }
    }

    /// The load that is exceeded with probability `1 - p` (0 < p < 1): the `p` fractile of the
    /// resistance, to 0.1 %; where tests leave the chance almost flat, any load with a chance within 0.05 %.
    pub fn fractile(&self, p: f64) -> Force {
        Force::n(self.ln_fractile(p, self.weakest()).0.exp())
    }

    /// The fractiles that people are shown.
    pub(crate) fn band(&self) -> Band {
        let middle = self.ln_fractile(0.5, self.weakest());
        let at = |p| Force::n(self.ln_fractile(p, middle).0.exp());
        Band { p05: at(0.05), p50: Force::n(middle.0.exp()), p95: at(0.95) }
    }

    /// Median and standard deviation of ln of the weakest mode in its likeliest state.
    fn weakest(&self) -> (f64, f64) {
        let likeliest = self.modes.iter().map(|m| self.likeliest(m).0);
        let weakest = likeliest.min_by(|a, b| a.ln_median.total_cmp(&b.ln_median));
        weakest.map_or((0.0, 1.0), |mode| (mode.ln_median, mode.sd()))
    }

    /// ln of the `p` fractile and the standard deviation of ln that the slope there stands for, from a
    /// guess at the median and that deviation.
    ///
    /// On the probit scale the chance to hold falls almost evenly with ln(load), so the secant rule needs
    /// few steps; a bracket keeps it from going astray.
    fn ln_fractile(&self, p: f64, (ln_median, mut sd): (f64, f64)) -> (f64, f64) {
        let target = normal::quick_quantile(1.0 - p);
        let (mut low, mut high) = (-20.0, 30.0);
        let mut ln_x = ln_median - sd * target;
        let mut before: Option<(f64, f64)> = None;
        for step in 0..60 {
            let miss = quick_probit(self.holds_ln(ln_x)) - target;
            if miss > 0.0 {
                low = ln_x
            } else {
                high = ln_x
            }
            if let Some((ln_before, miss_before)) = before
                && miss != miss_before
            {
                sd = ((ln_before - ln_x) / (miss - miss_before)).clamp(0.01, 2.0);
            }
            let next = ln_x + miss * sd;
            let close = miss.abs() < 5e-3 && (next - ln_x).abs() < 1e-3;
            if high - low < 1e-3 || (close && before.is_some()) || miss.abs() < 1e-4 {
                return (next.clamp(low, high), sd);
            }
            before = Some((ln_x, miss));
            // where the curve is too crooked for the secant, every other step halves the bracket
            let stays = next > low && next < high && (step < 6 || step % 2 == 0);
            ln_x = if stays { next } else { 0.5 * (low.max(ln_x - 2.0) + high.min(ln_x + 2.0)) };
        }
        (ln_x, sd)
    }

    /// Probability of each mode being the weakest, in the order of the standing's modes; adds to 1.
    ///
    /// Computed at the median of the rock strength in the likeliest state, by the midpoint rule over
    /// 12 steps of ln(load).
    pub(crate) fn governs(&self) -> SmallVec<[f64; 8]> {
        const STEPS: usize = 12;
        let table = Table::get();
        let sds = self.modes.iter().map(|m| self.likeliest(m).0).map(|mode| (mode.ln_median, mode.sd()));
        let sds: SmallVec<[(f64, f64); 8]> = sds.collect();
        let low = sds.iter().map(|(median, sd)| median - 4.0 * sd).fold(f64::INFINITY, f64::min);
        let high = sds.iter().map(|(median, sd)| median + 3.0 * sd).fold(f64::INFINITY, f64::min);
        let width = (high - low) / STEPS as f64;
        // (index, median, 1/sd) of the modes that can be the weakest
        let close: SmallVec<[(usize, f64, f64); 8]> = sds
            .iter()
            .enumerate()
            .filter(|(_, (median, sd))| median - 6.0 * sd < high)
            .map(|(i, (median, sd))| (i, *median, 1.0 / sd))
            .collect();
        let exceed = |chances: &mut [f64], ln_x: f64| {
            for (chance, (_, median, per_sd)) in chances.iter_mut().zip(&close) {
                *chance = table.cdf((median - ln_x) * per_sd);
            }
        };
        let mut shares: SmallVec<[f64; 8]> = SmallVec::from_elem(0.0, self.modes.len());
        let mut left: SmallVec<[f64; 8]> = SmallVec::from_elem(0.0, close.len());
        let (mut middle, mut right) = (left.clone(), left.clone());
        exceed(&mut left, low);
        for i in 0..STEPS {
            let start = low + width * i as f64;
            exceed(&mut middle, start + 0.5 * width);
            exceed(&mut right, start + width);
            for (k, (mode, ..)) in close.iter().enumerate() {
                let others: f64 = (0..close.len()).filter(|j| *j != k).map(|j| middle[j]).product();
                shares[*mode] += (left[k] - right[k]) * others;
            }
            left.copy_from_slice(&right);
        }
        let total: f64 = shares.iter().sum();
        if total > 0.0 {
            shares.iter_mut().for_each(|s| *s /= total);
        }
        shares
    }

    /// Fractile of one mode alone in the likeliest state, in the order of the standing's modes.
    pub(crate) fn mode_fractile(&self, index: usize, z: f64) -> Option<Force> {
        let of = self.modes.get(index)?;
        let (mode, ln_shown) = self.likeliest(of);
        let sd = mode.sd();
        let below = Table::get().cdf((ln_shown - mode.ln_median) / sd).min(1.0 - 1e-12);
        let ln_fractile = if below > 1e-3 {
            // truncated below at what it has shown: p -> p + (1 - p) P(R < shown)
            let p = below + (1.0 - below) * normal::cdf(z);
            mode.ln_median + sd * normal::quantile(p.clamp(1e-12, 1.0 - 1e-12))
        } else {
            mode.ln_median + sd * z
        };
        Some(Force::n(ln_fractile.exp()))
    }
}

/// Probit with finite ends, for root finding.
fn quick_probit(p: f64) -> f64 {
    normal::quick_quantile(p.clamp(1e-12, 1.0 - 1e-12))
}
