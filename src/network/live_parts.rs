//! Where the live parts of every way are connected: one short list after the other, in one piece.

use super::graph::{Graph, Terminal};
use super::id::{NodeId, WayId};

/// Output terminals of the UPS whose enclosure a way comes into, to which energy can come from outside.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Outputs {
    /// The UPS.
    pub(super) ups: NodeId,
    /// Those of which the row itself speaks: they are its live parts.
    pub(super) own: Vec<Terminal>,
    /// Those of which no row speaks. They are proved with the row, and nothing else is told by them.
    pub(super) further: Vec<Terminal>,
}

impl Outputs {
    /// How many lines come to those of which no row speaks: as many as the UPS has there, where that is told, else as many
    /// as the row has.
    pub(super) fn lines_to_further(&self, graph: &Graph, of_row: Option<u8>) -> Option<u8> {
        graph.lines(self.ups).or(of_row)
    }
}

/// Output terminals of a device that an enclosure of another name holds, but for those of which its rows speak. No row is
/// proved with them; that energy may come to them leaves the enclosure unknown.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Unproved {
    /// The device.
    pub(super) device: NodeId,
    /// The terminals.
    pub(super) terminals: Vec<Terminal>,
}

/// The terminals of every way, in the order of the ways.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct LiveParts {
    terminals: Vec<Terminal>,
    /// For each way, where its terminals end.
    ends: Vec<usize>,
}

impl LiveParts {
    /// None yet, with room for so many ways.
    pub(super) fn with_capacity(ways: usize) -> Self {
        Self { terminals: Vec::with_capacity(ways), ends: Vec::with_capacity(ways) }
    }

    /// The terminals of a way.
    pub(super) fn of(&self, way: WayId) -> &[Terminal] {
        let start = way.index().checked_sub(1).and_then(|before| self.ends.get(before)).copied().unwrap_or(0);
        self.ends.get(way.index()).and_then(|end| self.terminals.get(start..*end)).unwrap_or_default()
    }

    /// Adds the terminals of the next way.
    pub(super) fn push(&mut self, terminals: &[Terminal]) {
        self.terminals.extend_from_slice(terminals);
        self.ends.push(self.terminals.len());
    }

    /// The same with a further terminal of some of the ways, given in their order.
    pub(super) fn with(self, further: &[(WayId, Terminal)]) -> Self {
        if further.is_empty() {
            return self;
        }
        let mut whole = Self::with_capacity(self.ends.len());
        let mut further = further.iter().peekable();
        for way in (0..self.ends.len()).map(WayId::new) {
            let mut terminals = self.of(way).to_vec();
            while let Some((_, terminal)) = further.next_if(|(of, _)| *of == way) {
                terminals.push(*terminal);
            }
            terminals.sort_unstable();
            whole.push(&terminals);
        }
        whole
    }
}

#[cfg(test)]
mod tests {
    use super::super::graph::Side;
    use super::*;

    #[test]
    fn every_way_keeps_its_own() {
        let at = |node: usize| Terminal { node: NodeId::new(node), side: Side::Load };
        let mut parts = LiveParts::default();
        parts.push(&[at(1), at(3)]);
        parts.push(&[]);
        parts.push(&[at(2)]);
        let parts = parts.with(&[(WayId::new(0), at(2)), (WayId::new(1), at(7))]);
        let of = |way: usize| parts.of(WayId::new(way)).to_vec();
        assert_eq!((of(0), of(1)), (vec![at(1), at(2), at(3)], vec![at(7)]));
        assert_eq!((of(2), of(3)), (vec![at(2)], Vec::new()));
    }
}
