//! What only a whole column of designations shows: lost leading zeros, dates turned into numbers.

use super::cell::Fault;
use super::cells::RowCells;
use super::column::Heading;
use super::desk::Desk;
use super::source::{index, number};
use crate::finding::code;

/// Days since 1899-12-30, as spreadsheets count them, of the years 2000 to 2049.
const SERIAL_DATES: std::ops::RangeInclusive<u32> = 36_526..=54_788;

/// The designations of one column that are figures alone.
#[derive(Clone, Debug, Default)]
struct Figures {
    /// Figures of the shortest designation that begins with a zero; zero if there is none.
    padded: usize,
    /// Records and lengths of those that do not begin with a zero.
    plain: Vec<(u32, usize)>,
    /// Records of those that could be the number of a date.
    serials: Vec<u32>,
    /// How many designations are not figures alone.
    others: usize,
}

/// The designations of a file, by column.
#[derive(Clone, Debug)]
pub(super) struct Names<C> {
    columns: Vec<(C, Figures)>,
}

impl<C: Heading> Names<C> {
    pub(super) fn new() -> Self {
        let designations = C::ALL.iter().copied().filter(|column| column.is_designation());
        Self { columns: designations.map(|column| (column, Figures::default())).collect() }
    }

    /// Notes the designations of a record. `is_typed` tells whether the file says that a cell holds what somebody typed.
    pub(super) fn note(&mut self, cells: &RowCells<'_, C>, is_typed: impl Fn(C) -> bool) {
        for (column, figures) in &mut self.columns {
            let text = cells.text(*column);
            if !text.is_empty() {
                figures.note(text, number(cells.record), || is_typed(*column));
            }
        }
    }

    /// Reports what the columns show as a whole.
    pub(super) fn report(&self, desk: &mut Desk) {
        for (column, figures) in &self.columns {
            let Some(cell) = desk.source.cell_of(*column) else { continue };
            figures.report_zeros(desk, cell);
            figures.report_serials(desk, cell);
        }
    }
}

impl Figures {
    fn note(&mut self, text: &str, record: u32, is_typed: impl Fn() -> bool) {
        if !text.bytes().all(|byte| byte.is_ascii_digit()) {
            self.others += 1;
            return;
        }
        if text.len() > 1 && text.starts_with('0') {
            self.padded = if self.padded == 0 { text.len() } else { self.padded.min(text.len()) };
            return;
        }
        self.plain.push((record, text.len()));
        if text.parse().is_ok_and(|value: u32| SERIAL_DATES.contains(&value)) && !is_typed() {
            self.serials.push(record);
        }
    }

    fn report_zeros(&self, desk: &mut Desk, cell: usize) {
        for (record, _) in self.plain.iter().filter(|(_, length)| *length < self.padded) {
            let message =
                format!("others of this column have {} figures with leading zeros, and this one fewer", self.padded);
            let fault = Fault::new(code::LEADING_ZEROS_LOST, message)
                .help("format the column as text in the spreadsheet, then type the zeros again");
            desk.cell(index(*record), cell, fault);
        }
    }

    fn report_serials(&self, desk: &mut Desk, cell: usize) {
        if self.serials.len() >= self.others {
            return;
        }
        for record in &self.serials {
            let fault =
                Fault::new(code::PERHAPS_A_DATE, "this number may be a date that a spreadsheet made of a designation")
                    .help("format the column as text in the spreadsheet, then type the cell again as it was");
            desk.cell(index(*record), cell, fault);
        }
    }
}
