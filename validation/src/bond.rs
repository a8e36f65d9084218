//! Resin bond and pull-out.

use crate::Computation;

/// Computations of this area.
pub fn computations() -> Vec<Computation> {
    Vec::new()
}
