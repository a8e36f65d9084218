//! What is in the hole: kinds, sizes, materials and standard ratings.
//!
//! Belongs here: the vocabulary of hardware and the catalogue (data files with a source per entry).
//! May not come in: strength formulas, corrosion, records of who placed what.

mod catalogue;
mod fitting;
mod name;
mod thread;
mod usual;

pub use catalogue::{
    Catalogue, HangerEntry, KindEntry, MarkEntry, MaterialEntry, Size, Standard, UntabledThread,
};
pub use fitting::{Fitting, Kind, Material, Rating, Resin};
pub use thread::{Thread, stress_area_inch_mm2, stress_area_metric_mm2};
pub use usual::{
    HangerResistance, Section, above_mark, core_diameter, hanger_resistance, hole_diameter, section,
    tensile_strength, usual_diameter, usual_embedment,
};
