//! The foot of a plate: figures, cautions, the closing line and the small line, around the code at the lower right.

use super::choice::Choice;
use super::content::Content;
use super::corner::{Corner, line_ends};
use super::figures::{self, Figures};
use super::pen::{LEADING, Pen, depth, room, width_of};
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

/// Measures the foot from the bottom upwards; `None` if something is wider than its room.
pub(super) fn measure<'a>(
    content: &'a Content,
    choice: Choice,
    scale: &Scale,
    width: f64,
    corner: Option<Corner>,
) -> Option<Foot<'a>> {
    let mut stack = Stack { scale, corner, width, parts: Vec::with_capacity(8), lines: 0 };
    if let Some(small) = &content.small_line {
        stack.words(small, scale.small, 0.0, true)?;
    }
    for (index, closing) in content.closing.iter().rev().enumerate() {
        let gap = if index > 0 { scale.letter * (LEADING - 1.0) } else { scale.letter * (0.5 + 0.55 * scale.open) };
        stack.words(closing, scale.letter, gap, true)?;
    }
    for (index, caution) in content.cautions.iter().rev().enumerate() {
        let first =
            if index > 0 { scale.letter * (0.5 + 0.5 * scale.open) } else { scale.letter * (0.6 + 0.5 * scale.open) };
        for (language, paragraph) in caution.iter().rev().enumerate() {
            let gap = if language > 0 { scale.letter * (LEADING - 1.0) } else { first };
            stack.words(paragraph, scale.letter, gap, false)?;
        }
    }
    if !content.figures.is_empty() {
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
    corner: Option<Corner>,
    width: f64,
    parts: Vec<Part<'a>>,
    lines: usize,
}

impl<'a> Stack<'a, '_> {
    fn top(&self) -> f64 {
        self.parts.iter().map(|part| part.top).fold(0.0, f64::max)
    }

    fn words(&mut self, paragraph: &'a Paragraph, capital: f64, gap: f64, low: bool) -> Option<()> {
        let bottom = if self.parts.is_empty() { 0.0 } else { self.top() + gap };
        let (bottom, room, depth) = self.placed(bottom, capital, |width| {
            paragraph.lines(room(width, capital)).map(|lines| (depth(lines, capital), lines))
        })?;
        self.lines += depth.1;
        self.parts.push(Part { what: What::Words(paragraph, capital), bottom, top: bottom + depth.0, room, low });
        Some(())
    }

    fn figures(&mut self, content: &Content, choice: Choice) -> Option<()> {
        let scale = self.scale;
        let gap = scale.letter * (0.65 + 0.6 * scale.open);
        let bottom = if self.parts.is_empty() { 0.0 } else { self.top() + gap };
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
        let free = |bottom: f64| measured(self.width).map(|depth| (bottom, self.width, depth));
        let Some(corner) = self.corner else { return free(bottom) };
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

    /// Draws the foot with its last baseline at `bottom`; what need not stay low goes up by `extra` mm.
    pub(super) fn draw(
        &self,
        content: &Content,
        choice: Choice,
        scale: &Scale,
        pen: &mut Pen<'_>,
        (bottom, extra): (f64, f64),
    ) -> Result<(), Misfit> {
        let (high, low): (Vec<_>, Vec<_>) = self.parts.iter().rev().partition(|part| !part.low);
        for (part, raised) in
            high.iter().map(|part| (part, self.raised(extra))).chain(low.iter().map(|part| (part, 0.0)))
        {
            let top = bottom - part.top - raised;
            match part.what {
                What::Words(paragraph, capital) => {
                    pen.paragraph(paragraph, (0.0, top), capital, part.room)?;
                }
                What::Figures(figures) => figures.draw(content, choice, scale, pen, top)?,
            }
        }
        Ok(())
    }

    /// How far parts that need not stay low go up for `extra` mm.
    pub(super) fn raised(&self, extra: f64) -> f64 {
        self.slack + extra
    }

    /// Where the lines of the small line end, the last one first: the right edge and the height over the last baseline.
    pub(super) fn small_lines(&self, content: &Content, scale: &Scale) -> Vec<(f64, f64)> {
        let (Some(small), Some(part)) = (&content.small_line, self.parts.first()) else { return vec![(0.0, 0.0)] };
        let capital = scale.small;
        line_ends(small, room(part.room, capital), capital * LEADING, |units| width_of(units, capital))
    }

    /// Whether no part runs over a code's corner below a height over the last baseline.
    pub(super) fn keeps_clear(&self, corner: &Corner, height: f64, raised: f64) -> bool {
        self.parts.iter().all(|part| {
            let bottom = part.bottom + if part.low { 0.0 } else { raised };
            part.room <= corner.beside || bottom >= height
        })
    }
}
