//! Limits that differ from the usual ones.

use std::num::NonZero;

use serde::Deserialize;

use crate::limits::Limits;

/// Limits as a job file may change them.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct LimitChanges {
    /// Bytes of one input file.
    pub file_bytes: Option<NonZero<u64>>,
    /// Rows of a survey or a supplies file.
    pub rows: Option<NonZero<usize>>,
    /// Columns of a survey or a supplies file.
    pub columns: Option<NonZero<usize>>,
    /// Characters of one cell.
    pub cell_chars: Option<NonZero<usize>>,
    /// Enclosures of a survey.
    pub enclosures: Option<NonZero<usize>>,
    /// Devices named in one cell: `isolator`, or `fed_from` of a supplies file.
    pub devices_per_row: Option<NonZero<usize>>,
    /// Positions of one enclosure.
    pub positions: Option<NonZero<usize>>,
    /// Copies of every notice.
    pub copies: Option<NonZero<usize>>,
    /// Pages of one document.
    pub pages: Option<NonZero<usize>>,
    /// Characters that a code carries.
    pub code_chars: Option<NonZero<usize>>,
    /// Cells of one label sheet.
    pub sheet_cells: Option<NonZero<usize>>,
    /// Pixels of one picture.
    pub picture_pixels: Option<NonZero<usize>>,
    /// Bytes of the file of a logo.
    pub logo_bytes: Option<NonZero<u64>>,
    /// Pixels of a logo.
    pub logo_pixels: Option<NonZero<usize>>,
    /// Findings kept in one run.
    pub findings: Option<NonZero<usize>>,
}

impl LimitChanges {
    /// The limits of a run with these changes.
    #[must_use]
    pub(super) fn applied(self) -> Limits {
        let (usual, changed) = (Limits::default(), self);
        let count = |changed: Option<NonZero<usize>>, usual: usize| changed.map_or(usual, NonZero::get);
        Limits {
            file_bytes: changed.file_bytes.map_or(usual.file_bytes, NonZero::get),
            rows: count(changed.rows, usual.rows),
            columns: count(changed.columns, usual.columns),
            cell_chars: count(changed.cell_chars, usual.cell_chars),
            enclosures: count(changed.enclosures, usual.enclosures),
            devices_per_row: count(changed.devices_per_row, usual.devices_per_row),
            positions: count(changed.positions, usual.positions),
            copies: count(changed.copies, usual.copies),
            pages: count(changed.pages, usual.pages),
            code_chars: count(changed.code_chars, usual.code_chars),
            picture_pixels: count(changed.picture_pixels, usual.picture_pixels),
            logo_bytes: changed.logo_bytes.map_or(usual.logo_bytes, NonZero::get),
            logo_pixels: count(changed.logo_pixels, usual.logo_pixels),
            sheet_cells: count(changed.sheet_cells, usual.sheet_cells),
            findings: count(changed.findings, usual.findings),
        }
    }
}
