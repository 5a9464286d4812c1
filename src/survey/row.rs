//! One record into one row: every cell looked at, then understood.

use super::cell::devices::{self, Which};
use super::cell::number::{self, Decimals};
use super::cell::voltage::{self, Surroundings};
use super::cell::{Fault, Parsed, is_dash, is_not_known, text, words};
use super::column::Column;
use super::desk::Desk;
use super::record::Row;
use super::source::{Source, number as kept};
use super::value::{Isolation, Volts};
use crate::finding::{Code, code};

/// Sets of columns are the bits of one word.
const _: () = assert!(Column::COUNT <= 64);

/// A set of columns.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Columns(u64);

impl Columns {
    pub(super) fn insert(&mut self, column: Column) {
        self.0 |= 1 << column as u32;
    }

    pub(super) fn contains(self, column: Column) -> bool {
        self.0 & (1 << column as u32) != 0
    }

    /// The columns of the set, in order.
    fn iter(self) -> impl Iterator<Item = Column> {
        let mut bits = self.0;
        std::iter::from_fn(move || {
            let column = Column::ALL.get(bits.trailing_zeros() as usize).copied()?;
            bits &= bits - 1;
            Some(column)
        })
    }
}

/// A cell without the blanks round it.
fn trimmed(cell: &str) -> &str {
    let is_plain = |byte: Option<&u8>| byte.is_some_and(u8::is_ascii_graphic);
    if is_plain(cell.as_bytes().first()) && is_plain(cell.as_bytes().last()) { cell } else { cell.trim() }
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

/// The cells of one record by the column that they belong to, trimmed.
#[derive(Clone, Copy)]
pub(super) struct RowCells<'a> {
    /// Number of the record in the source, where 0 is the header.
    pub(super) record: usize,
    /// How many cells the record has.
    pub(super) width: usize,
    /// The first cell beyond the header that holds something.
    pub(super) surplus: Option<usize>,
    texts: [&'a str; Column::COUNT],
    /// Columns whose cell says something.
    filled: Columns,
    /// Columns whose text is the job's, not the file's.
    defaulted: Columns,
    /// Columns whose cell was refused before it was read.
    refused: Columns,
    voice: Voice,
}

impl<'a> RowCells<'a> {
    /// The cells of the record last found.
    pub(super) fn new(source: &Source, width: usize, cell: impl Fn(usize) -> Option<&'a str>) -> Self {
        let mut texts = [""; Column::COUNT];
        let mut filled = Columns::default();
        for (column, position) in &source.present {
            let found = trimmed(cell(*position).unwrap_or_default());
            if let Some(text) = texts.get_mut(*column as usize).filter(|_| !found.is_empty()) {
                *text = found;
                filled.insert(*column);
            }
        }
        let surplus =
            (source.headers.len()..width).find(|position| cell(*position).is_some_and(|c| !c.trim().is_empty()));
        let record = source.records.len().saturating_sub(1);
        let voice = if surplus.is_some() { Voice::Displaced } else { Voice::Record };
        let (defaulted, refused) = (Columns::default(), Columns::default());
        Self { record, width, surplus, texts, filled, defaulted, refused, voice }
    }

    /// The job's defaults as if they were a record, so that their own faults are reported once.
    pub(super) fn of_job(defaults: &'a [(Column, String)]) -> Self {
        let mut cells = Self::empty(Voice::Job);
        cells.fill(defaults, |_| true);
        cells
    }

    /// The job's defaults for some columns, with nothing more to report.
    pub(super) fn silent(defaults: &'a [(Column, String)], wanted: impl Fn(Column) -> bool) -> Self {
        let mut cells = Self::empty(Voice::Silent);
        cells.fill(defaults, wanted);
        cells
    }

    fn empty(voice: Voice) -> Self {
        let (filled, defaulted, refused) = (Columns::default(), Columns::default(), Columns::default());
        Self { record: 0, width: 0, surplus: None, texts: [""; Column::COUNT], filled, defaulted, refused, voice }
    }

    /// What the cell of a column says; empty where it says nothing or was refused.
    pub(super) fn text(&self, column: Column) -> &'a str {
        self.texts.get(column as usize).copied().unwrap_or_default()
    }

    /// Fills empty cells with what the job says of their column.
    pub(super) fn fill(&mut self, defaults: &'a [(Column, String)], wanted: impl Fn(Column) -> bool) {
        for (column, default) in defaults {
            let may = wanted(*column) && !self.refused.contains(*column);
            if let Some(text) = self.texts.get_mut(*column as usize).filter(|text| may && text.is_empty()) {
                *text = default.trim();
                self.filled.insert(*column);
                self.defaulted.insert(*column);
            }
        }
    }

    /// Takes a cell out, because of what it holds.
    pub(super) fn refuse(&mut self, column: Column) {
        self.refused.insert(column);
        if let Some(text) = self.texts.get_mut(column as usize) {
            *text = "";
        }
    }

    /// The columns whose cell says something, in order.
    pub(super) fn filled(&self) -> impl Iterator<Item = Column> + use<> {
        self.filled.iter()
    }

    pub(super) fn is_refused(&self, column: Column) -> bool {
        self.refused.contains(column)
    }

    /// Reports a fault of a cell, unless it is not the cell's own.
    pub(super) fn report(&self, desk: &mut Desk, column: Column, fault: Fault) {
        match self.voice {
            Voice::Record if !self.defaulted.contains(column) || needs_row(fault.code) => {
                let enclosure = text::tidied(self.text(Column::Enclosure));
                desk.cell_of(&enclosure, self.record, desk.source.cell_of(column), fault);
            }
            Voice::Job if !needs_row(fault.code) => {
                let message = format!("the job's default for `{}`: {}", column.name(), fault.message);
                desk.job(Fault { message, ..fault });
            }
            Voice::Record | Voice::Job | Voice::Displaced | Voice::Silent => {}
        }
    }

    /// The value of a cell, `None` where it is empty, not known or faulty.
    pub(super) fn value<T>(&self, desk: &mut Desk, column: Column, parse: impl FnOnce(&str) -> Parsed<T>) -> Option<T> {
        let text = self.text(column);
        if text.is_empty() {
            return None;
        }
        if is_not_known(text) {
            self.report_not_known(desk, column);
            return None;
        }
        let parsed = parse(text);
        if let Some(fault) = parsed.fault {
            self.report(desk, column, fault);
        }
        parsed.value
    }

    /// Where an empty cell means that there is nothing, one that says "not known" must not be taken for it.
    fn report_not_known(&self, desk: &mut Desk, column: Column) {
        if !blank_is_unknown(column) && !column.needed() {
            let message = format!("`{}` is not known here", column.name());
            let help = "find it out before the notice is relied on; a blank cell would say that there is none";
            self.report(desk, column, Fault::new(code::VALUE_NOT_KNOWN, message).help(help));
        }
    }
}

/// Whether a fault lies in how the cells of a row belong together, so that one cell alone cannot have it.
fn needs_row(code: Code) -> bool {
    [code::VOLTAGE_NEEDS_EARTHING, code::LOCATIONS_DO_NOT_MATCH, code::LOCATION_WITHOUT_DEVICE, code::NEEDED_CELL_EMPTY]
        .contains(&code)
}

/// Columns in which a blank cell already says that nobody knows.
fn blank_is_unknown(column: Column) -> bool {
    use Column as C;
    match column {
        C::Name | C::Area | C::Role | C::Serves | C::FedFrom | C::Source | C::Nominal | C::Conductors => true,
        C::Earthing | C::DeviceKind | C::Poles | C::Locking | C::Space | C::Environment | C::Surface => true,
        C::Basis | C::Drawing | C::Note | C::UpstreamIsolator | C::UpstreamLocation => true,
        C::Enclosure | C::Positions | C::Circuit | C::VoltageToEarth | C::Expected | C::Isolator => false,
        C::IsolatorLocation | C::OnLoad | C::Order | C::BeforeIsolating | C::Interlock | C::InterlockKind => false,
        C::LiveAfter | C::NeutralFrom | C::StoredV | C::DischargeS | C::PvSeries | C::PvVoc | C::PvBeta => false,
        C::PvTmin | C::NoConfusion | C::PurposeObvious | C::Size | C::ReadingDistance | C::SignDistance => false,
        C::RecordLink => false,
    }
}

/// What the rows of one survey are read with.
#[derive(Clone, Copy, Debug)]
pub(super) struct RowRules {
    pub(super) decimals: Decimals,
    pub(super) devices: usize,
    pub(super) positions: usize,
    pub(super) cell_chars: usize,
}

impl RowRules {
    /// The row that the cells describe.
    pub(super) fn row(self, desk: &mut Desk, cells: &RowCells<'_>) -> Row {
        let decimals = self.decimals;
        let mut row = self.supply(desk, cells);
        row.isolation = self.isolation(desk, cells);
        row.device_kind = cells.value(desk, Column::DeviceKind, words::device_kind);
        row.poles = cells.value(desk, Column::Poles, words::poles);
        row.on_load = cells.value(desk, Column::OnLoad, words::yes_no);
        row.order = cells.value(desk, Column::Order, |text| number::order(text, decimals));
        row.before_isolating = cells.value(desk, Column::BeforeIsolating, text::free);
        row.locking = cells.value(desk, Column::Locking, |text| Parsed::good(text::tidied(text)));
        row.interlock = cells.value(desk, Column::Interlock, text::free);
        row.interlock_kind = cells.value(desk, Column::InterlockKind, words::interlock_kind);
        row.live_after = cells.value(desk, Column::LiveAfter, text::free);
        row.upstream = self.upstream(desk, cells);
        row.neutral_from = cells.value(desk, Column::NeutralFrom, text::free);
        row.stored = cells.value(desk, Column::StoredV, |text| voltage::stored(text, decimals));
        row.discharge_seconds = cells.value(desk, Column::DischargeS, |text| number::seconds(text, decimals));
        row.pv_series = cells.value(desk, Column::PvSeries, |text| number::modules(text, decimals));
        row.pv_voc = cells.value(desk, Column::PvVoc, |text| voltage::module(text, decimals));
        row.pv_beta = cells.value(desk, Column::PvBeta, |text| number::temperature_coefficient(text, decimals));
        row.pv_tmin = cells.value(desk, Column::PvTmin, |text| number::lowest_temperature(text, decimals));
        row.basis = cells.value(desk, Column::Basis, words::basis);
        row
    }

    /// The half of a row that says what arrives.
    fn supply(self, desk: &mut Desk, cells: &RowCells<'_>) -> Row {
        let decimals = self.decimals;
        let conductors = cells.value(desk, Column::Conductors, super::cell::conductors::conductors).unwrap_or_default();
        let earthing = cells.value(desk, Column::Earthing, words::earthing);
        let around = Surroundings { conductors: &conductors, earthing, decimals };
        let nominal = cells.value(desk, Column::Nominal, |text| voltage::nominal(text, around));
        Row {
            record: kept(cells.record.saturating_sub(1)),
            circuit: needed(desk, cells, Column::Circuit, text::free).unwrap_or_default(),
            serves: cells.value(desk, Column::Serves, text::free),
            fed_from: cells.value(desk, Column::FedFrom, text::free),
            source: cells.value(desk, Column::Source, words::source),
            nominal,
            conductors,
            earthing,
            voltage_to_earth: needed::<Volts>(desk, cells, Column::VoltageToEarth, |text| {
                voltage::volts(text, decimals)
            }),
            expected: cells.value(desk, Column::Expected, words::yes_no),
            not_known: not_known(cells),
            ..Row::default()
        }
    }

    fn isolation(self, desk: &mut Desk, cells: &RowCells<'_>) -> Option<Isolation> {
        let named =
            devices::isolation(cells.text(Column::Isolator), cells.text(Column::IsolatorLocation), self.devices);
        report_devices(desk, cells, named.faults, (Column::Isolator, Column::IsolatorLocation));
        match &named.isolation {
            None if cells.text(Column::Isolator).is_empty() || is_dash(cells.text(Column::Isolator)) => {
                report_empty(desk, cells, Column::Isolator);
            }
            None | Some(Isolation::By(_) | Isolation::Impossible | Isolation::Unknown) => {}
        }
        named.isolation
    }

    fn upstream(self, desk: &mut Desk, cells: &RowCells<'_>) -> Option<Isolation> {
        let columns = (Column::UpstreamIsolator, Column::UpstreamLocation);
        let (devices, locations) = (cells.text(columns.0), cells.text(columns.1));
        let named = devices::isolation(devices, locations, self.devices);
        report_devices(desk, cells, named.faults, columns);
        if devices.is_empty() && !locations.is_empty() && !is_dash(locations) {
            let fault = Fault::new(code::LOCATION_WITHOUT_DEVICE, "a location is given, and no device");
            cells.report(desk, columns.1, fault.help("name the device that is there in `upstream_isolator`"));
        }
        named.isolation
    }
}

/// The columns of a row whose cell says that nobody knows.
fn not_known(cells: &RowCells<'_>) -> Vec<Column> {
    cells.filled().filter(|column| is_not_known(cells.text(*column))).collect()
}

/// The value of a cell that must hold one.
fn needed<T>(
    desk: &mut Desk,
    cells: &RowCells<'_>,
    column: Column,
    parse: impl FnOnce(&str) -> Parsed<T>,
) -> Option<T> {
    let text = cells.text(column);
    if text.is_empty() || is_not_known(text) || is_dash(text) {
        report_empty(desk, cells, column);
        return None;
    }
    cells.value(desk, column, parse)
}

/// Reports an empty cell of a needed column, where the column is there and nothing else was said of the cell.
pub(super) fn report_empty(desk: &mut Desk, cells: &RowCells<'_>, column: Column) {
    if desk.source.cell_of(column).is_none() || cells.is_refused(column) {
        return;
    }
    let said = if cells.text(column).is_empty() { "empty" } else { "not known" };
    let help = if column == Column::Isolator {
        "name the device; write `none` if it cannot be isolated, `?` if it is not known"
    } else if column == Column::Enclosure {
        "write the designation on every row of the enclosure"
    } else {
        "fill it in: without it the notice would say less than a person must know"
    };
    let message = format!("the needed cell `{}` is {said}", column.name());
    cells.report(desk, column, Fault::new(code::NEEDED_CELL_EMPTY, message).help(help));
}

fn report_devices(desk: &mut Desk, cells: &RowCells<'_>, faults: Vec<(Which, Fault)>, columns: (Column, Column)) {
    for (which, fault) in faults {
        let column = match which {
            Which::Devices => columns.0,
            Which::Locations => columns.1,
        };
        cells.report(desk, column, fault);
    }
}
