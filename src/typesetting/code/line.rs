//! A row of modules as one machine word, so that a step over the word is a step over all its modules.

use std::ops::{BitAnd, BitOr, BitXor, Not, Shl, Shr};

/// A row of modules in one machine word, bit 0 leftmost; of the number 1, only the leftmost module is dark.
pub(super) trait Line:
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

impl Line for u64 {
    const LIGHT: Self = 0;

    #[inline]
    fn dark(self) -> u32 {
        self.count_ones()
    }

    fn append_to(self, rows: &mut Vec<u64>) {
        rows.push(self);
    }
}

impl Line for u128 {
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
