//! The foot of a plate: figures, cautions, the closing line and the small line, around the code at the lower right.

use super::choice::Choice;
use super::content::Content;
use super::corner::{Corner, line_ends};
use super::figures::{self, Figures};
use super::pen::{self, DESCENT, LEADING, Pen, depth, room, width_of};
use super::scale::Scale;
use crate::typesetting::Misfit;
use crate::typesetting::breaking::Paragraph;

/// A foot once measured, in mm.
pub(super) struct Foot<'a> {
    /// From the top of its first words, or of the code, to the last baseline.
    pub(super) height: f64,
    pub(super) lines: usize,
    /// The parts from the bottom upwards.
    parts: Vec<Part<'a>>,
    /// How much higher the code is than the words beside it.
    slack: f64,
}

/// One paragraph or the figures, standing so far above the last baseline.
struct Part<'a> {
    what: What<'a>,
    /// From the foot's last baseline up to this part's last baseline, and to its top.
    bottom: f64,
    top: f64,
    room: f64,
    /// Stays at the bottom when there is more room; the others go up.
    low: bool,
}

#[derive(Clone, Copy)]
enum What<'a> {
    Words(&'a Paragraph, f64),
    Figures(Figures),
}

/// Where a foot stands, in mm.
#[derive(Clone, Copy, Debug)]
pub(super) struct Room {
    pub(super) width: f64,
    pub(super) corner: Option<Corner>,
    /// The white below it.
    pub(super) clear: f64,
}

/// What a foot holds: everything, or on a low plate a part of it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Holds {
    pub(super) figures: bool,
    pub(super) cautions: bool,
    pub(super) closing: bool,
    pub(super) small_line: bool,
}

impl Holds {
    /// The one foot of a plate.
    pub(super) const ALL: Self = Self { figures: true, cautions: true, closing: true, small_line: true };

    /// The feet of the left and the right part of a low plate.
    pub(super) const fn split(cautions_right: bool) -> [Self; 2] {
        [
            Self { figures: true, cautions: !cautions_right, closing: false, small_line: true },
            Self { figures: false, cautions: cautions_right, closing: true, small_line: false },
        ]
    }
}

/// Measures the foot from the bottom upwards; `None` if something is wider than its room.
pub(super) fn measure<'a>(
    content: &'a Content,
    choice: Choice,
    scale: &Scale,
    room: Room,
    holds: Holds,
) -> Option<Foot<'a>> {
    let Room { corner, .. } = room;
    let mut stack = Stack { scale, stands: room, parts: Vec::with_capacity(8), lines: 0 };
    if let Some(small) = content.small_line.as_ref().filter(|_| holds.small_line) {
        stack.words(small, scale.small, 0.0, true)?;
    }
    for (index, closing) in content.closing.iter().filter(|_| holds.closing).rev().enumerate() {
        let gap = if index > 0 { scale.letter * (LEADING - 1.0) } else { scale.letter * (0.5 + 0.55 * scale.open) };
        stack.words(closing, scale.letter, gap, true)?;
    }
    for (index, caution) in content.cautions.iter().filter(|_| holds.cautions).rev().enumerate() {
        let first =
            if index > 0 { scale.letter * (0.5 + 0.5 * scale.open) } else { scale.letter * (0.6 + 0.5 * scale.open) };
        for (language, paragraph) in caution.iter().rev().enumerate() {
            let gap = if language > 0 { scale.letter * (LEADING - 1.0) } else { first };
            stack.words(paragraph, scale.letter, gap, false)?;
        }
    }
    if holds.figures && !content.figures.is_empty() {
        stack.figures(content, choice)?;
    }
    let words = stack.top();
    let code = corner.map_or(0.0, |corner| corner.side + (corner.quiet - scale.gap(0.8)).max(0.0));
    let (lines, parts) = (stack.lines, stack.parts);
    Some(Foot { height: words.max(code), lines, parts, slack: (code - words).max(0.0) })
}

/// Parts heaped on each other.
struct Stack<'a, 'b> {
    scale: &'b Scale,
    stands: Room,
    parts: Vec<Part<'a>>,
    lines: usize,
}

impl<'a> Stack<'a, '_> {
    fn top(&self) -> f64 {
        self.parts.iter().map(|part| part.top).fold(0.0, f64::max)
    }

    fn words(&mut self, paragraph: &'a Paragraph, capital: f64, gap: f64, low: bool) -> Option<()> {
        // Without a small line, what stands lowest has descenders that may be deeper than the margin.
        let deeper = (capital * DESCENT - self.stands.clear).max(0.0);
        let bottom = if self.parts.is_empty() { deeper } else { self.top() + gap };
        let (bottom, room, depth) = self.placed(bottom, capital, |width| {
            paragraph.lines(room(width, capital)).map(|lines| (depth(lines, capital), lines))
        })?;
        // A torn number counts as a line more, so that no larger code or letter is bought with it.
        self.lines += depth.1 + usize::from(paragraph.is_torn(pen::room(room, capital)));
        self.parts.push(Part { what: What::Words(paragraph, capital), bottom, top: bottom + depth.0, room, low });
        Some(())
    }

    fn figures(&mut self, content: &Content, choice: Choice) -> Option<()> {
        let scale = self.scale;
        let gap = scale.letter * (0.65 + 0.6 * scale.open);
        let deeper = (scale.letter * DESCENT - self.stands.clear).max(0.0);
        let bottom = if self.parts.is_empty() { deeper } else { self.top() + gap };
        let (bottom, room, figures) = self.placed(bottom, scale.letter, |width| {
            figures::measure(content, choice, scale, width).map(|figures| (figures.height, figures))
        })?;
        self.lines += figures.1.lines;
        self.parts.push(Part { what: What::Figures(figures.1), bottom, top: bottom + figures.0, room, low: false });
        Some(())
    }

    /// Where a part stands: to the left of the code, or raised above it if that is lower in the end.
    fn placed<T>(
        &self,
        bottom: f64,
        capital: f64,
        measured: impl Fn(f64) -> Option<(f64, T)>,
    ) -> Option<(f64, f64, (f64, T))> {
        let free = |bottom: f64| measured(self.stands.width).map(|depth| (bottom, self.stands.width, depth));
        let Some(corner) = self.stands.corner else { return free(bottom) };
        let clear = corner.clear(capital);
        if bottom >= clear {
            return free(bottom);
        }
        let beside = measured(corner.beside).map(|depth| (bottom, corner.beside, depth));
        let above = || free(clear);
        match beside {
            None => above(),
            Some(beside) if beside.0 + beside.2.0 <= clear => Some(beside),
            Some(beside) => match above() {
                Some(above) if above.0 + above.2.0 < beside.0 + beside.2.0 => Some(above),
                Some(_) | None => Some(beside),
            },
        }
    }
}

impl Foot<'_> {
    /// True if it holds nothing.
    pub(super) fn is_empty(&self) -> bool {
        self.height <= 0.0
    }

    /// Draws with the last baseline at `bottom` what need not stay low, `extra` mm higher than it must.
    pub(super) fn draw_high(
        &self,
        content: &Content,
        choice: Choice,
        scale: &Scale,
        pen: &mut Pen,
        (bottom, extra): (f64, f64),
    ) -> Result<(), Misfit> {
        for part in self.parts.iter().rev().filter(|part| !part.low) {
            let top = bottom - part.top - self.raised(extra);
            match part.what {
                What::Words(paragraph, capital) => {
                    pen.paragraph(paragraph, (0.0, top), capital, part.room)?;
                }
                What::Figures(figures) => figures.draw(content, choice, scale, pen, top)?,
            }
        }
        Ok(())
    }

    /// Draws with the last baseline at `bottom` what stays low.
    pub(super) fn draw_low(&self, pen: &mut Pen, bottom: f64) -> Result<(), Misfit> {
        for part in self.parts.iter().rev().filter(|part| part.low) {
            if let What::Words(paragraph, capital) = part.what {
                pen.paragraph(paragraph, (0.0, bottom - part.top), capital, part.room)?;
            }
        }
        Ok(())
    }

    /// How far parts that need not stay low go up for `extra` mm.
    pub(super) fn raised(&self, extra: f64) -> f64 {
        self.slack + extra
    }

    /// Where the lines of the small line end, or the last line of larger words, the last one first: the right edge and the height
    /// over the last baseline.
    pub(super) fn last_lines(&self, scale: &Scale) -> Vec<(f64, f64)> {
        let Some(Part { what: What::Words(paragraph, capital), bottom, room: width, .. }) = self.parts.first() else {
            return vec![(0.0, 0.0)];
        };
        if *bottom > scale.letter {
            return vec![(0.0, 0.0)];
        }
        let mut ends =
            line_ends(paragraph, room(*width, *capital), capital * LEADING, |units| width_of(units, *capital));
        ends.truncate(if *capital > scale.small { 1 } else { ends.len() });
        ends
    }

    /// Whether no part runs over a code's corner below a height over the last baseline.
    pub(super) fn keeps_clear(&self, corner: &Corner, height: f64, raised: f64) -> bool {
        self.parts.iter().all(|part| {
            let bottom = part.bottom + if part.low { 0.0 } else { raised };
            part.room <= corner.beside || bottom >= height
        })
    }
}
