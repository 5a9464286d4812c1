//! The survey once read: enclosures, and the ways in which energy reaches each of them.

use super::column::Column;
use crate::finding::Place;
use crate::length::{Length, Size};
use crate::table::value::{
    Basis, Conductors, Declaration, DeviceKind, Earthing, Environment, InterlockKind, Isolation, Nominal, NoticeSize,
    Poles, RecordLink, Role, SourceKind, Surface, Volts,
};
use crate::table::{Columns, Source};

/// One way in which energy can reach, or remain in, an enclosure.
///
/// A cell that is empty, or that could not be understood (then there is a finding), is `None`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Row {
    /// Number of the record in the file, from 0, the header not counted: with a column it is a place.
    pub record: u32,
    /// Designation of the circuit.
    pub circuit: String,
    /// What it does here.
    pub serves: Option<String>,
    /// The board, transformer or source from which it comes.
    pub fed_from: Option<String>,
    /// Where its energy comes from in the end; `None` is unknown, never mains.
    pub source: Option<SourceKind>,
    /// Nominal voltage.
    pub nominal: Option<Nominal>,
    /// Live conductors present; empty if not said.
    pub conductors: Conductors,
    /// Earthing arrangement.
    pub earthing: Option<Earthing>,
    /// Declared highest nominal voltage to earth; `None` only where the cell is faulty.
    pub voltage_to_earth: Option<Volts>,
    /// Whether a person would expect this voltage here.
    pub expected: Option<bool>,
    /// What isolates it; `None` only where the cell is empty or faulty.
    pub isolation: Option<Isolation>,
    /// What kind of device.
    pub device_kind: Option<DeviceKind>,
    /// What the device switches.
    pub poles: Option<Poles>,
    /// Whether it may be opened under load.
    pub on_load: Option<bool>,
    /// Place in a sequence, from 1.
    pub order: Option<u16>,
    /// What to do or warn of first.
    pub before_isolating: Option<String>,
    /// How it is secured off.
    pub locking: Option<String>,
    /// Name of an interlock.
    pub interlock: Option<String>,
    /// What the interlock does.
    pub interlock_kind: Option<InterlockKind>,
    /// What stays live inside when the isolator is off.
    pub live_after: Option<String>,
    /// The devices that make that dead, by designation and location.
    pub upstream: Option<Isolation>,
    /// A circuit whose neutral this one shares or borrows.
    pub neutral_from: Option<String>,
    /// Stored voltage at the moment of isolation, d.c.
    pub stored: Option<Volts>,
    /// Seconds until the stored voltage is below the limit.
    pub discharge_seconds: Option<u32>,
    /// Solar modules in series.
    pub pv_series: Option<u16>,
    /// Open-circuit voltage of one module at standard test conditions.
    pub pv_voc: Option<Volts>,
    /// Temperature coefficient of that, per cent per kelvin, usually negative.
    pub pv_beta: Option<f64>,
    /// Lowest module temperature, degrees Celsius.
    pub pv_tmin: Option<f64>,
    /// How the row is known.
    pub basis: Option<Basis>,
    /// Columns whose cell says that nobody knows (`?`, `tbc`): there, `None` does not mean that there is nothing.
    pub not_known: Columns<Column>,
}

/// An enclosure with its rows, in the order of the file.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Enclosure {
    /// Designation.
    pub designation: String,
    /// What it is, in words.
    pub name: Option<String>,
    /// Building, floor or room.
    pub area: Option<String>,
    /// What it is in the installation; `None` where the survey does not say.
    pub roles: Option<Vec<Role>>,
    /// Where notices are fixed, one each; empty means the usual place.
    pub positions: Vec<String>,
    /// Why isolator locations may be left out.
    pub no_confusion: Option<Declaration>,
    /// Why the isolators named need no label.
    pub purpose_obvious: Option<Declaration>,
    /// Free flat area.
    pub space: Option<Size>,
    /// Wanted size of its notices.
    pub size: Option<NoticeSize>,
    /// From how far the words are read.
    pub reading_distance: Option<Length>,
    /// From how far the sign is seen.
    pub sign_distance: Option<Length>,
    /// What the notice must stand up to; `None` where the survey does not say.
    pub environment: Option<Environment>,
    /// What it is fixed on.
    pub surface: Option<Surface>,
    /// Where its code leads.
    pub record_link: RecordLink,
    /// References of drawings.
    pub drawing: Option<String>,
    /// Free text.
    pub note: Option<String>,
    /// Its rows; never empty.
    pub rows: Vec<Row>,
}

/// A survey once read.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Survey {
    /// The enclosures in the order in which the file first names them.
    pub enclosures: Vec<Enclosure>,
    pub(super) source: Source,
}

impl Survey {
    /// The place of a cell, for findings of later stages; of the row, where the file has no such column.
    #[must_use]
    pub fn place(&self, record: u32, column: Column) -> Place {
        self.source.place(record, column)
    }

    /// The place of a whole row: the first character of its first line.
    #[must_use]
    pub fn row_place(&self, record: u32) -> Place {
        self.source.row_place(record)
    }
}
