//! Puts words on a plate: millimetres from the corner of the room for words, capitals by their height.

use std::sync::Arc;

use super::scale::Frame;
use crate::drawing::{Drawing, GlyphLine, Ink, Path};
use crate::length::{Dots, Length, Point, Rect, Size};
use crate::typesetting::Misfit;
use crate::typesetting::breaking::Paragraph;
use crate::typesetting::shaping;

/// Height of capitals as a share of the em, in every face.
const CAPITAL: f64 = 0.698;

/// From baseline to baseline in a paragraph, in capital heights: room for accents over descenders.
pub(super) const LEADING: f64 = 1.62;

/// How far letters reach below the baseline, in capital heights.
pub(super) const DESCENT: f64 = 0.31;

/// The width of a line set with capitals of a height.
pub(super) fn width(line: &GlyphLine, capital: f64) -> f64 {
    width_of(line.width, capital)
}

/// The width of so many font units with capitals of a height.
pub(super) fn width_of(units: i32, capital: f64) -> f64 {
    f64::from(units) * capital / (CAPITAL * 1_000.0)
}

/// A room in font units at a height of capitals; a hair less, so that rounding never crosses the edge.
#[expect(
    clippy::cast_possible_truncation,
    reason = "a float cast rounds a positive number down and saturates, and a plate is far below the range"
)]
pub(super) fn room(width: f64, capital: f64) -> i32 {
    ((width - 0.03).max(0.0) * CAPITAL * 1_000.0 / capital) as i32
}

/// The height of capitals at which so many font units fill a width.
pub(super) fn capital_for(width: f64, units: i32) -> f64 {
    (width - 0.04) * CAPITAL * 1_000.0 / f64::from(units.max(1))
}

/// From the top of the first line's capitals to the last baseline.
pub(super) fn depth(lines: usize, capital: f64) -> f64 {
    let further = u32::try_from(lines.saturating_sub(1)).unwrap_or(u32::MAX);
    capital * (1.0 + f64::from(further) * LEADING)
}

/// The drawing in the making.
pub(super) struct Pen {
    margin: f64,
    /// How far right everything goes.
    shift: f64,
    /// On which codes, rules, discs and baselines are put, so that like things come out alike; words keep their size and
    /// their place in the line.
    dots: Option<Dots>,
    drawing: Drawing,
}

impl Pen {
    pub(super) fn new(frame: &Frame) -> Self {
        let drawing = Drawing { dots: frame.dots, ..Drawing::new(frame.size) };
        Self { margin: frame.margin, shift: 0.0, dots: frame.dots, drawing }
    }

    pub(super) fn into_drawing(self) -> Drawing {
        self.drawing
    }

    /// The drawing, for marks that are no words.
    pub(super) const fn drawing(&mut self) -> &mut Drawing {
        &mut self.drawing
    }

    /// From now on everything goes so many mm further right than it is told.
    pub(super) const fn shift(&mut self, shift: f64) {
        self.shift = shift;
    }

    /// A point of the room for words.
    pub(super) fn at(&self, x: f64, y: f64) -> Point {
        Point::new(Length::mm(self.margin + self.shift + x), Length::mm(self.margin + y))
    }

    /// A box of the room for words.
    pub(super) fn area(&self, x: f64, y: f64, width: f64, height: f64) -> Rect {
        Rect::new(self.at(x, y), Size::new(Length::mm(width), Length::mm(height)))
    }

    /// A box with its edges between dots.
    pub(super) fn on_dots(&self, area: Rect) -> Rect {
        self.dots.map_or(area, |dots| dots.area(area))
    }

    /// The width of a line in whole dots, at least one.
    pub(super) fn thickness(&self, width: f64) -> Length {
        let width = Length::mm(width);
        self.dots.map_or(width, |dots| dots.length(dots.nearest(width).max(1)))
    }

    /// A box of the room for words with its lower edge between dots, where something stands that keeps its proportions.
    pub(super) fn standing(&self, x: f64, y: f64, width: f64, height: f64) -> Rect {
        let area = self.area(x, y, width, height);
        let Some(dots) = self.dots else { return area };
        let foot = dots.corner(Point::new(area.origin.x, area.bottom()));
        Rect::new(Point::new(foot.x, foot.y - area.size.height), area.size)
    }

    /// Where a code begins whose lower right corner is at a place, or within a dot to the left of and above it.
    pub(super) fn code_origin(&self, corner: Point, module: Length, side: u16) -> Point {
        let Some(dots) = self.dots else {
            let side = module * i32::from(side);
            return Point::new(corner.x - side, corner.y - side);
        };
        let side = dots.nearest(module) * u32::from(side);
        let start = |end: Length| dots.length(dots.within(end).saturating_sub(side));
        Point::new(start(corner.x), start(corner.y))
    }

    /// A straight line from left to right.
    pub(super) fn rule(&mut self, y: f64, width: f64, thickness: f64) {
        // A filled box, because a stroke would reach beyond its ends.
        let path = Path::rectangle(self.on_dots(self.area(0.0, y, width, thickness)));
        self.drawing.fill(path, Ink::Black);
    }

    /// A straight line from the top down.
    pub(super) fn upright(&mut self, x: f64, height: f64, thickness: f64) {
        let path = Path::rectangle(self.on_dots(self.area(x - thickness / 2.0, 0.0, thickness, height)));
        self.drawing.fill(path, Ink::Black);
    }

    /// From a circuit to the enclosure that it feeds: an arrow whose point is at `right`, for letters of a height.
    pub(super) fn arrow(&mut self, right: f64, y: f64, letter: f64) {
        let (length, head) = (letter * 1.15, letter * 0.3);
        let stroke = self.thickness(letter * 0.13);
        let shaft = Path::line(self.at(right - length, y), self.at(right, y));
        let point = Path::new()
            .move_to(self.at(right - head, y - head))
            .line_to(self.at(right, y))
            .line_to(self.at(right - head, y + head));
        self.drawing.stroke(shaft, Ink::Black, stroke);
        self.drawing.stroke(point, Ink::Black, stroke);
    }

    /// One line with its left end at `x`. The em is rounded up, so that no letter is lower than its floor by rounding.
    pub(super) fn line(&mut self, line: &Arc<GlyphLine>, x: f64, baseline: f64, capital: f64, ink: Ink) {
        let em = Length::mm((capital / CAPITAL * 1_000.0).ceil() / 1_000.0);
        let at = self.at(x, baseline);
        let origin = Point::new(at.x, self.dots.map_or(at.y, |dots| dots.snapped(at.y)));
        self.drawing.text(Arc::clone(line), origin, em, ink);
    }

    /// A paragraph whose first capitals start at `top`; the answer is its last baseline.
    pub(super) fn paragraph(
        &mut self,
        paragraph: &Paragraph,
        (x, top): (f64, f64),
        capital: f64,
        width: f64,
    ) -> Result<f64, Misfit> {
        let whole = &paragraph.line;
        let room = room(width, capital);
        let mut baseline = top + capital;
        if whole.width <= room {
            self.line(whole, x, baseline, capital, Ink::Black);
            return Ok(baseline);
        }
        for (index, bytes) in paragraph.broken(room).unwrap_or_default().into_iter().enumerate() {
            if index > 0 {
                baseline += capital * LEADING;
            }
            let text = whole.text.get(bytes).unwrap_or_default();
            let line = shaping::line(whole.face, text)?;
            self.line(&line, x, baseline, capital, Ink::Black);
        }
        Ok(baseline)
    }
}
