//! What people saw, measured and tested, and what it proves.
//!
//! Belongs here: the signs and their action on named failure modes (a data table with sources), the
//! statistics of pull tests, the reading of load traces, and the updating of a resistance by a proof
//! load that held.
//! May not come in: formulas for new anchors, records of who saw what, files.

mod setting_defect;
mod sign;
mod sign_actions;
mod sign_table;
pub mod statistics;
mod survival;
pub mod trace;

pub use setting_defect::{GREATEST_SHIFT, SettingDefect, hidden_defect, reweigh, setting_defect};
pub use sign::{Extent, Finding, Seen, Sign};
pub use sign_actions::actions_on;
pub use sign_table::{Action, Group, SignEffect, effects};
pub use survival::{Held, MOST_SURVIVALS, chance_to_fail, chance_to_fail_after_survivals};
