//! The smallest cut, found by trying every set of operations.

use super::{Brute, Live, Ways, Wire, Word, begins, described, suitable};
use crate::network::graph::NodeKind;
use crate::network::id::{EnclosureId, NodeId};
use crate::network::live_parts::Outputs;
use crate::network::{Isolated, Lender, Needs, Side, Terminal};

impl Brute<'_> {
    /// Every terminal that must be dead: live parts, lenders, and output terminals of which no row speaks.
    fn must_be_dead(&self) -> Vec<Terminal> {
        let outputs = self.outputs().into_iter().flatten();
        let mut all: Vec<Terminal> = outputs.flat_map(|outputs| outputs.further.clone()).collect();
        for (terminals, _, lender, _) in self.rows() {
            all.extend_from_slice(terminals);
            if let Lender::At(lent) = lender {
                all.extend_from_slice(lent);
            }
        }
        all
    }

    /// Whether a device that parts too little stands between a source and these terminals, in some position: energy
    /// comes to one side of it without passing it, and goes from its other side to the terminals without passing it.
    fn bears(&self, device: usize, terminals: &[Terminal], wire: Wire, seeds: &Live) -> bool {
        let closed = vec![false; self.graph.nodes().len()];
        self.positions.iter().any(|position| {
            let conducts = |index: usize, up: bool| {
                index != device && self.conducts((index, up), &closed, (wire, &[]), Word::Certain)
            };
            let joins = |index: usize, feed: usize| self.joins((index, feed), (wire, terminals), Word::Certain);
            let ways = Ways { conducts: &conducts, joins: &joins };
            let mut seeds = seeds.clone();
            let changeover = matches!(self.graph.nodes()[device].kind, NodeKind::Changeover { .. });
            seeds[device] = [false; 2];
            let reached = self.spread(position, seeds, wire, ways);
            let feed = self.graph.into_node(NodeId::new(device)).get(position[device]).map(|feed| feed.from.index());
            // The two ends of its contact: what is connected on each side while it is open.
            let ends = match feed.filter(|_| changeover) {
                Some(feed) => [(feed, 1), (device, 1)],
                None => [(device, 0), (device, 1)],
            };
            let brings = |one: (usize, usize), other: (usize, usize)| {
                // No search goes on from a source, nor one for neutrals from where another one begins.
                let end = self.graph.nodes()[other.0];
                let is_origin = matches!(end.kind, NodeKind::Source | NodeKind::Ups { own_battery: true });
                if other.0 != device && (is_origin || wire == Wire::Neutral && begins(&end)) {
                    return false;
                }
                let mut from = vec![[false; 2]; closed.len()];
                from[other.0][other.1] = true;
                reached[one.0][one.1] && Self::at(&self.spread(position, from, wire, ways), terminals)
            };
            // An isolator of too few poles does for what comes to it on fewer lines; in another system for one line, where
            // a row says so.
            let does = |from_below: bool| match wire {
                Wire::Neutral => false,
                _ if self.is_at_home(device, terminals) => self.parts_all_that_comes(device, from_below, &closed),
                _ => {
                    !from_below && self.graph.nodes()[device].kind == NodeKind::Isolator && self.is_of_one_line(device)
                }
            };
            !does(false) && brings(ends[0], ends[1]) || !does(true) && brings(ends[1], ends[0])
        })
    }

    /// Whether a device counts for no cut.
    fn is_unfit(&self, device: usize) -> bool {
        let node = self.graph.nodes()[device];
        let closed = vec![false; self.graph.nodes().len()];
        let energy = self.energy_seeds(Word::Possible, true, false);
        self.rows().into_iter().zip(self.outputs()).any(|((terminals, needs, lender, _), outputs)| {
            let lent = if let Lender::At(lent) = lender { lent.clone() } else { Vec::new() };
            let is_too_small = |lines: Option<u8>, terminals: &[Terminal]| {
                let may_leave_some = match (self.is_at_home(device, terminals), node.poles) {
                    (true, Some(poles)) => poles.lines < lines.unwrap_or(3),
                    (true, None) => true,
                    (false, Some(poles)) => poles.lines < self.lines_at(device).unwrap_or(3),
                    (false, None) => self.lines_at(device) != Some(1),
                };
                lines.is_none_or(|needed| needed > 1)
                    && may_leave_some
                    && self.bears(device, terminals, Wire::Lines(lines), &energy)
            };
            let is_too_small_beside =
                |outputs: &Outputs| is_too_small(self.graph.lines(outputs.ups).or(needs.lines), &outputs.further);
            let is_too_small_at = |terminal: &Terminal| is_too_small(self.lines_hanging_at(*terminal), &[*terminal]);
            if is_too_small(needs.lines, terminals)
                || lent.iter().any(is_too_small_at)
                || outputs.is_some_and(is_too_small_beside)
            {
                return true;
            }
            if needs.neutral == Some(false) || node.poles.is_some_and(|poles| poles.neutral) {
                return false;
            }
            let energised = |index: usize| {
                let node = self.graph.nodes()[index];
                matches!(node.kind, NodeKind::Source | NodeKind::Ups { own_battery: true })
                    || self.lines(
                        &[Terminal { node: NodeId::new(index), side: Side::Load }],
                        &closed,
                        None,
                        Word::Possible,
                    )
            };
            let neutrals = self.neutral_seeds(Word::Possible, &energised);
            self.bears(device, &[terminals, &lent].concat(), Wire::Neutral, &neutrals)
        })
    }

    /// Whether all is dead, as far as the model tells, with these devices open; each of them parts all lines.
    fn is_dead(&self, parts_lines: &[bool]) -> bool {
        let all = self.must_be_dead();
        let dead = |terminals: &[Terminal]| {
            !self.positions.iter().any(|position| {
                let conducts = |index: usize, _: bool| !parts_lines[index];
                // What a changeover does not switch is left aside, and no advice given that fails by it.
                let ways = Ways { conducts: &conducts, joins: &|_, _| false };
                self.energy(position, terminals, (Word::Possible, false), ways)
            })
        };
        let energised = |index: usize| {
            let node = self.graph.nodes()[index];
            matches!(node.kind, NodeKind::Source | NodeKind::Ups { own_battery: true })
                || !dead(&[Terminal { node: NodeId::new(index), side: Side::Load }])
        };
        let neutral_dead = |terminals: &[Terminal]| {
            !self.positions.iter().any(|position| {
                let seeds = self.neutral_seeds(Word::Possible, &energised);
                let conducts = |index: usize, up: bool| {
                    self.conducts((index, up), parts_lines, (Wire::Neutral, &[]), Word::Possible)
                };
                let joins = |index: usize, feed: usize| self.joins((index, feed), (Wire::Neutral, &[]), Word::Possible);
                let ways = Ways { conducts: &conducts, joins: &joins };
                Self::at(&self.spread(position, seeds, Wire::Neutral, ways), terminals)
            })
        };
        let of_row = |(terminals, needs, lender, _): &(&[Terminal], Needs, &Lender, bool)| {
            let lent = if let Lender::At(lent) = lender { lent.as_slice() } else { &[] };
            needs.neutral == Some(false) || neutral_dead(terminals) && neutral_dead(lent)
        };
        dead(&all) && self.rows().iter().all(of_row)
    }

    /// What the operations, each as the nodes that it opens, part.
    fn parted(&self, operations: &[Vec<NodeId>], unfit: &[bool]) -> Vec<bool> {
        let mut parts = vec![false; unfit.len()];
        for node in operations.iter().flatten() {
            parts[node.index()] = suitable(&self.graph.nodes()[node.index()]) && !unfit[node.index()];
        }
        parts
    }

    /// How many operations the smallest cut takes; `None` where there is none, or none can be stated.
    pub(in super::super) fn cut(&self) -> Option<usize> {
        let rows = self.rows();
        let impossible = self.network.ways(EnclosureId::new(0)).iter().any(|way| way.isolated == Isolated::Impossible);
        let unsaid = rows.iter().any(|(terminals, _, lender, _)| terminals.is_empty() || **lender == Lender::NotFound);
        let all = self.must_be_dead();
        let closed = vec![false; self.graph.nodes().len()];
        let gap_reaches = self.positions.iter().any(|position| {
            let mut seeds = self.energy_seeds(Word::Possible, false, true);
            let origins = self.energy_seeds(Word::Certain, false, false);
            for (seed, origin) in seeds.iter_mut().zip(origins) {
                *seed = [seed[0] && !origin[0], seed[1] && !origin[1]];
            }
            let wire = Wire::Lines(None);
            let conducts = |index: usize, up: bool| self.conducts((index, up), &closed, (wire, &[]), Word::Certain);
            let ways = Ways { conducts: &conducts, joins: &|_, _| false };
            Self::at(&self.spread(position, seeds, wire, ways), &all)
        });
        if impossible || unsaid || gap_reaches || !self.lines(&all, &closed, None, Word::Certain) {
            return None;
        }
        let unfit: Vec<bool> = (0..closed.len()).map(|device| self.is_unfit(device)).collect();
        let operations = self.operations();
        let mut best = None;
        for choice in 0..1_u32 << operations.len() {
            let size = choice.count_ones() as usize;
            if best.is_some_and(|best| best <= size) {
                continue;
            }
            let chosen: Vec<_> = operations
                .iter()
                .enumerate()
                .filter(|(place, _)| choice >> place & 1 == 1)
                .map(|(_, nodes)| nodes.clone())
                .collect();
            if self.is_dead(&self.parted(&chosen, &unfit)) {
                best = Some(size);
            }
        }
        best
    }

    /// Whether opening these devices, with what is coupled to them, makes all dead.
    pub(in super::super) fn does(&self, devices: &[NodeId]) -> bool {
        let unfit: Vec<bool> = (0..self.graph.nodes().len()).map(|device| self.is_unfit(device)).collect();
        self.is_dead(&self.parted(&[devices.to_vec()], &unfit))
    }

    /// Whether a row may be live with these devices open, of each only what it is known to part.
    pub(in super::super) fn may_leave_live(&self, devices: &[NodeId]) -> bool {
        let open = self.opening(devices);
        self.rows().into_iter().any(|(terminals, needs, lender, _)| {
            let lent = if let Lender::At(lent) = lender { lent.as_slice() } else { &[] };
            self.lines(terminals, &open, needs.lines, Word::Possible)
                || self.lent(lent, &open, Word::Possible)
                || needs.neutral != Some(false)
                    && [terminals, lent].iter().any(|at| self.neutral(at, &open, needs.lines, Word::Possible))
        })
    }

    /// Every operation: a device, or a coupled interlock.
    fn operations(&self) -> Vec<Vec<NodeId>> {
        let mut operations = Vec::new();
        for (index, node) in self.graph.nodes().iter().enumerate().filter(|(_, node)| suitable(node)) {
            let opened = self.opening(&[NodeId::new(index)]);
            let nodes: Vec<_> =
                opened.iter().enumerate().filter(|(_, open)| **open).map(|(other, _)| NodeId::new(other)).collect();
            if described(node) && !operations.contains(&nodes) {
                operations.push(nodes);
            }
        }
        operations
    }
}
