//! Where to cut a packed sheet: a fine grey line in the middle of each gap, and black marks in the margin for the cuts that
//! come first, through the whole sheet.

use super::SheetFormat;
use super::measure::HAIRLINE;
use super::packing::{Axis, Cut, Pattern};
use crate::drawing::{Drawing, Ink, Path};
use crate::length::{Length, Point};

/// Between the room for labels, a gap larger, and a mark; the least and the greatest length of a mark.
const CLEAR: Length = Length::um(500);
const MARK: [Length; 2] = [Length::um(1_000), Length::um(2_000)];

/// How far outside the room for labels cuts and marks reach.
pub(super) fn reach(gap: Length) -> Length {
    gap / 2 + CLEAR + MARK[1]
}

/// Adds the cuts of a pattern to the margin of its sheet.
pub(super) fn draw(margin: &mut Drawing, format: &SheetFormat, pattern: &Pattern) {
    let Some(packing) = format.packing.filter(|_| format.cut_marks) else { return };
    let (mut lines, mut marks) = (Path::new(), Path::new());
    let printable = format.printable();
    let within = |point: Point| {
        let (x, y) = (point.x.clamp(printable.origin.x, printable.right()), point.y);
        Point::new(x, y.clamp(printable.origin.y, printable.bottom()))
    };
    for cut in &pattern.cuts {
        let at = |along: Length| packing.area.origin + point(cut.axis, cut.at, along);
        lines.segments.extend(Path::line(within(at(cut.from)), within(at(cut.to))).segments);
        if cut.stage > 1 {
            continue;
        }
        for (end, way) in [(cut.from, -1), (cut.to, 1)] {
            let (from, to) = (within(at(end + CLEAR * way)), within(at(end + (CLEAR + MARK[1]) * way)));
            if length(cut, from, to) >= MARK[0] {
                marks.segments.extend(Path::line(from, to).segments);
            }
        }
    }
    margin.stroke(lines, Ink::Grey, HAIRLINE);
    margin.stroke(marks, Ink::Black, HAIRLINE * 2);
}

const fn point(axis: Axis, at: Length, along: Length) -> Point {
    match axis {
        Axis::Across => Point::new(along, at),
        Axis::Down => Point::new(at, along),
    }
}

/// How much of a mark is printed; none where it lies in the border that the printer cannot reach.
fn length(cut: &Cut, from: Point, to: Point) -> Length {
    match cut.axis {
        Axis::Across => (to.x - from.x).abs(),
        Axis::Down => (to.y - from.y).abs(),
    }
}
