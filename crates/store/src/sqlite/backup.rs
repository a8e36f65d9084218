//! Backup and restore: written beside, verified, then renamed.

use super::open::beside;
use super::{SqliteStore, means};
use crate::{Checked, RegisterStore, StoreError};
use rusqlite::Connection;
use rusqlite::backup::Backup;
use std::fs::{File, OpenOptions};
use std::path::Path;
use std::time::Duration;

pub(super) fn backup(connection: &Connection, path: &Path, target: &Path) -> Result<Checked, StoreError> {
    if target.exists() {
        return Err(StoreError::Exists { path: target.to_owned() });
    }
    let part = Part::make(target)?;
    let checked = part.fill(connection, path)?;
    part.take_name(target)?;
    Ok(checked)
}

/// Puts a backup in the place of a register. The backup is verified first, copied beside the target,
/// verified again, and then takes the target's name. `overwrite` allows it to replace a file.
///
/// # Errors
/// The backup does not open or verify; the target is there and may not be overwritten, or cannot be
/// written. The target is as it was then.
pub fn restore(backup: &Path, target: &Path, overwrite: bool) -> Result<Checked, StoreError> {
    if target.exists() && !overwrite {
        return Err(StoreError::Exists { path: target.to_owned() });
    }
    let source = SqliteStore::open_to_read(backup)?;
    source.check()?;
    let part = Part::make(target)?;
    let checked = part.fill(&source.connection, backup)?;
    // A cut-off writing of the replaced file must not be rolled back into the new one.
    for suffix in ["-journal", "-wal", "-shm"] {
        let left = beside(target, suffix);
        if left.exists() {
            std::fs::remove_file(&left).map_err(|source| StoreError::Io { path: left, source })?;
        }
    }
    part.take_name(target)?;
    Ok(checked)
}

/// A file being written beside its target; removed again unless it takes the target's name.
struct Part {
    path: std::path::PathBuf,
    done: bool,
}

impl Part {
    fn make(target: &Path) -> Result<Part, StoreError> {
        let path = beside(target, ".part");
        OpenOptions::new().write(true).create_new(true).open(&path).map_err(|source| {
            match source.kind() {
                std::io::ErrorKind::AlreadyExists => StoreError::Exists { path: path.clone() },
                _ => StoreError::Io { path: path.clone(), source },
            }
        })?;
        Ok(Part { path, done: false })
    }

    fn fill(&self, source: &Connection, source_path: &Path) -> Result<Checked, StoreError> {
        let wrong = |error| means(&self.path, error);
        let mut copy = Connection::open(&self.path).map_err(wrong)?;
        {
            let run = Backup::new(source, &mut copy).map_err(|error| means(source_path, error))?;
            run.run_to_completion(1024, Duration::ZERO, None).map_err(wrong)?;
        }
        copy.close().map_err(|(_, error)| means(&self.path, error))?;
        SqliteStore::open_to_read(&self.path)?.check()
    }

    fn take_name(mut self, target: &Path) -> Result<(), StoreError> {
        let trouble = |source| StoreError::Io { path: target.to_owned(), source };
        File::open(&self.path).and_then(|file| file.sync_all()).map_err(trouble)?;
        std::fs::rename(&self.path, target).map_err(trouble)?;
        self.done = true;
        // The new name itself must survive a power cut; not every system can do this for a folder.
        if let Some(folder) = target.parent().filter(|folder| !folder.as_os_str().is_empty())
            && let Ok(folder) = File::open(folder)
        {
            let _ = folder.sync_all();
        }
        Ok(())
    }
}

impl Drop for Part {
    fn drop(&mut self) {
        if !self.done {
            let _ = std::fs::remove_file(&self.path);
            let _ = std::fs::remove_file(beside(&self.path, "-journal"));
        }
    }
}
