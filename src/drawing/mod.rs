//! The one finished picture: everything is decided here, and the writers only translate.
//!
//! A drawing has its origin in its upper left corner, with `y` down. Text keeps its source beside its glyphs.

mod lines_met;
mod path;
mod raster;
mod scaling;
mod structure;
mod text;

use std::sync::Arc;

use crate::length::{Dots, Length, Point, Rect, Size};

pub use lines_met::LinesMet;
pub use path::{Path, Segment};
pub use raster::Raster;
pub use structure::{Element, Role, Structure};
pub use text::{Face, Glyph, GlyphLine};

/// What a mark is printed with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Ink {
    /// Black alone.
    Black,
    /// The paper's own white, painted.
    White,
    /// The signal yellow of warning signs.
    SignalYellow,
    /// A tint of black for rulers and marks in a sheet's margin.
    Grey,
    /// The line along which a label is cut: seen by the plotter, never printed.
    Contour,
    /// Every ink of a printing works at once: its crop and register marks.
    Register,
}

impl Ink {
    /// Every ink, in a fixed order.
    pub const ALL: [Self; 6] =
        [Self::Black, Self::White, Self::SignalYellow, Self::Grey, Self::Contour, Self::Register];
}

/// How a path becomes visible.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Paint {
    /// Filled by the non-zero rule.
    Fill(Ink),
    /// Drawn along, with round joins and ends.
    Stroke {
        /// The ink of the line.
        ink: Ink,
        /// The width of the line.
        width: Length,
    },
}

/// A square code of dark and white modules, drawn as one path so that no seam opens between the modules.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Modules {
    /// Upper left corner of the first module; the quiet zone lies outside.
    pub origin: Point,
    /// Side of one module.
    pub module: Length,
    /// Modules along a side.
    pub side: u16,
    /// Row by row from the top, one word row of `side.div_ceil(64)` words each, bit 0 of the first word leftmost; 1 is dark.
    pub rows: Vec<u64>,
    /// The text that the code carries.
    pub payload: String,
}

impl Modules {
    /// Where the first module begins and how large each is, in millimetres: exactly so many dots where the drawing is
    /// made for them, which micrometres alone would not say.
    #[must_use]
    pub fn exact(&self, dots: Option<Dots>) -> ([f64; 2], f64) {
        let exact = |length: Length| dots.map_or(length.to_mm(), |dots| dots.to_mm(dots.nearest(length)));
        ([exact(self.origin.x), exact(self.origin.y)], exact(self.module))
    }
}

/// A drawing that many others use: stored once in a file and placed by name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Group {
    /// Its name, unique within a document.
    pub name: &'static str,
    /// What it says to a person who cannot see it.
    pub alternative: &'static str,
    /// What it shows.
    pub drawing: Drawing,
}

/// One mark of a drawing, in painting order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Item {
    /// A path.
    Path {
        /// Its outline.
        path: Path,
        /// How it is painted.
        paint: Paint,
    },
    /// One line of shaped text.
    Text {
        /// The glyphs and their source text.
        line: Arc<GlyphLine>,
        /// Left end of the baseline.
        origin: Point,
        /// The em of the font, not the height of its letters.
        em: Length,
        /// Its ink.
        ink: Ink,
    },
    /// A square code.
    Modules(Modules),
    /// A reusable drawing, scaled evenly to fill a box of its own proportions.
    Group {
        /// What is placed.
        group: Arc<Group>,
        /// Where, and how large.
        at: Rect,
    },
}

/// A finished picture.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Drawing {
    /// Its extent; nothing is painted outside.
    pub size: Size,
    /// Its marks, in painting order.
    pub items: Vec<Item>,
    /// The dots on which its codes and rules lie; `None` where it is drawn for no printing head.
    pub dots: Option<Dots>,
}

impl Drawing {
    /// An empty drawing of a size.
    #[must_use]
    pub const fn new(size: Size) -> Self {
        Self { size, items: Vec::new(), dots: None }
    }

    /// Whether anything in it is painted with an ink.
    #[must_use]
    pub fn shows(&self, ink: Ink) -> bool {
        self.items.iter().any(|item| match item {
            Item::Path { paint: Paint::Fill(own) | Paint::Stroke { ink: own, .. }, .. } => *own == ink,
            Item::Text { ink: own, .. } => *own == ink,
            Item::Modules(_) => ink == Ink::Black,
            Item::Group { group, .. } => group.drawing.shows(ink),
        })
    }

    /// Fills a path.
    pub fn fill(&mut self, path: Path, ink: Ink) {
        self.items.push(Item::Path { path, paint: Paint::Fill(ink) });
    }

    /// Strokes a path.
    pub fn stroke(&mut self, path: Path, ink: Ink, width: Length) {
        self.items.push(Item::Path { path, paint: Paint::Stroke { ink, width } });
    }

    /// Sets a shaped line with the left end of its baseline at `origin`.
    pub fn text(&mut self, line: Arc<GlyphLine>, origin: Point, em: Length, ink: Ink) {
        self.items.push(Item::Text { line, origin, em, ink });
    }
}
