//! Chance that is the same on every machine: the generator splitmix64 (G. L. Steele and others, OOPSLA 2014).

/// A row of numbers that look random.
pub(super) struct Chance(u64);

impl Chance {
    pub(super) const fn new() -> Self {
        Self(0x5EED_0F1A_BE15)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mixed = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        let mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^ (mixed >> 31)
    }

    /// A number below `end`, and 0 where there is none.
    pub(super) fn below(&mut self, end: usize) -> usize {
        let end = u64::try_from(end).unwrap_or(1).max(1);
        usize::try_from(self.next() % end).unwrap_or(0)
    }

    /// Whether one in so many times it is so.
    pub(super) fn one_in(&mut self, times: usize) -> bool {
        self.below(times) == 0
    }
}
