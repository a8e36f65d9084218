//! The data file of rock strengths, read once.

use crate::evidence::{FieldGrade, RockType, Soundness};
use serde::Deserialize;
use std::sync::OnceLock;

/// One type of rock.
#[derive(Clone, Debug, Deserialize)]
pub struct TypeEntry {
    /// 5 % fractile of the UCS of fresh intact rock, MPa.
    pub ucs_low_mpa: f64,
    /// 95 % fractile, MPa.
    pub ucs_high_mpa: f64,
    /// Usual unit weight, kN/m3.
    pub unit_weight_kn_per_m3: f64,
    /// Saturated over dry strength.
    pub wet_factor: f64,
    /// Scatter of that factor (standard deviation of the logarithm).
    pub wet_sd_ln: f64,
    /// Where the numbers come from.
    pub source: String,
}

/// One field grade.
#[derive(Clone, Debug, Deserialize)]
pub struct GradeEntry {
    /// Geometric middle of the band, MPa.
    pub ucs_mpa: f64,
    /// Scatter within the band (standard deviation of the logarithm).
    pub sd_ln: f64,
    /// Where the numbers come from.
    pub source: String,
}

/// Scatter of one way to find the UCS.
#[derive(Clone, Debug, Deserialize)]
pub struct MethodEntry {
    /// Scatter of the reading (standard deviation of the logarithm of the UCS).
    pub reading_sd_ln: f64,
    /// Scatter of the relation between reading and UCS.
    pub model_sd_ln: f64,
    /// Where the numbers come from.
    pub source: String,
}

impl MethodEntry {
    /// Variance of ln(UCS) of this method: `reading_sd_ln^2 + model_sd_ln^2`.
    pub fn variance(&self) -> f64 {
        self.reading_sd_ln * self.reading_sd_ln + self.model_sd_ln * self.model_sd_ln
    }
}

/// The four methods.
#[derive(Clone, Debug, Deserialize)]
pub struct Methods {
    /// Field grade.
    pub grade: MethodEntry,
    /// Rebound hammer.
    pub rebound: MethodEntry,
    /// Point load index.
    pub point_load: MethodEntry,
    /// Laboratory test.
    pub tested: MethodEntry,
}

/// Limits of the rebound hammer.
#[derive(Clone, Debug, Deserialize)]
pub struct ReboundEntry {
    /// Lowest reading taken.
    pub lowest: f64,
    /// Highest reading taken.
    pub highest: f64,
    /// Lowest unit weight taken, kN/m3.
    pub unit_weight_low_kn_per_m3: f64,
    /// Highest unit weight taken, kN/m3.
    pub unit_weight_high_kn_per_m3: f64,
    /// Scatter of the unit weight where it is taken from the rock type, kN/m3.
    pub unit_weight_sd_kn_per_m3: f64,
    /// Where the numbers come from.
    pub source: String,
}

/// Point load index to UCS.
#[derive(Clone, Debug, Deserialize)]
pub struct PointLoadEntry {
    /// UCS / Is50 of rock harder than `soft_ucs_mpa`.
    pub k_hard: f64,
    /// UCS / Is50 of softer rock.
    pub k_soft: f64,
    /// Where soft rock begins, MPa.
    pub soft_ucs_mpa: f64,
    /// Where the numbers come from.
    pub source: String,
}

/// A scatter with its source.
#[derive(Clone, Debug, Deserialize)]
pub struct PlaceEntry {
    /// Standard deviation of the logarithm.
    pub sd_ln: f64,
    /// Where the number comes from.
    pub source: String,
}

/// How water weakens rock.
#[derive(Clone, Debug, Deserialize)]
pub struct WaterEntry {
    /// Saturated over dry strength of soft rock of any type.
    pub soft_factor: f64,
    /// Its scatter.
    pub soft_sd_ln: f64,
    /// Rock weaker than this is soft, MPa.
    pub soft_low_mpa: f64,
    /// Rock stronger than this follows its type, MPa.
    pub soft_high_mpa: f64,
    /// Share of the logarithmic loss that damp rock shows.
    pub damp_share: f64,
    /// Share taken as the median where the wetness is not known.
    pub unknown_share: f64,
    /// Share taken as scatter where the wetness is not known.
    pub unknown_sd_share: f64,
    /// Where the numbers come from.
    pub source: String,
}

/// A factor on the capacity.
#[derive(Clone, Debug, Deserialize)]
pub struct JointEntry {
    /// Median factor.
    pub factor: f64,
    /// Its scatter (standard deviation of the logarithm).
    pub sd_ln: f64,
    /// Where the numbers come from.
    pub source: String,
}

#[derive(Deserialize)]
struct Joints {
    massive: JointEntry,
    jointed: JointEntry,
    close_joint: JointEntry,
    drummy: JointEntry,
    unknown: JointEntry,
}

#[derive(Deserialize)]
struct IdType {
    id: RockType,
    #[serde(flatten)]
    entry: TypeEntry,
}

#[derive(Deserialize)]
struct IdGrade {
    id: FieldGrade,
    #[serde(flatten)]
    entry: GradeEntry,
}

#[derive(Deserialize)]
struct File {
    #[serde(rename = "type")]
    types: Vec<IdType>,
    unknown_type: TypeEntry,
    #[serde(rename = "grade")]
    grades: Vec<IdGrade>,
    method: Methods,
    rebound: ReboundEntry,
    point_load: PointLoadEntry,
    place: PlaceEntry,
    water: WaterEntry,
    joint: Joints,
}

/// A type's entry with the logarithms that the estimate needs.
#[derive(Clone, Debug)]
pub struct Prior {
    /// The entry.
    pub entry: TypeEntry,
    /// Mean of ln(UCS / MPa).
    pub mean_ln: f64,
    /// Variance of ln(UCS).
    pub variance: f64,
}

/// The whole table.
#[derive(Clone, Debug)]
pub struct Table {
    types: Vec<Prior>,
    unknown_type: Prior,
    grades: Vec<GradeEntry>,
    /// Scatter of the methods.
    pub methods: Methods,
    /// Rebound hammer.
    pub rebound: ReboundEntry,
    /// Point load.
    pub point_load: PointLoadEntry,
    /// Variation from hole to hole.
    pub place: PlaceEntry,
    /// Water.
    pub water: WaterEntry,
    joints: [JointEntry; 5],
}

/// The standard normal variable that 95 % lie below.
const Z95: f64 = 1.644_853_626_951_472_2;

impl From<TypeEntry> for Prior {
    fn from(entry: TypeEntry) -> Self {
        let (low, high) = (entry.ucs_low_mpa.ln(), entry.ucs_high_mpa.ln());
        let sd = (high - low) / (2.0 * Z95);
        Prior { mean_ln: 0.5 * (low + high), variance: sd * sd, entry }
    }
}

impl Table {
    /// The table that comes with the program.
    pub fn built_in() -> &'static Table {
        static TABLE: OnceLock<Table> = OnceLock::new();
        TABLE.get_or_init(|| {
            #[allow(clippy::expect_used)] // the built-in file is read by every test
            let file: File = toml::from_str(include_str!("../data/rock.toml")).expect("built-in rock table");
            Table::from_file(file)
        })
    }

    fn from_file(file: File) -> Table {
        let unknown_type = Prior::from(file.unknown_type);
        let pick = |t: RockType| {
            file.types
                .iter()
                .find(|e| e.id == t)
                .map_or_else(|| unknown_type.clone(), |e| Prior::from(e.entry.clone()))
        };
        let types = RockType::ALL.map(pick).to_vec();
        let grade = |g: FieldGrade| file.grades.iter().find(|e| e.id == g).map(|e| e.entry.clone());
        let grades = FieldGrade::ALL.into_iter().filter_map(grade).collect();
        let j = file.joint;
        Table {
            types,
            unknown_type,
            grades,
            methods: file.method,
            rebound: file.rebound,
            point_load: file.point_load,
            place: file.place,
            water: file.water,
            joints: [j.massive, j.jointed, j.close_joint, j.drummy, j.unknown],
        }
    }

    /// The prior of a rock type, or of rock whose type is not known.
    pub fn prior(&self, rock_type: Option<RockType>) -> &Prior {
        rock_type.and_then(|t| self.types.get(t as usize)).unwrap_or(&self.unknown_type)
    }

    /// The entry of a field grade.
    pub fn grade(&self, grade: FieldGrade) -> Option<&GradeEntry> {
        self.grades.get(grade as usize)
    }

    /// The joint factor of a soundness, or of rock that nobody looked at.
    pub fn joint(&self, soundness: Option<Soundness>) -> &JointEntry {
        let [massive, jointed, close, drummy, unknown] = &self.joints;
        match soundness {
            Some(Soundness::Massive) => massive,
            Some(Soundness::Jointed) => jointed,
            Some(Soundness::CloseJoint) => close,
            Some(Soundness::Drummy) => drummy,
            None => unknown,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_type_and_grade_has_its_own_entry() {
        let file: File = toml::from_str(include_str!("../data/rock.toml")).unwrap();
        for t in RockType::ALL {
            assert_eq!(file.types.iter().filter(|e| e.id == t).count(), 1, "{t:?}");
        }
        for (i, g) in FieldGrade::ALL.into_iter().enumerate() {
            assert_eq!(file.grades.iter().filter(|e| e.id == g).count(), 1, "{g:?}");
            assert_eq!(g as usize, i);
        }
        let t = Table::built_in();
        assert_eq!(t.grades.len(), FieldGrade::ALL.len());
        assert!(t.types.iter().all(|p| p.variance > 0.0 && p.entry.wet_factor <= 1.0));
    }

    #[test]
    fn grade_middles_lie_in_their_bands() {
        // ISRM bands in MPa: field-strength table after Hoek et al., Advances in Civil Engineering 2022
        let bands = [
            (0.25, 1.0),
            (1.0, 5.0),
            (5.0, 25.0),
            (25.0, 50.0),
            (50.0, 100.0),
            (100.0, 250.0),
            (250.0, 400.0),
        ];
        for (g, (low, high)) in FieldGrade::ALL.into_iter().zip(bands) {
            let u = Table::built_in().grade(g).unwrap().ucs_mpa;
            assert!(u > low && u < high, "{g:?}");
        }
    }
}
