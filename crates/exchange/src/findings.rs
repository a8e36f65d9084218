//! Findings of one sheet, the same ones counted together.

use crate::repair::Finding;
use std::collections::HashMap;

/// Different findings kept for one sheet; beyond that their number is told.
const MOST: usize = 5000;

#[derive(Default)]
pub(crate) struct Findings {
    list: Vec<Finding>,
    at: HashMap<(Option<usize>, String), usize>,
    left_out: u32,
}

impl Findings {
    /// Counts one finding of `row` (0: the whole sheet) and gives its place.
    pub(crate) fn add(
        &mut self,
        sheet: Option<&str>,
        row: u32,
        column: Option<(usize, &str)>,
        text: String,
    ) -> Option<usize> {
        let key = (column.map(|(at, _)| at), text);
        if let Some(&at) = self.at.get(&key) {
            self.list[at].rows += 1;
            return Some(at);
        }
        if self.list.len() >= MOST {
            self.left_out += 1;
            return None;
        }
        let at = self.list.len();
        self.list.push(Finding {
            sheet: sheet.map(str::to_owned),
            row,
            rows: 1,
            column: column.map(|(_, heading)| heading.to_owned()),
            text: key.1.clone(),
        });
        self.at.insert(key, at);
        Some(at)
    }

    /// Counts one more row of a finding.
    pub(crate) fn again(&mut self, at: usize) {
        if let Some(finding) = self.list.get_mut(at) {
            finding.rows += 1;
        }
    }

    pub(crate) fn finish(mut self) -> Vec<Finding> {
        if self.left_out > 0 {
            self.list.push(Finding {
                sheet: self.list.first().and_then(|f| f.sheet.clone()),
                row: 0,
                rows: self.left_out,
                column: None,
                text: format!("{} more findings are not listed", self.left_out),
            });
        }
        self.list
    }
}
