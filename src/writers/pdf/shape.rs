//! Paths into operators. Frames and discs of one notice are those of the next: an outline that comes again is written as it was
//! written then.

use std::cell::RefCell;
use std::hash::BuildHasher;

use foldhash::fast::FixedState;

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
    push_seen(content, path, matches!(paint, Paint::Fill(_)));
    content.bytes.extend_from_slice(match paint {
        Paint::Fill(_) => b"f\n",
        Paint::Stroke { .. } => b"S\n",
    });
}

/// Outlines that a thread keeps, each in the slot of what it is.
const KEPT: usize = 128;

thread_local! {
    static SEEN: RefCell<Vec<Seen>> = RefCell::new(std::iter::repeat_with(Seen::default).take(KEPT).collect());
}

/// An outline that was written.
#[derive(Default)]
struct Seen {
    hash: u64,
    /// The outline, whether it was filled, and what draws it; nothing until it comes again, which many do not.
    drawn: Option<(Path, bool, Vec<u8>)>,
}

/// The outlines of a path, looked up before they are put together.
fn push_seen(content: &mut Content<'_>, path: &Path, fills: bool) {
    let hash = FixedState::default().hash_one((path, fills));
    SEEN.with_borrow_mut(|seen| {
        let slot = usize::try_from(hash % KEPT as u64).ok().and_then(|slot| seen.get_mut(slot));
        let Some(seen) = slot else { return push_outline(content, path, fills) };
        if let Some((known, filled, operators)) = &seen.drawn
            && *filled == fills
            && known == path
        {
            content.bytes.extend_from_slice(operators);
            return;
        }
        let start = content.bytes.len();
        push_outline(content, path, fills);
        let again = (seen.hash == hash).then(|| content.bytes.get(start..).unwrap_or_default().to_vec());
        *seen = Seen { hash, drawn: again.map(|operators| (path.clone(), fills, operators)) };
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::length::{Rect, Size};
    use crate::sheets::Palette;

    fn written(path: &Path, fills: bool, push: impl Fn(&mut Content<'_>, &Path, bool)) -> Vec<u8> {
        let mut content = Content::new(&Palette::Office);
        push(&mut content, path, fills);
        content.bytes
    }

    #[test]
    fn an_outline_is_written_alike_however_often_it_comes_and_whatever_came_between() {
        let at = |number: i32| {
            let corner = Point::new(Length::um(number * 1_001), Length::um(number));
            let rect = Rect::new(corner, Size::new(Length::um(20_000), Length::um(9_000 + number)));
            Path::rounded(rect, Length::um(4_500))
        };
        let outlines: Vec<Path> = (0..2 * KEPT as i32).map(at).collect();
        for _ in 0..2 {
            for outline in &outlines {
                for fills in [true, false, false, false, true, true, true] {
                    assert_eq!(written(outline, fills, push_seen), written(outline, fills, push_outline));
                }
            }
        }
        assert!(SEEN.with_borrow(|seen| seen.iter().any(|seen| seen.drawn.is_some())));
    }
}
