//! A drawing made smaller or larger as a whole, for a picture of it.

use super::{Drawing, Item, Modules, Paint, Path, Segment};
use crate::length::{Point, Rect, Size};

impl Drawing {
    /// The same picture at another size: every length times `ratio`, to the nearest micrometre.
    #[must_use]
    pub fn scaled(&self, ratio: f64) -> Self {
        let items = self.items.iter().map(|item| scaled_item(item, ratio)).collect();
        Self { size: scaled_size(self.size, ratio), items, dots: None }
    }
}

fn scaled_item(item: &Item, ratio: f64) -> Item {
    match item {
        Item::Path { path, paint } => {
            let paint = match *paint {
                Paint::Fill(ink) => Paint::Fill(ink),
                Paint::Stroke { ink, width } => Paint::Stroke { ink, width: width.scaled(ratio) },
            };
            Item::Path { path: scaled_path(path, ratio), paint }
        }
        Item::Text { line, origin, em, ink } => {
            Item::Text { line: line.clone(), origin: scaled_point(*origin, ratio), em: em.scaled(ratio), ink: *ink }
        }
        Item::Modules(modules) => Item::Modules(Modules {
            origin: scaled_point(modules.origin, ratio),
            module: modules.module.scaled(ratio),
            ..modules.clone()
        }),
        Item::Group { group, at } => {
            let at = Rect::new(scaled_point(at.origin, ratio), scaled_size(at.size, ratio));
            Item::Group { group: group.clone(), at }
        }
    }
}

fn scaled_path(path: &Path, ratio: f64) -> Path {
    let at = |point: Point| scaled_point(point, ratio);
    let segment = |segment: &Segment| match *segment {
        Segment::Move(to) => Segment::Move(at(to)),
        Segment::Line(to) => Segment::Line(at(to)),
        Segment::Cubic(first, second, to) => Segment::Cubic(at(first), at(second), at(to)),
        Segment::Close => Segment::Close,
    };
    Path { segments: path.segments.iter().map(segment).collect() }
}

fn scaled_point(point: Point, ratio: f64) -> Point {
    Point::new(point.x.scaled(ratio), point.y.scaled(ratio))
}

fn scaled_size(size: Size, ratio: f64) -> Size {
    Size::new(size.width.scaled(ratio), size.height.scaled(ratio))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::{Face, Ink};
    use crate::length::Length;
    use crate::typesetting::{Typesetter, sign};
    use crate::writers::outlines::shapes;

    /// Everything that a drawing may hold, with lengths that halve evenly.
    fn everything() -> Drawing {
        let at = |x: f64, y: f64| Point::new(Length::mm(x), Length::mm(y));
        let mut drawing = Drawing::new(Size::whole_mm(60, 40));
        drawing.fill(Path::circle(at(10.0, 10.0), Length::mm(4.0)), Ink::Black);
        drawing.stroke(Path::line(at(0.0, 0.0), at(60.0, 40.0)), Ink::Grey, Length::mm(0.5));
        let line = Typesetter::new().line(Face::Bold, "CH3-JB2").unwrap();
        drawing.text(line, at(4.0, 30.0), Length::mm(8.0), Ink::Black);
        let (side, rows, payload) = (2, vec![0b01, 0b10], String::new());
        drawing.items.push(Item::Modules(Modules {
            origin: at(40.0, 10.0),
            module: Length::mm(1.0),
            side,
            rows,
            payload,
        }));
        let height = Length::mm(20.0);
        let at = Rect::new(at(20.0, 4.0), Size::new(sign::width(height), height));
        drawing.items.push(Item::Group { group: sign::group(), at });
        drawing
    }

    #[test]
    fn every_mark_keeps_its_place_in_the_picture() {
        let (whole, half) = (everything(), everything().scaled(0.5));
        assert_eq!(half.size, Size::whole_mm(30, 20));
        let (whole, half) = (shapes(&whole), shapes(&half));
        assert_eq!(whole.len(), half.len());
        for (one, other) in whole.iter().zip(&half) {
            use kurbo::Shape as _;
            let (one, other) = (one.path.bounding_box().scale_from_origin(0.5), other.path.bounding_box());
            assert!((one.x0 - other.x0).abs() < 0.002 && (one.y0 - other.y0).abs() < 0.002, "{one:?} {other:?}");
            assert!((one.x1 - other.x1).abs() < 0.002 && (one.y1 - other.y1).abs() < 0.002, "{one:?} {other:?}");
        }
        assert_eq!(half[1].line, Some(0.25));
    }
}
