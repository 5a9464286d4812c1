//! The supplies file once read: sources, devices and boards, and what feeds each of them.

use std::collections::BTreeMap;

use super::column::SupplyColumn;
use crate::finding::Place;
use crate::length::Length;
use crate::table::spelling::unmarked;
use crate::table::value::{
    DeviceKind, Earthing, Environment, InterlockKind, Nominal, NoticeSize, Poles, RecordLink, Surface,
};
use crate::table::{Columns, Source};

/// What a row of the supplies file describes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// Where energy comes from: the public network, a generating set, solar modules, a battery.
    Source,
    /// A device of a kind that a survey names too; suitable for isolation, but for the network operator's cut-out.
    Device(DeviceKind),
    /// Any device suitable for isolation whose kind is not said.
    Isolator,
    /// A device that is not suitable for isolation: a contactor, a semiconductor switch.
    Switch,
    /// A changeover: its output is connected to one of its feeds at a time, and any position is possible.
    Changeover,
    /// A transformer: voltage and earthing begin anew at its output.
    Transformer,
    /// An uninterruptible power supply: battery and bypass both feed its output.
    Ups,
    /// A converter: a drive, a rectifier, an inverter; it may store charge.
    Converter,
    /// A busbar or board.
    Busbar,
}

impl Kind {
    /// Every kind.
    pub const ALL: [Self; 15] = [
        Self::Source,
        Self::Isolator,
        Self::Device(DeviceKind::SwitchDisconnector),
        Self::Device(DeviceKind::Disconnector),
        Self::Device(DeviceKind::Breaker),
        Self::Device(DeviceKind::Fuse),
        Self::Device(DeviceKind::Link),
        Self::Device(DeviceKind::PlugSocket),
        Self::Device(DeviceKind::NetworkCutout),
        Self::Switch,
        Self::Changeover,
        Self::Transformer,
        Self::Ups,
        Self::Converter,
        Self::Busbar,
    ];

    /// The word for it in supplies files and reports.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Source => "source",
            Self::Device(kind) => kind.name(),
            Self::Isolator => "isolator",
            Self::Switch => "switch",
            Self::Changeover => "changeover",
            Self::Transformer => "transformer",
            Self::Ups => "ups",
            Self::Converter => "converter",
            Self::Busbar => "busbar",
        }
    }

    /// The kind of device that a survey would name too; `None` for everything else, and for an `isolator` whose kind is
    /// not said.
    #[must_use]
    pub const fn device(self) -> Option<DeviceKind> {
        match self {
            Self::Device(kind) => Some(kind),
            Self::Source
            | Self::Isolator
            | Self::Switch
            | Self::Changeover
            | Self::Transformer
            | Self::Ups
            | Self::Converter
            | Self::Busbar => None,
        }
    }
}

/// What is known of the order and angle of the lines at the output of a device.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Phasing {
    /// Proved: line 1 here is line 1 of what feeds it.
    Proved,
    /// A transformer's vector group (IEC 60076-1), of which the clock number matters: `Dyn11` lags by 11 x 30 degrees.
    Clock(u8),
}

/// How a source starts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Starting {
    /// By itself, without warning.
    ByItself,
    /// People start it: whoever works elsewhere has no warning of that either.
    ByHand,
    /// Not by itself; whether people start it is not said.
    NotByItself,
}

/// One row of the supplies file.
///
/// A cell that is empty, or that could not be understood (then there is a finding), is `None`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct DescribedDevice {
    /// Number of the record in the file, from 0, the header not counted: with a column it is a place.
    pub record: u32,
    /// Designation.
    pub designation: String,
    /// What it is; `None` only where the cell is empty or faulty.
    pub kind: Option<Kind>,
    /// Designations of what feeds it, each once, some with `@` and a location behind; energy may flow from any of
    /// them. Empty for a source, and where the file does not say.
    pub fed_from: Vec<String>,
    /// Where it is; empty if the file does not say.
    pub location: String,
    /// How it is secured off.
    pub locking: Option<String>,
    /// Name of an interlock.
    pub interlock: Option<String>,
    /// What the interlock does.
    pub interlock_kind: Option<InterlockKind>,
    /// What it switches.
    pub poles: Option<Poles>,
    /// Nominal voltage; of the output for a transformer, a UPS or a converter.
    pub nominal: Option<Nominal>,
    /// Earthing arrangement; of the output for a transformer, a UPS or a converter.
    pub earthing: Option<Earthing>,
    /// Designations of sources that it is held in step with.
    pub in_step_with: Vec<String>,
    /// What is known of its lines.
    pub phasing: Option<Phasing>,
    /// Whether it may start without warning.
    pub starts_by_itself: Option<Starting>,
    /// Whether a changeover has a position in which nothing is connected.
    pub off_position: Option<bool>,
    /// Wanted size of its notice.
    pub size: Option<NoticeSize>,
    /// From how far its notice is read.
    pub reading_distance: Option<Length>,
    /// What its notice must stand up to.
    pub environment: Option<Environment>,
    /// What its notice is fixed on.
    pub surface: Option<Surface>,
    /// Where the code of its notice leads.
    pub record_link: RecordLink,
    /// Free text.
    pub note: Option<String>,
    /// Columns whose cell says that nobody knows (`?`, `tbc`): there, `None` does not mean that there is nothing.
    pub not_known: Columns<SupplyColumn>,
}

/// A supplies file once read.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Supplies {
    /// The devices in the order of the file.
    pub devices: Vec<DescribedDevice>,
    pub(super) source: Source,
}

impl Supplies {
    /// The names of devices that are marked as those of one, with their marks: to mark a name in one cell is enough.
    #[must_use]
    pub fn ones(&self) -> BTreeMap<String, String> {
        let marked = self.devices.iter().map(|device| (unmarked(&device.designation), device.designation.as_str()));
        let marked = marked.filter(|(name, marked)| name != marked);
        marked.map(|(name, marked)| (name.to_owned(), marked.to_owned())).collect()
    }

    /// The place of a cell, for findings of later stages; of the row, where the file has no such column.
    #[must_use]
    pub fn place(&self, record: u32, column: SupplyColumn) -> Place {
        self.source.place(record, column)
    }

    /// The place of a whole row: the first character of its first line.
    #[must_use]
    pub fn row_place(&self, record: u32) -> Place {
        self.source.row_place(record)
    }
}
