//! Breakout cones, edges, groups and pry-out, checked in concrete where the published values are.

use crate::Computation;

/// Computations of this area.
pub fn computations() -> Vec<Computation> {
    Vec::new()
}
