//! One row of a sheet and where rows come from.

use crate::ReadError;

/// One row: its cells as text. The buffers are used again for the next row.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Row {
    text: String,
    ends: Vec<usize>,
    /// Number as a spreadsheet shows it, from 1.
    pub number: u32,
}

impl Row {
    pub(crate) fn clear(&mut self) {
        self.text.clear();
        self.ends.clear();
    }

    /// Takes the buffers to be filled by bytes; [`Row::restore`] gives them back.
    pub(crate) fn take(&mut self) -> (Vec<u8>, Vec<usize>) {
        self.clear();
        (std::mem::take(&mut self.text).into_bytes(), std::mem::take(&mut self.ends))
    }

    pub(crate) fn restore(&mut self, bytes: Vec<u8>, ends: Vec<usize>) {
        // The decoder gives UTF-8 only; should it not, no cell is believed.
        self.text = String::from_utf8(bytes).unwrap_or_default();
        self.ends = ends;
        if self.text.is_empty() {
            self.ends.iter_mut().for_each(|end| *end = 0);
        }
    }

    pub(crate) fn push(&mut self, cell: &str) {
        self.text.push_str(cell);
        self.ends.push(self.text.len());
    }

    /// Number of cells.
    pub(crate) fn len(&self) -> usize {
        self.ends.len()
    }

    /// Cell `at` without surrounding blanks; cells beyond the row's end are empty.
    pub(crate) fn get(&self, at: usize) -> &str {
        let Some(&end) = self.ends.get(at) else { return "" };
        let start = if at == 0 { 0 } else { self.ends[at - 1] };
        self.text.get(start..end).unwrap_or("").trim()
    }

    pub(crate) fn cells(&self) -> impl Iterator<Item = &str> {
        (0..self.len()).map(|at| self.get(at))
    }

    pub(crate) fn is_blank(&self) -> bool {
        self.text.trim().is_empty()
    }
}

/// Rows one after the other.
pub(crate) trait Rows {
    /// Reads the next row into `row`; false at the end. Blank rows are left out, but counted.
    fn next(&mut self, row: &mut Row) -> Result<bool, ReadError>;
}
