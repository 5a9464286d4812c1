//! A drawing as one self-contained SVG picture, true to size in millimetres.

mod code;
mod engraving;
mod shape;
mod text;

use std::fmt::{self, Write};

use crate::drawing::{Drawing, Group, Ink, Item};
use crate::length::{Length, Rect};

pub use engraving::to_engrave;

/// The picture on white paper, with `title` for people who cannot see it. Nothing in it refers to anything outside.
#[must_use]
pub fn svg(drawing: &Drawing, title: &str) -> String {
    let mut out = String::with_capacity(16_384);
    // Writing to a string cannot fail.
    let _ = document(&mut out, drawing, title);
    out
}

fn document(out: &mut String, drawing: &Drawing, title: &str) -> fmt::Result {
    let (width, height) = (Mm(drawing.size.width), Mm(drawing.size.height));
    writeln!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" role=\"img\" \
         width=\"{width}mm\" height=\"{height}mm\" viewBox=\"0 0 {width} {height}\">"
    )?;
    writeln!(out, "<title>{}</title>", Escaped(title))?;
    writeln!(out, "<path fill=\"{}\" d=\"M0 0h{width}v{height}h-{width}z\"/>", colour(Ink::White))?;
    groups(out, drawing)?;
    items(out, drawing)?;
    out.write_str("</svg>\n")
}

/// Every group that the drawing places, each once.
fn groups(out: &mut String, drawing: &Drawing) -> fmt::Result {
    let mut seen: Vec<&str> = Vec::new();
    for item in &drawing.items {
        if let Item::Group { group, .. } = item
            && !seen.contains(&group.name)
        {
            seen.push(group.name);
            writeln!(out, "<defs><g id=\"{}\">", Escaped(group.name))?;
            items(out, &group.drawing)?;
            out.write_str("</g></defs>\n")?;
        }
    }
    Ok(())
}

fn items(out: &mut String, drawing: &Drawing) -> fmt::Result {
    for item in &drawing.items {
        match item {
            Item::Path { path, paint } => shape::path(out, path, *paint)?,
            Item::Text { line, origin, em, ink } => text::line(out, line, *origin, *em, *ink)?,
            Item::Modules(modules) => code::modules(out, modules, drawing.dots)?,
            Item::Group { group, at } => placed(out, group, *at)?,
        }
    }
    Ok(())
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
