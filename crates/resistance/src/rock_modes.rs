//! The modes in which rock or bond gives way, against a load in one direction.
//!
//! The weakest tension mode and the weaker of edge breakout and pry-out are combined with the power 1.5
//! (largest utilisation in each direction, EN 1992-4 (7.55)) and stand under the name of the one that is
//! used more; the others stand alone, as limits `N / cos t` or `V / sin t`. So the same edge is never
//! counted twice, the weakest mode is N straight out and V along the face, and all passes over smoothly.

mod account;

use crate::bond::BondInputs;
use crate::constants::{Constants, Experience};
use crate::inputs::{Inputs, Known};
use crate::interaction::{Direction, rock as combine};
use crate::mode::{Mode, ModeResistance, ModeSet, Source};
use crate::spread::{ROOT_3, three_point};
use crate::{bond, cone, edge, pry_out, pull_out};
use hardware::{Catalogue, Fitting, Kind};
use reckoning::Scribe;
use units::{Force, Length, Torque};

/// Below this sine or cosine of the angle a limit in shear or tension is too far away to matter.
const LEAST_PART: f64 = 0.05;

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

const SLOTS: usize = 5;
const CONE: usize = 0;
const SLIP: usize = 1;
const EDGE: usize = 2;
const PRY: usize = 3;
/// Tension and shear together.
const BOTH: usize = 4;

/// Resistances in the direction of pull, N: infinite where a mode does not apply.
#[derive(Clone, Copy)]
struct Resisted {
    load: [f64; SLOTS],
    /// Share of tension in the combined resistance.
    tension: f64,
}

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

    /// Resistance per slot in a direction.
    fn resist(&self, q: &Capacity, j: f64, dir: Direction) -> Resisted {
        let (edge, pry) = self.shear(q, j);
        let (sin, cos) = (dir.sin.max(LEAST_PART), dir.cos.max(LEAST_PART));
        if let Hold::Experience = self.hold {
            let (both, tension) = combine(q.slip * j, q.slip_shear * j, dir);
            let load = [f64::INFINITY, f64::INFINITY, edge / sin, f64::INFINITY, both];
            return Resisted { load, tension };
        }
        let cone = q.cone * j;
        let (both, tension) = combine(cone.min(q.slip), edge.min(pry), dir);
        Resisted { load: [cone / cos, q.slip / cos, edge / sin, pry / sin, both], tension }
    }
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
    let mut spread = |source: Source, plus: Resisted, minus: Resisted| {
        for (i, variance) in variance.iter_mut().enumerate() {
            if centre.load[i].is_finite() {
                let ln = |r: &Resisted| (r.load[i] / centre.load[i]).ln();
                variance[source as usize] += three_point(ln(&plus), ln(&minus));
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

    let weakest = Weakest::of(&rocks, &q, &centre);
    own_scatter(&rocks, fitting, &q, &weakest, centre.tension, &mut variance);
    account::account(&rocks, mode, &q, &weakest, &centre, &variance, scribe);

    let names = [Mode::Cone, mode, Mode::EdgeBreakout, Mode::PryOut];
    for (i, name) in names.into_iter().enumerate() {
        let slot = if i == weakest.used_more { BOTH } else { i };
        let within_reach = match i {
            _ if slot == BOTH => true,
            CONE | SLIP => dir.cos >= LEAST_PART,
            _ => dir.sin >= LEAST_PART,
        };
        if within_reach && centre.load[slot].is_finite() {
            set.push(ModeResistance {
                mode: name,
                median: Force::n(centre.load[slot]),
                variance: variance[slot],
                rock_exponent: rock_exponent[slot],
                section_exponent: 0.0,
            });
        }
    }
}

/// Which modes make up the combined one, as slots.
struct Weakest {
    tension: usize,
    shear: usize,
    /// The one of the two that is used more: the combined mode bears its name.
    used_more: usize,
}

impl Weakest {
    fn of(rocks: &Rocks<'_>, q: &Capacity, centre: &Resisted) -> Weakest {
        if let Hold::Experience = rocks.hold {
            return Weakest { tension: SLIP, shear: SLIP, used_more: SLIP };
        }
        let j = rocks.x.joint.value;
        let (edge, pry) = rocks.shear(q, j);
        let tension = if q.cone * j < q.slip { CONE } else { SLIP };
        let shear = if edge < pry { EDGE } else { PRY };
        let used_more = if centre.tension >= 0.5 { tension } else { shear };
        Weakest { tension, shear, used_more }
    }
}

/// Scatter of the formulas and of products; in the combined mode by the shares of tension and shear.
fn own_scatter(
    rocks: &Rocks<'_>,
    fitting: &Fitting,
    q: &Capacity,
    weakest: &Weakest,
    tension: f64,
    variance: &mut [[f64; Source::COUNT]; SLOTS],
) {
    let (c, x) = (rocks.c, rocks.x);
    let (model, setting, kind) = (Source::Model as usize, Source::Setting as usize, Source::Kind as usize);
    let shear = 1.0 - tension;
    if let Hold::Experience = rocks.hold {
        let e = rocks.experience;
        let mixed = |sd: [f64; 2]| (tension * sd[0] + shear * sd[1]).powi(2);
        variance[BOTH][setting] = mixed(e.piece_sd_ln);
        variance[BOTH][kind] = mixed(e.kind_sd_ln);
        variance[EDGE][model] = c.edge.model_sd_ln.powi(2);
        return;
    }
    let shallow = if x.embedment.value < c.cone.shallow_mm { c.cone.shallow_multiplier } else { 1.0 };
    let (slip_model, slip_setting) = match rocks.hold {
        Hold::Glue => (if q.wall { c.bond.wall_sd_ln } else { c.bond.model_sd_ln }, c.bond.product_sd_ln),
        Hold::DropIn => (0.0, rocks.experience.piece_sd_ln[0]),
        Hold::Expansion | Hold::Experience => {
            let product = pull_out::product_sd_ln(&c.pull_out, x.ucs.value);
            (0.0, product.hypot(torque_sd_ln(c, x, fitting.torque)))
        }
    };
    let models = [c.cone.model_sd_ln * shallow, slip_model, c.edge.model_sd_ln, c.pry_out.model_sd_ln];
    let settings = [0.0, slip_setting, 0.0, 0.0];
    for i in [CONE, SLIP, EDGE, PRY] {
        variance[i][model] = models[i] * models[i];
        variance[i][setting] = settings[i] * settings[i];
    }
    variance[BOTH][model] = (tension * models[weakest.tension] + shear * models[weakest.shear]).powi(2);
    variance[BOTH][setting] = (tension * settings[weakest.tension]).powi(2);
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
