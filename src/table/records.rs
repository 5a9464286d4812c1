//! The records of a delimited text: found one after the other, read many at a time.

use std::ops::Range;
use std::sync::Arc;

use rayon::prelude::*;

use super::cell::Fault;
use super::delimited::{self, Fields, QuoteFlaw};
use super::desk::Desk;
use super::reader::{Table, hash};
use super::rows::{Onward, Read, Rows};
use super::source::{RecordIndex, index};
use crate::finding::code;

/// So many records are read at a time.
const TOGETHER: usize = 2_048;

/// Fewer records than this are not worth a thread of their own.
const FEWEST_TOGETHER: usize = 64;

/// The records of a delimited text.
pub(super) struct TextRecords<'a> {
    text: &'a str,
    start: usize,
    separator: u8,
    reader: csv::Reader<&'a [u8]>,
    places: RecordIndex<'a>,
}

/// A record that was found.
#[derive(Default)]
struct Found {
    cells: csv::StringRecord,
    /// Its number in the source.
    record: usize,
    /// The bytes of the text that it covers, its line ending among them.
    raw: Range<usize>,
}

impl Found {
    /// Room for a record as large as this one and somewhat larger: the records of a file are much alike.
    fn as_large_as(other: Option<&Self>) -> Self {
        let (bytes, cells) = other.map_or((0, 0), |other| (other.cells.as_slice().len(), other.cells.len()));
        Self { cells: csv::StringRecord::with_capacity(bytes + bytes / 2, cells), ..Self::default() }
    }
}

impl<'a> TextRecords<'a> {
    /// The records from the byte `start` on.
    pub(super) fn new(text: &'a str, start: usize, separator: u8) -> Self {
        let body = text.get(start..).unwrap_or_default();
        let mut reader = csv::ReaderBuilder::new();
        let reader = reader.has_headers(false).flexible(true).delimiter(separator).from_reader(body.as_bytes());
        Self { text, start, separator, reader, places: RecordIndex::new(text, start) }
    }

    /// Reads all of them.
    pub(super) fn read<T: Table>(mut self, desk: &mut Desk, rows: &mut Rows<'_, T>) {
        let mut found = Vec::new();
        let mut onward = Onward::Next;
        if self.find(desk, &mut found, 1) > 0 {
            onward = self.header(desk, rows, &found);
        }
        let together = if rows.is_one_by_one() { 1 } else { TOGETHER };
        while onward == Onward::Next {
            let count = self.find(desk, &mut found, together);
            if count == 0 {
                break;
            }
            onward = self.take(desk, rows, found.get(..count).unwrap_or_default());
        }
        if self.places.old_endings {
            let fault = Fault::new(code::OLD_LINE_ENDINGS, "lines of this file end with a lone carriage return");
            desk.file(fault.help("save it again with usual line endings"));
        }
    }

    fn header<T: Table>(&self, desk: &mut Desk, rows: &mut Rows<'_, T>, found: &[Found]) -> Onward {
        let Some(first) = found.first() else { return Onward::Stop };
        if !delimited::quotes_look_right(self.raw(first), self.separator) {
            self.report_quotes(desk, first);
        }
        rows.header(desk, first.cells.len(), |cell| first.cells.get(cell))
    }

    /// Finds the next records, at most so many, and notes where they are; says how many were found.
    fn find(&mut self, desk: &mut Desk, found: &mut Vec<Found>, most: usize) -> usize {
        let source = desk.source_mut();
        let mut count = 0;
        while count < most {
            if found.len() == count {
                found.push(Found::as_large_as(found.last()));
            }
            let Some(next) = found.get_mut(count) else { break };
            // Reading from memory that is valid UTF-8 cannot fail, so an error is the end.
            if !self.reader.read_record(&mut next.cells).unwrap_or(false) {
                break;
            }
            let byte = |byte: u64| usize::try_from(byte).unwrap_or(usize::MAX).saturating_add(self.start);
            let place = self.places.record(byte(next.cells.position().map_or(0, csv::Position::byte)));
            if next.cells.iter().all(|cell| cell.trim().is_empty()) {
                continue;
            }
            next.raw = index(place.start)..byte(self.reader.position().byte());
            next.record = source.records.len();
            source.records.push(place);
            count += 1;
        }
        count
    }

    /// Reads the records found, on as many threads as there are, and takes them in their order.
    fn take<T: Table>(&self, desk: &mut Desk, rows: &mut Rows<'_, T>, found: &[Found]) -> Onward {
        let (source, reading) = (&desk.source, &*rows);
        let all = found.par_iter().with_min_len(FEWEST_TOGETHER);
        let all = all.map_init(|| Desk::aside(Arc::clone(source)), |aside, one| self.read_one(reading, aside, one));
        let read: Vec<_> = all.collect();
        for ((read, is_quoted_right), one) in read.into_iter().zip(found) {
            if !is_quoted_right {
                self.report_quotes(desk, one);
            }
            if rows.take(desk, read) == Onward::Stop {
                desk.source_mut().records.truncate(one.record + 1);
                return Onward::Stop;
            }
        }
        Onward::Next
    }

    /// Reads one record; says whether its quotes look right.
    fn read_one<'f, T: Table>(&self, rows: &Rows<'_, T>, aside: &mut Desk, found: &'f Found) -> (Read<'f, T>, bool) {
        let raw = self.raw(found);
        let hash = hash(raw.trim_end_matches(['\r', '\n']));
        let read = rows.read(aside, found.record, found.cells.len(), |cell| found.cells.get(cell), hash);
        (read, delimited::quotes_look_right(raw, self.separator))
    }

    fn raw(&self, found: &Found) -> &'a str {
        self.text.get(found.raw.clone()).unwrap_or_default()
    }

    /// Reports what is wrong with the quotes of a record.
    fn report_quotes(&self, desk: &mut Desk, found: &Found) {
        for (cell, field) in Fields::new(self.text, found.raw.start, self.separator).enumerate() {
            let Some(flaw) = field.flaw else { continue };
            let (at, fault) = described(flaw);
            desk.place(fault, |source| Some(source.byte_place(found.record, cell, at..at + 1)));
        }
    }
}

/// The byte at which a flaw lies, and what is said of it.
fn described(flaw: QuoteFlaw) -> (usize, Fault) {
    match flaw {
        QuoteFlaw::Unclosed(at) => (
            at,
            Fault::new(code::UNCLOSED_QUOTE, "this quotation mark opens a cell and none closes it")
                .help("close it, or double it if it belongs to the text"),
        ),
        QuoteFlaw::TextAfter(at) => (
            at,
            Fault::new(code::TEXT_AFTER_QUOTE, "text follows the quotation mark that closes the cell")
                .help("quote the whole cell, and double the quotation marks that belong to the text"),
        ),
        QuoteFlaw::SpaceBefore(at) => (
            at,
            Fault::new(
                code::SPACE_BEFORE_QUOTE,
                "a blank stands before the quotation mark, so it does not open the cell",
            )
            .help("take the blank away"),
        ),
    }
}
