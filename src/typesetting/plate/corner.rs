//! The code in the lower right corner with what it keeps free, and its caption.

use super::content::Content;
use super::foot::Foot;
use super::pen::{DESCENT, Pen, width};
use super::scale::{Frame, Scale};
use crate::drawing::{Ink, Item, Modules};
use crate::length::Length;
use crate::typesetting::breaking::Paragraph;
use crate::typesetting::code::QUIET_ZONE;

/// What a code takes of the lower right corner, in mm.
#[derive(Clone, Copy, Debug)]
pub(super) struct Corner {
    module: f64,
    /// From the edges of the room to the code: the margin alone may be narrower than the quiet zone.
    indent: f64,
    /// From the edges of the room to the code's other sides.
    pub(super) side: f64,
    pub(super) quiet: f64,
    /// The room for words to its left.
    pub(super) beside: f64,
    /// The room that it stands in.
    width: f64,
    /// What it, and a baseline by half, may be moved by to lie on a dot.
    dot: f64,
}

impl Corner {
    /// The corner of a code with modules of a size in a room on a plate; `None` if the room is too narrow.
    pub(super) fn of(side: u16, module: f64, scale: &Scale, frame: &Frame, width: f64) -> Option<Self> {
        let quiet = f64::from(QUIET_ZONE) * module;
        let indent = (quiet - frame.clear()).max(0.0);
        let dot = frame.slack();
        let side = f64::from(side) * module + indent + dot;
        let beside = width - side - quiet.max(scale.letter * 1.2);
        (beside >= 0.0).then_some(Self { module, indent, side, quiet, beside, width, dot })
    }

    /// How far above the last baseline a line of capitals may stand that runs over the code.
    pub(super) fn clear(&self, capital: f64) -> f64 {
        self.side + self.quiet + self.dot / 2.0 + capital * DESCENT
    }

    /// Draws the code with its last row of modules at `bottom`, and its caption where there is room for it beside a foot whose
    /// upper parts are raised so far.
    pub(super) fn draw(&self, content: &Content, scale: &Scale, pen: &mut Pen, bottom: f64, foot: (&Foot<'_>, f64)) {
        let Some((code, payload)) = &content.code else { return };
        let module = Length::mm(self.module);
        let corner = pen.at(self.width - self.indent, bottom - self.indent);
        let origin = pen.code_origin(corner, module, code.side);
        let modules = Modules { origin, module, side: code.side, rows: code.rows.clone(), payload: payload.clone() };
        pen.drawing().items.push(Item::Modules(modules));
        for caption in &content.caption {
            let across = width(&caption.line, scale.small) + 0.05;
            if let Some((right, above)) = self.place(scale, across, foot) {
                pen.line(&caption.line, right - across, bottom - above, scale.small, Ink::Black);
                return;
            }
        }
    }

    /// Where a caption ends at the right, and how far above the last baseline: against the code on a line of the lowest part that
    /// leaves a clear gap, or above the code where no words run.
    fn place(&self, scale: &Scale, across: f64, (foot, raised): (&Foot<'_>, f64)) -> Option<(f64, f64)> {
        let small = scale.small;
        let against = self.width - self.side - self.quiet;
        let beside =
            foot.last_lines(scale).into_iter().find(|(left, _)| left + small * CAPTION_GAP + across <= against);
        if let Some((_, above)) = beside {
            return Some((against, above));
        }
        let above = self.clear(small);
        let clear = foot.keeps_clear(self, above + small * (1.0 + CLEAR_OVER_CAPTION), raised);
        (across <= self.side - self.indent && above + small <= foot.height && clear)
            .then_some((self.width - self.indent, above))
    }
}

/// From the small line to the caption, in capital heights.
const CAPTION_GAP: f64 = 3.0;

/// From a caption over the code to the words above it, in capital heights.
const CLEAR_OVER_CAPTION: f64 = 0.8;

/// Where the lines of a paragraph end, from the last line up: the right edge and the height over the last baseline.
pub(super) fn line_ends(paragraph: &Paragraph, room: i32, pitch: f64, across: impl Fn(i32) -> f64) -> Vec<(f64, f64)> {
    let lines = paragraph.broken(room).unwrap_or_default();
    let ends = lines.iter().rev().zip(0_u32..);
    ends.map(|(bytes, index)| (across(paragraph.width(bytes)), f64::from(index) * pitch)).collect()
}
