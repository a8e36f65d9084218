//! The records of one group: facts, rules, fold and merge.
//!
//! Belongs here: the record types, the append-only log's fact, the deterministic fold of facts into
//! the state of each subject, the rules that find contradictions, and the step from records to the
//! case the core judges.
//! May not come in: storage, file formats, clocks, randomness (ids and times are arguments).

pub mod case;
mod clock;
mod fact;
mod field;
pub mod identity;
mod log;
mod record;
pub mod rules;
mod sister_ratios;
mod sisters;
mod state;

pub use clock::{Clock, FarFuture, LATEST_MILLIS, days_ahead};
pub use fact::{Body, Fact, FactError, Stamp, Subject};
pub use field::Record;
pub use log::{Clash, Log};
pub use record::{
    BatchRecord, CragRecord, FittingRecord, PhotoRecord, PlacementRecord, PullEnd, PullRecord, RouteRecord,
    SightingRecord, StockRecord,
};
pub use sister_ratios::SisterRatios;
pub use sisters::{PullRef, Sisters, sisters};
pub use state::{Counts, Folded, Known, Mark, State, Written};
