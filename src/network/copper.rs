//! Which terminals are one piece of copper: connected by wires, and by nodes of the kinds that one asks for.

use petgraph::unionfind::UnionFind;

use super::graph::{Feed, Graph, NodeKind, load, supply};
use super::id::NodeId;

/// The terminals of a network by what is one piece of copper.
#[derive(Debug, Default)]
pub(super) struct Copper(Vec<usize>);

impl Copper {
    /// What nothing that a user can open lies between: busbars and the network operator's cut-out alone join it.
    pub(super) fn always_joined(graph: &Graph) -> Self {
        Self::joined_by(graph, |kind| matches!(kind, NodeKind::Busbar | NodeKind::Cutout))
    }

    /// What is joined where every switch is closed.
    pub(super) fn with_all_closed(graph: &Graph) -> Self {
        Self::joined_by(graph, |kind| {
            matches!(kind, NodeKind::Busbar | NodeKind::Cutout | NodeKind::Isolator | NodeKind::Switch)
        })
    }

    fn joined_by(graph: &Graph, joins: impl Fn(NodeKind) -> bool) -> Self {
        let mut joined = UnionFind::<usize>::new(graph.nodes().len() * 2);
        for (index, node) in graph.nodes().iter().enumerate() {
            if joins(node.kind) {
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
            if graph.node(feed.to).is_some_and(|node| joins_its_feeds(node.kind)) {
                joined.union(load(feed.from), supply(feed.to));
            }
        }
        Self(joined.into_labeling())
    }

    /// The piece to which a terminal belongs, by its number.
    pub(super) fn piece(&self, terminal: usize) -> usize {
        self.0.get(terminal).copied().unwrap_or(terminal)
    }

    /// Whether every one of some terminals is the same copper as one of the others.
    pub(super) fn is_within(&self, terminals: &[usize], others: &[usize]) -> bool {
        let is_same = |terminal: &usize| others.iter().any(|other| self.piece(*other) == self.piece(*terminal));
        !terminals.is_empty() && terminals.iter().all(is_same)
    }
}

/// Whether what feeds a node is connected at its supply side. Of a converter those of direct and of alternating current are not.
pub(super) const fn joins_its_feeds(kind: NodeKind) -> bool {
    !matches!(kind, NodeKind::Changeover { .. } | NodeKind::Ups { .. } | NodeKind::NotKnown)
}
