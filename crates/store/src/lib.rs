//! Keeps a register: the log of facts and the state folded from it.
//!
//! Belongs here: the trait that every kind of storage fulfils, its SQLite file, migrations of that file,
//! backup and restore, and the list of rows that an import could not take.
//! May not come in: what records mean, the reading of sheets, printing.
//!
//! [`RegisterStore`] knows no database's types, so that a server's database can stand behind it too.

mod error;
mod repair;
mod sqlite;

pub use error::StoreError;
pub use repair::{KeptRepair, Repair, RepairCounts};
pub use sqlite::{APPLICATION_ID, SqliteStore, VERSION, restore};

use register::{Fact, Stamp, State, Subject};
use std::path::Path;

/// Place of a fact in one store's log: grows with every fact appended, and belongs to this store alone.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Position(pub u64);

/// What became of a batch.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Appended {
    /// Facts that are new.
    pub added: usize,
    /// Facts that were there already.
    pub known: usize,
}

/// What a full check looked at. It returns an error instead if anything is wrong.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Checked {
    /// Facts read.
    pub facts: usize,
    /// Subjects whose kept state was compared with a fold of the log.
    pub subjects: usize,
}

/// A place that keeps one register.
pub trait RegisterStore {
    /// Appends a batch and folds it into the kept state, all or nothing. Facts that are there already
    /// are passed over, so that a batch can be sent again.
    ///
    /// # Errors
    /// A fact that no log may take in, one whose id is there with other content, or the store's own
    /// trouble. Nothing of the batch is kept then.
    fn append(&mut self, facts: &[Fact]) -> Result<Appended, StoreError>;

    /// At most `limit` facts after a position, in the order of appending, each with its position.
    ///
    /// # Errors
    /// The store's own trouble.
    fn facts_after(&self, after: Position, limit: usize) -> Result<Vec<(Position, Fact)>, StoreError>;

    /// All facts about one subject, in the order of appending.
    ///
    /// # Errors
    /// The store's own trouble.
    fn facts_about(&self, subject: &Subject) -> Result<Vec<Fact>, StoreError>;

    /// All facts that an import of this file has stated, in the order of appending: those whose origin is
    /// the file's name, or begins with it and `, `.
    ///
    /// A re-import states only what this file did not say before. Otherwise a sheet that was corrected by
    /// hand in the register would undo the correction each time it is read. With
    /// `said = State::of(facts_from(file)?)` that is `said.news(&subject, body)`.
    ///
    /// # Errors
    /// The store's own trouble.
    fn facts_from(&self, file: &str) -> Result<Vec<Fact>, StoreError>;

    /// Like [`RegisterStore::facts_from`] for every file of this name in whatever folder: a sheet that was
    /// moved, or is named from another folder, is still the same sheet.
    ///
    /// # Errors
    /// The store's own trouble.
    fn facts_from_name(&self, name: &str) -> Result<Vec<Fact>, StoreError>;

    /// The kept state.
    ///
    /// # Errors
    /// The store's own trouble.
    fn state(&self) -> Result<State, StoreError>;

    /// The latest stamp of the log, for the device's clock.
    ///
    /// # Errors
    /// The store's own trouble.
    fn latest_stamp(&self) -> Result<Option<Stamp>, StoreError>;

    /// Number of facts in the log.
    ///
    /// # Errors
    /// The store's own trouble.
    fn fact_count(&self) -> Result<usize, StoreError>;

    /// Reads everything and compares the kept state with a fold of the whole log.
    ///
    /// # Errors
    /// The first thing found wrong.
    fn check(&self) -> Result<Checked, StoreError>;

    /// Writes a verified copy to a new file.
    ///
    /// # Errors
    /// The target is there already, cannot be written, or does not verify.
    fn backup_to(&self, target: &Path) -> Result<Checked, StoreError>;

    /// Notes what an import of one file could not take. `now` is in milliseconds since 1970 UTC. Rows
    /// that stand open from an earlier import of this file and are not in the list are resolved. What was
    /// settled before and is found again as it was stays settled.
    ///
    /// # Errors
    /// The store's own trouble.
    fn note_repairs(&mut self, file: &str, found: &[Repair], now: i64) -> Result<RepairCounts, StoreError>;

    /// Rows of the repair list, open ones only or all, by file, sheet and row.
    ///
    /// # Errors
    /// The store's own trouble.
    fn repairs(&self, open_only: bool) -> Result<Vec<KeptRepair>, StoreError>;

    /// Marks one row of the repair list as settled; false if there is no such open row.
    ///
    /// # Errors
    /// The store's own trouble.
    fn resolve_repair(&mut self, id: u64, now: i64) -> Result<bool, StoreError>;
}
