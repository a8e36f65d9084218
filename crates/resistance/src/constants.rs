//! The constants of the models, read once from the data files.

use hardware::{Kind, Resin};
use serde::Deserialize;
use std::sync::OnceLock;

#[derive(Debug, Deserialize)]
pub(crate) struct Steel {
    pub shear_ratio: f64,
    pub tension_model_sd_ln: f64,
    pub shear_model_sd_ln: f64,
    pub product_sd_ln: f64,
    pub source: String,
}

#[derive(Debug, Deserialize)]
pub(crate) struct Proud {
    pub end_fixity: f64,
    pub embedded_lever_diameters: f64,
    pub full_strength_diameters: f64,
    pub hinge_diameters: f64,
    pub catenary_share: f64,
    pub sd_ln: f64,
    pub source: String,
}

#[derive(Debug, Deserialize)]
pub(crate) struct Cone {
    pub k_mean: f64,
    pub strength_cap_mpa: f64,
    pub model_sd_ln: f64,
    pub shallow_mm: f64,
    pub shallow_multiplier: f64,
    pub source: String,
}

#[derive(Debug, Deserialize)]
pub(crate) struct PullOut {
    pub diameters_mm: [f64; 3],
    pub loads_kn: [f64; 3],
    pub reference_mpa: f64,
    pub cap_mpa: f64,
    pub soft_mpa: f64,
    pub product_sd_ln: f64,
    pub soft_sd_ln: f64,
    pub torque_unknown_sd_ln: f64,
    pub torque_low_sd_ln: f64,
    pub source: String,
}

#[derive(Debug, Deserialize)]
pub(crate) struct BondStress {
    low_mpa: f64,
    high_mpa: f64,
    pub source: String,
    #[serde(skip)]
    pub median_mpa: f64,
    #[serde(skip)]
    pub sd_ln: f64,
}

impl BondStress {
    fn prepare(&mut self) {
        self.median_mpa = (self.low_mpa * self.high_mpa).sqrt();
        self.sd_ln = (self.high_mpa / self.low_mpa).ln() / Z90_WIDTH;
    }
}

#[derive(Debug, Deserialize)]
pub(crate) struct Bond {
    pub wall_ratio: f64,
    pub wall_sd_ln: f64,
    pub model_sd_ln: f64,
    pub product_sd_ln: f64,
    pub hole_factor: f64,
    pub hole_sd_ln: f64,
    pub source: String,
    polyester: BondStress,
    vinylester: BondStress,
    epoxy: BondStress,
    cement: BondStress,
    unknown: BondStress,
}

impl Bond {
    /// Bond stress of a resin, or of one that nobody wrote down.
    pub fn stress(&self, resin: Option<Resin>) -> &BondStress {
        match resin {
            Some(Resin::Polyester) => &self.polyester,
            Some(Resin::Vinylester) => &self.vinylester,
            Some(Resin::Epoxy) => &self.epoxy,
            Some(Resin::Cement) => &self.cement,
            None => &self.unknown,
        }
    }
}

#[derive(Debug, Deserialize)]
pub(crate) struct Edge {
    pub k_mean: f64,
    pub model_sd_ln: f64,
    pub source: String,
}

#[derive(Debug, Deserialize)]
pub(crate) struct PryOut {
    pub low_mm: f64,
    pub high_mm: f64,
    pub model_sd_ln: f64,
    pub source: String,
}

#[derive(Debug, Deserialize)]
pub(crate) struct Unmeasured {
    pub edge_mm: f64,
    pub edge_sd_ln: f64,
    pub spacing_mm: f64,
    pub spacing_sd_ln: f64,
    pub source: String,
}

#[derive(Debug, Deserialize)]
pub(crate) struct Reading {
    pub least_mm: f64,
    pub most_mm: f64,
}

/// Experience with one kind, or with all kinds together.
#[derive(Clone, Debug)]
pub(crate) struct Experience {
    /// Diameter that the loads belong to, mm.
    pub diameter_mm: f64,
    /// Median axial and radial load, N.
    pub median_n: [f64; 2],
    /// Scatter of one piece about its kind's median.
    pub piece_sd_ln: [f64; 2],
    /// Scatter of the kinds' medians; 0 where the kind is known.
    pub kind_sd_ln: [f64; 2],
    /// Powers of the diameter.
    pub power: [f64; 2],
    /// Rock strength from which on the loads hold, MPa.
    pub reference_mpa: f64,
    /// Where the numbers come from.
    pub source: String,
}

#[derive(Debug, Deserialize)]
struct ExperienceRow {
    id: Kind,
    diameter_mm: f64,
    axial_kn: f64,
    radial_kn: f64,
    axial_cov: f64,
    radial_cov: f64,
    axial_power: f64,
    radial_power: f64,
    reference_mpa: f64,
    share: f64,
    share_if_marked: f64,
    source: String,
}

#[derive(Deserialize)]
struct ExperienceFile {
    #[serde(rename = "kind")]
    kinds: Vec<ExperienceRow>,
}

#[derive(Deserialize)]
struct ModelFile {
    steel: Steel,
    proud: Proud,
    cone: Cone,
    pull_out: PullOut,
    bond: Bond,
    edge: Edge,
    pry_out: PryOut,
    surroundings: Unmeasured,
    reading: Reading,
}

/// All constants.
#[derive(Debug)]
pub(crate) struct Constants {
    pub steel: Steel,
    pub proud: Proud,
    pub cone: Cone,
    pub pull_out: PullOut,
    pub bond: Bond,
    pub edge: Edge,
    pub pry_out: PryOut,
    pub surroundings: Unmeasured,
    pub reading: Reading,
    experience: Vec<Experience>,
    any_kind: Experience,
    any_marked_kind: Experience,
}

/// Full width of the middle 90 % of a normal distribution in standard deviations.
const Z90_WIDTH: f64 = 3.289_707_253_902_944_6;

impl Constants {
    /// The constants that come with the program.
    pub fn built_in() -> &'static Constants {
        static CONSTANTS: OnceLock<Constants> = OnceLock::new();
        CONSTANTS.get_or_init(|| {
            #[allow(clippy::expect_used)] // the built-in files are read by every test
            Constants::read().expect("built-in model constants")
        })
    }

    fn read() -> Result<Constants, String> {
        let bad = |e: toml::de::Error| e.to_string();
        let mut m: ModelFile = toml::from_str(include_str!("../data/models.toml")).map_err(bad)?;
        let e: ExperienceFile = toml::from_str(include_str!("../data/experience.toml")).map_err(bad)?;
        let b = &mut m.bond;
        for stress in [&mut b.polyester, &mut b.vinylester, &mut b.epoxy, &mut b.cement, &mut b.unknown] {
            stress.prepare();
        }
        let mut rows = e.kinds;
        rows.sort_by_key(|r| r.id);
        if !rows.iter().map(|r| r.id).eq(Kind::ALL) {
            return Err("experience.toml must hold every kind once".to_owned());
        }
        Ok(Constants {
            steel: m.steel,
            proud: m.proud,
            cone: m.cone,
            pull_out: m.pull_out,
            bond: m.bond,
            edge: m.edge,
            pry_out: m.pry_out,
            surroundings: m.surroundings,
            reading: m.reading,
            any_kind: mixture(&rows, |r| r.share),
            any_marked_kind: mixture(&rows, |r| r.share_if_marked),
            experience: rows.iter().map(Experience::from).collect(),
        })
    }

    /// Experience with a kind; where the kind is not known, with all kinds, weighted by how common they
    /// are (`marked`: among those that carry a rating).
    pub fn experience(&self, kind: Option<Kind>, marked: bool) -> &Experience {
        match kind {
            Some(k) => &self.experience[k as usize],
            None if marked => &self.any_marked_kind,
            None => &self.any_kind,
        }
    }
}

/// Variance of the logarithm of a log-normal with this coefficient of variation.
fn variance_ln(cov: f64) -> f64 {
    (1.0 + cov * cov).ln()
}

impl From<&ExperienceRow> for Experience {
    fn from(r: &ExperienceRow) -> Self {
        let v = [variance_ln(r.axial_cov), variance_ln(r.radial_cov)];
        Experience {
            diameter_mm: r.diameter_mm,
            median_n: [r.axial_kn * 1e3 / (v[0] / 2.0).exp(), r.radial_kn * 1e3 / (v[1] / 2.0).exp()],
            piece_sd_ln: v.map(f64::sqrt),
            kind_sd_ln: [0.0; 2],
            power: [r.axial_power, r.radial_power],
            reference_mpa: r.reference_mpa,
            source: r.source.clone(),
        }
    }
}

/// The log-normal with the moments of a mixture over kinds: mean of the logarithm `sum(w m)`, variance
/// `sum(w s^2) + sum(w (m - mean)^2)`, the second part being what knowing the kind would take away.
fn mixture(rows: &[ExperienceRow], share: impl Fn(&ExperienceRow) -> f64) -> Experience {
    let total: f64 = rows.iter().map(&share).sum();
    let kinds: Vec<(f64, Experience)> =
        rows.iter().map(|r| (share(r) / total, Experience::from(r))).collect();
    let sum = |f: &dyn Fn(&Experience) -> f64| kinds.iter().map(|(w, e)| w * f(e)).sum::<f64>();
    let mean = [0, 1].map(|i| sum(&|e| e.median_n[i].ln()));
    Experience {
        diameter_mm: sum(&|e| e.diameter_mm),
        median_n: mean.map(f64::exp),
        piece_sd_ln: [0, 1].map(|i| sum(&|e| e.piece_sd_ln[i].powi(2)).sqrt()),
        kind_sd_ln: [0, 1].map(|i| sum(&|e| (e.median_n[i].ln() - mean[i]).powi(2)).sqrt()),
        power: [0, 1].map(|i| sum(&|e| e.power[i])),
        reference_mpa: 50.0,
        source: "moments of the mixture over kinds; shares of the kinds are judgement".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn compression_bolts_follow_the_sizes_of_the_table() {
        // judgement table: mean axial / radial kN at 1/4, 5/16, 3/8 in: 5/8, 8/13, 13/20
        let e = Constants::built_in().experience(Some(Kind::CompressionBolt), false);
        for (d, n, v) in [(6.35, 5.0, 8.0), (7.9375, 8.0, 13.0), (9.525, 13.0, 20.0)] {
            let mean = |i: usize| {
                e.median_n[i] * (e.piece_sd_ln[i].powi(2) / 2.0).exp() * (d / e.diameter_mm).powf(e.power[i])
            };
            assert!((mean(0) / 1e3 / n - 1.0).abs() < 0.06, "{d}: {}", mean(0));
            assert!((mean(1) / 1e3 / v - 1.0).abs() < 0.03, "{d}: {}", mean(1));
        }
    }

    #[test]
    fn a_kind_not_known_is_wider_than_any_formula_kind() {
        let c = Constants::built_in();
        let any = c.experience(None, false);
        let marked = c.experience(None, true);
        assert!(any.kind_sd_ln[0] > 0.5 && any.kind_sd_ln[0] > marked.kind_sd_ln[0]);
        assert!(any.median_n[0] < marked.median_n[0]);
        assert_eq!(c.experience(Some(Kind::Piton), false).kind_sd_ln, [0.0; 2]);
    }

    #[test]
    fn unknown_resin_has_the_low_default_as_its_5_percent_fractile() {
        let b = &Constants::built_in().bond;
        let u = b.stress(None);
        assert!((u.median_mpa * (-1.645 * u.sd_ln).exp() - 4.5).abs() < 0.01);
        assert!(u.sd_ln > b.stress(Some(Resin::Epoxy)).sd_ln);
        assert!(b.stress(Some(Resin::Epoxy)).median_mpa > 1.8 * b.stress(Some(Resin::Polyester)).median_mpa);
    }
}
