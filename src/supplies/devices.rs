//! Records into devices: every cell understood, and what the cells of one row say together.

use std::collections::HashMap;

use super::column::SupplyColumn;
use super::phasing::{AUTOTRANSFORMER, phasing};
use super::reader::ReadOptions;
use super::record::{DescribedDevice, Kind, Phasing, Starting};
use crate::finding::code;
use crate::table::cell::number::{self, Decimals};
use crate::table::cell::voltage::{self, Surroundings};
use crate::table::cell::{Fault, Parsed, devices, size, text, words};
use crate::table::value::Conductors;
use crate::table::{Aside, Desk, Onward, RowCells, Table, index, number as kept, spelling};

/// The cells of a record of a supplies file.
type Cells<'a> = RowCells<'a, SupplyColumn>;

/// The devices described so far, in the order of the file.
pub(super) struct Devices {
    decimals: Decimals,
    /// How many devices may be named in one cell.
    limit: usize,
    /// What empty cells mean.
    defaults: Vec<(SupplyColumn, String)>,
    described: Vec<DescribedDevice>,
    /// The record that first described a designation at a location.
    first_of: HashMap<(String, String), usize>,
}

impl Table for Devices {
    type Column = SupplyColumn;
    type Reader = ();
    type Row = ();
    type Product = Vec<DescribedDevice>;

    fn begin(options: &ReadOptions, decimals: Decimals) -> ((), Self) {
        let devices = Self {
            decimals,
            limit: options.limits.devices_per_row,
            defaults: options.usable_defaults(),
            described: Vec::new(),
            first_of: HashMap::new(),
        };
        ((), devices)
    }

    fn row((): &(), _: &mut Desk, _: &Cells<'_>) {}

    /// Without a designation a row is read all the same, for what is wrong in it.
    fn take(&mut self, desk: &mut Desk, cells: &Cells<'_>, (): (), _: Vec<Aside>) -> Onward {
        let designation = cells.key();
        if designation.is_none() {
            cells.report_empty(desk, SupplyColumn::Device);
        }
        let mut filled = *cells;
        filled.fill(&self.defaults, |_| true);
        let mut device = self.device(desk, &filled);
        report_together(desk, &filled, &device);
        if let Some(designation) = designation {
            report_several(desk, cells, &designation);
            device.designation = designation;
            self.report_twice(desk, cells, &device);
            self.described.push(device);
        }
        Onward::Next
    }

    fn finish(self, desk: &mut Desk) -> Vec<DescribedDevice> {
        if !self.defaults.is_empty() {
            self.device(desk, &RowCells::of_job(&self.defaults));
        }
        self.described
    }
}

impl Devices {
    /// The device that the cells describe, its designation left aside.
    fn device(&self, desk: &mut Desk, cells: &Cells<'_>) -> DescribedDevice {
        use SupplyColumn as C;
        let Self { decimals, limit, .. } = *self;
        let names = |text: &str| devices::designations(text, limit);
        let earthing = cells.value(desk, C::Earthing, words::earthing);
        let around = Surroundings { conductors: Conductors::default(), earthing, decimals };
        DescribedDevice {
            record: kept(cells.record.saturating_sub(1)),
            designation: String::new(),
            kind: cells.needed(desk, C::Kind, kind),
            fed_from: cells.value(desk, C::FedFrom, names).unwrap_or_default(),
            location: cells.value(desk, C::Location, text::free).unwrap_or_default(),
            locking: cells.value(desk, C::Locking, text::locking),
            interlock: cells.value(desk, C::Interlock, text::free),
            interlock_kind: cells.value(desk, C::InterlockKind, words::interlock_kind),
            poles: cells.value(desk, C::Poles, words::poles),
            nominal: cells.value(desk, C::Nominal, |text| voltage::nominal(text, around)),
            earthing,
            in_step_with: cells.value(desk, C::InStepWith, names).unwrap_or_default(),
            phasing: cells.value(desk, C::Phasing, phasing),
            starts_by_itself: cells.value(desk, C::StartsByItself, starting),
            off_position: cells.value(desk, C::OffPosition, words::yes_no),
            size: cells.value(desk, C::Size, |text| size::notice(text, decimals)),
            reading_distance: cells.value(desk, C::ReadingDistance, |text| number::distance(text, decimals)),
            environment: cells.value(desk, C::Environment, |text| words::environment(text, decimals)),
            surface: cells.value(desk, C::Surface, words::surface),
            record_link: cells.value(desk, C::RecordLink, text::record_link).unwrap_or_default(),
            note: cells.value(desk, C::Note, text::free),
            not_known: cells.not_known(),
        }
    }

    /// Two rows for one device would be two devices with one name, and nobody could say which one a feed means.
    fn report_twice(&mut self, desk: &mut Desk, cells: &Cells<'_>, device: &DescribedDevice) {
        let record = index(device.record) + 1;
        let key = (spelling::key(&device.designation), spelling::key(&device.location));
        let first = *self.first_of.entry(key).or_insert(record);
        if first == record {
            return;
        }
        let there = desk.source.record_place(first).line;
        let place = if device.location.is_empty() { String::new() } else { format!(" at `{}`", device.location) };
        let message = format!("`{}`{place} is described in line {there} already", device.designation);
        let help = "keep one of the rows; a device that several things feed names them all in `fed_from`";
        cells.report(desk, SupplyColumn::Device, Fault::new(code::DEVICE_DESCRIBED_TWICE, message).help(help));
    }
}

/// How a source starts.
fn starting(text: &str) -> Parsed<Starting> {
    match words::yes_no(text).value {
        Some(true) => Parsed::good(Starting::ByItself),
        Some(false) => Parsed::good(Starting::NotByItself),
        None => words::one_of(
            text,
            &[("yes", Starting::ByItself), ("by hand", Starting::ByHand), ("no", Starting::NotByItself)],
        ),
    }
}

/// What a row describes.
fn kind(text: &str) -> Parsed<Kind> {
    let mut parsed = words::one_of(text, &Kind::ALL.map(|kind| (kind.name(), kind)));
    let letters: String = text.chars().filter(|letter| letter.is_alphabetic()).flat_map(char::to_lowercase).collect();
    if letters == "autotransformer" {
        parsed.fault = parsed.fault.map(|fault| fault.help(AUTOTRANSFORMER));
    }
    parsed
}

/// A row speaks of one device: a name that holds ` + ` could not be told from two names where it feeds another.
fn report_several(desk: &mut Desk, cells: &Cells<'_>, designation: &str) {
    if format!(" {designation} ").contains(" + ") {
        let message = format!("`{designation}` reads as several devices, and a row describes one");
        let fault = Fault::new(code::SEVERAL_DEVICES_IN_ONE_ROW, message);
        cells.report(desk, SupplyColumn::Device, fault.help("give each device a row of its own"));
    }
}

/// Reports cells that contradict the kind of the device or lack another cell of the row.
fn report_together(desk: &mut Desk, cells: &Cells<'_>, device: &DescribedDevice) {
    report_source(desk, cells, device);
    report_interlock(desk, cells, device);
    let Some(kind) = device.kind else { return };
    if device.off_position.is_some() && kind != Kind::Changeover {
        let message = format!("`off_position` speaks of a changeover, and `kind` is `{}` here", kind.name());
        let help = "empty the cell, or write `changeover` in `kind` if that is what it is";
        cells.report(
            desk,
            SupplyColumn::OffPosition,
            Fault::new(code::OFF_POSITION_WITHOUT_CHANGEOVER, message).help(help),
        );
    }
    if matches!(device.phasing, Some(Phasing::Clock(_))) && kind != Kind::Transformer {
        let message = format!("a vector group speaks of a transformer, and `kind` is `{}` here", kind.name());
        let help = "write `proved` if line 1 here is line 1 of what feeds it, and nothing if that is not known";
        cells.report(
            desk,
            SupplyColumn::Phasing,
            Fault::new(code::VECTOR_GROUP_WITHOUT_TRANSFORMER, message).help(help),
        );
    }
}

/// A source begins the network, so nothing feeds it, and its voltage can be taken from nowhere else.
fn report_source(desk: &mut Desk, cells: &Cells<'_>, device: &DescribedDevice) {
    if device.kind != Some(Kind::Source) {
        return;
    }
    if let [first, ..] = device.fed_from.as_slice() {
        let message = format!("a source begins the network, and this one is fed from `{first}`");
        let help = "name the source in the `fed_from` of what it feeds; if it passes energy on, `kind` is another";
        cells.report(desk, SupplyColumn::FedFrom, Fault::new(code::SOURCE_IS_FED, message).help(help));
    }
    if cells.is_blank(SupplyColumn::Nominal) || device.not_known.contains(SupplyColumn::Nominal) {
        let message = "the nominal voltage of this source is not given, so no voltage that it causes is known";
        let fault = Fault::new(code::SOURCE_WITHOUT_VOLTAGE, message);
        cells.report(desk, SupplyColumn::Nominal, fault.help("write `230/400`, `230`, `600 dc` or what it is"));
    }
}

fn report_interlock(desk: &mut Desk, cells: &Cells<'_>, device: &DescribedDevice) {
    use SupplyColumn as C;
    let (message, column) = match (&device.interlock, device.interlock_kind) {
        (Some(name), None) if cells.is_blank(C::InterlockKind) => {
            (format!("interlock `{name}` has no kind, so it lifts nothing"), C::InterlockKind)
        }
        (None, Some(_)) if cells.is_blank(C::Interlock) => {
            ("the interlock has a kind and no name, so it ties no devices together".to_owned(), C::Interlock)
        }
        (Some(_) | None, Some(_) | None) => return,
    };
    let help = "give its name, and `coupled`, `trapped-key`, `auxiliary-contact` or `no-parallel`, on every row of it";
    cells.report(desk, column, Fault::new(code::INTERLOCK_INCOMPLETE, message).help(help));
}
