//! The words shown to people.

use crate::fitting::{Kind, Material, Resin};

impl Kind {
    /// Every kind, in index order.
    pub const ALL: [Kind; 7] = [
        Kind::WedgeBolt,
        Kind::SleeveBolt,
        Kind::DropIn,
        Kind::GlueIn,
        Kind::CompressionBolt,
        Kind::HammeredBolt,
        Kind::Piton,
    ];
    /// The name in plain English.
    pub const fn name(self) -> &'static str {
        match self {
            Kind::WedgeBolt => "wedge bolt",
            Kind::SleeveBolt => "sleeve bolt",
            Kind::DropIn => "drop-in",
            Kind::GlueIn => "glue-in",
            Kind::CompressionBolt => "compression bolt",
            Kind::HammeredBolt => "hammered bolt",
            Kind::Piton => "piton",
        }
    }
    /// What tells this kind from the others on the rock.
    pub const fn tell_tale(self) -> &'static str {
        match self {
            Kind::WedgeBolt => "a nut on a thread, often a letter on the end of the stud",
            Kind::SleeveBolt => "a hexagon head or nut on a core clearly thinner than the hole",
            Kind::DropIn => "a screw head over a thin shell flush with the rock, often M8",
            Kind::GlueIn => "an eye or rod in a collar of resin",
            Kind::CompressionBolt => "a rivet-like button head or a thin threaded stud, no clip",
            Kind::HammeredBolt => "a bare hexagon head proud of the rock, hanger slipped over it",
            Kind::Piton => "a flat or angled blade in a crack",
        }
    }
}

impl Material {
    /// Every material, in index order.
    pub const ALL: [Material; 10] = [
        Material::BareCarbonSteel,
        Material::PlatedCarbonSteel,
        Material::HotDipCarbonSteel,
        Material::Stainless304,
        Material::Stainless316,
        Material::StainlessUnknown,
        Material::Duplex,
        Material::HighMolybdenum,
        Material::Titanium,
        Material::Aluminium,
    ];
    /// The name in plain English.
    pub const fn name(self) -> &'static str {
        match self {
            Material::BareCarbonSteel => "bare carbon steel",
            Material::PlatedCarbonSteel => "zinc-plated carbon steel",
            Material::HotDipCarbonSteel => "hot-dip galvanised carbon steel",
            Material::Stainless304 => "stainless steel, 304 family (A2)",
            Material::Stainless316 => "stainless steel, 316 family (A4)",
            Material::StainlessUnknown => "stainless steel, family not known",
            Material::Duplex => "duplex stainless steel (2205 type)",
            Material::HighMolybdenum => "stainless steel with 6 % molybdenum",
            Material::Titanium => "titanium",
            Material::Aluminium => "aluminium alloy",
        }
    }
}

impl Resin {
    /// Every resin, in index order.
    pub const ALL: [Resin; 4] = [Resin::Polyester, Resin::Vinylester, Resin::Epoxy, Resin::Cement];
    /// The name in plain English.
    pub const fn name(self) -> &'static str {
        match self {
            Resin::Polyester => "polyester resin",
            Resin::Vinylester => "vinylester resin",
            Resin::Epoxy => "epoxy resin",
            Resin::Cement => "cement mortar",
        }
    }
}
