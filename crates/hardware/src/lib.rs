//! What is in the hole: kinds, sizes, materials and standard ratings.
//!
//! Belongs here: the vocabulary of hardware and the catalogue (data files with a source per entry).
//! May not come in: strength formulas, corrosion, records of who placed what.

mod fitting;

pub use fitting::{Fitting, Kind, Material, Rating, Resin};
