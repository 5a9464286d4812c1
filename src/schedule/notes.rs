//! References of drawings and notes, which stand on the schedule alone and never on a notice.

use super::column::{Column, Listed, Value};
use crate::standing::Standing;
use crate::supplies::{DescribedDevice, Supplies};
use crate::survey::Enclosure;

/// One enclosure, or one row of the supplies file or the list of standing notices, with what its author noted.
#[derive(Clone, Debug)]
pub struct NoteRow<'a> {
    /// `survey`, `supplies file` or `standing notices`.
    pub file: &'static str,
    /// Designation.
    pub designation: &'a str,
    /// What it is.
    pub name: &'a str,
    /// Its area or location.
    pub area: &'a str,
    /// References of drawings.
    pub drawing: &'a str,
    /// The note.
    pub note: &'a str,
}

impl<'a> NoteRow<'a> {
    /// What the survey notes of an enclosure; `None` if nothing.
    pub(super) fn of_enclosure(enclosure: &'a Enclosure) -> Option<Self> {
        let row = Self {
            file: "survey",
            designation: &enclosure.designation,
            name: enclosure.name.as_deref().unwrap_or_default(),
            area: enclosure.area.as_deref().unwrap_or_default(),
            drawing: enclosure.particulars().drawing.as_deref().unwrap_or_default(),
            note: enclosure.particulars().note.as_deref().unwrap_or_default(),
        };
        (!row.drawing.is_empty() || !row.note.is_empty()).then_some(row)
    }

    /// Everything that a supplies file notes.
    pub(super) fn of_supplies(supplies: &'a Supplies) -> impl Iterator<Item = Self> {
        supplies.devices.iter().filter_map(|device: &DescribedDevice| {
            Some(Self {
                file: "supplies file",
                designation: &device.designation,
                name: device.kind.map_or("", crate::supplies::Kind::name),
                area: &device.location,
                drawing: "",
                note: device.note.as_deref()?,
            })
        })
    }
}

impl<'a> NoteRow<'a> {
    /// Everything that a list of standing notices notes.
    pub(super) fn of_standing(standing: &'a Standing) -> impl Iterator<Item = Self> {
        standing.entries.iter().filter_map(|entry| {
            Some(Self {
                file: "standing notices",
                designation: &entry.number,
                name: entry.kind.name(),
                area: &entry.area,
                drawing: "",
                note: entry.note.as_deref()?,
            })
        })
    }
}

impl Listed for NoteRow<'_> {
    const SHEET: &'static str = "Drawings and notes";
    const TABLE: &'static str = "drawings_and_notes";

    fn columns() -> Vec<Column<Self>> {
        vec![
            Column::new("file", 14, |row| Value::text(row.file)),
            Column::new("designation", 16, |row| Value::text(row.designation)),
            Column::new("name or kind", 28, |row| Value::text(row.name)),
            Column::new("area or location", 26, |row| Value::text(row.area)),
            Column::new("drawing", 26, |row| Value::text(row.drawing)),
            Column::new("note", 70, |row| Value::text(row.note)),
        ]
    }
}
