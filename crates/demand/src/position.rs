//! Where a placement stands on its route and what load follows.

use reckoning::Uncertain;
use serde::{Deserialize, Serialize};
use units::{Angle, Force, Length};

/// What a placement is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Role {
    /// Clipped by the leader on the way.
    Runner,
    /// At the top of a sport pitch: lowering, top-roping, hanging.
    LowerOff,
    /// Where a party is tied in between pitches.
    Belay,
}

/// Steepness of the wall at the placement.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs)]
pub enum Steepness {
    Slab,
    Vertical,
    Overhang,
    Roof,
}

/// How much a route is climbed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs)]
pub enum UseClass {
    Rare,
    Regular,
    Popular,
}

/// A placement's position on its route. `None` means not known.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Position {
    /// What it is for.
    pub role: Option<Role>,
    /// Number from the ground up, 1 = first.
    pub number: Option<u16>,
    /// Height above the belayer.
    pub height: Option<Length>,
    /// Distance up to the next placement (how far a leader may be above this one).
    pub next_gap: Option<Length>,
    /// Steepness of the wall here.
    pub steepness: Option<Steepness>,
    /// How much the route is climbed.
    pub use_class: Option<UseClass>,
}

/// The load a placement will see.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Demand {
    /// Peak force on the placement in one loading (fall, or hang for a lower-off).
    pub per_fall: Uncertain<Force>,
    /// No single loading can exceed this (belay device slip, worst rope and fall factor).
    pub ceiling: Force,
    /// Loadings a year.
    pub falls_per_year: Uncertain<units::Ratio>,
    /// A typical hard fall: the 95 % fractile of one fall (for a lower-off or belay of its falls alone,
    /// without the hangs that `per_fall` holds too), at most `ceiling`.
    pub hard_fall: Force,
    /// Direction of the pull: 0 = straight out of the rock, 90 degrees = along the face.
    pub direction: Angle,
    /// Half-width of the direction if the steepness is not known.
    pub direction_spread: Angle,
}
