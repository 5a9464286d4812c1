//! Where line numbers begin, and which beginnings are proved to be one, with the angle between them.

use super::super::id::NodeId;

/// Beginnings of line numbers, those proved to be one joined into groups with the angle of each against the group's
/// first: a union-find with offsets.
pub(super) struct LineNumbers {
    /// The beginning that each is measured against, and its angle against that in twelfths of a turn.
    against: Vec<(usize, u8)>,
    /// By a group's first: two proofs contradict each other, so that none of them counts.
    contradicted: Vec<bool>,
}

impl LineNumbers {
    /// Every node begins its own.
    pub(super) fn new(nodes: usize) -> Self {
        Self { against: (0..nodes).map(|node| (node, 0)).collect(), contradicted: vec![false; nodes] }
    }

    /// Line 1 of one place is proved to be line 1 of the other; places are a beginning and the angle since then.
    pub(super) fn join(&mut self, one: (NodeId, u8), other: (NodeId, u8)) {
        let (first, hours) = self.first(one);
        let (second, other_hours) = self.first(other);
        if first == second {
            let is_one_angle = hours == other_hours;
            if let Some(contradicted) = self.contradicted.get_mut(first).filter(|_| !is_one_angle) {
                *contradicted = true;
            }
            return;
        }
        let is_contradicted = self.is_contradicted(second);
        if let Some(entry) = self.against.get_mut(second) {
            *entry = (first, (hours + 12 - other_hours) % 12);
        }
        if let Some(contradicted) = self.contradicted.get_mut(first) {
            *contradicted |= is_contradicted;
        }
    }

    /// The group of a beginning and the angle of a place in it; the place as it is, where proofs contradict each other.
    pub(super) fn settled(&mut self, place: (NodeId, u8)) -> (NodeId, u8) {
        let (first, hours) = self.first(place);
        if self.is_contradicted(first) { place } else { (NodeId::new(first), hours) }
    }

    fn is_contradicted(&self, first: usize) -> bool {
        self.contradicted.get(first).copied().unwrap_or_default()
    }

    /// The group's first and the angle against it; every second step is shortened on the way.
    fn first(&mut self, (node, hours): (NodeId, u8)) -> (usize, u8) {
        let (mut at, mut hours) = (node.index(), hours);
        while let Some(&(above, step)) = self.against.get(at).filter(|(above, _)| *above != at) {
            let (further, further_step) = self.against.get(above).copied().unwrap_or((above, 0));
            let shortened = (further, (step + further_step) % 12);
            if let Some(entry) = self.against.get_mut(at) {
                *entry = shortened;
            }
            hours = (hours + shortened.1) % 12;
            at = further;
        }
        (at, hours)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn node(index: usize) -> NodeId {
        NodeId::new(index)
    }

    /// A node by its index, and an angle there.
    type End = (usize, u8);

    /// Line numbers of so many nodes, after proofs each of which ties two of them with their angles.
    fn joined(nodes: usize, proofs: &[(End, End)]) -> LineNumbers {
        let mut numbers = LineNumbers::new(nodes);
        for ((one, hours), (other, other_hours)) in proofs {
            numbers.join((node(*one), *hours), (node(*other), *other_hours));
        }
        numbers
    }

    #[test]
    fn angles_add_up_along_a_chain_of_proofs() {
        let mut numbers = joined(4, &[((0, 0), (1, 11)), ((1, 2), (2, 0)), ((3, 5), (2, 0))]);
        let angle = |numbers: &mut LineNumbers, index| numbers.settled((node(index), 0));
        let (group, first) = angle(&mut numbers, 0);
        let others = [1, 2, 3].map(|index| angle(&mut numbers, index));
        assert!(others.iter().all(|(other, _)| *other == group));
        assert_eq!(others.map(|(_, hours)| (hours + 12 - first) % 12), [1, 3, 10]);
    }

    #[test]
    fn contradicting_proofs_prove_nothing_even_of_what_is_joined_to_them() {
        let alone = joined(2, &[((0, 0), (1, 0)), ((0, 0), (1, 1))]);
        let with_another = joined(4, &[((1, 0), (2, 0)), ((1, 0), (2, 1)), ((0, 0), (1, 0))]);
        for (mut numbers, nodes) in [(alone, 2), (with_another, 4)] {
            for index in 0..nodes {
                assert_eq!(numbers.settled((node(index), 4)), (node(index), 4));
            }
        }
    }
}
