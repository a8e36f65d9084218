//! Stress-corrosion cracking of passive alloys.

use crate::data::cracking_table;
use crate::{Cracking, Environment};
use hardware::Material;
use reckoning::{Origin, Scribe, Step, Term, Uncertain, normal};
use units::Ratio;

/// Chance a year that an intact bolt of a material cracks, and what a cracked bolt still holds.
///
/// `h = h0 k_material k_setting k_shelter exp(0.224 (T - 18))`, T clamped to 5..25 C; 304 on a warm
/// sheltered sea cliff has h0 = 0.03 a year (0.005..0.10). Logarithmic scatters of the factors add in
/// squares; what is not recorded adds its own. `None` for carbon steel and aluminium, which do not crack
/// in this way. Unit: 1/a. Source: judgement (`data/cracking.toml`); published studies back only the
/// ratio between the 304 and 316 families. A clean look tells nothing about such cracks.
pub fn cracking(material: Material, env: &Environment, scribe: &mut impl Scribe) -> Option<Cracking> {
    let table = cracking_table();
    let alloy = table.material(material)?;
    let setting = table.setting(env.setting);
    let shelter = table.shelter(env.shelter);
    let climate = &crate::data::air_table().climate;
    let recorded = env.temperature.map(|t| t.as_celsius()).filter(|t| t.is_finite() && t.abs() <= 60.0);
    let (t, t_sd) = recorded.map_or((climate.temperature, climate.temperature_sd), |t| (t, 0.0));
    let k = &table.temperature;
    let heat = (k.ln_per_degree * (t.clamp(k.least, k.greatest) - k.warm)).exp();
    let median = (table.base.hazard * alloy.factor * setting.factor * shelter.factor * heat).min(1.0);
    let sd_ln = [table.base.sd_ln, alloy.sd_ln, setting.sd_ln, shelter.sd_ln, k.ln_per_degree * t_sd]
        .iter()
        .map(|s| s * s)
        .sum::<f64>()
        .sqrt();
    let result = Cracking {
        hazard_per_year: Uncertain::new(Ratio::of(median), sd_ln),
        strength_left: Uncertain::new(Ratio::of(table.strength_left.median), table.strength_left.sd_ln),
    };
    scribe.step(|| {
        let origin = |known: bool| if known { Origin::Recorded } else { Origin::Assumed };
        Step {
            chapter: "cracking",
            what: "chance a year that the intact metal cracks by stress corrosion".into(),
            formula: "h = h0 k_alloy k_setting k_shelter exp(0.224 (T - 18))".into(),
            inputs: vec![
                Term::new("h0", table.base.hazard, "1/a", Origin::Table).with_sd(table.base.sd_ln),
                Term::new("k_alloy", alloy.factor, "1", Origin::Table).with_sd(alloy.sd_ln),
                Term::new("k_setting", setting.factor, "1", origin(env.setting.is_some()))
                    .with_sd(setting.sd_ln),
                Term::new("k_shelter", shelter.factor, "1", origin(env.shelter.is_some()))
                    .with_sd(shelter.sd_ln),
                Term::new("T", t, "C", origin(recorded.is_some())),
                Term::new("s_T", t_sd, "C", origin(recorded.is_some())),
            ],
            result: Term::new("h", median, "1/a", Origin::Computed).with_sd(sd_ln),
            source: format!("{}; alloy: {}; setting: {}", table.base.source, alloy.source, setting.source)
                .into(),
        }
    });
    scribe.step(|| Step {
        chapter: "cracking",
        what: "share of its strength that a cracked bolt still has".into(),
        formula: "table value".into(),
        inputs: Vec::new(),
        result: Term::new("k_cracked", table.strength_left.median, "1", Origin::Table)
            .with_sd(table.strength_left.sd_ln),
        source: table.strength_left.source.as_str().into(),
    });
    Some(result)
}

/// Hazards at the nodes of the seven-point rule, so that the chance of a crack is a short sum.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Hazard {
    median: f64,
    sd_ln: f64,
    nodes: [f64; 7],
}

impl Hazard {
    pub fn new(h: &Uncertain<Ratio>) -> Self {
        let median = h.median.get();
        Self { median, sd_ln: h.sd_ln, nodes: normal::HERMITE_7.map(|(z, _)| median * (h.sd_ln * z).exp()) }
    }

    /// `1 - E[exp(-h t)]` over the uncertain hazard.
    pub fn cracked(&self, years: f64) -> f64 {
        let intact: f64 =
            self.nodes.iter().zip(&normal::HERMITE_7).map(|(h, (_, w))| w * (-h * years).exp()).sum();
        (1.0 - intact).clamp(0.0, 1.0)
    }

    /// `1 - exp(-h t)` with the hazard z standard deviations of its logarithm up.
    pub fn cracked_shifted(&self, years: f64, z: f64) -> f64 {
        1.0 - (-self.median * (self.sd_ln * z).exp() * years).exp()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Setting, Shelter};
    use reckoning::Silent;
    use units::Temperature;

    fn env(setting: Setting, shelter: Shelter, t: f64) -> Environment {
        Environment {
            setting: Some(setting),
            shelter: Some(shelter),
            temperature: Some(Temperature::celsius(t)),
            ..Environment::default()
        }
    }

    fn hazard(material: Material, e: &Environment) -> f64 {
        cracking(material, e, &mut Silent).unwrap().hazard_per_year.median.get()
    }

    #[test]
    fn defaults_of_the_reference() {
        // reference, sec. 2.5: sheltered coast, 304 0.03 warm, 0.005 temperate; 316 a third; Ti 1e-4
        let warm = env(Setting::SeaCliff, Shelter::Sheltered, 18.0);
        let temperate = env(Setting::SeaCliff, Shelter::Sheltered, 10.0);
        assert!((hazard(Material::Stainless304, &warm) - 0.03).abs() < 1e-12);
        assert!((hazard(Material::Stainless304, &temperate) - 0.005).abs() < 1e-5);
        let ratio = hazard(Material::Stainless304, &warm) / hazard(Material::Stainless316, &warm);
        assert!((2.0..=3.1).contains(&ratio), "{ratio}");
        assert!((hazard(Material::Titanium, &warm) - 1e-4).abs() < 2e-6);
        let h = cracking(Material::Stainless304, &warm, &mut Silent).unwrap().hazard_per_year;
        // 0.005 .. 0.10 lies within about the middle 95 %
        assert!(h.cdf(Ratio::of(0.005)) < 0.05 && h.cdf(Ratio::of(0.10)) > 0.90);
    }

    #[test]
    fn carbon_steel_does_not_crack_so() {
        let e = env(Setting::SeaCliff, Shelter::Sheltered, 18.0);
        assert!(cracking(Material::PlatedCarbonSteel, &e, &mut Silent).is_none());
    }

    #[test]
    fn unknown_inputs_widen() {
        let known = env(Setting::Coast, Shelter::Washed, 12.0);
        let sd =
            |e: &Environment| cracking(Material::Stainless316, e, &mut Silent).unwrap().hazard_per_year.sd_ln;
        for e in [
            Environment { setting: None, ..known },
            Environment { shelter: None, ..known },
            Environment { temperature: None, ..known },
        ] {
            assert!(sd(&e) > sd(&known));
        }
    }

    #[test]
    fn mean_over_the_hazard_agrees_with_fine_integration() {
        let h = Uncertain::new(Ratio::of(0.03), 0.9);
        let fast = Hazard::new(&h);
        for t in [1.0, 10.0, 40.0] {
            let n = 4000;
            let fine: f64 = (0..n)
                .map(|i| 1.0 - (-h.fractile((f64::from(i) + 0.5) / f64::from(n)).get() * t).exp())
                .sum::<f64>()
                / f64::from(n);
            assert!((fast.cracked(t) - fine).abs() < 2e-3, "{t}: {} {fine}", fast.cracked(t));
        }
    }
}
