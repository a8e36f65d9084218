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
/// and edge breakout. A limit in tension is left out within 3 degrees of along the face, one in shear
/// within 3 degrees of straight out.
///
/// Directions: angle from the rock's normal; metal modes combine tension and shear with the power 2. Of
/// the rock's modes the weakest in tension and the weakest in shear are combined with the power 1.5 and
/// bear the name of the one that is used more; the others are limits of their own, `N / cos t` or `V /
/// sin t` (EN 1992-4 (7.54), (7.55): largest utilisation in each direction). So the weakest mode is N
/// straight out and V along the face, and one edge is not counted under several names. The nearest
/// edge is taken to lie in the direction of pull.
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
