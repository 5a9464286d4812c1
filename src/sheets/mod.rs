//! Drawings and a sheet format into pages: cells, walking order, start position, marks, the printer's offset.

use std::sync::Arc;

use crate::drawing::Drawing;
use crate::length::{Length, Point, Rect, Size};

/// A sheet format: the paper and the cells on it.
#[derive(Clone, Debug, PartialEq)]
pub struct SheetFormat {
    /// Its name, the file name of its description without ending: `a4-a7-8`.
    pub name: String,
    /// What it is, in words.
    pub title: String,
    /// The paper.
    pub paper: Size,
    /// The cells, row by row from the upper left.
    pub cells: Vec<Rect>,
    /// Corner radius of a cell; zero where the label is cut square.
    pub corner_radius: Length,
    /// Width along each edge of the paper that the printer cannot reach.
    pub unprintable: Length,
    /// Class of the material: `polyester-laminated`.
    pub material: String,
    /// How it is printed: `laser`.
    pub process: String,
}

/// A measured error of one printer, which the page makes good.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Correction {
    /// Added to every x and y.
    pub offset: Point,
    /// Scale from left to right that the page applies, 0 for none, else near 1.
    pub scale_x: f64,
    /// Scale from top to bottom that the page applies, 0 for none, else near 1.
    pub scale_y: f64,
}

/// A page ready for a writer.
#[derive(Clone, Debug, PartialEq)]
pub struct Page {
    /// The paper.
    pub size: Size,
    /// Drawings with the place of their upper left corner.
    pub placed: Vec<(Point, Arc<Drawing>)>,
    /// What stands in the margin: sheet number, orientation mark, check ruler.
    pub furniture: Drawing,
    /// What the printer does wrong, made good.
    pub correction: Correction,
}
