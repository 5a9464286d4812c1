//! The records of a delimited text: found one after the other, read many at a time, taken in their order.

use std::ops::Range;
use std::sync::Arc;

use rayon::prelude::*;

use super::cell::Fault;
use super::delimited::{self, Fields, QuoteFlaw};
use super::desk::Desk;
use super::reader::{Table, hash};
use super::rows::{Onward, Read, Rows, Taken, Understanding};
use super::source::{Record, RecordIndex, Source, index};
use crate::finding::code;

/// So many records are found at a time.
const TOGETHER: usize = 4_096;

/// At first so many, and then four times as many each time: until some are found, nothing else can be done.
const FIRST_TOGETHER: usize = 256;

/// Of those, so many are read at a time, and then taken while as many again are read.
const TAKEN_TOGETHER: usize = 512;

/// Fewer records than this are not worth a thread of their own.
const FEWEST_TOGETHER: usize = 16;

/// No more are read in one go, so that at the end of what is read at a time no thread waits while another has many left.
const MOST_TOGETHER: usize = 32;

/// The records of a delimited text.
pub(super) struct TextRecords<'a> {
    text: Text<'a>,
    finder: Finder<'a>,
}

/// The text, for all threads.
#[derive(Clone, Copy)]
struct Text<'a> {
    whole: &'a str,
    separator: u8,
}

/// Finds the records one after the other.
struct Finder<'a> {
    start: usize,
    reader: csv::Reader<&'a [u8]>,
    places: RecordIndex<'a>,
}

/// A record that was found.
#[derive(Default)]
struct Found {
    cells: csv::StringRecord,
    place: Record,
    /// Its number in the source, once it is noted there.
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
        let finder = Finder { start, reader, places: RecordIndex::new(text, start) };
        Self { text: Text { whole: text, separator }, finder }
    }

    /// Reads all of them: while some are read, those before them are taken and those after them are found.
    pub(super) fn read<T: Table>(mut self, desk: &mut Desk, rows: &mut Rows<'_, T>) {
        let Self { text, finder } = &mut self;
        let (mut found, mut following) = (Vec::new(), Vec::new());
        let mut onward = Onward::Next;
        if finder.find(&mut found, 1) > 0 {
            note(desk, &mut found);
            onward = text.header(desk, rows, &found);
        }
        let mut together = FIRST_TOGETHER;
        let mut count = if onward == Onward::Next { finder.find(&mut found, together) } else { 0 };
        while onward == Onward::Next && count > 0 {
            let these = found.get_mut(..count).unwrap_or_default();
            note(desk, these);
            let these = &*these;
            together = TOGETHER.min(together * 4);
            (onward, count) =
                rayon::join(|| text.read_and_take(desk, rows, these), || finder.find(&mut following, together));
            std::mem::swap(&mut found, &mut following);
        }
        if finder.places.old_endings {
            let fault = Fault::new(code::OLD_LINE_ENDINGS, "lines of this file end with a lone carriage return");
            desk.file(fault.help("save it again with usual line endings"));
        }
    }
}

/// Notes in the source where records are, and in each its number there.
fn note(desk: &mut Desk, found: &mut [Found]) {
    let source = desk.source_mut();
    for one in found {
        one.record = source.records.len();
        source.records.push(one.place);
    }
}

/// Where the records of a whole text begin.
pub(super) fn places(text: &str, start: usize, separator: u8) -> Vec<Record> {
    let (mut records, mut found) = (TextRecords::new(text, start, separator), Vec::new());
    let mut places = Vec::new();
    while records.finder.find(&mut found, 1) > 0 {
        places.extend(found.first().map(|found| found.place));
    }
    places
}

impl Finder<'_> {
    /// Finds the next records, at most so many; says how many were found.
    fn find(&mut self, found: &mut Vec<Found>, most: usize) -> usize {
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
            next.place = self.places.record(byte(next.cells.position().map_or(0, csv::Position::byte)));
            if next.cells.iter().all(|cell| cell.trim().is_empty()) {
                continue;
            }
            next.raw = index(next.place.start)..byte(self.reader.position().byte());
            count += 1;
        }
        count
    }
}

impl Text<'_> {
    fn header<T: Table>(&self, desk: &mut Desk, rows: &mut Rows<'_, T>, found: &[Found]) -> Onward {
        let Some(first) = found.first() else { return Onward::Stop };
        if !delimited::quotes_look_right(self.raw(first), self.separator) {
            self.report_quotes(desk, first);
        }
        rows.header(desk, first.cells.len(), |cell| first.cells.get(cell))
    }

    /// Reads the records found and takes them in their order: while some are taken, those after them are read.
    fn read_and_take<T: Table>(&self, desk: &mut Desk, rows: &mut Rows<'_, T>, found: &[Found]) -> Onward {
        let (reading, taken) = rows.parts();
        let mut parts = found.chunks(TAKEN_TOGETHER);
        let mut these = parts.next().unwrap_or_default();
        let mut read = self.read(reading, &Arc::clone(&desk.source), these);
        while !these.is_empty() {
            let (source, following) = (Arc::clone(&desk.source), parts.next().unwrap_or_default());
            let (last, next) = rayon::join(
                || self.take(desk, (reading, &mut *taken), read, these),
                || self.read(reading, &source, following),
            );
            drop(source);
            if let Some(last) = last {
                desk.source_mut().records.truncate(last + 1);
                return Onward::Stop;
            }
            (these, read) = (following, next);
        }
        Onward::Next
    }

    /// Reads the records found, on as many threads as there are; says of each whether its quotes look right.
    fn read<'f, T: Table>(
        &self,
        reading: &Understanding<'f, T>,
        source: &Arc<Source>,
        found: &'f [Found],
    ) -> Vec<(Read<'f, T>, bool)> {
        let all = found.par_iter().with_min_len(FEWEST_TOGETHER).with_max_len(MOST_TOGETHER);
        all.map_init(|| Desk::aside(Arc::clone(source)), |aside, one| self.read_one(reading, aside, one)).collect()
    }

    fn read_one<'f, T: Table>(
        &self,
        reading: &Understanding<'f, T>,
        aside: &mut Desk,
        found: &'f Found,
    ) -> (Read<'f, T>, bool) {
        let raw = self.raw(found);
        let hash = hash(raw.trim_end_matches(['\r', '\n']));
        let read = reading.read(aside, found.record, found.cells.len(), |cell| found.cells.get(cell), hash);
        (read, delimited::quotes_look_right(raw, self.separator))
    }

    /// Takes records in their order; gives the number of the one that was the last, if no further one is to be taken.
    fn take<T: Table>(
        &self,
        desk: &mut Desk,
        (reading, taken): (&Understanding<'_, T>, &mut Taken<T>),
        read: Vec<(Read<'_, T>, bool)>,
        found: &[Found],
    ) -> Option<usize> {
        for ((read, is_quoted_right), one) in read.into_iter().zip(found) {
            if !is_quoted_right {
                self.report_quotes(desk, one);
            }
            if taken.take(reading, desk, read) == Onward::Stop {
                return Some(one.record);
            }
        }
        None
    }

    fn raw(&self, found: &Found) -> &str {
        self.whole.get(found.raw.clone()).unwrap_or_default()
    }

    /// Reports what is wrong with the quotes of a record.
    fn report_quotes(&self, desk: &mut Desk, found: &Found) {
        for (cell, field) in Fields::new(self.whole, found.raw.start, self.separator).enumerate() {
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
