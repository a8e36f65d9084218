//! One immutable fact of the log.

use crate::record::*;
use serde::{Deserialize, Serialize};
use uuid::Uuid;

/// Hybrid logical clock: orders facts of all devices even when their clocks are wrong.
/// Ordered by time, then counter, then device; ties are broken by the fact's id.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Stamp {
    /// Milliseconds since 1970 UTC, never running backwards on one device.
    pub millis: u64,
    /// Counts facts within one millisecond.
    pub counter: u32,
    /// Device name.
    pub device: String,
}

/// What a fact is about. The text is the subject's identity: a readable path made when the subject is
/// first recorded (`harl-quarry`, `harl-quarry/blind-corner`, `harl-quarry/blind-corner/3`), and it
/// never changes, even if names do.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(tag = "kind", content = "id", rename_all = "snake_case")]
#[allow(missing_docs)]
pub enum Subject {
    Crag(String),
    Route(String),
    Placement(String),
    /// `<placement>/f<placed-on or number>`
    Fitting(String),
    /// `<placement>/s<date>` and a number if several
    Sighting(String),
    /// `<placement>/p<date>` and a number if several
    Pull(String),
    Photo(String),
    Batch(String),
    Stock(String),
}

/// What a fact says. Every field of a record is optional: a fact states the fields it knows and leaves
/// the others as earlier facts left them.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "says", content = "record", rename_all = "snake_case")]
#[allow(missing_docs)]
pub enum Body {
    Crag(CragRecord),
    Route(RouteRecord),
    Placement(PlacementRecord),
    Fitting(FittingRecord),
    Sighting(SightingRecord),
    Pull(PullRecord),
    Photo(PhotoRecord),
    Batch(BatchRecord),
    Stock(StockRecord),
    /// The subject was recorded in error and is left out of the state; the log keeps it.
    Withdrawn { reason: String },
}

/// One immutable fact.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Fact {
    /// UUID version 7.
    pub id: Uuid,
    /// Person who states it.
    pub author: String,
    /// Hybrid logical time.
    pub stamp: Stamp,
    /// Wall clock when it was written, milliseconds since 1970 UTC.
    pub wall_millis: i64,
    /// Where it came from when imported: file name, sheet, row.
    pub origin: Option<String>,
    /// What it is about.
    pub subject: Subject,
    /// What it says.
    pub body: Body,
}
