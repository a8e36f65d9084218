//! All failure modes of one placement.

use crate::inputs::Inputs;
use crate::mode::{Anchorage, ModeSet};
use crate::{rock_modes, steel_modes};
use reckoning::Scribe;

/// The failure modes of a placement and the load each holds in the direction of pull.
///
/// Which modes by kind: wedge and sleeve bolts and drop-ins have steel, hanger, cone, pull-out, edge
/// breakout and pry-out; glue-ins have bond instead of pull-out; compression and hammered bolts and
/// hardware of unknown kind have steel, hanger, edge breakout and experience; pitons have experience
/// and edge breakout. Edge breakout and pry-out are left out within 3 degrees of straight out, and edge
/// breakout where the edge is farther than max(10 h_ef, 60 d).
///
/// Directions: angle from the rock's normal; metal modes combine tension and shear with the power 2,
/// each tension mode of the rock is combined with the weaker of edge breakout and pry-out with the power
/// 1.5 (EN 1992-4 (7.54), (7.55)), so that R(0) = N and R(90 degrees) = V. The nearest edge is taken to
/// lie in the direction of pull.
///
/// What is not known is taken at a usual value that the account names, and adds variance under its own
/// [`crate::Source`]: three-point Gauss-Hermite rule in the logarithm, nodes at +-sqrt(3) standard
/// deviations. Medians are at the usual values. Lengths that are not positive and finite, or out of
/// range, count as not known; no input makes it fail. Never empty.
pub fn modes(a: &Anchorage, scribe: &mut impl Scribe) -> ModeSet {
    let x = Inputs::gather(a, scribe);
    let mut set = ModeSet::new();
    steel_modes::push_bolt(&mut set, &a.fitting, &x, scribe);
    steel_modes::push_hanger(&mut set, &a.fitting, &x, scribe);
    rock_modes::push(&mut set, &a.fitting, &x, scribe);
    set
}
