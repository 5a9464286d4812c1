//! From bytes to the rows of a list that somebody filled in.

use std::borrow::Cow;

use super::workbook::EVENTS;
use super::{ListColumn, headers};
use crate::finding::{Finding, code};
use crate::records::{Condition, Event};
use crate::schedule::csv::unmarked;
use crate::standing::Date;
use crate::table::cell::number::Decimals;
use crate::table::cell::{Fault, Parsed, closest, is_dash, is_not_known};
use crate::table::{self, Aside, Desk, Onward, RowCells, Source, Table, number as kept};

/// How the bytes of a list are to be read.
pub type ReadOptions = table::ReadOptions<ListColumn>;

/// The cells of a row of a list.
type Cells<'a> = RowCells<'a, ListColumn>;

/// A list once read, with what was wrong or doubtful in it, in the order of the file.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Reading {
    /// The rows that tell something.
    pub rows: Vec<Filled>,
    /// How many tell nothing: neither condition nor event.
    pub left_out: usize,
    /// What was found on the way.
    pub findings: Vec<Finding>,
    /// Cells of the header under which something stands that is not read.
    pub(super) unread: Vec<usize>,
    pub(super) source: Source,
}

/// A row that tells something. What could not be understood is `None`, with a finding.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Filled {
    /// Number of the record in the file, from 0, the header not counted.
    pub record: u32,
    /// Number of the notice.
    pub number: String,
    /// The revision that the row has, empty where nobody says.
    pub revision: String,
    /// What happened.
    pub event: Event,
    /// How it was found; there at an inspection alone.
    pub condition: Option<Condition>,
    /// The day; `None` where the row has none.
    pub date: Option<Date>,
    /// Who.
    pub by: String,
    /// Where, if not at its position.
    pub place: String,
    /// Path or link of a photograph.
    pub photo: String,
    /// Free text.
    pub note: String,
}

/// Reads a list, CSV or workbook. Never fails: with errors among the findings, there is what could be understood. Whether the
/// rows can be so is for [`take`](super::take).
#[must_use]
pub fn read<'a>(bytes: impl Into<Cow<'a, [u8]>>, options: &ReadOptions) -> Reading {
    let ((rows, left_out), source, findings) = table::read::<Rows>(bytes.into(), options);
    let mut findings: Vec<Finding> = findings.into_iter().map(|finding| headers::judged(finding, &source)).collect();
    let unread = if source.cell_of(ListColumn::KEY).is_some() { headers::unread(&source) } else { Vec::new() };
    if let Some(cell) = unread.first().filter(|_| rows.is_empty() && left_out > 0) {
        findings.push(headers::nothing_said(&source, *cell));
    }
    Reading { rows, left_out, findings, unread, source }
}

#[derive(Default)]
struct Rows {
    rows: Vec<Filled>,
    left_out: usize,
}

impl Table for Rows {
    type Column = ListColumn;
    type Reader = ();
    type Row = ();
    type Product = (Vec<Filled>, usize);

    fn begin(_: &ReadOptions, _: Decimals) -> ((), Self) {
        ((), Self::default())
    }

    fn row((): &(), _: &mut Desk, _: &Cells<'_>) {}

    fn take(&mut self, desk: &mut Desk, cells: &Cells<'_>, (): (), _: Vec<Aside>) -> Onward {
        use ListColumn as C;
        if says_nothing(cells, C::Event) && says_nothing(cells, C::Condition) {
            self.left_out += 1;
            report_undecided(desk, cells);
            return Onward::Next;
        }
        let number = text(cells, C::Number);
        if number.is_empty() || is_not_known(&number) {
            cells.report_empty(desk, C::Number);
        }
        let date = word(desk, cells, C::Date, date);
        let Some((event, condition)) = deed(desk, cells) else { return Onward::Next };
        let [revision, by, place, photo, note] =
            [C::Revision, C::By, C::Place, C::Photo, C::Note].map(|column| text(cells, column));
        // A day that is not understood was reported; the row goes no further with it.
        if !number.is_empty() && (date.is_some() || says_nothing(cells, C::Date)) {
            let record = kept(cells.record.saturating_sub(1));
            self.rows.push(Filled { record, number, revision, event, condition, date, by, place, photo, note });
        }
        Onward::Next
    }

    fn finish(self, _: &mut Desk) -> Self::Product {
        (self.rows, self.left_out)
    }
}

/// A cell without the mark that keeps a spreadsheet from calculating.
fn cell<'a>(cells: &Cells<'a>, column: ListColumn) -> &'a str {
    unmarked(cells.text(column)).trim()
}

/// Whether nothing stands in a cell, or a dash; a cell that was refused says something that is not known.
fn says_nothing(cells: &Cells<'_>, column: ListColumn) -> bool {
    cells.is_blank(column) || is_dash(cell(cells, column))
}

/// The text of a cell.
fn text(cells: &Cells<'_>, column: ListColumn) -> String {
    let cell = cell(cells, column);
    if is_dash(cell) { String::new() } else { table::cell::text::tidied(cell) }
}

/// The value of a cell, where even "not known" is something that is not understood.
fn word<T>(desk: &mut Desk, cells: &Cells<'_>, column: ListColumn, parse: fn(&str) -> Parsed<T>) -> Option<T> {
    if cell(cells, column).is_empty() || says_nothing(cells, column) {
        return None;
    }
    let parsed = parse(cell(cells, column));
    parsed.fault.into_iter().for_each(|fault| cells.report(desk, column, fault));
    parsed.value
}

/// What happened, and how it was found; `None` where that is not understood.
fn deed(desk: &mut Desk, cells: &Cells<'_>) -> Option<(Event, Option<Condition>)> {
    use ListColumn as C;
    let condition = word(desk, cells, C::Condition, condition);
    let event = if says_nothing(cells, C::Event) { Event::Inspected } else { word(desk, cells, C::Event, event)? };
    if event == Event::Inspected && says_nothing(cells, C::Condition) {
        let fault = Fault::new(code::LIST_CONDITION_MISSING, "the inspection does not say how the notice was found");
        cells.report(
            desk,
            C::Condition,
            fault.help(format!("write one of {}", listed(&Condition::ALL.map(Condition::name)))),
        );
        return None;
    }
    if event != Event::Inspected && !says_nothing(cells, C::Condition) {
        let message = format!("a condition is found at an inspection, and the row says `{}`", event.name());
        let help = "empty one of the two cells, or make a row of its own for the inspection";
        cells.report(desk, C::Condition, Fault::new(code::LIST_CONDITION_NOT_UNDERSTOOD, message).help(help));
        return None;
    }
    (event != Event::Inspected || condition.is_some()).then_some((event, condition))
}

fn condition(text: &str) -> Parsed<Condition> {
    if let Some(condition) = Condition::named(text) {
        return Parsed::good(condition);
    }
    let fault = Fault::new(code::LIST_CONDITION_NOT_UNDERSTOOD, format!("`{text}` is no condition of a notice"));
    fault.help(meant(text, &Condition::ALL.map(Condition::name))).into()
}

fn event(text: &str) -> Parsed<Event> {
    match Event::named(text) {
        Some(Event::Printed) => {
            let fault = Fault::new(code::LIST_EVENT_NOT_UNDERSTOOD, "a printing is not recorded from a list");
            fault.help("`labels --record` records what it prints, and `records printed` what was printed before").into()
        }
        Some(Event::Destroyed) => {
            let fault =
                Fault::new(code::LIST_EVENT_NOT_UNDERSTOOD, "a list tells of what hangs there, and of no other copy");
            fault.help("`records destroyed` records that a copy was destroyed that lay printed").into()
        }
        Some(event) => Parsed::good(event),
        None => {
            let fault =
                Fault::new(code::LIST_EVENT_NOT_UNDERSTOOD, format!("`{text}` is nothing that happens to a notice"));
            fault.help(meant(text, &EVENTS.map(Event::name))).into()
        }
    }
}

fn date(text: &str) -> Parsed<Date> {
    if Date::is_ambiguous(text) {
        let message = format!("`{text}` could be two days, by which of day and month comes first");
        let fault = Fault::new(code::LIST_DATE_NOT_UNDERSTOOD, message);
        return fault.help("write year, month and day, such as 2027-06-01, or the month by its name").into();
    }
    let fault = || Fault::new(code::LIST_DATE_NOT_UNDERSTOOD, format!("`{text}` is no day of the calendar"));
    Date::parse(text)
        .ok_or_else(|| fault().help("write year, month and day, such as 2027-06-01, or `1 June 2027`"))
        .into()
}

fn meant(text: &str, known: &[&str]) -> String {
    match closest(text, known.iter().copied()) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("write one of {}", listed(known)),
    }
}

fn listed(words: &[&str]) -> String {
    format!("`{}`", words.join("`, `"))
}

/// A row that says something, and not what: whoever wrote it may have forgotten the rest.
fn report_undecided(desk: &mut Desk, cells: &Cells<'_>) {
    use ListColumn as C;
    let Some(column) =
        [C::Note, C::Photo, C::Place, C::Date, C::By].into_iter().find(|column| !says_nothing(cells, *column))
    else {
        return;
    };
    let message =
        format!("the row has something under `{}`, but neither condition nor event, and is left out", column.name());
    let help = "write how the notice was found, or what was done; empty the cell if the row is to be left out";
    cells.report(desk, column, Fault::new(code::LIST_ROW_LEFT_OUT, message).help(help));
}
