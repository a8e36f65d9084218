//! What people saw, measured and tested, and what it proves.
//!
//! Belongs here: the signs and their action on named failure modes (a data table with sources), the
//! statistics of pull tests, the reading of load traces, and the updating of a resistance by a proof
//! load that held.
//! May not come in: formulas for new anchors, records of who saw what, files.

mod sign;

pub use sign::{Extent, Finding, Seen, Sign};
