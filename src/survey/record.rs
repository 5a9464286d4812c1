//! The survey once read: enclosures, and the ways in which energy reaches each of them.

use std::sync::{Arc, OnceLock};

use encoding_rs::Encoding;

use super::column::Column;
use crate::finding::Place;
use crate::length::{Length, Size};
use crate::table::value::{
    Basis, Conductors, Declaration, DeviceKind, Earthing, Environment, InterlockKind, Isolation, Nominal, NoticeSize,
    Poles, RecordLink, Role, SourceKind, Surface, Volts,
};
use crate::table::{Columns, Correction, Source, Uncorrectable, index, number};

/// One way in which energy can reach, or remain in, an enclosure.
///
/// A cell that is empty, or that could not be understood (then there is a finding), is `None`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Row {
    /// Number of the record in the file, from 0, the header not counted: with a column it is a place.
    pub record: u32,
    /// Designation of the circuit.
    pub circuit: Box<str>,
    /// What it does here.
    pub serves: Option<Arc<str>>,
    /// The board, transformer or source from which it comes.
    pub fed_from: Option<Arc<str>>,
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
    /// How it is secured off.
    pub locking: Option<Arc<str>>,
    /// How the row is known.
    pub basis: Option<Basis>,
    /// Columns whose cell says that nobody knows (`?`, `tbc`): there, `None` does not mean that there is nothing.
    pub not_known: Columns<Column>,
    /// What only some rows say; `None` where this one says nothing of it.
    pub further: Option<Box<Further>>,
}

/// What only some rows say: what comes first, interlocks, parts that stay live, charge, solar modules.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Further {
    /// What to do or warn of first.
    pub before_isolating: Option<String>,
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
}

impl Row {
    /// What only some rows say, which of most rows is nothing.
    #[must_use]
    pub fn further(&self) -> &Further {
        static NOTHING: Further = Further {
            before_isolating: None,
            interlock: None,
            interlock_kind: None,
            live_after: None,
            upstream: None,
            neutral_from: None,
            stored: None,
            discharge_seconds: None,
            pv_series: None,
            pv_voc: None,
            pv_beta: None,
            pv_tmin: None,
        };
        self.further.as_deref().unwrap_or(&NOTHING)
    }
}

/// An enclosure with its rows, in the order of the file.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Enclosure {
    /// Designation.
    pub designation: String,
    /// What it is, in words.
    pub name: Option<Box<str>>,
    /// Building, floor or room.
    pub area: Option<Arc<str>>,
    /// Where its code leads.
    pub record_link: RecordLink,
    /// Why the isolators named need no label; what many enclosures say alike is kept once.
    pub purpose_obvious: Option<Arc<Declaration>>,
    /// What is said of some enclosures only; `None` where nothing of it is.
    pub particulars: Option<Box<Particulars>>,
    /// Its rows; never empty.
    pub rows: Vec<Row>,
}

/// What is said of some enclosures only: what they are, what their notices must be like, where one reads more.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Particulars {
    /// What it is in the installation; `None` where the survey does not say.
    pub roles: Option<Vec<Role>>,
    /// Where notices are fixed, one each; empty means the usual place.
    pub positions: Vec<String>,
    /// Why isolator locations may be left out.
    pub no_confusion: Option<Arc<Declaration>>,
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
    /// References of drawings.
    pub drawing: Option<String>,
    /// Free text.
    pub note: Option<String>,
}

impl Enclosure {
    /// What is said of some enclosures only.
    #[must_use]
    pub fn particulars(&self) -> &Particulars {
        static NOTHING: Particulars = Particulars {
            roles: None,
            positions: Vec::new(),
            no_confusion: None,
            space: None,
            size: None,
            reading_distance: None,
            sign_distance: None,
            environment: None,
            surface: None,
            drawing: None,
            note: None,
        };
        self.particulars.as_deref().unwrap_or(&NOTHING)
    }
}

/// A survey once read.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Survey {
    /// The enclosures in the order in which the file first names them.
    pub enclosures: Vec<Enclosure>,
    pub(super) source: Source,
    /// Places of the enclosures in the order of their designations.
    pub(super) by_name: OnceLock<Vec<u32>>,
}

impl Survey {
    /// The enclosure with a designation. Many are found quickly: their order by name is made when the first is asked for.
    #[must_use]
    pub fn enclosure(&self, designation: &str) -> Option<&Enclosure> {
        let by_name = self.by_name.get_or_init(|| by_name(&self.enclosures));
        let place =
            found(by_name, |place| self.enclosures.get(index(place)).map(|it| it.designation.as_str()), designation);
        place.and_then(|place| self.enclosures.get(index(place)))
    }

    /// The place of a cell, for findings of later stages; of the row, where the file has no such column.
    #[must_use]
    pub fn place(&self, record: u32, column: Column) -> Place {
        self.source.place(record, column)
    }

    /// The place of any cell of a row of the file, whether or not it belongs to a column.
    #[must_use]
    pub fn cell_place(&self, row: u32, cell: usize) -> Place {
        self.source.cell_place(index(row) + 1, cell)
    }

    /// The first row of the file as it was read: what it calls its columns.
    #[must_use]
    pub fn headers(&self) -> &[String] {
        &self.source.headers
    }

    /// The cell that holds a column, from 0, if the file has that column.
    #[must_use]
    pub fn cell_of(&self, column: Column) -> Option<usize> {
        self.source.cell_of(column)
    }

    /// How many rows the file has, the header not counted, faulty ones too.
    #[must_use]
    pub fn rows(&self) -> usize {
        self.source.rows()
    }

    /// What the cells of a row of the file say.
    #[must_use]
    pub fn cells(&self, row: u32) -> Vec<String> {
        self.source.cells(row)
    }

    /// The row that a spreadsheet shows for a row, from 1, where the header is one.
    #[must_use]
    pub fn shown_row(&self, row: u32) -> u32 {
        self.source.shown_row(row)
    }

    /// Whether the file is text, which alone can be corrected.
    #[must_use]
    pub const fn is_text(&self) -> bool {
        self.source.is_text()
    }

    /// The bytes of the file with one cell corrected and all else as it was; `bytes` are those that the survey was read
    /// from, by the encoding `asked` for if there was one.
    ///
    /// # Errors
    /// [`Uncorrectable`]: nothing is changed then.
    pub fn corrected(
        &self,
        bytes: &[u8],
        asked: Option<&'static Encoding>,
        correction: &Correction,
    ) -> Result<Vec<u8>, Uncorrectable> {
        self.source.corrected(bytes, asked, correction)
    }

    /// The place of a whole row: the first character of its first line.
    #[must_use]
    pub fn row_place(&self, record: u32) -> Place {
        self.source.row_place(record)
    }
}

/// The places of enclosures in the order of their designations.
fn by_name(enclosures: &[Enclosure]) -> Vec<u32> {
    let mut places: Vec<u32> = (0..enclosures.len()).map(number).collect();
    let name = |place: &u32| enclosures.get(index(*place)).map(|enclosure| enclosure.designation.as_str());
    places.sort_unstable_by(|one, other| name(one).cmp(&name(other)));
    places
}

/// The place whose name is this, among places in the order of their names.
fn found<'a>(by_name: &[u32], name: impl Fn(u32) -> Option<&'a str>, wanted: &str) -> Option<u32> {
    let at = by_name.binary_search_by(|place| name(*place).cmp(&Some(wanted))).ok()?;
    by_name.get(at).copied()
}

#[cfg(test)]
mod tests {
    use std::cell::Cell;

    use super::*;

    #[test]
    fn an_enclosure_among_many_is_found_without_looking_at_all() {
        let name = |number: usize| format!("E{}", number * 7_919 % 10_000);
        let enclosures: Vec<_> =
            (0..10_000).map(|number| Enclosure { designation: name(number), ..Enclosure::default() }).collect();
        let (survey, looks) = (Survey { enclosures, ..Survey::default() }, Cell::new(0));
        let places = by_name(&survey.enclosures);
        for number in [0, 1, 4_999, 9_999] {
            assert_eq!(survey.enclosure(&name(number)), survey.enclosures.get(number), "{number}");
            let look = |place: u32| {
                looks.set(looks.get() + 1);
                survey.enclosures.get(index(place)).map(|enclosure| enclosure.designation.as_str())
            };
            assert_eq!(found(&places, look, &name(number)), Some(u32::try_from(number).unwrap()));
        }
        assert!(looks.get() <= 4 * 16, "{} looks", looks.get());
        assert_eq!(survey.enclosure("E10000"), None);
    }
}
