//! Which terminals are one and the same copper: connected by wires, busbars and the network operator's cut-out alone,
//! so that nothing that a user can open lies between them.

use petgraph::unionfind::UnionFind;

use super::super::graph::{Feed, Graph, NodeKind};
use super::super::id::NodeId;
use super::conduction::{load, supply};

/// The terminals of a network by what is one piece of copper.
#[derive(Debug)]
pub(super) struct Copper(Vec<usize>);

impl Copper {
    /// The copper of a network.
    pub(super) fn of(graph: &Graph) -> Self {
        let mut joined = UnionFind::<usize>::new(graph.nodes().len() * 2);
        for (index, node) in graph.nodes().iter().enumerate() {
            if matches!(node.kind, NodeKind::Busbar | NodeKind::Cutout) {
                joined.union(supply(NodeId::new(index)), load(NodeId::new(index)));
            }
        }
        for feed in graph.feeds() {
            let direct = graph.direct_feeds(feed.to);
            if !direct.is_empty() {
                let alike = |other: &&Feed| direct.contains(other) == direct.contains(feed);
                graph.into_node(feed.to).iter().filter(alike).for_each(|other| {
                    joined.union(load(feed.from), load(other.from));
                });
                continue;
            }
            let meets_others = graph.node(feed.to).map(|node| node.kind);
            // The feeds of these are not connected to each other.
            if !matches!(
                meets_others,
                Some(NodeKind::Changeover { .. } | NodeKind::Ups { .. } | NodeKind::NotKnown) | None
            ) {
                joined.union(load(feed.from), supply(feed.to));
            }
        }
        Self(joined.into_labeling())
    }

    /// Whether every one of some terminals is the same copper as one of the others.
    pub(super) fn is_within(&self, terminals: &[usize], others: &[usize]) -> bool {
        let piece = |terminal: &usize| self.0.get(*terminal).copied().unwrap_or(*terminal);
        let is_same = |terminal: &usize| others.iter().any(|other| piece(other) == piece(terminal));
        !terminals.is_empty() && terminals.iter().all(is_same)
    }
}
