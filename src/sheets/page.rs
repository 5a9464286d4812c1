//! One page of a plan: its labels in their cells, its margin around them.

use std::fmt;
use std::io;
use std::sync::Arc;

use super::packed::Slot;
use super::works::Works;
use super::{Correction, Plan, Production, Reading, contours, cutting, furniture};
use crate::drawing::Drawing;
use crate::length::{Length, Point, Rect, Size};
use crate::typesetting::Typesetter;

/// A page ready for a writer.
#[derive(Clone, Debug, PartialEq)]
pub struct Page {
    /// The paper.
    pub size: Size,
    /// The labels.
    pub placed: Vec<Placed>,
    /// What the pages around it show as well, below everything else: a document need hold it only once.
    pub repeated: Arc<Drawing>,
    /// What stands in the margin of this page alone, such as its number.
    pub furniture: Drawing,
    /// What a plotter or an engraver follows to cut labels out, above everything else; empty where no machine cuts.
    pub contours: Drawing,
    /// What the printer does wrong, made good.
    pub correction: Correction,
    /// The part of the page that is left when it is trimmed, on the page itself; the whole page at an office.
    pub trim: Rect,
    /// How far the print goes on beyond it.
    pub bleed: Length,
    /// What it is to somebody who reads it rather than looks at it; empty for labels.
    pub reading: Reading,
}

/// A drawing on a page.
#[derive(Clone, Debug, PartialEq)]
pub struct Placed {
    /// The upper left corner of the room that it takes.
    pub corner: Point,
    /// Whether it lies turned by a quarter, so that its upper edge is on the right.
    pub turned: bool,
    /// What is placed.
    pub drawing: Arc<Drawing>,
}

impl Placed {
    /// The room that it takes on the page.
    #[must_use]
    pub fn room(&self) -> Rect {
        let size = self.drawing.size;
        Rect::new(self.corner, if self.turned { size.turned() } else { size })
    }
}

/// Why a page cannot be built. Either is a mistake of the program that calls, and no page is better than a wrong one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PageError {
    /// The plan has no such page.
    NoSuchPage {
        /// Index of the document.
        document: usize,
        /// Page, from 0.
        page: usize,
    },
    /// There is no drawing for a label that was planned; an empty cell would be a notice lost.
    NoDrawing {
        /// Index of the label.
        label: usize,
    },
    /// A label is larger than the cell planned for it: it is not the one that was planned.
    Oversized {
        /// Index of the label.
        label: usize,
        /// Its size.
        size: Size,
        /// The size of its cell.
        cell: Size,
    },
}

impl fmt::Display for PageError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoSuchPage { document, page } => {
                write!(f, "document {} of the plan has no page {}", document + 1, page + 1)
            }
            Self::NoDrawing { label } => write!(f, "there is no drawing for label {}", label + 1),
            Self::Oversized { label, size, cell } => write!(f, "label {} is {size} and its cell {cell}", label + 1),
        }
    }
}

impl std::error::Error for PageError {}

impl From<PageError> for io::Error {
    fn from(error: PageError) -> Self {
        Self::new(io::ErrorKind::InvalidData, error)
    }
}

impl Page {
    /// A page that is one drawing, as large as the paper.
    #[must_use]
    pub fn plain(drawing: Drawing) -> Self {
        Self::bare(drawing.size, drawing)
    }

    /// A page that is one plate by itself, with its edge.
    #[must_use]
    pub fn plate(drawing: Arc<Drawing>, corner_radius: Length) -> Self {
        let size = drawing.size;
        let placed = vec![Placed { corner: Point::default(), turned: false, drawing }];
        let contours = contours::around(&placed, size, corner_radius, contours::FOLLOWED);
        Self { placed, contours, ..Self::bare(size, Drawing::new(size)) }
    }

    /// A page of exactly the paper, with its margin and nothing on it yet.
    pub(super) fn bare(size: Size, furniture: Drawing) -> Self {
        Self {
            size,
            placed: Vec::new(),
            repeated: Arc::new(Drawing::new(size)),
            furniture,
            contours: Drawing::new(size),
            correction: Correction::default(),
            trim: Rect::new(Point::default(), size),
            bleed: Length::ZERO,
            reading: Reading::default(),
        }
    }
}

impl Plan {
    /// Builds a page of a document, from 0. `drawing` gives the drawing of a label by its index; one that is smaller
    /// than its cell lies in the middle of it. A page for a printing head has nothing but labels on it, each beginning
    /// on a dot.
    ///
    /// # Errors
    /// [`PageError`] for a page that the plan does not have, a drawing that is missing or larger than its cell.
    pub fn page(
        &self,
        document: usize,
        page: usize,
        typesetter: &Typesetter,
        drawing: impl Fn(usize) -> Option<Arc<Drawing>>,
    ) -> Result<Page, PageError> {
        let found = self.documents.get(document).and_then(|sheets| Some((sheets, sheets.part_of(page)?)));
        let (sheets, part) = found.ok_or(PageError::NoSuchPage { document, page })?;
        let number = page - part.first_page;
        let format = part.format_of(number);
        let dots = format.production.dots();
        let slots = part.on_page(number);
        let mut placed = Vec::with_capacity(slots.len());
        for (label, Slot { room, turned }) in slots {
            let drawing = drawing(label).ok_or(PageError::NoDrawing { label })?;
            let oversized = PageError::Oversized { label, size: drawing.size, cell: room.size };
            let size = if turned { drawing.size.turned() } else { drawing.size };
            let corner = centred(size, room).ok_or(oversized)?;
            let corner = dots.map_or(corner, |dots| dots.corner(corner));
            placed.push(Placed { corner, turned, drawing });
        }
        if let Some(dots) = dots {
            // A head prints whole dots: the page is cut to them, so that they begin alike at all four edges.
            let size = dots.size(format.paper);
            let correction = self.run.correction.on_dots(dots);
            return Ok(Page { placed, correction, ..Page::bare(size, Drawing::new(size)) });
        }
        if let Production::Press(press) = &format.production {
            return Ok(Works { format: &format, press, typesetter }.page(placed, &self.run, page + 1, sheets.pages()));
        }
        let repeated = part.margin_marks(&format, typesetter);
        let mut furniture = furniture::margin_text(&format, &self.run, page + 1, sheets.pages(), typesetter);
        if let Some(pattern) = part.pattern(number) {
            cutting::draw(&mut furniture, &format, pattern);
        }
        let contours = match format.production {
            Production::Engraving(_) => {
                contours::around(&placed, format.paper, format.corner_radius, contours::FOLLOWED)
            }
            Production::Office | Production::Roll(_) | Production::Press(_) => Drawing::new(format.paper),
        };
        let correction = self.run.correction;
        Ok(Page { placed, repeated, contours, correction, ..Page::bare(format.paper, furniture) })
    }
}

/// The upper left corner of something in the middle of a cell; `None` if it is larger.
fn centred(size: Size, cell: Rect) -> Option<Point> {
    let middle = Point::new((cell.size.width - size.width) / 2, (cell.size.height - size.height) / 2);
    size.fits_in(cell.size).then(|| cell.origin + middle)
}
