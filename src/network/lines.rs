//! Sets of live conductors.

use crate::survey::value::Conductor;

/// The live conductors of a circuit, as a set; empty if the survey does not say.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Lines(u8);

impl Lines {
    /// The set of these conductors.
    #[must_use]
    pub fn of(conductors: &[Conductor]) -> Self {
        Self(conductors.iter().fold(0, |set, conductor| set | bit(*conductor)))
    }

    /// True where the survey says which conductors there are.
    #[must_use]
    pub const fn is_known(self) -> bool {
        self.0 != 0
    }

    /// Line conductors or poles, neutral and midpoint not counted.
    #[must_use]
    #[expect(clippy::cast_possible_truncation, reason = "at most eight bits are set")]
    pub const fn count(self) -> u8 {
        (self.0 & !(bit(Conductor::N) | bit(Conductor::Midpoint))).count_ones() as u8
    }

    /// True where a neutral is among them.
    #[must_use]
    pub const fn has_neutral(self) -> bool {
        self.0 & bit(Conductor::N) != 0
    }

    /// True where line 2 or line 3 is among them.
    #[must_use]
    pub const fn has_further_line(self) -> bool {
        self.0 & (bit(Conductor::L2) | bit(Conductor::L3)) != 0
    }

    /// True where a pole of a d.c. system is among them.
    #[must_use]
    pub const fn has_pole(self) -> bool {
        self.0 & (bit(Conductor::Positive) | bit(Conductor::Negative) | bit(Conductor::Midpoint)) != 0
    }

    /// By how many twelfths of a turn each of its lines lags behind line 1; every line, if it is not said which.
    pub fn angles(self) -> impl Iterator<Item = u8> + Clone {
        const OF_LINES: [(Conductor, u8); 3] = [(Conductor::L1, 0), (Conductor::L2, 4), (Conductor::L3, 8)];
        let has = move |line| self.count() == 0 || self.0 & bit(line) != 0;
        OF_LINES.into_iter().filter(move |(line, _)| has(*line)).map(|(_, angle)| angle)
    }

    /// The conductors of both.
    #[must_use]
    pub const fn union(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }
}

const fn bit(conductor: Conductor) -> u8 {
    match conductor {
        Conductor::L1 => 1,
        Conductor::L2 => 1 << 1,
        Conductor::L3 => 1 << 2,
        Conductor::N => 1 << 3,
        Conductor::Positive => 1 << 4,
        Conductor::Negative => 1 << 5,
        Conductor::Midpoint => 1 << 6,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn neutral_is_no_line() {
        let circuit = Lines::of(&[Conductor::L1, Conductor::L3, Conductor::N]);
        assert_eq!(circuit.count(), 2);
        assert!(circuit.has_neutral());
        assert!(!Lines::of(&[]).is_known());
    }

    #[test]
    fn lines_lag_by_a_third_of_a_turn_each() {
        let angles = |conductors: &[Conductor]| Lines::of(conductors).angles().collect::<Vec<_>>();
        assert_eq!(angles(&[Conductor::L3, Conductor::N]), [8]);
        assert_eq!(angles(&[Conductor::N]), [0, 4, 8]);
        assert_eq!(angles(&[]), [0, 4, 8]);
    }

    #[test]
    fn the_same_line_twice_is_one_line() {
        assert_eq!(Lines::of(&[Conductor::L2]).union(Lines::of(&[Conductor::L2, Conductor::N])).count(), 1);
    }
}
