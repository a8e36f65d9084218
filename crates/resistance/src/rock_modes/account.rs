//! The account of the rock modes: each formula with its numbers.

use super::{BOTH, CONE, Capacity, EDGE, Hold, LEAST_PART, Resisted, Rocks, SLIP, SLOTS, Weakest};
use crate::inputs::{Inputs, Known};
use crate::mode::{Mode, Source};
use crate::{bond, pull_out};
use reckoning::{Origin, Scribe, Step, Term};
use units::{Length, Stress};

/// Notes the formulas and the result of every rock mode.
pub(super) fn account(
    rocks: &Rocks<'_>,
    slip: Mode,
    q: &Capacity,
    weakest: &Weakest,
    centre: &Resisted,
    variance: &[[f64; Source::COUNT]; SLOTS],
    scribe: &mut impl Scribe,
) {
    let (c, x) = (rocks.c, rocks.x);
    let j = x.joint.value;
    let (edge, pry) = rocks.shear(q, j);
    let term =
        |symbol: &'static str, known: Known, unit: &'static str| known.term(symbol, unit, known.origin());
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

    scribe.step(|| {
        let mut inputs = vec![
            Term::new("k", c.edge.k_mean, "1", Origin::Table),
            term("d", x.diameter, "mm"),
            term("h_ef", x.embedment, "mm"),
        ];
        inputs.extend(of_rock());
        Step {
            chapter: "edge breakout",
            what:
                "load at which the rock breaks out to the nearest edge, taken to lie in the direction of pull"
                    .into(),
            formula: "V = k * d^a * l_f^b * sqrt(f_eq) * c^1.5 * (A / A0) * J".into(),
            inputs,
            result: kn("V", edge).with_sd(c.edge.model_sd_ln),
            source: c.edge.source.as_str().into(),
        }
    });
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
    let names = [Mode::Cone, slip, Mode::EdgeBreakout, Mode::PryOut];
    let angle = Term::new("t", x.direction.sin.atan2(x.direction.cos).to_degrees(), "deg", Origin::Computed);
    for (i, name) in names.into_iter().enumerate() {
        let both = i == weakest.used_more;
        let (formula, inputs) = match (i, rocks.hold) {
            (_, Hold::Experience) if both => (
                "R = ((cos t / N)^1.5 + (sin t / V)^1.5)^(-1/1.5)",
                [("N", q.slip * j), ("V", q.slip_shear * j)],
            ),
            _ if both => {
                let n = if weakest.tension == CONE { q.cone * j } else { q.slip };
                let formula = "R = ((cos t / N)^1.5 + (sin t / V)^1.5)^(-1/1.5), weakest N and V of the rock";
                (formula, [("N", n), ("V", edge.min(pry))])
            }
            (CONE, _) => ("R = N / cos t", [("N", q.cone * j); 2]),
            (SLIP, _) => ("R = N / cos t", [("N", q.slip); 2]),
            (EDGE, _) => ("R = V / sin t", [("V", edge); 2]),
            _ => ("R = V / sin t", [("V", pry); 2]),
        };
        let slot = if both { BOTH } else { i };
        let load = centre.load[slot];
        let part = if i < EDGE { x.direction.cos } else { x.direction.sin };
        if load.is_finite() && (both || part >= LEAST_PART) {
            scribe.step(|| Step {
                chapter: name.name(),
                what: format!("{}: load it holds in the direction of pull", name.name()).into(),
                formula: formula.into(),
                inputs: std::iter::once(angle.clone())
                    .chain(inputs.iter().take(if both { 2 } else { 1 }).map(|(symbol, n)| kn(symbol, *n)))
                    .collect(),
                result: kn("R", load).with_sd(variance[slot].iter().sum::<f64>().sqrt()),
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
