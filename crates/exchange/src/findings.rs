//! Findings of one sheet, the same ones counted together.

use crate::repair::Finding;
use std::collections::HashMap;

/// Different findings kept for one sheet; beyond that their number is told.
const MOST: usize = 5000;

/// What has to be told of one cell or row: what it is, and the case that it was met in. Findings that say
/// the same of different cases are one.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Told {
    pub text: String,
    pub case: Option<String>,
}

impl Told {
    /// A case of something that can be met in many ways.
    pub(crate) fn case(text: impl Into<String>, case: impl Into<String>) -> Self {
        Self { text: text.into(), case: Some(case.into()) }
    }

    /// A word that is not in the vocabulary, and what it was taken for.
    pub(crate) fn near(written: &str, name: &str) -> Self {
        Self::case("words were read as near ones", format!("\"{written}\" as {name}"))
    }
}

impl From<String> for Told {
    fn from(text: String) -> Self {
        Self { text, case: None }
    }
}

#[derive(Default)]
pub(crate) struct Findings {
    list: Vec<Finding>,
    at: HashMap<(Option<usize>, String), usize>,
    cases: usize,
    left_out: u32,
}

impl Findings {
    /// Counts one finding of `row` (0: the whole sheet) and gives its place.
    pub(crate) fn add(
        &mut self,
        sheet: Option<&str>,
        row: u32,
        column: Option<(usize, &str)>,
        told: Told,
    ) -> Option<usize> {
        let key = (column.map(|(at, _)| at), told.text);
        let at = match self.at.get(&key) {
            Some(&at) => {
                self.list[at].rows += 1;
                at
            }
            None if self.list.len() >= MOST => {
                self.left_out += 1;
                return None;
            }
            None => {
                let at = self.list.len();
                self.list.push(Finding {
                    sheet: sheet.map(str::to_owned),
                    row,
                    rows: 1,
                    column: column.map(|(_, heading)| heading.to_owned()),
                    text: key.1.clone(),
                    cases: Vec::new(),
                });
                self.at.insert(key, at);
                at
            }
        };
        if let Some(case) = told.case {
            let cases = &mut self.list[at].cases;
            if self.cases >= MOST {
                self.left_out += 1;
            } else if !cases.contains(&case) {
                self.cases += 1;
                cases.push(case);
            }
        }
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
                cases: Vec::new(),
            });
        }
        self.list
    }
}
