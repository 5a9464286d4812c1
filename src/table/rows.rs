//! Record after record: what is wrong with its shape and its characters, then its row.

use std::collections::{HashMap, HashSet};
use std::sync::Arc;

use foldhash::fast::RandomState;

use super::cell::Fault;
use super::cell::damage::damage;
use super::cell::number::Decimals;
use super::cells::RowCells;
use super::column::Heading;
use super::desk::{Aside, Desk};
use super::header;
use super::names::Names;
use super::reader::{ReadOptions, Table};
use super::shown::Otherwise;
use super::source::{index, number};
use crate::finding::code;

/// The columns of every kind of file that name boards and devices which other rows or files describe.
const NAMING: [&str; 4] = ["fed_from", "in_step_with", "isolator", "upstream_isolator"];

/// The rows of a file: what all of them are understood by, and what they have come to so far.
pub(super) struct Rows<'a, T: Table> {
    reading: Understanding<'a, T>,
    taken: Taken<T>,
}

/// What every record is understood by, on any thread, whichever others were read before it.
pub(super) struct Understanding<'a, T: Table> {
    options: &'a ReadOptions<T::Column>,
    reader: T::Reader,
    /// True where some character of the file could be one that no cell may hold.
    suspect: bool,
    /// True where the encoding was assumed, so that every character beyond ASCII is doubtful.
    assumed: bool,
    /// Cells, by record and cell, that hold a formula whose value is not stored.
    unvalued: HashSet<(usize, usize)>,
    /// Cells, by record and cell, of which a workbook shows something else than it stores.
    otherwise: HashMap<(usize, usize), Otherwise>,
    /// Cells, by record and cell, that a workbook stores as numbers and that may have been dates; `None` for a text, which
    /// tells of none.
    numbers: Option<HashSet<(usize, usize)>>,
}

/// What the records have come to that were taken so far, in their order.
pub(super) struct Taken<T: Table> {
    header_read: bool,
    /// Texts of which it was said that they are doubtful.
    doubtful: HashSet<String>,
    first_of: HashMap<u64, u32, RandomState>,
    /// Cells without a name in the header of which it was said that they hold something.
    nameless: HashSet<usize>,
    table: T,
    names: Names<T::Column>,
}

/// What of a record can be understood without the others, and what is said of it when its turn comes.
pub(super) struct Read<'c, T: Table> {
    /// Large, and passed from hand to hand.
    cells: Box<RowCells<'c, T::Column>>,
    hash: u64,
    /// What the record speaks of.
    key: &'c str,
    of_shape: Vec<Aside>,
    /// The text of each cell of which is said that its encoding was assumed, in that order.
    doubtful: Vec<String>,
    of_cells: Vec<Aside>,
    row: T::Row,
    of_row: Vec<Aside>,
}

/// Whether to go on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Onward {
    /// The next record, please.
    Next,
    /// Nothing further can be understood, or is accepted.
    Stop,
}

impl<'a, T: Table> Rows<'a, T> {
    /// Begins to read the rows of a file with this whole text.
    pub(super) fn new(options: &'a ReadOptions<T::Column>, decimals: Decimals, text: &str, assumed: bool) -> Self {
        let (reader, table) = T::begin(options, decimals);
        let reading = Understanding {
            options,
            reader,
            suspect: !is_plain(text),
            assumed,
            unvalued: HashSet::new(),
            otherwise: HashMap::new(),
            numbers: None,
        };
        let taken = Taken {
            header_read: false,
            doubtful: HashSet::new(),
            first_of: HashMap::default(),
            nameless: HashSet::new(),
            table,
            names: Names::new(),
        };
        Self { reading, taken }
    }

    /// Notes which cells, by record and cell, hold a formula whose value is not stored.
    pub(super) fn without_value(&mut self, cells: Vec<(usize, usize)>) {
        self.reading.unvalued = cells.into_iter().collect();
    }

    /// Notes which cells, by record and cell, a workbook stores as numbers that may have been dates.
    pub(super) fn stored_as_numbers(&mut self, cells: Vec<(usize, usize)>) {
        self.reading.numbers = Some(cells.into_iter().collect());
    }

    /// Notes of which cells, by record and cell, a workbook shows something else than it stores.
    pub(super) fn shown_otherwise(&mut self, cells: HashMap<(usize, usize), Otherwise>) {
        self.reading.otherwise = cells;
    }

    /// What records are understood by, and what those taken came to: some can be understood while those before are taken.
    pub(super) fn parts(&mut self) -> (&Understanding<'a, T>, &mut Taken<T>) {
        (&self.reading, &mut self.taken)
    }

    /// Reads the record last noted in the source: its cells, and a hash of all that it holds.
    pub(super) fn record<'c>(
        &mut self,
        desk: &mut Desk,
        width: usize,
        cell: impl Fn(usize) -> Option<&'c str>,
        hash: u64,
    ) -> Onward
    where
        'a: 'c,
    {
        if !self.taken.header_read {
            return self.header(desk, width, cell);
        }
        let record = desk.source.records.len().saturating_sub(1);
        let mut aside = Desk::aside(Arc::clone(&desk.source));
        let read = self.reading.read(&mut aside, record, width, cell, hash);
        drop(aside);
        self.taken.take(&self.reading, desk, read)
    }

    /// Reads the header, which comes before everything else.
    pub(super) fn header<'c>(
        &mut self,
        desk: &mut Desk,
        width: usize,
        cell: impl Fn(usize) -> Option<&'c str>,
    ) -> Onward {
        self.taken.header_read = true;
        let options = self.reading.options;
        let cells: Vec<_> = (0..width).map(|position| cell(position).unwrap_or_default().to_owned()).collect();
        let understood = header::read(desk, &cells, &options.header_map, options.limits.columns);
        if understood { Onward::Next } else { Onward::Stop }
    }

    /// What the rows came to, once every record was read.
    pub(super) fn finish(self, desk: &mut Desk) -> T::Product {
        let Taken { header_read, names, table, .. } = self.taken;
        if !header_read {
            desk.file(
                Fault::new(code::EMPTY_FILE, "the file holds nothing").help(format!(
                    "`noticewright new` writes a starter {} with every column explained",
                    T::Column::FILE
                )),
            );
        }
        if header_read && desk.source.records.len() == 1 && desk.source.cell_of(T::Column::KEY).is_some() {
            let fault = Fault::new(code::NO_ROWS, format!("the {} has a header and no rows", T::Column::FILE));
            desk.record(0, fault.help(format!("add a row for {}", T::Column::ROW)));
        }
        names.report(desk);
        table.finish(desk)
    }
}

/// Whether every character of a text is a visible one of ASCII, a blank, a tab or the end of a line.
fn is_plain(text: &str) -> bool {
    let plain = |byte: u8| (b' '..0x7F).contains(&byte) || matches!(byte, b'\t' | b'\r' | b'\n');
    // No end before that of a block: so the bytes of one are looked at many at a time.
    text.as_bytes().chunks(4_096).all(|block| block.iter().fold(true, |all, byte| all & plain(*byte)))
}

impl<'a, T: Table> Understanding<'a, T> {
    /// Reads of a record what can be understood without the others; what is said of it is laid aside.
    pub(super) fn read<'c>(
        &self,
        aside: &mut Desk,
        record: usize,
        width: usize,
        cell: impl Fn(usize) -> Option<&'c str>,
        hash: u64,
    ) -> Read<'c, T>
    where
        'a: 'c,
    {
        let mut cells = Box::new(RowCells::new(&aside.source, record, width, cell));
        self.check_shape(aside, &mut cells);
        let (of_shape, key) = (aside.laid_aside(), cells.text(T::Column::KEY));
        let doubtful = self.check_cells(aside, &mut cells);
        let of_cells = aside.laid_aside();
        if !self.options.ones.is_empty() {
            let names = T::Column::ALL.iter().filter(|column| NAMING.contains(&column.name()));
            names.for_each(|column| cells.mark(*column, &self.options.ones));
        }
        let row = T::row(&self.reader, aside, &cells);
        Read { cells, hash, key, of_shape, doubtful, of_cells, row, of_row: aside.laid_aside() }
    }

    /// A record with more cells than the header is displaced; one with fewer may have lost some that are needed.
    fn check_shape(&self, desk: &mut Desk, cells: &mut RowCells<'_, T::Column>) {
        let headers = desk.source.headers.len();
        if let Some(surplus) = cells.surplus {
            let message = format!("the row has {} cells and the header {headers}", cells.width);
            let fault = Fault::new(code::ROW_TOO_LONG, message)
                .help("a text that holds the separator must stand in quotation marks");
            cells.report_at(desk, Some(surplus), fault);
            return;
        }
        if cells.width >= headers {
            return;
        }
        let is_lost = |column: &&T::Column| desk.source.cell_of(**column).is_some_and(|cell| cell >= cells.width);
        let lost: Vec<_> = T::Column::ALL.iter().filter(|column| column.needed()).filter(is_lost).collect();
        if lost.is_empty() {
            return;
        }
        let names: Vec<_> = lost.iter().map(|column| format!("`{}`", column.name())).collect();
        let message =
            format!("the row has {} cells and the header {headers}, so {} is missing", cells.width, names.join(", "));
        let fault = Fault::new(code::ROW_TOO_SHORT, message).help("add the missing cells, empty ones too");
        cells.report_at(desk, Some(cells.width.saturating_sub(1)), fault);
        lost.into_iter().for_each(|column| cells.refuse(*column));
    }

    /// Takes out the cells that cannot be what their author wrote. Gives the texts whose encoding was assumed.
    fn check_cells(&self, desk: &mut Desk, cells: &mut RowCells<'_, T::Column>) -> Vec<String> {
        let mut doubtful = Vec::new();
        for column in cells.filled() {
            let text = cells.text(column);
            if text.is_empty() {
                continue;
            }
            let unvalued = self.lacks_value(desk, cells.record, column).then(|| formula(text));
            let fault = unvalued.or_else(|| self.differs(desk, cells.record, column, text));
            let fault = fault.or_else(|| self.unreadable(text, &mut doubtful)).or_else(|| self.damage(text, column));
            let Some(fault) = fault else { continue };
            let spoils = fault.code != code::ASSUMED_ENCODING && fault.code != code::PERHAPS_A_DATE;
            cells.report(desk, column, fault);
            if spoils {
                cells.refuse(column);
            }
        }
        doubtful
    }

    /// The damage that a cell shows. What a workbook stores as a text was never taken for a date of two-figure parts: it
    /// stores dates as numbers.
    fn damage(&self, text: &str, column: T::Column) -> Option<Fault> {
        damage(text, column).filter(|fault| fault.code != code::PERHAPS_A_DATE || self.numbers.is_none())
    }

    fn lacks_value(&self, desk: &Desk, record: usize, column: T::Column) -> bool {
        !self.unvalued.is_empty()
            && desk.source.cell_of(column).is_some_and(|cell| self.unvalued.contains(&(record, cell)))
    }

    /// What is seen of a cell holds for whoever filled it in, and not what is stored behind it.
    fn differs(&self, desk: &Desk, record: usize, column: T::Column, text: &str) -> Option<Fault> {
        if self.otherwise.is_empty() || column.is_free() {
            return None;
        }
        match self.otherwise.get(&(record, desk.source.cell_of(column)?))? {
            Otherwise::Lettered if column.is_designation() || column.is_worded() => {
                let message = format!("the sheet shows letters here that a number format adds, and `{text}` is stored");
                let help = "format the column as text, then type the cell again as it is seen";
                Some(Fault::new(code::SHOWN_OTHERWISE, message).help(help))
            }
            // A unit behind a figure is usual.
            Otherwise::Lettered => None,
            Otherwise::Struck => {
                let message = format!("words of `{text}` are struck through in the sheet");
                Some(Fault::new(code::STRUCK_THROUGH, message).help("delete what no longer holds"))
            }
        }
    }

    fn unreadable(&self, text: &str, doubtful: &mut Vec<String>) -> Option<Fault> {
        let limit = self.options.limits.cell_chars;
        if text.len() > limit && text.chars().count() > limit {
            let message = format!("the cell has more than the {limit} characters accepted");
            return Some(
                Fault::new(code::CELL_TOO_LONG, message)
                    .help("shorten it, look for a quotation mark that is not closed, or raise `cell_chars` under [limits] in the job file"),
            );
        }
        if !self.suspect {
            return None;
        }
        if let Some(found) = text.chars().find(|c| is_hidden(*c)) {
            let message = format!("the cell holds the hidden character U+{:04X}", u32::from(found));
            return Some(Fault::new(code::HIDDEN_CHARACTER, message).help("delete it, or type the cell again"));
        }
        if text.contains('\u{FFFD}') {
            let fault =
                Fault::new(code::CHARACTER_LOST, "a character of this cell was lost when the file was converted");
            return Some(fault.help("type the cell again, or name the file's encoding with `--encoding`"));
        }
        if self.assumed && !text.is_ascii() {
            doubtful.push(text.to_owned());
            let message = format!("`{text}` is read as Windows-1252, which the file does not say");
            let help = "look whether it reads right; save the file as UTF-8, or name its encoding with `--encoding`";
            return Some(Fault::new(code::ASSUMED_ENCODING, message).help(help));
        }
        None
    }
}

impl<T: Table> Taken<T> {
    /// Takes the next record.
    pub(super) fn take(&mut self, by: &Understanding<'_, T>, desk: &mut Desk, read: Read<'_, T>) -> Onward {
        let Read { cells, hash, key, of_shape, doubtful, of_cells, row, of_row } = read;
        let most = by.options.limits.rows;
        if cells.record > most {
            let message = format!("the {} has more rows than the {most} accepted", T::Column::FILE);
            desk.record(
                cells.record,
                Fault::new(code::TOO_MANY_ROWS, message)
                    .help("split it, or raise `rows` under [limits] in the job file"),
            );
            return Onward::Stop;
        }
        desk.say(of_shape);
        self.check_duplicate(desk, (cells.record, key), hash);
        self.check_nameless(desk, &cells);
        self.say_of_cells(desk, of_cells, doubtful);
        let numbers = by.numbers.as_ref();
        let is_typed = |column| match (numbers, desk.source.cell_of(column)) {
            (Some(numbers), Some(cell)) => !numbers.contains(&(cells.record, cell)),
            _ => false,
        };
        self.names.note(&cells, is_typed);
        self.table.take(desk, &cells, row, of_row)
    }

    /// Says what was laid aside of cells, of each doubtful text only once.
    fn say_of_cells(&mut self, desk: &mut Desk, of_cells: Vec<Aside>, doubtful: Vec<String>) {
        let mut doubtful = doubtful.into_iter();
        let is_new = |aside: &Aside| {
            !aside.is_of(code::ASSUMED_ENCODING) || doubtful.next().is_some_and(|text| self.doubtful.insert(text))
        };
        desk.say(of_cells.into_iter().filter(is_new));
    }

    /// What stands below a cell of the header that names nothing is said once for the column.
    fn check_nameless(&mut self, desk: &mut Desk, cells: &RowCells<'_, T::Column>) {
        let Some(cell) = cells.nameless.filter(|cell| !self.nameless.contains(cell)) else { return };
        self.nameless.insert(cell);
        let message = "the header names no column here, so nothing in it is read";
        let fault = Fault::new(code::COLUMN_WITHOUT_NAME, message)
            .help("name the column in the header, or move what it says to where it belongs");
        desk.cell(cells.record, cell, fault);
    }

    fn check_duplicate(&mut self, desk: &mut Desk, (record, key): (usize, &str), hash: u64) {
        let first = *self.first_of.entry(hash).or_insert_with(|| number(record));
        if index(first) == record {
            return;
        }
        let there = desk.source.record_place(index(first));
        let fault = Fault::new(code::ROW_REPEATED, format!("this row is the same as line {}", there.line))
            .help("delete it, or correct the cell in which it should differ");
        desk.cell_of(&super::cells::enclosure_of::<T::Column>(key), record, None, fault);
    }
}

fn formula(text: &str) -> Fault {
    Fault::new(code::FORMULA_WITHOUT_VALUE, format!("the workbook stores no result for the formula `{text}`"))
        .help("open the workbook in a spreadsheet program and save it, or type the value itself")
}

/// Whether a character cannot be seen where it stands: controls, changes of writing direction, blanks of no width.
#[must_use]
pub fn is_hidden(c: char) -> bool {
    if matches!(c, ' '..='~' | '\t' | '\n' | '\r') {
        return false;
    }
    c.is_control()
        || matches!(c, '\u{AD}' | '\u{61C}' | '\u{180E}' | '\u{200B}'..='\u{200F}' | '\u{2028}'..='\u{202E}')
        || matches!(c, '\u{2060}'..='\u{206F}' | '\u{FEFF}' | '\u{FFF9}'..='\u{FFFB}' | '\u{FFFE}' | '\u{FFFF}')
        || matches!(c, '\u{E0000}'..='\u{E007F}')
}
