//! Corrosion and cracking: strength against time.
//!
//! Belongs here: ISO 9223/9224 loss of carbon steel and zinc, what a hole and a hanger add to it, the
//! stress-corrosion hazard of stainless steel, and the area of steel left at a given age.
//! May not come in: which mode governs, records, files.
//!
//! [`prepare`] works out a bolt's history once; [`Decay::at`] reads it for any age. No inspection sees
//! inside the hole: all of this is an estimate with wide scatter.

mod advice;
pub mod alloy;
mod cracking;
mod data;
mod environment;
pub mod galvanic;
mod history;
pub mod iso9223;
pub mod iso9224;
mod rates;
pub mod section;

pub use advice::{Advice, material_advice};
pub use cracking::cracking;
pub use environment::{Cracking, Environment, Setting, Shelter, SteelState};
pub use history::{Decay, prepare, prepare_plate};
pub use rates::{Rates, first_year_rates};
