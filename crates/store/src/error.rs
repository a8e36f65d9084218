//! What can go wrong with a stored register, each said with what to do.

use register::FactError;
use std::path::PathBuf;
use uuid::Uuid;

/// What can go wrong with a stored register.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
#[allow(missing_docs)]
pub enum StoreError {
    #[error("there is no register file `{path}`; check the name, or make a new register first.")]
    Missing { path: PathBuf },
    #[error(
        "`{path}` is empty (0 bytes), so it is no register; delete it if it is of no use, or restore a backup over it."
    )]
    Empty { path: PathBuf },
    #[error(
        "`{path}` exists already and was left as it is; choose another name, or say that it may be overwritten."
    )]
    Exists { path: PathBuf },
    #[error("`{path}` is not a register: it is not a database file. Nothing in it was changed.")]
    NotADatabase { path: PathBuf },
    #[error(
        "`{path}` is a database of another program (application id {application_id:#010x}). Nothing in it was changed."
    )]
    OtherApplication { path: PathBuf, application_id: u32 },
    #[error(
        "`{path}` was written by a newer version of this program (file version {version}, known up to {known}). Nothing in it was changed; install the newer version to open it."
    )]
    Newer { path: PathBuf, version: u32, known: u32 },
    #[error(
        "`{path}` is of an older file version ({version}, current is {known}) and was opened for reading only; a command that writes brings it up to date. Make a backup first."
    )]
    Older { path: PathBuf, version: u32, known: u32 },
    #[error("`{path}` is damaged: {what}. Nothing in it was changed; restore a backup.")]
    Damaged { path: PathBuf, what: String },
    #[error(
        "the last writing to `{path}` was cut off; a command that writes undoes the unfinished part. It was opened for reading only and not changed."
    )]
    Unfinished { path: PathBuf },
    #[error("another program is using `{path}`; close it and try again.")]
    Busy { path: PathBuf },
    #[error(
        "`{path}` can be read but not written to, and nothing was; allow writing to the file and its folder, or work on a copy."
    )]
    ReadOnly { path: PathBuf },
    #[error("there is no room left on the disk of `{path}`; nothing of this batch was kept.")]
    DiskFull { path: PathBuf },
    #[error(transparent)]
    Fact(#[from] FactError),
    #[error(
        "fact {id} is in the register with other content; one copy was damaged or forged. Nothing of this batch was kept."
    )]
    Clash { id: Uuid },
    #[error("`{path}` cannot be used: {source}.")]
    Io { path: PathBuf, source: std::io::Error },
    #[error("the database of `{path}` reports: {source}")]
    Database { path: PathBuf, source: Box<dyn std::error::Error + Send + Sync> },
}
