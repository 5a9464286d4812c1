//! One record of a survey into one row: every cell understood.

use super::column::Column;
use super::record::{Further, Row};
use crate::finding::code;
use crate::limits::Limits;
use crate::table::cell::conductors::conductors;
use crate::table::cell::devices::{self, Which};
use crate::table::cell::number::{self, Decimals};
use crate::table::cell::voltage::{self, Surroundings};
use crate::table::cell::{Fault, is_dash, text, words};
use crate::table::value::{Isolation, Volts};
use crate::table::{Columns, Desk, RowCells, number as kept};

/// What the rows of one survey are read with.
#[derive(Clone, Copy, Debug)]
pub(super) struct RowRules {
    pub(super) decimals: Decimals,
    pub(super) devices: usize,
    pub(super) positions: usize,
    pub(super) cell_chars: usize,
    /// The columns of what only some rows say.
    further: Columns<Column>,
}

/// The columns of what only some rows say.
const FURTHER: [Column; 13] = [
    Column::BeforeIsolating,
    Column::Interlock,
    Column::InterlockKind,
    Column::LiveAfter,
    Column::UpstreamIsolator,
    Column::UpstreamLocation,
    Column::NeutralFrom,
    Column::StoredV,
    Column::DischargeS,
    Column::PvSeries,
    Column::PvVoc,
    Column::PvBeta,
    Column::PvTmin,
];

impl RowRules {
    /// The rules within these limits, for a file whose numbers are written so.
    pub(super) fn new(limits: &Limits, decimals: Decimals) -> Self {
        let Limits { devices_per_row: devices, positions, cell_chars, .. } = *limits;
        Self { decimals, devices, positions, cell_chars, further: FURTHER.into_iter().collect() }
    }

    /// The row that the cells describe.
    pub(super) fn row(self, desk: &mut Desk, cells: &RowCells<'_, Column>) -> Row {
        let decimals = self.decimals;
        let mut row = self.supply(desk, cells);
        row.isolation = self.isolation(desk, cells);
        row.device_kind = cells.value(desk, Column::DeviceKind, words::device_kind);
        row.poles = cells.value(desk, Column::Poles, words::poles);
        row.on_load = cells.value(desk, Column::OnLoad, words::yes_no);
        row.order = cells.value(desk, Column::Order, |text| number::order(text, decimals));
        row.locking = cells.value(desk, Column::Locking, text::locking);
        // Most rows say nothing of all this.
        let further = cells.says_any_of(self.further).then(|| self.further(desk, cells));
        row.further = further.filter(|further| *further != Further::default()).map(Box::new);
        row.basis = cells.value(desk, Column::Basis, words::basis);
        row
    }

    /// What only some rows say.
    fn further(self, desk: &mut Desk, cells: &RowCells<'_, Column>) -> Further {
        let decimals = self.decimals;
        let stored = cells.value(desk, Column::StoredV, |text| voltage::stored(text, decimals));
        let discharge_seconds =
            cells.value(desk, Column::DischargeS, |text| voltage::discharge(text, stored, decimals));
        Further {
            before_isolating: cells.value(desk, Column::BeforeIsolating, text::told),
            interlock: cells.value(desk, Column::Interlock, text::told),
            interlock_kind: cells.value(desk, Column::InterlockKind, words::interlock_kind),
            live_after: cells.value(desk, Column::LiveAfter, text::told),
            upstream: self.upstream(desk, cells),
            neutral_from: cells.value(desk, Column::NeutralFrom, text::told),
            stored,
            discharge_seconds,
            pv_series: cells.value(desk, Column::PvSeries, |text| number::modules(text, decimals)),
            pv_voc: cells.value(desk, Column::PvVoc, |text| voltage::module(text, decimals)),
            pv_beta: cells.value(desk, Column::PvBeta, |text| number::temperature_coefficient(text, decimals)),
            pv_tmin: cells.value(desk, Column::PvTmin, |text| number::lowest_temperature(text, decimals)),
        }
    }

    /// The half of a row that says what arrives.
    fn supply(self, desk: &mut Desk, cells: &RowCells<'_, Column>) -> Row {
        let decimals = self.decimals;
        let conductors = cells.value(desk, Column::Conductors, conductors).unwrap_or_default();
        let earthing = cells.value(desk, Column::Earthing, words::earthing);
        let around = Surroundings { conductors, earthing, decimals };
        let nominal = cells.value(desk, Column::Nominal, |text| voltage::nominal(text, around));
        Row {
            record: kept(cells.record.saturating_sub(1)),
            circuit: cells.needed(desk, Column::Circuit, text::free).unwrap_or_default(),
            serves: cells.value(desk, Column::Serves, text::free),
            fed_from: cells.value(desk, Column::FedFrom, devices::fed_from),
            source: cells.value(desk, Column::Source, words::source),
            nominal,
            conductors,
            earthing,
            voltage_to_earth: cells
                .needed::<Volts>(desk, Column::VoltageToEarth, |text| voltage::volts(text, decimals)),
            expected: cells.value(desk, Column::Expected, words::yes_no),
            not_known: cells.not_known(),
            ..Row::default()
        }
    }

    fn isolation(self, desk: &mut Desk, cells: &RowCells<'_, Column>) -> Option<Isolation> {
        let named =
            devices::isolation(cells.text(Column::Isolator), cells.text(Column::IsolatorLocation), self.devices);
        report_devices(desk, cells, named.faults, (Column::Isolator, Column::IsolatorLocation));
        match &named.isolation {
            None if cells.text(Column::Isolator).is_empty() || is_dash(cells.text(Column::Isolator)) => {
                cells.report_empty(desk, Column::Isolator);
            }
            None | Some(Isolation::By(_) | Isolation::Impossible | Isolation::Unknown) => {}
        }
        named.isolation
    }

    fn upstream(self, desk: &mut Desk, cells: &RowCells<'_, Column>) -> Option<Isolation> {
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

fn report_devices(
    desk: &mut Desk,
    cells: &RowCells<'_, Column>,
    faults: Vec<(Which, Fault)>,
    columns: (Column, Column),
) {
    for (which, fault) in faults {
        let column = match which {
            Which::Devices => columns.0,
            Which::Locations => columns.1,
        };
        cells.report(desk, column, fault);
    }
}
