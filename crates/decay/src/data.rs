//! The built-in tables of judgement and standards, read once.

use crate::alloy::Alloy;
use crate::{Setting, Shelter};
use hardware::Material;
use serde::Deserialize;
use std::sync::OnceLock;

/// Deposits of one setting.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Deposits {
    pub sulphur: f64,
    pub sulphur_sd_ln: f64,
    pub chloride: f64,
    pub chloride_sd_ln: f64,
    pub source: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Climate {
    pub temperature: f64,
    pub temperature_sd: f64,
    pub humidity: f64,
    pub humidity_sd: f64,
    pub source: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Scatter {
    pub sd_ln: f64,
    pub source: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct AirTable {
    inland: Deposits,
    polluted: Deposits,
    near_coast: Deposits,
    coast: Deposits,
    sea_cliff: Deposits,
    unknown: Deposits,
    pub climate: Climate,
    pub dose_response: Scatter,
}

impl AirTable {
    pub fn deposits(&self, setting: Option<Setting>) -> &Deposits {
        match setting {
            Some(Setting::Inland) => &self.inland,
            Some(Setting::Polluted) => &self.polluted,
            Some(Setting::NearCoast) => &self.near_coast,
            Some(Setting::Coast) => &self.coast,
            Some(Setting::SeaCliff) => &self.sea_cliff,
            None => &self.unknown,
        }
    }
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Exponents {
    pub steel: f64,
    pub steel_upper: f64,
    pub zinc: f64,
    #[allow(dead_code)]
    pub zinc_upper: f64,
    pub source: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct SaltExponent {
    pub steel: f64,
    pub sd: f64,
    pub from_mg_m2_d: f64,
    pub source: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Coating {
    pub um: f64,
    pub sd_ln: f64,
    pub source: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Coatings {
    pub plated: Coating,
    pub hot_dip: Coating,
}

/// A factor with its scatter and source.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Factor {
    pub factor: f64,
    pub sd_ln: f64,
    pub source: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Crevices {
    washed: Factor,
    sheltered: Factor,
    sheltered_salt: Factor,
    seeping: Factor,
    unknown: Factor,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Galvanic {
    pub limit_v: f64,
    pub g: f64,
    pub greatest_area_ratio: f64,
    pub hanger_on_bolt_area_ratio: f64,
    pub bolt_on_hanger_area_ratio: f64,
    pub sd_ln: f64,
    pub source: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct MeasuredLoss {
    pub hidden_factor: f64,
    pub hidden_sd_ln: f64,
    pub reading_mm: f64,
    pub least_mm: f64,
    pub source: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Limits {
    pub least_area_left: f64,
    pub greatest_sd_ln: f64,
    pub spent_depth_share: f64,
    #[allow(dead_code)]
    pub source: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct MaterialUnknown {
    pub carbon_share: f64,
    pub carbon_share_stainless_hanger: f64,
    pub carbon_share_carbon_hanger: f64,
    pub carbon_share_loss_measured: f64,
    pub source: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Aluminium {
    pub sd_ln_per_year: f64,
    pub greatest_sd_ln: f64,
    #[allow(dead_code)]
    pub source: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct SteelTable {
    pub exponents: Exponents,
    pub salt_exponent: SaltExponent,
    pub coating: Coatings,
    crevice: Crevices,
    pub galvanic: Galvanic,
    pub measured: MeasuredLoss,
    pub limits: Limits,
    pub material_unknown: MaterialUnknown,
    pub aluminium: Aluminium,
}

impl SteelTable {
    /// Local factor; `salt` = chlorides collect here.
    pub fn crevice(&self, shelter: Option<Shelter>, salt: bool) -> &Factor {
        match shelter {
            Some(Shelter::Washed) => &self.crevice.washed,
            Some(Shelter::Sheltered) if salt => &self.crevice.sheltered_salt,
            Some(Shelter::Sheltered) => &self.crevice.sheltered,
            Some(Shelter::Seeping) => &self.crevice.seeping,
            None => &self.crevice.unknown,
        }
    }
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct BaseHazard {
    pub hazard: f64,
    pub sd_ln: f64,
    pub source: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct ByTemperature {
    pub warm: f64,
    pub ln_per_degree: f64,
    pub least: f64,
    pub greatest: f64,
    #[allow(dead_code)]
    pub source: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct ByMaterial {
    stainless304: Factor,
    stainless316: Factor,
    stainless_unknown: Factor,
    duplex: Factor,
    high_molybdenum: Factor,
    titanium: Factor,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct BySetting {
    inland: Factor,
    polluted: Factor,
    near_coast: Factor,
    coast: Factor,
    sea_cliff: Factor,
    unknown: Factor,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct ByShelter {
    sheltered: Factor,
    washed: Factor,
    seeping: Factor,
    unknown: Factor,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct StrengthLeft {
    pub median: f64,
    pub sd_ln: f64,
    pub source: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct CrackingTable {
    pub base: BaseHazard,
    pub temperature: ByTemperature,
    material: ByMaterial,
    setting: BySetting,
    shelter: ByShelter,
    pub strength_left: StrengthLeft,
}

impl CrackingTable {
    /// Factor of a material; `None` for materials that do not crack in this way.
    pub fn material(&self, material: Material) -> Option<&Factor> {
        match material {
            Material::Stainless304 => Some(&self.material.stainless304),
            Material::Stainless316 => Some(&self.material.stainless316),
            Material::StainlessUnknown => Some(&self.material.stainless_unknown),
            Material::Duplex => Some(&self.material.duplex),
            Material::HighMolybdenum => Some(&self.material.high_molybdenum),
            Material::Titanium => Some(&self.material.titanium),
            Material::BareCarbonSteel
            | Material::PlatedCarbonSteel
            | Material::HotDipCarbonSteel
            | Material::Aluminium => None,
        }
    }

    pub fn setting(&self, setting: Option<Setting>) -> &Factor {
        match setting {
            Some(Setting::Inland) => &self.setting.inland,
            Some(Setting::Polluted) => &self.setting.polluted,
            Some(Setting::NearCoast) => &self.setting.near_coast,
            Some(Setting::Coast) => &self.setting.coast,
            Some(Setting::SeaCliff) => &self.setting.sea_cliff,
            None => &self.setting.unknown,
        }
    }

    pub fn shelter(&self, shelter: Option<Shelter>) -> &Factor {
        match shelter {
            Some(Shelter::Sheltered) => &self.shelter.sheltered,
            Some(Shelter::Washed) => &self.shelter.washed,
            Some(Shelter::Seeping) => &self.shelter.seeping,
            None => &self.shelter.unknown,
        }
    }
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct AnodicIndex {
    pub titanium: f64,
    pub stainless: f64,
    pub carbon_steel: f64,
    pub aluminium: f64,
    pub zinc: f64,
    #[allow(dead_code)]
    pub source: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct MetalTable {
    pub anodic_index: AnodicIndex,
    pub alloy: Vec<Alloy>,
}

macro_rules! table {
    ($name:ident, $type:ty, $file:literal) => {
        pub(crate) fn $name() -> &'static $type {
            static TABLE: OnceLock<$type> = OnceLock::new();
            TABLE.get_or_init(|| {
                toml::from_str(include_str!(concat!("../data/", $file)))
                    .expect("built-in data, parsed by the tests")
            })
        }
    };
}

table!(air_table, AirTable, "air.toml");
table!(steel, SteelTable, "steel.toml");
table!(cracking_table, CrackingTable, "cracking.toml");
table!(metals, MetalTable, "metals.toml");
