//! What load climbers put on a placement.
//!
//! Belongs here: rope and fall models, friction along the rope's path, how often a placement is fallen
//! on, and the distribution of the load that follows.
//! May not come in: what the placement holds, records, files.

mod position;

pub use position::{Demand, Position, Role, Steepness, UseClass};
