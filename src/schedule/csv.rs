//! The notices as CSV (RFC 4180, CRLF) that no spreadsheet calculates with, and that reads back unchanged.
//!
//! A spreadsheet takes a cell that begins with `=`, `+`, `-` or `@` for a formula, some also behind a blank, a tab or in the
//! wide forms of those signs (common practice). `=A1+B2-Q3` is a legitimate designation. So a cell that begins with any
//! number of `'` followed by one of these gets one `'` more, which [`read`] takes away again: exactly one, since every cell
//! that could be mistaken for a marked one is marked itself.
//!
//! The file begins with a byte order mark: without it spreadsheets take a CSV that is opened by a double click for text in
//! an 8-bit code page and garble every `°` and `–`. [`read`] leaves it away.

use std::io::{self, Write};

use super::column::{Listed, Value};

/// UTF-8 is announced by these bytes.
const MARK: &str = "\u{feff}";

/// Whether a spreadsheet might calculate a cell, or might if one `'` were taken from it.
fn needs_mark(cell: &str) -> bool {
    let bare = cell.trim_start_matches('\'');
    let sign = |c| matches!(c, '=' | '+' | '-' | '@' | '\u{ff1d}' | '\u{ff0b}' | '\u{ff0d}' | '\u{ff20}');
    bare.starts_with(['\t', '\r', '\n']) || bare.trim_start().starts_with(sign)
}

/// A cell as it is written.
#[must_use]
pub fn marked(cell: &str) -> String {
    if needs_mark(cell) { format!("'{cell}") } else { cell.to_owned() }
}

/// A cell as it was before it was written.
#[must_use]
pub fn unmarked(cell: &str) -> &str {
    cell.strip_prefix('\'').filter(|_| needs_mark(cell)).unwrap_or(cell)
}

/// Writes rows of one kind under their names; the answer is how many bytes it took.
///
/// # Errors
/// The error of the writer below.
pub fn write<R: Listed>(out: impl Write, rows: impl IntoIterator<Item = R>) -> io::Result<u64> {
    let columns = R::columns();
    let names: Vec<String> = columns.iter().map(|column| column.name.to_owned()).collect();
    let cells = rows.into_iter().map(|row| columns.iter().map(|column| words(&(column.value)(&row))).collect());
    write_cells(out, std::iter::once(names).chain(cells))
}

fn words(value: &Value<'_>) -> String {
    match value {
        Value::Text(words) => words.clone().into_owned(),
        Value::Number(number) => number.to_string(),
        Value::Nothing => String::new(),
    }
}

/// Writes rows of cells; the answer is how many bytes it took.
///
/// # Errors
/// The error of the writer below.
pub fn write_cells(out: impl Write, rows: impl IntoIterator<Item = Vec<String>>) -> io::Result<u64> {
    let mut counted = Counted { out, bytes: 0 };
    counted.write_all(MARK.as_bytes())?;
    let mut writer = csv::WriterBuilder::new();
    let writer = writer.terminator(csv::Terminator::CRLF).flexible(true).quote_style(csv::QuoteStyle::Necessary);
    let mut writer = writer.from_writer(&mut counted);
    for row in rows {
        writer.write_record(row.iter().map(|cell| marked(cell))).map_err(io::Error::from)?;
    }
    writer.flush()?;
    drop(writer);
    Ok(counted.bytes)
}

/// Reads what [`write()`] wrote: its rows, the first with the names of the columns.
///
/// # Errors
/// What is no CSV in UTF-8.
pub fn read(bytes: &[u8]) -> io::Result<Vec<Vec<String>>> {
    let bytes = bytes.strip_prefix(MARK.as_bytes()).unwrap_or(bytes);
    let mut reader = csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(bytes);
    let row = |record: Result<csv::StringRecord, csv::Error>| {
        Ok(record.map_err(io::Error::from)?.iter().map(|cell| unmarked(cell).to_owned()).collect())
    };
    reader.records().map(row).collect()
}

/// Counts what is written.
struct Counted<W> {
    out: W,
    bytes: u64,
}

impl<W: Write> Write for Counted<W> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let written = self.out.write(bytes)?;
        self.bytes += u64::try_from(written).unwrap_or(u64::MAX);
        Ok(written)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.out.flush()
    }
}

#[cfg(test)]
mod tests;
