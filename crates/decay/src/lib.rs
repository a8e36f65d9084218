//! Corrosion and cracking: strength against time.
//!
//! Belongs here: ISO 9223/9224 loss of carbon steel and zinc, what a hole and a hanger add to it, the
//! stress-corrosion hazard of stainless steel, and the area of steel left at a given age.
//! May not come in: which mode governs, records, files.

mod environment;

pub use environment::{Cracking, Environment, Setting, Shelter, SteelState};
