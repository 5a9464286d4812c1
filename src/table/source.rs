//! Where everything stands in the user's file: line, character, and the address that a spreadsheet would show.

use std::ops::Range;
use std::sync::{Arc, OnceLock};

use super::column::Heading;
use super::delimited::{Fields, line_endings};
use crate::finding::Place;

/// A line that is longer than this is not kept with a finding: nobody could look at it.
const SHOWN_LINE_BYTES: usize = 16_384;

/// A cell that is longer than this is shortened where a finding shows it.
const SHOWN_CELL_CHARS: usize = 2_000;

/// Where a record begins.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Record {
    /// Byte of the text, or number of the cell for a spreadsheet.
    pub(crate) start: u32,
    /// Row that a spreadsheet shows for it, from 1: blank lines count, line breaks within a field do not.
    pub(crate) row: u32,
}

/// The file once decoded, with an index of its lines and records. Record 0 is the header.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Source {
    pub(crate) file: Arc<str>,
    pub(crate) headers: Vec<String>,
    /// The cell that holds each column, by the column's number.
    pub(crate) columns: Vec<Option<u16>>,
    /// The cells of the header that hold nothing: what stands below them belongs to no column.
    pub(crate) nameless: Vec<usize>,
    /// The columns that the file has, by number, with the cell that holds each.
    pub(crate) present: Vec<(usize, usize)>,
    pub(crate) records: Vec<Record>,
    /// Number of the cell behind the last record, for a spreadsheet.
    pub(crate) end: u32,
    pub(crate) body: Body,
}

/// What the records are cut from.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Body {
    /// Delimited text.
    Text { text: Arc<String>, lines: OnceLock<Vec<u32>>, separator: u8 },
    /// The cells of a spreadsheet, one after the other in one text, each known by where it ends.
    Sheet { text: Arc<String>, ends: Arc<Vec<u32>> },
}

impl Default for Body {
    fn default() -> Self {
        Self::text(Arc::default(), b',')
    }
}

impl Body {
    /// Delimited text. The index of its lines is made when the first place is asked for.
    pub(crate) fn text(text: Arc<String>, separator: u8) -> Self {
        Self::Text { text, lines: OnceLock::new(), separator }
    }
}

impl Source {
    /// The place of a cell of a record; record 0 is the header, and the cell need not exist.
    pub(crate) fn cell_place(&self, record: usize, cell: usize) -> Place {
        let mut place = match &self.body {
            Body::Text { text, separator, .. } => {
                let range = self.field(record, cell, text, *separator);
                self.text_place(text, range)
            }
            Body::Sheet { .. } => self.sheet_place(record, cell),
        };
        place.column_name = self.headers.get(cell).cloned().unwrap_or_default();
        place.address = self.address(record, cell);
        place
    }

    /// The place of a record as a whole: the first character of its first line.
    pub(crate) fn record_place(&self, record: usize) -> Place {
        Place { column_name: String::new(), cell: String::new(), ..self.cell_place(record, 0) }
    }

    /// The place of a byte of the text within a record, such as that of a quotation mark.
    pub(crate) fn byte_place(&self, record: usize, cell: usize, bytes: Range<usize>) -> Place {
        match &self.body {
            // The cell is not looked for again: a row may have as many as a file has bytes.
            Body::Text { text, .. } => Place {
                column_name: self.headers.get(cell).cloned().unwrap_or_default(),
                address: self.address(record, cell),
                ..self.text_place(text, bytes)
            },
            Body::Sheet { .. } => self.cell_place(record, cell),
        }
    }

    /// The place of a cell of the row with this number, which does not count the header; of the row, where the file
    /// has no such column.
    pub(crate) fn place(&self, row: u32, column: impl Heading) -> Place {
        match self.cell_of(column) {
            Some(cell) => self.cell_place(index(row) + 1, cell),
            None => self.row_place(row),
        }
    }

    /// The place of the row with this number, which does not count the header: the first character of its first line.
    pub(crate) fn row_place(&self, row: u32) -> Place {
        self.record_place(index(row) + 1)
    }

    /// The place of the file as a whole.
    pub(crate) fn file_place(&self) -> Place {
        Place {
            file: Arc::clone(&self.file),
            line: 1,
            column: 1,
            column_name: String::new(),
            address: String::new(),
            cell: String::new(),
            line_text: String::new(),
        }
    }

    /// The address that a spreadsheet shows for a cell: `F14`.
    pub(crate) fn address(&self, record: usize, cell: usize) -> String {
        format!("{}{}", letters(cell), self.row(record))
    }

    /// The cell of the file that holds a column, if the file has that column.
    pub(crate) fn cell_of(&self, column: impl Heading) -> Option<usize> {
        self.columns.get(column.index()).copied().flatten().map(usize::from)
    }

    fn row(&self, record: usize) -> u32 {
        self.records.get(record).map_or(1, |record| record.row)
    }

    fn start(&self, record: usize) -> usize {
        self.records.get(record).map_or(0, |record| index(record.start))
    }

    /// The bytes of a field; where the record is too short, the empty range at its end.
    fn field(&self, record: usize, cell: usize, text: &str, separator: u8) -> Range<usize> {
        let mut fields = Fields::new(text, self.start(record), separator);
        match fields.nth(cell) {
            Some(field) => field.range,
            None => fields.end()..fields.end(),
        }
    }

    fn text_place(&self, text: &str, range: Range<usize>) -> Place {
        let Body::Text { lines, .. } = &self.body else { return self.file_place() };
        let lines = lines.get_or_init(|| line_starts(text));
        let line = lines.partition_point(|start| index(*start) <= range.start).max(1);
        let start = lines.get(line - 1).map_or(0, |start| index(*start));
        let next = lines.get(line).map_or(text.len(), |next| index(*next));
        // A line that is too long to be shown is not looked through for its end.
        let shown = text.get(start..next).filter(|line| line.len() <= SHOWN_LINE_BYTES + 2).unwrap_or_default();
        let line_text = shown.trim_end_matches(['\r', '\n']);
        Place {
            line: number(line),
            column: number(text.get(start..range.start).unwrap_or_default().chars().count() + 1),
            cell: shortened(text.get(range).unwrap_or_default()),
            line_text: if line_text.len() <= SHOWN_LINE_BYTES { line_text.to_owned() } else { String::new() },
            ..self.file_place()
        }
    }

    fn sheet_place(&self, record: usize, cell: usize) -> Place {
        Place {
            line: self.row(record),
            column: number(cell + 1),
            cell: shortened(self.sheet_cell(record, cell)),
            ..self.file_place()
        }
    }

    fn sheet_cell(&self, record: usize, cell: usize) -> &str {
        let Body::Sheet { text, ends } = &self.body else { return "" };
        let position = self.start(record) + cell;
        let end = self.records.get(record + 1).map_or(self.end, |next| next.start);
        if position >= index(end) { "" } else { sheet_text(text, ends, position) }
    }
}

/// The text of the cell with this number.
pub(crate) fn sheet_text<'a>(text: &'a str, ends: &[u32], cell: usize) -> &'a str {
    let start = cell.checked_sub(1).and_then(|before| ends.get(before)).copied().unwrap_or(0);
    ends.get(cell).and_then(|end| text.get(index(start)..index(*end))).unwrap_or_default()
}

/// The bytes at which lines begin; a line ends at LF, CRLF or a lone CR.
fn line_starts(text: &str) -> Vec<u32> {
    let bytes = text.as_bytes();
    let mut starts = vec![0];
    for position in memchr::memchr2_iter(b'\n', b'\r', bytes) {
        if bytes.get(position..position + 2) != Some(b"\r\n") {
            starts.push(number(position + 1));
        }
    }
    starts
}

/// The letters of a spreadsheet column, counted from 0: `A`, `Z`, `AA`.
fn letters(column: usize) -> String {
    let mut letters = Vec::new();
    let mut rest = column + 1;
    while rest > 0 {
        rest -= 1;
        letters.push(char::from(b"ABCDEFGHIJKLMNOPQRSTUVWXYZ".get(rest % 26).copied().unwrap_or(b'?')));
        rest /= 26;
    }
    letters.iter().rev().collect()
}

fn shortened(cell: &str) -> String {
    match cell.char_indices().nth(SHOWN_CELL_CHARS) {
        Some((end, _)) => format!("{}…", cell.get(..end).unwrap_or_default()),
        None => cell.to_owned(),
    }
}

/// A count as it is kept: files are limited so that it fits.
pub(crate) fn number(count: usize) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX)
}

/// A kept count as an index.
pub(crate) fn index(number: u32) -> usize {
    usize::try_from(number).unwrap_or(usize::MAX)
}

/// Where the records of a text begin, found from the `csv` crate's own offsets.
pub(crate) struct RecordIndex<'a> {
    bytes: &'a [u8],
    begin: usize,
    row: u32,
    /// Whether a lone carriage return ended a record.
    pub(crate) old_endings: bool,
}

impl<'a> RecordIndex<'a> {
    /// An index of the records of a text from the byte `begin` on.
    pub(crate) fn new(text: &'a str, begin: usize) -> Self {
        Self { bytes: text.as_bytes(), begin, row: 0, old_endings: false }
    }

    /// The record that the reader found from `position` on, which may lie before blank lines or within a CRLF.
    pub(crate) fn record(&mut self, position: usize) -> Record {
        let within = position > self.begin && self.bytes.get(position - 1..=position) == Some(b"\r\n");
        let from = position + usize::from(within);
        let blanks = self.bytes.get(from..).unwrap_or_default().iter();
        let start = from + blanks.take_while(|byte| matches!(byte, b'\r' | b'\n')).count();
        self.old_endings |= start > self.begin && self.bytes.get(start - 1) == Some(&b'\r');
        self.row += 1 + line_endings(self.bytes.get(from..start).unwrap_or_default());
        Record { start: number(start), row: self.row }
    }
}
