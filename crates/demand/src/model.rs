//! From a position on a route to the distribution of the load.

use crate::impact::GRAVITY;
use crate::lognormal::{LnForce, Pool, mixture_fractile};
use crate::practice::{Assumption, Practice, practice};
use crate::{Demand, Position, Role};
use reckoning::{Origin, Scribe, Step, Term, Uncertain};
use units::{Angle, Force, Length, Ratio};

/// Three-point rules: for a normal variable (z, weight) and for an even one (p, weight).
const NORMAL_3: [(f64, f64); 3] =
    [(-1.732_050_807_568_877_2, 1.0 / 6.0), (0.0, 2.0 / 3.0), (1.732_050_807_568_877_2, 1.0 / 6.0)];
const EVEN_3: [(f64, f64); 3] =
    [(0.112_701_665_379_258_3, 5.0 / 18.0), (0.5, 8.0 / 18.0), (0.887_298_334_620_741_7, 5.0 / 18.0)];
/// A known value as a rule of one point.
const KNOWN: [(f64, f64); 1] = [(0.0, 1.0)];

/// Distribution of the load that one placement sees.
///
/// For a leader `a` above the placement with slack `s` and `H` of rope down to the belayer:
///
/// `h = 2 a + s`, `L_eff = a + s + H / R`, `F1 = W + sqrt(W^2 + 2 W K h / L_eff)`,
/// `F = [W + b c (F1 - W)] q(L)`, `F_top = min(F, R F_s) (1 + 1/R)`
///
/// with W = m g (N), rope modulus K (N), tension ratio R over the carabiner, share b of the peak that a
/// body passes on, share c that a lifted belayer leaves, relaxation q of a rope L = a + s + H long, and
/// slip tension F_s (N) of the belay device. Masses, ropes, devices and slack follow
/// `data/practice.toml`. `a` runs from 0 to the gap to the next placement (three-point rule), devices
/// are weighed one by one, the rest enters by its first derivatives; the minimum with the slip tension
/// is exact for log-normals. Height and gap that are not known enter as further three-point rules; the
/// number of the placement, if known, stands in for its height.
///
/// A lower-off mixes hanging and lowering, `W (1 + 1/R) j`, with falls on a rope from above; a belay
/// mixes hanging, `W n`, with falls on a single strand, `min(W + b (F1 - W), F_s)`. One bolt of a belay
/// or lower-off is taken to carry everything. Such a mixture is given as the log-normal with its median
/// and its 95 % fractile; `hard_fall` is the 95 % fractile of its falls alone.
///
/// The friction of lower runners is left out: it changes the force on the top bolt by a few per cent. No
/// credit is taken for ground contact.
///
/// Valid for placements up to about 60 m from the belayer; lengths that are not positive numbers count
/// as not known. Takes about a microsecond for a known position; allocates only if `scribe` keeps steps.
/// Source: energy model (Wexler 1950) with capstan friction; the statistics are judgement.
pub fn demand(p: &Position, scribe: &mut impl Scribe) -> Demand {
    let data = practice();
    let place = Place::new(p, data);
    let role = p.role;

    let (per_fall, fall) = match role {
        Some(Role::Runner) => {
            let fall = place.runner(data);
            (single(fall), single(fall))
        }
        Some(Role::LowerOff) => {
            let parts = place.lower_off(data);
            (mixed(&parts), single(parts[1].1))
        }
        Some(Role::Belay) => {
            let parts = belay(data);
            (mixed(&parts), single(parts[1].1))
        }
        None => {
            let shares = &data.role_shares;
            let runner = (shares.runner, place.runner(data));
            let [lo_hang, lo_fall] = place.lower_off(data).map(|(w, f)| (shares.lower_off * w, f));
            let [b_hang, b_fall] = belay(data).map(|(w, f)| (shares.belay * w, f));
            let falls = [runner, (shares.lower_off, lo_fall.1), (shares.belay, b_fall.1)];
            (mixed(&[runner, lo_hang, lo_fall, b_hang, b_fall]), mixed(&falls))
        }
    };
    let ceiling = place.ceiling(role, data);
    let hard_fall = fall.fractile(0.95).min(ceiling);

    let loadings = data.loadings(p.use_class);
    let falls_per_year = match role {
        Some(Role::Runner) => Uncertain::new(Ratio::of(loadings.runner), loadings.sd_ln),
        Some(Role::LowerOff) => Uncertain::new(Ratio::of(loadings.lower_off), loadings.sd_ln),
        Some(Role::Belay) => Uncertain::new(Ratio::of(loadings.belay), loadings.sd_ln),
        // between falls on a runner and hangs on a lower-off lies a factor of about ten
        None => {
            let s = &data.role_shares;
            let others = (s.lower_off + s.belay).clamp(0.0, 1.0);
            let apart = (loadings.lower_off / loadings.runner).ln();
            Uncertain::new(
                Ratio::of(loadings.runner * (others * apart).exp()),
                loadings.sd_ln.hypot(apart * (others * (1.0 - others)).sqrt()),
            )
        }
    };
    let direction = data.direction(p.steepness);

    let result = Demand {
        per_fall,
        ceiling,
        falls_per_year,
        hard_fall,
        direction: Angle::deg(direction.degrees),
        direction_spread: Angle::deg(direction.spread),
    };
    account(p, &place, data, &result, fall, scribe);
    result
}

/// A log-normal length in metres; `sd_ln = 0` where it is known.
#[derive(Clone, Copy, Debug)]
struct Span {
    median: f64,
    sd_ln: f64,
    known: bool,
}

impl Span {
    fn rule(&self) -> &'static [(f64, f64)] {
        if self.known { &KNOWN } else { &NORMAL_3 }
    }
    fn at(&self, z: f64) -> f64 {
        self.median * (self.sd_ln * z).exp()
    }
}

/// Height and gap of the placement with what is not known of them.
#[derive(Clone, Copy, Debug)]
struct Place {
    height: Span,
    gap: Span,
}

fn usable(length: Option<Length>) -> Option<f64> {
    length.map(Length::as_m).filter(|m| m.is_finite() && *m > 0.0)
}

impl Place {
    fn new(p: &Position, data: &Practice) -> Self {
        let gap = match usable(p.next_gap) {
            Some(m) => Span { median: m, sd_ln: 0.0, known: true },
            None => Span { median: data.gap.median, sd_ln: data.gap.sd_ln, known: false },
        };
        let height = match (usable(p.height), p.number) {
            // below half a metre the rope model has no rope left
            (Some(m), _) => Span { median: m.max(0.5), sd_ln: 0.0, known: true },
            (None, Some(n)) => Span {
                median: data.first_height.median + f64::from(n.max(1) - 1) * data.gap.median,
                sd_ln: data.first_height.sd_ln,
                known: false,
            },
            (None, None) => Span { median: data.height.median, sd_ln: data.height.sd_ln, known: false },
        };
        Self { height, gap }
    }

    /// Peak force of a leader's fall.
    fn runner(&self, data: &Practice) -> LnForce {
        let model = FallModel::new(data, &data.slack);
        let mut pool = Pool::default();
        let mut points = [(0.0, 0.0); 3];
        for (point, (p, w)) in points.iter_mut().zip(EVEN_3) {
            *point = (1.0 - (1.0 - p).powf(1.0 / data.fall_point.median), w);
        }
        for &(zh, wh) in self.height.rule() {
            let height = self.height.at(zh);
            for &(zg, wg) in self.gap.rule() {
                let gap = self.gap.at(zg);
                for (u, wu) in points {
                    model.add(&mut pool, wh * wg * wu, u * gap, height);
                }
            }
        }
        pool.pooled()
    }

    /// Hanging and lowering, and falls on a rope from above; with their shares.
    fn lower_off(&self, data: &Practice) -> [(f64, LnForce); 2] {
        let r = &data.friction_ratio;
        let hang =
            data.climber_mass.median * GRAVITY * (1.0 + 1.0 / r.median) * data.lowering_dynamics.median;
        let hang = LnForce {
            mean: hang.ln(),
            var: square(data.climber_mass.sd_ln)
                + square(data.lowering_dynamics.sd_ln)
                + square(r.sd_ln / (1.0 + r.median)),
        };
        let model = FallModel::new(data, &data.top_rope_slack);
        let mut pool = Pool::default();
        for &(z, w) in self.height.rule() {
            model.add(&mut pool, w, 0.0, self.height.at(z));
        }
        let share = data.shares.lower_off_fall;
        [(1.0 - share, hang), (share, pool.pooled())]
    }

    /// Force that no loading can exceed: heaviest climber, stiffest rope, least friction, rigid body,
    /// belayer who does not move, worst fall this position allows (fall factor 2 where it is not known).
    fn ceiling(&self, role: Option<Role>, data: &Practice) -> Force {
        let w = data.climber_mass.high * GRAVITY;
        let k = data.rope_modulus.high * 1e3;
        let r = data.friction_ratio.low;
        let peak = |f: f64| w + (w * w + 2.0 * w * k * f).sqrt();
        let height = if self.height.known { self.height.median } else { data.height.low };
        let factor = |above: f64, slack: f64| ((2.0 * above + slack) / (above + slack + height / r)).min(2.0);
        // a leader may have missed the next clip
        let gap = if self.gap.known { 2.0 * self.gap.median } else { data.gap.high };
        let runner = peak(factor(gap, data.slack.high)) * (1.0 + 1.0 / r);
        // somebody may stand a metre above the chain before lowering
        let lower_off = peak(factor(1.0, data.top_rope_slack.high)) * (1.0 + 1.0 / r);
        let belay = peak(data.belay_fall_factor.high);
        Force::n(match role {
            Some(Role::Runner) => runner,
            Some(Role::LowerOff) => lower_off,
            Some(Role::Belay) => belay,
            None => runner.max(lower_off).max(belay),
        })
    }
}

fn square(x: f64) -> f64 {
    x * x
}

/// Hanging, and falls straight onto the belay on a single strand; with their shares.
fn belay(data: &Practice) -> [(f64, LnForce); 2] {
    let w = data.climber_mass.median * GRAVITY;
    let hang = LnForce {
        mean: (w * data.belay_hang.median).ln(),
        var: square(data.climber_mass.sd_ln) + square(data.belay_hang.sd_ln),
    };
    let k = data.rope_modulus.median * 1e3 * data.rope_stiffening.median;
    let b = data.body_softness.median;
    let mut pool = Pool::default();
    for (z, weight) in NORMAL_3 {
        let factor = &data.belay_fall_factor;
        let f = (factor.median * (factor.sd_ln * z).exp()).min(factor.high);
        let s = (w * w + 2.0 * w * k * f).sqrt();
        let force = w + b * s;
        let by_mass = w * (1.0 + b * (w + k * f) / s) / force;
        let by_modulus = b * w * k * f / s / force;
        let by_body = b * s / force;
        let fall = LnForce {
            mean: force.ln(),
            var: square(by_mass * data.climber_mass.sd_ln)
                + square(by_modulus) * (square(data.rope_modulus.sd_ln) + square(data.rope_stiffening.sd_ln))
                + square(by_body * data.body_softness.sd_ln)
                + square(data.model_error.sd_ln),
        };
        for device in &data.device {
            let caught = match device.slip_kn {
                Some(slip) => fall.min(LnForce { mean: (slip * 1e3).ln(), var: square(device.sd_ln) }),
                None => fall,
            };
            pool.add(weight * device.share, caught);
        }
    }
    let share = data.shares.belay_fall;
    [(1.0 - share, hang), (share, pool.pooled())]
}

fn single(force: LnForce) -> Uncertain<Force> {
    Uncertain::new(Force::n(force.mean.exp()), force.var.sqrt())
}

/// The log-normal with the median and the 95 % fractile of a mixture.
fn mixed(parts: &[(f64, LnForce)]) -> Uncertain<Force> {
    let median = mixture_fractile(parts, 0.5);
    let high = mixture_fractile(parts, 0.95);
    Uncertain::new(Force::n(median.exp()), (high - median) / 1.644_853_626_951_472_7)
}

/// The fall model at its medians, with what does not depend on the geometry worked out once.
struct FallModel<'a> {
    data: &'a Practice,
    slack: &'a Assumption,
    weight: f64,
    modulus: f64,
    ratio: f64,
}

/// One fall worked out at the medians: force on the top bolt and the numbers on the way.
#[derive(Clone, Copy, Debug)]
struct Fall {
    free_fall: f64,
    effective: f64,
    rigid: f64,
    relaxation: f64,
    top: f64,
    /// Derivatives of ln(top) to the logarithms of mass, modulus, softness, slack and ratio.
    by_mass: f64,
    by_modulus: f64,
    by_softness: f64,
    by_slack: f64,
    by_ratio: f64,
}

impl<'a> FallModel<'a> {
    fn new(data: &'a Practice, slack: &'a Assumption) -> Self {
        Self {
            data,
            slack,
            weight: data.climber_mass.median * GRAVITY,
            modulus: data.rope_modulus.median * 1e3 * data.rope_stiffening.median,
            ratio: data.friction_ratio.median,
        }
    }

    /// A fall from `above` the placement, `height` of rope below it; `softness` = b c.
    fn fall(&self, above: f64, height: f64, softness: f64) -> Fall {
        let (w, k, r, slack) = (self.weight, self.modulus, self.ratio, self.slack.median);
        let free_fall = 2.0 * above + slack;
        let rope = above + slack + height;
        let effective = above + slack + height / r;
        let f = free_fall / effective;
        let s = (w * w + 2.0 * w * k * f).sqrt();
        let force = w + softness * s;
        let limits = &self.data.relaxation_at_5m;
        let relaxation = (limits.median - self.data.relaxation_per_ln_length.median * (rope / 5.0).ln())
            .clamp(limits.low, limits.high);
        let by_factor = softness * w * k * f / s / force;
        Fall {
            free_fall,
            effective,
            rigid: w + s,
            relaxation,
            top: force * relaxation * (1.0 + 1.0 / r),
            by_mass: w * (1.0 + softness * (w + k * f) / s) / force,
            by_modulus: by_factor,
            by_softness: softness * s / force,
            by_slack: by_factor * (slack / free_fall - slack / effective),
            by_ratio: by_factor * height / r / effective - 1.0 / (r + 1.0),
        }
    }

    fn variance(&self, fall: &Fall, lifted: bool) -> f64 {
        let d = self.data;
        let lift = if lifted { square(d.belayer_lift.sd_ln) } else { 0.0 };
        square(fall.by_mass * d.climber_mass.sd_ln)
            + square(fall.by_modulus) * (square(d.rope_modulus.sd_ln) + square(d.rope_stiffening.sd_ln))
            + square(fall.by_softness) * (square(d.body_softness.sd_ln) + lift)
            + square(fall.by_slack * self.slack.sd_ln)
            + square(fall.by_ratio * d.friction_ratio.sd_ln)
            + square(d.relaxation_at_5m.sd_ln)
            + square(d.model_error.sd_ln)
    }

    fn ln_top(&self, above: f64, height: f64, lifted: bool) -> LnForce {
        let lift = if lifted { self.data.belayer_lift.median } else { 1.0 };
        let fall = self.fall(above, height, self.data.body_softness.median * lift);
        LnForce { mean: fall.top.ln(), var: self.variance(&fall, lifted) }
    }

    /// Adds the fall held by each kind of device.
    fn add(&self, pool: &mut Pool, weight: f64, above: f64, height: f64) {
        let free = self.ln_top(above, height, true);
        let held = self.ln_top(above, height, false);
        let (r, r_sd) = (self.ratio, self.data.friction_ratio.sd_ln);
        for device in &self.data.device {
            let fall = if device.lifted { free } else { held };
            let caught = match device.slip_kn {
                Some(slip) => fall.min(LnForce {
                    mean: (slip * 1e3 * (1.0 + r)).ln(),
                    var: square(device.sd_ln) + square(r_sd * r / (1.0 + r)),
                }),
                None => fall,
            };
            pool.add(weight * device.share, caught);
        }
    }
}

fn assumed(symbol: &'static str, a: &'static Assumption) -> Term {
    Term::new(symbol, a.median, a.unit.as_str(), Origin::Table).with_sd(a.sd_ln)
}

fn measured(symbol: &'static str, span: Span) -> Term {
    let origin = if span.known { Origin::Recorded } else { Origin::Assumed };
    let term = Term::new(symbol, span.median, "m", origin);
    if span.known { term } else { term.with_sd(span.sd_ln) }
}

fn account(
    p: &Position,
    place: &Place,
    data: &'static Practice,
    d: &Demand,
    fall_alone: Uncertain<Force>,
    scribe: &mut impl Scribe,
) {
    const CHAPTER: &str = "demand";
    if !matches!(p.role, Some(Role::Belay)) {
        let lower_off = p.role == Some(Role::LowerOff);
        let slack = if lower_off { &data.top_rope_slack } else { &data.slack };
        let model = FallModel::new(data, slack);
        let softness = data.body_softness.median * data.belayer_lift.median;
        let u = 1.0 - 0.5f64.powf(1.0 / data.fall_point.median);
        let above = if lower_off { 0.0 } else { u * place.gap.median };
        let fall = model.fall(above, place.height.median, softness);
        scribe.step(|| {
            let mut inputs = vec![measured("H", place.height)];
            if !lower_off {
                inputs.push(measured("gap", place.gap));
            }
            inputs.extend([
                Term::new("a", above, "m", Origin::Computed),
                assumed("s", slack),
                assumed("R", &data.friction_ratio),
                Term::new("h", fall.free_fall, "m", Origin::Computed),
            ]);
            Step {
                chapter: CHAPTER,
                what: "rope that takes up a typical fall here".into(),
                formula: "h = 2 a + s; L_eff = a + s + H / R".into(),
                inputs,
                result: Term::new("L_eff", fall.effective, "m", Origin::Computed),
                source: "energy model with capstan friction; slack and fall point: judgement".into(),
            }
        });
        scribe.step(|| Step {
            chapter: CHAPTER,
            what: "tension on the climber's side, rigid climber and fixed belay".into(),
            formula: "F1 = W + sqrt(W^2 + 2 W K h / L_eff); W = 9.81 m; K = K_new k_age".into(),
            inputs: vec![
                assumed("m", &data.climber_mass),
                assumed("K_new", &data.rope_modulus),
                assumed("k_age", &data.rope_stiffening),
                Term::new("h", fall.free_fall, "m", Origin::Computed),
                Term::new("L_eff", fall.effective, "m", Origin::Computed),
            ],
            result: Term::new("F1", fall.rigid / 1e3, "kN", Origin::Computed),
            source: "Wexler, American Alpine Journal 1950 (energy of a roped fall)".into(),
        });
        scribe.step(|| Step {
            chapter: CHAPTER,
            what: "force on the bolt in that fall, belay device not slipping".into(),
            formula: "F_top = [W + b c (F1 - W)] q (1 + 1/R)".into(),
            inputs: vec![
                Term::new("F1", fall.rigid / 1e3, "kN", Origin::Computed),
                assumed("b", &data.body_softness),
                assumed("c", &data.belayer_lift),
                Term::new("q", fall.relaxation, "1", Origin::Computed),
                assumed("R", &data.friction_ratio),
            ],
            result: Term::new("F_top", fall.top / 1e3, "kN", Origin::Computed)
                .with_sd(model.variance(&fall, true).sqrt()),
            source: "capstan law; softness of body, belayer and rope: judgement".into(),
        });
    }
    scribe.step(|| {
        let devices = data.device.iter().filter_map(|x| {
            let slip = x.slip_kn?;
            Some(
                Term::new(format!("F_s {} ({:.0} %)", x.name, 100.0 * x.share), slip, "kN", Origin::Table)
                    .with_sd(x.sd_ln),
            )
        });
        let mut inputs: Vec<Term> = devices.collect();
        let (what, formula) = match p.role {
            Some(Role::Runner) => (
                "force of one fall, over fall points and belay devices",
                "min(F_top, F_s (1 + R)), pooled over fall points, devices, unknown height and gap",
            ),
            Some(Role::LowerOff) => {
                inputs.push(Term::new("share of falls", data.shares.lower_off_fall, "1", Origin::Table));
                inputs.push(assumed("j", &data.lowering_dynamics));
                (
                    "force of one loading of a lower-off",
                    "mixture of hangs W (1 + 1/R) j and falls from above; median and 95 % fractile",
                )
            }
            Some(Role::Belay) => {
                inputs.push(Term::new("share of falls", data.shares.belay_fall, "1", Origin::Table));
                inputs.push(assumed("n", &data.belay_hang));
                inputs.push(assumed("f", &data.belay_fall_factor));
                (
                    "force of one loading of a belay bolt that carries everything",
                    "mixture of hangs W n and falls min(W + b (F1 - W), F_s); median and 95 % fractile",
                )
            }
            None => (
                "force of one loading, role not known",
                "mixture of runner, lower-off and belay by their shares; median and 95 % fractile",
            ),
        };
        Step {
            chapter: CHAPTER,
            what: what.into(),
            formula: formula.into(),
            inputs,
            result: Term::new("F", d.per_fall.median.as_kn(), "kN", Origin::Computed)
                .with_sd(d.per_fall.sd_ln),
            source: "belay devices from memory of tests; shares: judgement".into(),
        }
    });
    scribe.step(|| Step {
        chapter: CHAPTER,
        what: "load that no loading here can exceed".into(),
        formula: "heaviest climber, stiffest rope, least friction, rigid body, no slip, worst fall".into(),
        inputs: vec![
            Term::new("m", data.climber_mass.high, "kg", Origin::Table),
            Term::new("K", data.rope_modulus.high, "kN", Origin::Table),
            Term::new("R", data.friction_ratio.low, "1", Origin::Table),
        ],
        result: Term::new("F_max", d.ceiling.as_kn(), "kN", Origin::Computed),
        source: "energy model at the limits of EN 892 (12 kN) and of geometry".into(),
    });
    scribe.step(|| Step {
        chapter: CHAPTER,
        what: "a typical hard fall".into(),
        formula: "F_95 = min(F_fall exp(1.645 s), F_max); F_fall = falls alone, without hangs".into(),
        inputs: vec![
            Term::new("F_fall", fall_alone.median.as_kn(), "kN", Origin::Computed).with_sd(fall_alone.sd_ln),
            Term::new("F_max", d.ceiling.as_kn(), "kN", Origin::Computed),
        ],
        result: Term::new("F_95", d.hard_fall.as_kn(), "kN", Origin::Computed),
        source: "95 % fractile of one fall".into(),
    });
    scribe.step(|| {
        let origin = if p.use_class.is_some() { Origin::Recorded } else { Origin::Assumed };
        Step {
            chapter: CHAPTER,
            what: "loadings a year".into(),
            formula: "by role and use of the route".into(),
            inputs: Vec::new(),
            result: Term::new("lambda", d.falls_per_year.median.get(), "1/a", origin)
                .with_sd(d.falls_per_year.sd_ln),
            source: data.loadings(p.use_class).source.as_str().into(),
        }
    });
    scribe.step(|| {
        let origin = if p.steepness.is_some() { Origin::Recorded } else { Origin::Assumed };
        Step {
            chapter: CHAPTER,
            what: "direction of pull from the rock's normal".into(),
            formula: "by steepness; 0 = straight out, 90 = along the face".into(),
            inputs: vec![Term::new("half-width", d.direction_spread.as_deg(), "deg", Origin::Table)],
            result: Term::new("beta", d.direction.as_deg(), "deg", origin),
            source: data.direction(p.steepness).source.as_str().into(),
        }
    });
}
