//! The codewords of a version and level in the order in which they are placed: what a code says, and what corrects it.
//!
//! A remainder is linear: that of a block is what the remainders of its bytes add up to. Those of single bytes are taken
//! from the crate, as is the order of the blocks, so that there is no arithmetic and no table of the standard here; to divide
//! byte by byte as the crate does took a third of the time of a code.

use std::ops::Range;

use qrcode::bits::Bits;
use qrcode::ec::{construct_codewords, create_error_correction_code};
use qrcode::{EcLevel, Version};

/// Up to 32 codewords, the first in the lowest byte: no block has more than 30 that correct it.
type Check = [u128; 2];

/// What all codes of a version and level have in common in their codewords.
pub(super) struct Codewords {
    /// Which byte of the data comes at each place.
    order: Vec<usize>,
    /// The data of each block.
    blocks: Vec<Range<usize>>,
    /// How many codewords correct each block.
    checks: usize,
    /// What corrects a block of one byte, for each byte.
    of_byte: Box<[Check]>,
}

impl Codewords {
    pub(super) fn new(version: Version, correction: EcLevel) -> Self {
        let bytes = Bits::new(version).max_len(correction).unwrap_or_default() / 8;
        // Which byte comes where shows in the crate's answer to data that number themselves, one digit after the other.
        let placed = |digit: usize| {
            let numbers: Vec<u8> = (0..bytes).filter_map(|number| number.to_le_bytes().get(digit).copied()).collect();
            let Ok(codewords) = construct_codewords(&numbers, version, correction) else {
                unreachable!("every version has blocks at every level")
            };
            codewords
        };
        let ((low, check), (high, _)) = (placed(0), placed(1));
        let order: Vec<usize> =
            low.iter().zip(&high).map(|(&low, &high)| usize::from(low) | usize::from(high) << 8).collect();
        // The first bytes of all blocks come first, and behind them the second byte of the first block.
        let count = order.iter().position(|byte| *byte == 1).unwrap_or(1);
        let starts = order.get(..count).unwrap_or_default();
        let ends = starts.iter().skip(1).copied().chain([bytes]);
        let blocks = starts.iter().zip(ends).map(|(&start, end)| start..end).collect();
        let checks = check.len() / count;
        let of_byte = (0..=u8::MAX).map(|byte| packed(&create_error_correction_code(&[byte], checks))).collect();
        Self { order, blocks, checks, of_byte }
    }

    /// The codewords of data in the order in which they are placed.
    pub(super) fn of(&self, data: &[u8]) -> Vec<u8> {
        let mut words = Vec::with_capacity(self.order.len() + self.blocks.len() * self.checks);
        words.extend(self.order.iter().filter_map(|byte| data.get(*byte)));
        let corrected = self.blocks.iter().map(|block| bytes(self.check(data.get(block.clone()).unwrap_or_default())));
        let corrected: Vec<[u8; 32]> = corrected.collect();
        for place in 0..self.checks {
            words.extend(corrected.iter().filter_map(|check| check.get(place)));
        }
        words
    }

    /// What corrects a block.
    fn check(&self, block: &[u8]) -> Check {
        let [mut low, mut high] = [0_u128; 2];
        for byte in block {
            let [first, ..] = low.to_le_bytes();
            let [further, beyond] = self.of_byte.get(usize::from(first ^ byte)).copied().unwrap_or_default();
            low = (low >> 8 | high << 120) ^ further;
            high = high >> 8 ^ beyond;
        }
        [low, high]
    }
}

fn packed(check: &[u8]) -> Check {
    let half = |bytes: &[u8]| bytes.iter().rev().fold(0, |half, byte| half << 8 | u128::from(*byte));
    let (low, high) = check.split_at(check.len().min(16));
    [half(low), half(high)]
}

fn bytes([low, high]: Check) -> [u8; 32] {
    let mut bytes = [0; 32];
    let (first, last) = bytes.split_at_mut(16);
    first.copy_from_slice(&low.to_le_bytes());
    last.copy_from_slice(&high.to_le_bytes());
    bytes
}
