//! A drawing as one self-contained SVG picture, true to size in millimetres.

mod code;
mod engraving;
mod letters;
mod shape;
mod text;

use std::fmt::{self, Write};

use crate::drawing::{Drawing, Group, Ink, Item, Paint};
use crate::length::{Length, Rect};

pub use engraving::to_engrave;
use letters::Letters;

/// The picture on white paper, with `title` for people who cannot see it. Nothing in it refers to anything outside.
#[must_use]
pub fn svg(drawing: &Drawing, title: &str) -> String {
    let mut out = String::with_capacity(16_384);
    // Writing to a string cannot fail.
    let _ = document(&mut out, drawing, title, Letters::Drawn);
    out
}

/// The same picture in a third of the bytes, to be sent to a telephone: it has the outline of each letter once, and no words.
/// Whoever shows it says its words beside it.
#[must_use]
pub fn small(drawing: &Drawing, title: &str) -> String {
    let mut out = String::with_capacity(16_384);
    // Writing to a string cannot fail.
    let _ = document(&mut out, drawing, title, Letters::Shared);
    out
}

/// The same picture in fewer bytes still: its letters are those of the device that shows it, each line squeezed or stretched
/// to its true length. Fit for a diagram, never for a notice.
#[must_use]
pub fn light(drawing: &Drawing, title: &str) -> String {
    let mut out = String::with_capacity(16_384);
    // Writing to a string cannot fail.
    let _ = document(&mut out, drawing, title, Letters::OfTheDevice);
    out
}

fn document(out: &mut String, drawing: &Drawing, title: &str, letters: Letters) -> fmt::Result {
    let (width, height) = (Mm(drawing.size.width), Mm(drawing.size.height));
    writeln!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" role=\"img\" \
         width=\"{width}mm\" height=\"{height}mm\" viewBox=\"0 0 {width} {height}\">"
    )?;
    writeln!(out, "<title>{}</title>", Escaped(title))?;
    writeln!(out, "<path fill=\"{}\" d=\"M0 0h{width}v{height}h-{width}z\"/>", colour(Ink::White))?;
    letters::define(out, drawing, letters)?;
    groups(out, drawing, letters)?;
    if letters == Letters::Drawn {
        items(out, drawing, letters)?;
    } else {
        out.write_str("<g font-family=\"sans-serif\" stroke-linecap=\"round\" stroke-linejoin=\"round\">\n")?;
        items(out, drawing, letters)?;
        out.write_str("</g>\n")?;
    }
    out.write_str("</svg>\n")
}

/// Every group that the drawing places, each once.
fn groups(out: &mut String, drawing: &Drawing, letters: Letters) -> fmt::Result {
    let mut seen: Vec<&str> = Vec::new();
    for item in &drawing.items {
        if let Item::Group { group, .. } = item
            && !seen.contains(&group.name)
        {
            seen.push(group.name);
            writeln!(out, "<defs><g id=\"{}\">", Escaped(group.name))?;
            items(out, &group.drawing, letters)?;
            out.write_str("</g></defs>\n")?;
        }
    }
    Ok(())
}

fn items(out: &mut String, drawing: &Drawing, letters: Letters) -> fmt::Result {
    for alike in drawing.items.chunk_by(|one, other| letters != Letters::Drawn && shape::is_one_stroke(one, other)) {
        match alike {
            [one] => item(out, one, drawing, letters)?,
            several => shape::strokes(out, several)?,
        }
    }
    Ok(())
}

fn item(out: &mut String, item: &Item, drawing: &Drawing, letters: Letters) -> fmt::Result {
    match (item, letters) {
        (Item::Path { path, paint }, Letters::Drawn) | (Item::Path { path, paint: paint @ Paint::Fill(_) }, _) => {
            shape::path(out, path, *paint)
        }
        (Item::Path { .. }, Letters::Shared | Letters::OfTheDevice) => shape::strokes(out, std::slice::from_ref(item)),
        (Item::Text { line, origin, em, ink }, Letters::Drawn) => text::line(out, line, *origin, *em, *ink),
        (Item::Text { line, origin, em, ink }, Letters::Shared) => letters::line(out, line, *origin, *em, *ink),
        (Item::Text { line, origin, em, ink }, Letters::OfTheDevice) => letters::words(out, line, *origin, *em, *ink),
        (Item::Modules(modules), _) => code::modules(out, modules, drawing.dots),
        (Item::Group { group, at }, _) => placed(out, group, *at),
    }
}

fn placed(out: &mut String, group: &Group, at: Rect) -> fmt::Result {
    let scale = at.size.width.to_mm() / group.drawing.size.width.to_mm();
    writeln!(
        out,
        "<g role=\"img\" aria-label=\"{}\" transform=\"translate({} {}) scale({scale:.6})\"><use xlink:href=\"#{}\"/></g>",
        Escaped(group.alternative),
        Mm(at.origin.x),
        Mm(at.origin.y),
        Escaped(group.name)
    )
}

/// The colour on a screen. Signal yellow is the usual approximation of RAL 1003; the true one is a matter of the material.
const fn colour(ink: Ink) -> &'static str {
    match ink {
        Ink::Black => "#000",
        Ink::White => "#fff",
        Ink::SignalYellow => "#f9a800",
        Ink::Grey => "#808080",
        // Seen here only if somebody looks at a sheet of a printing works on a screen.
        Ink::Contour => "#d6007f",
        Ink::Register => "#000",
    }
}

/// A length in millimetres, to the micrometre, without trailing zeros.
struct Mm(Length);

impl fmt::Display for Mm {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let micrometres = self.0.to_um();
        let sign = if micrometres < 0 { "-" } else { "" };
        let (whole, rest) = (micrometres.unsigned_abs() / 1_000, micrometres.unsigned_abs() % 1_000);
        match rest {
            0 => write!(f, "{sign}{whole}"),
            _ if rest % 100 == 0 => write!(f, "{sign}{whole}.{}", rest / 100),
            _ if rest % 10 == 0 => write!(f, "{sign}{whole}.{:02}", rest / 10),
            _ => write!(f, "{sign}{whole}.{rest:03}"),
        }
    }
}

/// Text that can neither end an attribute nor open an element; characters that XML forbids are left out.
struct Escaped<'a>(&'a str);

impl fmt::Display for Escaped<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for character in self.0.chars() {
            match character {
                '&' => f.write_str("&amp;")?,
                '<' => f.write_str("&lt;")?,
                '>' => f.write_str("&gt;")?,
                '"' => f.write_str("&quot;")?,
                '\'' => f.write_str("&#39;")?,
                '\u{fffe}' | '\u{ffff}' => {}
                control if control.is_control() => {}
                other => f.write_char(other)?,
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests;
