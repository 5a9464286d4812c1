//! Dates on a plate of words: each large in a box of its own over what it is; one that is not known leaves a line to
//! write on.

use super::super::pen::{Pen, capital_for, depth, room, width};
use super::DateText;
use crate::drawing::{Ink, Path};
use crate::length::Length;
use crate::typesetting::Misfit;

/// The boxes once measured, in mm.
pub(super) struct Dates {
    /// Height of all boxes with what is between.
    pub(super) height: f64,
    /// Capitals of what a date is.
    pub(super) meaning: f64,
    /// Height of the figures.
    figure: f64,
    /// Room over the rule, where a date is to be written by hand.
    above: f64,
    pad: f64,
    /// Of one box.
    width: f64,
    box_height: f64,
    /// From one box to the next.
    gap: f64,
    in_row: usize,
}

/// A date written by hand needs a room of so many mm in height (common practice of forms).
const WRITING: f64 = 8.0;

/// Figures in capitals of the text, and at least in those of what they are.
const FIGURE: (f64, f64) = (1.55, 1.15);

/// Width of the line of a box, and of the rule to write on, in mm.
const LINE: f64 = 0.3;

impl Dates {
    /// The boxes side by side, or below each other where that is too narrow; `None` if a word is wider than its box.
    pub(super) fn measure(dates: &[DateText], letters: (f64, f64), open: f64, room: f64) -> Option<Self> {
        [dates.len(), 1].into_iter().find_map(|in_row| Self::in_rows(dates, letters, open, (room, in_row)))
    }

    fn in_rows(
        dates: &[DateText],
        (letter, floor): (f64, f64),
        open: f64,
        (all, in_row): (f64, usize),
    ) -> Option<Self> {
        let columns = f64::from(u32::try_from(in_row).ok()?);
        let meaning = (letter * 0.8).max(floor);
        let gap = letter * (0.5 + 0.5 * open);
        let pad = meaning * (0.35 + 0.4 * open);
        let width_of_box = (all - gap * (columns - 1.0)) / columns;
        let inside = width_of_box - 2.0 * pad;
        let widest = dates.iter().filter_map(|date| date.figure.as_ref()).map(|line| line.width).max();
        let most = widest.map_or(f64::INFINITY, |units| capital_for(inside, units));
        let figure = most.min(letter * FIGURE.0);
        if figure < meaning * FIGURE.1 {
            return None;
        }
        let is_blank = dates.iter().any(|date| date.figure.is_none());
        let above = if is_blank { figure.max(WRITING - pad) } else { figure };
        let mut deepest = 0.0_f64;
        for date in dates {
            let mut lines = 0;
            for paragraph in &date.meaning {
                lines += paragraph.lines(room(inside, meaning))?;
            }
            deepest = deepest.max(depth(lines, meaning));
        }
        let box_height = pad + above + below(meaning) + deepest + pad.max(meaning * 0.5);
        let rows = f64::from(u32::try_from(dates.len().div_ceil(in_row)).ok()?);
        let height = rows * box_height + (rows - 1.0) * gap;
        Some(Self { height, meaning, figure, above, pad, width: width_of_box, box_height, gap, in_row })
    }

    /// Draws the boxes from `top` down.
    pub(super) fn draw(&self, dates: &[DateText], pen: &mut Pen, top: f64) -> Result<(), Misfit> {
        let mut y = top;
        for row in dates.chunks(self.in_row.max(1)) {
            let mut x = 0.0;
            for date in row {
                self.draw_one(date, pen, (x, y))?;
                x += self.width + self.gap;
            }
            y += self.box_height + self.gap;
        }
        pen.shift(0.0);
        Ok(())
    }

    fn draw_one(&self, date: &DateText, pen: &mut Pen, (left, top): (f64, f64)) -> Result<(), Misfit> {
        pen.shift(left);
        let area = pen.on_dots(pen.area(0.0, top, self.width, self.box_height));
        let thickness = pen.thickness(LINE);
        let inside = area.inset(thickness / 2);
        pen.drawing().stroke(Path::rounded(inside, Length::mm(self.pad.min(1.2))), Ink::Black, thickness);
        pen.shift(left + self.pad);
        let room = self.width - 2.0 * self.pad;
        let baseline = top + self.pad + self.above;
        match &date.figure {
            Some(line) => {
                // In the middle of a room that another date's hand-written figures need.
                let raised = (self.above - self.figure) / 2.0;
                debug_assert!(width(line, self.figure) <= room + 0.01);
                pen.line(line, 0.0, baseline - raised, self.figure, Ink::Black);
            }
            None => pen.rule(baseline, room, LINE),
        }
        let mut next = baseline + below(self.meaning);
        for paragraph in &date.meaning {
            next = pen.paragraph(paragraph, (0.0, next), self.meaning, room)? + self.meaning * 0.62;
        }
        Ok(())
    }
}

/// From a figure's baseline to the capitals of what it is.
fn below(meaning: f64) -> f64 {
    meaning * 0.8
}
