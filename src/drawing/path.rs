//! Outlines of straight lines and cubic curves.

use crate::length::{Length, Point, Rect};

/// One step of an outline.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Segment {
    /// Starts a new outline.
    Move(Point),
    /// A straight line.
    Line(Point),
    /// A cubic Bézier curve: two control points and its end.
    Cubic(Point, Point, Point),
    /// A straight line back to the start.
    Close,
}

/// One or more outlines.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash)]
pub struct Path {
    /// Its steps in order.
    pub segments: Vec<Segment>,
}

/// Distance of the control points of a quarter circle of radius 1: 4/3 (sqrt 2 - 1).
const QUARTER: f64 = 0.552_284_749_8;

impl Path {
    /// A path without any outline.
    #[must_use]
    pub const fn new() -> Self {
        Self { segments: Vec::new() }
    }

    /// One with room for so many steps.
    fn with_room(steps: usize) -> Self {
        Self { segments: Vec::with_capacity(steps) }
    }

    /// Starts a new outline at a point.
    #[must_use]
    pub fn move_to(mut self, to: Point) -> Self {
        self.segments.push(Segment::Move(to));
        self
    }

    /// Goes straight to a point.
    #[must_use]
    pub fn line_to(mut self, to: Point) -> Self {
        self.segments.push(Segment::Line(to));
        self
    }

    /// Goes to a point by a cubic curve.
    #[must_use]
    pub fn cubic_to(mut self, first: Point, second: Point, to: Point) -> Self {
        self.segments.push(Segment::Cubic(first, second, to));
        self
    }

    /// Goes straight back to the start of the outline.
    #[must_use]
    pub fn close(mut self) -> Self {
        self.segments.push(Segment::Close);
        self
    }

    /// A straight line from one point to another.
    #[must_use]
    pub fn line(from: Point, to: Point) -> Self {
        Self::with_room(2).move_to(from).line_to(to)
    }

    /// An upright box.
    #[must_use]
    pub fn rectangle(rect: Rect) -> Self {
        Self::with_room(5)
            .move_to(rect.origin)
            .line_to(Point::new(rect.right(), rect.origin.y))
            .line_to(Point::new(rect.right(), rect.bottom()))
            .line_to(Point::new(rect.origin.x, rect.bottom()))
            .close()
    }

    /// An upright box with round corners; a radius of zero gives square ones.
    #[must_use]
    pub fn rounded(rect: Rect, radius: Length) -> Self {
        if radius <= Length::ZERO {
            return Self::rectangle(rect);
        }
        let (left, top, right, bottom) = (rect.origin.x, rect.origin.y, rect.right(), rect.bottom());
        let slack = radius - radius.scaled(QUARTER);
        let at = Point::new;
        Self::with_room(10)
            .move_to(at(left + radius, top))
            .line_to(at(right - radius, top))
            .cubic_to(at(right - slack, top), at(right, top + slack), at(right, top + radius))
            .line_to(at(right, bottom - radius))
            .cubic_to(at(right, bottom - slack), at(right - slack, bottom), at(right - radius, bottom))
            .line_to(at(left + radius, bottom))
            .cubic_to(at(left + slack, bottom), at(left, bottom - slack), at(left, bottom - radius))
            .line_to(at(left, top + radius))
            .cubic_to(at(left, top + slack), at(left + slack, top), at(left + radius, top))
            .close()
    }

    /// A circle.
    #[must_use]
    pub fn circle(centre: Point, radius: Length) -> Self {
        let corner = Point::new(centre.x - radius, centre.y - radius);
        let size = crate::length::Size::new(radius * 2, radius * 2);
        Self::rounded(Rect::new(corner, size), radius)
    }
}
