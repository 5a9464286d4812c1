//! How much of everything is accepted, in one table.
//!
//! A limit is checked where the thing enters, before it can cost memory; what is beyond it is named with the limit.

/// The limits that a run works under; the job file may lower or raise them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Limits {
    /// Bytes of one input file.
    pub file_bytes: u64,
    /// Rows of a survey or a supplies file, without its header.
    pub rows: usize,
    /// Columns of a survey or a supplies file.
    pub columns: usize,
    /// Characters of one cell.
    pub cell_chars: usize,
    /// Enclosures of a survey.
    pub enclosures: usize,
    /// Devices named in one cell: `isolator`, or `fed_from` of a supplies file.
    pub devices_per_row: usize,
    /// Positions of one enclosure at which a notice is fixed.
    pub positions: usize,
    /// Copies of every notice.
    pub copies: usize,
    /// Pages of one document.
    pub pages: usize,
    /// Characters that a code carries.
    pub code_chars: usize,
    /// Cells of one label sheet.
    pub sheet_cells: usize,
    /// Pixels of one picture.
    pub picture_pixels: usize,
    /// Bytes of the file of a logo.
    pub logo_bytes: u64,
    /// Pixels of a logo.
    pub logo_pixels: usize,
    /// Findings kept in one run; further ones are counted.
    pub findings: usize,
}

impl Default for Limits {
    fn default() -> Self {
        Self {
            file_bytes: 1 << 30,
            rows: 4_000_000,
            columns: 200,
            cell_chars: 2_000,
            enclosures: 1_000_000,
            devices_per_row: 24,
            positions: 50,
            copies: 100,
            pages: 500_000,
            code_chars: 300,
            sheet_cells: 2_000,
            // An A3 notice at 600 dpi has 70 million.
            picture_pixels: 80_000_000,
            logo_bytes: 4 << 20,
            // Four times what print shows of a square one, and what cameras make of a sheet of paper.
            logo_pixels: 16_000_000,
            findings: 10_000,
        }
    }
}
