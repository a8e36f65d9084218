//! How a placement stands: its modes, hidden states and tests, as one distribution of resistance.
//!
//! Model. A placement is in one of up to four states: with or without a hidden setting defect, and
//! cracked or not by stress corrosion. In each state every mode `m` has
//!
//! `ln R_m = ln median_m + a_m Z + b_m E_m`
//!
//! with `Z` the strength of the rock (shared by all rock modes, standard normal), `E_m` independent
//! standard normals, `a_m` the rock exponent times the scatter of ln(UCS), and `b_m^2` the rest of the
//! mode's variance. The weakest mode governs:
//!
//! `P(R > x) = sum_states w_s * E_Z[ prod_m Phi((ln median_m + a_m Z - ln x) / b_m) ]`
//!
//! the expectation over `Z` by a seven-point Gauss-Hermite rule. A proof load that held truncates each
//! mode below at the load that mode has shown, and shifts the weights of the states (Bayes' rule).
//! Loads survived in service do the same with the greatest of them, which is itself uncertain:
//! `P(R > x | survived) = E_S[P(R > max(x, S))] / E_S[P(R > S)]`, S the greatest of the counted loads.
//! Steel lost since then lowers what was shown; a bolt that is cracked now had cracked before half of
//! the counted loads (judgement).
//! Source: weakest-link model with one common factor, e.g. Thoft-Christensen & Murotsu, Application of
//! Structural Systems Reliability Theory, 1986, ch. 5 (from memory); states and their weights:
//! judgement.

use decay::{Cracking, Decay, SteelState};
use evidence::SettingDefect;
use reckoning::Uncertain;
use reckoning::normal::{self, HERMITE_7, Table};
use resistance::{Mode, Source};
use smallvec::SmallVec;
use units::{Force, Ratio};

/// How what is unknown is treated.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Knowledge {
    /// As scatter like any other: the best estimate.
    Spread,
    /// Fixed at this many standard deviations from its median (negative = turns out badly); only the
    /// scatter that looking cannot narrow remains.
    Fixed(f64),
}

/// One mode at the date of the judgement, before any loss of steel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct StandingMode {
    pub mode: Mode,
    /// ln of the median in newtons, signs and sisters included, full steel area.
    pub ln_median: f64,
    /// Variance of ln by source, signs and sisters included; without loss of steel.
    pub variance: [f64; Source::COUNT],
    /// Loading on the shared rock strength (standard deviation of ln).
    pub rock_loading: f64,
    /// Power of the remaining steel area.
    pub section_exponent: f64,
    /// ln of the load this mode has shown to hold at the time of its test, full area then.
    pub proved_ln: Option<Proved>,
}

/// A load a mode has shown to hold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Proved {
    pub ln_load: f64,
    pub years_ago: f64,
}

impl StandingMode {
    fn total_variance(&self) -> f64 {
        self.variance.iter().sum()
    }

    fn fixed_variance(&self) -> f64 {
        Source::ALL.iter().filter(|s| !s.can_be_narrowed()).map(|s| self.variance[*s as usize]).sum()
    }

    /// True where a crack in the steel weakens the mode.
    fn suffers_from_cracks(&self) -> bool {
        matches!(self.mode, Mode::Steel | Mode::Hanger)
    }
}

/// How a placement stands at a date: everything that the figures of its judgement follow from.
#[derive(Clone, Debug)]
pub struct Standing {
    pub(crate) modes: SmallVec<[StandingMode; 8]>,
    /// History of the bolt's steel.
    pub(crate) steel: Decay,
    /// History of the hanger's plate, where it is a part of its own.
    pub(crate) plate: Option<Decay>,
    /// What cracked steel still holds; `None` where no alloy here cracks.
    pub(crate) cracking: Option<Cracking>,
    /// Age in years and the standard deviation of its logarithm (0 where the age is known).
    pub(crate) age_years: f64,
    pub(crate) age_sd_ln: f64,
    pub(crate) defect_chance: f64,
    pub(crate) defect: &'static SettingDefect,
    /// Greatest load survived in service: (weight, ln of newtons); empty where none is counted.
    pub(crate) service: SmallVec<[(f64, f64); 4]>,
}

/// A mode within one state of a [`Frame`].
#[derive(Clone, Copy, Debug)]
struct FrameMode {
    mode: Mode,
    ln_median: f64,
    rock_loading: f64,
    inverse_own_sd: f64,
    /// ln of the load shown to hold; minus infinity without a test.
    ln_proved: f64,
    /// What the mode has lost since the loads it survived in service, as ln (<= 0).
    ln_lost_since: f64,
}

#[derive(Clone, Debug)]
struct State {
    weight: f64,
    is_cracked: bool,
    modes: SmallVec<[FrameMode; 8]>,
}

/// The distribution of resistance at one time and one state of knowledge.
#[derive(Clone, Debug)]
pub struct Frame {
    states: SmallVec<[State; 4]>,
    /// True where the shared rock factor has to be integrated over.
    shares_rock: bool,
    /// Greatest load survived in service: (weight, ln of newtons).
    service: SmallVec<[(f64, f64); 4]>,
    /// Probability of what tests and service have shown, by which the truncated distribution is divided.
    shown_chance: f64,
}

impl Standing {
    /// The distribution of resistance `years_ahead` (>= 0, years) after the date of the judgement,
    /// with the given treatment of what is unknown. Loss of steel follows the same knowledge: fixed at
    /// `z` means a rate that is `-z` standard deviations from its median.
    pub fn frame(&self, years_ahead: f64, knowledge: Knowledge) -> Frame {
        let age = self.age_years + years_ahead;
        let steel = self.section_left(&self.steel, age, knowledge);
        let plate = self.plate.as_ref().map(|plate| self.section_left(plate, age, knowledge));

        let mut base: SmallVec<[FrameMode; 8]> = SmallVec::new();
        for mode in &self.modes {
            let (shift, mut variance, rock_loading) = match knowledge {
                Knowledge::Spread => {
                    (0.0, mode.total_variance() - mode.rock_loading * mode.rock_loading, mode.rock_loading)
                }
                Knowledge::Fixed(z) => {
                    let fixed = mode.fixed_variance();
                    (z * (mode.total_variance() - fixed).max(0.0).sqrt(), fixed, 0.0)
                }
            };
            let (part, left) = match (mode.mode, &self.plate, &plate) {
                (Mode::Hanger, Some(part), Some(left)) => (part, left),
                _ => (&self.steel, &steel),
            };
            variance += mode.section_exponent * mode.section_exponent * left.variance;
            let lost = mode.section_exponent * left.ln_area;
            let ln_proved = mode.proved_ln.map_or(f64::NEG_INFINITY, |proved| {
                let then = part.at((self.age_years - proved.years_ago).max(0.0));
                proved.ln_load + lost - mode.section_exponent * ln_area(&then)
            });
            base.push(FrameMode {
                mode: mode.mode,
                ln_median: mode.ln_median + shift + lost,
                rock_loading,
                inverse_own_sd: 1.0 / variance.max(1e-6).sqrt(),
                ln_proved,
                ln_lost_since: (lost - mode.section_exponent * ln_area(&part.at(self.age_years))).min(0.0),
            });
        }

        let cracked = if self.cracking.is_some() { steel.cracked.clamp(0.0, 1.0) } else { 0.0 };
        let strength_left = self.cracking.map_or(Uncertain::exact(Ratio::of(1.0)), |c| c.strength_left);
        let defect = self.defect_chance.clamp(0.0, 1.0);
        let mut states: SmallVec<[State; 4]> = SmallVec::new();
        for (is_cracked, is_defect) in [(false, false), (true, false), (false, true), (true, true)] {
            let weight = (if is_cracked { cracked } else { 1.0 - cracked })
                * (if is_defect { defect } else { 1.0 - defect });
            if weight < 1e-9 {
                continue;
            }
            let modes = base
                .iter()
                .zip(&self.modes)
                .map(|(framed, standing)| {
                    let mut mode = *framed;
                    if is_cracked && standing.suffers_from_cracks() {
                        mode.ln_median += strength_left.median.get().max(1e-6).ln();
                        mode.inverse_own_sd = 1.0 / (1.0 / mode.inverse_own_sd).hypot(strength_left.sd_ln);
                        // a crack may have come after the test: it proves nothing about cracked steel
                        mode.ln_proved = f64::NEG_INFINITY;
                    }
                    if is_defect && self.defect.modes.contains(&standing.mode) {
                        mode.ln_median += self.defect.ratio.ln();
                        mode.inverse_own_sd = 1.0 / (1.0 / mode.inverse_own_sd).hypot(self.defect.sd_ln);
                    }
                    mode
                })
                .collect();
            states.push(State { weight, is_cracked, modes });
        }

        let shares_rock = base.iter().filter(|m| m.rock_loading != 0.0).count() > 0;
        let mut frame = Frame { states, shares_rock, service: self.service.clone(), shown_chance: 1.0 };
        if !frame.service.is_empty() || base.iter().any(|m| m.ln_proved > f64::NEG_INFINITY) {
            frame.shown_chance = frame.survives_shown(f64::NEG_INFINITY).max(1e-12);
        }
        frame
    }
}

impl Standing {
    /// The weakest of the modes that rock and setting decide, as ln of the median in newtons and its
    /// standard deviation, without hidden states, tests and service: what a pull of a sister is compared
    /// with. `None` where only steel is judged.
    pub fn weakest_in_rock(&self) -> Option<(f64, f64)> {
        self.modes
            .iter()
            .filter(|m| !matches!(m.mode, Mode::Steel | Mode::Hanger))
            .map(|m| (m.ln_median, m.total_variance().sqrt()))
            .min_by(|a, b| a.0.total_cmp(&b.0))
    }
}

/// What is left of one part at an age.
struct SectionLeft {
    ln_area: f64,
    variance: f64,
    cracked: f64,
}

impl Standing {
    fn section_left(&self, part: &Decay, age: f64, knowledge: Knowledge) -> SectionLeft {
        let state = match knowledge {
            Knowledge::Spread => part.at(age),
            Knowledge::Fixed(z) => part.at_shifted(age * (-z * self.age_sd_ln).exp(), -z),
        };
        let ln_now = ln_area(&state);
        let mut variance = 0.0;
        if knowledge == Knowledge::Spread {
            variance = state.area_left.sd_ln * state.area_left.sd_ln;
            if self.age_sd_ln > 0.0 {
                let older = ln_area(&part.at(age * self.age_sd_ln.exp()));
                variance += (older - ln_now) * (older - ln_now);
            }
        }
        SectionLeft { ln_area: ln_now, variance, cracked: state.cracked }
    }
}

fn ln_area(state: &SteelState) -> f64 {
    state.area_left.median.get().max(1e-6).ln()
}

impl Frame {
    /// Probability of holding `load`, 0..1.
    pub fn holds(&self, load: Force) -> f64 {
        self.holds_ln(load.as_n().max(1e-9).ln())
    }

    fn holds_ln(&self, ln_load: f64) -> f64 {
        (self.survives_shown(ln_load) / self.shown_chance).clamp(0.0, 1.0)
    }

    /// [`Frame::survives`] over the uncertain greatest load survived in service.
    fn survives_shown(&self, ln_load: f64) -> f64 {
        if self.service.is_empty() {
            return self.survives(ln_load, f64::NEG_INFINITY);
        }
        let mut beyond = 0.0;
        let mut total = 0.0;
        for (weight, ln_served) in &self.service {
            if *ln_served <= ln_load {
                beyond += weight;
            } else {
                total += weight * self.survives(ln_load, *ln_served);
            }
        }
        if beyond > 0.0 {
            total += beyond * self.survives(ln_load, f64::NEG_INFINITY);
        }
        total
    }

    /// Joint probability that every mode exceeds the load, what it has been proved to, and what it has
    /// survived in service.
    fn survives(&self, ln_load: f64, ln_served: f64) -> f64 {
        let table = Table::get();
        let mut total = 0.0;
        for state in &self.states {
            let chance = |ln_served: f64| {
                let within = |z: f64| {
                    let mut product = 1.0;
                    for mode in &state.modes {
                        let ln_x = ln_load.max(mode.ln_proved).max(ln_served + mode.ln_lost_since);
                        product *=
                            table.cdf((mode.ln_median + mode.rock_loading * z - ln_x) * mode.inverse_own_sd);
                    }
                    product
                };
                if self.shares_rock {
                    HERMITE_7.iter().map(|(z, weight)| weight * within(*z)).sum()
                } else {
                    within(0.0)
                }
            };
            let mut held = chance(ln_served);
            if state.is_cracked && ln_served > f64::NEG_INFINITY {
                held = 0.5 * (held + chance(f64::NEG_INFINITY));
            }
            total += state.weight * held;
        }
        total
    }

    /// The load that is exceeded with probability `1 - p` (0 < p < 1): the `p` fractile of the
    /// resistance. Found by bracketing in ln(load) and the Illinois rule on the probit scale, to 0.1 %.
    pub fn fractile(&self, p: f64) -> Force {
        let target = normal::quantile(1.0 - p);
        let miss = |ln_x: f64| normal_probit(self.holds_ln(ln_x)) - target;
        // first guess: the weakest mode of the likeliest state
        let weakest = self
            .states
            .iter()
            .max_by(|a, b| a.weight.total_cmp(&b.weight))
            .and_then(|s| s.modes.iter().min_by(|a, b| a.ln_median.total_cmp(&b.ln_median)));
        let Some(weakest) = weakest else { return Force::n(0.0) };
        let own_sd = (1.0 / weakest.inverse_own_sd).hypot(weakest.rock_loading);
        let mut low = weakest.ln_median - own_sd * target.max(-1.0) - 0.25;
        let mut high = low + 0.5;
        let (mut at_low, mut at_high) = (miss(low), miss(high));
        let mut step = 0.5;
        while at_low < 0.0 && low > -20.0 {
            (high, at_high) = (low, at_low);
            low -= step;
            at_low = miss(low);
            step *= 2.0;
        }
        step = 0.5;
        while at_high > 0.0 && high < 30.0 {
            (low, at_low) = (high, at_high);
            high += step;
            at_high = miss(high);
            step *= 2.0;
        }
        for _ in 0..40 {
            if high - low < 1e-3 || at_low == at_high {
                break;
            }
            let mut middle = low + (high - low) * at_low / (at_low - at_high);
            if !(middle > low && middle < high) {
                middle = 0.5 * (low + high);
            }
            let at_middle = miss(middle);
            if at_middle.abs() < 1e-3 {
                return Force::n(middle.exp());
            }
            if at_middle > 0.0 {
                (low, at_low) = (middle, at_middle);
                at_high *= 0.5;
            } else {
                (high, at_high) = (middle, at_middle);
                at_low *= 0.5;
            }
        }
        Force::n((0.5 * (low + high)).exp())
    }

    /// Probability of each mode being the weakest, in the order of the standing's modes; adds to 1.
    ///
    /// Computed at the median of the rock strength in the likeliest state, by the midpoint rule over
    /// 24 steps of ln(load).
    pub(crate) fn governs(&self) -> SmallVec<[f64; 8]> {
        let table = Table::get();
        let mut shares: SmallVec<[f64; 8]> = SmallVec::new();
        let Some(state) = self.states.iter().max_by(|a, b| a.weight.total_cmp(&b.weight)) else {
            return shares;
        };
        shares.resize(state.modes.len(), 0.0);
        let sd = |m: &FrameMode| (1.0 / m.inverse_own_sd).hypot(m.rock_loading);
        let low = state.modes.iter().map(|m| m.ln_median - 4.0 * sd(m)).fold(f64::INFINITY, f64::min);
        let high = state.modes.iter().map(|m| m.ln_median + 3.0 * sd(m)).fold(f64::INFINITY, f64::min);
        const STEPS: usize = 24;
        let width = (high - low) / STEPS as f64;
        let above = |m: &FrameMode, ln_x: f64| table.cdf((m.ln_median - ln_x) / sd(m));
        for i in 0..STEPS {
            let left = low + width * i as f64;
            let middle: SmallVec<[f64; 8]> =
                state.modes.iter().map(|m| above(m, left + 0.5 * width)).collect();
            for (k, m) in state.modes.iter().enumerate() {
                let falls_here = above(m, left) - above(m, left + width);
                let others: f64 =
                    middle.iter().enumerate().filter(|(j, _)| *j != k).map(|(_, s)| s).product();
                shares[k] += falls_here * others;
            }
        }
        let total: f64 = shares.iter().sum();
        if total > 0.0 {
            shares.iter_mut().for_each(|s| *s /= total);
        }
        shares
    }

    /// Fractile of one mode alone in the likeliest state, in the order of the standing's modes.
    pub(crate) fn mode_fractile(&self, index: usize, z: f64) -> Option<(Mode, Force)> {
        let state = self.states.iter().max_by(|a, b| a.weight.total_cmp(&b.weight))?;
        let mode = state.modes.get(index)?;
        let sd = (1.0 / mode.inverse_own_sd).hypot(mode.rock_loading);
        let ln_fractile = if mode.ln_proved > f64::NEG_INFINITY {
            // truncated below at the proof: p -> p + (1 - p) P(R < proof)
            let below = normal::cdf((mode.ln_proved - mode.ln_median) / sd).min(1.0 - 1e-12);
            let p = below + (1.0 - below) * normal::cdf(z);
            mode.ln_median + sd * normal::quantile(p.clamp(1e-12, 1.0 - 1e-12))
        } else {
            mode.ln_median + sd * z
        };
        Some((mode.mode, Force::n(ln_fractile.exp())))
    }
}

/// Probit with finite ends, for root finding.
fn normal_probit(p: f64) -> f64 {
    normal::quantile(p.clamp(1e-12, 1.0 - 1e-12))
}
