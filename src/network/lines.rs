//! Sets of live conductors.

use crate::survey::value::{Conductor, Conductors, Earthing};

/// The live conductors of a circuit, as what must be parted; empty if the survey does not say.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Lines(Conductors);

impl Lines {
    /// The set of these conductors.
    #[must_use]
    pub fn of(conductors: impl Into<Conductors>) -> Self {
        Self(conductors.into())
    }

    /// What a device must part of these conductors, of a system that is earthed in this way: a pole that is said to be earthed
    /// may stay connected, beside the other one.
    #[must_use]
    pub fn to_part(all: Conductors, earthing: Option<Earthing>) -> Self {
        let earthed = match earthing {
            Some(Earthing::PositiveEarthed) => Some(Conductor::Positive),
            Some(Earthing::NegativeEarthed) => Some(Conductor::Negative),
            Some(
                Earthing::TnS
                | Earthing::TnCS
                | Earthing::TnC
                | Earthing::Tt
                | Earthing::It
                | Earthing::LineEarthed
                | Earthing::Midpoint
                | Earthing::PoleEarthed
                | Earthing::Unearthed
                | Earthing::Selv
                | Earthing::Pelv
                | Earthing::Felv,
            )
            | None => None,
        };
        let are_both = all.contains(Conductor::Positive) && all.contains(Conductor::Negative);
        let Some(earthed) = earthed.filter(|_| are_both) else { return Self(all) };
        let mut rest = Conductors::default();
        all.iter().filter(|conductor| *conductor != earthed).for_each(|conductor| rest.insert(conductor));
        Self(rest)
    }

    /// True where the survey says which conductors there are.
    #[must_use]
    pub const fn is_known(self) -> bool {
        !self.0.is_empty()
    }

    /// Line conductors or poles, neutral and midpoint not counted.
    #[must_use]
    #[expect(clippy::cast_possible_truncation, reason = "there are seven conductors")]
    pub fn count(self) -> u8 {
        let lines = self.0.iter().filter(|conductor| !matches!(conductor, Conductor::N | Conductor::Midpoint));
        lines.count() as u8
    }

    /// Line conductors, or poles where a circuit has those: the two belong to different circuits, and a device that holds
    /// both holds either at a time. Of a circuit whose conductors are not known, those of which there are more.
    #[must_use]
    pub fn count_for(self, circuit: Self) -> u8 {
        let poles = [Conductor::Positive, Conductor::Negative].into_iter().filter(|pole| self.0.contains(*pole));
        let poles = u8::try_from(poles.count()).unwrap_or(u8::MAX);
        let lines = self.count().saturating_sub(poles);
        match (circuit.is_known(), circuit.has_pole()) {
            (false, _) => lines.max(poles),
            (true, true) => poles,
            (true, false) => lines,
        }
    }

    /// True where a neutral is among them.
    #[must_use]
    pub const fn has_neutral(self) -> bool {
        self.0.contains(Conductor::N)
    }

    /// True where a midpoint is among them.
    #[must_use]
    pub const fn has_midpoint(self) -> bool {
        self.0.contains(Conductor::Midpoint)
    }

    /// True where line 2 or line 3 is among them.
    #[must_use]
    pub const fn has_further_line(self) -> bool {
        self.0.contains(Conductor::L2) || self.0.contains(Conductor::L3)
    }

    /// True where line 3 is among them.
    #[must_use]
    pub const fn has_third_line(self) -> bool {
        self.0.contains(Conductor::L3)
    }

    /// True where a pole of a d.c. system is among them.
    #[must_use]
    pub const fn has_pole(self) -> bool {
        self.0.has_pole()
    }

    /// By how many twelfths of a turn each of its lines lags behind line 1; every line, if it is not said which.
    pub fn angles(self) -> impl Iterator<Item = u8> + Clone {
        const OF_LINES: [(Conductor, u8); 3] = [(Conductor::L1, 0), (Conductor::L2, 4), (Conductor::L3, 8)];
        let is_any = self.count() == 0;
        let has = move |line| is_any || self.0.contains(line);
        OF_LINES.into_iter().filter(move |(line, _)| has(*line)).map(|(_, angle)| angle)
    }

    /// Each of its conductors by itself.
    pub fn each(self) -> impl Iterator<Item = Self> {
        self.0.iter().map(|conductor| Self::of([conductor]))
    }

    /// True where each of the other's conductors is among them.
    #[must_use]
    pub fn has_all(self, other: Self) -> bool {
        self.union(other) == self
    }

    /// The conductors of both.
    #[must_use]
    pub const fn union(self, other: Self) -> Self {
        Self(self.0.union(other.0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn neutral_is_no_line() {
        let circuit = Lines::of([Conductor::L1, Conductor::L3, Conductor::N]);
        assert_eq!(circuit.count(), 2);
        assert!(circuit.has_neutral());
        assert!(!Lines::of([]).is_known());
    }

    #[test]
    fn lines_lag_by_a_third_of_a_turn_each() {
        let angles = |conductors: &[Conductor]| Lines::of(conductors).angles().collect::<Vec<_>>();
        assert_eq!(angles(&[Conductor::L3, Conductor::N]), [8]);
        assert_eq!(angles(&[Conductor::N]), [0, 4, 8]);
        assert_eq!(angles(&[]), [0, 4, 8]);
    }

    #[test]
    fn lines_and_poles_are_counted_apart() {
        use Conductor::{L1, L2, L3, Midpoint, N, Negative, Positive};
        let count = |all: &[Conductor], circuit: &[Conductor]| Lines::of(all).count_for(Lines::of(circuit));
        let both = [L1, L2, L3, N, Positive, Negative];
        assert_eq!((count(&both, &[L1, N]), count(&both, &[Positive, Midpoint]), count(&both, &[])), (3, 2, 3));
        assert_eq!(
            (count(&[L1, N, Positive, Negative], &[]), count(&[L2, L3], &[Negative]), count(&[], &[])),
            (2, 0, 0)
        );
        let of_each = |circuit: &[Conductor]| count(&[L1, Positive, Negative], circuit);
        assert_eq!((of_each(&[L1]), of_each(&[Positive]), of_each(&[])), (1, 2, 2));
    }

    #[test]
    fn all_of_some_are_among_more() {
        use Conductor::{L1, L2, N};
        let (one, two) = (Lines::of([L1]), Lines::of([L1, L2, N]));
        assert!(two.has_all(one) && two.has_all(two) && two.has_all(Lines::default()));
        assert!(!one.has_all(two) && !Lines::default().has_all(one));
        assert_eq!(two.each().collect::<Vec<_>>(), [[L1], [L2], [N]].map(Lines::of));
    }

    #[test]
    fn the_same_line_twice_is_one_line() {
        assert_eq!(Lines::of([Conductor::L2]).union(Lines::of([Conductor::L2, Conductor::N])).count(), 1);
    }
}
