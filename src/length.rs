//! Lengths and boxes in whole micrometres, and the only conversion from millimetres to points.

mod dots;

use std::fmt;
use std::ops::{Add, Div, Mul, Neg, Sub};

pub use dots::Dots;

/// Micrometres in a point (1/72 inch): 25 400 / 72.
const UM_PER_POINT: f64 = 25_400.0 / 72.0;

/// A length in whole micrometres. The range is about two kilometres, so sums of lengths on paper cannot overflow.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Length(i32);

impl Length {
    /// No length at all.
    pub const ZERO: Self = Self(0);

    /// A length of so many whole micrometres.
    #[must_use]
    pub const fn um(micrometres: i32) -> Self {
        Self(micrometres)
    }

    /// The nearest whole micrometre to a length in millimetres; not a number gives zero.
    #[must_use]
    #[expect(clippy::cast_possible_truncation, reason = "a float cast saturates, and paper is far below the range")]
    pub fn mm(millimetres: f64) -> Self {
        Self((millimetres * 1_000.0).round() as i32)
    }

    /// The length in whole micrometres.
    #[must_use]
    pub const fn to_um(self) -> i32 {
        self.0
    }

    /// The length in millimetres.
    #[must_use]
    pub fn to_mm(self) -> f64 {
        f64::from(self.0) / 1_000.0
    }

    /// The length in points of 1/72 inch.
    #[must_use]
    pub fn to_points(self) -> f64 {
        f64::from(self.0) / UM_PER_POINT
    }

    /// This length times a ratio, to the nearest micrometre.
    #[must_use]
    #[expect(clippy::cast_possible_truncation, reason = "a float cast saturates, and paper is far below the range")]
    pub fn scaled(self, ratio: f64) -> Self {
        Self((f64::from(self.0) * ratio).round() as i32)
    }

    /// The length without its sign.
    #[must_use]
    pub const fn abs(self) -> Self {
        Self(self.0.abs())
    }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl Mul<i32> for Length {
    type Output = Self;
    fn mul(self, times: i32) -> Self {
        Self(self.0 * times)
    }
}

impl Div<i32> for Length {
    type Output = Self;
    fn div(self, parts: i32) -> Self {
        Self(self.0 / parts)
    }
}

impl std::iter::Sum for Length {
    fn sum<I: Iterator<Item = Self>>(lengths: I) -> Self {
        lengths.fold(Self::ZERO, Add::add)
    }
}

/// Millimetres without trailing zeros: `74`, `3.5`.
impl fmt::Display for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.to_mm())
    }
}

/// A place: `x` to the right and `y` **down** from the upper left corner of what it is drawn on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Point {
    /// To the right.
    pub x: Length,
    /// Down.
    pub y: Length,
}

impl Point {
    /// A point from its two coordinates.
    #[must_use]
    pub const fn new(x: Length, y: Length) -> Self {
        Self { x, y }
    }
}

impl Add for Point {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self { x: self.x + other.x, y: self.y + other.y }
    }
}

/// Width and height.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Size {
    /// From left to right.
    pub width: Length,
    /// From top to bottom.
    pub height: Length,
}

/// The A series of ISO 216 by name, smallest first, each lying with its long side across.
pub const ISO_216: [(&str, Size); 7] = [
    ("A9", Size::whole_mm(52, 37)),
    ("A8", Size::whole_mm(74, 52)),
    ("A7", Size::whole_mm(105, 74)),
    ("A6", Size::whole_mm(148, 105)),
    ("A5", Size::whole_mm(210, 148)),
    ("A4", Size::whole_mm(297, 210)),
    ("A3", Size::whole_mm(420, 297)),
];

impl Size {
    /// A size from its two sides in whole millimetres.
    #[must_use]
    pub const fn whole_mm(width: i32, height: i32) -> Self {
        Self { width: Length::um(width * 1_000), height: Length::um(height * 1_000) }
    }

    /// A size from its two sides.
    #[must_use]
    pub const fn new(width: Length, height: Length) -> Self {
        Self { width, height }
    }

    /// The same size turned by a quarter.
    #[must_use]
    pub const fn turned(self) -> Self {
        Self { width: self.height, height: self.width }
    }

    /// Whether something of this size fits into `room` without being turned.
    #[must_use]
    pub fn fits_in(self, room: Self) -> bool {
        self.width <= room.width && self.height <= room.height
    }
}

/// Millimetres, width first: `105 x 74 mm`.
impl fmt::Display for Size {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} x {} mm", self.width, self.height)
    }
}

/// An upright box.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Rect {
    /// The upper left corner.
    pub origin: Point,
    /// Its extent from there.
    pub size: Size,
}

impl Rect {
    /// A box from its upper left corner and its size.
    #[must_use]
    pub const fn new(origin: Point, size: Size) -> Self {
        Self { origin, size }
    }

    /// The x of its right edge.
    #[must_use]
    pub fn right(self) -> Length {
        self.origin.x + self.size.width
    }

    /// The y of its lower edge.
    #[must_use]
    pub fn bottom(self) -> Length {
        self.origin.y + self.size.height
    }

    /// The box that lies `by` inside this one on every side.
    #[must_use]
    pub fn inset(self, by: Length) -> Self {
        Self {
            origin: Point::new(self.origin.x + by, self.origin.y + by),
            size: Size::new(self.size.width - by * 2, self.size.height - by * 2),
        }
    }

    /// Whether the two boxes share any area.
    #[must_use]
    pub fn overlaps(self, other: Self) -> bool {
        self.origin.x < other.right()
            && other.origin.x < self.right()
            && self.origin.y < other.bottom()
            && other.origin.y < self.bottom()
    }

    /// Whether `other` lies wholly inside this box.
    #[must_use]
    pub fn contains(self, other: Self) -> bool {
        self.origin.x <= other.origin.x
            && self.origin.y <= other.origin.y
            && other.right() <= self.right()
            && other.bottom() <= self.bottom()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a4_in_points_is_the_published_figure() {
        // ISO 216 A4, 210 x 297 mm; 595.276 x 841.890 pt by 1 pt = 1/72 inch.
        assert!((Length::mm(210.0).to_points() - 595.276).abs() < 0.000_5);
        assert!((Length::mm(297.0).to_points() - 841.890).abs() < 0.000_5);
    }

    #[test]
    fn iso_216_sizes_are_half_of_the_next_one_rounded_down() {
        // ISO 216:2007: each size is the next larger one halved along its longer side, rounded down to whole millimetres.
        for pair in ISO_216.windows(2) {
            let ((_, smaller), (name, larger)) = (pair[0], pair[1]);
            let half = larger.width.to_um() / 2_000 * 1_000;
            assert_eq!((smaller.width, smaller.height), (larger.height, Length::um(half)), "half of {name}");
        }
    }

    #[test]
    fn boxes_that_only_touch_do_not_overlap() {
        let side = Size::new(Length::mm(10.0), Length::mm(10.0));
        let left = Rect::new(Point::default(), side);
        let right = Rect::new(Point::new(Length::mm(10.0), Length::ZERO), side);
        assert!(!left.overlaps(right));
        assert!(left.overlaps(Rect::new(Point::new(Length::mm(9.999), Length::ZERO), side)));
    }
}
