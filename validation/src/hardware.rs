//! Standard requirements, ratings and what the trade counts as usual.

use crate::Computation;

/// Computations of this area.
pub fn computations() -> Vec<Computation> {
    Vec::new()
}
