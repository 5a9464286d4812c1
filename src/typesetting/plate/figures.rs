//! The voltages: large figures with their meaning beside or below.

use super::choice::{Beside, Choice};
use super::content::{Content, FigureText};
use super::pen::{LEADING, Pen, room, width};
use super::scale::Scale;
use crate::drawing::Ink;
use crate::typesetting::Misfit;

/// The figures once measured, in mm.
#[derive(Clone, Copy, Debug)]
pub(super) struct Figures {
    /// From the top of the first figure to the last baseline.
    pub(super) height: f64,
    pub(super) lines: usize,
    /// Figures in a row.
    in_row: usize,
    capital: f64,
    room: f64,
}

/// Measures the figures in a room; `None` if one alone is wider than it.
pub(super) fn measure(content: &Content, choice: Choice, scale: &Scale, room: f64) -> Option<Figures> {
    let count = content.figures.len();
    let smaller = [scale.figure, scale.figure.midpoint(scale.least_figure), scale.least_figure];
    let all_in_a_row = smaller.into_iter().map(|capital| (count, capital));
    let fewer = (1..count).rev().map(|in_row| (in_row, scale.figure));
    let fits = |&(in_row, capital): &(usize, f64)| {
        let trial = Figures { height: 0.0, lines: 0, in_row, capital, room };
        trial.columns(content, choice, scale).last().is_none_or(|(left, width)| left + width <= room - 0.05)
    };
    let chosen = all_in_a_row.chain(fewer).find(fits).or((count > 0).then_some((1, scale.least_figure)))?;
    let (in_row, capital) = chosen;
    let mut figures = Figures { height: 0.0, lines: 0, in_row, capital, room };
    for (index, row) in content.figures.chunks(in_row).enumerate() {
        let (mut deepest, mut lines) = (0.0_f64, 0);
        for figure in row {
            let (depth, count) = figures.depth(figure, choice, scale)?;
            (deepest, lines) = (deepest.max(depth), lines.max(count));
        }
        figures.height += deepest + if index > 0 { row_gap(scale) } else { 0.0 };
        figures.lines += lines;
    }
    Some(figures)
}

fn row_gap(scale: &Scale) -> f64 {
    scale.letter * (0.5 + 0.6 * scale.open)
}

/// From a figure's baseline to the capitals of its meaning below.
fn below(scale: &Scale) -> f64 {
    scale.letter * (0.45 + 0.3 * scale.open)
}

/// From a figure to its meaning on its right.
fn between(scale: &Scale) -> f64 {
    scale.letter * (0.25 + 0.5 * scale.open)
}

impl Figures {
    /// Left edge and width of every column.
    fn columns(&self, content: &Content, choice: Choice, scale: &Scale) -> impl Iterator<Item = (f64, f64)> {
        let mut left = 0.0;
        (0..self.in_row.min(content.figures.len())).map(move |column| {
            let figures = content.figures.iter().skip(column).step_by(self.in_row.max(1));
            let width = figures.map(|figure| self.width(figure, choice, scale)).fold(0.0, f64::max);
            let at = left;
            left += width + scale.letter * (2.75 * scale.open - 0.35);
            (at, width)
        })
    }

    fn width(&self, figure: &FigureText, choice: Choice, scale: &Scale) -> f64 {
        let meaning = figure.meaning.iter().map(|meaning| width(&meaning.line, scale.letter)).fold(0.0, f64::max);
        let figure = width(&figure.figure, self.capital);
        match choice.meanings {
            Beside::Under => figure.max(meaning),
            Beside::Right if meaning == 0.0 => figure,
            Beside::Right => figure + between(scale) + meaning,
        }
    }

    /// From the top of a figure to its last baseline, and its lines. A meaning too wide for the room takes more lines below.
    fn depth(&self, figure: &FigureText, choice: Choice, scale: &Scale) -> Option<(f64, usize)> {
        let letter = scale.letter;
        let figure_width = width(&figure.figure, self.capital);
        let left = match choice.meanings {
            Beside::Under => 0.0,
            Beside::Right => figure_width + between(scale),
        };
        let mut lines = 0;
        for meaning in &figure.meaning {
            lines += meaning.lines(room(self.room - left, letter))?;
        }
        let further = f64::from(u32::try_from(lines.saturating_sub(1)).unwrap_or(u32::MAX)) * letter * LEADING;
        let depth = match choice.meanings {
            _ if lines == 0 => self.capital,
            Beside::Under => self.capital + below(scale) + letter + further,
            Beside::Right => self.capital + further,
        };
        (figure_width <= self.room).then_some((depth, lines))
    }

    /// Draws the figures with the top of the first row at `top`.
    pub(super) fn draw(
        &self,
        content: &Content,
        choice: Choice,
        scale: &Scale,
        pen: &mut Pen,
        top: f64,
    ) -> Result<(), Misfit> {
        let columns: Vec<(f64, f64)> = self.columns(content, choice, scale).collect();
        let mut top = top;
        for row in content.figures.chunks(self.in_row.max(1)) {
            let mut deepest = 0.0_f64;
            for (figure, (left, _)) in row.iter().zip(&columns) {
                self.draw_one(figure, choice, scale, pen, (*left, top))?;
                deepest = deepest.max(self.depth(figure, choice, scale).map_or(0.0, |(depth, _)| depth));
            }
            top += deepest + row_gap(scale);
        }
        Ok(())
    }

    fn draw_one(
        &self,
        figure: &FigureText,
        choice: Choice,
        scale: &Scale,
        pen: &mut Pen,
        (left, top): (f64, f64),
    ) -> Result<(), Misfit> {
        let (letter, baseline) = (scale.letter, top + self.capital);
        pen.line(&figure.figure, left, baseline, self.capital, Ink::Black);
        let (x, mut next) = match choice.meanings {
            Beside::Under => (left, baseline + below(scale)),
            Beside::Right => (left + width(&figure.figure, self.capital) + between(scale), baseline - letter),
        };
        for meaning in &figure.meaning {
            next = pen.paragraph(meaning, (x, next), letter, self.room - x)? + letter * (LEADING - 1.0);
        }
        Ok(())
    }
}
