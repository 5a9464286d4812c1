//! What is never broken between pages: marks with a common height.

use std::sync::Arc;

use super::Style;
use super::block::Target;
use crate::drawing::{Drawing, GlyphLine, Ink, Path, Raster};
use crate::length::{Length, Point, Rect, Size};
use crate::sheets::{Anchor, Link, Marked, Page, Placed, PlacedRaster};

/// Width of a thin line. Office printers draw a quarter of a point and up without gaps (common practice).
pub(super) const THIN: Length = Length::um(120);

/// Width of a line that parts more.
pub(super) const FIRM: Length = Length::um(240);

/// The height of the disc under a number.
pub(super) const DISC: Length = Length::um(5_000);

/// Width of the frame round what must be seen first.
pub(super) const HEAVY: Length = Length::um(900);

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

/// What a mark is to a reader: the part of the section that it belongs to, and where it leads.
#[derive(Clone, Debug, Default)]
pub(super) struct Sense {
    /// The part; `None` for decoration.
    pub(super) element: Option<usize>,
    /// The anchor that a link leads to.
    pub(super) link: Option<Arc<str>>,
}

impl Sense {
    /// What belongs to a part.
    pub(super) const fn of(element: usize) -> Self {
        Self { element: Some(element), link: None }
    }

    /// What only decorates.
    pub(super) const fn none() -> Self {
        Self { element: None, link: None }
    }
}

/// Something in a strip.
#[derive(Clone, Debug)]
pub(super) enum Mark {
    /// A line of text with the left end of its baseline.
    Line(Arc<GlyphLine>, Style, Point, Sense),
    /// A filled box: a rule.
    Rule(Rect),
    /// An outline.
    Frame(Rect, Ink, Length),
    /// A picture with its upper left corner and the part that it is.
    Picture(Arc<Drawing>, Point, Option<usize>),
    /// A number in white on a black disc, with the upper left corner of the disc.
    Disc(Arc<GlyphLine>, Point, Sense),
    /// A picture of dots, which decorates.
    Raster(Arc<Raster>, Rect),
    /// A place that links lead to.
    Anchor(Target, Point),
}

impl Strip {
    /// Adds lines of a style below each other, the top of the first at a place; the answer is the bottom of the last.
    pub(super) fn lines(
        &mut self,
        lines: &[Arc<GlyphLine>],
        style: Style,
        (left, top): (Length, Length),
        sense: &Sense,
    ) -> Length {
        let mut y = top;
        for line in lines {
            let at = Point::new(left, y + style.baseline());
            self.marks.push(Mark::Line(Arc::clone(line), style, at, sense.clone()));
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

    /// The same marks as decoration: what is said once is not said again.
    pub(super) fn silent(mut self) -> Self {
        self.marks.retain(|mark| !matches!(mark, Mark::Anchor(..)));
        for mark in &mut self.marks {
            match mark {
                Mark::Line(_, _, _, sense) | Mark::Disc(_, _, sense) => *sense = Sense::none(),
                Mark::Picture(_, _, element) => *element = None,
                Mark::Rule(_) | Mark::Frame(..) | Mark::Raster(..) | Mark::Anchor(..) => {}
            }
        }
        self
    }
}

impl Mark {
    fn moved(self, by: Point) -> Self {
        let rect = |rect: Rect| Rect::new(rect.origin + by, rect.size);
        match self {
            Self::Line(line, style, at, sense) => Self::Line(line, style, at + by, sense),
            Self::Rule(at) => Self::Rule(rect(at)),
            Self::Frame(at, ink, width) => Self::Frame(rect(at), ink, width),
            Self::Picture(drawing, at, element) => Self::Picture(drawing, at + by, element),
            Self::Disc(number, at, sense) => Self::Disc(number, at + by, sense),
            Self::Raster(raster, at) => Self::Raster(raster, rect(at)),
            Self::Anchor(target, at) => Self::Anchor(target, at + by),
        }
    }

    /// Puts it on a page, with the corner of its strip at a place.
    pub(super) fn draw(&self, page: &mut Page, by: Point) {
        match self {
            Self::Line(line, style, at, sense) => draw_line(page, (line, *style, *at + by, Ink::Black), sense),
            Self::Disc(number, at, sense) => draw_disc(page, number, *at + by, sense),
            Self::Rule(at) => page.furniture.fill(Path::rectangle(Rect::new(at.origin + by, at.size)), Ink::Black),
            Self::Frame(at, ink, width) => {
                page.furniture.stroke(Path::rectangle(Rect::new(at.origin + by, at.size)), *ink, *width);
            }
            Self::Picture(picture, at, element) => {
                page.placed.push(Placed { corner: *at + by, turned: false, drawing: Arc::clone(picture) });
                page.reading.figures.push(*element);
            }
            Self::Raster(raster, at) => page.reading.rasters.push(PlacedRaster {
                raster: Arc::clone(raster),
                at: Rect::new(at.origin + by, at.size),
                element: None,
            }),
            Self::Anchor(target, at) => page.reading.anchors.push(Anchor {
                name: Arc::clone(&target.name),
                top: (*at + by).y,
                bookmark: target.bookmark.clone(),
            }),
        }
    }
}

/// The number on its disc, which is drawn out to an oval for a number of several digits.
fn draw_disc(page: &mut Page, number: &Arc<GlyphLine>, corner: Point, sense: &Sense) {
    let style = Style::Strong;
    let words = style.width(number.width);
    let size = Size::new(DISC.max(words + DISC / 3), DISC);
    page.furniture.fill(Path::rounded(Rect::new(corner, size), DISC / 2), Ink::Black);
    let baseline = (DISC + style.capitals()) / 2;
    let at = Point::new(corner.x + (size.width - words) / 2, corner.y + baseline);
    draw_line(page, (number, style, at, Ink::White), sense);
}

/// A line on a page: what belongs to the same part as the line before goes on with it.
fn draw_line(page: &mut Page, (line, style, at, ink): (&Arc<GlyphLine>, Style, Point, Ink), sense: &Sense) {
    let first = page.furniture.items.len();
    page.furniture.text(Arc::clone(line), at, style.em(), ink);
    let Some(element) = sense.element else { return };
    let marked = &mut page.reading.marked;
    match marked.last_mut().filter(|last| last.element == element && last.items.end == first) {
        Some(last) => last.items.end += 1,
        None => marked.push(Marked { items: first..first + 1, element }),
    }
    if let Some(to) = &sense.link {
        let corner = Point::new(at.x, at.y - style.baseline());
        let at = Rect::new(corner, Size::new(style.width(line.width), style.pitch()));
        page.reading.links.push(Link { at, to: Arc::clone(to), element });
    }
}
