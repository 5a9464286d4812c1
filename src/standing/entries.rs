//! Records into entries: every cell understood, and what the cells of one row say together.

use std::collections::HashMap;

use super::column::StandingColumn;
use super::date::Date;
use super::reader::ReadOptions;
use super::record::{Entry, Kind};
use crate::finding::code;
use crate::table::cell::number::{self, Decimals};
use crate::table::cell::{Fault, Parsed, closest, size, text, words};
use crate::table::{Aside, Desk, Onward, RowCells, Table, number as kept, spelling};

/// The cells of a record of a list.
type Cells<'a> = RowCells<'a, StandingColumn>;

/// The entries read so far, in the order of the file.
pub(super) struct Entries {
    decimals: Decimals,
    entries: Vec<Entry>,
    /// The record that first bore a number.
    first_of: HashMap<String, usize>,
}

impl Table for Entries {
    type Column = StandingColumn;
    type Reader = ();
    type Row = ();
    type Product = Vec<Entry>;

    fn begin(_: &ReadOptions, decimals: Decimals) -> ((), Self) {
        ((), Self { decimals, entries: Vec::new(), first_of: HashMap::new() })
    }

    fn row((): &(), _: &mut Desk, _: &Cells<'_>) {}

    /// Without a number or kind a row is read all the same, for what is wrong in it.
    fn take(&mut self, desk: &mut Desk, cells: &Cells<'_>, (): (), _: Vec<Aside>) -> Onward {
        let number = cells.key();
        if number.is_none() {
            cells.report_empty(desk, StandingColumn::Number);
        }
        let kind = cells.needed(desk, StandingColumn::Kind, kind);
        let entry = self.entry(desk, cells, kind.unwrap_or(Kind::PeriodicInspection));
        report_dates(desk, cells, &entry);
        if let (Some(number), Some(_)) = (number, kind) {
            self.report_twice(desk, cells, &number);
            self.entries.push(Entry { number, ..entry });
        }
        Onward::Next
    }

    fn finish(self, _: &mut Desk) -> Vec<Entry> {
        self.entries
    }
}

impl Entries {
    /// The entry that the cells describe, its number left aside.
    fn entry(&self, desk: &mut Desk, cells: &Cells<'_>, kind: Kind) -> Entry {
        use StandingColumn as C;
        let decimals = self.decimals;
        Entry {
            record: kept(cells.record.saturating_sub(1)),
            number: String::new(),
            kind,
            area: cells.value(desk, C::Area, text::free).unwrap_or_default(),
            position: cells.value(desk, C::Position, text::free).unwrap_or_default(),
            last_inspection: cells.value(desk, C::LastInspection, date),
            next_inspection: cells.value(desk, C::NextInspection, date),
            words: cells.value(desk, C::Words, text::free),
            size: cells.value(desk, C::Size, |text| size::notice(text, decimals)),
            reading_distance: cells.value(desk, C::ReadingDistance, |text| number::distance(text, decimals)),
            environment: cells.value(desk, C::Environment, |text| words::environment(text, decimals)),
            surface: cells.value(desk, C::Surface, words::surface),
            record_link: cells.value(desk, C::RecordLink, text::record_link).unwrap_or_default(),
            note: cells.value(desk, C::Note, text::free),
        }
    }

    /// Two notices with one number could not be told apart when one is to be replaced.
    fn report_twice(&mut self, desk: &mut Desk, cells: &Cells<'_>, number: &str) {
        let first = *self.first_of.entry(spelling::key(number)).or_insert(cells.record);
        if first == cells.record {
            return;
        }
        let there = desk.source.record_place(first).line;
        let message = format!("`{number}` is the notice of line {there} already");
        let fault = Fault::new(code::STANDING_NUMBER_TAKEN, message);
        cells.report(desk, StandingColumn::Number, fault.help("give each notice a number of its own"));
    }
}

/// What a notice speaks of.
fn kind(text: &str) -> Parsed<Kind> {
    let parsed = words::one_of(text, &Kind::ALL.map(|kind| (kind.name(), kind)));
    if parsed.value.is_some() {
        return parsed;
    }
    let names = Kind::ALL.map(Kind::name);
    let fault = Fault::new(code::STANDING_KIND_UNKNOWN, format!("no standing notice is called `{text}`"));
    match closest(text, names.into_iter()) {
        Some(near) => fault.help(format!("did you mean `{near}`?")).into(),
        None => fault.help(format!("write one of `{}`", names.join("`, `"))).into(),
    }
}

fn date(text: &str) -> Parsed<Date> {
    match Date::parse(text) {
        Some(date) if Date::is_ambiguous(text) => {
            let message = format!("`{text}` is read with the day first, as {date}");
            let fault = Fault::new(code::STANDING_DATE_AMBIGUOUS, message);
            Parsed::remarked(date, fault.help(format!("write `{date}`, which can be read in one way only")))
        }
        Some(date) => Parsed::good(date),
        None => Fault::new(code::STANDING_DATE_NOT_UNDERSTOOD, format!("`{text}` is no day of the calendar"))
            .help("write year-month-day or day month year with four figures for the year: `2026-05-14`, `14 May 2026`")
            .into(),
    }
}

/// Reports dates that contradict each other, or that the notice does not show.
fn report_dates(desk: &mut Desk, cells: &Cells<'_>, entry: &Entry) {
    use StandingColumn as C;
    if let (Some(last), Some(next)) = (entry.last_inspection, entry.next_inspection)
        && next <= last
    {
        let message = format!("the next inspection, {next}, does not come after the last one, {last}");
        let fault = Fault::new(code::STANDING_DATES_REVERSED, message);
        cells.report(desk, C::NextInspection, fault.help("look whether the two cells changed places"));
    }
    let given = [(C::LastInspection, entry.last_inspection), (C::NextInspection, entry.next_inspection)];
    for (column, _) in given.into_iter().filter(|(_, date)| date.is_some()) {
        if entry.kind != Kind::PeriodicInspection {
            let message = format!("a notice of the kind `{}` shows no date of inspection", entry.kind.name());
            let fault = Fault::new(code::STANDING_DATE_NOT_SHOWN, message);
            let help = "empty the cell, or give the date a notice of the kind `periodic-inspection`";
            cells.report(desk, column, fault.help(help));
        }
    }
}
