//! Letters that a picture has once and places wherever they stand.

use std::collections::BTreeSet;
use std::fmt::{self, Write};

use skrifa::instance::{LocationRef, Size};
use skrifa::outline::{DrawSettings, OutlinePen};
use skrifa::{FontRef, GlyphId, MetadataProvider};

use super::{Escaped, Mm, colour};
use crate::drawing::{Drawing, Face, GlyphLine, Ink, Item};
use crate::length::{Length, Point};
use crate::typesetting::fonts;

/// How the letters of a picture are written.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Letters {
    /// Each line as one path.
    Drawn,
    /// The outline of each letter once.
    Shared,
    /// Words, in a face that whoever shows the picture has.
    OfTheDevice,
}

/// The outline of every letter of a drawing, where they are shared.
pub(super) fn define(out: &mut String, drawing: &Drawing, letters: Letters) -> fmt::Result {
    let mut used = BTreeSet::new();
    if letters == Letters::Shared {
        gather(drawing, &mut used);
    }
    if used.is_empty() {
        return Ok(());
    }
    out.write_str("<defs>\n")?;
    for (face, id) in used {
        let Ok(font) = FontRef::new(fonts::bytes(face)) else { continue };
        write!(out, "<path id=\"{}\" d=\"", Name(face, id))?;
        if let Some(outline) = font.outline_glyphs().get(GlyphId::new(u32::from(id))) {
            let settings = DrawSettings::unhinted(Size::unscaled(), LocationRef::default());
            // A glyph of an embedded font draws; the test of outlines would show one that did not.
            let _ = outline.draw(settings, &mut Pen { out, from: [0, 0], first: [0, 0] });
        }
        out.write_str("\"/>\n")?;
    }
    out.write_str("</defs>\n")
}

fn gather(drawing: &Drawing, used: &mut BTreeSet<(Face, u16)>) {
    for item in &drawing.items {
        match item {
            Item::Text { line, .. } => used.extend(line.glyphs.iter().map(|glyph| (line.face, glyph.id))),
            Item::Group { group, .. } => gather(&group.drawing, used),
            Item::Path { .. } | Item::Modules(_) => {}
        }
    }
}

/// A line of letters at their places, in font units under one scale.
pub(super) fn line(out: &mut String, line: &GlyphLine, origin: Point, em: Length, ink: Ink) -> fmt::Result {
    let scale = em.to_mm() / f64::from(fonts::heights(line.face).units_per_em);
    let (x, y) = (Mm(origin.x), Mm(origin.y));
    write!(out, "<g fill=\"{}\" transform=\"translate({x} {y}) scale({scale:.7} -{scale:.7})\">", colour(ink))?;
    let mut at = 0_i32;
    for glyph in &line.glyphs {
        write!(out, "<use href=\"#{}\"", Name(line.face, glyph.id))?;
        for (axis, place) in [("x", at + i32::from(glyph.shift)), ("y", i32::from(glyph.rise))] {
            if place != 0 {
                write!(out, " {axis}=\"{place}\"")?;
            }
        }
        out.write_str("/>")?;
        at += i32::from(glyph.advance);
    }
    out.write_str("</g>\n")
}

/// A line of words, as long as it is drawn.
pub(super) fn words(out: &mut String, line: &GlyphLine, origin: Point, em: Length, ink: Ink) -> fmt::Result {
    let units: i32 = line.glyphs.iter().map(|glyph| i32::from(glyph.advance)).sum();
    let length = em.scaled(f64::from(units) / f64::from(fonts::heights(line.face).units_per_em));
    let weight = match line.face {
        Face::Regular => "",
        Face::Medium => " font-weight=\"500\"",
        Face::Bold => " font-weight=\"700\"",
    };
    let (x, y) = (Mm(origin.x), Mm(origin.y));
    write!(out, "<text x=\"{x}\" y=\"{y}\" font-size=\"{}\"{weight}", Mm(em))?;
    if ink != Ink::Black {
        write!(out, " fill=\"{}\"", colour(ink))?;
    }
    writeln!(out, " textLength=\"{}\" lengthAdjust=\"spacingAndGlyphs\">{}</text>", Mm(length), Escaped(&line.text))
}

/// Writes path data from point to point, in whole font units: a half of a thousandth of the letter's height is not seen.
struct Pen<'a> {
    out: &'a mut String,
    /// Where the pen is.
    from: [i32; 2],
    /// Where the contour began.
    first: [i32; 2],
}

impl Pen<'_> {
    fn put(&mut self, letter: char, points: &[(f32, f32)]) {
        let mut rounded = points.iter().map(|(x, y)| [whole(*x), whole(*y)]);
        let _ = self.out.write_char(letter);
        let mut last = self.from;
        for (number, [x, y]) in rounded.by_ref().enumerate() {
            for (place, step) in [x - self.from[0], y - self.from[1]].into_iter().enumerate() {
                let gap = if (number, place) == (0, 0) || step < 0 { "" } else { " " };
                let _ = write!(self.out, "{gap}{step}");
            }
            last = [x, y];
        }
        self.from = last;
    }
}

#[expect(clippy::cast_possible_truncation, reason = "font units are within the thousands")]
fn whole(units: f32) -> i32 {
    units.round() as i32
}

impl OutlinePen for Pen<'_> {
    fn move_to(&mut self, x: f32, y: f32) {
        self.put('m', &[(x, y)]);
        self.first = self.from;
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.put('l', &[(x, y)]);
    }

    fn quad_to(&mut self, cx0: f32, cy0: f32, x: f32, y: f32) {
        self.put('q', &[(cx0, cy0), (x, y)]);
    }

    fn curve_to(&mut self, cx0: f32, cy0: f32, cx1: f32, cy1: f32, x: f32, y: f32) {
        self.put('c', &[(cx0, cy0), (cx1, cy1), (x, y)]);
    }

    fn close(&mut self) {
        let _ = self.out.write_char('z');
        self.from = self.first;
    }
}

/// The name of a letter within a picture.
struct Name(Face, u16);

impl fmt::Display for Name {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let face = match self.0 {
            Face::Regular => 'r',
            Face::Medium => 'm',
            Face::Bold => 'b',
        };
        write!(f, "{face}{}", self.1)
    }
}
