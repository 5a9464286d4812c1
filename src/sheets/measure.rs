//! Rulers, small text and marks, as the margin, the ruler page and the picture of a format draw them.

use crate::drawing::{Drawing, Face, Ink, Path};
use crate::length::{Length, Point, Rect};
use crate::typesetting::{Misfit, Typesetter, fonts};

/// Height of the capitals of all small text: the least that the notices themselves allow for their small line.
pub(super) const CAPITALS: Length = Length::um(2_000);

/// Width of the finest line that office printers draw without gaps (common practice: a quarter of a point and up).
pub(super) const HAIRLINE: Length = Length::um(120);

/// From one line of small text to the next.
const LEADING: Length = Length::um(4_000);

/// Height of a line of small text with its descenders.
pub(super) const LINE: Length = Length::um(2_700);

/// A piece of small text that is not broken, with what stands before it if it does not open a line.
pub(super) struct Piece {
    pub(super) before: &'static str,
    pub(super) text: String,
}

/// Room for a line of text: the left end of its baseline, and its width.
pub(super) type Slot = (Point, Length);

/// The baselines of the lines of small text that fit into a band, from the top.
pub(super) fn baselines(band: Rect) -> impl Iterator<Item = Length> {
    let first = band.origin.y;
    (0..)
        .map(move |number| first + LEADING * number)
        .take_while(move |top| *top + LINE <= band.bottom())
        .map(|top| top + CAPITALS)
}

/// Draws in one drawing with one typesetter.
pub(super) struct Pen<'a> {
    pub(super) drawing: Drawing,
    pub(super) typesetter: &'a Typesetter,
}

/// Which way a ruler runs.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Along {
    /// From left to right, with ticks upwards.
    Across,
    /// From top to bottom, with ticks to the left.
    Down,
}

impl Pen<'_> {
    /// Width of a text at capitals of this height.
    pub(super) fn width(&self, face: Face, text: &str, capitals: Length) -> Length {
        let line = self.line(face, text);
        line.map_or(Length::ZERO, |line| em(face, capitals).scaled(f64::from(line.width) / units(face)))
    }

    /// Sets a text with the left end of its baseline at a point.
    pub(super) fn text(&mut self, face: Face, text: &str, capitals: Length, at: Point) {
        if let Some(line) = self.line(face, text) {
            self.drawing.text(line, at, em(face, capitals), Ink::Black);
        }
    }

    /// Sets a text with the middle of its baseline at a point.
    pub(super) fn centred(&mut self, face: Face, text: &str, capitals: Length, at: Point) {
        let half = self.width(face, text, capitals) / 2;
        self.text(face, text, capitals, Point::new(at.x - half, at.y));
    }

    /// Sets a text with the right end of its baseline at a point.
    pub(super) fn right(&mut self, face: Face, text: &str, capitals: Length, at: Point) {
        let width = self.width(face, text, capitals);
        self.text(face, text, capitals, Point::new(at.x - width, at.y));
    }

    /// Pieces into lines, each piece with the left end of its baseline; `None` if some piece finds no room.
    ///
    /// Pieces are measured and set by themselves, so that all but the sheet number are shaped once for a whole run.
    pub(super) fn flow<'s>(
        &self,
        mut slots: impl Iterator<Item = &'s Slot>,
        pieces: &[Piece],
    ) -> Option<Vec<(Point, String)>> {
        let mut placed: Vec<(Point, String)> = Vec::with_capacity(pieces.len());
        let (mut end, mut room) = (Point::default(), Length::ZERO);
        for piece in pieces {
            let continued = format!("{}{}", piece.before, piece.text);
            let wide = self.width(Face::Regular, &continued, CAPITALS);
            let (start, text, wide) = if wide <= room {
                (end, continued, wide)
            } else {
                let wide = self.width(Face::Regular, &piece.text, CAPITALS);
                let (start, width) = slots.find(|(_, width)| wide <= *width)?;
                room = *width;
                (*start, piece.text.clone(), wide)
            };
            end = Point::new(start.x + wide, start.y);
            room = room - wide;
            placed.push((start, text));
        }
        Some(placed)
    }

    /// A fine black line.
    pub(super) fn hairline(&mut self, from: Point, to: Point) {
        self.drawing.stroke(Path::line(from, to), Ink::Black, HAIRLINE);
    }

    /// A ruler from a point on, with a tick every 5 mm, a longer one every 10 mm and a long one at `marks`, in mm.
    pub(super) fn ruler(&mut self, from: Point, along: Along, millimetres: i32, ticks: [Length; 3], marks: &[i32]) {
        let at = |mm: i32, out: Length| {
            let forth = Length::um(mm * 1_000);
            match along {
                Along::Across => Point::new(from.x + forth, from.y - out),
                Along::Down => Point::new(from.x - out, from.y + forth),
            }
        };
        let mut path = Path::line(at(0, Length::ZERO), at(millimetres, Length::ZERO));
        let [short, middle, long] = ticks;
        for mm in (0..=millimetres).step_by(5) {
            let tick = if marks.contains(&mm) {
                long
            } else if mm % 10 == 0 {
                middle
            } else {
                short
            };
            path = path.move_to(at(mm, Length::ZERO)).line_to(at(mm, tick));
        }
        self.drawing.stroke(path, Ink::Black, HAIRLINE);
    }

    /// A shaped line; a character that the face lacks is shown as a question mark, since a margin is no notice.
    fn line(&self, face: Face, text: &str) -> Option<std::sync::Arc<crate::drawing::GlyphLine>> {
        let mut text = text.to_owned();
        loop {
            match self.typesetter.line(face, &text) {
                Ok(line) => return Some(line),
                Err(Misfit::MissingGlyph { character, .. }) if character != '?' => text = text.replace(character, "?"),
                Err(_) => return None,
            }
        }
    }
}

/// The em at which capitals are so high.
fn em(face: Face, capitals: Length) -> Length {
    let heights = fonts::heights(face);
    capitals.scaled(f64::from(heights.units_per_em) / f64::from(heights.capital))
}

fn units(face: Face) -> f64 {
    f64::from(fonts::heights(face).units_per_em)
}
