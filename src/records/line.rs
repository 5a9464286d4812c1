//! An entry as one line of the file, and back: CSV (RFC 4180) with one line end an entry, so that a change of the file is a
//! change of lines. Cells that a spreadsheet would calculate are marked as in the label schedule's CSV.

use csv_core::{ReadRecordResult, Reader};

use super::{Condition, Entry, Event, Lasts, Print, Statement};
use crate::length::{Length, Size};
use crate::notice::Subject;
use crate::schedule::csv::{marked, unmarked};
use crate::sheets::parse_size;
use crate::standing::Date;
use crate::wording::one_line;

/// The columns, those first that a person looks for. `version` is last, so that a line that was cut off has none.
pub const COLUMNS: [&str; 27] = [
    "date",
    "event",
    "number",
    "revision",
    "condition",
    "by",
    "place",
    "photo",
    "note",
    "subject",
    "designation",
    "area",
    "position",
    "issued",
    "size",
    "format",
    "material",
    "process",
    "environment",
    "lasts",
    "file",
    "page_cell",
    "copies",
    "run",
    "fingerprint",
    "says",
    "version",
];

/// The version of a line. A line of a later one is not read by this program.
pub const VERSION: &str = "v1";

/// Why a line is no entry.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fault {
    /// It has not all of its cells, the last of which is the version.
    Incomplete,
    /// It was written by a later version of this program.
    Later(String),
    /// A cell holds what its column cannot.
    Cell {
        /// The column, counted from 0.
        column: usize,
        /// The cell as it stands.
        cell: String,
        /// What it should be.
        wanted: &'static str,
    },
}

/// The first line of a file, with its line end.
#[must_use]
pub fn header() -> String {
    COLUMNS.join(",") + "\n"
}

/// An entry as a line with its end. Line breaks within a text become blanks.
#[must_use]
pub fn written(entry: &Entry) -> String {
    let print = entry.print.as_deref();
    let of_print = |text: fn(&Print) -> String| print.map(text).unwrap_or_default();
    let cells: [String; COLUMNS.len()] = [
        entry.date.to_string(),
        entry.event.name().to_owned(),
        entry.number.clone(),
        entry.revision.clone(),
        entry.condition.map(Condition::name).unwrap_or_default().to_owned(),
        entry.by.clone(),
        entry.place.clone(),
        entry.photo.clone(),
        entry.note.clone(),
        of_print(|print| subject_name(print.subject).to_owned()),
        of_print(|print| print.designation.clone()),
        of_print(|print| print.area.clone()),
        of_print(|print| print.position.clone()),
        of_print(|print| print.issued.clone()),
        of_print(size_cell),
        of_print(|print| print.format.clone()),
        of_print(|print| print.material.clone()),
        of_print(|print| print.process.clone()),
        of_print(|print| print.environment.clone()),
        of_print(|print| print.lasts.cell()),
        of_print(|print| print.file.clone()),
        of_print(|print| page_cell(print.page, print.cell)),
        of_print(|print| print.copies.to_string()),
        of_print(|print| print.run.to_string()),
        entry.fingerprint.clone(),
        of_print(|print| print.says.cell()),
        VERSION.to_owned(),
    ];
    let cells: Vec<String> = cells.iter().map(|cell| quoted(&marked(one_line(cell).trim()))).collect();
    cells.join(",") + "\n"
}

fn quoted(cell: &str) -> String {
    if cell.contains([',', '"', ';', '\t']) { format!("\"{}\"", cell.replace('"', "\"\"")) } else { cell.to_owned() }
}

/// `page 3 cell 5`, which no spreadsheet takes for a time of day; nothing where the place is not known.
fn page_cell(page: u32, cell: u32) -> String {
    if page == 0 { String::new() } else { format!("page {page} cell {cell}") }
}

/// `105x74 capitals 3.5 sign 17.5`, in millimetres: what was not kept is left away.
fn size_cell(print: &Print) -> String {
    let named =
        |name: &str, height: Option<Length>| height.map(|height| format!(" {name} {height}")).unwrap_or_default();
    let Size { width, height } = print.size;
    format!("{width}x{height}{}{}", named(CAPITALS, print.letters), named(SIGN, print.sign))
}

/// What [`size_cell`] wrote, in its form alone.
fn parse_size_cell(cell: &str) -> Option<(Size, Option<Length>, Option<Length>)> {
    let mut words = cell.split(' ');
    let size = parse_size(words.next()?)?;
    let (mut letters, mut sign) = (None, None);
    while let Some(name) = words.next() {
        let height: f64 = words.next()?.parse().ok().filter(|height| *height > 0.0 && *height < HIGHEST)?;
        let slot = match name {
            CAPITALS if letters.is_none() && sign.is_none() => &mut letters,
            SIGN if sign.is_none() => &mut sign,
            _ => return None,
        };
        *slot = Some(Length::mm(height));
    }
    Some((size, letters, sign))
}

/// Before the heights that the cell of the size holds.
const CAPITALS: &str = "capitals";
const SIGN: &str = "sign";

/// No letter of a notice is as high, in mm.
const HIGHEST: f64 = 10_000.0;

/// The word of a subject, as the file has it.
#[must_use]
pub const fn subject_name(subject: Subject) -> &'static str {
    match subject {
        Subject::Enclosure => "enclosure",
        Subject::Device => "isolator",
        Subject::Standing => "standing notice",
    }
}

/// Takes lines apart, one after the other, with the same room for their cells.
pub struct LineReader {
    reader: Reader,
    bytes: Vec<u8>,
    ends: Vec<usize>,
}

impl Default for LineReader {
    fn default() -> Self {
        Self { reader: Reader::new(), bytes: vec![0; 1 << 12], ends: vec![0; COLUMNS.len() + 8] }
    }
}

impl LineReader {
    /// The entry of a line without its line end.
    ///
    /// # Errors
    /// [`Fault`].
    pub fn entry(&mut self, line: &str) -> Result<Entry, Fault> {
        let cells = match plain_cells(line) {
            Some(cells) => cells,
            None => {
                let cells = self.cells(line).ok_or(Fault::Incomplete)?;
                let version = cells.last().copied().unwrap_or_default();
                check_version(version)?;
                cells.try_into().map_err(|_| Fault::Incomplete)?
            }
        };
        let [.., version] = cells;
        check_version(version)?;
        understood(cells.map(unmarked))
    }

    /// The cells of a line; `None` if they are no text or more than any version has.
    fn cells(&mut self, line: &str) -> Option<Vec<&str>> {
        // Cells are never longer than the line that holds them.
        if self.bytes.len() < line.len() + 1 {
            self.bytes.resize(line.len() + 1, 0);
        }
        self.reader.reset();
        let (result, taken, written, mut cells) =
            self.reader.read_record(line.as_bytes(), &mut self.bytes, &mut self.ends);
        // A lone return ends a line of CSV, and what stands behind it must not be lost without a word.
        if line.get(taken..)?.contains(|other: char| other != '\r') {
            return None;
        }
        if result == ReadRecordResult::InputEmpty {
            let (bytes, ends) = (self.bytes.get_mut(written..)?, self.ends.get_mut(cells..)?);
            let (result, _, _, more) = self.reader.read_record(&[], bytes, ends);
            if result != ReadRecordResult::Record {
                return None;
            }
            cells += more;
        }
        let mut start = 0;
        let mut found = Vec::with_capacity(cells);
        for end in self.ends.get(..cells)? {
            found.push(std::str::from_utf8(self.bytes.get(start..*end)?).ok()?);
            start = *end;
        }
        Some(found)
    }
}

/// The cells of a line without quotation marks, as nearly every one is; `None` if it has some, or more or fewer cells than
/// an entry.
fn plain_cells(line: &str) -> Option<[&str; COLUMNS.len()]> {
    if [b'"', b'\r'].iter().any(|byte| line.as_bytes().contains(byte)) {
        return None;
    }
    let mut cells = [""; COLUMNS.len()];
    let mut rest = line.split(',');
    for cell in &mut cells {
        *cell = rest.next()?;
    }
    rest.next().is_none().then_some(cells)
}

/// A line ends with the version of the program that wrote it.
fn check_version(version: &str) -> Result<(), Fault> {
    let is_version = version.strip_prefix('v').is_some_and(|number| number.parse::<u32>().is_ok());
    match version {
        VERSION => Ok(()),
        later if is_version => Err(Fault::Later(later.to_owned())),
        _ => Err(Fault::Incomplete),
    }
}

fn understood(cells: [&str; COLUMNS.len()]) -> Result<Entry, Fault> {
    let [date, event, number, revision, condition, by, place, photo, note, ..] = cells;
    let fault = |name: &str, wanted| {
        let column = COLUMNS.iter().position(|column| *column == name).unwrap_or_default();
        Fault::Cell { column, cell: cells.get(column).copied().unwrap_or_default().to_owned(), wanted }
    };
    let is_iso = date.len() == 10 && date.as_bytes().get(4) == Some(&b'-');
    let date = Date::parse(date).filter(|_| is_iso).ok_or_else(|| fault("date", "a day such as 2026-11-24"))?;
    let event = Event::named(event)
        .ok_or_else(|| fault("event", "`printed`, `fixed`, `inspected`, `replaced`, `withdrawn` or `destroyed`"))?;
    if number.is_empty() {
        return Err(fault("number", "the number of a notice"));
    }
    let found = Condition::named(condition).filter(|_| event == Event::Inspected);
    if found.is_none() && (event == Event::Inspected || !condition.is_empty()) {
        return Err(fault(
            "condition",
            "at an inspection `good`, `faded`, `damaged`, `missing` or `wrong`, else nothing",
        ));
    }
    let print = if event == Event::Printed { Some(Box::new(print(&cells, fault)?)) } else { None };
    let [.., fingerprint, _, _] = cells;
    Ok(Entry {
        revision: revision.to_owned(),
        fingerprint: fingerprint.to_owned(),
        condition: found,
        by: by.to_owned(),
        place: place.to_owned(),
        photo: photo.to_owned(),
        note: note.to_owned(),
        print,
        ..Entry::new(date, event, number)
    })
}

fn print(cells: &[&str; COLUMNS.len()], fault: impl Fn(&str, &'static str) -> Fault) -> Result<Print, Fault> {
    let [_, _, _, _, _, _, _, _, _, subject, designation, area, position, issued, size, format, material, process, ..] =
        *cells;
    let [.., environment, lasts, file, page_cell, copies, run, _, says, _] = *cells;
    let subject = [Subject::Enclosure, Subject::Device, Subject::Standing]
        .into_iter()
        .find(|one| subject_name(*one) == subject)
        .ok_or_else(|| fault("subject", "`enclosure`, `isolator` or `standing notice`"))?;
    let (size, letters, sign) = parse_size_cell(size)
        .ok_or_else(|| fault("size", "millimetres such as 105x74, or `105x74 capitals 3.5 sign 17.5`"))?;
    let lasts = Lasts::parse(lasts)
        .ok_or_else(|| fault("lasts", "years such as `5 to 7 years` or `10 years and more`, or nothing"))?;
    let (page, cell) =
        parse_page_cell(page_cell).ok_or_else(|| fault("page_cell", "a place such as `page 3 cell 5`, or nothing"))?;
    let number = |text: &str| text.parse::<u32>().ok().filter(|number| *number > 0);
    let copies = number(copies).ok_or_else(|| fault("copies", "how many were printed of it, such as 1"))?;
    let run = number(run).ok_or_else(|| fault("run", "the number of the printing, such as 1"))?;
    let says = Statement::parse(says).ok_or_else(|| fault("says", "what was printed, as this program writes it"))?;
    Ok(Print {
        subject,
        designation: designation.to_owned(),
        area: area.to_owned(),
        position: position.to_owned(),
        issued: issued.to_owned(),
        size,
        letters,
        sign,
        format: format.to_owned(),
        material: material.to_owned(),
        process: process.to_owned(),
        environment: environment.to_owned(),
        lasts,
        file: file.to_owned(),
        page,
        cell,
        copies,
        run,
        says,
    })
}

/// A place such as `page 3 cell 5`; nothing is no place.
fn parse_page_cell(text: &str) -> Option<(u32, u32)> {
    let number = |text: &str| text.parse::<u32>().ok().filter(|number| *number > 0);
    match text.split(' ').collect::<Vec<_>>().as_slice() {
        [""] => Some((0, 0)),
        ["page", page, "cell", cell] => Some((number(page)?, number(cell)?)),
        _ => None,
    }
}
