//! The air and water around a placement, and what they leave of the steel.

use reckoning::Uncertain;
use serde::{Deserialize, Serialize};
use units::{Ratio, Temperature};

/// Setting of a crag, for deposits that nobody has measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Setting {
    /// More than 10 km from the sea, clean air.
    Inland,
    /// Inland with industry, road salt or sulphate-bearing seepage.
    Polluted,
    /// Some kilometres (1..10) from the sea.
    NearCoast,
    /// Within a kilometre of the sea, no direct spray.
    Coast,
    /// In the reach of spray.
    SeaCliff,
}

/// Whether rain washes the placement.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Shelter {
    /// Rain reaches it.
    Washed,
    /// Under a roof: salt stays.
    Sheltered,
    /// Water seeps over it or stands in the hole.
    Seeping,
}

/// What is known of the environment. `None` means not known.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Environment {
    /// Setting of the crag.
    pub setting: Option<Setting>,
    /// Annual mean temperature.
    pub temperature: Option<Temperature>,
    /// Annual mean relative humidity in per cent, 0..100.
    pub relative_humidity_percent: Option<f64>,
    /// SO2 deposition in mg/(m2 d).
    pub sulphur_mg_m2_d: Option<f64>,
    /// Chloride deposition in mg/(m2 d).
    pub chloride_mg_m2_d: Option<f64>,
    /// Rain and shelter at the placement.
    pub shelter: Option<Shelter>,
}

/// The steel of a bolt after some years.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct SteelState {
    /// Share of the loaded area that is left, median in (0, 1].
    pub area_left: Uncertain<Ratio>,
    /// Probability that it is cracked by stress corrosion, 0..1.
    pub cracked: f64,
}

/// What a cracked bolt still holds, as a share of its uncracked strength.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Cracking {
    /// Chance a year that an intact bolt cracks.
    pub hazard_per_year: Uncertain<Ratio>,
    /// Strength left once cracked.
    pub strength_left: Uncertain<Ratio>,
}
