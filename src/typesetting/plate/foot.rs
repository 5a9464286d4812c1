//! The foot of a plate: figures, cautions, the closing line, the small line, and the code at the lower right.

use super::choice::Choice;
use super::content::Content;
use super::figures::{self, Figures};
use super::pen::{self, DESCENT, LEADING, Pen, depth, room, width};
use super::scale::Scale;
use crate::drawing::{Ink, Item, Modules};
use crate::length::Length;
use crate::typesetting::Misfit;
use crate::typesetting::breaking::Paragraph;
use crate::typesetting::code::QUIET_ZONE;

/// A foot once measured, in mm.
pub(super) struct Foot<'a> {
    /// From the top of its first words, or of the code, to the last baseline.
    pub(super) height: f64,
    pub(super) lines: usize,
    /// The parts from the bottom upwards.
    parts: Vec<Part<'a>>,
    /// How much higher the code is than the words beside it.
    slack: f64,
    width: f64,
}

/// One paragraph or the figures, standing so far above the last baseline.
struct Part<'a> {
    what: What<'a>,
    /// From the foot's last baseline up to this part's top.
    top: f64,
    room: f64,
    /// Stays at the bottom when there is more room; the others go up.
    low: bool,
}

#[derive(Clone, Copy)]
enum What<'a> {
    Words(&'a Paragraph, f64),
    /// A caption that stands on the small line's baseline, against the code.
    Caption(&'a Paragraph, f64),
    Figures(Figures),
}

/// The code in the corner: what of the foot it keeps free.
#[derive(Clone, Copy, Debug)]
struct Corner {
    side: f64,
    quiet: f64,
    /// The room for words to its left.
    beside: f64,
}

impl Corner {
    fn of(content: &Content, scale: &Scale, width: f64) -> Option<Self> {
        let (code, _) = content.code.as_ref()?;
        let (side, quiet) = (f64::from(code.side) * scale.module, f64::from(QUIET_ZONE) * scale.module);
        Some(Self { side, quiet, beside: width - side - quiet.max(scale.letter * 1.2) })
    }
}

/// Measures the foot from the bottom upwards; `None` if something is wider than its room.
pub(super) fn measure<'a>(content: &'a Content, choice: Choice, scale: &Scale, width: f64) -> Option<Foot<'a>> {
    let corner = Corner::of(content, scale, width);
    if corner.is_some_and(|corner| corner.beside < 0.0 || corner.side + corner.quiet > width) {
        return None;
    }
    let mut stack = Stack { scale, corner, width, parts: Vec::with_capacity(8), lines: 0 };
    stack.small_lines(content)?;
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
    Some(Foot {
        height: words.max(code),
        lines: stack.lines,
        parts: stack.parts,
        slack: (code - words).max(0.0),
        width,
    })
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

    /// The small line, with the code's caption at its right end or above it.
    fn small_lines(&mut self, content: &'a Content) -> Option<()> {
        let capital = self.scale.small;
        let gap = capital * 0.8;
        if let Some(small) = &content.small_line {
            self.words(small, capital, 0.0, true)?;
        }
        let beside = self.corner.map_or(self.width, |corner| self.width - corner.side - corner.quiet);
        let small = content.small_line.as_ref().map_or(0, |small| small.narrowest(self.lines.max(1)));
        let small = pen::width_of(small, capital);
        for (index, caption) in content.caption.iter().enumerate() {
            let at_right = index == 0 && small + capital * 3.0 + width(&caption.line, capital) <= beside;
            if at_right {
                let what = What::Caption(caption, capital);
                self.parts.insert(0, Part { what, top: capital, room: beside, low: true });
            } else {
                self.words(caption, capital, gap, true)?;
            }
        }
        Some(())
    }

    fn words(&mut self, paragraph: &'a Paragraph, capital: f64, gap: f64, low: bool) -> Option<()> {
        let bottom = if self.parts.is_empty() { 0.0 } else { self.top() + gap };
        let (bottom, room, depth) = self.placed(bottom, capital, |width| {
            paragraph.lines(room(width, capital)).map(|lines| (depth(lines, capital), lines))
        })?;
        self.lines += depth.1;
        self.parts.push(Part { what: What::Words(paragraph, capital), top: bottom + depth.0, room, low });
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
        self.parts.push(Part { what: What::Figures(figures.1), top: bottom + figures.0, room, low: false });
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
        let clear = corner.side + corner.quiet + capital * DESCENT;
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
            high.iter().map(|part| (part, self.slack + extra)).chain(low.iter().map(|part| (part, 0.0)))
        {
            let top = bottom - part.top - raised;
            match part.what {
                What::Words(paragraph, capital) => {
                    pen.paragraph(paragraph, (0.0, top), capital, part.room)?;
                }
                What::Caption(paragraph, capital) => {
                    let left = part.room - width(&paragraph.line, capital) - 0.05;
                    pen.line(&paragraph.line, left, bottom, capital, Ink::Black);
                }
                What::Figures(figures) => figures.draw(content, choice, scale, pen, top)?,
            }
        }
        self.code(content, scale, pen, bottom);
        Ok(())
    }

    /// The code in the lower right corner, its last row of modules on the last baseline.
    fn code(&self, content: &Content, scale: &Scale, pen: &mut Pen<'_>, bottom: f64) {
        let Some((code, payload)) = &content.code else { return };
        let module = Length::mm((scale.module * 1_000.0).floor() / 1_000.0);
        let side = module * i32::from(code.side);
        let corner = pen.at(self.width, bottom);
        let origin = crate::length::Point::new(corner.x - side, corner.y - side);
        let modules = Modules { origin, module, side: code.side, rows: code.rows.clone(), payload: payload.clone() };
        pen.drawing().items.push(Item::Modules(modules));
    }
}
