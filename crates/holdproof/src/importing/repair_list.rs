//! A repair list that comes back corrected: which rows of which sheets it stands for.

use std::collections::HashSet;
use std::path::Path;

/// First heading of a repair list, as [`exchange::write_repairs`] writes it.
const FIRST_HEADING: &str = "repair: file";

/// One row of a repair list and the row of the sheet it was copied from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CopiedRow {
    /// Row in the repair list as a spreadsheet numbers it.
    pub row: u32,
    /// Sheet's file.
    pub file: String,
    /// Sheet of a workbook.
    pub sheet: Option<String>,
    /// Row in the sheet.
    pub original_row: u32,
}

/// True for the headings of a repair list.
pub fn is_list(headings: &[String]) -> bool {
    headings.first().is_some_and(|heading| heading.trim() == FIRST_HEADING)
}

/// The rows of a repair list; empty if it cannot be read as one.
pub fn copied_rows(path: &Path) -> Vec<CopiedRow> {
    let Ok(mut reader) = csv::ReaderBuilder::new().flexible(true).has_headers(true).from_path(path) else {
        return Vec::new();
    };
    let mut rows = Vec::new();
    for (index, record) in reader.records().enumerate() {
        let Ok(record) = record else { continue };
        let (Some(file), Some(sheet), Some(original)) = (record.get(0), record.get(1), record.get(2)) else {
            continue;
        };
        let Ok(original_row) = original.trim().parse() else { continue };
        rows.push(CopiedRow {
            row: u32::try_from(index + 2).unwrap_or(u32::MAX),
            file: file.to_owned(),
            sheet: Some(sheet.to_owned()).filter(|sheet| !sheet.is_empty()),
            original_row,
        });
    }
    rows
}

/// The copied rows that now went in without anything left to repair.
pub fn settled(rows: Vec<CopiedRow>, still_bad: &HashSet<u32>) -> Vec<CopiedRow> {
    rows.into_iter().filter(|copied| !still_bad.contains(&copied.row)).collect()
}
