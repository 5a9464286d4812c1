//! Pictures into strips: at their own size, reduced where there is no room, alone or beside other blocks.

use std::sync::Arc;

use super::Style;
use super::block::{Block, Picture};
use super::flow::{self, Layout};
use super::strip::{Mark, Sense, Strip, THIN};
use crate::drawing::{Drawing, Ink, Role};
use crate::length::{Length, Point, Rect, Size};

/// White between a picture and what stands beside it.
const GAP: Length = Length::um(6_000);

/// What stands beside a picture needs so much room.
const NARROWEST: Length = Length::um(52_000);

/// White over a picture, and between it and its caption.
const BEFORE: Length = Length::um(2_000);
const OVER_CAPTION: Length = Length::um(1_000);

/// A picture with its caption, in one strip.
pub(super) fn strip(layout: &Layout<'_>, picture: &Picture) -> Strip {
    let (drawing, caption) = fitted(layout, picture);
    captioned(layout, drawing, &caption, layout.width)
}

/// The picture in one strip with as many of the blocks at its right as there is room for; the others follow below, and so
/// do all of them where the room would be too narrow.
pub(super) fn beside(layout: &Layout<'_>, picture: &Picture, blocks: &[Block]) -> Vec<Strip> {
    let (drawing, caption) = fitted(layout, picture);
    let left = drawing.size.width + GAP;
    let has_room = left + NARROWEST <= layout.width;
    let caption_width = if has_room { drawing.size.width } else { layout.width };
    let mut whole = captioned(layout, drawing, &caption, caption_width);
    let mut rest = blocks;
    if has_room {
        let narrow = Layout { width: layout.width - left, ..*layout };
        let mut y = Length::ZERO;
        while let Some((block, others)) = rest.split_first() {
            let mut column = flow::column(narrow.block(block));
            let before = if y == Length::ZERO { Length::ZERO } else { column.before };
            let height = before + column.height;
            if y + height > whole.height.max(highest(layout)) {
                break;
            }
            column.before = Length::ZERO;
            whole.take(column, Point::new(left, y + before));
            (y, rest) = (y + height, others);
        }
        whole.height = whole.height.max(y);
    }
    let mut strips = vec![whole];
    strips.extend(layout.strips(rest));
    strips
}

fn captioned(layout: &Layout<'_>, drawing: Arc<Drawing>, caption: &str, width: Length) -> Strip {
    let size = drawing.size;
    let mut strip = Strip { before: BEFORE, ..Strip::default() };
    strip.marks.push(Mark::Picture(drawing, Point::default(), Some(layout.figure(caption))));
    strip.marks.push(Mark::Frame(Rect::new(Point::default(), size), Ink::Grey, THIN));
    let lines = layout.letters.lines(Style::Small, caption, width);
    let sense = Sense::of(layout.part(Role::Paragraph));
    strip.height = strip.lines(&lines, Style::Small, (Length::ZERO, size.height + OVER_CAPTION), &sense);
    strip
}

/// How high a picture with its caption may be: a heading stands over it on the same page.
fn highest(layout: &Layout<'_>) -> Length {
    layout.most - Style::Heading.pitch() - BEFORE
}

/// A size in whole millimetres: a scale is no nearer than a hundredth either.
fn in_whole_mm(size: Size) -> Size {
    let mm = |length: Length| Length::mm(length.to_mm().round());
    Size::new(mm(size.width), mm(size.height))
}

/// The picture as large as there is room, and its caption with the scale.
fn fitted(layout: &Layout<'_>, picture: &Picture) -> (Arc<Drawing>, String) {
    let size = picture.drawing.size;
    let caption = |scale: String| format!("{}, {scale}", picture.caption);
    let whole = caption("true size".to_owned());
    let lines = layout.letters.lines(Style::Small, &whole, size.width.min(layout.width)).len();
    let room = |lines: usize| {
        let below = OVER_CAPTION + Style::Small.pitch() * i32::try_from(lines).unwrap_or(i32::MAX);
        Size::new(layout.width, highest(layout) - below)
    };
    if size.fits_in(room(lines)) {
        return (Arc::clone(&picture.drawing), whole);
    }
    // The scale makes the caption longer.
    let room = room(lines + 2);
    let share = |room: Length, size: Length| f64::from(room.to_um()) / f64::from(size.to_um().max(1));
    let percent = (share(room.width, size.width).min(share(room.height, size.height)) * 100.0).floor().max(1.0);
    let drawing = Arc::new(picture.drawing.scaled(percent / 100.0));
    (drawing, caption(format!("reduced to {percent} % of its size, {}", in_whole_mm(size))))
}
