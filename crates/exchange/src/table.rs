//! Tables out: CSV that spreadsheet programs open as it is meant.

use crate::ReadError;
use std::io::Write;

/// Writes a table as CSV in UTF-8. Cells that a spreadsheet program would take for a formula (`=`, `+`,
/// `-` or `@` first, where they are no number) get an apostrophe before them.
///
/// # Errors
/// [`ReadError::Io`] if it cannot be written.
pub fn write_csv<W, H, I, C>(out: W, headings: H, rows: I) -> Result<(), ReadError>
where
    W: Write,
    H: IntoIterator<Item = C>,
    I: IntoIterator,
    I::Item: IntoIterator<Item = C>,
    C: AsRef<str>,
{
    let failed = |e: csv::Error| ReadError::io("the table", e.into());
    let mut writer = csv::WriterBuilder::new().flexible(true).from_writer(out);
    writer.write_record(headings.into_iter().map(|c| harmless(c.as_ref()))).map_err(failed)?;
    for row in rows {
        writer.write_record(row.into_iter().map(|c| harmless(c.as_ref()))).map_err(failed)?;
    }
    writer.flush().map_err(|e| ReadError::io("the table", e))
}

/// The cell, with an apostrophe before what a spreadsheet program would compute.
pub(crate) fn harmless(cell: &str) -> String {
    let risky =
        cell.starts_with(['=', '+', '-', '@', '\t', '\r']) && cell.parse::<f64>().is_err() && cell != "-";
    if risky { format!("'{cell}") } else { cell.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_stay_text() {
        let mut out = Vec::new();
        write_csv(&mut out, ["a", "b"], [["-3.5", "=cmd()"], ["x,y", "3/8\""]]).unwrap();
        assert_eq!(String::from_utf8(out).unwrap(), "a,b\n-3.5,'=cmd()\n\"x,y\",\"3/8\"\"\"\n");
    }
}
