//! The list of standing notices once read: one entry a notice.

use super::column::StandingColumn;
use super::date::Date;
use crate::finding::Place;
use crate::length::Length;
use crate::table::Source;
use crate::table::value::{Environment, NoticeSize, RecordLink, Surface};

/// What a standing notice speaks of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// When the installation was inspected last, and by when it should be again.
    PeriodicInspection,
    /// That a residual current device wants its test button pressed.
    RcdTest,
    /// That a connection to earth or of bonding must stay.
    EarthingConnection,
    /// That nothing in this location may be connected to earth.
    EarthFreeLocation,
    /// That surge protective devices are fitted.
    SurgeProtection,
    /// The switch by which the fire service makes a sign or other high-voltage lamp dead.
    FirefightersSwitch,
    /// Conductors in the colours of two editions.
    MixedColours,
}

impl Kind {
    /// Every kind.
    pub const ALL: [Self; 7] = [
        Self::PeriodicInspection,
        Self::RcdTest,
        Self::EarthingConnection,
        Self::EarthFreeLocation,
        Self::SurgeProtection,
        Self::FirefightersSwitch,
        Self::MixedColours,
    ];

    /// The word for it in lists and reports.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::PeriodicInspection => "periodic-inspection",
            Self::RcdTest => "rcd-test",
            Self::EarthingConnection => "earthing-connection",
            Self::EarthFreeLocation => "earth-free-location",
            Self::SurgeProtection => "surge-protection",
            Self::FirefightersSwitch => "firefighters-switch",
            Self::MixedColours => "mixed-colours",
        }
    }
}

/// One row of the list.
///
/// A cell that is empty, or that could not be understood (then there is a finding), is `None` or empty.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// Number of the record in the file, from 0, the header not counted: with a column it is a place.
    pub record: u32,
    /// Designation of the notice.
    pub number: String,
    /// What it speaks of.
    pub kind: Kind,
    /// Building, floor or room.
    pub area: String,
    /// Where it is fixed.
    pub position: String,
    /// Date of the last inspection.
    pub last_inspection: Option<Date>,
    /// Recommended date of the next inspection.
    pub next_inspection: Option<Date>,
    /// The reader's own words, which take the place of ours.
    pub words: Option<String>,
    /// Wanted size.
    pub size: Option<NoticeSize>,
    /// From how far it is read.
    pub reading_distance: Option<Length>,
    /// What it must stand up to.
    pub environment: Option<Environment>,
    /// What it is fixed on.
    pub surface: Option<Surface>,
    /// Where its code leads.
    pub record_link: RecordLink,
    /// Free text.
    pub note: Option<String>,
}

/// A list of standing notices once read.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Standing {
    /// The entries in the order of the file; one whose number or kind is not known is left out, with a finding.
    pub entries: Vec<Entry>,
    pub(super) source: Source,
}

impl Standing {
    /// The place of a cell, for findings of later stages; of the row, where the file has no such column.
    #[must_use]
    pub fn place(&self, record: u32, column: StandingColumn) -> Place {
        self.source.place(record, column)
    }

    /// The place of a whole row: the first character of its first line.
    #[must_use]
    pub fn row_place(&self, record: u32) -> Place {
        self.source.row_place(record)
    }
}
