//! One cell of a file of text written anew, and everything else left byte for byte as its author wrote it.

use std::fmt;
use std::ops::Range;

use encoding_rs::{Encoding, UTF_16BE, UTF_16LE};

use super::decoding::{self, Decoded};
use super::delimited::{Fields, RawField};
use super::reader::layout;
use super::records;
use super::rows::is_hidden;
use super::source::{Body, Record, Source, index};

/// Why a cell is not corrected. Nothing is changed then.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Uncorrectable {
    /// The file is a workbook, whose form is not ours to keep.
    Workbook,
    /// The file has no such row.
    NoRow,
    /// The row has no such cell, and neither has the header.
    NoCell,
    /// The quotation marks of the row do not say where its cells end.
    Quotes,
    /// The cell does not hold what was to be corrected.
    Other {
        /// What it holds.
        holds: String,
    },
    /// The new text holds a character that nobody can see, or a line end.
    Hidden(char),
    /// The encoding of the file does not have a character of the new text.
    NotInEncoding(char),
    /// The file holds bytes that its encoding does not have, which would be lost.
    Bytes,
    /// The new text would not be read back as it was written.
    NotReadBack,
}

impl fmt::Display for Uncorrectable {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Workbook => f.write_str("a workbook is only looked at here; correct it in the program that made it"),
            Self::NoRow => f.write_str("the file has no such row any more"),
            Self::NoCell => f.write_str("the row has no such cell, and neither has the header"),
            Self::Quotes => f.write_str("the quotation marks of this row do not say where its cells end"),
            Self::Other { holds } => write!(f, "the cell holds `{holds}` now"),
            Self::Hidden(c) => write!(f, "the text holds the hidden character U+{:04X}", u32::from(*c)),
            Self::NotInEncoding(c) => write!(f, "the encoding of the file does not have the character `{c}`"),
            Self::Bytes => f.write_str("the file holds bytes that its encoding does not have, and they would be lost"),
            Self::NotReadBack => f.write_str("the text would not be read back as it was written"),
        }
    }
}

impl std::error::Error for Uncorrectable {}

/// The cell of a row to be corrected, and what it says before and after.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Correction {
    /// Number of the row, from 0, the header not counted.
    pub row: u32,
    /// Number of the cell, from 0.
    pub cell: usize,
    /// What it says now, quotation marks resolved.
    pub before: String,
    /// What it is to say.
    pub after: String,
}

impl Source {
    /// How many rows the file has, the header not counted.
    pub(crate) fn rows(&self) -> usize {
        self.records.len().saturating_sub(1)
    }

    /// The row that a spreadsheet shows for a row, from 1.
    pub(crate) fn shown_row(&self, row: u32) -> u32 {
        self.records.get(index(row) + 1).map_or(0, |record| record.row)
    }

    /// Whether the file is text, which alone can be corrected.
    pub(crate) const fn is_text(&self) -> bool {
        matches!(self.body, Body::Text { .. })
    }

    /// What the cells of a row say, quotation marks resolved.
    pub(crate) fn cells(&self, row: u32) -> Vec<String> {
        let Some(record) = self.records.get(index(row) + 1) else { return Vec::new() };
        match &self.body {
            Body::Text { text, separator, .. } => {
                let fields = Fields::new(text, index(record.start), *separator);
                fields.map(|field| content(text.get(field.range).unwrap_or_default())).collect()
            }
            Body::Sheet { text, ends } => {
                let end = self.records.get(index(row) + 2).map_or(self.end, |next| next.start);
                (record.start..end).map(|cell| super::source::sheet_text(text, ends, index(cell)).to_owned()).collect()
            }
        }
    }

    /// The bytes of the file with one cell corrected; `bytes` are those that it was read from, by `asked` if somebody said
    /// its encoding.
    ///
    /// # Errors
    /// [`Uncorrectable`].
    pub(crate) fn corrected(
        &self,
        bytes: &[u8],
        asked: Option<&'static Encoding>,
        correction: &Correction,
    ) -> Result<Vec<u8>, Uncorrectable> {
        let Body::Text { text, separator, .. } = &self.body else { return Err(Uncorrectable::Workbook) };
        let Correction { row, cell, before, after } = correction;
        if let Some(hidden) = after.chars().find(|c| c.is_control() || is_hidden(*c)) {
            return Err(Uncorrectable::Hidden(hidden));
        }
        let record = self.records.get(index(*row) + 1).ok_or(Uncorrectable::NoRow)?;
        let start = index(record.start);
        let (range, lacking) = self.room(text, (start, *separator), *cell)?;
        let raw = text.get(range.clone()).unwrap_or_default();
        let holds = content(raw);
        if holds != *before {
            return Err(Uncorrectable::Other { holds });
        }
        let written = written(after, *separator, raw.starts_with('"'));
        let separators = char::from(*separator).to_string().repeat(lacking);
        let parts = [text.get(..range.start), Some(&separators), Some(&written), text.get(range.end..)];
        let new: String = parts.into_iter().flatten().collect();
        let read = Fields::new(&new, start, *separator).nth(*cell).map(|field| field.range);
        if read.and_then(|range| new.get(range)).map(content).as_ref() != Some(after) {
            return Err(Uncorrectable::NotReadBack);
        }
        if !self.keeps_its_rows(text, &new, *separator, start) {
            return Err(Uncorrectable::NotReadBack);
        }
        encoded_alike(bytes, asked, text, &new)
    }

    /// Whether every row is still a row of its own: in a file with flawed quotation marks one more can swallow the rest, or
    /// the header be told apart by another separator. Rows behind the one that begins at `corrected` only move.
    fn keeps_its_rows(&self, old: &str, new: &str, separator: u8, corrected: usize) -> bool {
        let (start, told) = layout(new);
        let moved = |start: usize| if start <= corrected { start } else { start + new.len() - old.len() };
        let places = records::places(new, start, told);
        let is_kept = |(before, after): (&Record, &Record)| moved(index(before.start)) == index(after.start);
        told == separator && places.len() == self.records.len() && self.records.iter().zip(&places).all(is_kept)
    }

    /// The bytes of a cell, and how many separators it still lacks where the row ends before it.
    fn room(
        &self,
        text: &str,
        (start, separator): (usize, u8),
        cell: usize,
    ) -> Result<(Range<usize>, usize), Uncorrectable> {
        let mut fields = Fields::new(text, start, separator);
        let found: Vec<RawField> = fields.by_ref().collect();
        if found.iter().any(|field| field.flaw.is_some()) {
            return Err(Uncorrectable::Quotes);
        }
        match found.get(cell) {
            Some(field) => Ok((field.range.clone(), 0)),
            None if cell < self.headers.len() => Ok((fields.end()..fields.end(), cell + 1 - found.len())),
            None => Err(Uncorrectable::NoCell),
        }
    }
}

/// What a field says: without the quotation marks around it, and with one for two within it.
pub(super) fn content(raw: &str) -> String {
    let Some(inner) = raw.strip_prefix('"') else { return raw.to_owned() };
    let mut content = String::with_capacity(inner.len());
    let mut rest = inner.chars().peekable();
    while let Some(c) = rest.next() {
        if c != '"' {
            content.push(c);
        } else if rest.next_if_eq(&'"').is_some() {
            content.push('"');
        } else {
            content.extend(rest);
            break;
        }
    }
    content
}

/// A field that says this: in quotation marks where it was, or must be.
fn written(text: &str, separator: u8, was_quoted: bool) -> String {
    let separator = char::from(separator);
    let blank = text.starts_with([' ', '\t']) || text.ends_with([' ', '\t']);
    if was_quoted || blank || text.contains([separator, '"', '\r', '\n']) {
        format!("\"{}\"", text.replace('"', "\"\""))
    } else {
        text.to_owned()
    }
}

/// The new text in the encoding of the old one, behind the same mark. What the old bytes cannot be told back from is refused.
fn encoded_alike(
    bytes: &[u8],
    asked: Option<&'static Encoding>,
    old: &str,
    new: &str,
) -> Result<Vec<u8>, Uncorrectable> {
    let Decoded { text, .. } = decoding::decode(bytes.into(), asked);
    let encoding = decoding::told(bytes, asked);
    let body = encoded(encoding, old).map_err(|_| Uncorrectable::Bytes)?;
    if text != old || !bytes.ends_with(&body) {
        return Err(Uncorrectable::Bytes);
    }
    let mark = bytes.get(..bytes.len() - body.len()).unwrap_or_default();
    let bytes = [mark, &encoded(encoding, new).map_err(Uncorrectable::NotInEncoding)?].concat();
    // Where nobody says the encoding it is told by the bytes, and these are others now.
    if decoding::decode(bytes.as_slice().into(), asked).text == new {
        Ok(bytes)
    } else {
        Err(Uncorrectable::NotReadBack)
    }
}

/// Text in an encoding; the first character that it does not have. `encoding_rs` itself writes no UTF-16, by the standard
/// for the web.
fn encoded(encoding: &'static Encoding, text: &str) -> Result<Vec<u8>, char> {
    if encoding == UTF_16LE {
        return Ok(text.encode_utf16().flat_map(u16::to_le_bytes).collect());
    }
    if encoding == UTF_16BE {
        return Ok(text.encode_utf16().flat_map(u16::to_be_bytes).collect());
    }
    let (bytes, _, unmappable) = encoding.encode(text);
    if !unmappable {
        return Ok(bytes.into_owned());
    }
    let lacks = |c: &char| encoding.encode(c.encode_utf8(&mut [0; 4])).2;
    Err(text.chars().find(lacks).unwrap_or('\u{FFFD}'))
}

#[cfg(test)]
mod tests;
