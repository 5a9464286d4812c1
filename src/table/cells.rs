//! The cells of one record by column, and what may be reported of them.

use std::collections::BTreeMap;

use super::cell::text::tidy;
use super::cell::{Fault, Parsed, is_dash, is_not_known, text, unforced};
use super::column::Heading;
use super::columns::{Columns, MOST_COLUMNS};
use super::desk::Desk;
use super::source::{Body, Source};
use crate::finding::{Code, code};

/// The cells of one record by the column that they belong to, trimmed.
#[derive(Clone, Copy)]
pub(crate) struct RowCells<'a, C> {
    /// Number of the record in the source, where 0 is the header.
    pub(crate) record: usize,
    /// How many cells the record has.
    pub(super) width: usize,
    /// The first cell beyond the header of a text that holds something.
    pub(super) surplus: Option<usize>,
    /// The first cell that holds something where the header has no name.
    pub(super) nameless: Option<usize>,
    texts: [&'a str; MOST_COLUMNS],
    /// Columns whose cell says something.
    filled: Columns<C>,
    /// Columns whose cell says that nobody knows.
    not_known: Columns<C>,
    /// Columns whose text is the job's, not the file's.
    defaulted: Columns<C>,
    /// Columns whose cell was refused before it was read.
    refused: Columns<C>,
    voice: Voice,
}

/// Whose cells they are, and so what may be reported of them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Voice {
    /// A record's own.
    Record,
    /// A record's whose cells are not where they belong, so that what they hold says nothing.
    Displaced,
    /// The job's defaults, looked at on their own.
    Job,
    /// The job's defaults, applied: everything was said before.
    Silent,
}

impl<'a, C: Heading> RowCells<'a, C> {
    /// The cells of the record with this number.
    pub(super) fn new(source: &Source, record: usize, width: usize, cell: impl Fn(usize) -> Option<&'a str>) -> Self {
        let mut cells = Self::empty(Voice::Record);
        for (column, position) in &source.present {
            let found = unforced(trimmed(cell(*position).unwrap_or_default()));
            if let Some(text) = cells.texts.get_mut(*column).filter(|_| !found.is_empty()) {
                *text = found;
                cells.filled.insert_number(*column);
                if is_not_known(found) {
                    cells.not_known.insert_number(*column);
                }
            }
        }
        cells.width = width;
        let says = |position: &usize| cell(*position).is_some_and(|text| !text.trim().is_empty());
        cells.nameless = source.nameless.iter().copied().find(says);
        let surplus = (source.headers.len()..width).find(says);
        // In a sheet a cell stands where it stands, so that one beyond the header displaces none of the others.
        if matches!(source.body, Body::Sheet { .. }) {
            cells.nameless = cells.nameless.or(surplus);
        } else {
            cells.surplus = surplus;
        }
        cells.record = record;
        cells.voice = if cells.surplus.is_some() { Voice::Displaced } else { Voice::Record };
        cells
    }

    /// The job's defaults as if they were a record, so that their own faults are reported once.
    pub(crate) fn of_job(defaults: &'a [(C, String)]) -> Self {
        let mut cells = Self::empty(Voice::Job);
        cells.fill(defaults, |_| true);
        cells
    }

    /// The job's defaults for some columns, already reported.
    pub(crate) fn silent(defaults: &'a [(C, String)], wanted: impl Fn(C) -> bool) -> Self {
        let mut cells = Self::empty(Voice::Silent);
        cells.fill(defaults, wanted);
        cells
    }

    fn empty(voice: Voice) -> Self {
        let none = Columns::default();
        let texts = [""; MOST_COLUMNS];
        let [filled, not_known, defaulted, refused] = [none; 4];
        Self { record: 0, width: 0, surplus: None, nameless: None, texts, filled, not_known, defaulted, refused, voice }
    }

    /// What the cell of a column says; empty where it says nothing or was refused.
    pub(crate) fn text(&self, column: C) -> &'a str {
        self.texts.get(column.index()).copied().unwrap_or_default()
    }

    /// Whether nothing stands in the cell of a column; of one that was refused something has been said already.
    pub(crate) fn is_blank(&self, column: C) -> bool {
        self.text(column).is_empty() && !self.refused.contains(column)
    }

    /// Fills empty cells with what the job says of their column.
    pub(crate) fn fill(&mut self, defaults: &'a [(C, String)], wanted: impl Fn(C) -> bool) {
        for (column, default) in defaults {
            let may = wanted(*column) && !self.refused.contains(*column);
            if let Some(text) = self.texts.get_mut(column.index()).filter(|text| may && text.is_empty()) {
                *text = default.trim();
                if is_not_known(text) {
                    self.not_known.insert(*column);
                }
                self.filled.insert(*column);
                self.defaulted.insert(*column);
            }
        }
    }

    /// Takes a name for the one that is marked elsewhere as that of one thing.
    pub(super) fn mark(&mut self, column: C, ones: &'a BTreeMap<String, String>) {
        let marked = ones.get(tidy(self.text(column)).as_ref());
        if let Some((text, marked)) = self.texts.get_mut(column.index()).zip(marked) {
            *text = marked;
        }
    }

    /// Takes a cell out, because of what it holds.
    pub(crate) fn refuse(&mut self, column: C) {
        self.refused.insert(column);
        self.not_known.remove(column);
        if let Some(text) = self.texts.get_mut(column.index()) {
            *text = "";
        }
    }

    /// The columns whose cell says something, in order.
    pub(crate) fn filled(&self) -> impl Iterator<Item = C> + use<C> {
        self.filled.iter()
    }

    /// Whether any of these columns says something.
    pub(crate) fn says_any_of(&self, columns: Columns<C>) -> bool {
        self.filled.meets(columns)
    }

    /// The columns whose cell says that nobody knows.
    pub(crate) fn not_known(&self) -> Columns<C> {
        self.not_known
    }

    /// The designation of what the record speaks of, `None` where its cell is empty or says that nobody knows.
    pub(crate) fn key(&self) -> Option<String> {
        let designation = text::free::<String>(self.text(C::KEY)).value.unwrap_or_default();
        (!designation.is_empty() && !is_not_known(&designation)).then_some(designation)
    }

    /// Reports a fault of a cell, unless it is not the cell's own.
    pub(crate) fn report(&self, desk: &mut Desk, column: C, fault: Fault) {
        match self.voice {
            Voice::Record if !self.defaulted.contains(column) || needs_row(fault.code) => {
                self.report_at(desk, desk.source.cell_of(column), fault);
            }
            Voice::Job if !needs_row(fault.code) => {
                let message = format!("the job's default for `{}`: {}", column.name(), fault.message);
                desk.job(Fault { message, ..fault });
            }
            Voice::Record | Voice::Job | Voice::Displaced | Voice::Silent => {}
        }
    }

    /// Reports a fault at a cell of the record by its number, or at the record as a whole.
    pub(super) fn report_at(&self, desk: &mut Desk, cell: Option<usize>, fault: Fault) {
        desk.cell_of(&enclosure_of::<C>(self.text(C::KEY)), self.record, cell, fault);
    }

    /// The value of a cell, `None` where it is empty, not known or faulty.
    pub(crate) fn value<T>(&self, desk: &mut Desk, column: C, parse: impl FnOnce(&str) -> Parsed<T>) -> Option<T> {
        let text = self.text(column);
        if text.is_empty() {
            return None;
        }
        if self.not_known.contains(column) {
            self.report_not_known(desk, column);
            return None;
        }
        let parsed = parse(text);
        if let Some(fault) = parsed.fault {
            self.report(desk, column, fault);
        }
        parsed.value
    }

    /// The value of a cell that must hold one.
    pub(crate) fn needed<T>(&self, desk: &mut Desk, column: C, parse: impl FnOnce(&str) -> Parsed<T>) -> Option<T> {
        let text = self.text(column);
        if text.is_empty() || self.not_known.contains(column) || is_dash(text) {
            self.report_empty(desk, column);
            return None;
        }
        self.value(desk, column, parse)
    }

    /// Reports an empty cell of a needed column, where the column is there and nothing else was said of the cell.
    pub(crate) fn report_empty(&self, desk: &mut Desk, column: C) {
        if desk.source.cell_of(column).is_none() || self.refused.contains(column) {
            return;
        }
        let said = if self.text(column).is_empty() { "empty" } else { "not known" };
        let message = format!("the needed cell `{}` is {said}", column.name());
        self.report(desk, column, Fault::new(code::NEEDED_CELL_EMPTY, message).help(column.if_empty()));
    }

    /// Where an empty cell means that there is nothing, one that says "not known" must not be taken for it.
    fn report_not_known(&self, desk: &mut Desk, column: C) {
        if !column.blank_is_unknown() && !column.needed() {
            let message = format!("`{}` is not known here", column.name());
            let help = "find it out before the notice is relied on; a blank cell would say that there is none";
            self.report(desk, column, Fault::new(code::VALUE_NOT_KNOWN, message).help(help));
        }
    }
}

/// The enclosure of which a record speaks, by the text of its key; empty in a file that speaks of other things.
pub(super) fn enclosure_of<C: Heading>(key: &str) -> String {
    if C::KEY_IS_ENCLOSURE { text::tidied(key) } else { String::new() }
}

/// Whether a fault lies in how the cells of a row belong together, so that one cell alone cannot have it.
fn needs_row(code: Code) -> bool {
    [
        code::VOLTAGE_NEEDS_EARTHING,
        code::NOMINAL_PAIR_OF_TWO_LINES,
        code::LOCATIONS_DO_NOT_MATCH,
        code::LOCATION_WITHOUT_DEVICE,
        code::NEEDED_CELL_EMPTY,
    ]
    .contains(&code)
}

/// A cell without the blanks round it.
fn trimmed(cell: &str) -> &str {
    let is_plain = |byte: Option<&u8>| byte.is_some_and(u8::is_ascii_graphic);
    if is_plain(cell.as_bytes().first()) && is_plain(cell.as_bytes().last()) { cell } else { cell.trim() }
}
