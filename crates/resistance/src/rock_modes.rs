//! The modes in which rock or bond gives way, against a load in one direction.
//!
//! Each tension mode is combined with the weaker of edge breakout and pry-out by the power 1.5, so that
//! it is the tension resistance straight out and the shear resistance along the face; edge breakout and
//! pry-out stand alone as well, as limits in shear.

use crate::bond::BondInputs;
use crate::constants::{Constants, Experience};
use crate::inputs::{Inputs, Known};
use crate::interaction::{Direction, rock as combine};
use crate::mode::{Mode, ModeResistance, ModeSet, Source};
use crate::{bond, cone, edge, pry_out, pull_out};
use hardware::{Catalogue, Fitting, Kind};
use reckoning::{Origin, Scribe, Step, Term};
use units::{Force, Length, Stress, Torque};

/// Below this sine of the angle a shear limit is so far away that it is left out.
const LEAST_SIN: f64 = 0.05;
const ROOT_3: f64 = 1.732_050_807_568_877_2;

/// How the hardware holds in the rock.
#[derive(Clone, Copy)]
enum Hold {
    /// By expansion; axial load of experience for drop-ins (N at 50 MPa).
    Expansion,
    DropIn,
    Glue,
    Experience,
}

/// The values that move the rock modes, N, mm, MPa.
#[derive(Clone, Copy)]
struct Point {
    d: f64,
    h: f64,
    ucs: f64,
    edge: f64,
    spacing: f64,
    tau: f64,
}

/// Capacities before the joint factor, N; infinite where a mode does not apply.
#[derive(Clone, Copy)]
struct Capacity {
    cone: f64,
    slip: f64,
    /// Shear strength of hardware that only experience covers.
    slip_shear: f64,
    edge: f64,
    pry: f64,
    /// The wall of the hole governs the bond.
    wall: bool,
}

const SLOTS: usize = 4;
const CONE: usize = 0;
const SLIP: usize = 1;
const EDGE: usize = 2;
const PRY: usize = 3;

struct Rocks<'a> {
    c: &'static Constants,
    hold: Hold,
    experience: &'static Experience,
    x: &'a Inputs,
}

impl Rocks<'_> {
    fn capacity(&self, p: &Point) -> Capacity {
        let c = self.c;
        let f = p.ucs.min(c.cone.strength_cap_mpa);
        let edge = edge::in_rock(&c.edge, f, 1.0, p.d, p.h, p.edge, p.spacing);
        let mut out = Capacity {
            cone: f64::INFINITY,
            slip: f64::INFINITY,
            slip_shear: f64::INFINITY,
            edge,
            pry: f64::INFINITY,
            wall: false,
        };
        if let Hold::Experience = self.hold {
            let e = self.experience;
            let weaker = pull_out::rock_factor(&c.pull_out, p.ucs.min(e.reference_mpa))
                / pull_out::rock_factor(&c.pull_out, e.reference_mpa);
            let ratio = p.d / e.diameter_mm;
            out.slip = e.median_n[0] * ratio.powf(e.power[0]) * weaker;
            out.slip_shear = e.median_n[1] * ratio.powf(e.power[1]) * weaker.sqrt();
            return out;
        }
        out.cone = cone::in_rock(&c.cone, p.ucs, 1.0, p.h, p.edge, p.spacing);
        out.slip = match self.hold {
            Hold::Expansion => {
                pull_out::at_reference(&c.pull_out, p.d) * pull_out::rock_factor(&c.pull_out, p.ucs)
            }
            Hold::DropIn | Hold::Experience => {
                let e = self.experience;
                e.median_n[0] * (p.d / e.diameter_mm) * pull_out::rock_factor(&c.pull_out, p.ucs)
                    / pull_out::rock_factor(&c.pull_out, e.reference_mpa)
            }
            Hold::Glue => {
                let x = BondInputs {
                    d: p.d,
                    hole: p.d * self.x.hole_ratio,
                    h: p.h,
                    tau: p.tau,
                    ucs: p.ucs,
                    edge: p.edge,
                    spacing: p.spacing,
                };
                let (n, wall) = bond::in_rock(&c.bond, c.cone.k_mean, c.cone.strength_cap_mpa, &x);
                out.wall = wall;
                n
            }
        };
        out.pry = pry_out::factor_mm(&c.pry_out, p.h);
        out
    }

    /// Shear limits at a joint factor: edge and pry-out, N.
    fn shear(&self, q: &Capacity, j: f64) -> (f64, f64) {
        let tension = match self.hold {
            Hold::Glue => (q.cone * j).min(q.slip),
            _ => q.cone * j,
        };
        (q.edge * j, q.pry * tension)
    }

    /// Resistance per slot, N, and the share of tension in it.
    fn resist(&self, q: &Capacity, j: f64, dir: Direction) -> [(f64, f64); SLOTS] {
        let (edge, pry) = self.shear(q, j);
        let shear = edge.min(pry);
        let sin = dir.sin.max(LEAST_SIN);
        if let Hold::Experience = self.hold {
            return [
                (f64::INFINITY, 0.0),
                combine(q.slip * j, q.slip_shear * j, dir),
                (edge / sin, 0.0),
                (f64::INFINITY, 0.0),
            ];
        }
        [combine(q.cone * j, shear, dir), combine(q.slip, shear, dir), (edge / sin, 0.0), (pry / sin, 0.0)]
    }
}

/// Variance of ln R from one input by the three-point Gauss-Hermite rule: nodes at the median and at
/// +-sqrt(3) standard deviations, weights 2/3 and 1/6; exact for a quadratic, and it sees caps and
/// plateaus that a slope at the median would miss.
fn three_point(plus: f64, minus: f64) -> f64 {
    let mean = (plus + minus) / 6.0;
    ((plus * plus + minus * minus) / 6.0 - mean * mean).max(0.0)
}

/// Adds the rock modes of a placement.
pub(crate) fn push(set: &mut ModeSet, fitting: &Fitting, x: &Inputs, scribe: &mut impl Scribe) {
    let c = Constants::built_in();
    let (hold, mode) = match x.kind {
        Some(Kind::WedgeBolt | Kind::SleeveBolt) => (Hold::Expansion, Mode::PullOut),
        Some(Kind::DropIn) => (Hold::DropIn, Mode::PullOut),
        Some(Kind::GlueIn) => (Hold::Glue, Mode::Bond),
        Some(Kind::CompressionBolt | Kind::HammeredBolt | Kind::Piton) | None => {
            (Hold::Experience, Mode::Experience)
        }
    };
    let rocks = Rocks { c, hold, experience: c.experience(x.kind, fitting.rating.is_some()), x };
    let at = Point {
        d: x.diameter.value,
        h: x.embedment.value,
        ucs: x.ucs.value,
        edge: x.edge.value,
        spacing: x.spacing.value,
        tau: x.tau.value,
    };
    let q = rocks.capacity(&at);
    let j = x.joint.value;
    let dir = x.direction;
    let centre = rocks.resist(&q, j, dir);

    let mut variance = [[0.0; Source::COUNT]; SLOTS];
    let mut rock_exponent = [0.0; SLOTS];
    let mut spread = |source: Source, plus: [(f64, f64); SLOTS], minus: [(f64, f64); SLOTS]| {
        for i in 0..SLOTS {
            if centre[i].0.is_finite() {
                let ln = |r: f64| (r / centre[i].0).ln();
                variance[i][source as usize] += three_point(ln(plus[i].0), ln(minus[i].0));
            }
        }
    };
    let mut vary = |source: Source, known: Known, set: fn(&mut Point, f64)| {
        if known.sd_ln > 0.0 {
            let factor = (ROOT_3 * known.sd_ln).exp();
            let node = |value: f64| {
                let mut p = at;
                set(&mut p, value);
                rocks.resist(&rocks.capacity(&p), j, dir)
            };
            spread(source, node(known.value * factor), node(known.value / factor));
        }
    };
    let rock_sd = if x.ucs.sd_ln > 0.0 { x.ucs.sd_ln } else { 0.01 };
    vary(Source::RockStrength, Known { value: x.ucs.value, sd_ln: rock_sd }, |p, v| p.ucs = v);
    vary(Source::Diameter, x.diameter, |p, v| p.d = v);
    if !matches!(hold, Hold::Experience) {
        vary(Source::Embedment, x.embedment, |p, v| p.h = v);
        vary(Source::Surroundings, x.spacing, |p, v| p.spacing = v);
    }
    vary(Source::Surroundings, x.edge, |p, v| p.edge = v);
    if matches!(hold, Hold::Glue) {
        vary(Source::Resin, x.tau, |p, v| p.tau = v);
    }
    if x.joint.sd_ln > 0.0 {
        let factor = (ROOT_3 * x.joint.sd_ln).exp();
        spread(
            Source::RockSoundness,
            rocks.resist(&q, (j * factor).min(1.0), dir),
            rocks.resist(&q, j / factor, dir),
        );
    }
    if let Some([low, high]) = x.spread {
        // the ends of a uniform spread are sqrt(3) of its standard deviations away
        spread(Source::Direction, rocks.resist(&q, j, high), rocks.resist(&q, j, low));
    }
    for i in 0..SLOTS {
        let v = &mut variance[i][Source::RockStrength as usize];
        rock_exponent[i] = v.sqrt() / rock_sd;
        *v = (rock_exponent[i] * x.ucs.sd_ln).powi(2);
    }

    own_scatter(&rocks, fitting, &q, &centre, &mut variance);
    account(&rocks, mode, &q, &centre, scribe);

    let modes = [Mode::Cone, mode, Mode::EdgeBreakout, Mode::PryOut];
    for i in 0..SLOTS {
        let wanted = i < EDGE || dir.sin >= LEAST_SIN;
        if wanted && centre[i].0.is_finite() {
            set.push(ModeResistance {
                mode: modes[i],
                median: Force::n(centre[i].0),
                variance: variance[i],
                rock_exponent: rock_exponent[i],
                section_exponent: 0.0,
            });
        }
    }
}

/// Scatter of the formulas and of products, by the share of tension and shear in each mode.
fn own_scatter(
    rocks: &Rocks<'_>,
    fitting: &Fitting,
    q: &Capacity,
    centre: &[(f64, f64); SLOTS],
    variance: &mut [[f64; Source::COUNT]; SLOTS],
) {
    let (c, x) = (rocks.c, rocks.x);
    let (model, setting, kind) = (Source::Model as usize, Source::Setting as usize, Source::Kind as usize);
    let (edge, pry) = rocks.shear(q, x.joint.value);
    let cone_sd = if x.embedment.value < c.cone.shallow_mm {
        c.cone.model_sd_ln * c.cone.shallow_multiplier
    } else {
        c.cone.model_sd_ln
    };
    let shear_sd = if edge < pry { c.edge.model_sd_ln } else { c.pry_out.model_sd_ln };

    let tension = centre[CONE].1;
    variance[CONE][model] = (tension * cone_sd + (1.0 - tension) * shear_sd).powi(2);
    variance[EDGE][model] = c.edge.model_sd_ln.powi(2);
    variance[PRY][model] = c.pry_out.model_sd_ln.powi(2);

    let tension = centre[SLIP].1;
    let shear = 1.0 - tension;
    let slip = &mut variance[SLIP];
    match rocks.hold {
        Hold::Expansion => {
            let product = pull_out::product_sd_ln(&c.pull_out, x.ucs.value);
            let torque = torque_sd_ln(c, x, fitting.torque);
            slip[setting] = tension * tension * (product * product + torque * torque);
            slip[model] = (shear * shear_sd).powi(2);
        }
        Hold::DropIn => {
            slip[setting] = (tension * rocks.experience.piece_sd_ln[0]).powi(2);
            slip[model] = (shear * shear_sd).powi(2);
        }
        Hold::Glue => {
            let bond_sd = if q.wall { c.bond.wall_sd_ln } else { c.bond.model_sd_ln };
            slip[setting] = (tension * c.bond.product_sd_ln).powi(2);
            slip[model] = (tension * bond_sd + shear * shear_sd).powi(2);
        }
        Hold::Experience => {
            let e = rocks.experience;
            slip[setting] = (tension * e.piece_sd_ln[0] + shear * e.piece_sd_ln[1]).powi(2);
            slip[kind] = (tension * e.kind_sd_ln[0] + shear * e.kind_sd_ln[1]).powi(2);
        }
    }
}

/// Scatter that an unknown or a low setting torque adds to slip.
fn torque_sd_ln(c: &Constants, x: &Inputs, torque: Option<Torque>) -> f64 {
    let usual = x
        .kind
        .and_then(|k| Catalogue::built_in().size(k, Length::mm(x.diameter.value)))
        .and_then(|s| s.torque);
    match (torque.filter(|t| t.is_finite()), usual) {
        (Some(t), Some((low, _))) if t < low * 0.5 => c.pull_out.torque_low_sd_ln,
        (Some(_), _) => 0.0,
        (None, _) => c.pull_out.torque_unknown_sd_ln,
    }
}

fn account(
    rocks: &Rocks<'_>,
    slip: Mode,
    q: &Capacity,
    centre: &[(f64, f64); SLOTS],
    scribe: &mut impl Scribe,
) {
    let (c, x) = (rocks.c, rocks.x);
    let j = x.joint.value;
    let (edge, pry) = rocks.shear(q, j);
    let term = |symbol: &'static str, known: Known, unit: &'static str| {
        Term::new(symbol, known.value, unit, known.origin()).with_sd(known.sd_ln)
    };
    let kn = |symbol: &'static str, n: f64| Term::new(symbol, n / 1e3, "kN", Origin::Computed);
    let of_rock = || {
        vec![
            Term::new("UCS", x.ucs.value, "MPa", Origin::Computed).with_sd(x.ucs.sd_ln),
            Term::new("J", j, "1", Origin::Computed).with_sd(x.joint.sd_ln),
            term("c", x.edge, "mm"),
            term("s", x.spacing, "mm"),
        ]
    };
    if q.cone.is_finite() {
        scribe.step(|| {
            let mut inputs = vec![
                Term::new("k", c.cone.k_mean, "N^0.5/mm^0.5", Origin::Table),
                Term::new("f_eq", x.ucs.value.min(c.cone.strength_cap_mpa), "MPa", Origin::Computed),
                term("h_ef", x.embedment, "mm"),
            ];
            inputs.extend(of_rock());
            Step {
                chapter: "cone breakout",
                what: "load straight out at which a cone of rock breaks".into(),
                formula: "N = k * sqrt(f_eq) * h_ef^1.5 * (A / A0) * psi_s * J, f_eq = min(UCS, 60 MPa)"
                    .into(),
                inputs,
                result: kn("N", q.cone * j).with_sd(c.cone.model_sd_ln),
                source: c.cone.source.as_str().into(),
            }
        });
    }
    match rocks.hold {
        Hold::Expansion => scribe.step(|| Step {
            chapter: "pull-out",
            what: "load straight out at which the expansion slips".into(),
            formula: "N = N_20(d) * (f / 20 MPa)^0.5, linear below 20 MPa, f = min(UCS, 50 MPa)".into(),
            inputs: vec![
                term("d", x.diameter, "mm"),
                kn("N_20", pull_out::at_reference(&c.pull_out, x.diameter.value)),
                Term::new("f", x.ucs.value.min(c.pull_out.cap_mpa), "MPa", Origin::Computed),
            ],
            result: kn("N", q.slip).with_sd(pull_out::product_sd_ln(&c.pull_out, x.ucs.value)),
            source: c.pull_out.source.as_str().into(),
        }),
        Hold::Glue => {
            scribe.step(|| Step {
                chapter: "bond",
                what: if q.wall {
                    "load straight out at which the bond to the rock gives way".into()
                } else {
                    "load straight out at which the bond to the rod gives way".into()
                },
                formula: "N = pi * h_ef * min(d * tau, d_0 * 0.2 UCS) * psi".into(),
                inputs: vec![
                    term("d", x.diameter, "mm"),
                    Term::new("d_0", x.diameter.value * x.hole_ratio, "mm", Origin::Table),
                    term("h_ef", x.embedment, "mm"),
                    Term::new("tau", x.tau.value, "MPa", Origin::Table).with_sd(x.tau.sd_ln),
                    Term::new("UCS", x.ucs.value, "MPa", Origin::Computed).with_sd(x.ucs.sd_ln),
                ],
                result: kn("N", q.slip).with_sd(if q.wall { c.bond.wall_sd_ln } else { c.bond.model_sd_ln }),
                source: c.bond.source.as_str().into(),
            });
            scribe.step(|| floor(x));
        }
        Hold::DropIn | Hold::Experience => scribe.step(|| Step {
            chapter: "experience",
            what: match x.kind {
                Some(k) => format!("load straight out, from experience with a {}", k.name()).into(),
                None => "load straight out, kind not known: all kinds together".into(),
            },
            formula: "N = N_ref * (d / d_ref)^a * f(UCS) * J".into(),
            inputs: vec![
                kn("N_ref", rocks.experience.median_n[0]),
                kn("V_ref", rocks.experience.median_n[1]),
                Term::new("d_ref", rocks.experience.diameter_mm, "mm", Origin::Table),
                term("d", x.diameter, "mm"),
            ],
            result: kn("N", q.slip)
                .with_sd(rocks.experience.piece_sd_ln[0].hypot(rocks.experience.kind_sd_ln[0])),
            source: rocks.experience.source.as_str().into(),
        }),
    }
    if edge.is_finite() {
        scribe.step(|| {
            let mut inputs = vec![
                Term::new("k", c.edge.k_mean, "1", Origin::Table),
                term("d", x.diameter, "mm"),
                term("h_ef", x.embedment, "mm"),
            ];
            inputs.extend(of_rock());
            Step {
                chapter: "edge breakout",
                what: "load towards the nearest edge at which the rock breaks out".into(),
                formula: "V = k * d^a * l_f^b * sqrt(f_eq) * c^1.5 * (A / A0) * J".into(),
                inputs,
                result: kn("V", edge).with_sd(c.edge.model_sd_ln),
                source: c.edge.source.as_str().into(),
            }
        });
    }
    if pry.is_finite() {
        scribe.step(|| Step {
            chapter: "pry-out",
            what: "load along the face at which the bolt levers rock out behind it".into(),
            formula: "V = k8 * N, k8 = 1 up to 50 mm, 2 from 70 mm".into(),
            inputs: vec![
                Term::new("k8", q.pry, "1", Origin::Computed),
                term("h_ef", x.embedment, "mm"),
                kn("N", pry / q.pry),
            ],
            result: kn("V", pry).with_sd(c.pry_out.model_sd_ln),
            source: c.pry_out.source.as_str().into(),
        });
    }
    let angle = x.direction.sin.atan2(x.direction.cos).to_degrees();
    for (i, mode) in [(CONE, Mode::Cone), (SLIP, slip)] {
        if centre[i].0.is_finite() {
            scribe.step(|| Step {
                chapter: mode.name(),
                what: format!("{}: load it holds in the direction of pull", mode.name()).into(),
                formula: "R = ((cos t / N)^1.5 + (sin t / V)^1.5)^(-1/1.5)".into(),
                inputs: vec![
                    Term::new("t", angle, "deg", Origin::Computed),
                    kn("N", if i == CONE { q.cone * j } else { q.slip }),
                    kn(
                        "V",
                        if matches!(rocks.hold, Hold::Experience) { q.slip_shear * j } else { edge.min(pry) },
                    ),
                ],
                result: kn("R", centre[i].0),
                source: "EN 1992-4 (7.55), seen in an engineering digest".into(),
            });
        }
    }
}

/// A second opinion on bond, for the reader of the account; it does not enter the result.
fn floor(x: &Inputs) -> Step {
    let tau = bond::wall_floor(Stress::mpa(x.ucs.value));
    let hole = Length::mm(x.diameter.value * x.hole_ratio);
    let n = bond::basic(hole, Length::mm(x.embedment.value), tau, 1.0);
    Step {
        chapter: "bond",
        what: "second opinion, not used: what a long cement anchor of this hole would hold at least".into(),
        formula: "N = pi * d_0 * h_ef * min(UCS / 10, 4.2 MPa)".into(),
        inputs: vec![
            Term::new("d_0", hole.as_mm(), "mm", Origin::Table),
            Term::new("h_ef", x.embedment.value, "mm", x.embedment.origin()),
            Term::new("tau", tau.as_mpa(), "MPa", Origin::Computed),
        ],
        result: Term::new("N_floor", n.as_kn(), "kN", Origin::Computed),
        source: "Littlejohn & Bruce 1977 (from memory)".into(),
    }
}
