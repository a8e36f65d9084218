//! Load sharing between the legs of an anchor, and direction of pull.

use crate::Computation;

/// Computations of this area.
pub fn computations() -> Vec<Computation> {
    Vec::new()
}
