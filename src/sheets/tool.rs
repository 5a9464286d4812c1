//! What an engraving tool is too broad for: the stems of small letters, the modules of a code.

use crate::drawing::{Drawing, Face, Item};
use crate::finding::{Finding, code};
use crate::length::Length;
use crate::typesetting::fonts;

/// What on a notice is finer than the line that the tool cuts. `notice` is its number, `enclosure` what it is about.
#[must_use]
pub fn finer_than_tool(drawing: &Drawing, tool: Length, notice: &str, enclosure: &str) -> Vec<Finding> {
    let words = thinnest(drawing).filter(|(stem, _)| *stem < tool).map(|(stem, capital)| {
        let message = format!(
            "on notice `{notice}` letters of {capital} mm have strokes of {stem} mm, and the tool cuts {tool} mm"
        );
        Finding::new(code::FINER_THAN_TOOL, message).help("use a finer tool, or make the notice larger")
    });
    let module = least_module(drawing).filter(|module| *module < tool).map(|module| {
        let message = format!(
            "the code of notice `{notice}` has modules of {module} mm, and the tool cuts {tool} mm: nobody could read it"
        );
        Finding::new(code::CODE_FINER_THAN_TOOL, message)
            .help("use a finer tool, shorten the record link, or leave the code out with `-`")
    });
    words.into_iter().chain(module).map(|finding| finding.about(enclosure)).collect()
}

/// The thinnest stroke of any letter, with the height of capitals of its line. Groups hold no words.
fn thinnest(drawing: &Drawing) -> Option<(Length, Length)> {
    let of_item = |item: &Item| match item {
        Item::Text { line, em, .. } => Some((share(line.face, *em, fonts::thinnest), capital(line.face, *em))),
        Item::Path { .. } | Item::Modules(_) | Item::Group { .. } => None,
    };
    drawing.items.iter().filter_map(of_item).min()
}

fn capital(face: Face, em: Length) -> Length {
    share(face, em, |face| fonts::heights(face).capital)
}

/// So many font units of a face at an em.
fn share(face: Face, em: Length, units: impl Fn(Face) -> i32) -> Length {
    em.scaled(f64::from(units(face)) / f64::from(fonts::heights(face).units_per_em))
}

fn least_module(drawing: &Drawing) -> Option<Length> {
    let of_item = |item: &Item| match item {
        Item::Modules(modules) => Some(modules.module),
        Item::Path { .. } | Item::Text { .. } | Item::Group { .. } => None,
    };
    drawing.items.iter().filter_map(of_item).min()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::{Ink, Modules};
    use crate::length::{Point, Size};
    use crate::typesetting::Typesetter;

    fn drawing() -> Drawing {
        let mut drawing = Drawing::new(Size::whole_mm(60, 20));
        let typesetter = Typesetter::new();
        for (face, em) in [(Face::Bold, 8.0), (Face::Regular, 3.0)] {
            let line = typesetter.line(face, "Q7").unwrap();
            drawing.text(line, Point::default(), Length::mm(em), Ink::Black);
        }
        drawing.items.push(Item::Modules(Modules {
            origin: Point::default(),
            module: Length::mm(0.4),
            side: 0,
            rows: Vec::new(),
            payload: String::new(),
        }));
        drawing
    }

    fn found(tool: f64) -> Vec<(crate::finding::Code, String)> {
        let found = finer_than_tool(&drawing(), Length::mm(tool), "Q7@Lobby", "Q7");
        found.into_iter().map(|finding| (finding.code, finding.message)).collect()
    }

    #[test]
    fn a_tool_finer_than_everything_is_not_spoken_of() {
        assert_eq!(found(0.15), []);
    }

    #[test]
    fn letters_with_finer_strokes_are_named_by_their_height() {
        let [(code, message)] = &found(0.3)[..] else { panic!("one finding") };
        assert_eq!(*code, code::FINER_THAN_TOOL);
        // 698 of 1000 units of an em of 3 mm.
        assert!(message.contains("letters of 2.094 mm"), "{message}");
    }

    #[test]
    fn a_code_with_finer_modules_cannot_be_read() {
        let codes: Vec<_> = found(0.5).into_iter().map(|(code, _)| code).collect();
        assert_eq!(codes, [code::FINER_THAN_TOOL, code::CODE_FINER_THAN_TOOL]);
    }
}
