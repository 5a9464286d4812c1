//! Shaped lines into operators: glyph numbers of the whole font, with the pen moved where shaping moved it.

use std::sync::Arc;

use super::content::{Content, push_first, push_integer};
use super::fonts::{self, FaceTable};
use super::letters;
use crate::drawing::{Face, Glyph, GlyphLine, Ink};
use crate::length::{Length, Point};

/// One line with the left end of its baseline at `origin`, in the text object of the line before it if that is open.
pub(super) fn push(content: &mut Content<'_>, line: &Arc<GlyphLine>, origin: Point, em: Length, ink: Ink) {
    let table = fonts::table(line.face);
    if !content.fill_ink(ink) {
        return;
    }
    let before = content.state.line.replace(origin).unwrap_or_else(|| {
        content.bytes.extend_from_slice(b"BT\n");
        Point::default()
    });
    let step = Point::new(origin.x - before.x, origin.y - before.y);
    let (start, font) = (content.bytes.len(), content.state.font);
    push_place(content, line.face, em, step);
    if letters::push(content, line, table) {
        return;
    }
    content.bytes.truncate(start);
    content.state.font = font;
    let plain = note_glyphs(content, line, table);
    if !plain {
        push_actual_text(&mut content.bytes, &line.text);
    }
    push_place(content, line.face, em, step);
    push_glyphs(&mut content.bytes, line, table, em);
    if !plain {
        content.bytes.extend_from_slice(b"EMC\n");
    }
}

/// Font and size, and how far to go from the last line.
fn push_place(content: &mut Content<'_>, face: Face, em: Length, step: Point) {
    set_font(content, face, em);
    content.point(step);
    content.bytes.extend_from_slice(b"Td\n");
}

/// Ends the string, moves the pen to the right and begins another string.
pub(super) fn push_move(bytes: &mut Vec<u8>, right: i64) {
    bytes.push(b')');
    push_integer(bytes, -right);
    bytes.push(b'(');
}

/// Notes every glyph with the text that it shows. False if some glyph shows another text here than a reader would get
/// from it, so that the line must carry its text beside its glyphs.
fn note_glyphs(content: &mut Content<'_>, line: &GlyphLine, table: &FaceTable) -> bool {
    let mut plain = true;
    for (number, glyph) in line.glyphs.iter().enumerate() {
        let text = cluster_text(line, number, glyph);
        if shows_nothing(glyph, text) {
            continue;
        }
        match table.character(glyph.id) {
            Some(character) => {
                content.glyphs.note(line.face, glyph.id);
                plain &= is_only(text, character);
            }
            None => content.glyphs.note_text(line.face, glyph.id, text),
        }
    }
    plain
}

/// The source text of a glyph: its whole cluster for the first glyph of one, nothing for the others.
fn cluster_text<'a>(line: &'a GlyphLine, number: usize, glyph: &Glyph) -> &'a str {
    let start = usize::from(glyph.cluster);
    let before = number.checked_sub(1).and_then(|before| line.glyphs.get(before));
    if before.is_some_and(|before| before.cluster == glyph.cluster) {
        return "";
    }
    let later = line.glyphs.iter().skip(number).map(|other| usize::from(other.cluster));
    let end = later.into_iter().find(|end| *end > start).unwrap_or(line.text.len());
    line.text.get(start..end).unwrap_or_default()
}

/// Whether a text is this character; what only joins counts as nothing.
fn is_only(text: &str, character: char) -> bool {
    let mut characters = text.chars().filter(|character| !joins(*character)).map(fonts::searched);
    characters.next() == Some(character) && characters.next().is_none()
}

/// Whether a glyph stands only for joiners: it is blank, and a reader would take it for a space.
fn shows_nothing(glyph: &Glyph, text: &str) -> bool {
    glyph.advance == 0 && !text.is_empty() && text.chars().all(joins)
}

const fn joins(character: char) -> bool {
    matches!(character, '\u{2060}' | '\u{200B}'..='\u{200D}' | '\u{FEFF}' | '\u{AD}')
}

/// Opens a span that carries its text in UTF-16 (ISO 32000-1, 14.9.4).
fn push_actual_text(bytes: &mut Vec<u8>, text: &str) {
    bytes.extend_from_slice(b"/Span<</ActualText<FEFF");
    for unit in text.encode_utf16() {
        bytes.extend_from_slice(format!("{unit:04X}").as_bytes());
    }
    bytes.extend_from_slice(b">>>BDC\n");
}

fn set_font(content: &mut Content<'_>, face: Face, em: Length) {
    if content.state.font != Some((face, em)) {
        content.state.font = Some((face, em));
        content.bytes.extend_from_slice(fonts::resource(face));
        content.bytes.push(b' ');
        content.length(em);
        content.bytes.extend_from_slice(b"Tf\n");
    }
}

/// The glyphs as one array of strings and moves; only a glyph above or below the line breaks it.
fn push_glyphs(bytes: &mut Vec<u8>, line: &GlyphLine, table: &FaceTable, em: Length) {
    // How far the pen must still go right before the next glyph, in font units. The embedded faces have 1000 to the em,
    // which is the unit of moves in a text array too.
    let mut owed = 0;
    let mut rise = 0;
    bytes.extend_from_slice(b"[(");
    for (number, glyph) in line.glyphs.iter().enumerate() {
        if glyph.advance == 0 && shows_nothing(glyph, cluster_text(line, number, glyph)) {
            continue;
        }
        if glyph.rise != rise {
            rise = glyph.rise;
            bytes.extend_from_slice(b")]TJ ");
            super::content::push_length(bytes, em.scaled(f64::from(rise) / 1_000.0));
            bytes.extend_from_slice(b" Ts[(");
        }
        owed += i64::from(glyph.shift);
        if owed != 0 {
            push_move(bytes, owed);
        }
        let spelt = table.spelt(glyph.id);
        push_first(bytes, spelt.bytes, usize::from(spelt.count));
        owed = i64::from(glyph.advance) - i64::from(glyph.shift) - i64::from(spelt.width);
    }
    bytes.extend_from_slice(if rise == 0 { b")]TJ\n" } else { b")]TJ 0 Ts\n" });
}
