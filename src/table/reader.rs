//! From bytes to what the rows come to: decoding, records, header, then row by row.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::hash::{BuildHasher, Hash};
use std::sync::Arc;

use encoding_rs::Encoding;
use foldhash::quality::FixedState;

use super::cell::Fault;
use super::cell::number::Decimals;
use super::cells::RowCells;
use super::column::Heading;
use super::decoding::{self, Decoded};
use super::delimited;
use super::desk::{Aside, Desk};
use super::records::TextRecords;
use super::rows::{Onward, Rows};
use super::source::{Body, Source};
use super::workbook;
use crate::finding::{Finding, code};
use crate::limits::Limits;

/// How the bytes are to be read, with the columns that the file may have.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReadOptions<C> {
    /// The file as the user named it; `-` is standard input.
    pub file: Arc<str>,
    /// What kind of file it is.
    pub form: Form,
    /// The encoding of a text file, where the user says it.
    pub encoding: Option<&'static Encoding>,
    /// A house's own headers, looked at before the usual ones.
    pub header_map: BTreeMap<String, C>,
    /// What empty cells of a column mean.
    pub defaults: BTreeMap<C, String>,
    /// Names that read as several and are marked elsewhere as that of one thing, each with its mark: `DB-A/DB-B`, and
    /// `DB-A/DB-B (one board)`.
    pub ones: BTreeMap<String, String>,
    /// How much is accepted.
    pub limits: Limits,
}

impl<C: Heading> ReadOptions<C> {
    /// The usual way to read a file of this name: form and encoding by content, no defaults.
    #[must_use]
    pub fn new(file: impl Into<Arc<str>>) -> Self {
        Self {
            file: file.into(),
            form: Form::Detect,
            encoding: None,
            header_map: BTreeMap::new(),
            defaults: BTreeMap::new(),
            ones: BTreeMap::new(),
            limits: Limits::default(),
        }
    }

    /// The defaults that say something, but for the key, which every row must have of its own.
    pub(crate) fn usable_defaults(&self) -> Vec<(C, String)> {
        let usable = |(column, text): &(&C, &String)| **column != C::KEY && !text.trim().is_empty();
        self.defaults.iter().filter(usable).map(|(column, text)| (*column, text.clone())).collect()
    }
}

/// What a file of rows is stored as.
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

/// What the rows of one kind of file come to.
pub(crate) trait Table: Sized + Send {
    /// The columns of the file.
    type Column: Heading;
    /// What a record is understood by.
    type Reader: Send + Sync;
    /// What of a record can be understood without the others.
    type Row: Send;
    /// What is left once every row was read.
    type Product: Default;

    /// Begins a file whose numbers are written so.
    fn begin(options: &ReadOptions<Self::Column>, decimals: Decimals) -> (Self::Reader, Self);

    /// Understands one record whose cells can be what their author wrote, on any thread and in any order.
    fn row(reader: &Self::Reader, aside: &mut Desk, cells: &RowCells<'_, Self::Column>) -> Self::Row;

    /// Takes one record, in the order of the file; `said` is what was laid aside when it was understood.
    fn take(&mut self, desk: &mut Desk, cells: &RowCells<'_, Self::Column>, row: Self::Row, said: Vec<Aside>)
    -> Onward;

    /// Ends the file: what only all rows together show is reported.
    fn finish(self, desk: &mut Desk) -> Self::Product;
}

/// Reads a file of rows. Never fails: with errors among the findings, there is what could be understood.
pub(crate) fn read<T: Table>(
    bytes: Cow<'_, [u8]>,
    options: &ReadOptions<T::Column>,
) -> (T::Product, Source, Vec<Finding>) {
    let mut desk = Desk::new(Arc::clone(&options.file), options.limits.findings);
    let product = if accepted(&mut desk, &bytes, options) {
        match options.form {
            Form::Workbook => workbook::read::<T>(&mut desk, &bytes, options),
            Form::Detect if decoding::is_archive(&bytes) => workbook::read::<T>(&mut desk, &bytes, options),
            Form::Detect | Form::Text => read_text::<T>(&mut desk, bytes, options),
        }
    } else {
        T::Product::default()
    };
    let (source, findings) = desk.finish();
    (product, source, findings)
}

/// Whether the bytes are few enough, and of a kind that can be read.
fn accepted<C: Heading>(desk: &mut Desk, bytes: &[u8], options: &ReadOptions<C>) -> bool {
    let size = u64::try_from(bytes.len()).unwrap_or(u64::MAX);
    let limit = options.limits.file_bytes;
    if size > limit {
        let message = format!("the file has {size} bytes, more than the {limit} accepted");
        desk.file(
            Fault::new(code::FILE_TOO_LARGE, message)
                .help(format!("split the {}, or raise `file_bytes` under [limits] in the job file", C::FILE)),
        );
        return false;
    }
    if let Some(kind) = decoding::foreign_file(bytes).filter(|_| options.encoding.is_none()) {
        let fault = Fault::new(code::FOREIGN_FILE, format!("the file is {kind}, not a {}", C::FILE));
        desk.file(fault.help(format!("save the {} as CSV in UTF-8, or as `.xlsx` or `.ods`", C::FILE)));
        return false;
    }
    true
}

fn read_text<T: Table>(desk: &mut Desk, bytes: Cow<'_, [u8]>, options: &ReadOptions<T::Column>) -> T::Product {
    let Decoded { text, assumed } = decoding::decode(bytes, options.encoding);
    let text = Arc::new(text);
    let (start, separator) = layout(&text);
    desk.source_mut().body = Body::text(Arc::clone(&text), separator);
    let decimals = if separator == b',' { Decimals::Point } else { Decimals::PointOrComma };
    let mut rows = Rows::<T>::new(options, decimals, &text, assumed);
    TextRecords::new(&text, start, separator).read(desk, &mut rows);
    rows.finish(desk)
}

/// Where the rows of a text begin, and what separates their cells.
pub(super) fn layout(text: &str) -> (usize, u8) {
    let (start, told) = separator_line(text);
    let body = text.get(start..).unwrap_or_default();
    (start, told.unwrap_or_else(|| delimited::separator(body.trim_start_matches(['\r', '\n']))))
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

/// A hash by which rows that are the same are found again; equal on every machine.
pub(crate) fn hash(row: &(impl Hash + ?Sized)) -> u64 {
    FixedState::default().hash_one(row)
}
