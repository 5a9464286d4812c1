//! Text as outlines, with its words beside it.

use std::fmt::{self, Write};

use skrifa::instance::{LocationRef, Size};
use skrifa::outline::{DrawSettings, OutlinePen};
use skrifa::{FontRef, GlyphId, MetadataProvider};

use super::{Escaped, Mm, colour};
use crate::drawing::{GlyphLine, Ink};
use crate::length::{Length, Point};
use crate::typesetting::fonts;

/// One path element for the whole line, in font units under one scale.
pub(super) fn line(out: &mut String, line: &GlyphLine, origin: Point, em: Length, ink: Ink) -> fmt::Result {
    let scale = em.to_mm() / f64::from(fonts::heights(line.face).units_per_em);
    write!(
        out,
        "<path role=\"text\" aria-label=\"{}\" fill=\"{}\" transform=\"translate({} {}) scale({scale:.7} -{scale:.7})\" d=\"",
        Escaped(&line.text),
        colour(ink),
        Mm(origin.x),
        Mm(origin.y)
    )?;
    outlines(out, line);
    out.write_str("\"/>\n")
}

fn outlines(out: &mut String, line: &GlyphLine) {
    let Ok(font) = FontRef::new(fonts::bytes(line.face)) else { return };
    let glyphs = font.outline_glyphs();
    let mut at = 0_i32;
    for glyph in &line.glyphs {
        let mut pen = Pen { out, x: at + i32::from(glyph.shift), y: i32::from(glyph.rise) };
        if let Some(outline) = glyphs.get(GlyphId::new(u32::from(glyph.id))) {
            // A glyph of an embedded font draws; the outlines' test would show one that did not.
            let _ = outline.draw(DrawSettings::unhinted(Size::unscaled(), LocationRef::default()), &mut pen);
        }
        at += i32::from(glyph.advance);
    }
}

/// Writes path data with every point moved to the glyph's place on the line.
struct Pen<'a> {
    out: &'a mut String,
    x: i32,
    y: i32,
}

impl Pen<'_> {
    fn put(&mut self, letter: char, points: &[(f32, f32)]) {
        let _ = self.out.write_char(letter);
        for (index, (x, y)) in points.iter().enumerate() {
            let gap = if index == 0 { "" } else { " " };
            let (x, y) = (f64::from(*x) + f64::from(self.x), f64::from(*y) + f64::from(self.y));
            let _ = write!(self.out, "{gap}{x} {y}");
        }
    }
}

impl OutlinePen for Pen<'_> {
    fn move_to(&mut self, x: f32, y: f32) {
        self.put('M', &[(x, y)]);
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.put('L', &[(x, y)]);
    }

    fn quad_to(&mut self, cx0: f32, cy0: f32, x: f32, y: f32) {
        self.put('Q', &[(cx0, cy0), (x, y)]);
    }

    fn curve_to(&mut self, cx0: f32, cy0: f32, cx1: f32, cy1: f32, x: f32, y: f32) {
        self.put('C', &[(cx0, cy0), (cx1, cy1), (x, y)]);
    }

    fn close(&mut self) {
        let _ = self.out.write_char('Z');
    }
}
