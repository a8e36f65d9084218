//! A sheet read as a whole: what it is, how its columns map, what its rows say.

use crate::assemble::Assembler;
use crate::column::SheetKind;
use crate::dates::{DateOrder, OrderEvidence, scan};
use crate::delimited::{Delimited, guess_delimiter};
use crate::encoding::{TextEncoding, detect};
use crate::mapping::{self, Mapping, REPAIR_HEADINGS, SAMPLE};
use crate::repair::{CopiedRow, Finding, Repair};
use crate::row::{Row, Rows};
use crate::workbook::Workbook;
use crate::{Limits, ReadError};
use jiff::civil::Date;
use register::{Body, State, Subject};
use serde::Serialize;
use std::io::{Read, Seek, SeekFrom};
use units::UnitSystem;

/// Drafts given to the caller at once.
const BATCH: usize = 1024;

/// What a person says about a file.
#[derive(Clone, Debug)]
pub struct Options {
    /// The day of reading; later dates are not believed.
    pub today: Date,
    /// What the rows are, where the guess is not wanted.
    pub kind: Option<SheetKind>,
    /// Columns, where the guess is not wanted.
    pub mapping: Option<Mapping>,
    /// The sheet of a workbook that is read; none: all of them.
    pub sheet: Option<String>,
    /// The crag of rows that name none.
    pub crag: Option<String>,
    /// Units of numbers without one, where the heading states none.
    pub units: UnitSystem,
    /// Order of day and month where the column does not show it.
    pub date_order: Option<DateOrder>,
    /// Takes names of crags and routes that are spelt almost like known ones as new ones.
    pub new_names: bool,
    /// How much is taken from one file.
    pub limits: Limits,
}

impl Options {
    /// Guesses everything; metric.
    pub fn new(today: Date) -> Self {
        Self {
            today,
            kind: None,
            mapping: None,
            sheet: None,
            crag: None,
            units: UnitSystem::Metric,
            date_order: None,
            new_names: false,
            limits: Limits::default(),
        }
    }
}

/// What is known before a file is read.
#[derive(Clone, Copy)]
pub struct Known<'s> {
    /// What the register holds.
    pub register: &'s State,
    /// What earlier readings of this same file stated, one state for each name or place that it is known by.
    /// What the file said before is no news, even where the register says something else: it was corrected
    /// since, and the correction stands.
    pub said: &'s [State],
}

impl<'s> From<&'s State> for Known<'s> {
    fn from(register: &'s State) -> Self {
        Self { register, said: &[] }
    }
}

impl Known<'_> {
    /// What of a body is new, and whether part of it was corrected since this file said so.
    pub fn news(&self, subject: &Subject, body: Body) -> (Option<Body>, bool) {
        let Some(differs) = self.register.news(subject, body) else { return (None, false) };
        if self.said.is_empty() {
            return (Some(differs), false);
        }
        let mut news = Some(differs.clone());
        for said in self.said {
            news = news.and_then(|body| said.news(subject, body));
        }
        let corrected = news.as_ref() != Some(&differs);
        (news, corrected)
    }
}

/// What one row wants to state; not a fact yet, for it has no author, time and identity of its own.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Draft {
    /// Row as a spreadsheet numbers it.
    pub row: u32,
    /// What it is about.
    pub subject: Subject,
    /// What it says: only fields that the register does not hold yet.
    pub body: Body,
}

/// Where a draft came from, for [`register::Fact::origin`].
pub fn origin(file: &str, sheet: Option<&str>, row: u32) -> String {
    match sheet {
        Some(sheet) => format!("{file}, {sheet}, row {row}"),
        None => format!("{file}, row {row}"),
    }
}

/// How many rows fared how.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Counts {
    /// Rows with anything in them, without the headings.
    pub rows: u32,
    /// Rows that went in, those that say nothing new included.
    pub taken: u32,
    /// Rows that went in and say nothing that the register did not hold.
    pub unchanged: u32,
    /// Copies of earlier rows.
    pub duplicates: u32,
    /// Rows that repeat what this file said before and was corrected in the register since.
    pub corrected_since: u32,
    /// Rows with at least one repair.
    pub rows_to_repair: u32,
    /// Repairs, also those that are too many to be listed.
    pub repairs: u32,
}

/// What came of one sheet.
#[derive(Clone, Debug, Serialize)]
pub struct SheetImport {
    /// File name.
    pub file: String,
    /// Sheet of a workbook.
    pub sheet: Option<String>,
    /// How its columns were taken.
    pub mapping: Mapping,
    /// What the rows state. Empty if the drafts went to a callback.
    pub drafts: Vec<Draft>,
    /// What a person has to correct.
    pub repairs: Vec<Repair>,
    /// What a person should know.
    pub findings: Vec<Finding>,
    /// How many rows fared how.
    pub counts: Counts,
    /// No column names the crag: the repair list gets one.
    pub adds_crag: bool,
}

impl SheetImport {
    /// Headings of the cells of each repair, for [`crate::write_repairs`].
    pub fn headings(&self) -> Vec<String> {
        let own = self.mapping.columns.iter().map(|c| c.heading.clone());
        own.chain(self.adds_crag.then(|| "Crag".to_owned())).collect()
    }
}

/// Reads a CSV or XLSX file: every sheet of it, or the one that `options` names. Only what is not `known`
/// becomes a draft, so that reading a file twice adds nothing.
///
/// Everything is kept in memory; for large files use [`read_batches`].
///
/// # Errors
/// [`ReadError`] for trouble with the whole file. Trouble with rows goes to the repairs.
pub fn read_file<'s, R: Read + Seek>(
    file: &str,
    reader: R,
    options: &Options,
    known: impl Into<Known<'s>>,
) -> Result<Vec<SheetImport>, ReadError> {
    let mut held: Vec<Vec<Draft>> = Vec::new();
    let mut imports = read_batches(file, reader, options, known, &mut |sheet, drafts| {
        if held.len() <= sheet {
            held.resize_with(sheet + 1, Vec::new);
        }
        held[sheet].extend(drafts);
    })?;
    for (import, drafts) in imports.iter_mut().zip(held) {
        import.drafts = drafts;
    }
    Ok(imports)
}

/// Reads one sheet: the one that `options` names, else the first that holds records.
///
/// # Errors
/// As [`read_file`].
pub fn read_sheet<'s, R: Read + Seek>(
    file: &str,
    reader: R,
    options: &Options,
    known: impl Into<Known<'s>>,
) -> Result<SheetImport, ReadError> {
    read_file(file, reader, options, known)?
        .into_iter()
        .next()
        .ok_or_else(|| ReadError::Empty { file: file.to_owned() })
}

/// Like [`read_file`], but gives the drafts to `take` in batches (number of the sheet, drafts), so that
/// memory does not grow with the number of drafts. Rows are compared by marks of a few bytes a cell; so
/// memory still grows slowly with the number of rows, which [`Limits`] bounds.
///
/// # Errors
/// As [`read_file`]. What was given to `take` before an error stands in no need of taking back if the
/// caller stores it only after success.
pub fn read_batches<'s, R: Read + Seek>(
    file: &str,
    mut reader: R,
    options: &Options,
    known: impl Into<Known<'s>>,
    take: &mut dyn FnMut(usize, Vec<Draft>),
) -> Result<Vec<SheetImport>, ReadError> {
    let known = known.into();
    if is_zip(file, &mut reader)? {
        let mut workbook = Workbook::open(file, reader, options.limits)?;
        let names = workbook.sheets();
        let wanted: Vec<String> = match &options.sheet {
            Some(sheet) => {
                let found = names.iter().find(|name| name.trim().eq_ignore_ascii_case(sheet.trim()));
                vec![found.cloned().ok_or_else(|| ReadError::NoSuchSheet {
                    file: file.to_owned(),
                    sheet: sheet.clone(),
                    names: names.join(", "),
                })?]
            }
            None => names,
        };
        let alone = wanted.len() == 1;
        let mut imports = Vec::new();
        let mut skipped = Vec::new();
        for name in &wanted {
            let at = imports.len();
            let mut open = Source::Workbook { workbook: &mut workbook, sheet: name };
            match read_source(file, Some(name), &mut open, options, known, &mut |drafts| take(at, drafts)) {
                Ok(import) => imports.push(import),
                // A sheet of explanations or charts among sheets of records.
                Err(
                    e
                    @ (ReadError::NoHeader { .. } | ReadError::UnknownKind { .. } | ReadError::Empty { .. }),
                ) if !alone => skipped.push((name.clone(), e)),
                Err(e) => return Err(e),
            }
        }
        let mut skipped = skipped.into_iter();
        let Some(last) = imports.last_mut() else {
            return Err(skipped.next().map_or(ReadError::Empty { file: file.to_owned() }, |(_, e)| e));
        };
        last.findings.extend(skipped.map(|(name, e)| Finding {
            text: format!("sheet {name} was left out: {e}"),
            sheet: Some(name),
            row: 0,
            rows: 0,
            column: None,
            cases: Vec::new(),
        }));
        return Ok(imports);
    }
    let encoding = detect(file, &mut reader)?;
    let delimiter = guess_delimiter(file, &mut reader, encoding, options.limits)?;
    let mut open = Source::Text { reader: &mut reader, encoding, delimiter, limits: options.limits };
    let mut import = read_source(file, None, &mut open, options, known, &mut |drafts| take(0, drafts))?;
    if encoding.encoding != encoding_rs::UTF_8 {
        import.findings.insert(
            0,
            Finding {
                sheet: None,
                row: 0,
                rows: 0,
                column: None,
                text: format!("the text was read as {}", encoding.encoding.name()),
                cases: Vec::new(),
            },
        );
    }
    Ok(vec![import])
}

/// Name of a sheet, none in a text file, and how its columns would be taken.
pub type Preview = (Option<String>, Result<Mapping, ReadError>);

/// How the columns of each sheet would be taken, without reading the rows.
///
/// # Errors
/// As [`read_file`].
pub fn preview<R: Read + Seek>(
    file: &str,
    mut reader: R,
    options: &Options,
) -> Result<Vec<Preview>, ReadError> {
    if is_zip(file, &mut reader)? {
        let mut workbook = Workbook::open(file, reader, options.limits)?;
        let mut all = Vec::new();
        for sheet in workbook.sheets() {
            let mut open = Source::Workbook { workbook: &mut workbook, sheet: &sheet };
            let mapping = sample(file, &mut open).and_then(|rows| mapping::guess(file, &rows, options));
            all.push((Some(sheet), mapping));
        }
        return Ok(all);
    }
    let encoding = detect(file, &mut reader)?;
    let delimiter = guess_delimiter(file, &mut reader, encoding, options.limits)?;
    let mut open = Source::Text { reader: &mut reader, encoding, delimiter, limits: options.limits };
    let rows = sample(file, &mut open)?;
    Ok(vec![(None, mapping::guess(file, &rows, options))])
}

/// True for the headings of a repair list as [`crate::write_repairs`] writes it.
pub fn is_repair_list(headings: &[String]) -> bool {
    headings.first().is_some_and(|heading| heading.trim() == REPAIR_HEADINGS[0])
}

/// The rows of a repair list that comes back, saved as CSV or as a workbook by whatever program, and where
/// each was copied from. Empty if the file is no repair list.
///
/// # Errors
/// As [`read_file`].
pub fn copied_rows<R: Read + Seek>(
    file: &str,
    mut reader: R,
    limits: Limits,
) -> Result<Vec<CopiedRow>, ReadError> {
    if is_zip(file, &mut reader)? {
        let mut workbook = Workbook::open(file, reader, limits)?;
        let Some(sheet) = workbook.sheets().into_iter().next() else { return Ok(Vec::new()) };
        return copied(file, &mut Source::Workbook { workbook: &mut workbook, sheet: &sheet });
    }
    let encoding = detect(file, &mut reader)?;
    let delimiter = guess_delimiter(file, &mut reader, encoding, limits)?;
    copied(file, &mut Source::Text { reader: &mut reader, encoding, delimiter, limits })
}

fn copied<R: Read + Seek>(file: &str, source: &mut Source<'_, R>) -> Result<Vec<CopiedRow>, ReadError> {
    let mut rows = source.rows(file)?;
    let mut row = Row::default();
    let mut copied = Vec::new();
    if !rows.next(&mut row)? || row.get(0) != REPAIR_HEADINGS[0] {
        return Ok(copied);
    }
    while rows.next(&mut row)? {
        if let Ok(original_row) = row.get(2).parse() {
            copied.push(CopiedRow {
                row: row.number,
                file: row.get(0).to_owned(),
                sheet: Some(row.get(1).to_owned()).filter(|sheet| !sheet.is_empty()),
                original_row,
            });
        }
    }
    Ok(copied)
}

fn is_zip<R: Read + Seek>(file: &str, reader: &mut R) -> Result<bool, ReadError> {
    let io = |e| ReadError::io(file, e);
    reader.seek(SeekFrom::Start(0)).map_err(io)?;
    let mut head = Vec::with_capacity(4);
    reader.by_ref().take(4).read_to_end(&mut head).map_err(io)?;
    reader.seek(SeekFrom::Start(0)).map_err(io)?;
    Ok(head == b"PK\x03\x04")
}

/// Rows that can be gone through more than once.
enum Source<'s, R: Read + Seek> {
    Text { reader: &'s mut R, encoding: TextEncoding, delimiter: u8, limits: Limits },
    Workbook { workbook: &'s mut Workbook<R>, sheet: &'s str },
}

impl<R: Read + Seek> Source<'_, R> {
    fn rows(&mut self, file: &str) -> Result<Box<dyn Rows + '_>, ReadError> {
        Ok(match self {
            Self::Text { reader, encoding, delimiter, limits } => {
                Box::new(Delimited::new(file, *reader, *encoding, *delimiter, *limits)?)
            }
            Self::Workbook { workbook, sheet } => Box::new(workbook.rows(sheet)?),
        })
    }
}

fn sample<R: Read + Seek>(file: &str, source: &mut Source<'_, R>) -> Result<Vec<Row>, ReadError> {
    let mut rows = source.rows(file)?;
    let mut sample = Vec::new();
    let mut row = Row::default();
    while sample.len() < SAMPLE && rows.next(&mut row)? {
        // The line by which some programs state the delimiter.
        if !(row.number == 1 && row.get(0).to_ascii_lowercase().starts_with("sep=")) {
            sample.push(row.clone());
        }
    }
    if sample.is_empty() {
        return Err(ReadError::Empty { file: file.to_owned() });
    }
    Ok(sample)
}

fn read_source<R: Read + Seek>(
    file: &str,
    sheet: Option<&str>,
    source: &mut Source<'_, R>,
    options: &Options,
    known: Known<'_>,
    take: &mut dyn FnMut(Vec<Draft>),
) -> Result<SheetImport, ReadError> {
    let rows = sample(file, source)?;
    let mapping = mapping::guess(file, &rows, options)?;
    let as_above: Vec<bool> =
        (0..mapping.columns.len()).map(|at| mapping::leaves_gaps(&rows, mapping.header_row, at)).collect();
    drop(rows);
    let mut findings = Vec::new();
    let orders = date_orders(file, sheet, source, &mapping, options, &mut findings)?;
    let mut assembler = Assembler::new(file, sheet, &mapping, &orders, &as_above, options, known);
    let mut rows = source.rows(file)?;
    let mut row = Row::default();
    while rows.next(&mut row)? {
        if row.number <= mapping.header_row {
            continue;
        }
        assembler.row(&row);
        if assembler.drafts.len() >= BATCH {
            take(std::mem::replace(&mut assembler.drafts, Vec::with_capacity(BATCH + 8)));
        }
    }
    assembler.finish();
    if !assembler.drafts.is_empty() {
        take(std::mem::take(&mut assembler.drafts));
    }
    findings.extend(assembler.findings.finish());
    if assembler.counts.rows == 0 {
        findings.push(Finding {
            sheet: sheet.map(str::to_owned),
            row: 0,
            rows: 0,
            column: None,
            text: "there is no row under the headings".to_owned(),
            cases: Vec::new(),
        });
    }
    Ok(SheetImport {
        file: file.to_owned(),
        sheet: sheet.map(str::to_owned),
        drafts: Vec::new(),
        repairs: assembler.repairs,
        findings,
        counts: assembler.counts,
        adds_crag: assembler.adds_crag,
        mapping,
    })
}

/// The order of day and month in each column of dates: as a person states it, else as the whole column
/// shows it, which is then told.
fn date_orders<R: Read + Seek>(
    file: &str,
    sheet: Option<&str>,
    source: &mut Source<'_, R>,
    mapping: &Mapping,
    options: &Options,
    findings: &mut Vec<Finding>,
) -> Result<Vec<Option<DateOrder>>, ReadError> {
    let mut orders: Vec<Option<DateOrder>> =
        mapping.columns.iter().map(|c| c.date_order.or(options.date_order)).collect();
    let mut open: Vec<(usize, OrderEvidence)> = mapping
        .columns
        .iter()
        .enumerate()
        .filter(|(at, c)| c.holds.is_some_and(|column| column.is_date()) && orders[*at].is_none())
        .map(|(at, _)| (at, OrderEvidence::default()))
        .collect();
    if open.is_empty() {
        return Ok(orders);
    }
    let mut rows = source.rows(file)?;
    let mut row = Row::default();
    while rows.next(&mut row)? {
        if row.number <= mapping.header_row {
            continue;
        }
        for (at, evidence) in &mut open {
            let text = row.get(*at);
            // Only numbers with signs between them are open.
            if text.len() >= 6
                && text.len() <= 20
                && text.as_bytes()[0].is_ascii_digit()
                && !text.as_bytes()[..4].iter().all(u8::is_ascii_digit)
            {
                evidence.add(scan(text, options.today), row.number);
            }
        }
    }
    // A column that is silent takes the order that the sheet's other columns of dates prove.
    let mut proven: Vec<DateOrder> = open.iter().filter_map(|(_, e)| e.order()).collect();
    proven.dedup();
    for (at, evidence) in open {
        let heading = mapping.columns[at].heading.clone();
        let order = evidence.order();
        let contradicts = evidence.day_first > 0 && evidence.month_first > 0;
        orders[at] = match (order, &proven[..]) {
            (Some(order), _) => Some(order),
            (None, [one]) if !contradicts => Some(*one),
            _ => None,
        };
        let text = match (order, orders[at]) {
            (Some(order), _) if evidence.open > 0 => {
                let first = evidence.day_first_row.max(evidence.month_first_row);
                Some(format!("dates are in the order {}: row {first} allows no other", order.name()))
            }
            (None, Some(order)) if evidence.open > 0 => {
                Some(format!("dates are taken in the order {}, as in the sheet's other dates", order.name()))
            }
            _ if contradicts => Some(format!(
                "the order of day and month changes within the column (row {} is day first, row {} month first)",
                evidence.day_first_row, evidence.month_first_row
            )),
            _ => None,
        };
        if let Some(text) = text {
            findings.push(Finding {
                sheet: sheet.map(str::to_owned),
                row: 0,
                rows: evidence.open,
                column: Some(heading),
                text,
                cases: Vec::new(),
            });
        }
    }
    Ok(orders)
}
