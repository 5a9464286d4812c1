//! Paragraphs into lines: Unicode line breaking, our own glue, and lines of even length.
//!
//! A line ends at a space only. The published algorithm (UAX 14) would also end it inside `DB-00012-A`, `10–12` and `12/wall`, and
//! between `400` and `V`.

use std::cell::OnceCell;
use std::ops::Range;
use std::sync::Arc;

use unicode_linebreak::linebreaks;

use crate::drawing::GlyphLine;

/// A text that may need more than one line. A word wider than the room is never broken.
pub(super) struct Paragraph {
    /// The whole text on one line.
    pub(super) line: Arc<GlyphLine>,
    pieces: OnceCell<Vec<Piece>>,
    keep: Box<str>,
}

/// What stays together, with its place on the whole line in font units.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Piece {
    bytes: Range<usize>,
    left: i32,
    right: i32,
    /// The eye would rather not see a line start with this piece.
    unwelcome: bool,
    ending: Ending,
}

/// What a piece ends with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Ending {
    Word,
    Comma,
    Sentence,
}

impl Ending {
    fn of(word: &str) -> Self {
        match word.chars().next_back() {
            Some(',') => Self::Comma,
            Some('.' | ':' | ';' | '!' | '?') => Self::Sentence,
            _ => Self::Word,
        }
    }
}

impl Paragraph {
    /// `keep` is a designation that is not split even at its own spaces; it may be empty.
    pub(super) fn new(line: Arc<GlyphLine>, keep: &str) -> Self {
        Self { line, pieces: OnceCell::new(), keep: keep.into() }
    }

    /// How many lines it needs in a room, in font units; `None` if a word is wider than the room.
    pub(super) fn lines(&self, room: i32) -> Option<usize> {
        if self.line.width <= room {
            return Some(1);
        }
        filled(self.pieces(), room, true, |_| {})
    }

    /// The narrowest room in which it needs no more than so many lines, in font units.
    pub(super) fn narrowest(&self, lines: usize) -> i32 {
        if lines <= 1 {
            return self.line.width;
        }
        narrowest(self.pieces(), lines, true, self.line.width)
    }

    /// Its lines in a room, as few as can be, broken after a sentence or a comma where that costs no line, and of even length;
    /// `None` if a word is wider than the room.
    pub(super) fn broken(&self, room: i32) -> Option<Vec<Range<usize>>> {
        if self.line.width <= room {
            let whole = 0..self.line.text.len();
            return Some(vec![whole]);
        }
        let count = self.lines(room)?;
        let by_sense =
            [Ending::Sentence, Ending::Comma].into_iter().find_map(|ending| self.by_sense(room, count, ending));
        by_sense.or_else(|| even(self.pieces(), room, count))
    }

    /// The lines if every sentence, or every part between commas, starts one; `None` if that takes more lines.
    fn by_sense(&self, room: i32, count: usize, ending: Ending) -> Option<Vec<Range<usize>>> {
        let mut lines = Vec::with_capacity(count);
        let (_, before_last) = self.pieces().split_last()?;
        before_last.iter().find(|piece| piece.ending >= ending)?;
        for part in self.pieces().split_inclusive(|piece| piece.ending >= ending) {
            let needed = filled(part, room, true, |_| {})?;
            lines.extend(even(part, room, needed)?);
        }
        (lines.len() == count).then_some(lines)
    }

    fn pieces(&self) -> &[Piece] {
        self.pieces.get_or_init(|| pieces(&self.line, &self.keep))
    }
}

/// So many lines of even length, without an unwelcome start where that costs no line.
fn even(pieces: &[Piece], room: i32, count: usize) -> Option<Vec<Range<usize>>> {
    let calm = filled(pieces, room, false, |_| {}) == Some(count);
    let width = narrowest(pieces, count, !calm, room);
    let mut lines = Vec::with_capacity(count);
    filled(pieces, width, !calm, |line| lines.push(line))?;
    Some(lines)
}

/// The narrowest room for so many lines, at most `widest`.
fn narrowest(pieces: &[Piece], lines: usize, unwelcome: bool, widest: i32) -> i32 {
    let (mut low, mut high) = (0, widest);
    while low < high {
        let middle = low + (high - low) / 2;
        match filled(pieces, middle, unwelcome, |_| {}) {
            Some(count) if count <= lines => high = middle,
            Some(_) | None => low = middle + 1,
        }
    }
    high
}

/// Fills lines one after the other, hands each to `each`, and counts them.
fn filled(pieces: &[Piece], room: i32, unwelcome: bool, mut each: impl FnMut(Range<usize>)) -> Option<usize> {
    let mut count = 0;
    let mut line: Option<(i32, Range<usize>)> = None;
    let mut rest = pieces;
    while let Some((first, tail)) = rest.split_first() {
        let glued = if unwelcome { 0 } else { tail.iter().take_while(|piece| piece.unwelcome).count() };
        let last = tail.get(..glued).and_then(<[Piece]>::last).unwrap_or(first);
        rest = tail.get(glued..).unwrap_or_default();
        line = match line {
            Some((left, bytes)) if last.right - left <= room => Some((left, bytes.start..last.bytes.end)),
            full => {
                if let Some((_, bytes)) = full {
                    each(bytes);
                }
                count += 1;
                (last.right - first.left <= room).then_some((first.left, first.bytes.start..last.bytes.end))
            }
        };
        line.as_ref()?;
    }
    if let Some((_, bytes)) = line {
        each(bytes);
    }
    Some(count)
}

fn pieces(line: &GlyphLine, keep: &str) -> Vec<Piece> {
    let text = &*line.text;
    let mut pieces = Vec::new();
    let (mut start, mut unwelcome) = (0, false);
    for end in breaks(text, keep).chain([(text.len(), false)]) {
        let word = text.get(start..end.0).unwrap_or_default().trim_end();
        let bytes = start..start + word.len();
        let (left, right) = (place(line, bytes.start), place(line, bytes.end));
        if !bytes.is_empty() {
            pieces.push(Piece { bytes, left, right, unwelcome, ending: Ending::of(word) });
        }
        (start, unwelcome) = end;
    }
    pieces
}

/// Where a byte of the text stands on the line: the sum of the advances before it.
fn place(line: &GlyphLine, byte: usize) -> i32 {
    let before = line.glyphs.iter().take_while(|glyph| usize::from(glyph.cluster) < byte);
    before.map(|glyph| i32::from(glyph.advance)).sum()
}

/// Where a new line may start: the byte, and whether the eye would rather not see it there.
fn breaks<'a>(text: &'a str, keep: &'a str) -> impl Iterator<Item = (usize, bool)> + 'a {
    let kept: Vec<Range<usize>> = match keep {
        "" => Vec::new(),
        keep => text.match_indices(keep).map(|(start, found)| start..start + found.len()).collect(),
    };
    linebreaks(text).filter_map(move |(at, _)| {
        let (before, after) = text.split_at_checked(at)?;
        let inside_kept = kept.iter().any(|range| range.start < at && at < range.end);
        if after.is_empty() || !before.ends_with(char::is_whitespace) || inside_kept {
            return None;
        }
        let (before, after) = (last_word(before), first_word(after));
        (!is_quantity(before, after)).then(|| (at, is_unwelcome(before, after)))
    })
}

fn last_word(text: &str) -> &str {
    text.split_whitespace().next_back().unwrap_or_default()
}

fn first_word(text: &str) -> &str {
    text.split_whitespace().next().unwrap_or_default()
}

/// Units that follow a number on a notice.
const UNITS: [&str; 29] = [
    "V", "kV", "mV", "A", "mA", "kA", "W", "kW", "MW", "VA", "kVA", "MVA", "Hz", "kHz", "Ω", "kΩ", "µF", "mF", "J",
    "m", "mm", "cm", "km", "s", "min", "h", "°C", "%", "Ah",
];

/// A number and its unit, or a unit and its kind of current.
fn is_quantity(before: &str, after: &str) -> bool {
    let unit = after.trim_end_matches([',', ';', ':', '.', ')', '!']);
    match unit {
        "a.c" | "d.c" | "AC" | "DC" | "ac" | "dc" => is_number(before) || UNITS.contains(&before),
        unit => is_number(before) && UNITS.contains(&unit),
    }
}

fn is_number(word: &str) -> bool {
    let word = word.trim_start_matches(['(', '±', '+', '-', '−', '≤', '≥', '<', '>']);
    word.starts_with(|first: char| first.is_ascii_digit())
        && word.chars().all(|character| character.is_ascii_digit() || matches!(character, '.' | ',' | '/' | '–' | '-'))
}

/// `board | C`, `Chamber | 3`, `3 | points`, and a line that starts with a dash or a dot.
fn is_unwelcome(before: &str, after: &str) -> bool {
    let bare = after.trim_end_matches([',', ';', ':', '.', ')']);
    let short = bare.chars().count() <= 1 && bare.chars().all(char::is_uppercase);
    matches!(after, "·" | "–" | "-" | "+") || short || is_number(bare) || is_number(before)
}

#[cfg(test)]
mod tests;
