//! The repair list: what a person has to correct, in a form that can be corrected and read again.

use crate::ReadError;
use crate::mapping::REPAIR_HEADINGS;
use serde::Serialize;
use std::io::Write;
use std::sync::Arc;

/// One cell that was not taken, why, and what to do.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Repair {
    /// File name.
    pub file: String,
    /// Sheet of a workbook.
    pub sheet: Option<String>,
    /// Row as a spreadsheet numbers it.
    pub row: u32,
    /// Heading of the column; empty if the whole row is meant.
    pub column: String,
    /// What stands in the cell.
    pub value: String,
    /// Why it was not taken.
    pub reason: String,
    /// What to do.
    pub advice: String,
    /// True if nothing of the row went in, false if only this cell stayed out.
    pub whole_row: bool,
    /// The row as it stands in the sheet, with what it takes from the rows around it filled in.
    #[serde(skip)]
    pub cells: Arc<[String]>,
}

/// Something to know about a sheet that needs no correction.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Finding {
    /// Sheet of a workbook.
    pub sheet: Option<String>,
    /// First row it concerns; 0 if it concerns the whole sheet.
    pub row: u32,
    /// Number of rows it concerns.
    pub rows: u32,
    /// Heading of the column, where it concerns one.
    pub column: Option<String>,
    /// What is to be known.
    pub text: String,
    /// The words or rows it was met in, where these differ; each once.
    pub cases: Vec<String>,
}

impl Finding {
    /// The text with at most `most` of its cases.
    pub fn told(&self, most: usize) -> String {
        if self.cases.is_empty() {
            return self.text.clone();
        }
        let shown = self.cases.iter().take(most.max(1)).map(String::as_str).collect::<Vec<_>>().join(", ");
        match self.cases.len().saturating_sub(most.max(1)) {
            0 => format!("{}: {shown}", self.text),
            more => format!("{}: {shown} and {more} more", self.text),
        }
    }
}

/// A row of a repair list and the row of the sheet that it was copied from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CopiedRow {
    /// Row in the repair list as a spreadsheet numbers it.
    pub row: u32,
    /// File of the sheet.
    pub file: String,
    /// Sheet of a workbook.
    pub sheet: Option<String>,
    /// Row in the sheet.
    pub original_row: u32,
}

/// Writes the repairs of one sheet as CSV: seven columns that tell what is wrong, then the row as it
/// stands under the sheet's own `headings`. A person corrects the row in place and the file is read like
/// the sheet itself; the seven columns are then left out. One line a row; several troubles of a row are
/// joined by `; `.
///
/// # Errors
/// [`ReadError::Io`] if it cannot be written.
pub fn write_repairs<W: Write>(out: W, headings: &[String], repairs: &[Repair]) -> Result<(), ReadError> {
    let failed = |e: csv::Error| ReadError::io("the repair list", e.into());
    let mut writer = csv::WriterBuilder::new().flexible(true).from_writer(out);
    let mut start = 0;
    let header: Vec<&str> =
        REPAIR_HEADINGS.iter().copied().chain(headings.iter().map(String::as_str)).collect();
    writer.write_record(&header).map_err(failed)?;
    while start < repairs.len() {
        let first = &repairs[start];
        let same = repairs[start..]
            .iter()
            .take_while(|r| (r.row, &r.file, &r.sheet) == (first.row, &first.file, &first.sheet))
            .count();
        let group = &repairs[start..start + same];
        let joined = |part: fn(&Repair) -> &str| group.iter().map(part).collect::<Vec<_>>().join("; ");
        let lead = [
            first.file.clone(),
            first.sheet.clone().unwrap_or_default(),
            first.row.to_string(),
            joined(|r| &r.column),
            joined(|r| &r.value),
            joined(|r| &r.reason),
            joined(|r| &r.advice),
        ];
        let cells = (0..headings.len()).map(|at| first.cells.get(at).map_or("", String::as_str));
        writer.write_record(lead.iter().map(String::as_str).chain(cells)).map_err(failed)?;
        start += same;
    }
    writer.flush().map_err(|e| ReadError::io("the repair list", e))
}
