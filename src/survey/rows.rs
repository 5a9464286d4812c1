//! Record after record: what is wrong with its shape and its characters, then its row.

use std::collections::{HashMap, HashSet};

use super::cell::damage::damage;
use super::cell::number::Decimals;
use super::cell::{Fault, is_not_known, text};
use super::column::{Column, Level};
use super::desk::Desk;
use super::enclosures::Enclosures;
use super::header;
use super::names::Names;
use super::reader::ReadOptions;
use super::record::Enclosure;
use super::row::{RowCells, RowRules, report_empty};
use super::source::{index, number};
use crate::finding::code;

/// What the reading of rows carries from one to the next.
pub(super) struct Rows<'a> {
    options: &'a ReadOptions,
    rules: RowRules,
    defaults: Vec<(Column, String)>,
    /// True where some character of the file could be one that no cell may hold.
    suspect: bool,
    /// True where the encoding was assumed, so that every character beyond ASCII is doubtful.
    assumed: bool,
    doubtful: HashSet<String>,
    /// Cells, by record and cell, that hold a formula whose value is not stored.
    unvalued: HashSet<(usize, usize)>,
    header_read: bool,
    first_of: HashMap<u64, u32>,
    enclosures: Enclosures,
    names: Names,
}

/// Whether to go on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Onward {
    /// The next record, please.
    Next,
    /// Nothing further can be understood, or is accepted.
    Stop,
}

impl<'a> Rows<'a> {
    /// Begins to read the rows of a file with this whole text.
    pub(super) fn new(options: &'a ReadOptions, decimals: Decimals, text: &str, assumed: bool) -> Self {
        let rules = RowRules {
            decimals,
            devices: options.limits.devices_per_row,
            positions: options.limits.positions,
            cell_chars: options.limits.cell_chars,
        };
        let plain = |byte: u8| (b' '..0x7F).contains(&byte) || matches!(byte, b'\t' | b'\r' | b'\n');
        let usable = |(column, text): &(&Column, &String)| **column != Column::Enclosure && !text.trim().is_empty();
        Self {
            options,
            rules,
            defaults: options.defaults.iter().filter(usable).map(|(column, text)| (*column, text.clone())).collect(),
            suspect: !text.bytes().all(plain),
            assumed,
            doubtful: HashSet::new(),
            unvalued: HashSet::new(),
            header_read: false,
            first_of: HashMap::new(),
            enclosures: Enclosures::new(rules),
            names: Names::new(),
        }
    }

    /// Notes which cells, by record and cell, hold a formula whose value is not stored.
    pub(super) fn without_value(&mut self, cells: Vec<(usize, usize)>) {
        self.unvalued = cells.into_iter().collect();
    }

    /// Reads the record last noted in the source: its cells, and a hash of all that it holds.
    pub(super) fn record<'c>(
        &mut self,
        desk: &mut Desk,
        width: usize,
        cell: impl Fn(usize) -> Option<&'c str>,
        hash: u64,
    ) -> Onward {
        if !self.header_read {
            self.header_read = true;
            let cells: Vec<_> = (0..width).map(|position| cell(position).unwrap_or_default().to_owned()).collect();
            let understood = header::read(desk, &cells, &self.options.header_map, self.options.limits.columns);
            return if understood { Onward::Next } else { Onward::Stop };
        }
        let mut cells = RowCells::new(&desk.source, width, cell);
        if cells.record > self.options.limits.rows {
            let message = format!("the survey has more rows than the {} accepted", self.options.limits.rows);
            desk.record(
                cells.record,
                Fault::new(code::TOO_MANY_ROWS, message)
                    .help("split it, or raise `rows` under [limits] in the job file"),
            );
            return Onward::Stop;
        }
        self.check_shape(desk, &mut cells);
        self.check_duplicate(desk, &cells, hash);
        self.check_cells(desk, &mut cells);
        self.take(desk, &cells)
    }

    /// The enclosures, once every record was read.
    pub(super) fn finish(self, desk: &mut Desk) -> Vec<Enclosure> {
        if !self.header_read {
            desk.file(
                Fault::new(code::EMPTY_FILE, "the file holds nothing")
                    .help("`noticewright new` writes a starter survey with every column explained"),
            );
        }
        if self.header_read && desk.source.records.len() == 1 && desk.source.cell_of(Column::Enclosure).is_some() {
            let fault = Fault::new(code::NO_ROWS, "the survey has a header and no rows");
            desk.record(0, fault.help("add a row for each way in which energy can reach an enclosure"));
        }
        self.names.report(desk);
        check_defaults(desk, self.rules, &self.defaults);
        self.enclosures.finish(desk, &self.defaults)
    }

    /// A record with more cells than the header is displaced; one with fewer may have lost some that are needed.
    fn check_shape(&self, desk: &mut Desk, cells: &mut RowCells<'_>) {
        let headers = desk.source.headers.len();
        if let Some(surplus) = cells.surplus {
            let message = format!("the row has {} cells and the header {headers}", cells.width);
            let fault = Fault::new(code::ROW_TOO_LONG, message)
                .help("a text that holds the separator must stand in quotation marks");
            desk.cell_of(cells.text(Column::Enclosure), cells.record, Some(surplus), fault);
            return;
        }
        let is_lost = |column: &&Column| desk.source.cell_of(**column).is_some_and(|cell| cell >= cells.width);
        let lost: Vec<_> = Column::ALL.iter().filter(|column| column.needed()).filter(is_lost).collect();
        if lost.is_empty() {
            return;
        }
        let names: Vec<_> = lost.iter().map(|column| format!("`{}`", column.name())).collect();
        let message =
            format!("the row has {} cells and the header {headers}, so {} is missing", cells.width, names.join(", "));
        let fault = Fault::new(code::ROW_TOO_SHORT, message).help("add the missing cells, empty ones too");
        desk.cell_of(cells.text(Column::Enclosure), cells.record, Some(cells.width.saturating_sub(1)), fault);
        lost.into_iter().for_each(|column| cells.refuse(*column));
    }

    fn check_duplicate(&mut self, desk: &mut Desk, cells: &RowCells<'_>, hash: u64) {
        let first = *self.first_of.entry(hash).or_insert_with(|| number(cells.record));
        if index(first) == cells.record {
            return;
        }
        let there = desk.source.record_place(index(first));
        let fault = Fault::new(code::ROW_REPEATED, format!("this row is the same as line {}", there.line))
            .help("delete it, or correct the cell in which it should differ");
        desk.cell_of(cells.text(Column::Enclosure), cells.record, None, fault);
    }

    /// Takes out the cells that cannot be what their author wrote.
    fn check_cells(&mut self, desk: &mut Desk, cells: &mut RowCells<'_>) {
        for column in cells.filled() {
            let text = cells.text(column);
            if text.is_empty() {
                continue;
            }
            let unvalued = self.lacks_value(desk, cells.record, column).then(|| formula(text));
            let fault = unvalued.or_else(|| self.unreadable(text)).or_else(|| damage(text, column));
            let Some(fault) = fault else { continue };
            let spoils = fault.code != code::ASSUMED_ENCODING && fault.code != code::PERHAPS_A_DATE;
            cells.report(desk, column, fault);
            if spoils {
                cells.refuse(column);
            }
        }
    }

    fn lacks_value(&self, desk: &Desk, record: usize, column: Column) -> bool {
        !self.unvalued.is_empty()
            && desk.source.cell_of(column).is_some_and(|cell| self.unvalued.contains(&(record, cell)))
    }

    fn unreadable(&mut self, text: &str) -> Option<Fault> {
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
        if self.assumed && !text.is_ascii() && self.doubtful.insert(text.to_owned()) {
            let message = format!("`{text}` is read as Windows-1252, which the file does not say");
            let help = "look whether it reads right; save the file as UTF-8, or name its encoding with `--encoding`";
            return Some(Fault::new(code::ASSUMED_ENCODING, message).help(help));
        }
        None
    }

    /// The row of the cells, added to its enclosure. Without one it is read all the same, for what is wrong in it.
    fn take(&mut self, desk: &mut Desk, cells: &RowCells<'_>) -> Onward {
        let designation = text::free(cells.text(Column::Enclosure)).value.unwrap_or_default();
        let is_known = !designation.is_empty() && !is_not_known(&designation);
        if !is_known {
            report_empty(desk, cells, Column::Enclosure);
        }
        let limit = self.options.limits.enclosures;
        if is_known && self.enclosures.count() >= limit && !self.enclosures.knows(&designation) {
            let message = format!("the survey has more enclosures than the {limit} accepted");
            let fault = Fault::new(code::TOO_MANY_ENCLOSURES, message);
            desk.record(cells.record, fault.help("split it, or raise `enclosures` under [limits] in the job file"));
            return Onward::Stop;
        }
        self.names.note(cells);
        let mut filled: RowCells<'_> = *cells;
        filled.fill(&self.defaults, |column| column.level() == Level::Row);
        let row = self.rules.row(desk, &filled);
        if is_known {
            self.enclosures.add(desk, &designation, cells, row);
        }
        Onward::Next
    }
}

/// Reports what is wrong with the job's defaults themselves.
fn check_defaults(desk: &mut Desk, rules: RowRules, defaults: &[(Column, String)]) {
    if !defaults.is_empty() {
        let cells = RowCells::of_job(defaults);
        let row = rules.row(desk, &cells);
        Enclosures::new(rules).add(desk, "", &cells, row);
    }
}

fn formula(text: &str) -> Fault {
    Fault::new(code::FORMULA_WITHOUT_VALUE, format!("the workbook stores no result for the formula `{text}`"))
        .help("open the workbook in a spreadsheet program and save it, or type the value itself")
}

/// Whether a character cannot be seen where it stands: controls, changes of writing direction, blanks of no width.
#[must_use]
pub fn is_hidden(c: char) -> bool {
    let is_blank = matches!(c, '\t' | '\n' | '\r');
    (c.is_control() && !is_blank)
        || matches!(c, '\u{AD}' | '\u{61C}' | '\u{180E}' | '\u{200B}'..='\u{200F}' | '\u{2028}'..='\u{202E}')
        || matches!(c, '\u{2060}'..='\u{206F}' | '\u{FEFF}' | '\u{FFF9}'..='\u{FFFB}' | '\u{FFFE}' | '\u{FFFF}')
        || matches!(c, '\u{E0000}'..='\u{E007F}')
}
