//! Drawings and a sheet format into pages: cells, walking order, start position, marks, the printer's offset.
//!
//! A [`Plan`] gives every label its sheet and cell first, from sizes alone; its pages are then built one by one, on any
//! thread and in any order.

mod material;
mod paper;

mod formats;
mod layout;

mod run;

mod plan;

mod page;

mod furniture;

mod measure;
mod picture;
mod ruler;

use crate::length::{Length, Point, Rect, Size};

pub use formats::{Formats, built_in, find};
pub use layout::{in_plain_words, read};
pub use material::{Material, Process, suits};
pub use page::{Page, PageError};
pub use paper::{paper_name, parse_size};
pub use picture::picture;
pub use plan::{Document, Label, Part, Place, Plan, PlanError, plan, without_sheet};
pub use ruler::ruler;
pub use run::{CellsError, Correction, Run, parse_cells};

/// A sheet format: the paper and the cells on it.
#[derive(Clone, Debug, PartialEq)]
pub struct SheetFormat {
    /// Its name, the file name of its description without ending: `a4-a7-4`.
    pub name: String,
    /// What it is, in words.
    pub title: String,
    /// The paper, as it is looked at.
    pub paper: Size,
    /// The cells, row by row from the upper left; never empty, all of one size.
    pub cells: Vec<Rect>,
    /// Cells in a row.
    pub columns: usize,
    /// Corner radius of a cell; zero where the label is cut square.
    pub corner_radius: Length,
    /// Width along each edge of the paper that the printer cannot reach.
    pub unprintable: Length,
    /// Whether short lines in the margin show where to cut.
    pub cut_marks: bool,
    /// Class of the material.
    pub material: Material,
    /// How it is printed.
    pub process: Process,
}

impl SheetFormat {
    /// The size of every cell.
    #[must_use]
    pub fn cell(&self) -> Size {
        self.cells.first().map(|cell| cell.size).unwrap_or_default()
    }

    /// The box around all cells.
    #[must_use]
    pub fn grid(&self) -> Rect {
        let (Some(first), Some(last)) = (self.cells.first(), self.cells.last()) else {
            return Rect::default();
        };
        Rect::new(first.origin, Size::new(last.right() - first.origin.x, last.bottom() - first.origin.y))
    }

    /// The part of the paper that the printer reaches.
    #[must_use]
    pub fn printable(&self) -> Rect {
        Rect::new(Point::default(), self.paper).inset(self.unprintable)
    }
}

#[cfg(test)]
mod tests;
