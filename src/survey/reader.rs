//! From bytes to a survey: decoding, records, header, then row by row.

use std::collections::BTreeMap;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::Arc;

use encoding_rs::Encoding;

use super::cell::Fault;
use super::cell::number::Decimals;
use super::column::Column;
use super::decoding::{self, Decoded};
use super::delimited::{self, Fields, QuoteFlaw};
use super::desk::Desk;
use super::record::{Enclosure, Survey};
use super::rows::{Onward, Rows};
use super::source::{Body, RecordIndex, index};
use super::workbook;
use crate::finding::{Finding, code};
use crate::limits::Limits;

/// How the bytes are to be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReadOptions {
    /// The file as the user named it; `-` is standard input.
    pub file: Arc<str>,
    /// What kind of file it is.
    pub form: Form,
    /// The encoding of a text file, where the user says it.
    pub encoding: Option<&'static Encoding>,
    /// A house's own headers, looked at before the survey's own.
    pub header_map: BTreeMap<String, Column>,
    /// What empty cells of a column mean.
    pub defaults: BTreeMap<Column, String>,
    /// How much is accepted.
    pub limits: Limits,
}

impl ReadOptions {
    /// The usual way to read a file of this name: form and encoding by content, no defaults.
    #[must_use]
    pub fn new(file: impl Into<Arc<str>>) -> Self {
        Self {
            file: file.into(),
            form: Form::Detect,
            encoding: None,
            header_map: BTreeMap::new(),
            defaults: BTreeMap::new(),
            limits: Limits::default(),
        }
    }
}

/// What kind of file a survey is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Form {
    /// Told by its first bytes.
    #[default]
    Detect,
    /// Delimited text.
    Text,
    /// A workbook, `.xlsx` or `.ods`.
    Workbook,
}

/// A survey once read, with what was wrong or doubtful in it, in the order of the file.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Reading {
    /// What could be understood.
    pub survey: Survey,
    /// What was found on the way.
    pub findings: Vec<Finding>,
}

/// Reads a survey. Never fails: with errors among the findings, the survey holds what could be understood.
#[must_use]
pub fn read(bytes: &[u8], options: &ReadOptions) -> Reading {
    let mut desk = Desk::new(Arc::clone(&options.file), options.limits.findings);
    let enclosures = if accepted(&mut desk, bytes, options) {
        match options.form {
            Form::Workbook => workbook::read(&mut desk, bytes, options),
            Form::Detect if decoding::is_archive(bytes) => workbook::read(&mut desk, bytes, options),
            Form::Detect | Form::Text => read_text(&mut desk, bytes, options),
        }
    } else {
        Vec::new()
    };
    let (source, findings) = desk.finish();
    Reading { survey: Survey { enclosures, source }, findings }
}

/// Whether the bytes are few enough, and of a kind that can be read.
fn accepted(desk: &mut Desk, bytes: &[u8], options: &ReadOptions) -> bool {
    let size = u64::try_from(bytes.len()).unwrap_or(u64::MAX);
    let limit = options.limits.file_bytes;
    if size > limit {
        let message = format!("the file has {size} bytes, more than the {limit} accepted");
        desk.file(
            Fault::new(code::FILE_TOO_LARGE, message)
                .help("split the survey, or raise `file_bytes` under [limits] in the job file"),
        );
        return false;
    }
    if let Some(kind) = decoding::foreign_file(bytes).filter(|_| options.encoding.is_none()) {
        let fault = Fault::new(code::FOREIGN_FILE, format!("the file is {kind}, not a survey"));
        desk.file(fault.help("save the survey as CSV in UTF-8, or as `.xlsx` or `.ods`"));
        return false;
    }
    true
}

fn read_text(desk: &mut Desk, bytes: &[u8], options: &ReadOptions) -> Vec<Enclosure> {
    let Decoded { text, assumed } = decoding::decode(bytes, options.encoding);
    let text = Arc::new(text);
    let (start, told) = separator_line(&text);
    let body = text.get(start..).unwrap_or_default();
    let separator = told.unwrap_or_else(|| delimited::separator(body.trim_start_matches(['\r', '\n'])));
    desk.source.body = Body::text(Arc::clone(&text), separator);
    let decimals = if separator == b',' { Decimals::Point } else { Decimals::PointOrComma };
    let mut rows = Rows::new(options, decimals, &text, assumed);
    TextRecords { text: &text, start, separator }.read(desk, &mut rows);
    rows.finish(desk)
}

/// Some spreadsheets begin a file with `sep=;`: where the text after it begins, and the separator it names.
fn separator_line(text: &str) -> (usize, Option<u8>) {
    let Some(rest) = text.get(..4).filter(|s| s.eq_ignore_ascii_case("sep=")).and(text.get(4..)) else {
        return (0, None);
    };
    let end = rest.find(['\r', '\n']).unwrap_or(rest.len());
    let ending = if rest.get(end..).is_some_and(|rest| rest.starts_with("\r\n")) { 2 } else { 1 };
    match rest.get(..end).map(str::as_bytes) {
        Some([separator @ (b',' | b';' | b'\t')]) => ((4 + end + ending).min(text.len()), Some(*separator)),
        Some(_) | None => (0, None),
    }
}

/// The records of a delimited text.
struct TextRecords<'a> {
    text: &'a str,
    start: usize,
    separator: u8,
}

impl TextRecords<'_> {
    fn read(&self, desk: &mut Desk, rows: &mut Rows<'_>) {
        let body = self.text.get(self.start..).unwrap_or_default();
        let mut reader = csv::ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .delimiter(self.separator)
            .from_reader(body.as_bytes());
        let mut places = RecordIndex::new(self.text, self.start);
        let mut record = csv::StringRecord::new();
        // Reading from memory that is valid UTF-8 cannot fail, so an error is the end.
        while reader.read_record(&mut record).unwrap_or(false) {
            let position = record.position().map_or(0, csv::Position::byte);
            let end = usize::try_from(reader.position().byte()).unwrap_or(usize::MAX).saturating_add(self.start);
            let place = places.record(usize::try_from(position).unwrap_or(usize::MAX).saturating_add(self.start));
            if record.iter().all(|cell| cell.trim().is_empty()) {
                continue;
            }
            desk.source.records.push(place);
            let raw = self.text.get(index(place.start)..end).unwrap_or_default();
            if !delimited::quotes_look_right(raw, self.separator) {
                self.report_quotes(desk, index(place.start));
            }
            if rows.record(desk, record.len(), |cell| record.get(cell), hash(raw.trim_end_matches(['\r', '\n'])))
                == Onward::Stop
            {
                break;
            }
        }
        if places.old_endings {
            let fault = Fault::new(code::OLD_LINE_ENDINGS, "lines of this file end with a lone carriage return");
            desk.file(fault.help("save it again with usual line endings"));
        }
    }

    /// Reports what is wrong with the quotes of the record just found.
    fn report_quotes(&self, desk: &mut Desk, start: usize) {
        let record = desk.source.records.len().saturating_sub(1);
        for (cell, field) in Fields::new(self.text, start, self.separator).enumerate() {
            let Some(flaw) = field.flaw else { continue };
            let (at, fault) = described(flaw);
            desk.place(fault, |source| Some(source.byte_place(record, cell, at..at + 1)));
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

/// A hash by which rows that are the same are found again; equal on every machine.
pub(super) fn hash(row: &(impl Hash + ?Sized)) -> u64 {
    let mut hasher = DefaultHasher::new();
    row.hash(&mut hasher);
    hasher.finish()
}
