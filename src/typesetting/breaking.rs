//! Paragraphs into lines: Unicode line breaking, our own glue, and lines of even length.
//!
//! A line ends at a space only. The published algorithm (UAX 14) would also end it inside `DB-00012-A`, `10–12` and `12/wall`, and
//! between `400` and `V`.

use std::cell::{OnceCell, RefCell};
use std::ops::Range;
use std::sync::Arc;

use unicode_linebreak::linebreaks;

use crate::drawing::{Glyph, GlyphLine, LinesMet};

/// A text that may need more than one line. A word wider than the room is never broken.
pub(super) struct Paragraph {
    /// The whole text on one line.
    pub(super) line: Arc<GlyphLine>,
    words: OnceCell<Arc<[Piece]>>,
    /// For a text that ends its lines between its parts, unless a part alone is wider than the room.
    parts: Option<Vec<Piece>>,
    keep: Arc<str>,
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
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Ending {
    Word,
    /// A comma or a colon: what follows belongs to it.
    Comma,
    Sentence,
}

impl Ending {
    fn of(word: &str) -> Self {
        match word.chars().next_back() {
            Some(',' | ':') => Self::Comma,
            Some('.' | ';' | '!' | '?') => Self::Sentence,
            _ => Self::Word,
        }
    }

    /// What it costs to end a line here; 1 is a line that is empty.
    const fn cost(self) -> f64 {
        match self {
            Self::Word => 0.5,
            Self::Comma => 0.2,
            Self::Sentence => 0.0,
        }
    }
}

/// What it costs to start a line with something unwelcome.
const UNWELCOME: f64 = 1.0;

/// Stands between the parts of a small line.
const BETWEEN_PARTS: &str = " · ";

impl Paragraph {
    /// `keep` is a designation that is not split even at its own spaces; it may be empty.
    pub(super) fn new(line: Arc<GlyphLine>, keep: &Arc<str>) -> Self {
        Self { line, words: OnceCell::new(), parts: None, keep: Arc::clone(keep) }
    }

    /// A text of parts with dots between: a line ends between parts, and no dot stands at its end or start.
    pub(super) fn of_parts(line: Arc<GlyphLine>, keep: &Arc<str>) -> Self {
        let parts = parts(&line);
        Self { parts: Some(parts), ..Self::new(line, keep) }
    }

    /// Whether it ends its lines between its parts.
    pub(super) const fn has_parts(&self) -> bool {
        self.parts.is_some()
    }

    /// How many lines it needs in a room, in font units; `None` if a word is wider than the room.
    pub(super) fn lines(&self, room: i32) -> Option<usize> {
        if self.line.width <= room {
            return Some(1);
        }
        self.whole(room).and_then(|pieces| needed(pieces, room))
    }

    /// The narrowest room in which it needs no more than so many lines, in font units.
    pub(super) fn narrowest(&self, lines: usize) -> i32 {
        if lines <= 1 {
            return self.line.width;
        }
        narrowest(self.words(), lines, self.line.width)
    }

    /// Its lines in a room: as few as can be, of even length, and ending where sense does unless that leaves a short line;
    /// `None` if a word is wider than the room.
    pub(super) fn broken(&self, room: i32) -> Option<Vec<Range<usize>>> {
        if self.line.width <= room {
            let whole = 0..self.line.text.len();
            return Some(vec![whole]);
        }
        let pieces = self.whole(room)?;
        best(pieces, room, needed(pieces, room)?)
    }

    /// The width of a line of it, in font units.
    pub(super) fn width(&self, bytes: &Range<usize>) -> i32 {
        place(&self.line, bytes.end) - place(&self.line, bytes.start)
    }

    /// Whether one of its parts is wider than the room, so that a line ends inside it.
    pub(super) fn is_torn(&self, room: i32) -> bool {
        let widths = self.parts.iter().flatten().map(|part| part.right - part.left);
        widths.max().is_some_and(|widest| widest > room)
    }

    /// What is kept whole in a room: the parts, or where one is too wide the words.
    fn whole(&self, room: i32) -> Option<&[Piece]> {
        let fits = |pieces: &&[Piece]| pieces.iter().all(|piece| piece.right - piece.left <= room);
        let parts = self.parts.as_deref().filter(fits);
        parts.or_else(|| Some(self.words()).filter(fits))
    }

    fn words(&self) -> &[Piece] {
        self.words.get_or_init(|| {
            let text = &*self.line.text;
            if self.parts.is_none() && (self.keep.is_empty() || !text.contains(&*self.keep)) {
                return words_again(&self.line);
            }
            let mut words = words(&self.line, &self.keep);
            if self.parts.is_some() {
                words.retain(|word| text.get(word.bytes.clone()) != Some(BETWEEN_PARTS.trim()));
            }
            words.into()
        })
    }
}

thread_local! {
    static SPLIT: RefCell<LinesMet<Option<Arc<[Piece]>>>> = RefCell::new(LinesMet::new());
}

/// The words of a line in which nothing else must stay together.
fn words_again(line: &Arc<GlyphLine>) -> Arc<[Piece]> {
    SPLIT.with_borrow_mut(|split| Arc::clone(split.meet(line).1.get_or_insert_with(|| words(line, "").into())))
}

/// So many lines at the least cost: what they lack to an even length, squared, and where they end.
fn best(pieces: &[Piece], room: i32, count: usize) -> Option<Vec<Range<usize>>> {
    let even = f64::from(narrowest(pieces, count, room)).max(1.0);
    // For every line the least cost of ending it behind so many pieces, and where it then starts.
    let mut ends: Vec<Vec<Option<(f64, usize)>>> = Vec::with_capacity(count + 1);
    ends.push(vec![Some((0.0, 0))]);
    for _ in 0..count {
        let before = ends.last()?;
        let cheapest = |end: usize| {
            let last = pieces.get(end.checked_sub(1)?)?;
            let starts = (0..end).rev().map_while(|start| {
                let width = last.right - pieces.get(start)?.left;
                (width <= room).then_some((start, width))
            });
            let costs = starts.filter_map(|(start, width)| {
                let (cost, _) = before.get(start).copied().flatten()?;
                Some((cost + (1.0 - f64::from(width) / even).powi(2) + end_cost(pieces, end), start))
            });
            costs.min_by(|one, other| one.0.total_cmp(&other.0))
        };
        let line = (0..=pieces.len()).map(cheapest).collect();
        ends.push(line);
    }
    let (mut lines, mut end) = (Vec::with_capacity(count), pieces.len());
    for line in ends.get(1..)?.iter().rev() {
        let (_, start) = line.get(end).copied().flatten()?;
        lines.push(pieces.get(start)?.bytes.start..pieces.get(end.checked_sub(1)?)?.bytes.end);
        end = start;
    }
    lines.reverse();
    Some(lines)
}

/// What it costs to end a line behind so many pieces; the last line ends where it must.
fn end_cost(pieces: &[Piece], end: usize) -> f64 {
    match (end.checked_sub(1).and_then(|last| pieces.get(last)), pieces.get(end)) {
        (Some(last), Some(next)) => last.ending.cost() + if next.unwelcome { UNWELCOME } else { 0.0 },
        (_, None) | (None, _) => 0.0,
    }
}

/// The narrowest room for so many lines, at most `widest`.
fn narrowest(pieces: &[Piece], lines: usize, widest: i32) -> i32 {
    let (mut low, mut high) = (0, widest);
    while low < high {
        let middle = low + (high - low) / 2;
        match needed(pieces, middle) {
            Some(count) if count <= lines => high = middle,
            Some(_) | None => low = middle + 1,
        }
    }
    high
}

/// How many lines the pieces take one after the other; `None` if one is wider than the room.
fn needed(pieces: &[Piece], room: i32) -> Option<usize> {
    let (mut count, mut left) = (0, None);
    for piece in pieces {
        if left.is_none_or(|left| piece.right - left > room) {
            count += 1;
            left = Some(piece.left);
        }
        if piece.right - piece.left > room {
            return None;
        }
    }
    Some(count)
}

/// What stands between the dots.
fn parts(line: &GlyphLine) -> Vec<Piece> {
    let text = &*line.text;
    let (mut start, mut places) = (0, Places::on(line));
    let part = |part: &str| {
        let bytes = start..start + part.len();
        start = bytes.end + BETWEEN_PARTS.len();
        let (left, right) = (places.of(bytes.start), places.of(bytes.end));
        Piece { bytes, left, right, unwelcome: false, ending: Ending::Sentence }
    };
    text.split(BETWEEN_PARTS).map(part).collect()
}

fn words(line: &GlyphLine, keep: &str) -> Vec<Piece> {
    let text = &*line.text;
    let mut pieces = Vec::with_capacity(1 + text.bytes().filter(|byte| *byte == b' ').count());
    let mut places = Places::on(line);
    let (mut start, mut unwelcome) = (0, false);
    for end in breaks(text, keep).chain([(text.len(), false)]) {
        let word = text.get(start..end.0).unwrap_or_default().trim_end();
        let bytes = start..start + word.len();
        let (left, right) = (places.of(bytes.start), places.of(bytes.end));
        if !bytes.is_empty() {
            pieces.push(Piece { bytes, left, right, unwelcome, ending: Ending::of(word) });
        }
        (start, unwelcome) = end;
    }
    pieces
}

/// The pieces of a text that stay together, without the blanks between them: a line may end behind each.
pub fn pieces(text: &str) -> impl Iterator<Item = &str> {
    let mut start = 0;
    breaks(text, "").map(|(at, _)| at).chain([text.len()]).filter_map(move |end| {
        let piece = text.get(start..end)?.trim();
        start = end;
        (!piece.is_empty()).then_some(piece)
    })
}

/// Where a byte of the text stands on the line: the sum of the advances before it.
fn place(line: &GlyphLine, byte: usize) -> i32 {
    Places::on(line).of(byte)
}

/// Where bytes of a text stand, asked for from left to right.
struct Places<'a> {
    glyphs: std::iter::Peekable<std::slice::Iter<'a, Glyph>>,
    /// The sum of the advances so far.
    at: i32,
}

impl<'a> Places<'a> {
    fn on(line: &'a GlyphLine) -> Self {
        Self { glyphs: line.glyphs.iter().peekable(), at: 0 }
    }

    fn of(&mut self, byte: usize) -> i32 {
        while let Some(glyph) = self.glyphs.next_if(|glyph| usize::from(glyph.cluster) < byte) {
            self.at += i32::from(glyph.advance);
        }
        self.at
    }
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
