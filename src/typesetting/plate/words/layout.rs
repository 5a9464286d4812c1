//! Where heading, text, dates, small line and code stand on a plate of words, at letters of a height.

use super::super::pen::{DESCENT, Pen, capital_for, depth, room, width};
use super::super::scale::{Frame, SMALL_LINE};
use super::Words;
use super::dates::Dates;
use crate::drawing::{Ink, Item, Modules};
use crate::length::Length;
use crate::typesetting::Misfit;
use crate::typesetting::breaking::Paragraph;
use crate::typesetting::code::QUIET_ZONE;

/// Where the words stand that have a code beside them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Stands {
    /// The text runs over the whole width, above the code.
    Below,
    /// Everything stands on the left of the code.
    Beside,
}

impl Stands {
    /// Both, the one liked more first.
    pub(super) const ALL: &'static [Self] = &[Self::Below, Self::Beside];
}

/// A plate once measured, in mm.
pub(super) struct Layout<'a> {
    /// Capitals of the text; of the heading where there is no text.
    pub(super) letter: f64,
    /// A module of the code.
    pub(super) module: f64,
    /// Height of the heading and the text together.
    height: f64,
    rows: Vec<Row<'a>>,
    dates: Option<Dates>,
    small: f64,
    /// From the last baseline of what stands lowest to the edge of the room.
    deeper: f64,
    /// From the lowest baseline to the top of the dates or the small line.
    foot: f64,
    /// Height that is left over.
    left: f64,
    corner: Option<Corner>,
    column: f64,
    foot_width: f64,
}

/// One paragraph, or the rule under a heading, so far below what stands above it.
struct Row<'a> {
    gap: f64,
    height: f64,
    what: What<'a>,
}

enum What<'a> {
    Words(&'a Paragraph, f64),
    Rule,
}

/// The code in the lower right corner.
#[derive(Clone, Copy)]
struct Corner {
    indent: f64,
    side: f64,
    quiet: f64,
    beside: f64,
}

/// No letters are more than so many times as large as they must be.
const LARGEST: f64 = 24.0;

/// The heading in letters of the text: the least, and the most that looks of one piece; and where the text is as loud.
const HEADING: (f64, f64) = (1.2, 1.9);
const LOUD: (f64, f64) = (1.0, 1.12);

/// A text of more lines is parted from its heading by a rule.
const FEW_LINES: usize = 2;

impl<'a> Layout<'a> {
    /// The layout with the largest letters that fit.
    pub(super) fn largest(words: &'a Words, frame: &Frame, code: (Stands, f64), open: f64) -> Option<Self> {
        let at = |times: f64| Self::at(words, frame, code, (words.floor * times, open));
        let mut best = at(1.0)?;
        let (mut low, mut high) = (1.0, LARGEST);
        // Everything grows with the letters, so what fits at one height fits at all below.
        while high - low > 0.01 * low {
            let middle = f64::midpoint(low, high);
            match at(middle) {
                Some(layout) => (low, best) = (middle, layout),
                None => high = middle,
            }
        }
        Some(best)
    }

    fn at(
        words: &'a Words,
        frame: &Frame,
        (stands, module): (Stands, f64),
        (letter, open): (f64, f64),
    ) -> Option<Self> {
        let corner = match &words.code {
            Some((code, _)) => Some(Corner::of(code.side, module, letter, frame)?),
            None => None,
        };
        let foot_width = corner.map_or(frame.width, |corner| corner.beside);
        let column = if stands == Stands::Beside { foot_width } else { frame.width };
        let rows = rows(words, column, letter, open)?;
        let height = rows.iter().map(|row| row.gap + row.height).sum::<f64>();
        let small = (SMALL_LINE + (letter - 4.0) * 0.2).clamp(SMALL_LINE, SMALL_LINE * 2.0);
        let small_height = match &words.small_line {
            Some(line) => depth(line.lines(room(foot_width, small))?, small),
            None => 0.0,
        };
        let dates = if words.dates.is_empty() {
            None
        } else {
            Some(Dates::measure(&words.dates, (letter, words.floor), open, foot_width)?)
        };
        let over_small = if small_height > 0.0 && dates.is_some() { small + letter * 0.35 * open } else { 0.0 };
        let foot = small_height + over_small + dates.as_ref().map_or(0.0, |dates| dates.height);
        let lowest = if small_height > 0.0 { small } else { last_capital(&rows) };
        let deeper = if foot > 0.0 && small_height == 0.0 { 0.0 } else { (lowest * DESCENT - frame.clear()).max(0.0) };
        let clear = corner.filter(|_| stands == Stands::Below).map_or(0.0, |corner| corner.side + corner.quiet);
        let over_foot = last_capital(&rows) * DESCENT + letter * if foot > 0.0 { 0.2 + 0.6 * open } else { 0.0 };
        let below = (foot + deeper + if foot > 0.0 { over_foot } else { 0.0 }).max(if clear > 0.0 {
            clear + last_capital(&rows) * DESCENT
        } else {
            0.0
        });
        let left = frame.height - height - below;
        let code_fits = corner.is_none_or(|corner| corner.side <= frame.height);
        (left >= 0.0 && code_fits).then_some(Self {
            letter,
            module,
            height,
            rows,
            dates,
            small,
            deeper,
            foot,
            left,
            corner,
            column,
            foot_width,
        })
    }

    /// Capitals of the smallest words that are read from the reading distance.
    pub(super) fn least_letter(&self) -> f64 {
        self.dates.as_ref().map_or(self.letter, |dates| self.letter.min(dates.meaning))
    }

    /// Draws everything; what is left over goes above and below the text.
    pub(super) fn draw(&self, words: &Words, frame: &Frame, pen: &mut Pen) -> Result<(), Misfit> {
        let share = if self.dates.is_some() { 0.3 } else { 0.5 };
        let mut y = self.left * share;
        for row in &self.rows {
            y += row.gap;
            match row.what {
                What::Words(paragraph, capital) => {
                    pen.paragraph(paragraph, (0.0, y), capital, self.column)?;
                }
                What::Rule => pen.rule(y, self.column, row.height),
            }
            y += row.height;
        }
        let bottom = frame.height - self.deeper;
        if let Some(dates) = &self.dates {
            // They stand in the middle of what is free between the text and the small line.
            let free = bottom - self.foot - self.height - self.left * share;
            let raised = (self.left * (1.0 - share) * 0.4).min(free.max(0.0));
            dates.draw(&words.dates, pen, bottom - self.foot - raised)?;
        }
        if let Some(line) = &words.small_line {
            let lines = line.lines(room(self.foot_width, self.small)).unwrap_or(1);
            pen.paragraph(line, (0.0, bottom - depth(lines, self.small)), self.small, self.foot_width)?;
        }
        if let Some(corner) = &self.corner {
            self.draw_code(words, corner, frame, pen);
        }
        Ok(())
    }

    /// The code, and its caption where the small line leaves room beside it.
    fn draw_code(&self, words: &Words, corner: &Corner, frame: &Frame, pen: &mut Pen) {
        let Some((code, payload)) = &words.code else { return };
        let module = Length::mm(self.module);
        let at = pen.at(frame.width - corner.indent, frame.height - corner.indent);
        let origin = pen.code_origin(at, module, code.side);
        let modules = Modules { origin, module, side: code.side, rows: code.rows.clone(), payload: payload.clone() };
        pen.drawing().items.push(Item::Modules(modules));
        let taken = match &words.small_line {
            Some(line) if line.lines(room(self.foot_width, self.small)) == Some(1) => width(&line.line, self.small),
            Some(_) => return,
            None => 0.0,
        };
        let against = frame.width - corner.side - corner.quiet;
        let across = |caption: &&Paragraph| width(&caption.line, self.small) + 0.05;
        let fits = |caption: &&Paragraph| taken + 3.0 * self.small + across(caption) <= against;
        if let Some(caption) = words.caption.iter().find(fits) {
            let x = against - across(&caption);
            pen.line(&caption.line, x, frame.height - self.deeper, self.small, Ink::Black);
        }
    }
}

impl Corner {
    fn of(side: u16, module: f64, letter: f64, frame: &Frame) -> Option<Self> {
        let quiet = f64::from(QUIET_ZONE) * module;
        let indent = (quiet - frame.clear()).max(0.0);
        let side = f64::from(side) * module + indent + frame.slack();
        let beside = frame.width - side - quiet.max(letter * 1.2);
        (beside > 0.0).then_some(Self { indent, side, quiet, beside })
    }
}

/// The capitals of the last words.
fn last_capital(rows: &[Row<'_>]) -> f64 {
    match rows.last().map(|row| &row.what) {
        Some(What::Words(_, capital)) => *capital,
        Some(What::Rule) | None => 0.0,
    }
}

/// Headings and texts one below the other; `None` if a word is wider than the column.
fn rows<'a>(words: &'a Words, column: f64, letter: f64, open: f64) -> Option<Vec<Row<'a>>> {
    let mut rows: Vec<Row<'a>> = Vec::with_capacity(words.spoken.len() * 3);
    for spoken in &words.spoken {
        let between = if rows.is_empty() { 0.0 } else { letter * (0.9 + 0.9 * open) };
        let mut gap = between;
        if let Some(heading) = &spoken.heading {
            let is_alone = spoken.body.is_none();
            let shares = if spoken.is_loud { LOUD } else { HEADING };
            let capital = if is_alone { letter } else { heading_capital(heading, column, letter, shares)? };
            rows.push(Row {
                gap,
                height: depth(heading.lines(room(column, capital))?, capital),
                what: What::Words(heading, capital),
            });
            gap = capital * (DESCENT + 0.1) + letter * 0.6 * open;
        }
        let Some(body) = &spoken.body else { continue };
        let lines = body.lines(room(column, letter))?;
        if spoken.heading.is_some() && lines > FEW_LINES {
            rows.push(Row { gap, height: (letter * 0.145).min(0.5), what: What::Rule });
            gap = letter * (0.3 + 0.5 * open);
        }
        rows.push(Row { gap, height: depth(lines, letter), what: What::Words(body, letter) });
    }
    Some(rows)
}

/// The heading's capitals: as loud as looks well, or less where that would cost a line.
fn heading_capital(heading: &Paragraph, column: f64, letter: f64, shares: (f64, f64)) -> Option<f64> {
    let (least, most) = (letter * shares.0, letter * shares.1);
    let lines = heading.lines(room(column, least))?;
    Some(most.min(capital_for(column, heading.narrowest(lines))).max(least))
}
