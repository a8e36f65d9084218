//! What is taken where something was not measured, and the section that carries the load.

use crate::catalogue::Catalogue;
use crate::fitting::{Fitting, Kind, Material};
use reckoning::Uncertain;
use units::{Force, Length, Stress};

/// The section of the bolt that carries the load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Section {
    /// Area in mm2 for the diameter asked for.
    pub area_mm2: f64,
    /// Scatter of the area (standard deviation of the logarithm) where the thread, neck or eye is not
    /// known.
    pub sd_ln: f64,
    /// Thread that carries it, where it is a tabled one.
    pub thread: Option<&'static str>,
}

/// The section that carries the load of a fitting of this kind and outside diameter.
///
/// Smooth shanks: `pi d^2 / 4`. Sleeve bolts and drop-ins: stress area of the thinner bolt inside.
/// Others: stress area of the thread of that diameter; if in no table, 0.72 of the full circle with
/// scatter. Times the kind's neck factor (data/kinds.toml). Diameter > 0, else the area is 0. Source:
/// ISO 898-1, ASME B1.1 (from memory); neck factors judgement.
pub fn section(kind: Option<Kind>, diameter: Length) -> Section {
    let c = Catalogue::built_in();
    let d = diameter.as_mm().max(0.0);
    let circle = std::f64::consts::FRAC_PI_4 * d * d;
    let untabled = c.untabled_thread();
    let Some(kind) = kind else {
        return Section { area_mm2: circle * untabled.share, sd_ln: untabled.sd_ln, thread: None };
    };
    let entry = c.kind(kind);
    let (factor, factor_sd) = entry.area_factor;
    if entry.smooth {
        return Section { area_mm2: circle * factor, sd_ln: factor_sd, thread: None };
    }
    let size = c.size(kind, diameter);
    let thread = match kind {
        Kind::SleeveBolt | Kind::DropIn => size.and_then(|s| c.core(s)),
        _ => c.thread(diameter),
    };
    match thread {
        Some(t) => {
            Section { area_mm2: t.stress_area_mm2 * factor, sd_ln: factor_sd, thread: Some(t.name.as_str()) }
        }
        None => {
            // thinner bolt inside an untabled sleeve: about 0.8 of its outside, before the thread
            let core = if matches!(kind, Kind::SleeveBolt | Kind::DropIn) { 0.64 } else { 1.0 };
            Section {
                area_mm2: circle * core * untabled.share * factor,
                sd_ln: untabled.sd_ln.hypot(factor_sd),
                thread: None,
            }
        }
    }
}

/// Nominal diameter of the thinner bolt that carries the load of a sleeve bolt or drop-in; the outside
/// diameter for other kinds. Untabled sizes: 0.8 of the outside (judgement).
pub fn core_diameter(kind: Kind, diameter: Length) -> Length {
    let c = Catalogue::built_in();
    match kind {
        Kind::SleeveBolt | Kind::DropIn => {
            c.size(kind, diameter).and_then(|s| c.core(s)).map_or(diameter * 0.8, |t| t.diameter)
        }
        _ => diameter,
    }
}

/// Diameter of the hole for an outside diameter: the tabled one, else 2 mm more for a glue-in and the
/// outside diameter for other kinds (common practice, no source).
pub fn hole_diameter(kind: Kind, diameter: Length) -> Length {
    match Catalogue::built_in().size(kind, diameter) {
        Some(s) => s.hole,
        None if kind == Kind::GlueIn => diameter + Length::mm(2.0),
        None => diameter,
    }
}

/// Tensile strength of a material over the grades that are sold, as a log-normal stress; wider where
/// the material is not known. Source: ISO 898-1, ISO 3506-1 and others in data/materials.toml.
pub fn tensile_strength(material: Option<Material>) -> Uncertain<Stress> {
    Catalogue::built_in().material(material).tensile
}

/// Diameter taken where nobody measured it. Common practice, no source.
pub fn usual_diameter(kind: Option<Kind>) -> Uncertain<Length> {
    Catalogue::built_in().usual_diameter(kind)
}

/// Effective embedment taken where nobody measured it.
///
/// With a known length L: `h_ef = L - a - b d` with the kind's a and b, not less than 0.3 L. With only
/// the kind: the kind's usual range, shifted with the diameter as `(d / d_usual)^0.5`. Without the
/// kind: 50 mm with wide scatter. Lengths > 0. Source: common practice, no source; the shift is
/// judgement.
pub fn usual_embedment(
    kind: Option<Kind>,
    diameter: Option<Length>,
    length: Option<Length>,
) -> Uncertain<Length> {
    let c = Catalogue::built_in();
    let Some(kind) = kind else {
        let guess = length.map_or(Length::mm(50.0), |l| l * 0.75);
        return Uncertain::new(guess, if length.is_some() { 0.15 } else { 0.35 });
    };
    let entry = c.kind(kind);
    let d = diameter.unwrap_or(entry.diameter.median);
    if let Some(l) = length {
        let (fixed, diameters) = entry.offset;
        return Uncertain::new((l - fixed - d * diameters).max(l * 0.3), entry.length_sd_ln);
    }
    let shift = (d / entry.diameter.median).max(0.0).sqrt();
    Uncertain::new(entry.embedment.median * shift, entry.embedment.sd_ln)
}

/// Strength of the hanger or eye along the face and straight out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HangerResistance {
    /// Along the face.
    pub radial: Uncertain<Force>,
    /// Straight out.
    pub axial: Uncertain<Force>,
    /// Where the unmarked value comes from.
    pub source: &'static str,
}

/// Strength of a fitting's hanger, or of the eye of a glue-in without one; a mark raises and narrows it
/// ([`above_mark`]).
///
/// Loads > 0. A hanger without a record of its material is taken to be of any material. Source:
/// judgement, data/hangers.toml.
pub fn hanger_resistance(fitting: &Fitting) -> HangerResistance {
    let c = Catalogue::built_in();
    let is_eye = fitting.kind.is_some_and(|k| !c.kind(k).has_hanger) && fitting.hanger_material.is_none();
    let entry = if is_eye && fitting.kind == Some(Kind::GlueIn) {
        c.eye()
    } else {
        c.hanger(fitting.hanger_material)
    };
    let (mut radial, mut axial) = (entry.radial, entry.axial);
    if let Some(mark) = fitting.rating {
        let sd = c.mark().own_sd_ln;
        radial = above_mark(radial, mark.radial, sd);
        axial = above_mark(axial, mark.axial, sd);
    }
    HangerResistance { radial, axial, source: &entry.source }
}

/// How far below a mark the prior may lie, in standard deviations, before the mark is not believed.
const LEAST_BELIEVABLE_Z: f64 = -2.5;

/// A strength of which a mark says that it is not less than `mark`.
///
/// In x = ln(strength): prior N(m, s^2), likelihood `Phi((x - ln mark) / t)`, t = `mark_sd_ln`. The
/// posterior's mean and variance, with `q = sqrt(s^2 + t^2)`, `z = (m - ln mark) / q` and
/// `l = phi(z) / Phi(z)`, are `m + s^2 l / q` and `s^2 (1 - s^2 l (l + z) / q^2)`; it is taken as
/// log-normal again. A mark that is not positive and finite changes nothing, nor does one so far above
/// the prior that it must be a slip of the pen or of the unit (z < -2.5, judgement). Source: moments of
/// a probit-weighted normal, e.g. Rasmussen & Williams 2006, section 3.9 (from memory).
pub fn above_mark(prior: Uncertain<Force>, mark: Force, mark_sd_ln: f64) -> Uncertain<Force> {
    let load = mark.as_n();
    if !(load > 0.0 && load.is_finite()) || prior.sd_ln <= 0.0 {
        return prior;
    }
    let s2 = prior.sd_ln * prior.sd_ln;
    let q = s2.sqrt().hypot(mark_sd_ln);
    let z = (prior.median / mark).ln() / q;
    if z < LEAST_BELIEVABLE_Z {
        return prior;
    }
    let l = reckoning::normal::pdf(z) / reckoning::normal::cdf(z);
    let variance = s2 * (1.0 - s2 * l * (l + z) / (q * q));
    Uncertain::new(prior.median * (s2 * l / q).exp(), variance.max(0.0).sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fitting::Rating;
    use proptest::prelude::*;

    #[test]
    fn sections_reproduce_thread_tables() {
        // five-piece 3/8 in sleeve bolt has a 5/16-18 core: 0.0524 in2 (ASME B1.1)
        let s = section(Some(Kind::SleeveBolt), Length::inch(0.375));
        assert_eq!(s.thread, Some("5/16-18"));
        assert!((s.area_mm2 / (0.0524 * 645.16) - 1.0).abs() < 2e-3);
        // smooth rod 12 mm: 113.1 mm2
        assert!((section(Some(Kind::GlueIn), Length::mm(12.0)).area_mm2 - 113.1).abs() < 0.01);
        assert_eq!(section(Some(Kind::WedgeBolt), Length::mm(-5.0)).area_mm2, 0.0);
    }

    #[test]
    fn usual_embedments_lie_in_the_trade_range() {
        // common practice: M10 x 90 wedge bolt sits 60 to 75 mm deep; 3/8 x 2 1/4 in about 38 mm
        let h =
            |d: Length, l: Length| usual_embedment(Some(Kind::WedgeBolt), Some(d), Some(l)).median.as_mm();
        assert!((60.0..=75.0).contains(&h(Length::mm(10.0), Length::mm(90.0))));
        assert!((35.0..=41.0).contains(&h(Length::inch(0.375), Length::inch(2.25))));
        assert!(
            usual_embedment(None, None, None).sd_ln > usual_embedment(Some(Kind::GlueIn), None, None).sd_ln
        );
    }

    #[test]
    fn a_mark_raises_and_narrows() {
        let plain = Fitting { kind: Some(Kind::WedgeBolt), ..Default::default() };
        let marked =
            Fitting { rating: Some(Rating { radial: Force::kn(25.0), axial: Force::kn(15.0) }), ..plain };
        let (p, m) = (hanger_resistance(&plain), hanger_resistance(&marked));
        assert!(m.radial.median > p.radial.median && m.radial.sd_ln < p.radial.sd_ln);
        assert!(m.radial.fractile(0.05).as_kn() > 20.0);
    }

    #[test]
    fn a_mark_in_the_wrong_unit_is_not_believed() {
        let prior = Uncertain::new(Force::kn(24.0), 0.35);
        assert_eq!(above_mark(prior, Force::kn(2500.0), 0.05), prior);
        assert!(above_mark(prior, Force::kn(40.0), 0.05).median > prior.median);
    }

    #[test]
    fn mark_moments_agree_with_direct_integration() {
        let (m, s, t, bound) = (3.2_f64, 0.3, 0.1, 3.4_f64);
        let (mut w, mut w1, mut w2) = (0.0, 0.0, 0.0);
        for i in 0..200_001 {
            let x = m - 8.0 * s + 16.0 * s * f64::from(i) / 200_000.0;
            let p = reckoning::normal::pdf((x - m) / s) * reckoning::normal::cdf((x - bound) / t);
            w += p;
            w1 += p * x;
            w2 += p * x * x;
        }
        let (mean, var) = (w1 / w, w2 / w - (w1 / w).powi(2));
        let got = above_mark(Uncertain::new(Force::n(m.exp()), s), Force::n(bound.exp()), t);
        assert!((got.median.as_n().ln() - mean).abs() < 1e-9);
        assert!((got.sd_ln.powi(2) - var).abs() < 1e-9);
    }

    proptest! {
        #[test]
        fn a_mark_never_lowers_nor_breaks(kn in proptest::num::f64::ANY, median in 1.0..100.0f64, sd in 0.0..1.5f64) {
            let prior = Uncertain::new(Force::kn(median), sd);
            let post = above_mark(prior, Force::kn(kn), 0.05);
            prop_assert!(post.median.as_n().is_finite());
            prop_assert!(post.median >= prior.median);
            prop_assert!(post.sd_ln <= prior.sd_ln + 1e-12);
        }
    }
}
