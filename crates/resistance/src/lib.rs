//! What load each failure mode will hold.
//!
//! Belongs here: one file per failure mode with its equation, units, validity and source, and their
//! assembly into the set of modes of one placement.
//! May not come in: corrosion in time, signs, demand, records.

mod mode;

pub use mode::{Anchorage, Mode, ModeResistance, ModeSet, Source};
