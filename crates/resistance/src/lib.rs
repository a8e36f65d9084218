//! What load each failure mode will hold.
//!
//! Belongs here: one file per failure mode with its equation, units, validity and source, and their
//! assembly into the set of modes of one placement.
//! May not come in: corrosion in time, signs, demand, records.

pub mod bond;
pub mod cone;
mod constants;
pub mod edge;
pub mod group;
mod inputs;
pub mod interaction;
mod mode;
mod modes;
mod name;
pub mod partial;
pub mod preload;
pub mod pry_out;
mod pull_out;
mod rock_modes;
mod spread;
pub mod steel;
mod steel_modes;

pub use mode::{Anchorage, Mode, ModeResistance, ModeSet, Source};
pub use modes::modes;
