//! A page for an engraving machine: one group of black areas to engrave, one of lines to cut along, and nothing else.

use std::fmt::{self, Write};

use rayon::prelude::*;

use super::{Escaped, Mm};
use crate::drawing::{Drawing, Item, Path, Segment};
use crate::length::{Length, Point};
use crate::sheets::{Correction, Page, Placed};
use crate::writers::engraving;

/// The page as outlines, true to size in millimetres; text is outlines too. The margin is left out: nothing is engraved
/// beside the plates. `title` and `description` are for people.
#[must_use]
pub fn to_engrave(page: &Page, title: &str, description: &str) -> String {
    let plates: Vec<Drawing> = page.placed.par_iter().map(|placed| engraving::engraved(&placed.drawing)).collect();
    let mut out = String::with_capacity(65_536);
    // Writing to a string cannot fail.
    let _ = document(&mut out, page, &plates, (title, description));
    out
}

/// The colour of the lines to cut along: the same as in a PDF.
const EDGE: &str = "#f0f";

fn document(out: &mut String, page: &Page, plates: &[Drawing], (title, description): (&str, &str)) -> fmt::Result {
    let (width, height) = (Mm(page.size.width), Mm(page.size.height));
    writeln!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" \
         viewBox=\"0 0 {width} {height}\">"
    )?;
    writeln!(out, "<title>{}</title>\n<desc>{}</desc>", Escaped(title), Escaped(description))?;
    out.write_str("<g id=\"engrave\" fill=\"#000\" stroke=\"none\">\n")?;
    for (placed, plate) in page.placed.iter().zip(plates) {
        let place =
            Place { corner: placed.corner, turned: placed.turned.then_some(placed), correction: page.correction };
        paths(out, plate, place)?;
    }
    out.write_str("</g>\n")?;
    cut(out, page)?;
    out.write_str("</svg>\n")
}

fn cut(out: &mut String, page: &Page) -> fmt::Result {
    let widths = page.contours.items.iter().filter_map(|item| match item {
        Item::Path { paint: crate::drawing::Paint::Stroke { width, .. }, .. } => Some(*width),
        Item::Path { .. } | Item::Text { .. } | Item::Modules(_) | Item::Group { .. } => None,
    });
    let width = Mm(widths.max().unwrap_or_default());
    writeln!(out, "<g id=\"cut\" fill=\"none\" stroke=\"{EDGE}\" stroke-width=\"{width}\">")?;
    let place = Place { corner: Point::default(), turned: None, correction: page.correction };
    paths(out, &page.contours, place)?;
    out.write_str("</g>\n")
}

/// The paths of a drawing, which holds nothing else.
fn paths(out: &mut String, drawing: &Drawing, place: Place<'_>) -> fmt::Result {
    for item in &drawing.items {
        let Item::Path { path, .. } = item else { continue };
        out.write_str("<path d=\"")?;
        data(out, path, place)?;
        out.write_str("\"/>\n")?;
    }
    Ok(())
}

fn data(out: &mut String, path: &Path, place: Place<'_>) -> fmt::Result {
    for segment in &path.segments {
        match *segment {
            Segment::Move(to) => write!(out, "M{}", place.of(to))?,
            Segment::Line(to) => write!(out, "L{}", place.of(to))?,
            Segment::Cubic(one, two, to) => write!(out, "C{} {} {}", place.of(one), place.of(two), place.of(to))?,
            Segment::Close => out.write_str("Z")?,
        }
    }
    Ok(())
}

/// Where a drawing lies, and how the machine's measured error is made good. Coordinates are moved instead of being put
/// under a matrix, because not every machine follows one.
#[derive(Clone, Copy)]
struct Place<'a> {
    corner: Point,
    turned: Option<&'a Placed>,
    correction: Correction,
}

impl Place<'_> {
    fn of(self, point: Point) -> Spot {
        let on_page = match self.turned {
            // A plate turned by a quarter has its upper left corner at the upper right of its room.
            Some(placed) => Point::new(placed.room().right() - point.y, self.corner.y + point.x),
            None => self.corner + point,
        };
        let (x, y) = self.correction.apply((on_page.x.to_mm(), on_page.y.to_mm()));
        Spot(Point::new(Length::mm(x), Length::mm(y)))
    }
}

/// Two coordinates.
struct Spot(Point);

impl fmt::Display for Spot {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", Mm(self.0.x), Mm(self.0.y))
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::drawing::{Face, Ink};
    use crate::length::{Rect, Size};
    use crate::typesetting::Typesetter;

    fn at(x: i32, y: i32) -> Point {
        Point::new(Length::um(x * 1_000), Length::um(y * 1_000))
    }

    /// A strip of 20 x 10 mm with a box in its upper left corner.
    fn strip() -> Arc<Drawing> {
        let mut drawing = Drawing::new(Size::whole_mm(20, 10));
        drawing.fill(Path::rectangle(Rect::new(at(0, 0), Size::whole_mm(4, 2))), Ink::Black);
        Arc::new(drawing)
    }

    /// The corners of the first path of a group, sorted.
    fn corners(picture: &str, group: &str) -> Vec<(i64, i64)> {
        let part = picture.split(&format!("id=\"{group}\"")).nth(1).unwrap();
        let data = part.split("d=\"").nth(1).unwrap().split('"').next().unwrap();
        let words = data.trim_end_matches('Z').split(['M', 'L', 'C', ' ']).filter(|word| !word.is_empty());
        let numbers: Vec<i64> = words.map(|word| (word.parse::<f64>().unwrap() * 1_000.0).round() as i64).collect();
        let mut corners: Vec<_> = numbers.chunks_exact(2).map(|pair| (pair[0], pair[1])).collect();
        corners.sort_unstable();
        corners
    }

    #[test]
    fn a_plate_by_itself_is_engraved_within_its_edge() {
        let picture = to_engrave(&Page::plate(strip(), Length::ZERO), "Q7", "one plate");
        assert!(picture.contains("width=\"20mm\" height=\"10mm\" viewBox=\"0 0 20 10\""), "{picture}");
        assert_eq!(corners(&picture, "engrave"), [(0, 0), (0, 2_000), (4_000, 0), (4_000, 2_000)]);
        assert_eq!(corners(&picture, "cut"), [(0, 0), (0, 10_000), (20_000, 0), (20_000, 10_000)]);
        assert_eq!(picture.matches("<path").count(), 2);
    }

    #[test]
    fn a_turned_plate_has_its_upper_edge_on_the_right() {
        let mut page = Page::plate(strip(), Length::ZERO);
        page.placed = vec![Placed { corner: at(5, 6), turned: true, drawing: strip() }];
        let picture = to_engrave(&page, "", "");
        assert_eq!(
            corners(&picture, "engrave"),
            [(13_000, 6_000), (13_000, 10_000), (15_000, 6_000), (15_000, 10_000)]
        );
    }

    #[test]
    fn the_machines_error_is_made_good_as_in_a_pdf() {
        let mut page = Page::plate(strip(), Length::ZERO);
        page.correction = Correction { offset: at(1, -1), scale_x: 1.01, ..Correction::default() };
        let picture = to_engrave(&page, "", "");
        assert_eq!(corners(&picture, "engrave")[3], (4_040 + 1_000, 2_000 - 1_000));
        assert_eq!(corners(&picture, "cut")[3], (20_200 + 1_000, 10_000 - 1_000));
    }

    #[test]
    fn words_are_outlines_and_nothing_refers_outside() {
        let mut drawing = Drawing::new(Size::whole_mm(60, 20));
        let line = Typesetter::new().line(Face::Bold, "<Q7&\"").unwrap();
        drawing.text(line, at(5, 12), Length::mm(8.0), Ink::Black);
        let picture = to_engrave(&Page::plate(Arc::new(drawing), Length::mm(2.0)), "</title><text>", "]]>\u{0}");
        for unwanted in ["<text", "href", "url(", "style", "font", "<image", "<use", "\u{0}", "transform"] {
            assert!(!picture.contains(unwanted), "{unwanted}");
        }
        assert!(picture.contains("<title>&lt;/title&gt;&lt;text&gt;</title>"), "{picture}");
        assert_eq!(picture.matches("http").count(), 1, "only the name of the form itself");
    }
}
