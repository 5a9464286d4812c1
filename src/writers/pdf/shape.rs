//! Paths into operators.

use super::content::Content;
use crate::drawing::{Paint, Path, Segment};

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
    push_outline(content, path);
    content.bytes.extend_from_slice(match paint {
        Paint::Fill(_) => b"f\n",
        Paint::Stroke { .. } => b"S\n",
    });
}

fn push_outline(content: &mut Content<'_>, path: &Path) {
    for segment in &path.segments {
        match *segment {
            Segment::Move(to) => {
                content.point(to);
                content.bytes.push(b'm');
            }
            Segment::Line(to) => {
                content.point(to);
                content.bytes.push(b'l');
            }
            Segment::Cubic(first, second, to) => {
                content.point(first);
                content.point(second);
                content.point(to);
                content.bytes.push(b'c');
            }
            Segment::Close => content.bytes.push(b'h'),
        }
        content.bytes.push(b'\n');
    }
}
