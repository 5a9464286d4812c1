//! What one run of printing asks for beside its labels: copies, cells already used, the printer's error.

use std::collections::BTreeSet;
use std::fmt;

use super::Correction;

/// One run of printing.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// The first cell to use on the first sheet, from 1.
    pub start_at: usize,
    /// Cells of the first sheet that are gone, from 1.
    pub used_cells: BTreeSet<usize>,
    /// How often each label is printed, one beside the other.
    pub copies: usize,
    /// What the printer does wrong, made good.
    pub correction: Correction,
    /// Name of the printer that the correction belongs to; empty without one.
    pub printer: String,
    /// Designations of the enclosures whose notices are missing because of errors; named in the margin.
    pub left_out: Vec<String>,
    /// What a printing works is told outside the trimmed sheet: standard, date, title; unused on other sheets.
    pub slug: Vec<String>,
}

impl Default for Run {
    fn default() -> Self {
        Self {
            start_at: 1,
            used_cells: BTreeSet::new(),
            copies: 1,
            correction: Correction::default(),
            printer: String::new(),
            left_out: Vec::new(),
            slug: Vec::new(),
        }
    }
}

/// Why a list of cells cannot be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum CellsError {
    /// A part is neither a number from 1 nor a range of them.
    NotACell {
        /// The part.
        part: String,
    },
    /// A range ends before it starts.
    Backwards {
        /// The range.
        part: String,
    },
    /// A number is beyond any sheet.
    TooLarge {
        /// The part.
        part: String,
        /// The most cells that a sheet may have.
        most: usize,
    },
}

impl fmt::Display for CellsError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotACell { part } => {
                write!(f, "`{part}` is not a cell: cells are numbered from 1, and a list looks like `1,4-6`")
            }
            Self::Backwards { part } => write!(f, "`{part}` ends before it starts"),
            Self::TooLarge { part, most } => {
                write!(f, "`{part}` is beyond {most}, the most cells that a sheet may have")
            }
        }
    }
}

impl std::error::Error for CellsError {}

/// Reads a list of cells: `1,4-6`.
///
/// # Errors
/// [`CellsError`] for the first part that is not a cell or a range of cells up to `most`.
pub fn parse_cells(text: &str, most: usize) -> Result<BTreeSet<usize>, CellsError> {
    let mut cells = BTreeSet::new();
    for part in text.split(',').map(str::trim) {
        let (first, last) = part.split_once('-').unwrap_or((part, part));
        let (first, last) = (cell(first, part)?, cell(last, part)?);
        if last > most {
            return Err(CellsError::TooLarge { part: part.to_owned(), most });
        }
        if last < first {
            return Err(CellsError::Backwards { part: part.to_owned() });
        }
        cells.extend(first..=last);
    }
    Ok(cells)
}

fn cell(number: &str, part: &str) -> Result<usize, CellsError> {
    let number = number.trim();
    let digits = !number.is_empty() && number.bytes().all(|byte| byte.is_ascii_digit());
    // Digits that are no number are too many: beyond every sheet.
    let number = if digits { number.parse().unwrap_or(usize::MAX) } else { 0 };
    if number == 0 { Err(CellsError::NotACell { part: part.to_owned() }) } else { Ok(number) }
}
