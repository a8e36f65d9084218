//! Files into facts: what each file is, in which order they are read, what came of each.

mod facts;
mod files;
mod repair_list;
pub mod said;
mod traces;

pub use facts::Pen;
pub use files::{Found, Kind, find};
pub use repair_list::{copied_rows, settled};

use crate::exit::Failure;
use crate::words;
use exchange::{Finding, Known, Limits, Mapping, Options, ReadError, Repair, SheetImport};
use register::{Body, Fact, State};
use std::fs::File;
use std::io::BufReader;
use std::path::Path;

/// What came of one file, or of one sheet of a workbook.
#[derive(Debug, Default)]
pub struct FileReport {
    /// File as given on the command line.
    pub file: String,
    /// Sheet of a workbook.
    pub sheet: Option<String>,
    /// What it was read as.
    pub read_as: String,
    /// How the columns were taken.
    pub mapping: Option<Mapping>,
    /// Rows with anything in them.
    pub rows: u32,
    /// Rows that went in.
    pub taken: u32,
    /// Rows that say nothing new.
    pub unchanged: u32,
    /// Copies of earlier rows.
    pub duplicates: u32,
    /// Rows that repeat what was corrected in the register since.
    pub corrected_since: u32,
    /// Rows with something to repair.
    pub rows_to_repair: u32,
    /// What has to be repaired.
    pub repairs: Vec<Repair>,
    /// Headings, for the repair list.
    pub headings: Vec<String>,
    /// What a person should know.
    pub findings: Vec<Finding>,
    /// Facts that are new.
    pub facts_new: usize,
    /// Why the whole file could not be read.
    pub error: Option<String>,
}

impl FileReport {
    fn named(found: &Found, read_as: &str) -> Self {
        Self { file: found.name.clone(), read_as: read_as.to_owned(), ..Self::default() }
    }

    fn failed(found: &Found, error: &ReadError) -> Self {
        Self { error: Some(error.to_string()), ..Self::named(found, "nothing") }
    }
}

/// A finding about a whole file.
fn finding(text: impl Into<String>) -> Finding {
    Finding { sheet: None, row: 0, rows: 0, column: None, text: text.into(), cases: Vec::new() }
}

/// Reads one file against what is known so far. Returns the facts it states and what came of it. What
/// the file states is not yet part of what is known.
pub fn read(
    found: &Found,
    options: &Options,
    known: Known<'_>,
    pen: &mut Pen,
) -> (Vec<Fact>, Vec<FileReport>) {
    let state = known.register;
    let result = match found.kind {
        Kind::Sheet(_) => sheets(found, options, known, pen),
        Kind::Waypoints => waypoints(found, &options.limits, state, pen),
        Kind::Photo => photo(found, &options.limits, state, pen),
        Kind::Trace => traces::read(found, &options.limits, state, pen),
        Kind::Unknown => {
            let mut report = FileReport::named(found, "nothing");
            report.findings.push(finding(if files::is_toml(&found.path) {
                "not for the register; limits of a plan go to `holdproof plan --limits`, columns to `--mapping`"
            } else {
                "passed over: not a CSV or XLSX sheet, GPX, JPEG or load trace"
            }));
            Ok((Vec::new(), vec![report]))
        }
    };
    result.unwrap_or_else(|error| (Vec::new(), vec![FileReport::failed(found, &error)]))
}

fn open(found: &Found) -> Result<BufReader<File>, ReadError> {
    open_path(&found.path, &found.name)
}

fn open_path(path: &Path, name: &str) -> Result<BufReader<File>, ReadError> {
    File::open(path).map(BufReader::new).map_err(|source| ReadError::Io { file: name.to_owned(), source })
}

type ReadFacts = Result<(Vec<Fact>, Vec<FileReport>), ReadError>;

fn sheets(found: &Found, options: &Options, known: Known<'_>, pen: &mut Pen) -> ReadFacts {
    let mut facts = Vec::new();
    // Drafts come batch by batch and become facts at once: a file is held in memory only once.
    let mut rows: Vec<(usize, u32)> = Vec::new();
    let imports = exchange::read_batches(&found.name, open(found)?, options, known, &mut |sheet, drafts| {
        for draft in drafts {
            rows.push((sheet, draft.row));
            facts.push(pen.write(String::new(), draft.subject, draft.body));
        }
    })?;
    let mut new_of = vec![0; imports.len()];
    for (fact, (sheet, row)) in facts.iter_mut().zip(rows) {
        if let (Some(import), Some(new)) = (imports.get(sheet), new_of.get_mut(sheet)) {
            fact.origin = Some(exchange::origin(&found.name, import.sheet.as_deref(), row));
            *new += 1;
        }
    }
    let reports =
        imports.into_iter().zip(new_of).map(|(import, new)| sheet_report(found, import, new)).collect();
    Ok((facts, reports))
}

fn sheet_report(found: &Found, import: SheetImport, facts_new: usize) -> FileReport {
    let headings = import.headings();
    FileReport {
        file: found.name.clone(),
        sheet: import.sheet,
        read_as: import.mapping.kind.to_string(),
        rows: import.counts.rows,
        taken: import.counts.taken,
        unchanged: import.counts.unchanged,
        duplicates: import.counts.duplicates,
        corrected_since: import.counts.corrected_since,
        rows_to_repair: import.counts.rows_to_repair,
        mapping: Some(import.mapping),
        repairs: import.repairs,
        headings,
        findings: import.findings,
        facts_new,
        error: None,
    }
}

fn waypoints(found: &Found, limits: &Limits, state: &State, pen: &mut Pen) -> ReadFacts {
    let import = exchange::gpx::read(&found.name, open(found)?, limits, state)?;
    let facts: Vec<Fact> = import
        .drafts
        .into_iter()
        .map(|draft| {
            let origin = format!("{}, waypoint {}", found.name, draft.row);
            pen.write(origin, draft.subject, draft.body)
        })
        .collect();
    let mut report = FileReport::named(found, "waypoint file");
    report.findings = import.findings;
    report.facts_new = facts.len();
    if !import.unmatched.is_empty() {
        let names: Vec<&str> = import.unmatched.iter().map(|point| point.name.as_str()).take(8).collect();
        let more = if import.unmatched.len() > names.len() { " ..." } else { "" };
        report.findings.push(finding(format!(
            "{} without a crag or route of that name in the register: {}{more}",
            words::count(import.unmatched.len(), "waypoint"),
            names.join(", ")
        )));
    }
    Ok((facts, vec![report]))
}

fn photo(found: &Found, limits: &Limits, state: &State, pen: &mut Pen) -> ReadFacts {
    let photo = exchange::photo::read(&found.name, open(found)?, limits, state)?;
    let subject = photo.subject();
    let mut report = FileReport::named(found, "photo");
    report.findings.push(finding(photo.why.clone()));
    let facts: Vec<Fact> = state
        .news(&subject, Body::Photo(photo.record))
        .map(|body| pen.write(found.name.clone(), subject, body))
        .into_iter()
        .collect();
    report.facts_new = facts.len();
    Ok((facts, vec![report]))
}

/// Reads a mapping file.
pub fn mapping(path: &Path) -> Result<Mapping, Failure> {
    let text = std::fs::read_to_string(path)
        .map_err(|e| Failure::usage(format!("cannot read the mapping {}: {e}", path.display())))?;
    Mapping::from_toml(&text).map_err(|e| Failure::usage(format!("{}: {e}", path.display())))
}
