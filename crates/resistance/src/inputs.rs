//! What the models reckon with: measured values, or stated assumptions with their scatter.

use crate::constants::Constants;
use crate::interaction::Direction;
use crate::mode::Anchorage;
use hardware::{Catalogue, Kind, hole_diameter, usual_diameter, usual_embedment};
use reckoning::{Origin, Scribe, Step, Term};
use std::borrow::Cow;
use units::Length;

/// A value with the standard deviation of its logarithm; 0 where it was measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Known {
    pub value: f64,
    pub sd_ln: f64,
}

impl Known {
    const fn exact(value: f64) -> Self {
        Known { value, sd_ln: 0.0 }
    }
    pub fn origin(self) -> Origin {
        if self.sd_ln == 0.0 { Origin::Measured } else { Origin::Assumed }
    }
    /// As a term of the account.
    pub fn term(self, symbol: &'static str, unit: &'static str, origin: Origin) -> Term {
        let term = Term::new(symbol, self.value, unit, origin);
        if self.sd_ln > 0.0 { term.with_sd(self.sd_ln) } else { term }
    }
}

/// All inputs of one placement: N, mm, MPa.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Inputs {
    pub kind: Option<Kind>,
    pub diameter: Known,
    /// Hole over outside diameter.
    pub hole_ratio: f64,
    pub embedment: Known,
    pub ucs: Known,
    pub joint: Known,
    pub edge: Known,
    pub spacing: Known,
    pub tau: Known,
    /// Lever arm of a proud hanger, 0 = flush.
    pub proud: f64,
    pub direction: Direction,
    /// Directions at both ends of the spread, where there is one.
    pub spread: Option<[Direction; 2]>,
}

/// A length that can be reckoned with, in mm: finite and in the range of the data file; else not known.
fn usable(c: &Constants, l: Option<Length>) -> Option<f64> {
    l.map(Length::as_mm).filter(|mm| (c.reading.least_mm..=c.reading.most_mm).contains(mm))
}

/// A distance to something: like [`usable`], but a very large one is still far away.
fn distance(c: &Constants, l: Option<Length>) -> Option<f64> {
    l.map(Length::as_mm).filter(|mm| *mm >= 0.0 && mm.is_finite()).map(|mm| mm.clamp(c.reading.least_mm, 1e5))
}

/// Largest scatter that is reckoned with: a factor of 20.
const MOST_SD_LN: f64 = 3.0;

/// A value brought into a range; NaN counts as the low end.
fn within(value: f64, low: f64, high: f64) -> f64 {
    if value >= low { value.min(high) } else { low }
}

impl Inputs {
    /// Gathers the inputs and notes each assumption. Values out of range count as not known.
    pub fn gather(a: &Anchorage, scribe: &mut impl Scribe) -> Inputs {
        let c = Constants::built_in();
        let f = &a.fitting;
        let kind = f.kind.or(f.resin.map(|_| Kind::GlueIn));

        let measured = usable(c, f.diameter);
        let diameter = measured.map_or_else(
            || {
                let u = usual_diameter(kind);
                Known { value: u.median.as_mm(), sd_ln: u.sd_ln }
            },
            Known::exact,
        );
        let d = Length::mm(diameter.value);
        let hole_ratio = kind.map_or(1.0, |k| hole_diameter(k, d) / d);

        let length = usable(c, f.length).map(Length::mm);
        let embedment = usable(c, f.embedment).map_or_else(
            || {
                let u = usual_embedment(kind, Some(d), length);
                Known { value: u.median.as_mm().max(c.reading.least_mm), sd_ln: u.sd_ln }
            },
            Known::exact,
        );

        let s = &c.surroundings;
        let edge = distance(c, a.surroundings.edge_distance)
            .map_or(Known { value: s.edge_mm, sd_ln: s.edge_sd_ln }, Known::exact);
        let spacing = distance(c, a.surroundings.spacing)
            .map_or(Known { value: s.spacing_mm, sd_ln: s.spacing_sd_ln }, Known::exact);

        let bond = c.bond.stress(f.resin);
        let tau = Known {
            value: bond.median_mpa * c.bond.hole_factor,
            sd_ln: (bond.sd_ln * bond.sd_ln + c.bond.hole_sd_ln * c.bond.hole_sd_ln).sqrt(),
        };

        let angle = a.direction.as_rad();
        let width = a.direction_spread.as_rad().abs();
        let right = std::f64::consts::FRAC_PI_2;
        let (angle, width) = if angle.is_finite() { (angle, width) } else { (right, right) };
        let spread = (width > 0.0)
            .then(|| [Direction::new(angle - width.min(right)), Direction::new(angle + width.min(right))]);

        let inputs = Inputs {
            kind,
            diameter,
            hole_ratio,
            embedment,
            ucs: Known {
                value: within(a.rock.ucs.median.as_mpa(), 1e-3, 1e4),
                sd_ln: within(a.rock.ucs.sd_ln, 0.0, MOST_SD_LN),
            },
            joint: Known {
                value: within(a.rock.joint_factor.median.get(), 1e-3, 1.0),
                sd_ln: within(a.rock.joint_factor.sd_ln, 0.0, MOST_SD_LN),
            },
            edge,
            spacing,
            tau,
            proud: within(a.proud.map_or(0.0, Length::as_mm), 0.0, c.reading.most_mm),
            direction: Direction::new(angle),
            spread,
        };
        inputs.note(a, c, scribe);
        inputs
    }

    fn note(&self, a: &Anchorage, c: &'static Constants, scribe: &mut impl Scribe) {
        let kind_name = self.kind.map_or("kind not known", Kind::name);
        let catalogue = self.kind.map_or("judgement", |k| Catalogue::built_in().kind(k).source.as_str());
        if a.fitting.kind.is_none() && self.kind.is_some() {
            taken(
                scribe,
                || "a resin is recorded, so it is taken as a glue-in".into(),
                "kind",
                Known { value: 1.0, sd_ln: 0.0 },
                "1",
                Origin::Assumed,
                "judgement",
            );
        }
        let say = |what: &str, known: Known| -> Cow<'static, str> {
            let how = if known.sd_ln == 0.0 { "as measured" } else { "not measured, taken as usual" };
            format!("{what} ({kind_name}): {how}").into()
        };
        scribe_known(scribe, || say("diameter", self.diameter), "d", self.diameter, catalogue);
        match (self.kind, usable(c, a.fitting.length)) {
            (Some(kind), Some(length)) if self.embedment.sd_ln > 0.0 => scribe.step(|| {
                let (fixed, diameters) = Catalogue::built_in().kind(kind).offset;
                Step {
                    chapter: "inputs",
                    what: format!("effective embedment ({kind_name}): not measured, from the bolt's length")
                        .into(),
                    formula: "h_ef = L - a - b * d, not less than 0.3 L".into(),
                    inputs: vec![
                        Term::new("L", length, "mm", Origin::Recorded),
                        Term::new("a", fixed.as_mm(), "mm", Origin::Table),
                        Term::new("b", diameters, "1", Origin::Table),
                        self.diameter.term("d", "mm", self.diameter.origin()),
                    ],
                    result: self.embedment.term("h_ef", "mm", Origin::Assumed),
                    source: catalogue.into(),
                }
            }),
            _ => {
                scribe_known(
                    scribe,
                    || say("effective embedment", self.embedment),
                    "h_ef",
                    self.embedment,
                    catalogue,
                );
            }
        }
        scribe_known(scribe, || say("edge distance", self.edge), "c", self.edge, &c.surroundings.source);
        scribe_known(
            scribe,
            || say("distance to the next loaded anchor", self.spacing),
            "s",
            self.spacing,
            &c.surroundings.source,
        );
        if self.kind == Some(Kind::GlueIn) {
            let resin = a.fitting.resin;
            taken(
                scribe,
                || match resin {
                    Some(r) => format!("bond stress of {}, state of the hole not seen", r.name()).into(),
                    None => "bond stress, resin not known, state of the hole not seen".into(),
                },
                "tau",
                self.tau,
                "MPa",
                if resin.is_some() { Origin::Table } else { Origin::Assumed },
                &c.bond.stress(resin).source,
            );
        }
    }
}

fn scribe_known(
    scribe: &mut impl Scribe,
    what: impl FnOnce() -> Cow<'static, str>,
    symbol: &'static str,
    known: Known,
    source: &'static str,
) {
    scribe.step(|| Step {
        chapter: "inputs",
        what: what(),
        formula: "as given, else the usual value".into(),
        inputs: vec![],
        result: known.term(symbol, "mm", known.origin()),
        source: if known.sd_ln == 0.0 { "record".into() } else { source.into() },
    });
}

fn taken(
    scribe: &mut impl Scribe,
    what: impl FnOnce() -> Cow<'static, str>,
    symbol: &'static str,
    known: Known,
    unit: &'static str,
    origin: Origin,
    source: &'static str,
) {
    scribe.step(|| Step {
        chapter: "inputs",
        what: what(),
        formula: "from the table".into(),
        inputs: vec![],
        result: known.term(symbol, unit, origin),
        source: source.into(),
    });
}
