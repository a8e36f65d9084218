//! Loss of steel and zinc with time, corrosion resistance numbers, galvanic pairs.

use crate::Computation;

/// Computations of this area.
pub fn computations() -> Vec<Computation> {
    Vec::new()
}
