//! A row of modules under each of the eight masks, as one machine word each, so that a step over the words is a step over all
//! their modules and all masks.

use std::ops::{BitAnd, BitOr, BitXor, Not, Shl, Shr};

/// How many masks the standard has.
pub(super) const MASKS: usize = 8;

/// A row of modules in one machine word, bit 0 leftmost; of the number 1, only the leftmost module is dark.
pub(super) trait Word:
    Copy
    + From<u8>
    + PartialEq
    + BitAnd<Output = Self>
    + BitOr<Output = Self>
    + BitXor<Output = Self>
    + Not<Output = Self>
    + Shl<u32, Output = Self>
    + Shr<u32, Output = Self>
{
    /// All light.
    const LIGHT: Self;
    /// How many modules are dark.
    fn dark(self) -> u32;
    /// Appends the row to the words of a code.
    fn append_to(self, rows: &mut Vec<u64>);
}

impl Word for u32 {
    const LIGHT: Self = 0;

    #[inline]
    fn dark(self) -> u32 {
        self.count_ones()
    }

    fn append_to(self, rows: &mut Vec<u64>) {
        rows.push(self.into());
    }
}

impl Word for u64 {
    const LIGHT: Self = 0;

    #[inline]
    fn dark(self) -> u32 {
        self.count_ones()
    }

    fn append_to(self, rows: &mut Vec<u64>) {
        rows.push(self);
    }
}

impl Word for u128 {
    const LIGHT: Self = 0;

    #[inline]
    fn dark(self) -> u32 {
        self.count_ones()
    }

    #[expect(clippy::cast_possible_truncation, reason = "the word is cut into its two halves")]
    fn append_to(self, rows: &mut Vec<u64>) {
        rows.extend([self as u64, (self >> 64) as u64]);
    }
}

/// A row of modules under each mask. The compiler does a step of several masks at once where the processor can.
#[derive(Clone, Copy, PartialEq)]
pub(super) struct Line<W>([W; MASKS]);

impl<W: Word> Line<W> {
    /// All light under every mask.
    pub(super) const LIGHT: Self = Self([W::LIGHT; MASKS]);

    /// A row under each mask.
    pub(super) const fn under(masks: [W; MASKS]) -> Self {
        Self(masks)
    }

    /// The same row under every mask.
    #[inline]
    pub(super) const fn all(word: W) -> Self {
        Self([word; MASKS])
    }

    /// The row under one of the masks.
    pub(super) fn under_mask(self, mask: usize) -> W {
        self.0.get(mask).copied().unwrap_or(W::LIGHT)
    }

    /// How many modules are dark under each mask.
    #[inline]
    pub(super) fn dark(self) -> [u32; MASKS] {
        self.0.map(W::dark)
    }
}

/// What comes of two things of each mask.
#[inline]
pub(super) fn paired<T>(one: [T; MASKS], other: [T; MASKS], step: impl Fn(T, T) -> T) -> [T; MASKS]
where
    T: Copy,
{
    let mut both = one;
    both.iter_mut().zip(other).for_each(|(one, other)| *one = step(*one, other));
    both
}

impl<W: Word> BitAnd for Line<W> {
    type Output = Self;

    #[inline]
    fn bitand(self, other: Self) -> Self {
        Self(paired(self.0, other.0, W::bitand))
    }
}

impl<W: Word> BitOr for Line<W> {
    type Output = Self;

    #[inline]
    fn bitor(self, other: Self) -> Self {
        Self(paired(self.0, other.0, W::bitor))
    }
}

impl<W: Word> BitXor for Line<W> {
    type Output = Self;

    #[inline]
    fn bitxor(self, other: Self) -> Self {
        Self(paired(self.0, other.0, W::bitxor))
    }
}

impl<W: Word> Not for Line<W> {
    type Output = Self;

    #[inline]
    fn not(self) -> Self {
        Self(self.0.map(W::not))
    }
}

impl<W: Word> Shl<u32> for Line<W> {
    type Output = Self;

    #[inline]
    fn shl(self, modules: u32) -> Self {
        Self(self.0.map(|word| word << modules))
    }
}

impl<W: Word> Shr<u32> for Line<W> {
    type Output = Self;

    #[inline]
    fn shr(self, modules: u32) -> Self {
        Self(self.0.map(|word| word >> modules))
    }
}
