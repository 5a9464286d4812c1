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
    let side = u32::from(modules.side);
    let words = usize::from(modules.side).div_ceil(64).max(1);
    // Half of the modules are dark, in runs of one to three.
    bytes.reserve(usize::from(modules.side).pow(2) * 3);
    let mut first = 0;
    while first < side {
        let width = BAND.min(side - first);
        push_band(
            bytes,
            first,
            modules.rows.chunks_exact(words).map(|row| band(row, first, width)).take(side as usize),
        );
        first += width;
    }
}

/// The most columns that are gone through at once: with a light one on either side they fit a word. Wider codes are cut,
/// which shows nowhere, since all boxes are one path.
const BAND: u32 = 61;

/// So many columns of a row from one on, the first in bit 1: what lies beside them counts as light.
fn band(row: &[u64], first: u32, width: u32) -> u64 {
    let word = |number: u32| row.get(number as usize).copied().unwrap_or_default();
    let (number, bit) = (first / 64, first % 64);
    let behind = if bit == 0 { 0 } else { word(number + 1) << (64 - bit) };
    ((word(number) >> bit | behind) & !(u64::MAX << width)) << 1
}

/// The boxes of a band whose first column is `first`, from its rows.
fn push_band(bytes: &mut Vec<u8>, first: u32, rows: impl Iterator<Item = u64>) {
    // The row in which the run that begins at a column stands first.
    let mut tops = [0; 64];
    let (mut above, mut number) = (0, 0);
    let mut rows = rows.peekable();
    while let Some(row) = rows.next() {
        let below = rows.peek().copied().unwrap_or_default();
        let mut left = row;
        while left != 0 {
            let start = left.trailing_zeros();
            let length = (left >> start).trailing_ones();
            left &= left + (1 << start);
            // The run and a module on either side of it.
            let around = ((4 << length) - 1) << (start - 1);
            let Some(top) = tops.get_mut(start as usize) else { continue };
            if (row ^ above) & around != 0 {
                *top = number;
            }
            if (row ^ below) & around != 0 {
                push_box(bytes, [first + start - 1, *top, length, number + 1 - *top]);
            }
        }
        above = row;
        number += 1;
    }
}

/// One box: two pairs of numbers, and the operator.
fn push_box(bytes: &mut Vec<u8>, [x, y, width, height]: [u32; 4]) {
    for (one, other) in [(x, y), (width, height)] {
        let (one, other) = (Spelt::of(one), Spelt::of(other));
        push_first(
            bytes,
            (one.letters | other.letters << one.bits).to_le_bytes(),
            ((one.bits + other.bits) / 8) as usize,
        );
    }
    bytes.extend_from_slice(b"re\n");
}

/// A number of modules with a space behind it: four letters at most, the first in the lowest bits.
#[derive(Clone, Copy)]
struct Spelt {
    letters: u64,
    bits: u32,
}

impl Spelt {
    fn of(number: u32) -> Self {
        let Some(spelt) = NUMBERS.get(number as usize) else { unreachable!("no code is wider than the widest") };
        *spelt
    }
}

/// Modules along a side of the largest code.
const WIDEST: usize = 177;

static NUMBERS: [Spelt; WIDEST + 1] = numbers();

#[expect(clippy::indexing_slicing, reason = "a constant: beyond its end it would not compile")]
const fn numbers() -> [Spelt; WIDEST + 1] {
    let mut numbers = [Spelt { letters: 0, bits: 0 }; WIDEST + 1];
    let mut number = 0;
    while number < numbers.len() {
        let (mut letters, mut bits, mut rest) = (b' ' as u64, 8, number as u64);
        loop {
            letters = letters << 8 | (b'0' as u64 + rest % 10);
            bits += 8;
            rest /= 10;
            if rest == 0 {
                break;
            }
        }
        numbers[number] = Spelt { letters, bits };
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

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::length::{Length, Point};

    /// The modules that boxes cover, each once.
    fn covered(operators: &[u8], side: usize) -> Vec<Vec<bool>> {
        let mut covered = vec![vec![false; side]; side];
        for line in std::str::from_utf8(operators).unwrap().lines() {
            let numbers: Vec<usize> =
                line.strip_suffix(" re").unwrap().split(' ').map(|it| it.parse().unwrap()).collect();
            let [x, y, width, height] = numbers[..] else { panic!("{line}") };
            for module in covered[y..y + height].iter_mut().flat_map(|row| &mut row[x..x + width]) {
                assert!(!std::mem::replace(module, true), "{line}");
            }
        }
        covered
    }

    fn modules(side: usize, is_dark: impl Fn(usize, usize) -> bool) -> (Modules, Vec<Vec<bool>>) {
        let dark: Vec<Vec<bool>> = (0..side).map(|y| (0..side).map(|x| is_dark(x, y)).collect()).collect();
        let word = |part: &[bool]| part.iter().rev().fold(0, |word, dark| word << 1 | u64::from(*dark));
        let rows = dark.iter().flat_map(|row| row.chunks(64).map(word)).collect();
        let module = Length::um(400);
        let origin = Point::new(Length::ZERO, Length::ZERO);
        (Modules { origin, module, side: u16::try_from(side).unwrap(), rows, payload: String::new() }, dark)
    }

    proptest! {
        #[test]
        fn boxes_cover_what_is_dark_and_nothing_else(side in 1_usize..=177, seed: u64, share in 1_u64..8) {
            let is_dark = |x: usize, y: usize| {
                let number = seed ^ (y / 2 * 177 + x) as u64;
                number.wrapping_mul(0x9E37_79B9_7F4A_7C15) >> 61 < share
            };
            let (modules, dark) = modules(side, is_dark);
            let mut bytes = Vec::new();
            push_boxes(&mut bytes, &modules);
            prop_assert_eq!(covered(&bytes, side), dark);
        }
    }

    #[test]
    fn all_dark_is_a_box_and_beyond_a_band_one_for_each() {
        for (side, boxes) in [(21, 1), (61, 1), (62, 2), (177, 3)] {
            let (modules, dark) = modules(side, |_, _| true);
            let mut bytes = Vec::new();
            push_boxes(&mut bytes, &modules);
            assert_eq!(
                (covered(&bytes, side), bytes.split(|byte| *byte == b'\n').count() - 1),
                (dark, boxes),
                "{side}"
            );
        }
    }
}
