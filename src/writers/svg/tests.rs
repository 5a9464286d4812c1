//! The picture's form, its escapes and its geometry.

use super::*;
use crate::drawing::{Face, Modules, Path};
use crate::length::{Point, Size};
use crate::typesetting::{Typesetter, sign};

fn square() -> Drawing {
    Drawing::new(Size::new(Length::mm(20.0), Length::mm(10.5)))
}

#[test]
fn lengths_are_written_to_the_micrometre() {
    let written = |um: i32| Mm(Length::um(um)).to_string();
    assert_eq!(
        [written(0), written(1), written(-20), written(300), written(74_000), written(-1_005)].join(" "),
        "0 0.001 -0.02 0.3 74 -1.005"
    );
}

#[test]
fn the_page_is_true_to_size() {
    let picture = svg(&square(), "x");
    assert!(picture.contains("width=\"20mm\" height=\"10.5mm\" viewBox=\"0 0 20 10.5\""), "{picture}");
}

#[test]
fn hostile_text_stays_text() {
    let mut drawing = square();
    let line = Typesetter::new().line(Face::Bold, "\"/><script>'&").unwrap();
    drawing.text(line, Point::default(), Length::mm(5.0), Ink::Black);
    let picture = svg(&drawing, "</title><script>\u{0}\u{1b}");
    assert!(!picture.contains("<script"), "{picture}");
    assert!(picture.contains("&lt;/title&gt;&lt;script&gt;</title>"), "{picture}");
    assert!(picture.contains("aria-label=\"&quot;/&gt;&lt;script&gt;&#39;&amp;\""), "{picture}");
}

#[test]
fn a_small_picture_has_each_letter_once_and_places_it() {
    let mut drawing = square();
    let line = Typesetter::new().line(Face::Bold, "Q7 and Q7").unwrap();
    drawing.text(line, Point::default(), Length::mm(5.0), Ink::Black);
    let picture = small(&drawing, "x");
    assert_eq!(picture.matches("<path id=").count(), "Q7 and".chars().count());
    assert_eq!(picture.matches("<use ").count(), "Q7 and Q7".chars().count());
    for rest in picture.split("href=\"#").skip(1) {
        let (name, _) = rest.split_once('"').unwrap();
        assert_eq!(picture.matches(&format!("id=\"{name}\"")).count(), 1, "{name}");
    }
}

#[test]
fn a_group_is_stored_once_and_placed_by_name() {
    let mut drawing = square();
    let height = Length::mm(10.0);
    for _ in 0..2 {
        let at = Rect::new(Point::default(), Size::new(sign::width(height), height));
        drawing.items.push(Item::Group { group: sign::group(), at });
    }
    let picture = svg(&drawing, "x");
    assert_eq!(picture.matches("<defs>").count(), 1);
    assert_eq!(picture.matches("xlink:href=\"#w012\"").count(), 2);
    assert_eq!(picture.matches("aria-label=\"Warning sign: electricity\"").count(), 2);
}

#[test]
fn neighbouring_modules_are_one_box() {
    let mut drawing = square();
    let (origin, module) = (Point::new(Length::mm(1.0), Length::mm(2.0)), Length::mm(0.5));
    drawing.items.push(Item::Modules(Modules {
        origin,
        module,
        side: 3,
        rows: vec![0b101, 0b110, 0b000],
        payload: String::new(),
    }));
    let picture = svg(&drawing, "x");
    assert!(picture.contains("d=\"M1 2h0.5v0.5h-0.5zM2 2h0.5v0.5h-0.5zM1.5 2.5h1v0.5h-1z\""), "{picture}");
}

#[test]
fn strokes_and_fills_keep_their_ink() {
    let mut drawing = square();
    drawing.fill(Path::rectangle(Rect::new(Point::default(), drawing.size)), Ink::SignalYellow);
    drawing.stroke(
        Path::line(Point::default(), Point::new(Length::mm(3.0), Length::ZERO)),
        Ink::Grey,
        Length::mm(0.24),
    );
    let picture = svg(&drawing, "x");
    assert!(
        picture.contains("fill=\"#f9a800\"") && picture.contains("stroke=\"#808080\" stroke-width=\"0.24\""),
        "{picture}"
    );
}
