//! A record file taken apart, line by line.

use std::sync::Arc;

use rayon::prelude::*;

use super::Entry;
use super::line::{self, COLUMNS, Fault, LineReader};
use crate::finding::{Finding, Place, code};

/// Announces UTF-8 to spreadsheets.
pub const MARK: &str = "\u{feff}";

/// Lines that one thread takes at a time.
const AT_ONCE: usize = 2_048;

/// So many lines that are not understood, if they are most, are no slips of a hand.
const MISTAKES: usize = 3;

/// A record once read.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Reading {
    /// The entries in the order of the file.
    pub entries: Vec<Entry>,
    /// What is wrong with the file.
    pub findings: Vec<Finding>,
    /// The last line, if it was cut off while it was written.
    pub torn: Option<Torn>,
    /// Where the next entry goes: bytes of the file that stay as they are.
    pub complete: u64,
    /// What must stand before the next entry: a header, a line end that somebody took away.
    pub before_next: String,
}

/// A line that was cut off while it was written. It was never acknowledged, so that nothing is lost with it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Torn {
    /// Its line, from 1.
    pub line: u32,
    /// What there is of it.
    pub text: String,
}

/// Whether bytes are those of a record, by their first line.
#[must_use]
pub fn is_record(bytes: &[u8]) -> bool {
    let body = bytes.strip_prefix(MARK.as_bytes()).unwrap_or(bytes);
    let first = body.split(|byte| *byte == b'\n').next().unwrap_or_default();
    is_header(first.strip_suffix(b"\r").unwrap_or(first))
}

/// Reads a record. Never fails: with errors among the findings, there is what could be understood. `file` is its name.
#[must_use]
pub fn read(bytes: &[u8], file: &str) -> Reading {
    let start = MARK.as_bytes();
    let head = format!("{MARK}{}", line::header());
    let begun = without_zeros(bytes);
    if head.as_bytes().starts_with(begun) && begun.len() < head.len() {
        // Nothing yet, or nothing but the beginning of the header.
        return Reading { before_next: head, ..Reading::default() };
    }
    let file: Arc<str> = file.into();
    let body = bytes.strip_prefix(start).unwrap_or(bytes);
    let (lines, last) = lines(body);
    let Some((_, entries)) = lines.split_first().filter(|(first, _)| is_header(first)) else {
        let message = format!("`{file}` is no record of this program: its first line does not name the columns of one");
        let help = "name another file; if a spreadsheet saved this one in another form, take it back from a copy";
        return Reading { findings: vec![Finding::new(code::NOT_A_RECORD, message).help(help)], ..Reading::default() };
    };
    let mut reading = Reading { complete: count(bytes.len() - last.len()), ..Reading::default() };
    reading.keep(entries, &file);
    reading.end(last, count(entries.len()) + 2, &file);
    reading.tell_of_other_form(&file);
    reading
}

impl Reading {
    /// Takes complete lines, the first of which is line 2.
    fn keep(&mut self, lines: &[&[u8]], file: &Arc<str>) {
        let taken: Vec<(Vec<Entry>, Vec<Finding>)> = lines
            .par_chunks(AT_ONCE)
            .enumerate()
            .map(|(chunk, lines)| {
                let mut reader = LineReader::default();
                let (mut entries, mut findings) = (Vec::with_capacity(lines.len()), Vec::new());
                for (number, bytes) in lines.iter().enumerate().filter(|(_, bytes)| !bytes.is_empty()) {
                    match entry(&mut reader, bytes) {
                        Ok(entry) => entries.push(entry),
                        Err(fault) => findings.push(finding(&fault, bytes, number + chunk * AT_ONCE + 2, file)),
                    }
                }
                (entries, findings)
            })
            .collect();
        for (entries, findings) in taken {
            self.entries.extend(entries);
            self.findings.extend(findings);
        }
    }

    /// Says what all the findings have in common, where most lines are not understood.
    fn tell_of_other_form(&mut self, file: &Arc<str>) {
        let is_mistake = |finding: &&Finding| finding.code == code::RECORD_LINE_NOT_UNDERSTOOD;
        let mistakes = self.findings.iter().filter(is_mistake).count();
        if mistakes >= MISTAKES && mistakes > self.entries.len() {
            let message = format!("most lines of `{file}` are not understood");
            let help = "a spreadsheet seems to have saved it in another form; take it back from a copy";
            self.findings.insert(0, Finding::new(code::NOT_A_RECORD, message).help(help));
        }
    }

    /// The next entry goes on a line of its own behind a last one that lacks its end.
    fn go_on_behind(&mut self, written: &[u8]) {
        self.complete += count(written.len());
        "\n".clone_into(&mut self.before_next);
    }

    /// Takes what stands behind the last line end: nothing, a whole entry whose line end an editor took away, or the
    /// beginning of one.
    fn end(&mut self, last: &[u8], line: u64, file: &Arc<str>) {
        if last.is_empty() {
            return;
        }
        let line = u32::try_from(line).unwrap_or(u32::MAX);
        let written = without_zeros(last);
        match entry(&mut LineReader::default(), written) {
            Ok(entry) => {
                self.entries.push(entry);
                self.go_on_behind(written);
            }
            // It has its version, so that it is whole, and only not understood: nothing may take its place.
            Err(fault @ (Fault::Later(_) | Fault::Cell { .. })) => {
                self.go_on_behind(written);
                self.findings.push(finding(&fault, written, usize::try_from(line).unwrap_or(usize::MAX), file));
            }
            Err(Fault::Incomplete) => {
                let text = String::from_utf8_lossy(written).into_owned();
                let place = place(file, line, "", &text);
                let message = format!("line {line} of the record was cut off while it was written, and is ignored");
                let help = "look whether what it tells happened, and record it again; the next entry takes its place";
                self.findings.push(Finding::new(code::RECORD_LINE_TORN, message).help(help).at(place));
                self.torn = Some(Torn { line, text });
            }
        }
    }
}

/// What was written: after a power cut a file may have its new length, and zeros instead of what was not yet on the disk.
fn without_zeros(bytes: &[u8]) -> &[u8] {
    let written = bytes.iter().rposition(|byte| *byte != 0).map_or(0, |last| last + 1);
    bytes.get(..written).unwrap_or(bytes)
}

/// The lines that have an end, without it, and what stands behind the last end.
fn lines(body: &[u8]) -> (Vec<&[u8]>, &[u8]) {
    let mut lines: Vec<&[u8]> = body.split(|byte| *byte == b'\n').collect();
    let last = lines.pop().unwrap_or_default();
    (lines.into_iter().map(|line| line.strip_suffix(b"\r").unwrap_or(line)).collect(), last)
}

/// A spreadsheet may have put its cells into quotation marks.
fn is_header(line: &[u8]) -> bool {
    let cells = std::str::from_utf8(line).unwrap_or_default().split(',');
    let plain = |cell: &str| cell.strip_prefix('"').and_then(|cell| cell.strip_suffix('"')).unwrap_or(cell).to_owned();
    cells.map(plain).eq(COLUMNS)
}

fn count(bytes: usize) -> u64 {
    u64::try_from(bytes).unwrap_or(u64::MAX)
}

fn entry(reader: &mut LineReader, bytes: &[u8]) -> Result<Entry, Fault> {
    reader.entry(std::str::from_utf8(bytes).map_err(|_| Fault::Incomplete)?)
}

fn finding(fault: &Fault, bytes: &[u8], line: usize, file: &Arc<str>) -> Finding {
    let text = String::from_utf8_lossy(bytes);
    let line = u32::try_from(line).unwrap_or(u32::MAX);
    match fault {
        Fault::Incomplete => {
            let message = format!("line {line} of the record is no whole entry");
            let help = "mend the line or take it out; a copy of the record may have it whole";
            Finding::new(code::RECORD_LINE_NOT_UNDERSTOOD, message).help(help).at(place(file, line, "", &text))
        }
        Fault::Later(version) => {
            let message =
                format!("line {line} of the record was written by a later version of noticewright ({version})");
            let help = "use that version for this record";
            Finding::new(code::RECORD_OF_LATER_VERSION, message).help(help).at(place(file, line, version, &text))
        }
        Fault::Cell { column, cell, wanted } => {
            let name = COLUMNS.get(*column).copied().unwrap_or_default();
            let message = format!("line {line} of the record is not understood: `{name}` is `{cell}`");
            let place = Place {
                column_name: name.to_owned(),
                address: u8::try_from(*column).map_or(String::new(), |c| format!("{}{line}", char::from(b'A' + c))),
                ..place(file, line, cell, &text)
            };
            Finding::new(code::RECORD_LINE_NOT_UNDERSTOOD, message).help(format!("write {wanted}")).at(place)
        }
    }
}

fn place(file: &Arc<str>, line: u32, cell: &str, text: &str) -> Place {
    let before = text.find(cell).and_then(|at| text.get(..at)).map_or(0, |before| before.chars().count());
    Place {
        file: Arc::clone(file),
        line,
        column: u32::try_from(before + 1).unwrap_or(1),
        column_name: String::new(),
        address: String::new(),
        cell: cell.to_owned(),
        line_text: text.to_owned(),
    }
}
