//! Outlines into pixels.

use kurbo::PathEl;
use tiny_skia::{Color, FillRule, LineCap, LineJoin, Paint, Path, PathBuilder, Pixmap, Stroke, Transform};

use super::Print;
use crate::drawing::{Drawing, Ink};
use crate::length::Dots;
use crate::writers::outlines::{self, Shape};

/// A dot is printed if at least this much of it is covered, of 255.
///
/// Half keeps edges where they are drawn, so that strokes and the white between them come out alike. The other rule,
/// that of the dot's middle, gives the same on straight edges, and on slopes and curves it is rougher.
const COVERED: u8 = 128;

/// What is printed at every dot, row by row from the upper left.
pub(super) fn printed(
    drawing: &Drawing,
    size: [u32; 2],
    dots: Dots,
    print: impl Fn(Ink) -> Option<Print>,
) -> Vec<Print> {
    // Black and yellow are gathered as two parts of one colour, of which each dot then has much or little.
    let part = |print| match print {
        Print::Nothing => [0; 3],
        Print::Black => [255, 0, 0],
        Print::Yellow => [0, 255, 0],
    };
    let pixmap = painted(drawing, size, dots, [0; 3], |ink| print(ink).map(part));
    let pixels = pixmap.iter().flat_map(|pixmap| pixmap.pixels());
    let print = |pixel: &tiny_skia::PremultipliedColorU8| match (pixel.red(), pixel.green()) {
        (COVERED.., _) => Print::Black,
        (_, COVERED..) => Print::Yellow,
        _ => Print::Nothing,
    };
    pixels.map(print).collect()
}

/// Red, green and blue of every pixel, row by row from the upper left.
pub(super) fn shaded(
    drawing: &Drawing,
    size: [u32; 2],
    dots: Dots,
    ground: [u8; 3],
    shade: impl Fn(Ink) -> Option<[u8; 3]>,
) -> Vec<u8> {
    let pixmap = painted(drawing, size, dots, ground, shade);
    let pixels = pixmap.iter().flat_map(|pixmap| pixmap.pixels());
    pixels.flat_map(|pixel| [pixel.red(), pixel.green(), pixel.blue()]).collect()
}

/// Everything painted in order; `None` for a picture without pixels.
fn painted(
    drawing: &Drawing,
    [width, height]: [u32; 2],
    dots: Dots,
    [red, green, blue]: [u8; 3],
    colour: impl Fn(Ink) -> Option<[u8; 3]>,
) -> Option<Pixmap> {
    let mut pixmap = Pixmap::new(width, height)?;
    pixmap.fill(Color::from_rgba8(red, green, blue, 255));
    for shape in outlines::shapes(drawing) {
        if let (Some(colour), Some(path)) = (colour(shape.ink), outline(&shape, dots)) {
            paint(&mut pixmap, &path, colour, &shape, dots);
        }
    }
    Some(pixmap)
}

fn paint(pixmap: &mut Pixmap, path: &Path, [red, green, blue]: [u8; 3], shape: &Shape, dots: Dots) {
    let mut paint = Paint::default();
    paint.set_color_rgba8(red, green, blue, 255);
    match shape.line {
        None => pixmap.fill_path(path, &paint, FillRule::Winding, Transform::identity(), None),
        Some(width) => {
            let width = narrow(width * dots.per_mm());
            let stroke = Stroke { width, line_cap: LineCap::Round, line_join: LineJoin::Round, ..Stroke::default() };
            pixmap.stroke_path(path, &paint, &stroke, Transform::identity(), None);
        }
    }
}

/// A shape's outline in dots; `None` if there is nothing in it.
fn outline(shape: &Shape, dots: Dots) -> Option<Path> {
    let at = |point: kurbo::Point| (narrow(point.x * dots.per_mm()), narrow(point.y * dots.per_mm()));
    let mut path = PathBuilder::new();
    for element in shape.path.elements() {
        match *element {
            PathEl::MoveTo(to) => {
                let (x, y) = at(to);
                path.move_to(x, y);
            }
            PathEl::LineTo(to) => {
                let (x, y) = at(to);
                path.line_to(x, y);
            }
            PathEl::QuadTo(one, to) => {
                let ((a, b), (x, y)) = (at(one), at(to));
                path.quad_to(a, b, x, y);
            }
            PathEl::CurveTo(one, two, to) => {
                let ((a, b), (c, d), (x, y)) = (at(one), at(two), at(to));
                path.cubic_to(a, b, c, d, x, y);
            }
            PathEl::ClosePath => path.close(),
        }
    }
    path.finish()
}

#[expect(clippy::cast_possible_truncation, reason = "dots on a label need no more digits")]
fn narrow(dots: f64) -> f32 {
    dots as f32
}
