//! Chance that a resistance exceeds a load, and how evidence changes it.

use crate::Computation;

/// Computations of this area.
pub fn computations() -> Vec<Computation> {
    Vec::new()
}
