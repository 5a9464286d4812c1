//! Paths into operators.

use super::content::Content;
use crate::drawing::{Ink, Paint, Path, Segment};

/// A path, filled by the non-zero rule or stroked.
pub(super) fn push(content: &mut Content, path: &Path, paint: Paint) {
    match paint {
        Paint::Fill(ink) => content.fill_ink(ink),
        Paint::Stroke { ink, width } => {
            if content.state.stroke != Some(ink) {
                content.state.stroke = Some(ink);
                content.bytes.extend_from_slice(stroke_operator(ink));
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

fn push_outline(content: &mut Content, path: &Path) {
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

/// The operator that sets an ink for fills and text.
///
/// Black is black alone, so that no printer mixes it. The yellow of an office sheet is given in RGB: F9A800 is the usual
/// approximation of RAL 1003 signal yellow (the table of ISO 3864-4, from a secondary source), and three renderers that
/// were tried show it as that to within one step. The same table's CMYK 0 35 100 0 came out as F9A70D, FCAF17 and FFA500.
pub(super) const fn fill_operator(ink: Ink) -> &'static [u8] {
    match ink {
        Ink::Black => b"0 g\n",
        Ink::White => b"1 g\n",
        Ink::SignalYellow => b".9765 .6588 0 rg\n",
        Ink::Grey => b".45 g\n",
    }
}

/// The operator that sets an ink for lines: see [`fill_operator`].
const fn stroke_operator(ink: Ink) -> &'static [u8] {
    match ink {
        Ink::Black => b"0 G\n",
        Ink::White => b"1 G\n",
        Ink::SignalYellow => b".9765 .6588 0 RG\n",
        Ink::Grey => b".45 G\n",
    }
}
