//! Paths into operators.

use super::content::Content;
use crate::drawing::{Paint, Path, Segment};
use crate::length::{Length, Point};

/// A path, filled by the non-zero rule or stroked; nothing if its ink is not painted in this process.
pub(super) fn push(content: &mut Content<'_>, path: &Path, paint: Paint) {
    match paint {
        Paint::Fill(ink) => {
            if !content.fill_ink(ink) {
                return;
            }
        }
        Paint::Stroke { ink, width } => {
            if !content.stroke_ink(ink) {
                return;
            }
            if content.state.width != Some(width) {
                content.state.width = Some(width);
                content.length(width);
                content.bytes.extend_from_slice(b"w\n");
            }
        }
    }
    push_outline(content, path, matches!(paint, Paint::Fill(_)));
    content.bytes.extend_from_slice(match paint {
        Paint::Fill(_) => b"f\n",
        Paint::Stroke { .. } => b"S\n",
    });
}

/// The outlines of a path, without the lines of no length that a circle has between its quarters: they leave no mark in
/// a fill, where under a round pen they would.
fn push_outline(content: &mut Content<'_>, path: &Path, fills: bool) {
    let mut rest = &*path.segments;
    let mut pen = None;
    while let Some((&first, behind)) = rest.split_first() {
        if let Some((corner, across, down, behind)) = rectangle(rest) {
            content.point(corner);
            content.length(across);
            content.length(-down);
            content.bytes.extend_from_slice(b"re\n");
            rest = behind;
            continue;
        }
        if !(fills && pen.is_some_and(|pen| first == Segment::Line(pen))) {
            push_segment(content, first);
        }
        pen = match first {
            Segment::Move(to) | Segment::Line(to) | Segment::Cubic(_, _, to) => Some(to),
            Segment::Close => None,
        };
        rest = behind;
    }
}

/// An upright box at the start of an outline: a corner, how far the side that is drawn first and the one after it go to
/// the right and down, and what comes behind it.
fn rectangle(segments: &[Segment]) -> Option<(Point, Length, Length, &[Segment])> {
    match *segments {
        [Segment::Move(a), Segment::Line(b), Segment::Line(c), Segment::Line(d), Segment::Close, ref behind @ ..]
            if a.y == b.y && b.x == c.x && c.y == d.y && d.x == a.x =>
        {
            Some((a, b.x - a.x, d.y - a.y, behind))
        }
        _ => None,
    }
}

fn push_segment(content: &mut Content<'_>, segment: Segment) {
    let operator = match segment {
        Segment::Move(to) => {
            content.point(to);
            b"m\n"
        }
        Segment::Line(to) => {
            content.point(to);
            b"l\n"
        }
        Segment::Cubic(first, second, to) => {
            content.point(first);
            content.point(second);
            content.point(to);
            b"c\n"
        }
        Segment::Close => b"h\n",
    };
    content.bytes.extend_from_slice(operator);
}
