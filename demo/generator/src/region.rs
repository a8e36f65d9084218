//! The county of Marrowdale and its three crags.
//!
//! The coordinates lie in the open South Pacific, far from any land, so that they name no real place.

/// Rock of a crag.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Rock {
    Granite,
    Limestone,
    Sandstone,
}

/// Place of a crag in [`CRAGS`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Where {
    Harl,
    Tern,
    Otter,
}

/// A crag as it truly is.
pub(crate) struct Crag {
    pub(crate) here: Where,
    pub(crate) name: &'static str,
    pub(crate) slug: &'static str,
    pub(crate) rock: Rock,
    pub(crate) latitude: f64,
    pub(crate) longitude: f64,
    /// Direction the wall runs, degrees from north.
    pub(crate) wall_bearing: f64,
    pub(crate) sectors: [&'static str; 3],
    pub(crate) routes: usize,
    /// Median strength of the rock in place, MPa, and its spread (of the logarithm) from route to route and
    /// from hole to hole.
    pub(crate) ucs: f64,
    pub(crate) ucs_route: f64,
    pub(crate) ucs_hole: f64,
    /// First-year loss of bare carbon steel and of zinc on a washed face, micrometres.
    pub(crate) steel_loss: f64,
    pub(crate) zinc_loss: f64,
    /// Chance a year that a 304 stainless bolt cracks, sheltered from rain.
    pub(crate) cracking: f64,
}

pub(crate) static CRAGS: [Crag; 3] = [
    Crag {
        here: Where::Harl,
        name: "Harl Quarry",
        slug: "harl-quarry",
        rock: Rock::Granite,
        latitude: -46.9412,
        longitude: -121.3870,
        wall_bearing: 95.0,
        sectors: ["Lower Tier", "Upper Tier", "Crane Bay"],
        routes: 48,
        ucs: 145.0,
        ucs_route: 0.15,
        ucs_hole: 0.20,
        steel_loss: 19.0,
        zinc_loss: 1.0,
        cracking: 0.0002,
    },
    Crag {
        here: Where::Tern,
        name: "Tern Head",
        slug: "tern-head",
        rock: Rock::Limestone,
        latitude: -46.7055,
        longitude: -121.8124,
        wall_bearing: 30.0,
        sectors: ["Spray Wall", "Lantern Cave", "North Point"],
        routes: 42,
        ucs: 78.0,
        ucs_route: 0.20,
        ucs_hole: 0.28,
        steel_loss: 110.0,
        zinc_loss: 6.5,
        cracking: 0.02,
    },
    Crag {
        here: Where::Otter,
        name: "Otter Gorge",
        slug: "otter-gorge",
        rock: Rock::Sandstone,
        latitude: -46.8290,
        longitude: -121.5541,
        wall_bearing: 160.0,
        sectors: ["Weir Wall", "Long Pool", "Alder Side"],
        routes: 30,
        ucs: 19.0,
        ucs_route: 0.28,
        ucs_hole: 0.25,
        steel_loss: 34.0,
        zinc_loss: 1.6,
        cracking: 0.0005,
    },
];

impl Where {
    pub(crate) fn crag(self) -> &'static Crag {
        match self {
            Self::Harl => &CRAGS[0],
            Self::Tern => &CRAGS[1],
            Self::Otter => &CRAGS[2],
        }
    }
}

/// A point so many metres along the wall from the crag's middle and so many metres out from it.
pub(crate) fn point(crag: &Crag, along: f64, out: f64) -> (f64, f64) {
    let bearing = crag.wall_bearing.to_radians();
    let north = along * libm::cos(bearing) - out * libm::sin(bearing);
    let east = along * libm::sin(bearing) + out * libm::cos(bearing);
    let metres_per_degree = 111_320.0;
    let latitude = crag.latitude + north / metres_per_degree;
    let longitude = crag.longitude + east / (metres_per_degree * libm::cos(crag.latitude.to_radians()));
    (latitude, longitude)
}
