//! Drawings and a sheet format into pages: cells or packing, walking order, start position, marks, the printer's offset.
//!
//! A [`Plan`] gives every label its sheet and cell first, from sizes alone; its pages are then built one by one, on any
//! thread and in any order.

mod paper;
mod production;

mod inks;

mod sign_colour;

mod formats;
mod laid;
mod layout;

mod correction;
mod run;

pub mod packing;

mod packed;

mod plan;

mod quantities;

mod reading;

mod page;

mod contours;
mod cutting;
mod furniture;
mod works;

mod tool;

mod measure;
mod picture;

mod calibration;
mod ruler;

use std::sync::Arc;

use crate::length::{Length, Point, Rect, Size};
use crate::material::Process;

pub use crate::length::Dots;
pub use calibration::{Calibration, Implausible, Measured, MeasuredError};
pub use correction::Correction;
pub use formats::{Formats, built_in, find};
pub use inks::{Colour, Palette};
pub use laid::Laid;
pub use layout::{in_plain_words, read, read_knowing};
pub use packed::Usage;
pub use page::{Page, PageError, Placed};
pub use paper::{paper_name, parse_size};
pub use picture::picture;
pub use plan::{Document, Label, Part, Place, Plan, PlanError, plan, without_sheet};
pub use production::{Engraving, Press, Production, Ribbon, Roll, Stock};
pub use quantities::{Piece, Quantity, SizeQuantity, quantities};
pub use reading::{Anchor, Bookmark, Link, Marked, PlacedRaster, Reading};
pub use ruler::ruler;
pub use run::{CellsError, Run, parse_cells};
pub use sign_colour::without_yellow;
pub use tool::finer_than_tool;

/// A sheet format: the paper and the cells on it.
#[derive(Clone, Debug, PartialEq)]
pub struct SheetFormat {
    /// Its name, the file name of its description without ending: `a4-a7-4`.
    pub name: String,
    /// What it is, in words.
    pub title: String,
    /// The paper, as it is looked at.
    pub paper: Size,
    /// The cells, row by row from the upper left, all of one size; empty only where the labels are packed.
    pub cells: Vec<Rect>,
    /// Cells in a row.
    pub columns: usize,
    /// Where labels of several sizes are packed instead; `None` where there are cells.
    pub packing: Option<Packing>,
    /// Corner radius of a cell; zero where the label is cut square.
    pub corner_radius: Length,
    /// Width along each edge of the paper that the printer cannot reach.
    pub unprintable: Length,
    /// Whether short lines in the margin show where to cut.
    pub cut_marks: bool,
    /// Class of the material, by its name.
    pub material: Arc<str>,
    /// How it is printed.
    pub process: Process,
    /// Its colour before it is printed.
    pub stock: Stock,
    /// What it is made on.
    pub production: Production,
}

/// Room for labels of any size, cut apart afterwards.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Packing {
    /// The part of the paper in which labels lie.
    pub area: Rect,
    /// What is kept between labels for the knife.
    pub gap: Length,
}

impl SheetFormat {
    /// The size of every cell; where labels are packed, that of the room for them.
    #[must_use]
    pub fn cell(&self) -> Size {
        let packed = self.packing.map(|packing| packing.area.size);
        self.cells.first().map(|cell| cell.size).or(packed).unwrap_or_default()
    }

    /// Whether a label of a size can lie on it.
    #[must_use]
    pub fn holds(&self, size: Size) -> bool {
        size.fits_in(self.cell()) || (self.packing.is_some() && size.turned().fits_in(self.cell()))
    }

    /// Whether it is chosen where nobody names a format: cells on sheets for an office printer.
    #[must_use]
    pub fn is_usual(&self) -> bool {
        self.production == Production::Office && self.packing.is_none()
    }

    /// The box around all cells, or the room for packed labels.
    #[must_use]
    pub fn grid(&self) -> Rect {
        let (Some(first), Some(last)) = (self.cells.first(), self.cells.last()) else {
            return self.packing.map(|packing| packing.area).unwrap_or_default();
        };
        Rect::new(first.origin, Size::new(last.right() - first.origin.x, last.bottom() - first.origin.y))
    }

    /// The same format with the paper cut off where its last label ends, and the border after it.
    #[must_use]
    pub fn cut_off(&self, used: Length) -> Self {
        let mut cut = self.clone();
        if let Some(packing) = &mut cut.packing {
            cut.paper.height = self.paper.height - packing.area.size.height + used;
            packing.area.size.height = used;
        }
        cut
    }

    /// Whether the paper is one long web that is cut off where the last label ends.
    #[must_use]
    pub const fn is_web(&self) -> bool {
        matches!(self.production, Production::Roll(_)) && self.packing.is_some()
    }

    /// The part of the paper that the printer reaches.
    #[must_use]
    pub fn printable(&self) -> Rect {
        Rect::new(Point::default(), self.paper).inset(self.unprintable)
    }
}

#[cfg(test)]
mod tests;
