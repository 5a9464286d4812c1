//! Rows of modules as machine words, and eight of them side by side: the same row under each mask.
//!
//! What is done to eight words at once, the compiler does in the wide registers that every processor has.

use std::ops::{Add, BitAnd, BitOr, BitXor, Mul, Not, Shl, Shr};

/// A row of modules in one machine word, bit 0 leftmost.
pub(super) trait Line:
    Copy
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
    /// One dark module, leftmost.
    const FIRST: Self;
    /// How many modules are dark.
    fn dark(self) -> u32;
    /// Appends the row to the words of a code.
    fn append_to(self, rows: &mut Vec<u64>);
}

impl Line for u32 {
    const LIGHT: Self = 0;
    const FIRST: Self = 1;

    fn dark(self) -> u32 {
        self.count_ones()
    }

    fn append_to(self, rows: &mut Vec<u64>) {
        rows.push(u64::from(self));
    }
}

impl Line for u64 {
    const LIGHT: Self = 0;
    const FIRST: Self = 1;

    fn dark(self) -> u32 {
        self.count_ones()
    }

    fn append_to(self, rows: &mut Vec<u64>) {
        rows.push(self);
    }
}

impl Line for u128 {
    const LIGHT: Self = 0;
    const FIRST: Self = 1;

    fn dark(self) -> u32 {
        self.count_ones()
    }

    #[expect(clippy::cast_possible_truncation, reason = "the word is cut into its two halves")]
    fn append_to(self, rows: &mut Vec<u64>) {
        rows.extend([self as u64, (self >> 64) as u64]);
    }
}

/// One row under each of the eight masks.
#[derive(Clone, Copy)]
pub(super) struct Masked<L>(pub(super) [L; 8]);

/// A number for each of the eight masks.
#[derive(Clone, Copy, Default)]
pub(super) struct Counts(pub(super) [u32; 8]);

impl<L: Line> Masked<L> {
    /// The same row under every mask.
    pub(super) const fn all(line: L) -> Self {
        Self([line; 8])
    }

    /// How many modules are dark under each mask.
    pub(super) fn dark(self) -> Counts {
        Counts(self.0.map(Line::dark))
    }

    fn each(self, operation: impl Fn(L) -> L) -> Self {
        Self(self.0.map(operation))
    }

    fn pairs(mut self, other: Self, operation: impl Fn(L, L) -> L) -> Self {
        self.0.iter_mut().zip(other.0).for_each(|(one, other)| *one = operation(*one, other));
        self
    }
}

impl<L: Line> BitAnd for Masked<L> {
    type Output = Self;

    fn bitand(self, other: Self) -> Self {
        self.pairs(other, L::bitand)
    }
}

impl<L: Line> BitOr for Masked<L> {
    type Output = Self;

    fn bitor(self, other: Self) -> Self {
        self.pairs(other, L::bitor)
    }
}

impl<L: Line> BitXor for Masked<L> {
    type Output = Self;

    fn bitxor(self, other: Self) -> Self {
        self.pairs(other, L::bitxor)
    }
}

impl<L: Line> Not for Masked<L> {
    type Output = Self;

    fn not(self) -> Self {
        self.each(L::not)
    }
}

impl<L: Line> Shl<u32> for Masked<L> {
    type Output = Self;

    fn shl(self, by: u32) -> Self {
        self.each(|line| line << by)
    }
}

impl<L: Line> Shr<u32> for Masked<L> {
    type Output = Self;

    fn shr(self, by: u32) -> Self {
        self.each(|line| line >> by)
    }
}

impl Counts {
    /// What is made of each.
    pub(super) fn map(self, operation: impl Fn(u32) -> u32) -> Self {
        Self(self.0.map(operation))
    }
}

impl Add for Counts {
    type Output = Self;

    fn add(mut self, other: Self) -> Self {
        self.0.iter_mut().zip(other.0).for_each(|(one, other)| *one += other);
        self
    }
}

impl Mul<u32> for Counts {
    type Output = Self;

    fn mul(self, times: u32) -> Self {
        self.map(|count| count * times)
    }
}

impl std::iter::Sum for Counts {
    fn sum<I: Iterator<Item = Self>>(counts: I) -> Self {
        counts.fold(Self::default(), Self::add)
    }
}
