//! Making and opening the file. A file that is refused keeps every byte, and nothing is left beside it.

use super::schema::{self, APPLICATION_ID, VERSION};
use super::{SqliteStore, means};
use crate::StoreError;
use rusqlite::{Connection, OpenFlags};
use std::fs::{File, OpenOptions};
use std::io::Read;
use std::path::{Path, PathBuf};
use std::time::Duration;

/// How long another program may hold the file before it is reported as busy.
const PATIENCE: Duration = Duration::from_secs(5);

impl SqliteStore {
    /// Makes a new register.
    ///
    /// # Errors
    /// A file of that name is there already (also an empty one), or cannot be made.
    pub fn create(path: &Path) -> Result<SqliteStore, StoreError> {
        // Takes the name in one step, so that no other file can be hit.
        OpenOptions::new().write(true).create_new(true).open(path).map_err(|source| match source.kind() {
            std::io::ErrorKind::AlreadyExists => StoreError::Exists { path: path.to_owned() },
            _ => StoreError::Io { path: path.to_owned(), source },
        })?;
        let made = connect(path, true).and_then(|mut connection| {
            schema::migrate(&mut connection, path, 0)?;
            Ok(SqliteStore { connection, path: path.to_owned(), writable: true })
        });
        if made.is_err() {
            // The file is ours and holds nothing yet.
            let _ = std::fs::remove_file(path);
        }
        made
    }

    /// Opens a register for reading and writing; one of an older version is brought up to date first.
    /// Runs the quick check of the pages.
    ///
    /// # Errors
    /// Missing, empty, not a database, of another program, of a newer version, damaged, in use.
    pub fn open(path: &Path) -> Result<SqliteStore, StoreError> {
        let version = header(path)?;
        if !journal_is_there(path) {
            pages(&connect(path, false)?, path, "quick_check")?;
        }
        let mut connection = connect(path, true)?;
        if journal_is_there(path) {
            // The first reading rolls the cut-off writing back.
            pages(&connection, path, "quick_check")?;
        }
        if version < VERSION {
            schema::migrate(&mut connection, path, version)?;
        }
        Ok(SqliteStore { connection, path: path.to_owned(), writable: true })
    }

    /// Opens a register for reading only. Runs the quick check of the pages.
    ///
    /// # Errors
    /// As [`SqliteStore::open`]; also an older version or a cut-off writing, since both want writing.
    pub fn open_to_read(path: &Path) -> Result<SqliteStore, StoreError> {
        let version = header(path)?;
        if version < VERSION {
            return Err(StoreError::Older { path: path.to_owned(), version, known: VERSION });
        }
        if journal_is_there(path) {
            return Err(StoreError::Unfinished { path: path.to_owned() });
        }
        let connection = connect(path, false)?;
        pages(&connection, path, "quick_check")?;
        Ok(SqliteStore { connection, path: path.to_owned(), writable: false })
    }
}

/// Path of a file that SQLite keeps beside the database.
pub(super) fn beside(path: &Path, suffix: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(suffix);
    PathBuf::from(name)
}

fn journal_is_there(path: &Path) -> bool {
    beside(path, "-journal").metadata().is_ok_and(|file| file.len() > 0)
}

fn connect(path: &Path, write: bool) -> Result<Connection, StoreError> {
    let wrong = |error| means(path, error);
    let access = if write { OpenFlags::SQLITE_OPEN_READ_WRITE } else { OpenFlags::SQLITE_OPEN_READ_ONLY };
    let connection =
        Connection::open_with_flags(path, access | OpenFlags::SQLITE_OPEN_NO_MUTEX).map_err(wrong)?;
    connection.busy_timeout(PATIENCE).map_err(wrong)?;
    connection
        .execute_batch(
            "PRAGMA trusted_schema = OFF; PRAGMA cell_size_check = ON; PRAGMA cache_size = -65536;
             PRAGMA temp_store = MEMORY;",
        )
        .map_err(wrong)?;
    if write {
        connection
            .execute_batch("PRAGMA synchronous = FULL; PRAGMA recursive_triggers = ON;")
            .map_err(wrong)?;
    }
    Ok(connection)
}

/// Reads the first 100 bytes without any database code and returns the file version.
///
/// Layout: the database file format of SQLite, section "The Database Header" (from memory): text at 0,
/// write and read version at 18 and 19 (1 = rollback journal), user version at 60, application id at 68.
fn header(path: &Path) -> Result<u32, StoreError> {
    let own = || path.to_owned();
    let mut file = File::open(path).map_err(|source| match source.kind() {
        std::io::ErrorKind::NotFound => StoreError::Missing { path: own() },
        _ => StoreError::Io { path: own(), source },
    })?;
    let about = file.metadata().map_err(|source| StoreError::Io { path: own(), source })?;
    if !about.is_file() {
        return Err(StoreError::NotADatabase { path: own() });
    }
    if about.len() == 0 {
        return Err(StoreError::Empty { path: own() });
    }
    let mut head = [0; 100];
    let whole = file.read_exact(&mut head).is_ok();
    if !head.starts_with(b"SQLite format 3\0") {
        return Err(StoreError::NotADatabase { path: own() });
    }
    if !whole {
        return Err(StoreError::Damaged {
            path: own(),
            what: "it ends within its first 100 bytes".to_owned(),
        });
    }
    let number = |at: usize| u32::from_be_bytes([head[at], head[at + 1], head[at + 2], head[at + 3]]);
    let (version, application_id) = (number(60), number(68));
    if application_id != APPLICATION_ID {
        return Err(StoreError::OtherApplication { path: own(), application_id });
    }
    if version > VERSION {
        return Err(StoreError::Newer { path: own(), version, known: VERSION });
    }
    if version == 0 || head[18..20] != [1, 1] {
        return Err(StoreError::Damaged {
            path: own(),
            what: "its header is not one this program writes".to_owned(),
        });
    }
    Ok(version)
}

/// Runs `quick_check` or `integrity_check`.
pub(super) fn pages(connection: &Connection, path: &Path, check: &str) -> Result<(), StoreError> {
    let damaged = |what: String| StoreError::Damaged { path: path.to_owned(), what };
    let found: rusqlite::Result<String> =
        connection.query_row(&format!("PRAGMA {check}(1)"), [], |row| row.get(0));
    match found {
        Ok(found) if found == "ok" => Ok(()),
        Ok(found) => Err(damaged(found.replace('\n', " ").replace("*** in database main *** ", ""))),
        Err(error) => Err(match means(path, error) {
            // The header was right, so it is one of ours.
            StoreError::NotADatabase { .. } => damaged("its pages cannot be read".to_owned()),
            other => other,
        }),
    }
}
