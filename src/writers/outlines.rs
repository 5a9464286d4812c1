//! A drawing as nothing but outlines: text as the shapes of its letters, codes as boxes, groups in their places. For
//! machines that know no fonts: engravers and printing heads.

use kurbo::{Affine, BezPath, Rect, Shape as _, Vec2};
use skrifa::instance::{LocationRef, Size};
use skrifa::outline::{DrawSettings, OutlinePen};
use skrifa::{FontRef, GlyphId, MetadataProvider};

use crate::drawing::{Drawing, GlyphLine, Ink, Item, Modules, Paint, Path, Segment};
use crate::length::{Dots, Length, Point};
use crate::typesetting::fonts;

/// One painted outline.
#[derive(Clone, Debug, PartialEq)]
pub struct Shape {
    /// In millimetres from the drawing's upper left corner, `y` down.
    pub path: BezPath,
    /// With what.
    pub ink: Ink,
    /// Width in millimetres of a line with round joins and ends; `None` for what is filled by the non-zero rule.
    pub line: Option<f64>,
}

/// Everything that a drawing paints, in painting order.
#[must_use]
pub fn shapes(drawing: &Drawing) -> Vec<Shape> {
    let mut shapes = Vec::new();
    push(&mut shapes, drawing, Affine::IDENTITY, 1.0);
    shapes
}

/// The marks of a drawing under a matrix that enlarges evenly by `scale`.
fn push(shapes: &mut Vec<Shape>, drawing: &Drawing, matrix: Affine, scale: f64) {
    for item in &drawing.items {
        let (path, ink, line) = match item {
            Item::Path { path, paint: Paint::Fill(ink) } => (outline(path), *ink, None),
            Item::Path { path, paint: Paint::Stroke { ink, width } } => (outline(path), *ink, Some(width.to_mm())),
            Item::Text { line, origin, em, ink } => (text(line, *origin, *em), *ink, None),
            Item::Modules(modules) => (boxes(modules, drawing.dots), Ink::Black, None),
            Item::Group { group, at } => {
                let inner = at.size.width.to_mm() / group.drawing.size.width.to_mm();
                let place = Affine::translate(vector(at.origin)) * Affine::scale(inner);
                push(shapes, &group.drawing, matrix * place, scale * inner);
                continue;
            }
        };
        shapes.push(Shape { path: matrix * path, ink, line: line.map(|width| width * scale) });
    }
}

fn vector(point: Point) -> Vec2 {
    Vec2::new(point.x.to_mm(), point.y.to_mm())
}

fn outline(path: &Path) -> BezPath {
    let at = |point: Point| vector(point).to_point();
    let mut outline = BezPath::new();
    for segment in &path.segments {
        match *segment {
            Segment::Move(to) => outline.move_to(at(to)),
            Segment::Line(to) => outline.line_to(at(to)),
            Segment::Cubic(one, two, to) => outline.curve_to(at(one), at(two), at(to)),
            Segment::Close => outline.close_path(),
        }
    }
    outline
}

/// The letters of a line, with the left end of the baseline at `origin`.
fn text(line: &GlyphLine, origin: Point, em: Length) -> BezPath {
    let scale = em.to_mm() / f64::from(fonts::heights(line.face).units_per_em);
    Affine::new([scale, 0.0, 0.0, -scale, origin.x.to_mm(), origin.y.to_mm()]) * letters(line)
}

/// The letters in font units, `y` up.
fn letters(line: &GlyphLine) -> BezPath {
    let mut pen = Pen { path: BezPath::new(), shift: Vec2::ZERO };
    let Ok(font) = FontRef::new(fonts::bytes(line.face)) else { return pen.path };
    let glyphs = font.outline_glyphs();
    let mut at = 0_i32;
    for glyph in &line.glyphs {
        pen.shift = Vec2::new(f64::from(at + i32::from(glyph.shift)), f64::from(glyph.rise));
        if let Some(outline) = glyphs.get(GlyphId::new(u32::from(glyph.id))) {
            // A glyph of an embedded font draws; the test of this module would show one that did not.
            let _ = outline.draw(DrawSettings::unhinted(Size::unscaled(), LocationRef::default()), &mut pen);
        }
        at += i32::from(glyph.advance);
    }
    pen.path
}

/// Every dark module as a box of its own.
fn boxes(modules: &Modules, dots: Option<Dots>) -> BezPath {
    let mut path = BezPath::new();
    let ([x, y], side) = modules.exact(dots);
    let origin = Vec2::new(x, y);
    let words = usize::from(modules.side.div_ceil(64)).max(1);
    for (row, bits) in (0_u32..).zip(modules.rows.chunks(words)) {
        let dark = |column: &u16| bits.get(usize::from(column / 64)).is_some_and(|word| word >> (column % 64) & 1 == 1);
        for column in (0..modules.side).filter(dark) {
            let corner = origin + Vec2::new(f64::from(column), f64::from(row)) * side;
            path.extend(Rect::from_origin_size(corner.to_point(), (side, side)).path_elements(0.1));
        }
    }
    path
}

/// Gathers a glyph's outline, moved to its place.
struct Pen {
    path: BezPath,
    shift: Vec2,
}

impl Pen {
    fn at(&self, x: f32, y: f32) -> kurbo::Point {
        (Vec2::new(f64::from(x), f64::from(y)) + self.shift).to_point()
    }
}

impl OutlinePen for Pen {
    fn move_to(&mut self, x: f32, y: f32) {
        self.path.move_to(self.at(x, y));
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.path.line_to(self.at(x, y));
    }

    fn quad_to(&mut self, cx0: f32, cy0: f32, x: f32, y: f32) {
        self.path.quad_to(self.at(cx0, cy0), self.at(x, y));
    }

    fn curve_to(&mut self, cx0: f32, cy0: f32, cx1: f32, cy1: f32, x: f32, y: f32) {
        self.path.curve_to(self.at(cx0, cy0), self.at(cx1, cy1), self.at(x, y));
    }

    fn close(&mut self) {
        self.path.close_path();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Face;
    use crate::length::{Rect as Box, Size as Extent};
    use crate::typesetting::{Typesetter, sign};

    #[test]
    fn letters_stand_as_high_as_the_face_says_and_as_far_as_the_line_is_wide() {
        let line = Typesetter::new().line(Face::Bold, "HHH").unwrap();
        let mut drawing = Drawing::new(Extent::whole_mm(40, 10));
        drawing.text(line.clone(), Point::new(Length::mm(2.0), Length::mm(8.0)), Length::mm(10.0), Ink::Black);
        let [shape] = &shapes(&drawing)[..] else { panic!("one line") };
        let bounds = shape.path.bounding_box();
        let capital = f64::from(fonts::heights(Face::Bold).capital) / 100.0;
        assert!((bounds.y1 - 8.0).abs() < 1e-9 && (bounds.height() - capital).abs() < 1e-9, "{bounds:?}");
        assert!(bounds.x0 > 2.0 && bounds.x1 < 2.0 + f64::from(line.width) / 100.0);
    }

    #[test]
    fn a_group_comes_in_its_place_and_size() {
        let mut drawing = Drawing::new(Extent::whole_mm(40, 40));
        let group = sign::group();
        let height = Length::mm(20.0);
        let at = Box::new(Point::new(Length::mm(5.0), Length::mm(7.0)), Extent::new(sign::width(height), height));
        drawing.items.push(Item::Group { group, at });
        let shapes = shapes(&drawing);
        assert_eq!(
            shapes.iter().map(|shape| shape.ink).collect::<Vec<_>>(),
            [Ink::SignalYellow, Ink::Black, Ink::Black]
        );
        let bounds = shapes[1].path.bounding_box();
        assert!(
            (bounds.x0 - 5.0).abs() < 0.01 && (bounds.y0 - 7.0).abs() < 0.01 && (bounds.height() - 20.0).abs() < 0.01
        );
    }

    #[test]
    fn a_code_covers_as_much_as_its_dark_modules() {
        let modules = Modules {
            origin: Point::new(Length::mm(1.0), Length::mm(2.0)),
            module: Length::mm(0.5),
            side: 3,
            rows: vec![0b101, 0b010, 0b111],
            payload: String::new(),
        };
        let path = boxes(&modules, None);
        assert!((path.area().abs() - 6.0 * 0.25).abs() < 1e-9);
        assert_eq!(path.bounding_box(), Rect::new(1.0, 2.0, 2.5, 3.5));
    }
}
