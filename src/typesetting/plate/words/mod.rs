//! A plate of words alone: a heading, a text, perhaps dates to find at a glance. It carries no sign, and nothing of it
//! looks like points or voltages.

mod dates;
mod layout;

use std::sync::Arc;

use super::content::{Maker, code};
use super::outline;
use super::pen::Pen;
use super::scale::{Frame, GOOD_MODULE, LEAST_MODULE, SMALL_LINE};
use crate::drawing::{Drawing, Face, GlyphLine};
use crate::length::{Dots, Length, Size};
use crate::notice::Notice;
use crate::typesetting::breaking::Paragraph;
use crate::typesetting::code::{Code, Make, QUIET_ZONE};
use crate::typesetting::{Arrangement, LetterFloor, Misfit, Setting};
use layout::{Layout, Stands};

/// Everything that a plate of words shows.
pub(in crate::typesetting) struct Words {
    spoken: Vec<Spoken>,
    dates: Vec<DateText>,
    small_line: Option<Paragraph>,
    caption: Vec<Paragraph>,
    code: Option<(Code, String)>,
    /// The least capitals of all but the small line, in mm.
    floor: f64,
}

/// Heading and text in one language.
struct Spoken {
    heading: Option<Paragraph>,
    body: Option<Paragraph>,
    /// Whether the text is as loud as the heading.
    is_loud: bool,
}

/// A date, or room to write it, and what it is.
struct DateText {
    figure: Option<Arc<GlyphLine>>,
    meaning: Vec<Paragraph>,
}

/// How close everything stands: comfortably, and as close as is taken where a size is wished for.
pub(in crate::typesetting) const OPEN: f64 = 1.0;
pub(in crate::typesetting) const CLOSE: f64 = 0.45;

/// A text of at most so many characters is as loud as its heading.
const LOUD_CHARS: usize = 24;

impl Words {
    pub(in crate::typesetting) fn shaped(notice: &Notice, floor: LetterFloor, make: Make) -> Result<Self, Misfit> {
        let maker = Maker::of(notice);
        let legible = floor.height(notice.reading_distance).to_mm().max(SMALL_LINE);
        let published = notice.least.capitals.unwrap_or_default().to_mm();
        let mut dates = Vec::with_capacity(notice.figures.len());
        for date in &notice.figures {
            let figure = (!date.figure.is_empty()).then(|| maker.line(Face::Bold, &date.figure)).transpose()?;
            dates.push(DateText { figure, meaning: maker.said(Face::Medium, &date.meaning)? });
        }
        let caption = if notice.code.is_some() { maker.said(Face::Regular, &notice.code_caption)? } else { Vec::new() };
        Ok(Self {
            spoken: spoken(notice, &maker)?,
            dates,
            small_line: maker.parts(&notice.small_line)?,
            caption,
            code: notice.code.as_deref().map(|payload| code(payload, notice, make)).transpose()?,
            floor: legible.max(published),
        })
    }

    /// The layout with the largest letters on a plate; `None` if not even the least fit.
    fn fit(&self, frame: &Frame, open: f64) -> Option<Layout<'_>> {
        let of_module = |least: f64| {
            let module = frame.module(least);
            let stands = if self.code.is_some() { Stands::ALL } else { &[Stands::Below] };
            let laid = stands.iter().filter_map(|stands| Layout::largest(self, frame, (*stands, module), open));
            laid.reduce(|best, next| if next.letter > best.letter * NOTICEABLY { next } else { best })
        };
        of_module(GOOD_MODULE).or_else(|| of_module(LEAST_MODULE))
    }

    /// How the words are set on a plate with white space as open as asked for; `None` if they do not fit.
    pub(in crate::typesetting) fn setting(
        &self,
        (size, dots): (Size, Option<Dots>),
        open: f64,
        floor: LetterFloor,
    ) -> Option<Setting> {
        let frame = Frame::of(size, dots);
        let layout = self.fit(&frame, open)?;
        Some(Setting {
            size,
            letter_height: Length::mm(layout.least_letter()),
            sign_height: None,
            code_module: self.code.is_some().then(|| Length::mm(layout.module)),
            is_tag: false,
            dots,
            floor,
            arrangement: Arrangement::Words(open),
        })
    }

    /// Draws the words on a plate with white space as open as asked for; `None` if they do not fit.
    pub(in crate::typesetting) fn draw(
        &self,
        (size, dots): (Size, Option<Dots>),
        open: f64,
    ) -> Result<Option<Drawing>, Misfit> {
        let frame = Frame::of(size, dots);
        let Some(layout) = self.fit(&frame, open) else { return Ok(None) };
        let mut pen = Pen::new(&frame);
        outline(pen.drawing(), &frame);
        layout.draw(self, &frame, &mut pen)?;
        Ok(Some(pen.into_drawing()))
    }

    /// Whether they fit at all.
    pub(in crate::typesetting) fn fits(&self, (size, dots): (Size, Option<Dots>)) -> bool {
        self.fit(&Frame::of(size, dots), CLOSE).is_some()
    }

    /// The square that the code needs with its quiet zone, and the largest that fits, if the code is all that does not.
    pub(in crate::typesetting) fn code_and_room(&mut self, on: (Size, Option<Dots>)) -> Option<(Length, Length)> {
        let (code, payload) = self.code.take()?;
        let room = if self.fits(on) {
            let fitting = (1..code.side).rev().find(|side| {
                self.code = Some((Code { side: *side, rows: Vec::new() }, String::new()));
                self.fits(on)
            });
            Some(fitting)
        } else {
            None
        };
        let module = Frame::of(on.0, on.1).module(LEAST_MODULE);
        let square = |side: u16| Length::mm(f64::from(side + 2 * QUIET_ZONE) * module);
        let found = room.map(|room| (square(code.side), room.map_or(Length::ZERO, square)));
        self.code = Some((code, payload));
        found
    }
}

/// Letters must be so many times larger for an arrangement that is liked less.
const NOTICEABLY: f64 = 1.04;

/// Heading and text language by language; a language that says the same as an earlier one says nothing new.
fn spoken(notice: &Notice, maker: &Maker) -> Result<Vec<Spoken>, Misfit> {
    let both = |language: usize| (notice.headline.get(language), notice.statement.get(language));
    let languages = notice.headline.len().max(notice.statement.len());
    let mut spoken = Vec::with_capacity(languages);
    for language in 0..languages {
        if (0..language).any(|earlier| both(earlier) == both(language)) {
            continue;
        }
        let (heading, body) = both(language);
        let loud = if language == 0 { Face::Bold } else { Face::Medium };
        let is_loud = body.is_some_and(|body| body.chars().count() <= LOUD_CHARS);
        let face = if is_loud { loud } else { Face::Medium };
        spoken.push(Spoken {
            heading: maker.paragraph(loud, heading.map_or("", String::as_str))?,
            body: maker.paragraph(face, body.map_or("", String::as_str))?,
            is_loud,
        });
    }
    Ok(spoken)
}
