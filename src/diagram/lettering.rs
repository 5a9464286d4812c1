//! Words of the diagram: measured, broken into lines and set, by the height of their capitals in millimetres.

use std::sync::Arc;

use crate::drawing::{Face, GlyphLine};
use crate::length::Length;
use crate::typesetting::{Misfit, Typesetter, fonts};

/// Height of the capitals of all that belongs to the picture.
pub(super) const BODY: f64 = 1.9;

/// From baseline to baseline of the body.
pub(super) const PITCH: f64 = 3.4;

/// Lines that a label may have before its end is cut off with dots.
const MOST_LINES: usize = 4;

/// Shares of the width that are tried so that no line is left with a single letter.
const NARROWER: [f64; 4] = [0.55, 0.65, 0.75, 0.88];

/// One line ready to be set.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Words {
    /// The glyphs.
    pub(super) line: Arc<GlyphLine>,
    /// Height of its capitals.
    pub(super) capital: f64,
}

impl Words {
    /// Its width in millimetres.
    pub(super) fn width(&self) -> f64 {
        let heights = fonts::heights(self.line.face);
        f64::from(self.line.width) * self.capital / f64::from(heights.capital)
    }

    /// The em at which its capitals have their height.
    pub(super) fn em(&self) -> Length {
        let heights = fonts::heights(self.line.face);
        Length::mm(self.capital * f64::from(heights.units_per_em) / f64::from(heights.capital))
    }
}

/// Sets words.
#[derive(Clone, Copy)]
pub(super) struct Lettering<'a>(pub(super) &'a Typesetter);

impl Lettering<'_> {
    /// One line.
    pub(super) fn line(self, face: Face, capital: f64, text: &str) -> Result<Words, Misfit> {
        Ok(Words { line: self.0.line(face, text)?, capital })
    }

    /// Words of the body in as many lines as they need within `width`, all about as long; a word that is wider than that
    /// is broken.
    pub(super) fn body(self, face: Face, text: &str, width: f64) -> Result<Vec<Words>, Misfit> {
        let lines = self.wrapped(face, BODY, text, width, MOST_LINES)?;
        if lines.len() < 2 {
            return Ok(lines);
        }
        for share in NARROWER {
            let narrower = self.wrapped(face, BODY, text, width * share, MOST_LINES + 1)?;
            if narrower.len() == lines.len() && keeps_words(&narrower, text) {
                return Ok(narrower);
            }
        }
        Ok(lines)
    }

    /// The same at any height of capitals, in at most so many lines.
    pub(super) fn wrapped(
        self,
        face: Face,
        capital: f64,
        text: &str,
        width: f64,
        most: usize,
    ) -> Result<Vec<Words>, Misfit> {
        let mut lines: Vec<Words> = Vec::new();
        let mut rest: Vec<&str> = unbroken(text);
        rest.reverse();
        let mut current = String::new();
        while let Some(word) = rest.pop() {
            let longer = if current.is_empty() { word.to_owned() } else { format!("{current} {word}") };
            if self.line(face, capital, &longer)?.width() <= width {
                current = longer;
                continue;
            }
            if !current.is_empty() {
                lines.push(self.line(face, capital, &std::mem::take(&mut current))?);
                rest.push(word);
                continue;
            }
            let head = self.fitting(face, capital, word, width)?;
            let (head, tail) = word.split_at_checked(head).unwrap_or((word, ""));
            lines.push(self.line(face, capital, head)?);
            if !tail.is_empty() {
                rest.push(tail);
            }
        }
        if !current.is_empty() {
            lines.push(self.line(face, capital, &current)?);
        }
        self.shortened(lines, most)
    }

    /// How many bytes of a word fit into a width, at best up to a mark that parts it; at least one character.
    fn fitting(self, face: Face, capital: f64, word: &str, width: f64) -> Result<usize, Misfit> {
        let mut fitting = word.chars().next().map_or(0, char::len_utf8);
        for (start, character) in word.char_indices().skip(1) {
            let end = start + character.len_utf8();
            let head = word.get(..end).unwrap_or(word);
            if self.line(face, capital, head)?.width() > width {
                break;
            }
            fitting = end;
        }
        let head = word.get(..fitting).unwrap_or(word);
        let mark = head.rfind(['-', '/', '_', '.', ',']).map(|at| at + 1);
        Ok(mark.filter(|at| fitting < word.len() && at * 2 > fitting).unwrap_or(fitting))
    }

    fn shortened(self, mut lines: Vec<Words>, most: usize) -> Result<Vec<Words>, Misfit> {
        if lines.len() > most {
            lines.truncate(most);
            if let Some(last) = lines.last_mut() {
                let text = format!("{} …", last.line.text);
                *last = self.line(last.line.face, last.capital, &text)?;
            }
        }
        Ok(lines)
    }
}

/// Whether no word of a text is broken.
fn keeps_words(lines: &[Words], text: &str) -> bool {
    let set = lines.iter().flat_map(|words| words.line.text.split_whitespace());
    set.eq(text.split_whitespace())
}

/// The words of a text, a number left with the word before it: `Switchroom 1,` `main` `board`.
fn unbroken(text: &str) -> Vec<&str> {
    let mut words: Vec<&str> = Vec::new();
    let mut rest = text.trim();
    while !rest.is_empty() {
        let blanks = rest.char_indices().filter(|(_, character)| character.is_whitespace());
        let begins_with_digit =
            |at: usize| rest.get(at..).is_some_and(|tail| tail.trim_start().starts_with(|c: char| c.is_ascii_digit()));
        let end = blanks.map(|(at, _)| at).find(|at| !begins_with_digit(*at)).unwrap_or(rest.len());
        let (word, tail) = rest.split_at_checked(end).unwrap_or((rest, ""));
        words.push(word);
        rest = tail.trim_start();
    }
    words
}

#[cfg(test)]
mod tests {
    use super::*;

    fn texts(lines: &[Words]) -> Vec<&str> {
        lines.iter().map(|words| &*words.line.text).collect()
    }

    #[test]
    fn a_number_stays_with_its_word() {
        assert_eq!(unbroken("Switchroom 1, main  board 2 3"), ["Switchroom 1,", "main", "board 2 3"]);
        assert_eq!(unbroken("  "), Vec::<&str>::new());
    }

    #[test]
    fn lines_are_about_as_long_as_each_other_and_within_the_width() {
        let typesetter = Typesetter::new();
        let lines = Lettering(&typesetter).body(Face::Medium, "Chamber 3 lobby, board D", 32.0).unwrap();
        assert_eq!(texts(&lines), ["Chamber 3", "lobby, board D"]);
        let broken = Lettering(&typesetter).body(Face::Bold, "UNBROKENDESIGNATIONOFGREATLENGTH", 20.0).unwrap();
        assert!(broken.len() > 1 && broken.iter().all(|words| words.width() <= 20.0), "{:?}", texts(&broken));
        let all: String = texts(&broken).concat();
        assert_eq!(all, "UNBROKENDESIGNATIONOFGREATLENGTH");
    }
}
