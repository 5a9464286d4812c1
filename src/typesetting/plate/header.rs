//! The head of a plate: the sign, what to do, and why.

use std::sync::Arc;

use super::choice::{Choice, Head};
use super::content::Content;
use super::pen::{Pen, capital_for, depth, room, width};
use super::scale::Scale;
use crate::drawing::{Ink, Item};
use crate::length::{Length, Rect};
use crate::notice::Subject;
use crate::typesetting::{Misfit, breaking::Paragraph, sign};

/// A head once measured, in mm.
#[derive(Clone, Copy, Debug)]
pub(super) struct Header {
    pub(super) height: f64,
    pub(super) lines: usize,
    sign: Option<(f64, f64)>,
    text: (f64, f64),
    width: f64,
    headline: f64,
    statement: f64,
}

/// Measures the head; `None` if a word is wider than its room.
pub(super) fn measure(content: &Content, choice: Choice, scale: &Scale, room_width: f64) -> Option<Header> {
    let sign =
        (content.subject == Subject::Enclosure).then(|| (sign::width(Length::mm(scale.sign)).to_mm(), scale.sign));
    let text = match (sign, choice.head) {
        (None, _) => (0.0, 0.0),
        (Some((sign, _)), Head::Beside | Head::Joined) => (sign + scale.letter * (0.5 + 0.8 * scale.open), 0.0),
        (Some((_, sign)), Head::Below) => (0.0, sign + scale.gap(1.1)),
    };
    let width = room_width - text.0;
    if choice.head == Head::Joined {
        return joined(content, scale, room_width);
    }
    let headline = headline(content, scale, width, wished(content, scale))?;
    let header = Header { height: 0.0, lines: 0, sign, text, width, headline, statement: scale.letter };
    let header = header.measured(content, choice, scale)?;
    Some(header.beside_a_large_sign(content, choice, scale).unwrap_or(header))
}

/// Measures a headline and a statement on one line; `None` if there is more to say, or no room.
fn joined(content: &Content, scale: &Scale, room: f64) -> Option<Header> {
    let ([headline], [statement]) = (content.headline.as_slice(), content.statement.as_slice()) else { return None };
    let capital = wished(content, scale);
    let left = width(&headline.line, capital) + scale.letter;
    (left + width(&statement.line, scale.letter) <= room - 0.05).then_some(Header {
        height: capital,
        lines: 1,
        sign: None,
        text: (left, 0.0),
        width: room,
        headline: capital,
        statement: scale.letter,
    })
}

/// The height of the headline's capitals: as wished, or less if it would otherwise need more lines.
fn headline(content: &Content, scale: &Scale, width: f64, wished: f64) -> Option<f64> {
    let Some(first) = content.headline.first() else { return Some(wished) };
    let lines = first.lines(room(width, scale.least_headline))?;
    let widest = capital_for(width, first.narrowest(lines));
    Some(wished.min(widest).max(scale.least_headline))
}

fn wished(content: &Content, scale: &Scale) -> f64 {
    match content.subject {
        Subject::Enclosure => scale.headline,
        Subject::Device | Subject::Standing => scale.designation,
    }
}

/// Capitals of headline and statement as shares of the sign's height, where the sign must be larger than the letters ask for, and
/// at most so many capitals of the letters.
const BESIDE_SIGN: [(f64, f64); 2] = [(0.27, 2.1), (0.16, 1.4)];

/// The least white under a headline, in its own capitals: its descenders and an accent.
const CLEAR_OF_HEADLINE: f64 = 0.4;

impl Header {
    fn measured(self, content: &Content, choice: Choice, scale: &Scale) -> Option<Self> {
        let mut total = 0;
        let bottom = self.flow(content, choice, scale, |paragraph, top, capital| {
            let lines = paragraph.lines(room(self.width, capital))?;
            total += lines;
            Some(top + depth(lines, capital))
        })?;
        Some(Self { height: bottom.max(self.sign.map_or(0.0, |(_, height)| height)), lines: total, ..self })
    }

    /// The same head with larger words, if they cost no line and no height beside the sign.
    fn beside_a_large_sign(self, content: &Content, choice: Choice, scale: &Scale) -> Option<Self> {
        let (_, sign) = self.sign.filter(|(_, sign)| choice.head == Head::Beside && self.height <= *sign)?;
        let [wished, statement] = BESIDE_SIGN.map(|(share, most)| (sign * share).min(scale.letter * most));
        let headline = headline(content, scale, self.width, wished)?.max(self.headline);
        let larger = [(headline, statement.max(self.statement)), (headline, self.statement)];
        let measured = |(headline, statement)| Self { headline, statement, ..self }.measured(content, choice, scale);
        larger.into_iter().filter_map(measured).find(|larger| larger.lines <= self.lines && larger.height <= sign)
    }

    /// Hands every paragraph of the head to `put` with its top and its height of capitals; `put` answers with its last baseline.
    fn flow(
        &self,
        content: &Content,
        choice: Choice,
        scale: &Scale,
        mut put: impl FnMut(&Paragraph, f64, f64) -> Option<f64>,
    ) -> Option<f64> {
        let second = (self.headline * 0.72).max(scale.letter);
        let (mut baseline, mut started) = (self.text.1, false);
        let mut next = |paragraph: &Paragraph, gap: f64, capital: f64| {
            let top = if std::mem::replace(&mut started, true) { baseline + gap } else { baseline };
            baseline = put(paragraph, top, capital)?;
            Some(baseline)
        };
        for (language, paragraph) in content.headline.iter().enumerate() {
            let capital = if language == 0 { self.headline } else { second };
            next(paragraph, self.headline * 0.5 + scale.gap(0.2), capital)?;
        }
        for (language, paragraph) in content.statement.iter().enumerate() {
            let gap = self.statement * if language == 0 { 0.6 + 0.42 * scale.open } else { 0.7 };
            next(paragraph, gap.max(self.headline * CLEAR_OF_HEADLINE), self.statement)?;
        }
        if let Some(name) = content.name.as_ref().filter(|_| choice.name) {
            next(name, scale.letter * (0.5 + 0.35 * scale.open), scale.aside)?;
        }
        Some(baseline)
    }

    /// Draws the head at the top of the plate.
    pub(super) fn draw(&self, content: &Content, choice: Choice, scale: &Scale, pen: &mut Pen) -> Result<(), Misfit> {
        if let Some((width, height)) = self.sign {
            let at: Rect = pen.standing(0.0, 0.0, width, height);
            pen.drawing().items.push(Item::Group { group: Arc::clone(&sign::group()), at });
        }
        if let (Head::Joined, [headline], [statement]) =
            (choice.head, content.headline.as_slice(), content.statement.as_slice())
        {
            pen.line(&headline.line, 0.0, self.headline, self.headline, Ink::Black);
            pen.line(&statement.line, self.text.0, self.headline, scale.letter, Ink::Black);
            return Ok(());
        }
        let mut misfit = None;
        self.flow(content, choice, scale, |paragraph, top, capital| {
            let put = pen.paragraph(paragraph, (self.text.0, top), capital, self.width);
            put.map_err(|found| misfit = Some(found)).ok()
        });
        misfit.map_or(Ok(()), Err)
    }
}
