//! The rock: its strength from field evidence, and the geometry of edges and neighbours.
//!
//! Belongs here: rock types, field grades, rebound, point load, wetness and joints, and their
//! combination into one strength with honest scatter.
//! May not come in: anchors, corrosion, files.

mod evidence;
pub mod index;
mod name;
pub mod reach;
mod strength;
mod table;
mod water;

pub use evidence::{FieldGrade, RockEvidence, RockStrength, RockType, Soundness, Surroundings, Wetness};
pub use strength::strength;
