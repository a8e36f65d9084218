//! Why a whole file could not be read.

use thiserror::Error;

/// Why a whole file could not be read. Each message is one sentence for the person who gave the file:
/// what is wrong, where, what to do. Trouble with single rows is no error but a [`crate::Repair`].
#[derive(Debug, Error)]
pub enum ReadError {
    /// Nothing in the file.
    #[error("{file} is empty; save it again from the program it came from")]
    Empty {
        /// File name.
        file: String,
    },
    /// Not text and not a workbook.
    #[error("{file} is {what}, not a sheet; save it as CSV or XLSX")]
    NotASheet {
        /// File name.
        file: String,
        /// What it looks like.
        what: &'static str,
    },
    /// A quotation mark that is never closed.
    #[error(
        "{file}, row {row}: a quotation mark opens a cell and nothing closes it; close it, or write inches as in instead of the mark"
    )]
    UnbalancedQuote {
        /// File name.
        file: String,
        /// Row in which it opens.
        row: u32,
    },
    /// A row with more cells than any sheet of records has.
    #[error(
        "{file}, row {row}: more than {limit} columns; keep the columns of the records and drop the others"
    )]
    TooManyColumns {
        /// File name.
        file: String,
        /// Row.
        row: u32,
        /// Columns taken at most.
        limit: usize,
    },
    /// More rows than are taken at once.
    #[error("{file} has more than {limit} rows; split it and read the parts one after the other")]
    TooManyRows {
        /// File name.
        file: String,
        /// Rows taken at most.
        limit: u32,
    },
    /// A row longer than any real one.
    #[error(
        "{file}, row {row}: the row is longer than {}; check that the file has line ends and its quotation marks are closed",
        size(*.limit as u64)
    )]
    RowTooLong {
        /// File name.
        file: String,
        /// Row.
        row: u32,
        /// Bytes taken at most.
        limit: usize,
    },
    /// A file larger than is taken.
    #[error("{file} is larger than {}; give a smaller file", size(*.limit))]
    TooLarge {
        /// File name.
        file: String,
        /// Bytes taken at most.
        limit: u64,
    },
    /// A workbook that unpacks to more than is taken.
    #[error(
        "{file} unpacks to more than {} (part {part}); it is damaged or made to do harm: ask for a CSV instead",
        size(*.limit)
    )]
    UnpacksTooLarge {
        /// File name.
        file: String,
        /// Part of the workbook.
        part: String,
        /// Bytes taken at most.
        limit: u64,
    },
    /// A damaged workbook.
    #[error(
        "{file} cannot be read as a workbook ({reason}); open it in a spreadsheet program and save it again"
    )]
    Workbook {
        /// File name.
        file: String,
        /// What the reading library says.
        reason: String,
    },
    /// A sheet name that the workbook does not have.
    #[error("{file} has no sheet \"{sheet}\"; it has {names}")]
    NoSuchSheet {
        /// File name.
        file: String,
        /// The name asked for.
        sheet: String,
        /// The names it has.
        names: String,
    },
    /// No row looks like column headings.
    #[error(
        "{file}: none of the first rows names known columns; put column headings in the first row, or give a mapping"
    )]
    NoHeader {
        /// File name.
        file: String,
    },
    /// The columns do not tell what the rows are.
    #[error(
        "{file}: its columns ({columns}) do not tell whether the rows are placements, sightings, pulls, crags, routes, stock or batches; say which"
    )]
    UnknownKind {
        /// File name.
        file: String,
        /// The columns that were recognised.
        columns: String,
    },
    /// A mapping file that cannot be understood.
    #[error("the column mapping cannot be read: {reason}")]
    Mapping {
        /// What is wrong.
        reason: String,
    },
    /// Waypoints that cannot be read.
    #[error("{file} cannot be read as GPX ({reason}); export it again as GPX 1.1")]
    Waypoints {
        /// File name.
        file: String,
        /// What the reading library says.
        reason: String,
    },
    /// Not a JPEG photo.
    #[error("{file} is not a JPEG photo; convert it to JPEG")]
    NotAPhoto {
        /// File name.
        file: String,
    },
    /// A load trace that cannot be read.
    #[error("{file}: {reason}")]
    Trace {
        /// File name.
        file: String,
        /// What is wrong, where, what to do.
        reason: String,
    },
    /// The file could not be read from its medium.
    #[error("{file} could not be read: {source}")]
    Io {
        /// File name.
        file: String,
        /// What the system says.
        source: std::io::Error,
    },
}

/// A number of bytes for people.
fn size(bytes: u64) -> String {
    match bytes {
        0..1024 => format!("{bytes} bytes"),
        1024..1_048_576 => format!("{} kB", bytes >> 10),
        _ => format!("{} MB", bytes >> 20),
    }
}

impl ReadError {
    pub(crate) fn io(file: &str, source: std::io::Error) -> Self {
        Self::Io { file: file.to_owned(), source }
    }
}

/// How much is taken from one file.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// Rows of one sheet.
    pub rows: u32,
    /// Columns of one sheet.
    pub columns: usize,
    /// Bytes of one row.
    pub row_bytes: usize,
    /// Bytes of all parts of a workbook, unpacked.
    pub workbook_bytes: u64,
    /// Bytes of the parts of a workbook that have to be held in memory (shared texts, styles), unpacked.
    pub held_bytes: u64,
    /// Parts of a workbook.
    pub workbook_parts: usize,
    /// Bytes of a photo, waypoint file or load trace.
    pub file_bytes: u64,
}

impl Default for Limits {
    fn default() -> Self {
        Self {
            rows: 500_000,
            columns: 1024,
            row_bytes: 1 << 20,
            workbook_bytes: 1 << 30,
            held_bytes: 128 << 20,
            workbook_parts: 4096,
            file_bytes: 256 << 20,
        }
    }
}
