//! What is never broken between pages: marks with a common height.

use std::sync::Arc;

use super::Style;
use crate::drawing::{Drawing, GlyphLine, Ink, Path};
use crate::length::{Length, Point, Rect, Size};

/// Width of a thin line. Office printers draw a quarter of a point and up without gaps (common practice).
pub(super) const THIN: Length = Length::um(120);

/// Width of a line that parts more.
pub(super) const FIRM: Length = Length::um(240);

/// A strip of a page, as wide as its text.
#[derive(Clone, Debug, Default)]
pub(super) struct Strip {
    /// Its height.
    pub(super) height: Length,
    /// White before it, left away at the top of a page.
    pub(super) before: Length,
    /// Whether the next strip must stand on the same page.
    pub(super) leads: bool,
    /// What stands in it, from its upper left corner.
    pub(super) marks: Vec<Mark>,
    /// What is repeated over it where it comes first on a page.
    pub(super) head: Option<Arc<Strip>>,
}

/// Something in a strip.
#[derive(Clone, Debug)]
pub(super) enum Mark {
    /// A line of text with the left end of its baseline.
    Line(Arc<GlyphLine>, Style, Point),
    /// A filled box: a rule.
    Rule(Rect),
    /// An outline.
    Frame(Rect, Ink, Length),
    /// A picture with its upper left corner.
    Picture(Arc<Drawing>, Point),
}

impl Strip {
    /// Adds lines of a style below each other, the top of the first at a place; the answer is the bottom of the last.
    pub(super) fn lines(&mut self, lines: &[Arc<GlyphLine>], style: Style, left: Length, top: Length) -> Length {
        let mut y = top;
        for line in lines {
            self.marks.push(Mark::Line(Arc::clone(line), style, Point::new(left, y + style.baseline())));
            y = y + style.pitch();
        }
        y
    }

    /// Adds a level rule with its upper edge at a height.
    pub(super) fn rule(&mut self, left: Length, top: Length, width: Length, thickness: Length) {
        self.marks.push(Mark::Rule(Rect::new(Point::new(left, top), Size::new(width, thickness))));
    }

    /// Adds the marks of another strip with its upper left corner at a place.
    pub(super) fn take(&mut self, other: Self, corner: Point) {
        self.marks.extend(other.marks.into_iter().map(|mark| mark.moved(corner)));
    }
}

impl Mark {
    fn moved(self, by: Point) -> Self {
        let rect = |rect: Rect| Rect::new(rect.origin + by, rect.size);
        match self {
            Self::Line(line, style, at) => Self::Line(line, style, at + by),
            Self::Rule(at) => Self::Rule(rect(at)),
            Self::Frame(at, ink, width) => Self::Frame(rect(at), ink, width),
            Self::Picture(drawing, at) => Self::Picture(drawing, at + by),
        }
    }

    /// Draws it, unless it is a picture: then the answer is where that goes.
    pub(super) fn draw(&self, drawing: &mut Drawing, by: Point) -> Option<(Arc<Drawing>, Point)> {
        match self {
            Self::Line(line, style, at) => drawing.text(Arc::clone(line), *at + by, style.em(), Ink::Black),
            Self::Rule(at) => drawing.fill(Path::rectangle(Rect::new(at.origin + by, at.size)), Ink::Black),
            Self::Frame(at, ink, width) => {
                drawing.stroke(Path::rectangle(Rect::new(at.origin + by, at.size)), *ink, *width);
            }
            Self::Picture(picture, at) => return Some((Arc::clone(picture), *at + by)),
        }
        None
    }
}
