//! Forms into strips: boxes to tick, room for remarks, lines to write on; and texts in a frame.

use super::Style;
use super::block::{Form, Text};
use super::flow::Layout;
use super::strip::{FIRM, HEAVY, Mark, Sense, Strip, THIN};
use crate::drawing::{Ink, Role};
use crate::length::{Length, Point, Rect, Size};

const BEFORE: Length = Length::um(5_000);
/// White inside the frame.
const PAD: Length = Length::um(4_000);
/// Side of a box to tick, and the white behind it and behind the words.
const TICK: Length = Length::um(3_400);
const AFTER_TICK: Length = Length::um(2_000);
const BETWEEN: Length = Length::um(9_000);
/// White under a choice.
const AFTER_ROW: Length = Length::um(2_300);
/// Room to write over a line.
const WRITING: Length = Length::um(8_000);
const GAP: Length = Length::um(6_000);

/// The form in one strip: choices at the left, room for remarks at their right, lines to write on below.
pub(super) fn strip(layout: &Layout<'_>, form: &Form) -> Strip {
    let mut strip = Strip { before: BEFORE, ..Strip::default() };
    let width = layout.width - PAD * 2;
    let title = layout.letters.lines(Style::Strong, &form.title, width);
    let sense = Sense::of(layout.part(Role::Paragraph));
    let top = strip.lines(&title, Style::Strong, (PAD, PAD - Length::um(500)), &sense) + Length::um(1_500);
    let (ticked, right) = ticks(layout, form, &mut strip, top, width);
    let mut y = ticked;
    if !form.remarks.is_empty() {
        let remarks = layout.letters.lines(Style::Small, &form.remarks, width + PAD - right);
        let sense = Sense::of(layout.part(Role::Paragraph));
        y = y.max(strip.lines(&remarks, Style::Small, (right, top), &sense) + form.room);
    }
    y = fields(layout, form, &mut strip, y, width);
    strip.height = y + PAD - Length::um(1_500);
    let frame = Rect::new(Point::default(), Size::new(layout.width, strip.height)).inset(FIRM / 2);
    strip.marks.push(Mark::Frame(frame, Ink::Black, FIRM));
    strip
}

/// Texts in a heavy frame, in one strip.
pub(super) fn framed(layout: &Layout<'_>, texts: &[Text]) -> Strip {
    let mut strip = Strip { before: Length::um(2_000), ..Strip::default() };
    let (pad, mut y) = (HEAVY + Length::um(2_200), HEAVY + Length::um(1_400));
    for text in texts {
        let lines = layout.letters.lines(text.style, &text.words, layout.width - pad * 2);
        let sense = layout.sense(text, Role::Paragraph);
        y = strip.lines(&lines, text.style, (pad, y), &sense) + Length::um(500);
    }
    let bottom = y + Length::um(900) + HEAVY;
    let frame = Rect::new(Point::default(), Size::new(layout.width, bottom)).inset(HEAVY / 2);
    strip.marks.push(Mark::Frame(frame, Ink::Black, HEAVY));
    strip.height = bottom + Length::um(2_500);
    strip
}

/// The choices one below the other; the answer is where they end, and where what stands beside them begins.
fn ticks(layout: &Layout<'_>, form: &Form, strip: &mut Strip, top: Length, width: Length) -> (Length, Length) {
    let left = PAD + TICK + AFTER_TICK;
    let widths = form.choices.iter().map(|choice| layout.letters.width(Style::Body, choice));
    let Some(widest) = widths.max() else { return (top, PAD) };
    let widest = widest.min(width / 2);
    let mut y = top;
    for choice in &form.choices {
        let corner = Point::new(PAD, y + (Style::Body.pitch() - TICK) / 2);
        strip.marks.push(Mark::Frame(Rect::new(corner, Size::new(TICK, TICK)), Ink::Black, THIN * 2));
        let lines = layout.letters.lines(Style::Body, choice, widest);
        y = strip.lines(&lines, Style::Body, (left, y), &Sense::of(layout.part(Role::Paragraph))) + AFTER_ROW;
    }
    (y, left + widest + BETWEEN)
}

/// Lines to write on side by side, each with its label under it.
fn fields(layout: &Layout<'_>, form: &Form, strip: &mut Strip, top: Length, width: Length) -> Length {
    let Some(gaps) = form.fields.len().checked_sub(1) else { return top };
    let shares = form.fields.iter().map(|field| i32::from(field.share)).sum::<i32>().max(1);
    let room = width - GAP * i32::try_from(gaps).unwrap_or(0);
    let (mut x, line, mut bottom) = (PAD, top + WRITING, top + WRITING);
    for field in &form.fields {
        let wide = room * i32::from(field.share) / shares;
        strip.rule(x, line, wide, THIN);
        let label = layout.letters.lines(Style::Small, &field.label, wide);
        let sense = Sense::of(layout.part(Role::Paragraph));
        bottom = bottom.max(strip.lines(&label, Style::Small, (x, line + Length::um(500)), &sense));
        x = x + wide + GAP;
    }
    bottom
}
