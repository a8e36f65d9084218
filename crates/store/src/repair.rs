//! The repair list: rows that an import could not take, kept until a later import takes them.

/// One value that an import could not take.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Repair {
    /// Sheet, where the file has several.
    pub sheet: Option<String>,
    /// Row as shown by a spreadsheet, 1 = first.
    pub row: u32,
    /// Heading of the column, where it is one value and not the whole row.
    pub column: Option<String>,
    /// The value as written.
    pub value: String,
    /// What is wrong and what to do, in one sentence.
    pub reason: String,
}

/// A row of the repair list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeptRepair {
    /// Number of this entry in the store.
    pub id: u64,
    /// File it stands in.
    pub file: String,
    /// What is wrong.
    pub repair: Repair,
    /// When an import met it first, milliseconds since 1970 UTC.
    pub first_seen: i64,
    /// When it was settled.
    pub resolved: Option<i64>,
}

/// What became of the repair list of one file.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct RepairCounts {
    /// New entries.
    pub added: usize,
    /// Entries that are still open.
    pub still_open: usize,
    /// Entries that were settled before and are found again as they were.
    pub settled_before: usize,
    /// Entries that this import settled.
    pub resolved: usize,
}
