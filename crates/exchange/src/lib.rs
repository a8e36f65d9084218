//! Sheets, waypoints, photos and load traces, in and out.
//!
//! Belongs here: the reading of files that a group really has into drafts of facts (subject and body),
//! the repair list, the column mapping, and tables out.
//! May not come in: storage, ids and times of facts, judgement. Files are given as readers; the only
//! clock is the `today` of [`Options`].
//!
//! ```
//! let sheet = "Crag,Route,No,Type,Size,Placed\nHarl Quarry,Blind Corner,1,wege bolt,M12x90,2019-05-03\n";
//! let options = exchange::Options::new(jiff::civil::date(2026, 11, 25));
//! let state = register::State::default();
//! let import = exchange::read_sheet("bolts.csv", std::io::Cursor::new(sheet), &options, &state)?;
//! assert_eq!(import.drafts.len(), 4); // crag, route, placement, fitting
//! assert_eq!(import.findings[0].told(1), "words were read as near ones: \"wege bolt\" as wedge bolt");
//! # Ok::<(), exchange::ReadError>(())
//! ```

mod assemble;
mod cell;
mod column;
mod dates;
mod delimited;
mod encoding;
mod error;
mod fields;
mod findings;
pub mod gpx;
mod label;
mod mapping;
pub mod photo;
mod repair;
mod row;
mod sheet;
mod signs;
mod table;
pub mod trace;
mod vocabulary;
mod workbook;

pub use column::{Column, SheetKind};
pub use dates::DateOrder;
pub use error::{Limits, ReadError};
pub use mapping::{Mapped, Mapping};
pub use repair::{CopiedRow, Finding, Repair, write_repairs};
pub use sheet::{
    Counts, Draft, Known, Options, Preview, SheetImport, copied_rows, is_repair_list, origin, preview,
    read_batches, read_file, read_sheet,
};
pub use table::write_csv;
