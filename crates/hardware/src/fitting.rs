//! The vocabulary of hardware.

use serde::{Deserialize, Serialize};
use units::{Force, Length, Torque};

/// Kind of fitting, by how it holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Kind {
    /// Stud whose cone end pulls into clip segments as the nut is tightened.
    WedgeBolt,
    /// Tapered nut pulled into a sleeve by a bolt or stud thinner than the hole.
    SleeveBolt,
    /// Short shell expanded at the bottom of a shallow hole, with a small screw.
    DropIn,
    /// Rod, staple or eye held by resin.
    GlueIn,
    /// Split or bent shank driven into a smaller hole, held by spring force.
    CompressionBolt,
    /// Machine bolt hammered into an undersized hole.
    HammeredBolt,
    /// Piton driven into a crack or a hole.
    Piton,
}

/// Material of a bolt or hanger.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Material {
    /// Carbon steel with no coating.
    BareCarbonSteel,
    /// Carbon steel, electroplated zinc.
    PlatedCarbonSteel,
    /// Carbon steel, hot-dip zinc.
    HotDipCarbonSteel,
    /// Stainless of the 304 family (A2).
    Stainless304,
    /// Stainless of the 316 family (A4).
    Stainless316,
    /// Stainless, family not known.
    StainlessUnknown,
    /// Duplex stainless, 2205 type.
    Duplex,
    /// Austenitic stainless with about 6 % molybdenum.
    HighMolybdenum,
    /// Titanium, commercially pure or alloyed.
    Titanium,
    /// Aluminium alloy (hangers).
    Aluminium,
}

/// Resin family of a glue-in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs)]
pub enum Resin {
    Polyester,
    Vinylester,
    Epoxy,
    Cement,
}

/// Maker's rating as marked on the hanger or eye.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Rating {
    /// Along the rock face.
    pub radial: Force,
    /// Straight out of the rock.
    pub axial: Force,
}

/// The hardware in a placement for a span of time. `None` means not known.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Fitting {
    /// Kind.
    pub kind: Option<Kind>,
    /// Diameter of the bolt's outside (nominal thread of a wedge bolt, outside of a sleeve, rod of a
    /// glue-in).
    pub diameter: Option<Length>,
    /// Length under the head or of the stud.
    pub length: Option<Length>,
    /// Effective embedment, where it was measured or recorded.
    pub embedment: Option<Length>,
    /// Material of the bolt.
    pub material: Option<Material>,
    /// Material of the hanger, where it has one.
    pub hanger_material: Option<Material>,
    /// Resin family.
    pub resin: Option<Resin>,
    /// Marked rating.
    pub rating: Option<Rating>,
    /// Torque it was set with.
    pub torque: Option<Torque>,
}
