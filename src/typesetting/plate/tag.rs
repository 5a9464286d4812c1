//! A tag: a strip fixed to an isolator, with its designation large on the left and on the right what it disconnects.

use std::sync::Arc;

use super::content::Maker;
use super::outline;
use super::pen::{DESCENT, Pen, capital_for, depth, room, width, width_of};
use super::scale::{Frame, SMALL_LINE};
use crate::drawing::{Drawing, Face, GlyphLine, Ink};
use crate::length::{Dots, Length, Size};
use crate::notice::{Notice, NoticePoint, Subject, Tag};
use crate::typesetting::breaking::Paragraph;
use crate::typesetting::{Arrangement, LetterFloor, Misfit, Setting};

/// Plates that are lower are tags, in mm: they hold four lines that can be read.
const HIGHEST: f64 = 25.0;

/// Whether a plate of a size shows the notice as a tag.
pub(in crate::typesetting) fn is_tag(notice: &Notice, size: Size) -> bool {
    notice.subject == Subject::Device && notice.tag.is_some() && size.height.to_mm() < HIGHEST
}

/// How a tag is set at the largest letters that fit; `None` if not even the least do.
///
/// # Errors
/// [`Misfit::MissingGlyph`] for the first character that the faces do not have.
pub(in crate::typesetting) fn fit(
    notice: &Notice,
    (size, dots): (Size, Option<Dots>),
    floor: LetterFloor,
) -> Result<Option<Setting>, Misfit> {
    let laid = laid(notice, &Frame::of(size, dots), floor)?;
    Ok(laid.map(|(_, layout)| Setting {
        size,
        letter_height: Length::mm(layout.letter),
        sign_height: None,
        code_module: None,
        is_tag: true,
        dots,
        floor,
        arrangement: Arrangement::Tag { serves: layout.serves },
    }))
}

/// Draws a tag at the largest letters that fit; `None` if not even the least do.
///
/// # Errors
/// [`Misfit::MissingGlyph`] for the first character that the faces do not have.
pub(in crate::typesetting) fn draw(
    notice: &Notice,
    (size, dots): (Size, Option<Dots>),
    floor: LetterFloor,
) -> Result<Option<Drawing>, Misfit> {
    let frame = Frame::of(size, dots);
    let Some((words, layout)) = laid(notice, &frame, floor)? else { return Ok(None) };
    let mut pen = Pen::new(&frame);
    outline(pen.drawing(), &frame);
    words.draw(&layout, &frame, &mut pen)?;
    Ok(Some(pen.into_drawing()))
}

/// The words of a tag with their places.
fn laid(notice: &Notice, frame: &Frame, floor: LetterFloor) -> Result<Option<(Words, Layout)>, Misfit> {
    let Some(tag) = &notice.tag else { return Ok(None) };
    let words = Words::shaped(notice, tag)?;
    let least = floor.height(tag.reading_distance).to_mm().max(SMALL_LINE);
    let layout = words.layout(frame, least);
    Ok(layout.map(|layout| (words, layout)))
}

/// Everything that a tag shows.
struct Words {
    designation: Vec<Paragraph>,
    /// What the rows are, and below them what else must be known.
    statement: Vec<Paragraph>,
    rows: Vec<Row>,
    cautions: Vec<Paragraph>,
    small_line: Option<Paragraph>,
}

/// A circuit and the enclosure that it feeds.
struct Row {
    circuit: Arc<GlyphLine>,
    enclosure: Option<Arc<GlyphLine>>,
    serves: Option<Arc<GlyphLine>>,
}

/// One line of the right column.
enum Line<'a> {
    Said(&'a Paragraph),
    Row(&'a Row),
}

/// A tag once measured, in mm.
#[derive(Clone, Copy, Debug)]
struct Layout {
    /// Capitals of everything but the designation and the small line.
    letter: f64,
    designation: f64,
    /// Where the right column starts.
    right: f64,
    /// From a baseline to the next capitals.
    gap: f64,
    /// Where the first capitals of the right column start.
    top: f64,
    serves: bool,
    /// Height that the small line takes at the foot of the left column.
    small_lines: f64,
}

/// The designation's capitals: at most so high on the tag, and at most so wide a share of it.
const DESIGNATION: (f64, f64) = (0.52, 0.42);

/// The designation is at least so many times as high as the letters, or the letters are too large for it.
const STANDS_OUT: f64 = 1.45;

/// From a baseline to the next capitals, in capitals: the least, and the most that looks of one piece.
const GAP: (f64, f64) = (0.62, 1.05);

/// The letters grow no further than this many times their least height: the designation matters more.
const LARGEST: f64 = 1.7;

/// Revision and date stand under each other.
const SMALL_LINES: usize = 2;

/// Width of the rule between the columns, mm.
const RULE: f64 = 0.2;

/// Between the columns and the rule that parts them, mm.
const GUTTER: f64 = 1.7;

/// What a circuit serves is set at this share of the letters, but never too small to be read.
const ASIDE: f64 = 0.85;

impl Words {
    fn shaped(notice: &Notice, tag: &Tag) -> Result<Self, Misfit> {
        let maker = Maker::of(notice);
        let mut cautions = Vec::new();
        for caution in &tag.cautions {
            cautions.extend(maker.said(Face::Medium, caution)?);
        }
        Ok(Self {
            designation: maker.said(Face::Bold, &notice.headline)?,
            statement: maker.said(Face::Regular, &notice.statement)?,
            rows: notice.points.iter().map(|point| Row::shaped(&maker, point)).collect::<Result<_, _>>()?,
            cautions,
            small_line: maker.parts(&tag.small_line)?,
        })
    }

    /// The largest letters, and for them the largest designation; only what is served may be left away.
    fn layout(&self, frame: &Frame, least: f64) -> Option<Layout> {
        let steps = 40_u32;
        let letter = |step: u32| least * (1.0 + (LARGEST - 1.0) * f64::from(step) / f64::from(steps));
        let at = |serves: bool| (0..=steps).rev().find_map(|step| self.at(letter(step), frame, serves));
        at(true).or_else(|| at(false))
    }

    /// The layout with letters of a height; `None` if it does not fit.
    fn at(&self, letter: f64, frame: &Frame, serves: bool) -> Option<Layout> {
        let line = &self.designation.first()?.line;
        let small = self.small_line.as_ref();
        let small_lines = small.map_or(0.0, |_| depth(SMALL_LINES, SMALL_LINE) + SMALL_LINE * 0.4);
        let widest = self.widest(letter, serves);
        let most = [
            capital_for(frame.width * DESIGNATION.1, line.width),
            capital_for(frame.width - widest - 2.0 * GUTTER, line.width),
            frame.height * DESIGNATION.0,
            (frame.height - small_lines) / (1.0 + DESCENT),
        ];
        let designation = most.into_iter().fold(f64::INFINITY, f64::min);
        if designation < letter * STANDS_OUT {
            return None;
        }
        let narrowest = small.map_or(0.0, |small| width_of(small.narrowest(SMALL_LINES), SMALL_LINE) + 0.05);
        let start = width(line, designation).max(narrowest) + 2.0 * GUTTER;
        let lines = u32::try_from(self.statement.len() + self.rows.len() + self.cautions.len()).ok()?;
        let (count, between) = (f64::from(lines), f64::from(lines.saturating_sub(1)));
        // Large letters reach further below the last line than the margin is wide.
        let room = frame.height - (letter * DESCENT - frame.clear()).max(0.0);
        let fitting = if between > 0.0 { (room - count * letter) / (between * letter) } else { GAP.1 };
        if fitting < GAP.0 || start + widest > frame.width + 1e-9 {
            return None;
        }
        let gap = fitting.min(GAP.1) * letter;
        let height = count * letter + between * gap;
        let top = (room - height) / 2.0;
        Some(Layout { letter, designation, right: start, gap, top, serves, small_lines })
    }

    /// The width of the widest line of the right column.
    fn widest(&self, letter: f64, serves: bool) -> f64 {
        let said = self.statement.iter().chain(&self.cautions).map(|paragraph| width(&paragraph.line, letter));
        let rows = self.rows.iter().map(|row| row.width(letter, serves));
        said.chain(rows).fold(0.0, f64::max) + 0.05
    }

    fn draw(&self, layout: &Layout, frame: &Frame, pen: &mut Pen) -> Result<(), Misfit> {
        let Layout { letter, designation, right, gap, top: first, serves, small_lines } = *layout;
        if let Some(paragraph) = self.designation.first() {
            // Over a small line the designation stands in the middle of what is left; alone, of the whole tag.
            let room = frame.height - small_lines;
            let baseline = ((room + designation) / 2.0).min(room - designation * DESCENT);
            pen.line(&paragraph.line, 0.0, baseline, designation, Ink::Black);
        }
        if let Some(paragraph) = &self.small_line {
            let column = right - 2.0 * GUTTER;
            let lines = paragraph.lines(room(column, SMALL_LINE)).unwrap_or(SMALL_LINES);
            let top = frame.height - depth(lines, SMALL_LINE);
            pen.paragraph(paragraph, (0.0, top), SMALL_LINE, column)?;
        }
        pen.upright(right - GUTTER, frame.height, RULE);
        let tops = (0_u32..).map(|number| first + f64::from(number) * (letter + gap));
        let before = self.statement.iter().map(Line::Said);
        let after = self.cautions.iter().map(Line::Said);
        for (top, line) in tops.zip(before.chain(self.rows.iter().map(Line::Row)).chain(after)) {
            match line {
                Line::Said(paragraph) => pen.line(&paragraph.line, right, top + letter, letter, Ink::Black),
                Line::Row(row) => row.draw((right, frame.width), top, letter, serves, pen),
            }
        }
        Ok(())
    }
}

impl Row {
    fn shaped(maker: &Maker, point: &NoticePoint) -> Result<Self, Misfit> {
        let unless_empty = |face, text: &str| (!text.trim().is_empty()).then(|| maker.line(face, text)).transpose();
        Ok(Self {
            circuit: maker.line(Face::Bold, &point.designation)?,
            enclosure: unless_empty(Face::Medium, &point.place)?,
            serves: unless_empty(Face::Regular, &point.serves)?,
        })
    }

    /// From the circuit's end to the enclosure's start: room for the arrow.
    fn arrow_room(letter: f64) -> f64 {
        letter * 2.5
    }

    fn width(&self, letter: f64, serves: bool) -> f64 {
        let enclosure = self.enclosure.as_ref().map_or(0.0, |line| Self::arrow_room(letter) + width(line, letter));
        let serves = self.serves.as_ref().filter(|_| serves);
        let serves = serves.map_or(0.0, |line| letter + width(line, aside(letter)));
        width(&self.circuit, letter) + enclosure + serves
    }

    fn draw(&self, (left, right): (f64, f64), top: f64, letter: f64, serves: bool, pen: &mut Pen) {
        let baseline = top + letter;
        pen.line(&self.circuit, left, baseline, letter, Ink::Black);
        if let Some(enclosure) = &self.enclosure {
            let x = left + width(&self.circuit, letter) + Self::arrow_room(letter);
            pen.arrow(x - letter * 0.7, top + letter / 2.0, letter);
            pen.line(enclosure, x, baseline, letter, Ink::Black);
        }
        if let Some(line) = self.serves.as_ref().filter(|_| serves) {
            let capital = aside(letter);
            pen.line(line, right - width(line, capital) - 0.02, baseline, capital, Ink::Black);
        }
    }
}

fn aside(letter: f64) -> f64 {
    (letter * ASIDE).max(SMALL_LINE)
}
