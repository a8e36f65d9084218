//! How a placement stands: its modes, hidden states and tests, as one distribution of resistance.
//!
//! Model. A placement is in one of several states: with or without a hidden setting defect, its bolt and
//! its hanger each cracked or not by stress corrosion. In each state every mode `m` has
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
//! Steel lost since then and the damage that signs tell of lower what was shown; a bolt that is cracked
//! now had cracked before half of the counted loads (judgement).
//! Source: weakest-link model with one common factor, e.g. Thoft-Christensen & Murotsu, Application of
//! Structural Systems Reliability Theory, 1986, ch. 5 (from memory); states and their weights:
//! judgement.

use crate::frame::{Frame, FrameMode, Spread};
use decay::{Cracking, Decay, SteelState};
use evidence::SettingDefect;
use resistance::{Mode, Source};
use smallvec::SmallVec;

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
    /// What signs have taken off, as ln (<= 0): damage that may be newer than the loads it survived.
    pub ln_damage: f64,
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

    /// True for modes of steel: cracks weaken them, rock and setting do not.
    fn is_metal(&self) -> bool {
        matches!(self.mode, Mode::Steel | Mode::Hanger)
    }
}

/// A part of metal.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Part {
    /// Its past and future.
    pub history: Decay,
    /// How it is at the date of the judgement.
    pub today: SteelState,
    /// What it still holds once cracked; `None` where its metal does not crack.
    pub cracking: Option<Cracking>,
}

impl Part {
    pub fn new(history: Decay, age_years: f64) -> Self {
        Self { history, today: history.at(age_years), cracking: history.cracking() }
    }
}

/// How a placement stands at a date: everything that the figures of its judgement follow from.
#[derive(Clone, Debug)]
pub struct Standing {
    pub(crate) modes: SmallVec<[StandingMode; 8]>,
    /// The bolt's steel.
    pub(crate) steel: Part,
    /// The hanger's plate, where it is a part of its own.
    pub(crate) plate: Option<Part>,
    /// Age in years and the standard deviation of its logarithm (0 where the age is known).
    pub(crate) age_years: f64,
    pub(crate) age_sd_ln: f64,
    pub(crate) defect_chance: f64,
    pub(crate) defect: &'static SettingDefect,
    /// Greatest load survived in service: (weight, ln of newtons); empty where none is counted.
    pub(crate) service: SmallVec<[(f64, f64); 4]>,
}

impl Standing {
    /// The distribution of resistance `years_ahead` (>= 0, years) after the date of the judgement,
    /// with the given treatment of what is unknown. Loss of steel follows the same knowledge: fixed at
    /// `z` means a rate that is `-z` standard deviations from its median.
    pub fn frame(&self, years_ahead: f64, knowledge: Knowledge) -> Frame {
        let left = self.left(years_ahead, knowledge);
        let modes = self.modes.iter().map(|mode| self.framed(mode, &left, knowledge));
        Frame::new(modes.collect(), self.defect_chance, &self.service)
    }

    /// [`Standing::frame`] from the frame of today with the same knowledge: only metal ages.
    pub(crate) fn later(&self, now: &Frame, years_ahead: f64, knowledge: Knowledge) -> Frame {
        let left = self.left(years_ahead, knowledge);
        now.with_metal(|i| self.framed(&self.modes[i], &left, knowledge))
    }

    fn framed(&self, mode: &StandingMode, left: &Left, knowledge: Knowledge) -> FrameMode {
        let total = mode.total_variance();
        let (shift, mut variance, rock_loading) = match knowledge {
            Knowledge::Spread => (0.0, total - mode.rock_loading * mode.rock_loading, mode.rock_loading),
            Knowledge::Fixed(z) => {
                let fixed = mode.fixed_variance();
                (z * (total - fixed).max(0.0).sqrt(), fixed, 0.0)
            }
        };
        let (part, left) = match (mode.mode, &self.plate, &left.plate) {
            (Mode::Hanger, Some(part), Some(left)) => (part, left),
            _ => (&self.steel, &left.steel),
        };
        let power = mode.section_exponent;
        let lost = power * left.ln_area;
        variance += power * power * left.variance;
        let sound =
            Spread { ln_median: mode.ln_median + shift + lost, rock_loading, variance: variance.max(1e-6) };
        let weakened = if mode.is_metal() {
            part.cracking.map(|c| c.strength_left).map(|k| sound.times(k.median.get().max(1e-6), k.sd_ln))
        } else {
            let concerned = self.defect.modes.contains(&mode.mode);
            concerned.then(|| sound.times(self.defect.ratio, self.defect.sd_ln))
        };
        let lost_since = |then: &SteelState| if power == 0.0 { 0.0 } else { lost - power * ln_area(then) };
        FrameMode {
            is_metal: mode.is_metal(),
            sound: sound.prepared(),
            weakened: weakened.map(Spread::prepared),
            cracked: if mode.is_metal() && part.cracking.is_some() {
                left.cracked.clamp(0.0, 1.0)
            } else {
                0.0
            },
            ln_proved: mode.proved_ln.map_or(f64::NEG_INFINITY, |proved| {
                proved.ln_load + lost_since(&part.history.at((self.age_years - proved.years_ago).max(0.0)))
            }),
            ln_lost_since: mode.ln_damage
                + if self.service.is_empty() || power == 0.0 {
                    0.0
                } else {
                    // what it survived says less as the doubt about later loss grows
                    let doubt = (left.variance.sqrt() - part.today.area_left.sd_ln).max(0.0);
                    lost_since(&part.today).min(0.0) - power * doubt
                },
        }
    }

    fn left(&self, years_ahead: f64, knowledge: Knowledge) -> Left {
        let age = self.age_years + years_ahead;
        let steel = self.section_left(&self.steel, age, knowledge);
        let plate = self.plate.as_ref().map(|plate| self.section_left(plate, age, knowledge));
        Left { steel, plate }
    }
}

/// What is left of the metal at an age.
struct Left {
    steel: SectionLeft,
    plate: Option<SectionLeft>,
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
    fn section_left(&self, part: &Part, age: f64, knowledge: Knowledge) -> SectionLeft {
        let state = match knowledge {
            Knowledge::Spread => part.history.at(age),
            Knowledge::Fixed(z) => part.history.at_shifted(age * (-z * self.age_sd_ln).exp(), -z),
        };
        let ln_now = ln_area(&state);
        let mut variance = 0.0;
        if knowledge == Knowledge::Spread {
            variance = state.area_left.sd_ln * state.area_left.sd_ln;
            if self.age_sd_ln > 0.0 {
                let older = ln_area(&part.history.at(age * self.age_sd_ln.exp()));
                variance += (older - ln_now) * (older - ln_now);
            }
        }
        SectionLeft { ln_area: ln_now, variance, cracked: state.cracked }
    }
}

fn ln_area(state: &SteelState) -> f64 {
    state.area_left.median.get().max(1e-6).ln()
}

#[cfg(test)]
mod tests {
    //! The quadrature against plain simulation of the model as the top comment states it.

    use super::*;
    use evidence::setting_defect;
    use hardware::{Kind, Material};
    use rand::SeedableRng;
    use rand_chacha::ChaCha8Rng;
    use rand_distr::{Distribution, StandardNormal, Uniform};
    use units::{Force, Length};

    fn mode(mode: Mode, median_kn: f64, rock_sd: f64, own_sd: f64) -> StandingMode {
        let mut variance = [0.0; Source::COUNT];
        variance[Source::RockStrength as usize] = rock_sd * rock_sd;
        variance[Source::Model as usize] = own_sd * own_sd;
        StandingMode {
            mode,
            ln_median: (median_kn * 1e3).ln(),
            variance,
            ln_damage: 0.0,
            rock_loading: rock_sd,
            section_exponent: 0.0,
            proved_ln: None,
        }
    }

    /// A glue-in of a cracking alloy whose four modes all have a say.
    fn standing() -> Standing {
        let sea = decay::Environment {
            setting: Some(decay::Setting::SeaCliff),
            shelter: Some(decay::Shelter::Sheltered),
            ..decay::Environment::default()
        };
        let alloy = Some(Material::Stainless304);
        let diameter = Length::mm(10.0);
        let steel = decay::prepare(alloy, None, &sea, diameter, None, &mut reckoning::Silent);
        Standing {
            modes: SmallVec::from_vec(vec![
                mode(Mode::Steel, 14.0, 0.0, 0.15),
                mode(Mode::Cone, 16.0, 0.3, 0.3),
                mode(Mode::Bond, 13.0, 0.25, 0.35),
                mode(Mode::PryOut, 18.0, 0.4, 0.3),
            ]),
            steel: Part::new(steel, 12.0),
            plate: None,
            age_years: 12.0,
            age_sd_ln: 0.0,
            defect_chance: 0.2,
            defect: setting_defect(Some(Kind::GlueIn)),
            service: SmallVec::from_vec(vec![(0.5, 3e3_f64.ln()), (0.5, 6e3_f64.ln())]),
        }
    }

    #[test]
    fn agrees_with_simulation() {
        let standing = standing();
        let cracked_chance = standing.steel.today.cracked;
        assert!((0.05..0.9).contains(&cracked_chance), "cracks must matter here: {cracked_chance}");
        let left = standing.steel.cracking.unwrap().strength_left;
        let mut dice = ChaCha8Rng::seed_from_u64(20_260_101);
        let uniform = Uniform::new(0.0, 1.0).unwrap();
        let normal = |dice: &mut ChaCha8Rng| -> f64 { StandardNormal.sample(dice) };
        // the weakest mode of each draw that survived its service
        let mut kept: Vec<f64> = Vec::new();
        let draws = 400_000;
        for _ in 0..draws {
            let z = normal(&mut dice);
            let cracked = uniform.sample(&mut dice) < cracked_chance;
            let badly_set = uniform.sample(&mut dice) < standing.defect_chance;
            let served = if uniform.sample(&mut dice) < 0.5 { 3e3_f64 } else { 6e3 };
            // of steel that is cracked now half of the loads came before the crack
            let steel_served = !cracked || uniform.sample(&mut dice) < 0.5;
            let (mut weakest, mut survived) = (f64::INFINITY, true);
            for m in &standing.modes {
                let own = m.variance[Source::Model as usize].sqrt();
                let mut ln_r = m.ln_median + m.rock_loading * z + own * normal(&mut dice);
                if m.is_metal() && cracked {
                    ln_r += left.median.get().ln() + left.sd_ln * normal(&mut dice);
                }
                if badly_set && standing.defect.modes.contains(&m.mode) {
                    ln_r += standing.defect.ratio.ln() + standing.defect.sd_ln * normal(&mut dice);
                }
                survived &= ln_r > served.ln() || (m.is_metal() && !steel_served);
                weakest = weakest.min(ln_r);
            }
            if survived {
                kept.push(weakest.exp());
            }
        }
        let frame = standing.frame(0.0, Knowledge::Spread);
        let n = kept.len() as f64;
        // four standard errors of a share from so many draws
        assert!((frame.shown_chance() - n / f64::from(draws)).abs() < 4.0 * (0.25 / f64::from(draws)).sqrt());
        for load_kn in [2.0, 4.0, 6.0, 8.0, 10.0, 14.0] {
            let simulated = kept.iter().filter(|r| **r > load_kn * 1e3).count() as f64 / n;
            let computed = frame.holds(Force::kn(load_kn));
            let allowed = 4.0 * (simulated * (1.0 - simulated) / n).sqrt() + 1e-3;
            assert!((computed - simulated).abs() < allowed, "{load_kn} kN: {computed} against {simulated}");
        }
    }
}
