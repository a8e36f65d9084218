//! The tables, as numbered steps from an empty file. A step that was released is never edited; a change
//! is a new step at the end.

use super::{append, load, means};
use crate::StoreError;
use register::State;
use rusqlite::{Connection, Transaction, TransactionBehavior};
use std::path::Path;

/// Marks the file as a register of this program (`application_id` in the file's header): "Hold".
pub const APPLICATION_ID: u32 = 0x486f_6c64;

/// File version that this program writes (`user_version` in the file's header).
pub const VERSION: u32 = STEPS.len() as u32;

enum Step {
    Sql(&'static str),
    /// For what SQL alone cannot do.
    Code(fn(&Transaction<'_>, &Path) -> Result<(), StoreError>),
}

/// Step n brings a file of version n to version n + 1.
const STEPS: &[Step] = &[Step::Sql(FACTS), Step::Sql(SUBJECTS), Step::Code(fold_all), Step::Sql(REPAIRS)];

const FACTS: &str = "
CREATE TABLE facts (
    seq         INTEGER PRIMARY KEY,          -- position in this store's log
    id          BLOB NOT NULL UNIQUE CHECK (length(id) = 16),
    millis      INTEGER NOT NULL,             -- hybrid logical time
    counter     INTEGER NOT NULL,
    device      TEXT NOT NULL,
    author      TEXT NOT NULL,
    wall_millis INTEGER NOT NULL,
    origin      TEXT,                         -- file, sheet, row of an import
    kind        TEXT NOT NULL,                -- kind of the subject
    subject     TEXT NOT NULL,                -- identity of the subject
    says        TEXT NOT NULL,                -- kind of record, 'withdrawn' or 'retracted'
    body        TEXT NOT NULL                 -- JSON
) STRICT;
CREATE INDEX facts_by_subject ON facts (subject, kind);
CREATE INDEX facts_by_time ON facts (millis, counter, device);
CREATE TRIGGER facts_stay BEFORE UPDATE ON facts
BEGIN SELECT RAISE(ABORT, 'a fact cannot be changed; state a new one'); END;
CREATE TRIGGER facts_last BEFORE DELETE ON facts
BEGIN SELECT RAISE(ABORT, 'a fact cannot be deleted; withdraw its subject'); END;
";

const SUBJECTS: &str = "
CREATE TABLE subjects (
    kind      TEXT NOT NULL,
    id        TEXT NOT NULL,
    visible   INTEGER NOT NULL,               -- 0: withdrawn, or never stated
    record    TEXT NOT NULL,                  -- JSON: what all facts together say
    millis    INTEGER,                        -- mark of the latest fact with a record
    counter   INTEGER,
    device    TEXT,
    fact      BLOB,
    written   TEXT,                           -- JSON: fact of each field; NULL: the one above wrote all
    withdrawn TEXT,                           -- JSON: mark of the latest withdrawal
    PRIMARY KEY (kind, id)
) STRICT, WITHOUT ROWID;
";

const REPAIRS: &str = "
CREATE TABLE repairs (
    id         INTEGER PRIMARY KEY,
    file       TEXT NOT NULL,
    sheet      TEXT NOT NULL,                 -- '' where the file has none
    row        INTEGER NOT NULL,
    column_    TEXT NOT NULL,                 -- '' for the whole row
    value      TEXT NOT NULL,
    reason     TEXT NOT NULL,
    first_seen INTEGER NOT NULL,              -- milliseconds since 1970 UTC
    resolved   INTEGER                        -- NULL: still open
) STRICT;
CREATE UNIQUE INDEX repairs_open ON repairs (file, sheet, row, column_, value, reason) WHERE resolved IS NULL;
";

/// Folds the whole log into the table of subjects.
fn fold_all(transaction: &Transaction<'_>, path: &Path) -> Result<(), StoreError> {
    let mut state = State::default();
    let mut subjects = std::collections::BTreeSet::new();
    load::each_fact(transaction, path, |fact| {
        subjects.insert(fact.subject.clone());
        state.apply([fact]);
        Ok(())
    })?;
    append::keep(transaction, path, &state, subjects.iter())
}

/// Brings a file of version `from` up to date, in one transaction: all steps or none.
pub(super) fn migrate(connection: &mut Connection, path: &Path, from: u32) -> Result<(), StoreError> {
    let wrong = |error| means(path, error);
    let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate).map_err(wrong)?;
    run_steps(&transaction, path, from, VERSION)?;
    transaction.commit().map_err(wrong)
}

fn run_steps(transaction: &Transaction<'_>, path: &Path, from: u32, to: u32) -> Result<(), StoreError> {
    let wrong = |error| means(path, error);
    for step in STEPS.iter().take(to as usize).skip(from as usize) {
        match step {
            Step::Sql(sql) => transaction.execute_batch(sql).map_err(wrong)?,
            Step::Code(code) => code(transaction, path)?,
        }
    }
    transaction.pragma_update(None, "application_id", APPLICATION_ID).map_err(wrong)?;
    transaction.pragma_update(None, "user_version", to).map_err(wrong)
}

#[cfg(test)]
pub(super) fn make_old(connection: &mut Connection, version: u32) {
    let transaction = connection.transaction().unwrap();
    run_steps(&transaction, Path::new("old"), 0, version).unwrap();
    transaction.commit().unwrap();
}
