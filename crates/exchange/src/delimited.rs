//! Rows of delimited text: commas, semicolons, tabs or bars between cells, quotes around them.
//!
//! A reader of our own, because it has to stop at a row that grows without end and to tell where a
//! quotation mark was left open. On well-formed input it gives what the csv crate gives (a property test).

use crate::encoding::{TextEncoding, Utf8Chunks};
use crate::row::{Row, Rows};
use crate::{Limits, ReadError};
use std::io::{Read, Seek};

/// Delimiters that are tried.
pub(crate) const DELIMITERS: [u8; 4] = [b',', b';', b'\t', b'|'];
/// Line ends in one quoted cell beyond which the quote counts as left open (judgement: no note in a
/// cell has so many lines).
const LINES_IN_CELL: usize = 200;

#[derive(Clone, Copy, PartialEq)]
enum State {
    CellStart,
    Plain,
    Quoted,
    /// A quote within quotes: the end, or half of a doubled one.
    QuoteInQuoted,
}

pub(crate) struct Delimited<'r, R> {
    file: String,
    chunks: Utf8Chunks<'r, R>,
    at: usize,
    delimiter: u8,
    limits: Limits,
    row: u32,
    after_carriage_return: bool,
    ended: bool,
}

impl<'r, R: Read + Seek> Delimited<'r, R> {
    pub(crate) fn new(
        file: &str,
        reader: &'r mut R,
        encoding: TextEncoding,
        delimiter: u8,
        limits: Limits,
    ) -> Result<Self, ReadError> {
        let chunks = Utf8Chunks::new(reader, encoding).map_err(|e| ReadError::io(file, e))?;
        Ok(Self {
            file: file.to_owned(),
            chunks,
            at: 0,
            delimiter,
            limits,
            row: 0,
            after_carriage_return: false,
            ended: false,
        })
    }

    /// One row into `bytes` and `ends`; false at the end of the file.
    fn read(&mut self, bytes: &mut Vec<u8>, ends: &mut Vec<usize>) -> Result<bool, ReadError> {
        let mut state = State::CellStart;
        let mut lines = 0;
        let mut anything = false;
        self.row += 1;
        loop {
            if self.at >= self.chunks.chunk().len() {
                self.chunks.advance().map_err(|e| ReadError::io(&self.file, e))?;
                self.at = 0;
                if self.chunks.chunk().is_empty() {
                    self.ended = true;
                    if state == State::Quoted {
                        return Err(self.open_quote());
                    }
                    if anything {
                        ends.push(bytes.len());
                    }
                    return Ok(anything);
                }
            }
            let chunk = self.chunks.chunk();
            while self.at < chunk.len() {
                let byte = chunk[self.at];
                // The second half of a line end of two characters.
                if self.after_carriage_return {
                    self.after_carriage_return = false;
                    if byte == b'\n' {
                        self.at += 1;
                        continue;
                    }
                }
                match state {
                    State::Quoted => {
                        let rest = &chunk[self.at..];
                        let run = rest.iter().position(|b| *b == b'"' || *b == b'\n').unwrap_or(rest.len());
                        bytes.extend_from_slice(&rest[..run]);
                        self.at += run;
                        if run < rest.len() {
                            self.at += 1;
                            if rest[run] == b'"' {
                                state = State::QuoteInQuoted;
                            } else {
                                bytes.push(b'\n');
                                lines += 1;
                            }
                        }
                        if lines > LINES_IN_CELL || bytes.len() > self.limits.row_bytes {
                            return Err(self.open_quote());
                        }
                        continue;
                    }
                    State::QuoteInQuoted if byte == b'"' => {
                        bytes.push(b'"');
                        self.at += 1;
                        state = State::Quoted;
                        continue;
                    }
                    State::CellStart if byte == b'"' => {
                        anything = true;
                        lines = 0;
                        self.at += 1;
                        state = State::Quoted;
                        continue;
                    }
                    _ => {}
                }
                if byte == self.delimiter {
                    anything = true;
                    ends.push(bytes.len());
                    if ends.len() >= self.limits.columns {
                        return Err(ReadError::TooManyColumns {
                            file: self.file.clone(),
                            row: self.row,
                            limit: self.limits.columns,
                        });
                    }
                    self.at += 1;
                    state = State::CellStart;
                } else if byte == b'\n' || byte == b'\r' {
                    self.after_carriage_return = byte == b'\r';
                    self.at += 1;
                    if anything {
                        ends.push(bytes.len());
                        return Ok(true);
                    }
                    // A blank row is counted and left out.
                    self.row += 1;
                } else {
                    anything = true;
                    state = State::Plain;
                    let delimiter = self.delimiter;
                    let rest = &chunk[self.at..];
                    let run = rest
                        .iter()
                        .position(|b| *b == delimiter || *b == b'\n' || *b == b'\r')
                        .unwrap_or(rest.len());
                    bytes.extend_from_slice(&rest[..run]);
                    self.at += run;
                    if bytes.len() > self.limits.row_bytes {
                        return Err(ReadError::RowTooLong {
                            file: self.file.clone(),
                            row: self.row,
                            limit: self.limits.row_bytes,
                        });
                    }
                }
            }
        }
    }

    fn open_quote(&self) -> ReadError {
        ReadError::UnbalancedQuote { file: self.file.clone(), row: self.row }
    }
}

impl<R: Read + Seek> Rows for Delimited<'_, R> {
    fn next(&mut self, row: &mut Row) -> Result<bool, ReadError> {
        loop {
            if self.ended {
                return Ok(false);
            }
            let (mut bytes, mut ends) = row.take();
            let read = self.read(&mut bytes, &mut ends);
            row.restore(bytes, ends);
            row.number = self.row;
            if !read? {
                return Ok(false);
            }
            if self.row > self.limits.rows {
                return Err(ReadError::TooManyRows { file: self.file.clone(), limit: self.limits.rows });
            }
            if !row.is_blank() {
                return Ok(true);
            }
        }
    }
}

/// The delimiter that splits the first rows most evenly into most cells; commas if none does.
pub(crate) fn guess_delimiter<R: Read + Seek>(
    file: &str,
    reader: &mut R,
    encoding: TextEncoding,
    limits: Limits,
) -> Result<u8, ReadError> {
    let mut best = (0.0, b',');
    let mut row = Row::default();
    for delimiter in DELIMITERS {
        let Ok(mut rows) = Delimited::new(file, reader, encoding, delimiter, limits) else { continue };
        let mut counts = Vec::new();
        while counts.len() < 60 {
            match rows.next(&mut row) {
                Ok(true) => counts.push(row.len()),
                _ => break,
            }
        }
        let Some(most) = counts.iter().copied().max_by_key(|n| counts.iter().filter(|c| *c == n).count() * n)
        else {
            continue;
        };
        let share = counts.iter().filter(|n| **n == most).count() as f64 / counts.len() as f64;
        let score = if most > 1 { share * (1.0 + (most as f64).ln()) } else { 0.0 };
        if score > best.0 {
            best = (score, delimiter);
        }
    }
    Ok(best.1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use encoding_rs::UTF_8;
    use proptest::prelude::*;
    use std::io::Cursor;

    fn rows(text: &str, delimiter: u8) -> Result<Vec<(u32, Vec<String>)>, ReadError> {
        let encoding = TextEncoding { encoding: UTF_8, mark: 0 };
        let mut source = Cursor::new(text.as_bytes());
        let mut reader = Delimited::new("t", &mut source, encoding, delimiter, Limits::default())?;
        let mut row = Row::default();
        let mut all = Vec::new();
        while reader.next(&mut row)? {
            all.push((row.number, row.cells().map(str::to_owned).collect()));
        }
        Ok(all)
    }

    #[test]
    fn rows_are_numbered_as_a_spreadsheet_does() {
        let all = rows("a,b\r\n\r\n\"x\ny\",2\n3/8\",\"1\"\"\"\r\n,\n4", b',').unwrap();
        let numbers: Vec<u32> = all.iter().map(|r| r.0).collect();
        assert_eq!(numbers, [1, 3, 4, 6]);
        assert_eq!(all[1].1, ["x\ny", "2"]);
        assert_eq!(all[2].1, ["3/8\"", "1\""]);
        assert!(matches!(rows("a\n\"b", b','), Err(ReadError::UnbalancedQuote { row: 2, .. })));
    }

    proptest! {
        /// What the csv crate writes is read back as its own reader reads it.
        #[test]
        fn as_the_csv_crate(table in proptest::collection::vec(proptest::collection::vec("[a-zé\"',;\\n ]{0,6}", 1..6), 1..8)) {
            let mut writer = csv::WriterBuilder::new().flexible(true).from_writer(Vec::new());
            for row in &table { writer.write_record(row).unwrap(); }
            let text = String::from_utf8(writer.into_inner().unwrap()).unwrap();
            let expected: Vec<Vec<String>> = csv::ReaderBuilder::new().has_headers(false).flexible(true)
                .from_reader(text.as_bytes()).records()
                .map(|r| r.unwrap().iter().map(|c| c.trim().to_owned()).collect::<Vec<_>>())
                .filter(|r| r.iter().any(|c| !c.is_empty())).collect();
            let read: Vec<Vec<String>> = rows(&text, b',').unwrap().into_iter().map(|r| r.1).collect();
            prop_assert_eq!(read, expected);
        }
    }
}
