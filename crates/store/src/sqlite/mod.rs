//! The SQLite file.
//!
//! Choices, with their reasons:
//! - Rollback journal, not write-ahead log: one person writes in batches, and the register stays one
//!   plain file that can be copied, sent or kept on a stick, with nothing beside it between writings.
//!   Reading never makes a file. A batch is one transaction, so a write-ahead log would gain little.
//! - `synchronous = FULL`: a batch that was reported as kept survives a power cut.
//! - The folded state of each subject is written in the same transaction as the facts. It makes SQL on
//!   the present state possible and loads without a sort or a fold.
//! - Facts cannot be changed or deleted: triggers refuse it. (Another program could still REPLACE a row,
//!   which SQLite lets past the delete trigger unless `recursive_triggers` is on, as it is here. A trigger
//!   before each insert would stop that too, but costs a third of the writing time; the full check finds
//!   such a row, since the kept state then no longer follows from the log.)
//! - A file is looked at through a reading connection before it is opened for writing, so that a file
//!   that is refused keeps every byte.

mod append;
mod backup;
mod load;
mod open;
mod repairs;
mod row;
mod schema;
#[cfg(test)]
mod upgrade_tests;

pub use backup::restore;
pub use schema::{APPLICATION_ID, VERSION};

use crate::{Appended, Checked, KeptRepair, Position, RegisterStore, Repair, RepairCounts, StoreError};
use register::{Fact, Stamp, State, Subject};
use rusqlite::{Connection, ErrorCode};
use std::path::{Path, PathBuf};

/// A register in an SQLite file.
#[derive(Debug)]
pub struct SqliteStore {
    connection: Connection,
    path: PathBuf,
    writable: bool,
}

impl SqliteStore {
    /// The file it is kept in.
    pub fn path(&self) -> &Path {
        &self.path
    }

    fn must_write(&self) -> Result<(), StoreError> {
        if self.writable { Ok(()) } else { Err(StoreError::ReadOnly { path: self.path.clone() }) }
    }
}

/// What a database error means for the user of the file.
fn means(path: &Path, error: rusqlite::Error) -> StoreError {
    let path = path.to_owned();
    let damaged = |what: String| StoreError::Damaged { path: path.clone(), what };
    match error.sqlite_error_code() {
        Some(ErrorCode::DatabaseCorrupt) => damaged("its pages contradict each other".to_owned()),
        Some(ErrorCode::NotADatabase) => StoreError::NotADatabase { path },
        Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => StoreError::Busy { path },
        Some(ErrorCode::DiskFull) => StoreError::DiskFull { path },
        Some(ErrorCode::ReadOnly) => StoreError::ReadOnly { path },
        // SQL that is known to be right fails only if the tables are not what they should be.
        Some(ErrorCode::Unknown) => damaged(error.to_string()),
        _ => match error {
            rusqlite::Error::FromSqlConversionFailure(..)
            | rusqlite::Error::InvalidColumnType(..)
            | rusqlite::Error::IntegralValueOutOfRange(..)
            | rusqlite::Error::Utf8Error(..) => damaged(error.to_string()),
            other => StoreError::Database { path, source: Box::new(other) },
        },
    }
}

impl RegisterStore for SqliteStore {
    fn append(&mut self, facts: &[Fact]) -> Result<Appended, StoreError> {
        self.must_write()?;
        append::append(&mut self.connection, &self.path, facts)
    }
    fn facts_after(&self, after: Position, limit: usize) -> Result<Vec<(Position, Fact)>, StoreError> {
        load::facts_after(&self.connection, &self.path, after, limit)
    }
    fn facts_about(&self, subject: &Subject) -> Result<Vec<Fact>, StoreError> {
        load::facts_about(&self.connection, &self.path, subject)
    }
    fn facts_from(&self, file: &str) -> Result<Vec<Fact>, StoreError> {
        load::facts_from(&self.connection, &self.path, file)
    }
    fn facts_from_name(&self, name: &str) -> Result<Vec<Fact>, StoreError> {
        load::facts_from_name(&self.connection, &self.path, name)
    }
    fn state(&self) -> Result<State, StoreError> {
        load::state(&self.connection, &self.path)
    }
    fn latest_stamp(&self) -> Result<Option<Stamp>, StoreError> {
        load::latest_stamp(&self.connection).map_err(|error| means(&self.path, error))
    }
    fn fact_count(&self) -> Result<usize, StoreError> {
        load::fact_count(&self.connection).map_err(|error| means(&self.path, error))
    }
    fn check(&self) -> Result<Checked, StoreError> {
        load::check(&self.connection, &self.path)
    }
    fn backup_to(&self, target: &Path) -> Result<Checked, StoreError> {
        backup::backup(&self.connection, &self.path, target)
    }
    fn note_repairs(&mut self, file: &str, found: &[Repair], now: i64) -> Result<RepairCounts, StoreError> {
        self.must_write()?;
        repairs::note(&mut self.connection, file, found, now).map_err(|error| means(&self.path, error))
    }
    fn repairs(&self, open_only: bool) -> Result<Vec<KeptRepair>, StoreError> {
        repairs::list(&self.connection, open_only).map_err(|error| means(&self.path, error))
    }
    fn resolve_repair(&mut self, id: u64, now: i64) -> Result<bool, StoreError> {
        self.must_write()?;
        repairs::resolve(&self.connection, id, now).map_err(|error| means(&self.path, error))
    }
}
