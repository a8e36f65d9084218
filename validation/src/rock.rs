//! Strength of rock from field evidence.

use crate::Computation;

/// Computations of this area.
pub fn computations() -> Vec<Computation> {
    Vec::new()
}
