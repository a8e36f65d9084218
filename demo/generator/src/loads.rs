//! What climbers truly do to a placement.

use crate::world::{Placement, Role, Steep, Traffic};

/// Direction of the pull from the axis of the hole, degrees.
pub(crate) fn angle(placement: &Placement) -> f64 {
    if placement.role != Role::Runner {
        return if placement.spot.steep == Steep::Roof { 20.0 } else { 80.0 };
    }
    match placement.spot.steep {
        Steep::Slab => 88.0,
        Steep::Vertical => 80.0,
        Steep::Overhang => 55.0,
        Steep::Roof => 20.0,
    }
}

/// Chance that it fails in a year of use. Falls are log-normal, median 2.6 kN and at most 9 kN on a runner;
/// a lower-off sees a hang or a top-rope catch of about 1.8 kN far more often.
pub(crate) fn annual_failure(placement: &Placement, traffic: Traffic, resistance: f64) -> f64 {
    let busy = match traffic {
        Traffic::Rare => 0.5,
        Traffic::Regular => 3.0,
        Traffic::Popular => 12.0,
    };
    let (median, spread, most, loads) = match placement.role {
        Role::Runner => (2.6, 0.42, 9.0, busy * 0.5),
        Role::LowerOff | Role::Belay => (1.8, 0.35, 6.0, busy * 6.0),
    };
    if resistance >= most {
        return 0.0;
    }
    let normal = libm::log(resistance / median) / spread;
    let exceeded = 0.5 * libm::erfc(normal / core::f64::consts::SQRT_2);
    1.0 - libm::exp(-loads * exceeded)
}
