//! What can be known about the rock around one hole, and what follows from it.

use reckoning::Uncertain;
use serde::{Deserialize, Serialize};
use units::{Length, Ratio, Stress};

/// Rock type as a climber or geologist names it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs)]
pub enum RockType {
    Granite,
    Gneiss,
    Basalt,
    Quartzite,
    Limestone,
    Dolomite,
    Sandstone,
    Schist,
    Conglomerate,
    Tuff,
}

/// ISRM field strength grade (hammer, pick and knife).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[allow(missing_docs)]
pub enum FieldGrade {
    R0,
    R1,
    R2,
    R3,
    R4,
    R5,
    R6,
}

/// How wet the rock is when it matters (the wettest season in which people climb).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs)]
pub enum Wetness {
    Dry,
    Damp,
    Wet,
}

/// Joints and hollowness within reach of a breakout cone.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Soundness {
    /// No joint within three embedments.
    Massive,
    /// A joint between 1.5 and three embedments away.
    Jointed,
    /// A joint or bedding plane within 1.5 embedments.
    CloseJoint,
    /// Rings hollow under the hammer.
    Drummy,
}

/// All that is known of the rock at a placement. `None` means not known, never a default.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct RockEvidence {
    /// Type of the rock.
    pub rock_type: Option<RockType>,
    /// Field grade given by a person.
    pub grade: Option<FieldGrade>,
    /// L-type rebound hammer value, 10..70.
    pub rebound: Option<f64>,
    /// Unit weight in kN/m3 for the rebound correlation, 15..35.
    pub unit_weight_kn_per_m3: Option<f64>,
    /// Point load index Is(50).
    pub point_load_index: Option<Stress>,
    /// Uniaxial compressive strength from a laboratory test of this crag's rock.
    pub tested_ucs: Option<Stress>,
    /// Wetness in use.
    pub wetness: Option<Wetness>,
    /// Joints and hollowness.
    pub soundness: Option<Soundness>,
}

/// Distances around the hole. `None` means not known.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Surroundings {
    /// To the nearest free edge (arete, lip, crack).
    pub edge_distance: Option<Length>,
    /// To the nearest other loaded placement (belays, old bolts).
    pub spacing: Option<Length>,
}

/// The strength that the models of resistance work with.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct RockStrength {
    /// Uniaxial compressive strength in place (wet if it gets wet). `sd_ln` is what more evidence
    /// could narrow plus the rock's own variation over a crag.
    pub ucs: Uncertain<Stress>,
    /// Factor on the capacity (not on the strength) for joints and hollowness, median in (0, 1].
    pub joint_factor: Uncertain<Ratio>,
    /// The rock type, for water and corrosion rules that depend on it.
    pub rock_type: Option<RockType>,
}
