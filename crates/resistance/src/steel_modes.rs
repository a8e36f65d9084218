//! The modes in which metal gives way, against a load in one direction: the bolt and the hanger.

use crate::constants::Constants;
use crate::inputs::Inputs;
use crate::interaction::{Direction, steel as combine};
use crate::mode::{Mode, ModeResistance, ModeSet, Source};
use crate::spread::three_point;
use crate::steel;
use hardware::{Catalogue, Fitting, Kind, above_mark, hanger_resistance, section};
use reckoning::{Origin, Scribe, Step, Term, Uncertain};
use units::{Force, Length};

/// Adds the bolt's steel; pitons have no section to reckon with.
pub(crate) fn push_bolt(set: &mut ModeSet, fitting: &Fitting, x: &Inputs, scribe: &mut impl Scribe) {
    if x.kind == Some(Kind::Piton) {
        return;
    }
    let c = Constants::built_in();
    let s = &c.steel;
    let catalogue = Catalogue::built_in();
    let part = section(x.kind, Length::mm(x.diameter.value));
    // the neck of a threaded bolt lies in the hole: it counts in tension, the thread or shank in shear
    let neck = x.kind.map_or(1.0, |k| {
        let e = catalogue.kind(k);
        if e.smooth { 1.0 } else { e.area_factor.0 }
    });
    let shear_area = part.area_mm2 / neck;
    let material = catalogue.material(fitting.material);
    let fu = material.tensile.median.as_mpa();

    let mut n = part.area_mm2 * fu;
    let mut plain = s.shear_ratio * shear_area * fu;
    let material_var = material.tensile.sd_ln.powi(2);
    let diameter_var = (2.0 * x.diameter.sd_ln).powi(2);
    let product_var = s.product_sd_ln.powi(2) + part.sd_ln.powi(2);
    let known_var = material_var + diameter_var + product_var;

    // what a mark proves of the bolt: the whole anchor for an eye in one piece, less for a bolt below
    let (mut kept_n, mut kept_v) = (1.0, 1.0);
    if let Some(mark) = fitting.rating {
        let whole =
            x.kind.is_some_and(|k| !catalogue.kind(k).has_hanger) && fitting.hanger_material.is_none();
        let sd = if whole { catalogue.mark().own_sd_ln } else { catalogue.mark().bolt_sd_ln };
        for (load, limit, kept, model) in [
            (&mut n, mark.axial, &mut kept_n, s.tension_model_sd_ln),
            (&mut plain, mark.radial, &mut kept_v, s.shear_model_sd_ln),
        ] {
            let prior = Uncertain::new(Force::n(*load), (known_var + model * model).sqrt());
            let post = above_mark(prior, limit, sd);
            *load = post.median.as_n();
            *kept = (post.sd_ln / prior.sd_ln).powi(2);
        }
    }

    let proud = (x.proud > 0.0).then(|| {
        let tough = material.ductile;
        steel::proud_shear(&c.proud, shear_area, x.diameter.value, fu, plain, x.proud, tough)
    });
    let v = proud.map_or(plain, |p| p.ultimate);
    let bent = proud.map_or(0.0, |p| p.bent);

    let (median, tension) = combine(n, v, x.direction);
    let shear = 1.0 - tension;
    let kept = tension * kept_n + shear * kept_v;
    let mut variance = [0.0; Source::COUNT];
    variance[Source::Material as usize] = material_var * kept;
    variance[Source::Diameter as usize] = diameter_var * kept;
    variance[Source::Setting as usize] = product_var * kept;
    variance[Source::Model as usize] = (tension * s.tension_model_sd_ln).powi(2)
        + (shear * s.shear_model_sd_ln).powi(2)
        + (shear * bent * c.proud.sd_ln).powi(2);
    variance[Source::Direction as usize] = direction_variance(n, v, median, x.spread);

    scribe.step(|| Step {
        chapter: "steel",
        what: format!(
            "tension strength of the bolt, {}",
            fitting.material.map_or("material not known", |m| m.name())
        )
        .into(),
        formula: "N = A_s * f_u".into(),
        inputs: vec![
            Term::new(
                "A_s",
                part.area_mm2,
                "mm2",
                if part.thread.is_some() { Origin::Table } else { Origin::Assumed },
            )
            .with_sd(part.sd_ln),
            Term::new(
                "f_u",
                fu,
                "MPa",
                if fitting.material.is_some() { Origin::Table } else { Origin::Assumed },
            )
            .with_sd(material.tensile.sd_ln),
        ],
        result: Term::new("N", part.area_mm2 * fu / 1e3, "kN", Origin::Computed)
            .with_sd((known_var + s.tension_model_sd_ln.powi(2)).sqrt()),
        source: format!("{}; {}", s.source, material.source).into(),
    });
    scribe.step(|| Step {
        chapter: "steel",
        what: "shear strength of the bolt, hanger flush with the rock".into(),
        formula: "V = 0.62 * A * f_u".into(),
        inputs: vec![
            Term::new("A", shear_area, "mm2", Origin::Table),
            Term::new(
                "f_u",
                fu,
                "MPa",
                if fitting.material.is_some() { Origin::Table } else { Origin::Assumed },
            )
            .with_sd(material.tensile.sd_ln),
        ],
        result: Term::new("V", s.shear_ratio * shear_area * fu / 1e3, "kN", Origin::Computed)
            .with_sd((known_var + s.shear_model_sd_ln.powi(2)).sqrt()),
        source: s.source.as_str().into(),
    });
    if let Some(mark) = fitting.rating {
        scribe.step(|| Step {
            chapter: "steel",
            what: "the mark makes a weaker bolt unlikely".into(),
            formula: "moments of N and V, given that the marked loads were held in a test block".into(),
            inputs: vec![
                Term::new("axial mark", mark.axial.as_kn(), "kN", Origin::Recorded),
                Term::new("radial mark", mark.radial.as_kn(), "kN", Origin::Recorded),
                Term::new("N", n / 1e3, "kN", Origin::Computed),
            ],
            result: Term::new("V", plain / 1e3, "kN", Origin::Computed),
            source: catalogue.mark().source.as_str().into(),
        });
    }
    if let Some(p) = proud {
        scribe.step(|| Step {
            chapter: "steel",
            what: "load along the face at which the proud bolt bends for good".into(),
            formula: "V_M = 1.2 * W_el * f_u / (e_1 + 0.5 d)".into(),
            inputs: vec![
                Term::new("e_1", x.proud, "mm", Origin::Measured),
                Term::new("d", x.diameter.value, "mm", x.diameter.origin()),
                Term::new("f_u", fu, "MPa", Origin::Table),
            ],
            result: Term::new("V_M", p.bends_at / 1e3, "kN", Origin::Computed),
            source: "EN 1992-4 (7.37), (7.38), seen in an engineering digest".into(),
        });
        scribe.step(|| Step {
            chapter: "steel",
            what: if material.ductile {
                "load along the face that the proud bolt holds in the end, bent over".into()
            } else {
                "load along the face that the proud bolt holds in the end; toughness not assured".into()
            },
            formula: "V up to e_1 = d, 0.4 N from e_1 = 3 d, log-linear between, not below V_M".into(),
            inputs: vec![
                Term::new("V", plain / 1e3, "kN", Origin::Computed),
                Term::new("V_M", p.bends_at / 1e3, "kN", Origin::Computed),
                Term::new("e_1", x.proud, "mm", Origin::Measured),
            ],
            result: Term::new("V_proud", p.ultimate / 1e3, "kN", Origin::Computed)
                .with_sd(c.proud.sd_ln * p.bent),
            source: c.proud.source.as_str().into(),
        });
    }
    in_direction(scribe, Mode::Steel, x.direction, [n, v, median], &variance);

    set.push(ModeResistance {
        mode: Mode::Steel,
        median: Force::n(median),
        variance,
        rock_exponent: 0.0,
        section_exponent: 1.0 + 0.5 * bent * shear,
    });
}

/// Adds the hanger or eye; pitons have none of their own.
pub(crate) fn push_hanger(set: &mut ModeSet, fitting: &Fitting, x: &Inputs, scribe: &mut impl Scribe) {
    if x.kind == Some(Kind::Piton) {
        return;
    }
    let fitting = Fitting { kind: x.kind, ..*fitting };
    let h = hanger_resistance(&fitting);
    let (n, v) = (h.axial.median.as_n(), h.radial.median.as_n());
    let (median, tension) = combine(n, v, x.direction);
    let sd = tension * h.axial.sd_ln + (1.0 - tension) * h.radial.sd_ln;
    let mut variance = [0.0; Source::COUNT];
    // the part of the scatter that a known material would take away
    let is_eye = x.kind == Some(Kind::GlueIn) && fitting.hanger_material.is_none();
    let own = if fitting.hanger_material.is_none() && fitting.rating.is_none() && !is_eye {
        let steel = Catalogue::built_in().hanger(Some(hardware::Material::StainlessUnknown));
        steel.radial.sd_ln.min(sd)
    } else {
        sd
    };
    variance[Source::Setting as usize] = own * own;
    variance[Source::Material as usize] = sd * sd - own * own;
    variance[Source::Direction as usize] = direction_variance(n, v, median, x.spread);
    scribe.step(|| Step {
        chapter: "hanger",
        what: if is_eye { "strength of the eye".into() } else { "strength of the hanger".into() },
        formula: if fitting.rating.is_some() {
            "usual strength, given that the marked loads were held".into()
        } else {
            "usual strength of an unmarked piece".into()
        },
        inputs: vec![Term::new("N", n / 1e3, "kN", Origin::Table).with_sd(h.axial.sd_ln)],
        result: Term::new("V", v / 1e3, "kN", Origin::Table).with_sd(h.radial.sd_ln),
        source: h.source.into(),
    });
    in_direction(scribe, Mode::Hanger, x.direction, [n, v, median], &variance);
    set.push(ModeResistance {
        mode: Mode::Hanger,
        median: Force::n(median),
        variance,
        rock_exponent: 0.0,
        section_exponent: 1.0,
    });
}

fn direction_variance(n: f64, v: f64, median: f64, spread: Option<[Direction; 2]>) -> f64 {
    let Some([low, high]) = spread else { return 0.0 };
    let ln = |dir| (combine(n, v, dir).0 / median).ln();
    three_point(ln(high), ln(low))
}

fn in_direction(
    scribe: &mut impl Scribe,
    mode: Mode,
    dir: Direction,
    [n, v, r]: [f64; 3],
    variance: &[f64; Source::COUNT],
) {
    scribe.step(|| Step {
        chapter: mode.name(),
        what: format!("{}: load it holds in the direction of pull", mode.name()).into(),
        formula: "R = ((cos t / N)^2 + (sin t / V)^2)^(-1/2)".into(),
        inputs: vec![
            Term::new("t", dir.sin.atan2(dir.cos).to_degrees(), "deg", Origin::Computed),
            Term::new("N", n / 1e3, "kN", Origin::Computed),
            Term::new("V", v / 1e3, "kN", Origin::Computed),
        ],
        result: Term::new("R", r / 1e3, "kN", Origin::Computed).with_sd(variance.iter().sum::<f64>().sqrt()),
        source: "EN 1992-4 (7.54), seen in an engineering digest".into(),
    });
}
