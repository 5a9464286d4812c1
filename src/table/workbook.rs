//! Workbooks, `.xlsx` and `.ods`: the cells of the sheet that holds the rows, as texts.

use std::collections::HashMap;
use std::io::Cursor;
use std::iter;
use std::sync::Arc;

use calamine::{Data, DataRef, ExcelDateTime, Ods, Reader, SheetVisible, Xlsx};

use super::archive;
use super::cell::number::Decimals;
use super::cell::{Fault, closest};
use super::column::{Heading, same_name};
use super::desk::Desk;
use super::reader::{ReadOptions, Table, hash};
use super::rows::{Onward, Rows};
use super::shown::{self, Cells};
use super::source::{Body, Record, index, number, sheet_text};
use crate::finding::code;
use crate::limits::Limits;

/// The cells of one sheet, row by row.
#[derive(Debug, Default)]
struct Sheet {
    name: String,
    /// True where whoever opens the workbook does not see it.
    hidden: bool,
    text: String,
    /// Where the text of each cell ends.
    ends: Vec<u32>,
    /// The rows that hold something, with the cell at which each begins and its number in the sheet.
    rows: Vec<Record>,
    /// Row and column, counted from 0 among the rows kept, of formulas without a stored value.
    unvalued: Vec<(usize, usize)>,
    /// Row and column, counted in the same way, of numbers of as many figures as a date has that is shown as a number.
    numbers: Vec<(usize, usize)>,
    /// True where cells stand farther to the right than is accepted.
    too_wide: bool,
}

/// Reads the rows of a workbook. A workbook that cannot be opened is a finding.
pub(super) fn read<T: Table>(desk: &mut Desk, bytes: &[u8], options: &ReadOptions<T::Column>) -> T::Product {
    let sheets =
        archive::is_measured(bytes, options.limits.file_bytes).then(|| sheets(bytes, options.limits)).flatten();
    let Some(sheets) = sheets else {
        let fault = Fault::new(code::WORKBOOK_UNREADABLE, "the workbook cannot be opened, or is too large inside");
        desk.file(fault.help("save it again in a spreadsheet program without a password, or as CSV in UTF-8"));
        return T::Product::default();
    };
    report_hidden(desk, &sheets, options);
    report_several(desk, &sheets, options);
    // What nobody sees is read only where nothing is seen.
    let is_seen = |sheet: &&Sheet| !sheet.hidden || sheets.iter().all(|sheet| sheet.hidden);
    let has_rows = |sheet: &&Sheet| !sheet.rows.is_empty();
    let seen = || sheets.iter().filter(is_seen);
    let chosen =
        seen().find(|sheet| sheet.looks_right(options)).or_else(|| seen().find(|sheet| sheet.has_key(options)));
    let chosen = chosen.or_else(|| seen().find(has_rows)).map(|sheet| sheet.name.clone());
    report_unread(desk, &sheets, chosen.as_deref(), options);
    let sheet = sheets.into_iter().find(|sheet| Some(&sheet.name) == chosen.as_ref()).unwrap_or_default();
    let otherwise = shown::otherwise(bytes).remove(&sheet.name).unwrap_or_default();
    read_sheet::<T>(desk, sheet, &otherwise, options)
}

/// The sheets that look like what is read, by name, as long as whoever opens the workbook sees them or does not.
fn alike<C: Heading>(sheets: &[Sheet], hidden: bool, options: &ReadOptions<C>) -> Vec<String> {
    let alike = sheets.iter().filter(|sheet| sheet.hidden == hidden && sheet.looks_right(options));
    alike.map(|sheet| format!("`{}`", sheet.name)).collect()
}

fn report_hidden<C: Heading>(desk: &mut Desk, sheets: &[Sheet], options: &ReadOptions<C>) {
    let names = alike(sheets, true, options);
    if names.is_empty() {
        return;
    }
    let names = names.join(", ");
    let message = format!("hidden in the workbook and not read, though it looks like a {}: {names}", C::FILE);
    let help = "show the sheet if it is meant, and save what is meant alone; if not, delete it";
    desk.file(Fault::new(code::HIDDEN_SHEET, message).help(help));
}

fn report_several<C: Heading>(desk: &mut Desk, sheets: &[Sheet], options: &ReadOptions<C>) {
    let names = alike(sheets, false, options);
    if names.len() < 2 {
        return;
    }
    let message = format!("{} look like {}s, and nothing says which of them holds today", names.join(", "), C::FILE);
    desk.file(
        Fault::new(code::SEVERAL_SHEETS, message).help("put everything on one sheet, or save the wanted one alone"),
    );
}

/// How many rows of a sheet are looked through for its header: titles and a legend may stand above.
const ABOVE: usize = 20;

/// Sheets that have all the needed columns but one, or all of them below a title, beside the one that is read: their rows
/// would be missing without a word. Of two needed columns one alone tells nothing.
fn report_unread<C: Heading>(desk: &mut Desk, sheets: &[Sheet], chosen: Option<&str>, options: &ReadOptions<C>) {
    let needed = || C::ALL.iter().copied().filter(|column| column.needed());
    let unread = sheets.iter().filter(|sheet| Some(sheet.name.as_str()) != chosen && !sheet.looks_right(options));
    if needed().count() < 3 {
        return;
    }
    let listed = |columns: &[C]| columns.iter().map(|it| format!("`{}`", it.name())).collect::<Vec<_>>().join(", ");
    for sheet in unread {
        let parted = (0..sheet.rows.len().min(ABOVE)).map(|row| {
            let (has, lacks) = needed().partition::<Vec<_>, _>(|column| sheet.has_in(row, *column, options));
            (row, has, lacks)
        });
        // What stands below the header is what would be lost.
        let likely = parted.filter(|(row, _, lacks)| lacks.len() < 2 && row + 1 < sheet.rows.len());
        let Some((row, has, lacks)) = likely.min_by_key(|(_, _, lacks)| lacks.len()) else { continue };
        let line = sheet.rows.get(row).map_or(1, |record| record.row);
        let (what, help) = match lacks.as_slice() {
            [] => (
                format!("names them in row {line}, below other words"),
                "let it begin with the line of column names, and put all rows on one sheet",
            ),
            lacks => (format!("lacks {}", listed(lacks)), "give it that column, and put all rows on one sheet"),
        };
        let message = format!(
            "sheet `{}` is not read: of the columns that a {} needs it has {}, and {what}",
            sheet.name,
            C::FILE,
            listed(&has)
        );
        let help = format!("{help}; if it holds something else, save the sheet that is meant alone");
        desk.file(Fault::new(code::SHEET_NOT_READ, message).help(help));
    }
}

fn read_sheet<T: Table>(
    desk: &mut Desk,
    sheet: Sheet,
    otherwise: &Cells,
    options: &ReadOptions<T::Column>,
) -> T::Product {
    let (text, ends) = (Arc::new(sheet.text), Arc::new(sheet.ends));
    desk.source_mut().body = Body::Sheet { text: Arc::clone(&text), ends: Arc::clone(&ends) };
    desk.source_mut().records.reserve(sheet.rows.len());
    if sheet.too_wide {
        let message = format!("the sheet has more columns than the {} accepted", options.limits.columns);
        desk.file(
            Fault::new(code::TOO_MANY_COLUMNS, message)
                .help("leave out what the notices do not need, or raise `columns` under [limits] in the job file"),
        );
    }
    let mut rows = Rows::<T>::new(options, Decimals::PointOrComma, &text, false);
    rows.without_value(sheet.unvalued);
    rows.stored_as_numbers(sheet.numbers);
    let by_row: HashMap<u32, usize> = sheet.rows.iter().enumerate().map(|(record, row)| (row.row, record)).collect();
    let placed = otherwise
        .iter()
        .filter_map(|((row, column), shown)| Some(((*by_row.get(&(row + 1))?, index(*column)), *shown)));
    rows.shown_otherwise(placed.collect());
    let next_starts = sheet.rows.iter().skip(1).map(|row| row.start).chain([number(ends.len())]);
    for (row, next) in sheet.rows.iter().zip(next_starts) {
        let (start, filled) = (index(row.start), index(next - row.start));
        let source = desk.source_mut();
        source.records.push(*row);
        source.end = next;
        // A spreadsheet keeps no empty cells behind the last one that is filled, and so no row of it is too short.
        let width = filled.max(desk.source.headers.len());
        let text_of = |position: usize| if position < filled { sheet_text(&text, &ends, start + position) } else { "" };
        let cell = |position: usize| (position < width).then(|| text_of(position));
        if rows.record(desk, width, cell, hash_of(&text, &ends, start, filled)) == Onward::Stop {
            break;
        }
    }
    rows.finish(desk)
}

/// A hash of the cells of a row, where one ends and the next begins told apart.
fn hash_of(text: &str, ends: &[u32], start: usize, width: usize) -> u64 {
    let cells: Vec<_> = (start..start + width).map(|cell| sheet_text(text, ends, cell)).collect();
    hash(&cells)
}

impl Sheet {
    /// Whether the first row that holds something has the column that a file of this kind must have.
    fn has_key<C: Heading>(&self, options: &ReadOptions<C>) -> bool {
        self.has(C::KEY, options)
    }

    /// Whether it has every column that is needed, or one that is misspelt in its place: a list of photographs or a
    /// summary names enclosures too, and is no survey.
    fn looks_right<C: Heading>(&self, options: &ReadOptions<C>) -> bool {
        let mut needed = C::ALL.iter().copied().filter(|column| column.needed());
        let is_meant = |column: C| {
            let is_near = |header: &str| closest(header, iter::once(column.name())).is_some();
            self.headers().any(|header| heading(header, options).is_none() && is_near(header))
        };
        self.has_key(options) && needed.all(|column| self.has(column, options) || is_meant(column))
    }

    fn has<C: Heading>(&self, column: C, options: &ReadOptions<C>) -> bool {
        self.has_in(0, column, options)
    }

    /// Whether one of its rows names a column.
    fn has_in<C: Heading>(&self, row: usize, column: C, options: &ReadOptions<C>) -> bool {
        self.cells(row).any(|header| heading(header, options) == Some(column))
    }

    /// The cells of the first row that holds something.
    fn headers(&self) -> impl Iterator<Item = &str> {
        self.cells(0)
    }

    /// The cells of a row, counted from 0 among those that hold something.
    fn cells(&self, row: usize) -> impl Iterator<Item = &str> {
        let end = self.rows.get(row + 1).map_or(self.ends.len(), |next| index(next.start));
        let cells = self.rows.get(row).map_or(0..0, |record| index(record.start)..end);
        cells.map(|cell| sheet_text(&self.text, &self.ends, cell))
    }

    /// Adds a cell; cells come row by row and from left to right.
    fn add(&mut self, (row, column): (u32, u32), content: Content, limits: Limits) {
        if content.text.trim().is_empty() && !content.unvalued {
            return;
        }
        if index(column) >= limits.columns {
            self.too_wide = true;
            return;
        }
        if self.rows.last().is_none_or(|last| last.row <= row) {
            self.rows.push(Record { start: number(self.ends.len()), row: row + 1 });
        }
        let start = self.rows.last().map_or(0, |last| index(last.start));
        while self.ends.len() < start + index(column) {
            self.ends.push(number(self.text.len()));
        }
        if content.unvalued {
            self.unvalued.push((self.rows.len() - 1, index(column)));
        }
        if content.is_number {
            self.numbers.push((self.rows.len() - 1, index(column)));
        }
        self.text.push_str(&content.text);
        self.ends.push(number(self.text.len()));
    }
}

/// The column that a header means: first by the house's own names, then by the usual ones.
fn heading<C: Heading>(header: &str, options: &ReadOptions<C>) -> Option<C> {
    let own = options.header_map.iter().find(|(name, _)| same_name(name, header)).map(|(_, column)| *column);
    own.or_else(|| C::named(header))
}

/// Figures of the number by which a spreadsheet keeps a day of this century.
const FIGURES_OF_A_DAY: usize = 5;

/// What a cell shows, and whether that is a formula without a stored value, or a number that may have been a date.
#[derive(Debug, Default)]
struct Content {
    text: String,
    unvalued: bool,
    is_number: bool,
}

/// A cell with a formula must have a value. Some programs store a zero for one that was never calculated.
fn content(value: &Data, formula: Option<&str>, is_missing: bool) -> Content {
    match formula.filter(|formula| is_missing && !formula.is_empty()) {
        Some(formula) => Content {
            text: format!("={}", formula.trim_start_matches("of:").trim_start_matches('=')),
            unvalued: true,
            is_number: false,
        },
        None => {
            let text = shown(value);
            let is_number = text.len() == FIGURES_OF_A_DAY && matches!(value, Data::Int(_) | Data::Float(_));
            Content { text, unvalued: false, is_number }
        }
    }
}

/// Every sheet; `None` if the bytes are neither kind of workbook.
fn sheets(bytes: &[u8], limits: Limits) -> Option<Vec<Sheet>> {
    xlsx(bytes, limits).or_else(|| ods(bytes, limits))
}

/// The names of the sheets, in order, and whether each is hidden.
fn named<'a>(workbook: &impl Reader<Cursor<&'a [u8]>>) -> Vec<(String, bool)> {
    let sheets = workbook.sheets_metadata().iter();
    sheets.map(|sheet| (sheet.name.clone(), sheet.visible != SheetVisible::Visible)).collect()
}

fn xlsx(bytes: &[u8], limits: Limits) -> Option<Vec<Sheet>> {
    let mut workbook = Xlsx::new(Cursor::new(bytes)).ok()?;
    let mut sheets = Vec::new();
    for (name, hidden) in named(&workbook) {
        // A sheet that is no table, such as a chart, holds no survey.
        let Ok(mut cells) = workbook.worksheet_cells_reader(&name) else { continue };
        let mut sheet = Sheet { name, hidden, ..Sheet::default() };
        let mut last = (0, 0);
        while let Some(cell) = cells.next_cell_with_formula().ok()? {
            if cell.pos < last {
                return None;
            }
            if sheet.rows.len() > limits.rows.saturating_add(1) {
                break;
            }
            last = (cell.pos.0, cell.pos.1 + 1);
            let is_missing =
                matches!(cell.value, DataRef::Empty) || matches!(cell.value, DataRef::Float(0.0) | DataRef::Int(0));
            sheet.add(cell.pos, content(&Data::from(cell.value), cell.formula.as_deref(), is_missing), limits);
        }
        sheets.push(sheet);
    }
    Some(sheets)
}

fn ods(bytes: &[u8], limits: Limits) -> Option<Vec<Sheet>> {
    let mut workbook = Ods::new(Cursor::new(bytes)).ok()?;
    let mut sheets = Vec::new();
    for (name, hidden) in named(&workbook) {
        let (cells, formulas) = (workbook.worksheet_range(&name).ok()?, workbook.worksheet_formula(&name).ok()?);
        let mut sheet = Sheet { name, hidden, ..Sheet::default() };
        let starts = [cells.start(), formulas.start()].into_iter().flatten();
        let ends = [cells.end(), formulas.end()].into_iter().flatten();
        let (top, left) = starts.reduce(|one, other| (one.0.min(other.0), one.1.min(other.1))).unwrap_or((1, 1));
        let (bottom, right) = ends.reduce(|one, other| (one.0.max(other.0), one.1.max(other.1))).unwrap_or((0, 0));
        for position in (top..=bottom).flat_map(|row| (left..=right).map(move |column| (row, column))) {
            let value = cells.get_value(position).unwrap_or(&Data::Empty);
            let formula = formulas.get_value(position).map(String::as_str);
            sheet.add(position, content(value, formula, matches!(value, Data::Empty)), limits);
        }
        sheets.push(sheet);
    }
    Some(sheets)
}

/// A cell as its author sees it, but dates, which are shown as such in one form.
fn shown(value: &Data) -> String {
    match value {
        Data::Empty => String::new(),
        Data::String(text) | Data::DateTimeIso(text) | Data::DurationIso(text) => text.clone(),
        Data::Int(whole) => whole.to_string(),
        Data::Float(value) => figures(*value),
        Data::Bool(value) => if *value { "TRUE" } else { "FALSE" }.to_owned(),
        Data::DateTime(date) => day(date),
        Data::Error(error) => error.to_string(),
    }
}

/// A number with the 15 figures that spreadsheets keep.
fn figures(value: f64) -> String {
    format!("{value:.14e}").parse::<f64>().unwrap_or(value).to_string()
}

fn day(date: &ExcelDateTime) -> String {
    // The last day that spreadsheets know is 9999-12-31.
    if !date.is_datetime() || !(1.0..2_958_466.0).contains(&date.as_f64()) {
        return figures(date.as_f64());
    }
    let (year, month, day, ..) = date.to_ymd_hms_milli();
    format!("{year:04}-{month:02}-{day:02}")
}
