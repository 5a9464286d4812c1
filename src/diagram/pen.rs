//! Draws lines, circles and words in millimetres from the upper left corner of the diagram.

use super::lettering::Words;
use crate::drawing::{Drawing, Ink, Path};
use crate::length::{Length, Point, Rect, Size};

/// The width of an ordinary line, in millimetres.
pub(super) const THIN: f64 = 0.35;

/// The width of a line that is proved to be live: seen at a glance, and without colour.
pub(super) const HEAVY: f64 = 1.1;

/// Dash and gap of a line that is not described.
const DASH: f64 = 1.6;
const GAP: f64 = 1.2;

/// A drawing and where its zero lies.
pub(super) struct Pen<'a> {
    pub(super) drawing: &'a mut Drawing,
    /// Added to every x.
    pub(super) left: f64,
}

impl Pen<'_> {
    fn at(&self, (x, y): (f64, f64)) -> Point {
        Point::new(Length::mm(x + self.left), Length::mm(y))
    }

    fn rect(&self, (x, y): (f64, f64), width: f64, height: f64) -> Rect {
        Rect::new(self.at((x, y)), Size::new(Length::mm(width), Length::mm(height)))
    }

    /// A line through points.
    pub(super) fn line(&mut self, points: &[(f64, f64)], width: f64) {
        let mut path = Path::new();
        for (place, point) in points.iter().enumerate() {
            let point = self.at(*point);
            path = if place == 0 { path.move_to(point) } else { path.line_to(point) };
        }
        self.drawing.stroke(path, Ink::Black, Length::mm(width));
    }

    /// A dashed line from one point to another.
    pub(super) fn dashed(&mut self, from: (f64, f64), to: (f64, f64), width: f64) {
        let length = (to.0 - from.0).hypot(to.1 - from.1);
        if length < DASH {
            return self.line(&[from, to], width);
        }
        // Whole dashes only, one at either end, with the gaps stretched to suit.
        let gaps = ((length - DASH) / (DASH + GAP)).round().max(1.0);
        let step = (length - DASH) / gaps;
        let point = |along: f64| {
            let share = along / length;
            (from.0 + (to.0 - from.0) * share, from.1 + (to.1 - from.1) * share)
        };
        let mut path = Path::new();
        let mut start = 0.0;
        while start < length - DASH / 2.0 {
            path = path.move_to(self.at(point(start))).line_to(self.at(point((start + DASH).min(length))));
            start += step;
        }
        self.drawing.stroke(path, Ink::Black, Length::mm(width));
    }

    /// An outlined circle.
    pub(super) fn circle(&mut self, centre: (f64, f64), radius: f64, width: f64) {
        self.drawing.stroke(Path::circle(self.at(centre), Length::mm(radius)), Ink::Black, Length::mm(width));
    }

    /// An outlined circle that hides what lies behind it.
    pub(super) fn ring(&mut self, centre: (f64, f64), radius: f64, width: f64) {
        self.drawing.fill(Path::circle(self.at(centre), Length::mm(radius)), Ink::White);
        self.circle(centre, radius, width);
    }

    /// A filled circle.
    pub(super) fn disc(&mut self, centre: (f64, f64), radius: f64) {
        self.drawing.fill(Path::circle(self.at(centre), Length::mm(radius)), Ink::Black);
    }

    /// A filled box from its upper left corner.
    pub(super) fn block(&mut self, corner: (f64, f64), width: f64, height: f64) {
        self.drawing.fill(Path::rectangle(self.rect(corner, width, height)), Ink::Black);
    }

    /// An outlined box with round corners from its upper left corner.
    pub(super) fn frame(&mut self, corner: (f64, f64), width: f64, height: f64, radius: f64, line: f64) {
        let path = Path::rounded(self.rect(corner, width, height), Length::mm(radius));
        self.drawing.stroke(path, Ink::Black, Length::mm(line));
    }

    /// A filled box with round corners.
    pub(super) fn tag(&mut self, corner: (f64, f64), width: f64, height: f64, radius: f64) {
        let path = Path::rounded(self.rect(corner, width, height), Length::mm(radius));
        self.drawing.fill(path, Ink::Black);
    }

    /// A filled triangle.
    pub(super) fn triangle(&mut self, [one, two, three]: [(f64, f64); 3]) {
        let path = Path::new().move_to(self.at(one)).line_to(self.at(two)).line_to(self.at(three)).close();
        self.drawing.fill(path, Ink::Black);
    }

    /// A half circle over a point, open below.
    pub(super) fn cup(&mut self, (x, y): (f64, f64), radius: f64, width: f64) {
        const QUARTER: f64 = 0.552_284_749_8;
        let along = radius * QUARTER;
        let path = Path::new()
            .move_to(self.at((x - radius, y)))
            .cubic_to(self.at((x - radius, y - along)), self.at((x - along, y - radius)), self.at((x, y - radius)))
            .cubic_to(self.at((x + along, y - radius)), self.at((x + radius, y - along)), self.at((x + radius, y)));
        self.drawing.stroke(path, Ink::Black, Length::mm(width));
    }

    /// Words with the left end of their baseline at a point.
    pub(super) fn words(&mut self, words: &Words, baseline: (f64, f64), ink: Ink) {
        let origin = self.at(baseline);
        self.drawing.text(std::sync::Arc::clone(&words.line), origin, words.em(), ink);
    }

    /// Words whose capitals are centred on a point.
    pub(super) fn centred(&mut self, words: &Words, (x, y): (f64, f64), ink: Ink) {
        self.words(words, (x - words.width() / 2.0, y + words.capital / 2.0), ink);
    }
}
