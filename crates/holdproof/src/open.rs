//! Opening the register file.

use crate::desk::Desk;
use crate::exit::Failure;
use register::State;
use store::{RegisterStore, SqliteStore, StoreError};

/// The state of the register, for commands that only read.
pub fn state(desk: &Desk) -> Result<State, Failure> {
    to_read(desk)?.state().map_err(Failure::from)
}

/// The register, for reading. A file of an older version, or one whose last writing was cut off, is
/// opened for writing, since only that can bring it in order.
pub fn to_read(desk: &Desk) -> Result<SqliteStore, Failure> {
    match SqliteStore::open_to_read(&desk.register) {
        Err(StoreError::Older { .. } | StoreError::Unfinished { .. }) => to_write(desk),
        other => other.map_err(Failure::from),
    }
}

/// The register, for reading and writing.
pub fn to_write(desk: &Desk) -> Result<SqliteStore, Failure> {
    SqliteStore::open(&desk.register).map_err(Failure::from)
}

impl From<StoreError> for Failure {
    fn from(error: StoreError) -> Self {
        let missing = matches!(error, StoreError::Missing { .. });
        let failure = Self::register(error);
        if missing {
            failure.advise("`holdproof init` starts a new register; --register names another file.")
        } else {
            failure
        }
    }
}
