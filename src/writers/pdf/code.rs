//! A square code into operators: one path and one fill, so that no renderer leaves a seam between modules.

use super::content::{Content, push_integer, push_length, push_number};
use crate::drawing::{Ink, Modules};
use crate::length::Dots;

/// The dark modules as boxes in units of one module, `y` down.
pub(super) fn push(content: &mut Content<'_>, modules: &Modules, dots: Option<Dots>) {
    content.saved(|content| {
        if !content.fill_ink(Ink::Black) {
            return;
        }
        push_matrix(content, modules, dots);
        let side = usize::from(modules.side);
        let rows: Vec<&[u64]> = modules.rows.chunks_exact(side.div_ceil(64).max(1)).take(side).collect();
        for (number, row) in rows.iter().enumerate() {
            for run in Runs::of(row, side) {
                let above = number.checked_sub(1).and_then(|above| rows.get(above));
                if above.is_some_and(|above| run.stands_in(above, side)) {
                    continue;
                }
                let below = rows.iter().skip(number + 1);
                let height = 1 + below.take_while(|below| run.stands_in(below, side)).count();
                push_box(&mut content.bytes, [run.start, number, run.length, height]);
            }
        }
        content.bytes.extend_from_slice(b"f\n");
    });
}

/// Digits behind the point of a hundredth of a millimetre, where a code keeps to the dots of a printing head: over the
/// side of the largest code they add up to less than a ten-thousandth of the finest dot.
const FINEST: usize = 6;

fn push_matrix(content: &mut Content<'_>, modules: &Modules, dots: Option<Dots>) {
    if dots.is_some() {
        let ([x, y], module) = modules.exact(dots);
        let numbers = [module, 0.0, 0.0, -module, x, -y].map(|millimetres| millimetres * 100.0);
        for number in numbers {
            push_number(&mut content.bytes, number, FINEST);
            content.bytes.push(b' ');
        }
        content.bytes.extend_from_slice(b"cm\n");
        return;
    }
    content.length(modules.module);
    content.bytes.extend_from_slice(b"0 0 ");
    push_length(&mut content.bytes, -modules.module);
    content.bytes.push(b' ');
    content.point(modules.origin);
    content.bytes.extend_from_slice(b"cm\n");
}

fn push_box(bytes: &mut Vec<u8>, numbers: [usize; 4]) {
    for number in numbers {
        push_integer(bytes, i64::try_from(number).unwrap_or(i64::MAX));
        bytes.push(b' ');
    }
    bytes.extend_from_slice(b"re\n");
}

/// Dark modules side by side in a row, with light ones or the edge at both ends.
#[derive(Clone, Copy, PartialEq, Eq)]
struct Run {
    start: usize,
    length: usize,
}

impl Run {
    /// Whether exactly this run stands in another row too.
    fn stands_in(self, row: &[u64], side: usize) -> bool {
        let starts = self.start == 0 || !is_dark(row, self.start - 1);
        starts && Runs { row, side, next: self.start }.next() == Some(self)
    }
}

/// The runs of a row from `next` on.
struct Runs<'a> {
    row: &'a [u64],
    side: usize,
    next: usize,
}

impl<'a> Runs<'a> {
    fn of(row: &'a [u64], side: usize) -> Self {
        Self { row, side, next: 0 }
    }

    /// The first module from `from` on that is dark, or light; the side if there is none.
    fn first_from(&self, from: usize, dark: bool) -> usize {
        let mut at = from;
        while at < self.side {
            let word = self.row.get(at / 64).copied().unwrap_or_default();
            let wanted = (if dark { word } else { !word }) >> (at % 64);
            if wanted != 0 {
                return self.side.min(at + wanted.trailing_zeros() as usize);
            }
            at = (at / 64 + 1) * 64;
        }
        self.side
    }
}

impl Iterator for Runs<'_> {
    type Item = Run;

    fn next(&mut self) -> Option<Run> {
        let start = self.first_from(self.next, true);
        self.next = self.first_from(start, false);
        (start < self.side).then_some(Run { start, length: self.next - start })
    }
}

fn is_dark(row: &[u64], module: usize) -> bool {
    row.get(module / 64).is_some_and(|word| word >> (module % 64) & 1 == 1)
}
