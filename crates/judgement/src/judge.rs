//! The chain from a case to its judgement.

use crate::account;
use crate::call::{Grounds, decide};
use crate::case::Case;
use crate::frame::Frame;
use crate::missing::missing;
use crate::outcome::{Band, Chance, DemandView, Judgement, ModeView};
use crate::policy::Policy;
use crate::reasons::assemble;
use crate::standing::{Knowledge, Part, Proved, Standing, StandingMode};
use crate::statement::Statement;
use crate::years::{BAND_Z, years_left};
use demand::Demand;
use evidence::{Finding, Seen, Sign, actions_on, hidden_defect, setting_defect};
use hardware::Kind;
use reckoning::{Account, Scribe, Silent};
use resistance::{Anchorage, Mode, ModeSet, Source};
use rock::{RockStrength, Soundness};
use smallvec::SmallVec;
use units::{Angle, Force, Length};

/// z of the 25 % fractile: the confidence of 75 % that a characteristic value is stated with.
const Z_75: f64 = 0.674_489_750_196_1;
/// z of the 5 % fractile.
pub(crate) const Z_05: f64 = -1.644_853_626_951_5;

/// Everything a judgement was made of, for charts and what-if questions.
#[derive(Clone, Debug)]
pub struct Assessed {
    /// The judgement.
    pub judgement: Judgement,
    /// How the placement stands: distributions now and later.
    pub standing: Standing,
    /// The load it will see.
    pub demand: Demand,
    /// The rock it stands in.
    pub rock: RockStrength,
}

impl Assessed {
    /// Chance that the placement fails under the use it gets within `years` (> 0) from the date of the
    /// judgement, 0..1.
    ///
    /// `P = 1 - E[P(R > greatest load of those years)]`: the resistance is drawn once, as it will be
    /// halfway, so that a placement which holds the first year is likely to hold the next; treating years
    /// as independent would overstate it. Source: time-dependent reliability with one resistance and
    /// Poisson loads (textbook); halfway is an approximation (judgement).
    pub fn fails_within(&self, years: f64) -> f64 {
        let years = years.max(0.0);
        let mut over_years = self.demand;
        over_years.falls_per_year.median = self.demand.falls_per_year.median * years;
        let frame = self.standing.frame(0.5 * years, Knowledge::Spread);
        1.0 - YearNodes::of(&over_years).held_by(&frame)
    }
}

/// Judges one case.
///
/// Inputs and their units: see [`Case`]. Output: see [`Judgement`]; forces in newtons, chances 0..1,
/// times in years. Never fails: what is not known widens the answer. Sources: the models of the crates
/// below, each named in the account ([`explain`]); their combination: see [`Standing`].
pub fn judge(case: &Case, policy: &Policy) -> Judgement {
    assess_with(case, policy, &mut Silent).judgement
}

/// Judges one case and keeps what the judgement was made of.
pub fn assess(case: &Case, policy: &Policy) -> Assessed {
    assess_with(case, policy, &mut Silent)
}

/// Judges one case and takes down every step from the inputs to the call.
pub fn explain(case: &Case, policy: &Policy) -> (Assessed, Account) {
    let mut account = Account::default();
    let assessed = assess_with(case, policy, &mut account);
    (assessed, account)
}

/// How a case stands against a load in another direction than that of use, e.g. that of a pull test:
/// 0 = straight out of the rock, 90 degrees = along the face. For comparing pulls with what would have
/// been judged for them ([`Frame::fractile`] of 0.5 and its neighbours).
pub fn stand_towards(case: &Case, policy: &Policy, direction: Angle) -> Standing {
    let anchorage = Anchorage {
        fitting: case.fitting,
        rock: rock::strength(&case.rock, &mut Silent),
        surroundings: case.surroundings,
        proud: case.proud,
        direction,
        direction_spread: Angle::deg(0.0),
    };
    let mut modes = resistance::modes(&anchorage, &mut Silent);
    modes.retain(|m| m.median.is_finite());
    stand(case, policy, &anchorage, &modes, &mut Silent)
}

fn assess_with(case: &Case, policy: &Policy, scribe: &mut impl Scribe) -> Assessed {
    let rock = rock::strength(&case.rock, scribe);
    let demand = demand::demand(&case.position, scribe);
    let anchorage = Anchorage {
        fitting: case.fitting,
        rock,
        surroundings: case.surroundings,
        proud: case.proud,
        direction: demand.direction,
        direction_spread: demand.direction_spread,
    };
    let mut modes = resistance::modes(&anchorage, scribe);
    modes.retain(|m| m.median.is_finite());
    let mut standing = stand(case, policy, &anchorage, &modes, scribe);
    let (outlived, now) = serve(&mut standing, case, &demand, policy, scribe);
    let worse = standing.frame(0.0, Knowledge::Fixed(-BAND_Z));
    let better = standing.frame(0.0, Knowledge::Fixed(BAND_Z));
    let cautious = standing.frame(0.0, Knowledge::Fixed(-Z_75));

    let resistance = now.band();
    // The 5 % fractile can lie below the cautious one: both are lower bounds, the smaller is stated.
    let characteristic = cautious.fractile(0.05).min(resistance.p05);
    let governs = now.governs();

    let hard = |frame: &Frame| frame.holds(demand.hard_fall);
    let holds_hard_fall = chance(hard(&now), hard(&worse), hard(&better));
    let year = YearNodes::of(&demand);
    let holds_year = chance(year.held_by(&now), year.held_by(&worse), year.held_by(&better));
    let years_left = years_left(&standing, demand.hard_fall, [&now, &worse, &better], &policy.thresholds);

    let loss_variance = standing.steel.today.area_left.sd_ln.powi(2);
    let missing = missing(&standing, &governs, loss_variance);
    let mut views: Vec<ModeView> = (0..standing.modes.len())
        .filter_map(|i| {
            let at = |z: f64| now.mode_fractile(i, z);
            Some(ModeView {
                mode: standing.modes[i].mode,
                band: Band { p05: at(Z_05)?, p50: at(0.0)?, p95: at(-Z_05)? },
                governs: governs.get(i).copied().unwrap_or(0.0),
            })
        })
        .collect();
    views.sort_by(|a, b| a.band.p50.as_n().total_cmp(&b.band.p50.as_n()));
    let governing = views
        .iter()
        .max_by(|a, b| a.governs.total_cmp(&b.governs))
        .map_or(Mode::Experience, |view| view.mode);

    // what the counted loads of service have done to the chance
    let mut unserved = None;
    if now.shown_chance() < 0.98 && !standing.service.is_empty() {
        let mut without = standing.clone();
        without.service.clear();
        unserved = Some(without.frame(0.0, Knowledge::Spread));
    }
    let kept_by_service = unserved.as_ref().is_some_and(|frame| hard(frame) < policy.thresholds.renew_below);
    let grounds = Grounds {
        kind: case.fitting.kind,
        hard_fall: holds_hard_fall,
        years_left,
        age_years: case.age_years,
        last_seen_years_ago: case.last_seen_years_ago,
        gave_way: case.gave_way_years_ago,
        outlived,
        recalled: case.recalled,
        signs: &case.signs,
        holds_year,
        kept_by_service,
        spent: standing.steel.history.is_spent(standing.age_years),
        policy,
    };
    let (call, rules) = decide(&grounds);
    let mut influences = influences(case, policy, &standing, &anchorage, &modes, &governs, &now);
    if let Some(frame) = unserved {
        let effect = resistance.p05 / frame.fractile(0.05);
        influences.push((Statement::Served { from: hard(&frame), to: holds_hard_fall.best }, effect));
    }
    let reasons = assemble(
        &rules,
        call,
        demand.hard_fall,
        (holds_hard_fall, holds_year),
        influences,
        &missing,
        &case.fitting,
    );
    let judgement = Judgement {
        modes: views,
        governing,
        resistance,
        characteristic,
        demand: year.view(&demand),
        holds_hard_fall,
        holds_year,
        years_left,
        call,
        reasons,
        missing,
    };
    account::judgement(scribe, &judgement, &standing, governing.what_happens());
    Assessed { judgement, standing, demand, rock }
}

/// A chance whose band contains its best estimate.
fn chance(best: f64, low: f64, high: f64) -> Chance {
    Chance { best, low: low.min(best), high: high.max(best) }
}

/// The findings that act: those that no measurement replaces.
fn heard(case: &Case) -> SmallVec<[Seen; 8]> {
    case.signs.iter().copied().filter(|s| !measured_instead(case, s.sign)).collect()
}

/// True where a measurement already says what the sign would say, so that it is not counted twice.
fn measured_instead(case: &Case, sign: Sign) -> bool {
    match sign {
        Sign::Proud => case.proud.is_some(),
        Sign::RockHollow => case.rock.soundness == Some(Soundness::Drummy),
        Sign::RockCrack => case.rock.soundness == Some(Soundness::CloseJoint),
        Sign::Rust => case.measured_loss.is_some(),
        _ => false,
    }
}

fn stand(
    case: &Case,
    policy: &Policy,
    anchorage: &Anchorage,
    modes: &ModeSet,
    scribe: &mut impl Scribe,
) -> Standing {
    let rock_sd = anchorage.rock.ucs.sd_ln;
    let mut standing_modes: SmallVec<[StandingMode; 8]> = modes
        .iter()
        .map(|m| StandingMode {
            mode: m.mode,
            ln_median: m.median.as_n().max(1.0).ln(),
            variance: m.variance,
            ln_damage: 0.0,
            rock_loading: m.rock_exponent * rock_sd,
            section_exponent: m.section_exponent,
            proved_ln: None,
        })
        .collect();

    let heard = heard(case);
    for mode in &mut standing_modes {
        for (seen, action) in actions_on(mode.mode, &heard) {
            mode.ln_median += action.ratio.ln();
            mode.ln_damage += action.ratio.ln();
            mode.variance[Source::Sign as usize] += action.sd_ln * action.sd_ln;
            account::sign(scribe, &seen, mode.mode, action, mode.ln_median.exp());
        }
    }

    if case.gave_way_years_ago.is_some() {
        for mode in &mut standing_modes {
            mode.ln_median += GAVE_WAY.0.ln();
            mode.variance[Source::Sign as usize] += GAVE_WAY.1 * GAVE_WAY.1;
        }
        account::gave_way(scribe, GAVE_WAY);
    }

    if let Some((ratio, sd_ln)) = case.sisters {
        let taken = taken_from_sisters(ratio, policy);
        let shared = policy.sisters.shared_sd_ln;
        for mode in standing_modes.iter_mut().filter(|m| held_by_rock(m.mode)) {
            mode.ln_median += taken.ln();
            // what sisters share is doubt about the formula first, then about the crag's rock
            let mut removed = shared * shared;
            for source in [Source::Model, Source::RockStrength] {
                let variance = &mut mode.variance[source as usize];
                let part = removed.min(*variance);
                *variance -= part;
                removed -= part;
            }
            mode.rock_loading =
                mode.rock_loading.signum() * mode.variance[Source::RockStrength as usize].sqrt();
            mode.variance[Source::Model as usize] += sd_ln * sd_ln;
        }
        account::sisters(scribe, ratio, sd_ln, taken);
    }

    // A proof in another direction than that of use proves each mode in proportion to its two medians.
    if let Some(proof) = strongest_proof(case) {
        let turned = Anchorage {
            direction: if proof.axial { Angle::deg(0.0) } else { Angle::deg(90.0) },
            direction_spread: Angle::deg(0.0),
            ..*anchorage
        };
        let as_tested = resistance::modes(&turned, &mut Silent);
        for (mode, in_use) in standing_modes.iter_mut().zip(modes) {
            let tested = as_tested.iter().find(|m| m.mode == mode.mode).map(|m| m.median.as_n());
            if let Some(tested) = tested.filter(|n| n.is_finite() && *n > 0.0) {
                let newer_damage = case.last_seen_years_ago.is_some_and(|seen| seen < proof.years_ago);
                let ln_load = proof.load.as_n().max(1.0).ln()
                    + (in_use.median.as_n() / tested).ln()
                    + if newer_damage { mode.ln_damage } else { 0.0 };
                mode.proved_ln = Some(Proved { ln_load, years_ago: proof.years_ago });
            }
        }
        account::proof(scribe, &proof);
    }

    let diameter = hardware::usual_diameter(case.fitting.kind);
    let diameter = case.fitting.diameter.unwrap_or(diameter.median);
    let loaded = hardware::section(case.fitting.kind, diameter).area_mm2.max(1.0);
    let loaded_diameter = Length::mm((4.0 * loaded / std::f64::consts::PI).sqrt());
    let age_years = case.age_years.unwrap_or(policy.unknown_age.median_years);
    let age_sd_ln = if case.age_years.is_some() { 0.0 } else { policy.unknown_age.sd_ln };
    let steel = decay::prepare(
        case.fitting.material,
        case.fitting.hanger_material,
        &case.environment,
        loaded_diameter,
        case.measured_loss.map(|(loss, years_ago)| (loss, (age_years - years_ago).max(0.0))),
        scribe,
    );
    let has_plate = !matches!(case.fitting.kind, Some(Kind::GlueIn | Kind::Piton));
    let plate = has_plate.then(|| {
        decay::prepare_plate(
            case.fitting.hanger_material,
            case.fitting.material,
            &case.environment,
            HANGER_PLATE,
            None,
            scribe,
        )
    });
    let defect = setting_defect(case.fitting.kind);
    let mut defect_chance = hidden_defect(case.fitting.kind, &case.signs);
    if case.recalled {
        defect_chance = defect_chance.max(policy.recall.defect_share);
    }
    account::states(
        scribe,
        (&steel, plate.as_ref()),
        age_years,
        case.age_years.is_some(),
        defect,
        defect_chance,
        case.recalled,
    );
    Standing {
        modes: standing_modes,
        steel: Part::new(steel, age_years),
        plate: plate.map(|plate| Part::new(plate, age_years)),
        age_years,
        age_sd_ln,
        defect_chance,
        defect,
        service: SmallVec::new(),
    }
}

/// Counts the loads survived in service: those of the last years, a share of them, at most a few, so
/// that a guess at how often people fall never proves much. The greatest of `n` loads has the
/// distribution `G(x)^n`. Source: survival of service loads as proof loading (textbook); counting:
/// policy (judgement). Returns whether what it has survived contradicts what is judged, and the best
/// estimate of today.
fn serve(
    standing: &mut Standing,
    case: &Case,
    demand: &Demand,
    policy: &Policy,
    scribe: &mut impl Scribe,
) -> (bool, Frame) {
    let service = &policy.service;
    let years = (standing.age_years * (-standing.age_sd_ln).exp()).min(service.counted_years);
    let loadings = demand.falls_per_year.median.get() * (-demand.falls_per_year.sd_ln).exp();
    let counted = (loadings * years * service.counted_share).min(service.most_counted);
    if counted < 0.25 || case.gave_way_years_ago.is_some() {
        return (false, standing.frame(0.0, Knowledge::Spread));
    }
    // three-point Gauss-Legendre rule in probability
    let below_ceiling = demand.per_fall.cdf(demand.ceiling);
    standing.service = [(5.0 / 18.0, 0.112_701_665), (8.0 / 18.0, 0.5), (5.0 / 18.0, 0.887_298_335_f64)]
        .into_iter()
        .map(|(weight, p)| {
            let load = demand.per_fall.fractile(p.powf(1.0 / counted) * below_ceiling).min(demand.ceiling);
            (weight, load.as_n().max(1.0).ln())
        })
        .collect();
    let served = standing.frame(0.0, Knowledge::Spread);
    if served.shown_chance() < OUTLIVED {
        standing.service.clear();
        account::outlived(scribe, counted);
        return (true, standing.frame(0.0, Knowledge::Spread));
    }
    account::service(scribe, counted, years, standing.service[1].1.exp());
    (false, served)
}

/// A placement that had less than this chance to survive what it has survived contradicts its judged
/// strength: the service is then not counted, and people are asked to look. Source: judgement.
const OUTLIVED: f64 = 0.01;

/// What is left of a fitting that gave way in a pull: median ratio and standard deviation of ln.
/// Source: judgement; it is to be treated as holding nothing.
const GAVE_WAY: (f64, f64) = (0.02, 1.0);

/// Usual thickness of a hanger's plate. Source: common practice, no source.
const HANGER_PLATE: Length = Length::mm(3.0);

/// True for modes whose hold depends on rock and setting, which sister fittings share. Pulls are mostly
/// straight out and tell nothing of an edge.
fn held_by_rock(mode: Mode) -> bool {
    !matches!(mode, Mode::Steel | Mode::Hanger | Mode::EdgeBreakout)
}

/// The factor that a ratio of sister pulls puts on a resistance: never a raise beyond the policy's.
fn taken_from_sisters(ratio: f64, policy: &Policy) -> f64 {
    ratio.clamp(1e-3, policy.sisters.most_raise)
}

fn strongest_proof(case: &Case) -> Option<crate::ProofHeld> {
    case.proofs.iter().copied().max_by(|a, b| a.load.as_n().total_cmp(&b.load.as_n()))
}

/// What moved the answer, each with its factor on the resistance that governs.
fn influences(
    case: &Case,
    policy: &Policy,
    standing: &Standing,
    anchorage: &Anchorage,
    modes: &ModeSet,
    governs: &[f64],
    now: &Frame,
) -> Vec<(Statement, f64)> {
    let mut list: Vec<(Statement, f64)> = Vec::new();
    // factor on the governing resistance from a factor on each mode
    let overall = |ln_factor: &dyn Fn(usize) -> f64| {
        governs.iter().enumerate().map(|(i, g)| g * ln_factor(i)).sum::<f64>().exp()
    };
    let heard = heard(case);
    for seen in heard.iter().filter(|s| s.finding != Finding::Absent) {
        // of each group of signs only the strongest acts on a mode
        let on = |i: usize| {
            actions_on(standing.modes[i].mode, &heard)
                .find(|(s, _)| s == seen)
                .map_or(0.0, |(_, action)| action.ratio.ln())
        };
        list.push((Statement::Sign(*seen), overall(&on)));
    }
    // the weakest mode with the edge or neighbour against the weakest without it
    let weakest = |set: &ModeSet| set.iter().map(|m| m.median.as_n()).fold(f64::INFINITY, f64::min);
    let without = |surroundings: rock::Surroundings| {
        let free = resistance::modes(&Anchorage { surroundings, ..*anchorage }, &mut Silent);
        (weakest(modes) / weakest(&free)).clamp(1e-3, 1.0)
    };
    let far = Length::m(2.0);
    if let Some(edge) = anchorage.surroundings.edge_distance.filter(|d| d.as_mm() < 250.0) {
        let effect = without(rock::Surroundings { edge_distance: Some(far), ..anchorage.surroundings });
        list.push((Statement::Edge(edge), effect));
    }
    if let Some(spacing) = anchorage.surroundings.spacing.filter(|d| d.as_mm() < 250.0) {
        let effect = without(rock::Surroundings { spacing: Some(far), ..anchorage.surroundings });
        list.push((Statement::Neighbour(spacing), effect));
    }
    let ucs = anchorage.rock.ucs.median.as_mpa();
    if ucs < REFERENCE_ROCK_MPA {
        let on = |i: usize| modes.get(i).map_or(0.0, |m| m.rock_exponent * (ucs / REFERENCE_ROCK_MPA).ln());
        list.push((Statement::WeakRock(anchorage.rock.ucs), overall(&on)));
    }
    let joints = anchorage.rock.joint_factor.median.get();
    if case.rock.soundness.is_some() && joints < 0.99 {
        let on = |i: usize| {
            if matches!(standing.modes[i].mode, Mode::Cone | Mode::EdgeBreakout | Mode::PryOut) {
                joints.ln()
            } else {
                0.0
            }
        };
        list.push((Statement::Joints, overall(&on)));
    }
    let steel = standing.steel.today;
    let area_left = steel.area_left.median.get();
    let on = |i: usize| standing.modes[i].section_exponent * area_left.max(1e-6).ln();
    let measured = case.measured_loss.is_some();
    if case.fitting.material.is_some() || measured {
        list.push((Statement::SteelLost { area_left, measured }, overall(&on)));
    }
    // bolt or hanger, whichever is more likely to be cracked
    let cracked = [Some(&standing.steel), standing.plate.as_ref()]
        .into_iter()
        .flatten()
        .filter_map(|part| Some((part.today.cracked, part.cracking?)))
        .max_by(|a, b| a.0.total_cmp(&b.0));
    if let Some((chance, cracking)) = cracked.filter(|(chance, _)| *chance > 1e-3) {
        let lost = 1.0 - cracking.strength_left.median.get();
        list.push((Statement::Cracking(chance), 1.0 - chance * lost));
    }
    let concerned: f64 = standing
        .modes
        .iter()
        .zip(governs)
        .filter(|(m, _)| standing.defect.modes.contains(&m.mode))
        .map(|(_, g)| g)
        .sum();
    if concerned > 0.1 {
        let chance = standing.defect_chance;
        list.push((Statement::HiddenDefect(chance), 1.0 - chance * (1.0 - standing.defect.ratio)));
    }
    if let Some(proof) = strongest_proof(case) {
        let mut untested = standing.clone();
        untested.modes.iter_mut().for_each(|m| m.proved_ln = None);
        let before = untested.frame(0.0, Knowledge::Spread).fractile(0.05);
        let effect = now.fractile(0.05) / before;
        let influence = Statement::Proof { load: proof.load, years_ago: proof.years_ago, axial: proof.axial };
        list.push((influence, effect));
    }
    if let Some((ratio, _)) = case.sisters {
        let ln_taken = taken_from_sisters(ratio, policy).ln();
        let on = |i: usize| if held_by_rock(standing.modes[i].mode) { ln_taken } else { 0.0 };
        list.push((Statement::Sisters(ratio), overall(&on)));
    }
    list
}

/// Strength of the concrete that product standards test in, MPa: rock below it holds less than a label
/// says. Source: EN 959 test block, about 50 N/mm2 cube strength (from memory).
const REFERENCE_ROCK_MPA: f64 = 40.0;

/// The greatest load of a year at a few probabilities, for the chance to hold a year.
struct YearNodes {
    loads: [Force; 11],
}

impl YearNodes {
    /// (probability, weight): Gauss-Legendre nodes in probability, two above 0.99, three down to 0.9,
    /// three below, so that the rare great loads are not missed. Between them, without weight, the
    /// fractiles that are shown.
    const NODES: [(f64, f64); 11] = [
        (0.997_886_751, 0.005),
        (0.992_113_249, 0.005),
        (0.979_856_850, 0.025),
        (0.95, 0.0),
        (0.945, 0.04),
        (0.910_143_150, 0.025),
        (0.798_568_502, 0.25),
        (0.5, 0.0),
        (0.45, 0.4),
        (0.101_431_499, 0.25),
        (0.05, 0.0),
    ];

    fn of(demand: &Demand) -> Self {
        Self { loads: demand::worst_year_fractiles(demand, Self::NODES.map(|(p, _)| p)) }
    }

    fn held_by(&self, frame: &Frame) -> f64 {
        let weighted = Self::NODES.iter().zip(self.loads).filter(|((_, weight), _)| *weight > 0.0);
        weighted.map(|((_, weight), load)| weight * frame.holds(load)).sum::<f64>().clamp(0.0, 1.0)
    }

    fn view(&self, demand: &Demand) -> DemandView {
        let at = |p: f64| demand.per_fall.fractile(p).min(demand.ceiling);
        DemandView {
            per_fall: Band { p05: at(0.05), p50: at(0.5), p95: at(0.95) },
            hard_fall: demand.hard_fall,
            worst_year: Band { p05: self.loads[10], p50: self.loads[7], p95: self.loads[3] },
            falls_per_year: demand.falls_per_year.median.get(),
            direction: demand.direction,
        }
    }
}
