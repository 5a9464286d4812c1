//! What one run of printing asks for beside its labels: copies, cells already used, the printer's error.

use std::collections::BTreeSet;
use std::fmt;

use crate::finding::{Finding, code};
use crate::length::{Dots, Length, Point};

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
        }
    }
}

/// A measured error of one printer, which the page makes good.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Correction {
    /// Added to every x and y, after the scale.
    pub offset: Point,
    /// Scale from left to right that the page applies, 0 for none, else near 1.
    pub scale_x: f64,
    /// Scale from top to bottom that the page applies, 0 for none, else near 1.
    pub scale_y: f64,
}

/// A scale beyond this share is more likely a page that was fitted to the paper.
const LARGEST_USUAL_CORRECTION: f64 = 0.01;

impl Correction {
    /// Whether the page is printed as it is.
    #[must_use]
    pub fn is_none(&self) -> bool {
        *self == Self::default() || (self.offset == Point::default() && self.scales() == (1.0, 1.0))
    }

    /// The scales that the page applies, 1 for none.
    #[must_use]
    pub fn scales(&self) -> (f64, f64) {
        let scale = |scale: f64| if scale == 0.0 { 1.0 } else { scale };
        (scale(self.scale_x), scale(self.scale_y))
    }

    /// What of it a printing head can do: move by whole dots. It cannot be scaled, since a module of a code that lost or
    /// gained a dot would be another module.
    #[must_use]
    pub fn on_dots(&self, dots: Dots) -> Self {
        Self { offset: dots.corner(self.offset), ..Self::default() }
    }

    /// Whether it asks for anything that a printing head cannot do.
    #[must_use]
    pub fn asks_beyond_dots(&self) -> bool {
        !Self { offset: Point::default(), ..*self }.is_none()
    }

    /// In words: `corrected for office: 0.4 mm right, 0.3 mm up, +0.20 % across, +0.00 % down`.
    #[must_use]
    pub fn stated(&self, printer: &str) -> String {
        let way = |length: Length, less: &str, more: &str| {
            format!("{} mm {}", length.abs(), if length < Length::ZERO { less } else { more })
        };
        let (across, down) = self.scales();
        format!(
            "corrected for {}: {}, {}, {} across, {} down",
            if printer.is_empty() { "the printer" } else { printer },
            way(self.offset.x, "left", "right"),
            way(self.offset.y, "up", "down"),
            percent(across),
            percent(down)
        )
    }

    /// A scale beyond one part in a hundred.
    #[must_use]
    pub fn check(&self, printer: &str) -> Option<Finding> {
        let (x, y) = self.scales();
        let usual = |scale: f64| (scale - 1.0).abs() <= LARGEST_USUAL_CORRECTION;
        (!(usual(x) && usual(y))).then(|| {
            let message = format!(
                "the scale of printer `{printer}` is corrected by {} across and {} down",
                percent(x),
                percent(y)
            );
            Finding::new(code::LARGE_CORRECTION, message).help("print the ruler page at 100 % and measure it again")
        })
    }
}

/// `+0.2 %`
fn percent(scale: f64) -> String {
    format!("{:+.2} %", (scale - 1.0) * 100.0)
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
