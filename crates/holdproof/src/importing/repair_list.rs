//! A repair list that comes back corrected: which rows of which sheets it stands for.

use super::{Found, open};
use exchange::{CopiedRow, Limits};
use std::collections::HashSet;

/// The rows of a repair list; empty for any other file, or one that cannot be read.
pub fn copied_rows(found: &Found, limits: Limits) -> Vec<CopiedRow> {
    open(found).and_then(|file| exchange::copied_rows(&found.name, file, limits)).unwrap_or_default()
}

/// The copied rows that now went in without anything left to repair.
pub fn settled(rows: Vec<CopiedRow>, still_bad: &HashSet<u32>) -> Vec<CopiedRow> {
    rows.into_iter().filter(|copied| !still_bad.contains(&copied.row)).collect()
}
