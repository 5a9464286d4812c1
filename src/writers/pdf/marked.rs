//! The content of a page that is read: marks of one part stand between a number and its end, all others are called
//! artifacts, which a reader passes over (ISO 32000-1, 14.6 and 14.8.2.2).

use super::content::{Content, push_integer};
use crate::length::Rect;
use crate::sheets::{Anchor, Link, Page, PlacedRaster};

/// What stands before decoration, and behind any marks.
pub(super) const ARTIFACT: &[u8] = b"/Artifact BMC\n";
pub(super) const END: &[u8] = b"EMC\n";

/// What is numbered on a page, and what else a reader is told of it.
#[derive(Clone, Debug, Default)]
pub(super) struct Marks {
    /// The part of each numbered run of marks, by its number.
    pub(super) parts: Vec<usize>,
    /// The room of each picture that is a part.
    pub(super) figures: Vec<(usize, Rect)>,
    /// Pictures of dots, each with the number of its run if it is a part. They are drawn where they are stored.
    pub(super) rasters: Vec<(PlacedRaster, Option<usize>)>,
    /// Where words lead elsewhere.
    pub(super) links: Vec<Link>,
    /// What links lead to.
    pub(super) anchors: Vec<Anchor>,
}

/// Draws a page, every mark of it within a run.
pub(super) fn draw(content: &mut Content<'_>, page: &Page) -> Marks {
    let reading = &page.reading;
    let mut pen = Pen { content, marks: Marks::default(), open: None };
    for item in &page.repeated.items {
        pen.turn(None);
        pen.content.item(item, page.repeated.dots);
    }
    let mut ranges = reading.marked.iter().peekable();
    for (number, item) in page.furniture.items.iter().enumerate() {
        while ranges.next_if(|range| range.items.end <= number).is_some() {}
        let range = ranges.peek().filter(|range| range.items.contains(&number));
        pen.turn(range.map(|range| range.element));
        pen.content.item(item, page.furniture.dots);
    }
    for (number, placed) in page.placed.iter().enumerate() {
        let part = reading.figures.get(number).copied().flatten();
        pen.turn(part);
        pen.marks.figures.extend(part.map(|part| (part, placed.room())));
        pen.content.placed(placed);
    }
    pen.close();
    for placed in &reading.rasters {
        pen.raster(placed);
    }
    Marks { links: reading.links.clone(), anchors: reading.anchors.clone(), ..pen.marks }
}

/// What stands before the run of this number.
pub(super) fn push_opening(bytes: &mut Vec<u8>, number: usize) {
    bytes.extend_from_slice(b"/Span<</MCID ");
    push_integer(bytes, i64::try_from(number).unwrap_or(i64::MAX));
    bytes.extend_from_slice(b">>BDC\n");
}

struct Pen<'a, 'p> {
    content: &'a mut Content<'p>,
    marks: Marks,
    /// The run under way: of a part, or of decoration.
    open: Option<Option<usize>>,
}

impl Pen<'_, '_> {
    /// Goes on with marks of a part, or with decoration.
    fn turn(&mut self, part: Option<usize>) {
        if self.open == Some(part) {
            return;
        }
        self.close();
        self.open = Some(part);
        match part {
            Some(part) => {
                push_opening(&mut self.content.bytes, self.marks.parts.len());
                self.marks.parts.push(part);
            }
            None => self.content.bytes.extend_from_slice(ARTIFACT),
        }
    }

    fn close(&mut self) {
        if self.open.take().is_some() {
            self.content.bytes.extend_from_slice(END);
        }
    }

    fn raster(&mut self, placed: &PlacedRaster) {
        let number = placed.element.map(|part| {
            self.marks.parts.push(part);
            self.marks.figures.push((part, placed.at));
            self.marks.parts.len() - 1
        });
        self.marks.rasters.push((placed.clone(), number));
    }
}
