//! The records. Every field is optional: unknown stays unknown.

use decay::{Setting, Shelter};
use demand::{Role, Steepness, UseClass};
use evidence::Seen;
use hardware::{Kind, Material, Resin};
use jiff::civil::Date;
use rock::{FieldGrade, RockType, Soundness, Wetness};
use serde::{Deserialize, Serialize};
use units::{Force, Length, Stress, Temperature, Torque};

/// A crag and what is known of its rock and climate.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
#[allow(missing_docs)]
pub struct CragRecord {
    pub name: Option<String>,
    pub latitude_deg: Option<f64>,
    pub longitude_deg: Option<f64>,
    pub rock_type: Option<RockType>,
    pub grade: Option<FieldGrade>,
    pub tested_ucs: Option<Stress>,
    pub unit_weight_kn_per_m3: Option<f64>,
    pub wetness: Option<Wetness>,
    pub setting: Option<Setting>,
    pub temperature: Option<Temperature>,
    pub relative_humidity_percent: Option<f64>,
    pub sulphur_mg_m2_d: Option<f64>,
    pub chloride_mg_m2_d: Option<f64>,
    pub visit_hours: Option<f64>,
    pub visit_cost: Option<f64>,
    pub note: Option<String>,
}

/// A route.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
#[allow(missing_docs)]
pub struct RouteRecord {
    pub name: Option<String>,
    /// Identity of the crag.
    pub crag: Option<String>,
    pub sector: Option<String>,
    /// Climbing grade as written.
    pub grade: Option<String>,
    pub length: Option<Length>,
    pub steepness: Option<Steepness>,
    pub use_class: Option<UseClass>,
    pub latitude_deg: Option<f64>,
    pub longitude_deg: Option<f64>,
    pub note: Option<String>,
}

/// One hole in the rock.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
#[allow(missing_docs)]
pub struct PlacementRecord {
    /// Identity of the route.
    pub route: Option<String>,
    /// Number from the ground up, 1 = first.
    pub number: Option<u16>,
    pub pitch: Option<u16>,
    pub role: Option<Role>,
    /// Height above the start of the pitch.
    pub height: Option<Length>,
    pub steepness: Option<Steepness>,
    pub shelter: Option<Shelter>,
    pub edge_distance: Option<Length>,
    pub spacing: Option<Length>,
    pub rock_type: Option<RockType>,
    pub grade: Option<FieldGrade>,
    pub rebound: Option<f64>,
    pub point_load_index: Option<Stress>,
    pub soundness: Option<Soundness>,
    pub wetness: Option<Wetness>,
    pub latitude_deg: Option<f64>,
    pub longitude_deg: Option<f64>,
    pub note: Option<String>,
}

/// The hardware in a placement for a span of time.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
#[allow(missing_docs)]
pub struct FittingRecord {
    /// Identity of the placement.
    pub placement: Option<String>,
    pub placed_on: Option<Date>,
    /// Year alone, where only that is known.
    pub placed_year: Option<i16>,
    pub removed_on: Option<Date>,
    pub kind: Option<Kind>,
    pub diameter: Option<Length>,
    pub length: Option<Length>,
    pub embedment: Option<Length>,
    pub material: Option<Material>,
    pub hanger_material: Option<Material>,
    pub resin: Option<Resin>,
    pub rated_radial: Option<Force>,
    pub rated_axial: Option<Force>,
    pub torque: Option<Torque>,
    pub batch: Option<String>,
    pub set_by: Option<String>,
    pub note: Option<String>,
}

/// One inspection of a placement on a date by a person.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
#[allow(missing_docs)]
pub struct SightingRecord {
    /// Identity of the placement.
    pub placement: Option<String>,
    pub on: Option<Date>,
    pub by: Option<String>,
    /// Findings of the signs that were looked for.
    pub signs: Option<Vec<Seen>>,
    pub proud: Option<Length>,
    pub measured_loss: Option<Length>,
    pub edge_distance: Option<Length>,
    pub torque: Option<Torque>,
    pub rebound: Option<f64>,
    pub note: Option<String>,
}

/// How a pull test ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PullEnd {
    /// A proof load held.
    ProofHeld,
    /// The steel broke.
    SteelBroke,
    /// The hanger or eye broke.
    HangerBroke,
    /// A cone of rock came out.
    Cone,
    /// The bolt slipped or pulled through.
    PulledOut,
    /// The bond gave way.
    BondFailed,
    /// Stopped for another reason (rig, time).
    Stopped,
}

/// One pull test.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
#[allow(missing_docs)]
pub struct PullRecord {
    /// Identity of the placement.
    pub placement: Option<String>,
    pub on: Option<Date>,
    pub by: Option<String>,
    /// Greatest load reached.
    pub peak: Option<Force>,
    /// True = straight out of the rock, false = along the face.
    pub axial: Option<bool>,
    pub end: Option<PullEnd>,
    pub displacement_at_peak: Option<Length>,
    /// File name of the load trace and its SHA-256.
    pub trace: Option<String>,
    pub trace_sha256: Option<String>,
    pub note: Option<String>,
}

/// A photo, known by its content.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
#[allow(missing_docs)]
pub struct PhotoRecord {
    pub file: Option<String>,
    pub sha256: Option<String>,
    /// Local time from the camera, ISO 8601 without zone.
    pub taken_at: Option<String>,
    pub latitude_deg: Option<f64>,
    pub longitude_deg: Option<f64>,
    /// Identity of the placement or route it shows, where known.
    pub shows: Option<String>,
}

/// A purchase lot.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
#[allow(missing_docs)]
pub struct BatchRecord {
    pub code: Option<String>,
    pub what: Option<String>,
    pub bought_on: Option<Date>,
    pub expires_on: Option<Date>,
    pub recalled: Option<String>,
}

/// Hardware in hand and its price.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
#[allow(missing_docs)]
pub struct StockRecord {
    pub name: Option<String>,
    pub in_hand: Option<u32>,
    pub price: Option<f64>,
}
