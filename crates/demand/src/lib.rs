//! What load climbers put on a placement.
//!
//! Belongs here: rope and fall models, friction along the rope's path, how often a placement is fallen
//! on, and the distribution of the load that follows.
//! May not come in: what the placement holds, records, files.
//!
//! [`demand`] is the main door: position on the route in, distribution of the load out. The closed
//! forms it is built from are public ([`impact`], [`friction`], [`path`], [`anchor`]). All numbers are
//! estimates for ranking and planning; they do not say that a load cannot be exceeded.

pub mod anchor;
pub mod friction;
pub mod impact;
mod lognormal;
mod model;
pub mod path;
mod position;
mod practice;
mod standards;
mod worst_year;

pub use model::demand;
pub use position::{Demand, Position, Role, Steepness, UseClass};
pub use practice::{Assumption, Device, Direction, Loadings, Practice, RoleShares, Shares, practice};
pub use standards::{DynamicRope, LowStretchRope, Standards, standards};
pub use worst_year::{
    greatest_below, per_fall_cdf, worst_year_cdf, worst_year_fractile, worst_year_fractiles,
};
