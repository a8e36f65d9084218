//! Rows of an XLSX workbook, after a look at what it unpacks to.

use crate::row::{Row, Rows};
use crate::{Limits, ReadError};
use calamine::{Data, DataRef, ExcelDateTime, Reader, SheetType, SheetVisible, Xlsx, XlsxCellReader};
use std::fmt::Write as _;
use std::io::{Read, Seek, SeekFrom};

/// Unpacks every part without keeping it and refuses a workbook whose parts are more or larger than
/// `limits` allows, whatever sizes it declares.
pub(crate) fn guard<R: Read + Seek>(file: &str, reader: &mut R, limits: &Limits) -> Result<(), ReadError> {
    let damaged = |reason: String| ReadError::Workbook { file: file.to_owned(), reason };
    let too_large = |part: &str, limit| ReadError::UnpacksTooLarge {
        file: file.to_owned(),
        part: part.chars().take(80).collect(),
        limit,
    };
    reader.seek(SeekFrom::Start(0)).map_err(|e| ReadError::io(file, e))?;
    let mut archive = zip::ZipArchive::new(&mut *reader).map_err(|e| damaged(e.to_string()))?;
    if archive.len() > limits.workbook_parts {
        return Err(damaged(format!("it has {} parts", archive.len())));
    }
    let mut total = 0u64;
    let mut workbook = false;
    for index in 0..archive.len() {
        let mut part = archive.by_index(index).map_err(|e| damaged(e.to_string()))?;
        let name = part.name().map(|n| n.into_owned()).unwrap_or_default();
        workbook |= name.eq_ignore_ascii_case("xl/workbook.xml");
        let in_rows = name.to_ascii_lowercase().starts_with("xl/worksheets/");
        let limit = if in_rows { limits.workbook_bytes } else { limits.held_bytes };
        if part.size() > limit || total.saturating_add(part.size()) > limits.workbook_bytes {
            return Err(too_large(&name, limit));
        }
        let room = limit.min(limits.workbook_bytes - total);
        let unpacked = std::io::copy(&mut part.by_ref().take(room + 1), &mut std::io::sink())
            .map_err(|e| damaged(e.to_string()))?;
        if unpacked > room {
            return Err(too_large(&name, limit));
        }
        total += unpacked;
    }
    if !workbook {
        return Err(ReadError::NotASheet {
            file: file.to_owned(),
            what: "a compressed file without a workbook",
        });
    }
    Ok(())
}

/// An opened workbook.
pub(crate) struct Workbook<R> {
    file: String,
    xlsx: Xlsx<R>,
    limits: Limits,
}

impl<R: Read + Seek> Workbook<R> {
    /// Opens a workbook that [`guard`] has let through.
    pub(crate) fn open(file: &str, mut reader: R, limits: Limits) -> Result<Self, ReadError> {
        guard(file, &mut reader, &limits)?;
        reader.seek(SeekFrom::Start(0)).map_err(|e| ReadError::io(file, e))?;
        let xlsx = Xlsx::new(reader)
            .map_err(|e| ReadError::Workbook { file: file.to_owned(), reason: e.to_string() })?;
        Ok(Self { file: file.to_owned(), xlsx, limits })
    }

    /// Names of the sheets with rows, hidden ones too: what a group hides is still its record.
    pub(crate) fn sheets(&self) -> Vec<String> {
        self.xlsx
            .sheets_metadata()
            .iter()
            .filter(|sheet| sheet.typ == SheetType::WorkSheet && sheet.visible != SheetVisible::VeryHidden)
            .map(|sheet| sheet.name.clone())
            .collect()
    }

    pub(crate) fn rows(&mut self, sheet: &str) -> Result<WorkbookRows<'_, R>, ReadError> {
        let file = self.file.clone();
        let cells = self
            .xlsx
            .worksheet_cells_reader(sheet)
            .map_err(|e| ReadError::Workbook { file: file.clone(), reason: e.to_string() })?;
        Ok(WorkbookRows { file, cells, waiting: None, limits: self.limits, ended: false })
    }
}

/// Rows of one sheet.
pub(crate) struct WorkbookRows<'w, R: Read + Seek> {
    file: String,
    cells: XlsxCellReader<'w, R>,
    /// First cell of the next row.
    waiting: Option<(u32, u32, Data)>,
    limits: Limits,
    ended: bool,
}

impl<R: Read + Seek> Rows for WorkbookRows<'_, R> {
    fn next(&mut self, row: &mut Row) -> Result<bool, ReadError> {
        while !self.ended {
            row.clear();
            let mut number = None;
            let mut text = String::new();
            loop {
                let next = match self.waiting.take() {
                    Some(cell) => Some(cell),
                    None => self
                        .cells
                        .next_cell()
                        .map_err(|e| ReadError::Workbook { file: self.file.clone(), reason: e.to_string() })?
                        .map(|cell| {
                            let (r, c) = cell.get_position();
                            (r, c, owned(cell.get_value()))
                        }),
                };
                let Some((r, c, value)) = next else {
                    self.ended = true;
                    break;
                };
                if *number.get_or_insert(r) != r {
                    self.waiting = Some((r, c, value));
                    break;
                }
                let column = c as usize;
                if column >= self.limits.columns {
                    if matches!(value, Data::Empty) {
                        continue;
                    }
                    return Err(ReadError::TooManyColumns {
                        file: self.file.clone(),
                        row: r.saturating_add(1),
                        limit: self.limits.columns,
                    });
                }
                // A cell that comes twice or out of order keeps its first text.
                if column < row.len() {
                    continue;
                }
                while row.len() < column {
                    row.push("");
                }
                write_cell(&value, &mut text);
                row.push(&text);
            }
            let Some(r) = number else { break };
            row.number = r.saturating_add(1);
            if row.number > self.limits.rows {
                return Err(ReadError::TooManyRows { file: self.file.clone(), limit: self.limits.rows });
            }
            if !row.is_blank() {
                return Ok(true);
            }
        }
        Ok(false)
    }
}

fn owned(value: &DataRef<'_>) -> Data {
    match value {
        DataRef::SharedString(text) => Data::String((*text).to_owned()),
        other => Data::from(other.clone()),
    }
}

/// A cell as the text that a person would have written.
fn write_cell(value: &Data, text: &mut String) {
    text.clear();
    // Writing to a string does not fail.
    let _ = match value {
        Data::Empty => Ok(()),
        Data::Int(v) => write!(text, "{v}"),
        Data::Float(v) => write!(text, "{v}"),
        Data::Bool(v) => write!(text, "{}", if *v { "yes" } else { "no" }),
        Data::DateTime(v) if v.is_datetime() => write_date(v, text),
        Data::DateTime(v) => write!(text, "{}", v.as_f64()),
        Data::Error(error) => write!(text, "{error}"),
        Data::String(v) | Data::DateTimeIso(v) | Data::DurationIso(v) => {
            text.push_str(v);
            Ok(())
        }
    };
}

fn write_date(date: &ExcelDateTime, text: &mut String) -> std::fmt::Result {
    if !(0.0..3_000_000.0).contains(&date.as_f64()) {
        return write!(text, "{}", date.as_f64());
    }
    let (year, month, day, ..) = date.to_ymd_hms_milli();
    write!(text, "{year:04}-{month:02}-{day:02}")
}
