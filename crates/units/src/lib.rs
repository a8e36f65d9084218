//! Quantities: the ground floor.
//!
//! Belongs here: newtypes that hold SI values, their arithmetic, the reading of what people write
//! ("3/8", "M12x90", "25 ft-lb") and their display in metric or US units.
//! May not come in: anything that knows what a bolt or a rock is, files, clocks, randomness.
//!
//! Every quantity stores the SI unit named in its type's documentation. Constructors and getters
//! name the unit ([`Length::mm`], [`Length::as_mm`]), so that no bare number crosses a crate border
//! without its unit.

mod bolt_size;
mod display;
mod error;
mod number;
mod quantity;
mod read_length;
mod read_scalar;

pub use bolt_size::{BoltSize, parse_bolt_size, parse_diameter};
pub use display::UnitSystem;
pub use error::ParseError;
pub use number::parse_number;
pub use quantity::{Angle, Force, Length, Mass, Quantity, Ratio, Stress, Temperature, Torque};
pub use read_length::{LengthUnit, parse_length};
pub use read_scalar::{
    AngleUnit, ForceUnit, StressUnit, TemperatureUnit, TorqueUnit, parse_angle, parse_force, parse_stress,
    parse_temperature, parse_torque,
};
