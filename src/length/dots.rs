//! The dots of a printing head, and lengths that are whole numbers of them.

use serde::Deserialize;

use super::{Length, Point, Rect, Size};

/// The dots of a printing head, which are as wide as they are high.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize)]
#[serde(try_from = "u32")]
pub enum Dots {
    /// 8 dots to the millimetre, called 203 dpi (common practice).
    Dpi203,
    /// 300 dots to the inch.
    Dpi300,
    /// 600 dots to the inch.
    Dpi600,
}

impl Dots {
    /// Every head there is, the coarsest first.
    pub const ALL: [Self; 3] = [Self::Dpi203, Self::Dpi300, Self::Dpi600];

    /// The number by which the trade calls it.
    #[must_use]
    pub const fn per_inch(self) -> u32 {
        match self {
            Self::Dpi203 => 203,
            Self::Dpi300 => 300,
            Self::Dpi600 => 600,
        }
    }

    /// Dots in a millimetre.
    #[must_use]
    pub const fn per_mm(self) -> f64 {
        match self {
            Self::Dpi203 => 8.0,
            Self::Dpi300 => 300.0 / 25.4,
            Self::Dpi600 => 600.0 / 25.4,
        }
    }

    /// So many dots in millimetres, exactly: lengths of whole micrometres cannot hold what 300 and 600 dpi need.
    #[must_use]
    pub fn to_mm(self, dots: u32) -> f64 {
        f64::from(dots) / self.per_mm()
    }

    /// The length of so many dots, to the nearest micrometre.
    #[must_use]
    pub fn length(self, dots: u32) -> Length {
        Length::mm(self.to_mm(dots))
    }

    /// The whole number of dots that is nearest to a length; zero for a negative one.
    #[must_use]
    pub fn nearest(self, length: Length) -> u32 {
        whole((length.to_mm() * self.per_mm()).round())
    }

    /// The last whole dot that a length reaches; zero for a negative one. A length of whole dots that was rounded to
    /// micrometres keeps all of them.
    #[must_use]
    pub fn within(self, length: Length) -> u32 {
        whole((length.to_mm() * self.per_mm() + ROUNDING).floor())
    }

    /// The fewest whole dots that are as wide as a length in millimetres.
    #[must_use]
    pub fn at_least(self, millimetres: f64) -> u32 {
        whole((millimetres * self.per_mm() - ROUNDING).ceil())
    }

    /// A length to the nearest whole dot.
    #[must_use]
    pub fn snapped(self, length: Length) -> Length {
        if length < Length::ZERO { -self.length(self.nearest(-length)) } else { self.length(self.nearest(length)) }
    }

    /// A place on the nearest dot's corner.
    #[must_use]
    pub fn corner(self, point: Point) -> Point {
        Point::new(self.snapped(point.x), self.snapped(point.y))
    }

    /// A size in whole dots, each side at least one.
    #[must_use]
    pub fn size(self, size: Size) -> Size {
        let side = |length: Length| self.length(self.nearest(length).max(1));
        Size::new(side(size.width), side(size.height))
    }

    /// A box whose edges lie between dots: its corner on the nearest, its sides whole. It is drawn a part of a
    /// micrometre inside them, so that a printer which blackens every dot that is touched blackens no more.
    #[must_use]
    pub fn area(self, area: Rect) -> Rect {
        let edges = |from: Length, side: Length| {
            let first = self.nearest(from);
            let last = first + self.nearest(side).max(1);
            let up = Length::mm((self.to_mm(first) * 1_000.0 - TINY).ceil() / 1_000.0);
            (up, Length::mm((self.to_mm(last) * 1_000.0 + TINY).floor() / 1_000.0) - up)
        };
        let (x, width) = edges(area.origin.x, area.size.width);
        let (y, height) = edges(area.origin.y, area.size.height);
        Rect::new(Point::new(x, y), Size::new(width, height))
    }
}

/// What micrometres round away of a length, as a share of the finest dot, and more.
const ROUNDING: f64 = 0.02;

/// What floats round away of a micrometre.
const TINY: f64 = 1e-6;

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to 0 to 10^9")]
fn whole(dots: f64) -> u32 {
    dots.clamp(0.0, 1e9) as u32
}

impl TryFrom<u32> for Dots {
    type Error = String;

    fn try_from(per_inch: u32) -> Result<Self, String> {
        match per_inch {
            203 => Ok(Self::Dpi203),
            300 => Ok(Self::Dpi300),
            600 => Ok(Self::Dpi600),
            other => Err(format!("{other} dots an inch are not among 203, 300 and 600")),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn whole_dots_come_back_whole_whatever_micrometres_round() {
        // 1 inch = 25.4 mm exactly; 8 dots a millimetre at 203 dpi (common practice).
        for (dots, millimetres) in [(Dots::Dpi203, 25.0), (Dots::Dpi300, 50.8 / 3.0), (Dots::Dpi600, 25.4 / 3.0)] {
            assert!((dots.to_mm(200) - millimetres).abs() < 1e-9, "{dots:?}");
            for count in 0..10_000 {
                let length = dots.length(count);
                assert_eq!((dots.nearest(length), dots.within(length)), (count, count), "{dots:?}");
                assert_eq!(dots.snapped(length), length);
                assert_eq!(dots.at_least(length.to_mm()), count, "{dots:?}");
            }
        }
    }

    #[test]
    fn a_box_on_dots_touches_no_other_dot() {
        for dots in Dots::ALL {
            for um in (0..20_000).step_by(37) {
                let length = Length::um(um);
                let area = dots.area(Rect::new(Point::new(length, length), Size::new(length, Length::um(1))));
                let first = dots.nearest(length);
                let edges = [(area.origin.x, first, 1.0), (area.right(), first + dots.nearest(length).max(1), -1.0)];
                for (edge, dot, inwards) in edges {
                    let beyond = (edge.to_mm() - dots.to_mm(dot)) * inwards * 1_000.0;
                    assert!((-1e-5..1.0).contains(&beyond), "{dots:?} {um}: {beyond}");
                }
                assert_eq!(dots.nearest(area.size.height), 1);
            }
        }
    }

    #[test]
    fn lengths_below_nothing_are_snapped_too() {
        assert_eq!(Dots::Dpi203.snapped(Length::um(-310)), Length::um(-250));
        assert_eq!(Dots::Dpi203.nearest(Length::um(-310)), 0);
    }
}
