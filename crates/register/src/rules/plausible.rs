//! The table of plausible ranges (`data/plausible.toml`).

use serde::Deserialize;
use std::collections::BTreeMap;
use std::sync::OnceLock;

/// A range with its unit and where it comes from.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Range {
    pub(super) low: f64,
    pub(super) high: f64,
    pub(super) unit: String,
    /// For the reader of the file; every entry must have one.
    #[serde(rename = "source")]
    pub(super) _source: String,
}

/// The range of a name; `None` if the table has none of it (a test sees to it that it has).
pub(super) fn range(name: &str) -> Option<&'static Range> {
    static TABLE: OnceLock<BTreeMap<String, Range>> = OnceLock::new();
    TABLE
        .get_or_init(|| {
            toml::from_str(include_str!("../../data/plausible.toml")).expect("the built-in table is tested")
        })
        .get(name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_readable_and_sound() {
        for name in [
            "year",
            "diameter",
            "length",
            "embedment",
            "protrusion",
            "torque",
            "rating",
            "peak",
            "height",
            "edge_distance",
            "spacing",
            "proud",
            "measured_loss",
            "rebound",
            "tested_ucs",
            "point_load_index",
            "unit_weight",
            "temperature",
            "humidity",
            "deposition",
        ] {
            let range = range(name).unwrap_or_else(|| panic!("{name}"));
            assert!(range.low < range.high && !range._source.is_empty(), "{name}");
        }
    }
}
