//! The columns a sheet of records can have.

use evidence::Sign;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::fmt;
use std::str::FromStr;

/// What the rows of a sheet are.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs)]
pub enum SheetKind {
    Placements,
    Sightings,
    Pulls,
    Crags,
    Routes,
    Stock,
    Batches,
}

impl SheetKind {
    /// All kinds.
    pub const ALL: [SheetKind; 7] = [
        Self::Placements,
        Self::Sightings,
        Self::Pulls,
        Self::Crags,
        Self::Routes,
        Self::Stock,
        Self::Batches,
    ];

    /// Whether each row belongs to a crag.
    pub(crate) const fn stands_at_a_crag(self) -> bool {
        matches!(self, Self::Placements | Self::Sightings | Self::Pulls | Self::Routes)
    }

    /// Name as in files.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Placements => "placements",
            Self::Sightings => "sightings",
            Self::Pulls => "pulls",
            Self::Crags => "crags",
            Self::Routes => "routes",
            Self::Stock => "stock",
            Self::Batches => "batches",
        }
    }
}

impl fmt::Display for SheetKind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

impl FromStr for SheetKind {
    type Err = String;
    fn from_str(text: &str) -> Result<Self, String> {
        Self::ALL.into_iter().find(|kind| kind.name().eq_ignore_ascii_case(text.trim())).ok_or_else(|| {
            format!(
                "\"{text}\" is no kind of sheet; use placements, sightings, pulls, crags, routes, stock or batches"
            )
        })
    }
}

macro_rules! columns {
    ($( $variant:ident = $name:literal ),+ $(,)?) => {
        /// What a column of a sheet holds.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        #[allow(missing_docs)]
        pub enum Column {
            $( $variant, )+
            /// The finding of one sign.
            Sign(Sign),
        }
        impl Column {
            const PLAIN: &'static [(&'static str, Column)] = &[$(($name, Column::$variant)),+];
        }
    };
}

columns! {
    Crag = "crag", Sector = "sector", ClimbingGrade = "climbing_grade", Route = "route", Pitch = "pitch", Number = "number", Placement = "placement",
    Role = "role", Height = "height", Steepness = "steepness", Shelter = "shelter", EdgeDistance = "edge_distance",
    Spacing = "spacing", RockType = "rock_type", RockGrade = "rock_grade", Rebound = "rebound",
    PointLoadIndex = "point_load_index", Soundness = "soundness", Wetness = "wetness", Latitude = "latitude",
    Longitude = "longitude", Coordinates = "coordinates", Note = "note", Kind = "kind", Size = "size",
    Diameter = "diameter", Length = "length", Embedment = "embedment", Material = "material",
    HangerMaterial = "hanger_material", Resin = "resin", PlacedOn = "placed_on", RemovedOn = "removed_on",
    Rating = "rating", RatedRadial = "rated_radial", RatedAxial = "rated_axial", Torque = "torque", Batch = "batch",
    SetBy = "set_by", On = "on", By = "by", Signs = "signs", Absent = "absent", Extent = "extent", Proud = "proud",
    MeasuredLoss = "measured_loss", Peak = "peak", Direction = "direction", End = "end",
    Displacement = "displacement", Trace = "trace", TestedUcs = "tested_ucs", UnitWeight = "unit_weight",
    Setting = "setting", Temperature = "temperature", Humidity = "humidity", Sulphur = "sulphur",
    Chloride = "chloride", VisitHours = "visit_hours", VisitCost = "visit_cost",
    RouteLength = "route_length", UseClass = "use_class", Item = "item", InHand = "in_hand", Price = "price",
    What = "what", BoughtOn = "bought_on", ExpiresOn = "expires_on", Recalled = "recalled",
}

impl Column {
    /// Name as in mapping files: `diameter`, `sign:rust`.
    pub fn name(self) -> String {
        match self {
            Self::Sign(sign) => format!("sign:{}", sign_key(sign)),
            _ => Self::PLAIN.iter().find(|(_, c)| *c == self).map_or("", |(name, _)| name).to_owned(),
        }
    }

    /// Whether its cells are dates.
    pub fn is_date(self) -> bool {
        matches!(self, Self::PlacedOn | Self::RemovedOn | Self::On | Self::BoughtOn | Self::ExpiresOn)
    }
}

/// The sign's name as in files: `moves_in_hole`.
pub(crate) fn sign_key(sign: Sign) -> String {
    match serde_json::to_value(sign) {
        Ok(serde_json::Value::String(key)) => key,
        _ => String::new(),
    }
}

impl FromStr for Column {
    type Err = String;
    fn from_str(text: &str) -> Result<Self, String> {
        let text = text.trim();
        if let Some(sign) = text.strip_prefix("sign:") {
            return Sign::ALL
                .into_iter()
                .find(|s| sign_key(*s) == sign)
                .map(Column::Sign)
                .ok_or_else(|| format!("\"{sign}\" is no sign"));
        }
        Self::PLAIN
            .iter()
            .find(|(name, _)| *name == text)
            .map(|(_, column)| *column)
            .ok_or_else(|| format!("\"{text}\" is no column"))
    }
}

impl Serialize for Column {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.name())
    }
}

impl<'de> Deserialize<'de> for Column {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        String::deserialize(deserializer)?.parse().map_err(serde::de::Error::custom)
    }
}
