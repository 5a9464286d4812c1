//! Words into lines: shaped word by word, broken where a line may end and, as the last resort, anywhere.

use std::borrow::Cow;
use std::sync::Arc;

use super::Style;
use crate::drawing::{Face, Glyph, GlyphLine};
use crate::length::Length;
use crate::survey::is_hidden;
use crate::typesetting::{Misfit, Typesetter, pieces};

/// Bytes of a word that are shaped together. A line's glyphs count their bytes in 16 bits.
const LONGEST_WORD: usize = 4_096;

/// Marks behind which a word that is too long is broken rather than elsewhere.
const MARKS: [char; 8] = ['-', '/', '_', '.', ',', ';', ':', '@'];

/// Breaks texts into lines.
#[derive(Clone, Copy)]
pub(super) struct Letters<'a>(pub(super) &'a Typesetter);

impl Letters<'_> {
    /// The lines of a text within a width, as many words on each as there is room for. No line is wider, unless a single
    /// letter is.
    pub(super) fn lines(self, style: Style, text: &str, width: Length) -> Vec<Arc<GlyphLine>> {
        let (face, room) = (style.face(), style.units(width));
        let Some(space) = self.space(face) else { return Vec::new() };
        let mut lines = Vec::new();
        let mut current: Vec<Arc<GlyphLine>> = Vec::new();
        let mut used = 0;
        for word in self.words(face, text) {
            let gap = if current.is_empty() { 0 } else { i32::from(space.advance) };
            if used + gap + word.width <= room {
                used += gap + word.width;
                current.push(word);
                continue;
            }
            if !current.is_empty() {
                lines.push(joined(&std::mem::take(&mut current), space));
            }
            let mut rest = word;
            while rest.width > room {
                let Some((head, tail)) = broken(&rest, room) else { break };
                lines.push(Arc::new(head));
                rest = Arc::new(tail);
            }
            used = rest.width;
            current.push(rest);
        }
        if !current.is_empty() {
            lines.push(joined(&current, space));
        }
        lines
    }

    /// The width of a text on one line.
    pub(super) fn width(self, style: Style, text: &str) -> Length {
        let face = style.face();
        let Some(space) = self.space(face) else { return Length::ZERO };
        let widths = self.words(face, text).map(|word| word.width + i32::from(space.advance));
        // Two units more, so that the text does fit into its own width.
        style.width(widths.sum::<i32>() - i32::from(space.advance) + 2)
    }

    /// As much of a text on one line as there is room for; dots stand for the rest.
    pub(super) fn shortened(self, style: Style, text: &str, width: Length) -> Option<Arc<GlyphLine>> {
        let whole = self.lines(style, text, width);
        if whole.len() <= 1 {
            return whole.into_iter().next();
        }
        let dots = self.width(style, " …");
        let first = self.lines(style, text, width - dots).into_iter().next()?;
        self.lines(style, &format!("{} …", first.text), width).into_iter().next()
    }

    /// The words of a text, shaped; what stays together with a blank inside is one word.
    fn words(self, face: Face, text: &str) -> impl Iterator<Item = Arc<GlyphLine>> {
        let parts = pieces(text).flat_map(parts);
        parts.filter_map(move |word| self.shaped(face, word))
    }

    /// A word with what cannot be seen or is not in the face shown by number: `[U+202E]`.
    fn shaped(self, face: Face, word: &str) -> Option<Arc<GlyphLine>> {
        let word = if word.chars().any(is_unseen) { Cow::Owned(shown(word, is_unseen)) } else { Cow::Borrowed(word) };
        match self.0.line(face, &word) {
            Ok(line) => Some(line),
            Err(_) => {
                let lacks = |character: char| matches!(self.single(face, character), Err(Misfit::MissingGlyph { .. }));
                let line = self.0.line(face, &shown(&word, lacks));
                line.or_else(|_| self.0.line(face, &shown(&word, |character| !character.is_ascii()))).ok()
            }
        }
    }

    fn single(self, face: Face, character: char) -> Result<Arc<GlyphLine>, Misfit> {
        self.0.line(face, character.encode_utf8(&mut [0; 4]))
    }

    fn space(self, face: Face) -> Option<Glyph> {
        self.0.line(face, " ").ok()?.glyphs.first().copied()
    }
}

fn is_unseen(character: char) -> bool {
    is_hidden(character) || character.is_control()
}

/// A text in which some characters are shown by their number.
fn shown(text: &str, is_meant: impl Fn(char) -> bool) -> String {
    let mut shown = String::with_capacity(text.len() + 16);
    for character in text.chars() {
        if is_meant(character) {
            shown.push_str(&format!("[U+{:04X}]", u32::from(character)));
        } else {
            shown.push(character);
        }
    }
    shown
}

/// A piece in parts that are not too long to be shaped; nearly always the piece itself. A blank of a cell that is a tab
/// or a line end parts it as well.
fn parts(piece: &str) -> impl Iterator<Item = &str> {
    let mut rest = piece;
    let long = std::iter::from_fn(move || {
        let mut end = rest.len().min(LONGEST_WORD);
        while !rest.is_char_boundary(end) {
            end -= 1;
        }
        let (part, after) = rest.split_at_checked(end)?;
        rest = after;
        (!part.is_empty()).then_some(part)
    });
    long.flat_map(|part| part.split(['\n', '\r', '\t'])).filter(|part| !part.is_empty())
}

/// Words side by side on one line.
fn joined(words: &[Arc<GlyphLine>], space: Glyph) -> Arc<GlyphLine> {
    if let [only] = words {
        return Arc::clone(only);
    }
    let bytes = words.iter().map(|word| word.text.len() + 1).sum();
    let (mut text, mut glyphs, mut width) = (String::with_capacity(bytes), Vec::with_capacity(bytes), 0);
    let mut face = Face::Regular;
    for word in words {
        if !text.is_empty() {
            glyphs.push(Glyph { cluster: cluster(text.len(), 0), ..space });
            text.push(' ');
            width += i32::from(space.advance);
        }
        let start = text.len();
        glyphs.extend(word.glyphs.iter().map(|glyph| Glyph { cluster: cluster(start, glyph.cluster), ..*glyph }));
        text.push_str(&word.text);
        width += word.width;
        face = word.face;
    }
    Arc::new(GlyphLine { face, text: text.into(), glyphs, width })
}

fn cluster(start: usize, within: u16) -> u16 {
    u16::try_from(start).unwrap_or(u16::MAX).saturating_add(within)
}

/// A word that is too long, as a beginning that fits and the rest: behind a mark in its second half if there is one, else
/// behind the last letter that fits, and at least behind the first. `None` for a word of one letter.
fn broken(word: &GlyphLine, room: i32) -> Option<(GlyphLine, GlyphLine)> {
    let (mut at, mut fits, mut marked) = (0, None, None);
    let mut before: Option<&Glyph> = None;
    for glyph in &word.glyphs {
        let byte = usize::from(glyph.cluster);
        if before.is_some_and(|before| before.cluster < glyph.cluster) {
            if at > room && fits.is_some() {
                break;
            }
            fits = Some(byte);
            let follows_mark = word.text.get(..byte).is_some_and(|head| head.ends_with(MARKS) || head.ends_with(' '));
            if follows_mark && at * 2 > room {
                marked = Some(byte);
            }
        }
        at += i32::from(glyph.advance);
        before = Some(glyph);
    }
    let end = marked.or(fits)?;
    Some((cut(word, 0, end), cut(word, end, word.text.len())))
}

/// A part of a line, without the blanks at its ends.
fn cut(line: &GlyphLine, start: usize, end: usize) -> GlyphLine {
    let text = line.text.get(start..end).unwrap_or_default();
    let start = start + text.len() - text.trim_start().len();
    let text = text.trim();
    let end = start + text.len();
    let within = line.glyphs.iter().filter(|glyph| (start..end).contains(&usize::from(glyph.cluster)));
    let shift = u16::try_from(start).unwrap_or(u16::MAX);
    let glyphs: Vec<_> = within.map(|glyph| Glyph { cluster: glyph.cluster.saturating_sub(shift), ..*glyph }).collect();
    let width = glyphs.iter().map(|glyph| i32::from(glyph.advance)).sum();
    GlyphLine { face: line.face, text: text.into(), glyphs, width }
}
