//! Which characters the bytes of a text file are.

use crate::ReadError;
use encoding_rs::{Decoder, Encoding, UTF_8, UTF_16BE, UTF_16LE, WINDOWS_1252};
use std::io::{Read, Seek, SeekFrom};

/// Bytes read at once.
const CHUNK: usize = 64 * 1024;

/// What a text file is encoded in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct TextEncoding {
    pub encoding: &'static Encoding,
    /// Bytes of the mark at the start.
    pub mark: u64,
}

/// Looks through all of `reader` and tells its encoding: by the byte order mark; else UTF-16 where the
/// zero bytes of Latin text show it; else UTF-8 where every byte fits; else Windows-1252.
pub(crate) fn detect<R: Read + Seek>(file: &str, reader: &mut R) -> Result<TextEncoding, ReadError> {
    let io = |e| ReadError::io(file, e);
    reader.seek(SeekFrom::Start(0)).map_err(io)?;
    let mut chunk = vec![0; CHUNK];
    let mut count = fill(reader, &mut chunk).map_err(io)?;
    if count == 0 {
        return Err(ReadError::Empty { file: file.to_owned() });
    }
    let head = &chunk[..count];
    if let Some((encoding, mark)) = Encoding::for_bom(head) {
        return Ok(TextEncoding { encoding, mark: mark as u64 });
    }
    if let Some(what) = not_text(head) {
        return Err(ReadError::NotASheet { file: file.to_owned(), what });
    }
    let sample = &head[..head.len().min(4096) & !1];
    let zeros = |odd: usize| sample.iter().skip(odd).step_by(2).filter(|b| **b == 0).count() * 2;
    if sample.len() >= 4 {
        if zeros(1) * 10 > sample.len() * 4 && zeros(0) * 20 < sample.len() {
            return Ok(TextEncoding { encoding: UTF_16LE, mark: 0 });
        }
        if zeros(0) * 10 > sample.len() * 4 && zeros(1) * 20 < sample.len() {
            return Ok(TextEncoding { encoding: UTF_16BE, mark: 0 });
        }
    }
    // The whole file, chunk by chunk; a character cut by the chunk's end moves to the next one.
    let mut utf8 = true;
    let mut carried = 0;
    loop {
        let bytes = &chunk[..carried + count];
        if bytes.contains(&0) {
            return Err(ReadError::NotASheet { file: file.to_owned(), what: "binary data" });
        }
        let keep = match std::str::from_utf8(bytes) {
            Ok(_) => 0,
            Err(e) if e.error_len().is_none() => bytes.len() - e.valid_up_to(),
            Err(_) => {
                utf8 = false;
                0
            }
        };
        let total = bytes.len();
        chunk.copy_within(total - keep..total, 0);
        carried = keep;
        count = fill(reader, &mut chunk[carried..]).map_err(io)?;
        if count == 0 {
            break;
        }
    }
    let encoding = if utf8 && carried == 0 { UTF_8 } else { WINDOWS_1252 };
    Ok(TextEncoding { encoding, mark: 0 })
}

/// What the first bytes show to be no text.
fn not_text(head: &[u8]) -> Option<&'static str> {
    const MARKS: [(&[u8], &str); 9] = [
        (b"%PDF", "a PDF"),
        (b"\x89PNG", "a picture"),
        (b"\xff\xd8\xff", "a photo"),
        (b"GIF8", "a picture"),
        (b"\xd0\xcf\x11\xe0", "an old (.xls) or password-protected workbook"),
        (b"\x1f\x8b", "a compressed file"),
        (b"7z\xbc\xaf", "a compressed file"),
        (b"SQLite format 3", "a database"),
        (b"PK\x03\x04", "a compressed file"),
    ];
    MARKS.iter().find(|(mark, _)| head.starts_with(mark)).map(|(_, what)| *what)
}

/// Reads until `into` is full or the source ends.
fn fill<R: Read>(reader: &mut R, into: &mut [u8]) -> std::io::Result<usize> {
    let mut filled = 0;
    while filled < into.len() {
        match reader.read(&mut into[filled..]) {
            Ok(0) => break,
            Ok(count) => filled += count,
            Err(e) if e.kind() == std::io::ErrorKind::Interrupted => {}
            Err(e) => return Err(e),
        }
    }
    Ok(filled)
}

/// The text of a source as UTF-8, chunk by chunk.
pub(crate) struct Utf8Chunks<'r, R> {
    reader: &'r mut R,
    decoder: Decoder,
    raw: Vec<u8>,
    /// `raw[start..end]` waits to be decoded.
    start: usize,
    end: usize,
    ended: bool,
    text: Vec<u8>,
    length: usize,
}

impl<'r, R: Read + Seek> Utf8Chunks<'r, R> {
    pub(crate) fn new(reader: &'r mut R, from: TextEncoding) -> std::io::Result<Self> {
        reader.seek(SeekFrom::Start(from.mark))?;
        Ok(Self {
            reader,
            decoder: from.encoding.new_decoder_without_bom_handling(),
            raw: vec![0; CHUNK],
            start: 0,
            end: 0,
            ended: false,
            text: vec![0; CHUNK * 2],
            length: 0,
        })
    }

    /// Decodes the next chunk; empty at the end.
    pub(crate) fn advance(&mut self) -> std::io::Result<()> {
        self.length = 0;
        loop {
            if self.start == self.end && !self.ended {
                self.end = fill(self.reader, &mut self.raw)?;
                self.start = 0;
                self.ended = self.end < self.raw.len();
            }
            let (_, read, written, _) =
                self.decoder.decode_to_utf8(&self.raw[self.start..self.end], &mut self.text, false);
            self.start += read;
            self.length = written;
            if written > 0 || (self.ended && self.start == self.end) {
                return Ok(());
            }
        }
    }

    pub(crate) fn chunk(&self) -> &[u8] {
        &self.text[..self.length]
    }
}
