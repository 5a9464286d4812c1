//! The warning sign for electricity, ISO 7010 W012: black triangle, yellow field, arrowed flash.
//!
//! It is drawn in six-hundredths of its width. Triangle and border are those of a public-domain redraw of the registered sign
//! (box 600 x 524, centre line of the border 568, border 32, outer radius 16); the flash is our own drawing of the arrowed flash of
//! IEC 60417-5036, at the redraw's share of about 7.3 % of the sign.

use std::sync::{Arc, LazyLock};

use crate::drawing::{Drawing, Group, Ink, Path, Segment};
use crate::length::{Length, Point, Size};

/// The sign as a part that many drawings place; yellow covers about 60 % of it.
///
/// The Safety Signs Regulations 1996 (schedule 1, part II) ask for at least half.
#[must_use]
pub fn group() -> Arc<Group> {
    static GROUP: LazyLock<Arc<Group>> = LazyLock::new(|| Arc::new(drawn()));
    Arc::clone(&GROUP)
}

/// The width of the sign at a height.
#[must_use]
pub fn width(height: Length) -> Length {
    height.scaled(WIDTH / full_height())
}

fn drawn() -> Group {
    let size = Size::new(unit(WIDTH), unit(full_height()));
    let mut drawing = Drawing::new(size);
    // The yellow goes on under the border as far as its middle: no light line opens between the two where a printing
    // machine does not lay its inks exactly over each other.
    drawing.fill(triangle(INNER_RADIUS, INNER_RADIUS), Ink::SignalYellow);
    let mut border = triangle(0.0, BORDER / 2.0);
    border.segments.extend(reversed(&triangle(BORDER / 2.0 + INNER_RADIUS, INNER_RADIUS)).segments);
    drawing.fill(border, Ink::Black);
    drawing.fill(flash(), Ink::Black);
    Group { name: "w012", alternative: "Warning sign: electricity", drawing }
}

/// Overall width, in the sign's own units.
const WIDTH: f64 = 600.0;

/// Side of the triangle along the middle of its border.
const SIDE: f64 = 568.0;

/// Width of the border: 0.053 of the sign's width.
const BORDER: f64 = 32.0;

/// Radius of the yellow field's corners, so small that it takes less than 0.1 % of the yellow.
const INNER_RADIUS: f64 = 8.0;

/// Corners of the flash, from the top clockwise.
const FLASH: [(f64, f64); 11] = [
    (326.0, 183.0),
    (357.5, 183.0),
    (290.5, 299.0),
    (352.0, 286.0),
    (308.0, 422.0),
    (330.5, 429.0),
    (274.5, 475.0),
    (256.5, 405.0),
    (278.5, 412.0),
    (306.0, 327.0),
    (234.0, 342.5),
];

fn full_height() -> f64 {
    SIDE * f64::sqrt(0.75) + BORDER
}

/// The sign's unit on its own drawing, which is 60 mm wide.
fn unit(units: f64) -> Length {
    Length::mm(units / 10.0)
}

fn at(x: f64, y: f64) -> Point {
    Point::new(unit(x), unit(y))
}

/// An upright triangle with round corners: the one that lies `inset` inside the middle of the border, grown by `radius`.
fn triangle(inset: f64, radius: f64) -> Path {
    let centre = (WIDTH / 2.0, BORDER / 2.0 + SIDE / f64::sqrt(3.0));
    let reach = SIDE / f64::sqrt(3.0) - 2.0 * inset;
    let mut path = Path::new();
    for (corner, degrees) in [-90.0, 30.0, 150.0_f64].into_iter().enumerate() {
        let (sine, cosine) = degrees.to_radians().sin_cos();
        let middle = (centre.0 + reach * cosine, centre.1 + reach * sine);
        let start = on_circle(middle, radius, degrees - 60.0);
        path = if corner == 0 { path.move_to(start) } else { path.line_to(start) };
        path = arc(path, middle, radius, degrees - 60.0);
        path = arc(path, middle, radius, degrees);
    }
    path.close()
}

fn on_circle(middle: (f64, f64), radius: f64, degrees: f64) -> Point {
    let (sine, cosine) = degrees.to_radians().sin_cos();
    at(middle.0 + radius * cosine, middle.1 + radius * sine)
}

/// Sixty degrees of a circle, clockwise on paper. The control points lie 4/3 tan(15°) of the radius along the tangents.
fn arc(path: Path, middle: (f64, f64), radius: f64, from: f64) -> Path {
    let handle = 4.0 / 3.0 * 15.0_f64.to_radians().tan() * radius;
    let control = |degrees: f64, along: f64| {
        let (sine, cosine) = degrees.to_radians().sin_cos();
        at(middle.0 + radius * cosine - along * sine, middle.1 + radius * sine + along * cosine)
    };
    path.cubic_to(control(from, handle), control(from + 60.0, -handle), on_circle(middle, radius, from + 60.0))
}

/// The same closed outline the other way round: by the non-zero rule a hole in one that goes with it.
fn reversed(outline: &Path) -> Path {
    let (mut at, mut back) = (Point::default(), vec![Segment::Close]);
    for segment in &outline.segments {
        match *segment {
            Segment::Move(to) => at = to,
            Segment::Line(to) => {
                back.push(Segment::Line(at));
                at = to;
            }
            Segment::Cubic(one, two, to) => {
                back.push(Segment::Cubic(two, one, at));
                at = to;
            }
            Segment::Close => {}
        }
    }
    back.push(Segment::Move(at));
    back.reverse();
    Path { segments: back }
}

fn flash() -> Path {
    let outline = FLASH.iter().fold(Path::new(), |path, (x, y)| {
        if path.segments.is_empty() { path.move_to(at(*x, *y)) } else { path.line_to(at(*x, *y)) }
    });
    outline.close()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::{Item, Paint};

    /// Twice the area enclosed by a polygon.
    fn doubled(corners: &[(f64, f64)]) -> f64 {
        let next = corners.iter().cycle().skip(1);
        corners.iter().zip(next).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum::<f64>().abs()
    }

    /// A corner of a polygon, in mm.
    type Corner = (f64, f64);

    /// The outlines of a path as polygons, curves in 64 steps.
    fn flattened(path: &Path) -> Vec<Vec<Corner>> {
        let starts = |segment: &Segment| matches!(segment, Segment::Move(_));
        path.segments.chunk_by(|_, next| !starts(next)).map(polygon).collect()
    }

    fn polygon(outline: &[Segment]) -> Vec<Corner> {
        let mm = |point: Point| (point.x.to_mm(), point.y.to_mm());
        let mut corners: Vec<Corner> = Vec::new();
        for segment in outline {
            match *segment {
                Segment::Move(to) | Segment::Line(to) => corners.push(mm(to)),
                Segment::Cubic(one, two, to) => {
                    let (a, b, c, d) = (*corners.last().unwrap(), mm(one), mm(two), mm(to));
                    for step in 1..=64 {
                        let t = f64::from(step) / 64.0;
                        let mix = |a: f64, b: f64, c: f64, d: f64| {
                            let s = 1.0 - t;
                            s * s * s * a + 3.0 * s * s * t * b + 3.0 * s * t * t * c + t * t * t * d
                        };
                        corners.push((mix(a.0, b.0, c.0, d.0), mix(a.1, b.1, c.1, d.1)));
                    }
                }
                Segment::Close => {}
            }
        }
        corners
    }

    #[test]
    fn yellow_share_by_formula_is_that_of_the_registered_sign() {
        // Safety Signs Regulations 1996: at least half. The public-domain redraw of ISO 7010 W012 comes to 0.605, and to 0.678
        // without its flash.
        let corner = f64::sqrt(3.0) - std::f64::consts::PI / 3.0;
        let rounded = |side: f64, radius: f64| f64::sqrt(0.1875) * side * side - 3.0 * radius * radius * corner;
        let outer = rounded(SIDE + f64::sqrt(3.0) * BORDER, BORDER / 2.0);
        let inner = rounded(SIDE - f64::sqrt(3.0) * BORDER, INNER_RADIUS);
        let flash = doubled(&FLASH) / 2.0;
        assert!((inner / outer - 0.678).abs() < 0.002, "{}", inner / outer);
        assert!((flash / outer - 0.073).abs() < 0.002, "{}", flash / outer);
        assert!(((inner - flash) / outer - 0.605).abs() < 0.003, "{}", (inner - flash) / outer);
    }

    /// The filled outlines of the sign in painting order.
    fn outlines() -> Vec<(Vec<Vec<Corner>>, Ink)> {
        let filled = |item: &Item| {
            let Item::Path { path, paint: Paint::Fill(ink) } = item else { panic!("{item:?}") };
            (flattened(path), *ink)
        };
        group().drawing.items.iter().map(filled).collect()
    }

    /// How often outlines go round a point, by a horizontal ray from it: downwards counts one, upwards one less.
    fn inside(outlines: &[Vec<Corner>], (x, y): Corner) -> bool {
        let edges = outlines.iter().flat_map(|corners| corners.iter().zip(corners.iter().cycle().skip(1)));
        let crossings =
            edges.filter(|(a, b)| (a.1 > y) != (b.1 > y) && x < a.0 + (y - a.1) / (b.1 - a.1) * (b.0 - a.0));
        crossings.map(|(a, b)| if b.1 > a.1 { 1 } else { -1 }).sum::<i32>() != 0
    }

    #[test]
    fn the_yellow_goes_on_under_the_border_and_not_beyond_its_middle() {
        let outlines = outlines();
        let under =
            |point| outlines.iter().filter(|(outline, _)| inside(outline, point)).map(|(_, ink)| *ink).collect();
        // Along the middle of the lower border, a quarter of its width inside and outside of it.
        let middle = BORDER / 2.0 + SIDE * f64::sqrt(0.75);
        let at = |off: f64| -> Vec<Ink> { under((WIDTH / 20.0, (middle + off) / 10.0)) };
        assert_eq!(at(-BORDER / 4.0), [Ink::SignalYellow, Ink::Black]);
        assert_eq!(at(BORDER / 4.0), [Ink::Black]);
        assert_eq!(at(-BORDER * 0.6), [Ink::SignalYellow]);
    }

    #[test]
    fn yellow_share_of_the_pixels_is_at_least_half() {
        let outlines = outlines();
        let (mut sign, mut yellow) = (0_u32, 0_u32);
        for row in 0..524 {
            for column in 0..600 {
                let point = (f64::from(column) / 10.0 + 0.05, f64::from(row) / 10.0 + 0.05);
                let ink = outlines.iter().rev().find(|(corners, _)| inside(corners, point)).map(|(_, ink)| *ink);
                sign += u32::from(ink.is_some());
                yellow += u32::from(ink == Some(Ink::SignalYellow));
            }
        }
        let share = f64::from(yellow) / f64::from(sign);
        assert!((0.600..0.608).contains(&share), "{share}");
    }

    #[test]
    fn the_flash_keeps_clear_of_the_border() {
        // Keep-clear band of 2 mm on a sign 61 mm high, from the template of a 2002 committee paper: 0.033 of the height.
        let clear = full_height() * 0.033;
        let bottom = BORDER / 2.0 + SIDE * f64::sqrt(0.75) - BORDER / 2.0;
        for (x, y) in FLASH {
            let side = (y - BORDER / 2.0) / 2.0 - (x - WIDTH / 2.0).abs() * f64::sqrt(0.75) - BORDER / 2.0;
            assert!(bottom - y >= clear - 0.5, "({x}, {y})");
            assert!(side >= clear - 0.5, "({x}, {y}) {side}");
        }
    }

    #[test]
    fn the_width_follows_from_the_height() {
        // 524/600 = 0.873 in the redraw.
        let ratio = 100.0 / width(Length::mm(100.0)).to_mm();
        assert!((ratio - 0.873).abs() < 0.001);
        let drawing = &group().drawing;
        assert!((drawing.size.height.to_mm() / drawing.size.width.to_mm() - ratio).abs() < 1e-4);
    }
}
