//! What new hardware should be made of.

use crate::{Environment, Setting, Shelter};
use hardware::Material;
use serde::Deserialize;
use std::sync::OnceLock;

/// Advice on the material of new hardware for one setting.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Advice {
    /// The setting in plain words.
    pub name: String,
    /// Materials that suit, best first.
    pub suited: Vec<Material>,
    /// Materials to avoid.
    pub avoid: Vec<Material>,
    /// The advice in one sentence.
    pub words: String,
    /// Where it comes from.
    pub source: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    row: Vec<Advice>,
}

/// Annual mean temperature from which a sea cliff counts as warm, degrees Celsius. Source: judgement.
const WARM: f64 = 15.0;

/// Rows of the data file, in its order.
#[derive(Clone, Copy)]
enum Row {
    Inland,
    Dirty,
    WashedCoast,
    Coast,
    WarmSea,
    Unknown,
}

/// What new hardware should be made of in an environment.
///
/// Unknown shelter counts as sheltered and unknown temperature as warm, because a wrong guess the other
/// way kills. `has_cracked`: a bolt at this crag is known to have cracked by stress corrosion. Source:
/// judgement (`data/advice.toml`); local codes and the maker's limits come first.
pub fn material_advice(env: &Environment, has_cracked: bool) -> &'static Advice {
    static TABLE: OnceLock<Table> = OnceLock::new();
    let table = TABLE.get_or_init(|| {
        toml::from_str(include_str!("../data/advice.toml")).expect("built-in data, parsed by the tests")
    });
    let washed = env.shelter == Some(Shelter::Washed);
    let temperate = env.temperature.is_some_and(|t| t.as_celsius() < WARM);
    let row = match env.setting {
        _ if has_cracked => Row::WarmSea,
        None => Row::Unknown,
        Some(Setting::Inland) if env.shelter == Some(Shelter::Seeping) => Row::Dirty,
        Some(Setting::Inland) => Row::Inland,
        Some(Setting::Polluted) => Row::Dirty,
        Some(Setting::NearCoast) if washed => Row::WashedCoast,
        Some(Setting::NearCoast | Setting::Coast) => Row::Coast,
        Some(Setting::SeaCliff) if washed && temperate => Row::Coast,
        Some(Setting::SeaCliff) => Row::WarmSea,
    };
    &table.row[row as usize]
}

#[cfg(test)]
mod tests {
    use super::*;
    use units::Temperature;

    fn advice(setting: Option<Setting>, shelter: Option<Shelter>, t: Option<f64>) -> &'static Advice {
        let env = Environment {
            setting,
            shelter,
            temperature: t.map(Temperature::celsius),
            ..Environment::default()
        };
        material_advice(&env, false)
    }

    #[test]
    fn rows_of_the_reference() {
        // reference, sec. 2.5
        use Material::*;
        use Setting::*;
        use Shelter::*;
        let inland = advice(Some(Inland), Some(Washed), None);
        assert!(inland.suited.contains(&Stainless304) && inland.avoid.contains(&PlatedCarbonSteel));
        assert!(advice(Some(Inland), Some(Seeping), None).avoid.contains(&Stainless304));
        assert!(advice(Some(NearCoast), Some(Washed), None).suited.contains(&Stainless316));
        assert!(advice(Some(NearCoast), Some(Sheltered), None).avoid.contains(&Stainless316));
        assert_eq!(advice(Some(SeaCliff), Some(Sheltered), Some(18.0)).suited[0], Titanium);
        assert!(advice(Some(SeaCliff), Some(Washed), Some(10.0)).suited.contains(&Duplex));
        assert!(!advice(Some(SeaCliff), None, None).suited.contains(&Duplex));
        assert_eq!(material_advice(&Environment::default(), true).suited[0], Titanium);
        assert!(advice(None, None, None).words.starts_with("Record"));
    }

    #[test]
    fn nothing_is_both_suited_and_to_be_avoided() {
        for setting in
            [Setting::Inland, Setting::Polluted, Setting::NearCoast, Setting::Coast, Setting::SeaCliff]
        {
            for shelter in [None, Some(Shelter::Washed), Some(Shelter::Sheltered), Some(Shelter::Seeping)] {
                let a = advice(Some(setting), shelter, Some(12.0));
                assert!(a.suited.iter().all(|m| !a.avoid.contains(m)) && !a.source.is_empty(), "{a:?}");
            }
        }
    }
}
