//! The schedule as a workbook (ISO/IEC 29500): a table on a sheet of its own for each part, with header, filter and print
//! set-up.
//!
//! Words are written as words, whatever they look like; no cell is a formula. Nothing depends on the clock: the workbook
//! is dated as the job is, else with a fixed day.

use std::borrow::Cow;
use std::io;

use rust_xlsxwriter::{
    DocProperties, ExcelDateTime, Format, FormatAlign, FormatBorder, Table, TableColumn, TableStyle, Workbook,
    Worksheet, XlsxError,
};

use super::Schedule;
use super::column::{Column, Listed, Value};
use super::{CautionRow, FindingRow, IsolatorLine, MaterialRow, NoteRow, NoticeRow, PointRow, SilentRow, TitleRow};
use crate::pages::Revision;
use crate::writers::pdf::DocumentInfo;

/// Rows of a sheet, and characters of a cell in 16-bit units, that the form holds.
const MOST_ROWS: usize = 1 << 20;
const LONGEST_CELL: usize = 32_767;

/// Characters of a foot that the form holds, with room for its marks.
const LONGEST_FOOT: usize = 180;

/// Height of a line and the greatest of a row, in points.
const LINE: f64 = 15.0;
const HIGHEST_ROW: f64 = 409.0;

/// Characters side by side that are still read on a page.
const PAGE_WIDTH: u16 = 160;

/// A4 among the papers of the form.
const A4: u8 = 9;

/// The day of a workbook whose job has none.
const NO_DAY: (u16, u8, u8) = (2000, 1, 1);

/// A workbook in memory.
#[derive(Clone, Debug)]
pub struct Made {
    /// Its bytes.
    pub bytes: Vec<u8>,
    /// Cells that hold only the beginning of their words, and say so.
    pub shortened: usize,
}

/// The sheet with more rows than the form holds, and how many it would have.
#[must_use]
pub fn too_many_rows(schedule: &Schedule<'_>) -> Option<(&'static str, usize)> {
    let counts = [
        (NoticeRow::SHEET, schedule.notices.len()),
        (PointRow::SHEET, schedule.points().count()),
        (IsolatorLine::SHEET, schedule.index().count()),
        (SilentRow::SHEET, schedule.silent.len()),
        (NoteRow::SHEET, schedule.notes.len()),
    ];
    counts.into_iter().find(|(_, rows)| *rows >= MOST_ROWS)
}

/// Makes the workbook.
///
/// # Errors
/// More rows than the form holds ([`too_many_rows`] says which before), or what its library says.
pub fn make(schedule: &Schedule<'_>, info: &DocumentInfo) -> io::Result<Made> {
    let mut making = Making { workbook: Workbook::new(), looks: Looks::new(), foot: foot(info), shortened: 0 };
    making.make(schedule, info).map_err(io::Error::other)?;
    let bytes = making.workbook.save_to_buffer().map_err(io::Error::other)?;
    Ok(Made { bytes, shortened: making.shortened })
}

/// Makes a workbook of one table, as wide as a page; `further` adds to its sheet, given the last row of the table.
///
/// # Errors
/// What the library says.
pub fn of_one_table<R: Listed>(
    rows: impl ExactSizeIterator<Item = R>,
    info: &DocumentInfo,
    further: impl FnOnce(&mut Worksheet, u32) -> Result<(), XlsxError>,
) -> io::Result<Made> {
    let mut making = Making { workbook: Workbook::new(), looks: Looks::new(), foot: foot(info), shortened: 0 };
    let last = u32::try_from(rows.len()).unwrap_or(u32::MAX);
    let make = || -> Result<Vec<u8>, XlsxError> {
        making.workbook.set_properties(&properties(info)?);
        let mut sheet = making.filled(rows)?;
        sheet.set_print_fit_to_pages(1, 0);
        further(&mut sheet, last)?;
        making.workbook.push_worksheet(sheet);
        making.workbook.save_to_buffer()
    };
    let bytes = make().map_err(io::Error::other)?;
    Ok(Made { bytes, shortened: making.shortened })
}

/// How cells look.
struct Looks {
    head: Format,
    words: Format,
    number: Format,
}

impl Looks {
    fn new() -> Self {
        let cell = Format::new().set_align(FormatAlign::Top).set_border_bottom(FormatBorder::Hair);
        Self {
            head: Format::new().set_bold().set_text_wrap().set_align(FormatAlign::Bottom),
            // `@` keeps words words when somebody edits them.
            words: cell.clone().set_text_wrap().set_num_format("@"),
            number: cell.set_align(FormatAlign::Center),
        }
    }
}

struct Making {
    workbook: Workbook,
    looks: Looks,
    foot: String,
    shortened: usize,
}

impl Making {
    fn make(&mut self, schedule: &Schedule<'_>, info: &DocumentInfo) -> Result<(), XlsxError> {
        self.workbook.set_properties(&properties(info)?);
        self.title(schedule)?;
        self.sheet(schedule.notices.iter().cloned())?;
        self.sheet(schedule.points())?;
        self.sheet(schedule.index())?;
        self.sheet(schedule.silent.iter().cloned())?;
        self.sheet(schedule.notes.iter().cloned())?;
        self.sheet::<MaterialRow<'_>>(schedule.materials.iter().copied())?;
        self.sheet::<FindingRow<'_>>(schedule.findings.iter().copied())
    }

    /// Title block, revisions and cautions, one below the other.
    fn title(&mut self, schedule: &Schedule<'_>) -> Result<(), XlsxError> {
        let mut sheet = self.begin(TitleRow::SHEET)?;
        widths(&mut sheet, &Revision::columns())?;
        let next = self.table(&mut sheet, 0, schedule.title.iter().cloned(), false)?;
        let next = self.table::<Revision<'_>>(&mut sheet, next + 1, schedule.revisions.iter().copied(), false)?;
        self.table::<CautionRow>(&mut sheet, next + 1, schedule.cautions.iter().copied(), false)?;
        self.workbook.push_worksheet(sheet);
        Ok(())
    }

    /// A sheet with one table.
    fn sheet<R: Listed>(&mut self, rows: impl Iterator<Item = R>) -> Result<(), XlsxError> {
        let sheet = self.filled(rows)?;
        self.workbook.push_worksheet(sheet);
        Ok(())
    }

    fn filled<R: Listed>(&mut self, rows: impl Iterator<Item = R>) -> Result<Worksheet, XlsxError> {
        let mut sheet = self.begin(R::SHEET)?;
        widths(&mut sheet, &R::columns())?;
        sheet.set_freeze_panes(1, 1)?;
        sheet.set_repeat_rows(0, 0)?;
        // A wide table goes over several pages, each with the names of its rows: on one it would be too small to read.
        let width: u16 = R::columns().iter().map(|column| u16::from(column.width)).sum();
        sheet.set_print_fit_to_pages(width.div_ceil(PAGE_WIDTH).max(1), 0);
        sheet.set_repeat_columns(0, 0)?;
        self.table(&mut sheet, 0, rows, true)?;
        Ok(sheet)
    }

    fn begin(&self, name: &str) -> Result<Worksheet, XlsxError> {
        let mut sheet = Worksheet::new();
        sheet.set_name(name)?;
        sheet.set_paper_size(A4).set_landscape().set_print_fit_to_pages(1, 0);
        sheet.set_margins(0.5, 0.5, 0.75, 0.65, 0.3, 0.3);
        sheet.set_footer(&self.foot);
        Ok(sheet)
    }

    /// Rows under their names from a row of the sheet on; the answer is the first row behind them. A table without rows
    /// says so, since the form knows none.
    fn table<R: Listed>(
        &mut self,
        sheet: &mut Worksheet,
        first: u32,
        rows: impl Iterator<Item = R>,
        filter: bool,
    ) -> Result<u32, XlsxError> {
        let columns = R::columns();
        let mut next = first + 1;
        sheet.set_row_height(first, height(columns.iter().map(|column| (column.name, column.width))))?;
        for row in rows {
            let values: Vec<Value<'_>> = columns.iter().map(|column| (column.value)(&row)).collect();
            for (number, value) in (0..).zip(&values) {
                self.cell(sheet, (next, number), value)?;
            }
            let words = values.iter().zip(&columns).map(|(value, column)| (value.words(), column.width));
            sheet.set_row_height(next, height(words))?;
            next += 1;
        }
        if next == first + 1 {
            self.cell(sheet, (next, 0), &Value::text("none"))?;
            next += 1;
        }
        let head = |column: &Column<R>| TableColumn::new().set_header(column.name).set_header_format(&self.looks.head);
        let heads: Vec<TableColumn> = columns.iter().map(head).collect();
        let table = Table::new().set_name(R::TABLE).set_columns(&heads).set_autofilter(filter);
        let table = table.set_style(TableStyle::Light1).set_banded_rows(false);
        let last = u16::try_from(columns.len().saturating_sub(1)).unwrap_or(u16::MAX);
        sheet.add_table(first, 0, next - 1, last, &table)?;
        Ok(next)
    }

    fn cell(&mut self, sheet: &mut Worksheet, (row, column): (u32, u16), value: &Value<'_>) -> Result<(), XlsxError> {
        match value {
            Value::Number(number) => sheet.write_number_with_format(row, column, *number, &self.looks.number)?,
            Value::Text(words) if !words.is_empty() => {
                let fitting = fitting(words);
                self.shortened += usize::from(matches!(fitting, Cow::Owned(_)));
                // The library takes words between these marks for formatted runs of its own and would write them as they
                // are; as a run of words they are escaped.
                if fitting.starts_with("<r>") && fitting.ends_with("</r>") {
                    let run = [(&Format::default(), &*fitting)];
                    sheet.write_rich_string_with_format(row, column, &run, &self.looks.words)?
                } else {
                    sheet.write_string_with_format(row, column, &*fitting, &self.looks.words)?
                }
            }
            Value::Text(_) | Value::Nothing => sheet.write_blank(row, column, &self.looks.words)?,
        };
        Ok(())
    }
}

fn widths<R>(sheet: &mut Worksheet, columns: &[Column<R>]) -> Result<(), XlsxError> {
    for (number, column) in (0..).zip(columns) {
        sheet.set_column_width(number, f64::from(column.width))?;
    }
    Ok(())
}

/// How high a row is, in points, so that all its words are seen: some programs do not work it out themselves. More than
/// the form knows is left to the reader, who sees all of it in the cell.
fn height<'a>(cells: impl Iterator<Item = (&'a str, u8)>) -> f64 {
    let most = cells.map(|(words, width)| lines(words, width)).max().unwrap_or(1);
    (f64::from(u16::try_from(most).unwrap_or(u16::MAX)) * LINE).min(HIGHEST_ROW)
}

/// The lines that words take in a column so many characters wide; a tenth is left free, since letters differ.
fn lines(words: &str, width: u8) -> usize {
    let room = (usize::from(width) * 9 / 10).max(1);
    let (mut lines, mut used) = (1, 0);
    for word in words.split(' ') {
        let length = word.chars().count();
        if used > 0 && used + 1 + length > room {
            (lines, used) = (lines + 1, 0);
        }
        used += length + usize::from(used > 0);
        if used > room {
            // Broken somewhere, and perhaps before a line is full.
            lines += used / room + 1;
            used %= room;
        }
    }
    lines
}

fn properties(info: &DocumentInfo) -> Result<DocProperties, XlsxError> {
    let day = info.created.map(crate::writers::pdf::Moment::date);
    let day = day.and_then(|(year, month, day)| ExcelDateTime::from_ymd(year, month, day).ok());
    let day = match day {
        Some(day) => day,
        None => ExcelDateTime::from_ymd(NO_DAY.0, NO_DAY.1, NO_DAY.2)?,
    };
    let properties = DocProperties::new().set_title(&info.title).set_author(&info.author).set_subject(&info.subject);
    Ok(properties.set_creation_datetime(&day))
}

/// What stands at the foot of every printed page: the title, the sheet, page x of y. `&` begins a mark there.
fn foot(info: &DocumentInfo) -> String {
    let mut title: String = info.title.chars().take(LONGEST_FOOT / 2).collect();
    if title.len() < info.title.len() {
        title.push('…');
    }
    format!("&L{}&C&A&Rpage &P of &N", title.replace('&', "&&"))
}

/// The words as a cell holds them: whole, or their beginning with how much there is.
fn fitting(words: &str) -> Cow<'_, str> {
    let length = words.encode_utf16().count();
    if length <= LONGEST_CELL {
        return Cow::Borrowed(words);
    }
    let said = format!(
        " [cut off here: {length} characters are more than a workbook's cell holds; the schedule as PDF has all of them]"
    );
    let room = LONGEST_CELL - said.encode_utf16().count();
    let mut used = 0;
    let kept: String = words
        .chars()
        .take_while(|character| {
            used += character.len_utf16();
            used <= room
        })
        .collect();
    Cow::Owned(kept + &said)
}

#[cfg(test)]
mod tests;
