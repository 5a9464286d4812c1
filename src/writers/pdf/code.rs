//! A square code into operators: one path and one fill, so that no renderer leaves a seam between modules.

use super::content::{Content, push_first, push_length, push_number};
use crate::drawing::{Ink, Modules};
use crate::length::Dots;

/// The dark modules as boxes in units of one module, `y` down.
pub(super) fn push(content: &mut Content<'_>, modules: &Modules, dots: Option<Dots>) {
    content.saved(|content| {
        if !content.fill_ink(Ink::Black) {
            return;
        }
        push_matrix(content, modules, dots);
        push_boxes(&mut content.bytes, modules);
        content.bytes.extend_from_slice(b"f\n");
    });
}

/// Every run of dark modules as a box, one box where exactly the same run stands in rows below each other too.
fn push_boxes(bytes: &mut Vec<u8>, modules: &Modules) {
    let side = usize::from(modules.side);
    let words = side.div_ceil(64).max(1);
    let outside = [0; WIDEST.div_ceil(64)];
    let Some(outside) = outside.get(..words) else { unreachable!("no code is wider than the widest") };
    // Half of the modules are dark, in runs of one to three.
    bytes.reserve(side * side * 3);
    // The row in which the run that begins at a column stands first.
    let mut tops = [0; WIDEST];
    let mut above = outside;
    let mut rows = modules.rows.chunks_exact(words).take(side).chain([outside]).enumerate().peekable();
    while let Some((number, row)) = rows.next() {
        let Some((_, below)) = rows.peek() else { break };
        for run in Runs::of(row, side) {
            let Some(top) = tops.get_mut(run.start) else { continue };
            if run.differs(row, above) {
                *top = number;
            }
            if run.differs(row, below) {
                push_box(bytes, [run.start, *top, run.length, number + 1 - *top]);
            }
        }
        above = row;
    }
}

/// One box: four numbers of four bytes at most, and the operator.
fn push_box(bytes: &mut Vec<u8>, numbers: [usize; 4]) {
    let (mut spelt, mut count) = ([0; 20], 0);
    let mut put = |word: u32, length: usize| {
        if let Some(room) = spelt.get_mut(count..).and_then(|rest| rest.first_chunk_mut()) {
            *room = word.to_le_bytes();
        }
        count += length;
    };
    for number in &numbers {
        let Some(&(word, length)) = NUMBERS.get(*number) else { unreachable!("no code is wider than the widest") };
        put(word, length);
    }
    put(u32::from_le_bytes(*b"re\n "), 3);
    push_first(bytes, spelt, count);
}

/// Modules along a side of the largest code.
const WIDEST: usize = 177;

/// The numbers of modules with a space behind each, the first digit in the lowest byte, and how many bytes these are.
static NUMBERS: [(u32, usize); WIDEST + 1] = numbers();

#[expect(clippy::indexing_slicing, reason = "a constant: beyond its end it would not compile")]
const fn numbers() -> [(u32, usize); WIDEST + 1] {
    let mut numbers = [(0, 0); WIDEST + 1];
    let mut number = 0;
    while number < numbers.len() {
        let (mut spelt, mut count, mut rest) = (b' ' as u32, 1, number as u32);
        loop {
            spelt = spelt << 8 | (b'0' as u32 + rest % 10);
            count += 1;
            rest /= 10;
            if rest == 0 {
                break;
            }
        }
        numbers[number] = (spelt, count);
        number += 1;
    }
    numbers
}

/// Digits behind the point of a hundredth of a millimetre, where a code keeps to the dots of a printing head: over the
/// side of the largest code they add up to less than a ten-thousandth of the finest dot.
const FINEST: u8 = 6;

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

/// Dark modules side by side in a row, with light ones or the edge at both ends.
#[derive(Clone, Copy, PartialEq, Eq)]
struct Run {
    start: usize,
    length: usize,
}

impl Run {
    /// Whether another row has not exactly this run of a row.
    fn differs(self, row: &[u64], other: &[u64]) -> bool {
        let (from, to) = (self.start.saturating_sub(1), self.start + self.length);
        let (first, last) = (from / 64, to / 64);
        let differing = |word: usize| match (row.get(word), other.get(word)) {
            (Some(own), Some(other)) => own ^ other,
            _ => 0,
        };
        let (not_before, not_behind) = (u64::MAX << (from % 64), u64::MAX >> (63 - to % 64));
        if first == last {
            return differing(first) & not_before & not_behind != 0;
        }
        let between = (first + 1..last).any(|word| differing(word) != 0);
        differing(first) & not_before != 0 || between || differing(last) & not_behind != 0
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
