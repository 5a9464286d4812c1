//! Nodes that feed each other in a circle, such as the boards of a ring, and what their systems are.

use std::collections::BTreeSet;

use petgraph::algo::kosaraju_scc;
use petgraph::graph::{DiGraph, NodeIndex};

use super::super::graph::{Graph, NodeKind, Side, Terminal};
use super::super::id::NodeId;
use super::descent::{Descent, unknown};
use super::{Place, Root};

/// The nodes, those of a circle together and sorted; what feeds comes before what is fed.
pub(in crate::network) fn circles(graph: &Graph) -> Vec<Vec<NodeId>> {
    let nodes = graph.nodes().len();
    let mut copy: DiGraph<(), ()> = DiGraph::with_capacity(nodes, graph.feeds().len());
    (0..nodes).for_each(|_| {
        copy.add_node(());
    });
    copy.extend_with_edges(graph.feeds().iter().map(|feed| (index(feed.from), index(feed.to))));
    let mut circles: Vec<Vec<NodeId>> = kosaraju_scc(&copy)
        .into_iter()
        .map(|circle| {
            let mut nodes: Vec<_> = circle.into_iter().map(|node| NodeId::new(node.index())).collect();
            nodes.sort_unstable();
            nodes
        })
        .collect();
    circles.reverse();
    circles
}

fn index(node: NodeId) -> NodeIndex {
    NodeIndex::new(node.index())
}

impl Descent<'_> {
    /// The nodes of a circle: each can be fed by all that feeds any of them, and by what begins within.
    ///
    /// Everything is passed on twice, so that a voltage that begins within the circle reaches all of it.
    pub(super) fn pass_circle(&mut self, nodes: &[NodeId]) {
        let Some(first) = nodes.first().copied() else { return };
        let turns = nodes.iter().any(|node| self.may_turn(*node));
        let is_proved = !turns && nodes.iter().all(|node| !self.numbers_anew(*node) || self.is_proved(*node));
        let junction = Some(Terminal { node: first, side: Side::Supply });
        let mut passed: BTreeSet<NodeId> = nodes.iter().copied().filter(|node| self.begins(*node)).collect();
        for node in passed.clone() {
            self.pass(node, unknown(node));
        }
        for _ in 0..2 {
            let places = self.feeding(nodes, &passed);
            let met = self.meet(&places, first, junction, is_proved);
            for node in nodes {
                let arriving = if is_proved { met } else { self.on_its_own(met, *node, turns) };
                self.pass(*node, arriving);
            }
            passed.extend(nodes);
        }
    }

    /// The places that feed any of these nodes, those of the circle itself only once they are known.
    fn feeding(&self, nodes: &[NodeId], passed: &BTreeSet<NodeId>) -> Vec<Place> {
        let feeds = nodes.iter().flat_map(|node| self.graph.into_node(*node));
        let feeding: BTreeSet<_> = feeds.map(|feed| feed.from).collect();
        let is_known = |node: &NodeId| passed.contains(node) || nodes.binary_search(node).is_err();
        let known = feeding.into_iter().filter(is_known);
        known.filter_map(|node| self.found.load_sides.get(node.index()).copied()).collect()
    }

    /// A place in a circle that is not proved: its line numbers are its own, and behind a transformer its angle too.
    fn on_its_own(&mut self, met: Place, node: NodeId, turns: bool) -> Place {
        let mut place = Place { numbered: Some(node), hours: 0, numbered_at: node, ..met };
        if turns {
            let (known, others) = self.found.roots_at(met);
            let roots: BTreeSet<_> = known.map(|root| Root { transformer: Some(node), ..root }).collect();
            place.roots = self.found.add_roots(roots, others);
            place.junction = Some(Terminal { node, side: Side::Supply });
        }
        place
    }

    fn kind(&self, node: NodeId) -> NodeKind {
        self.graph.node(node).map_or(NodeKind::NotKnown, |node| node.kind)
    }

    fn begins(&self, node: NodeId) -> bool {
        matches!(self.kind(node), NodeKind::Source | NodeKind::Ups { .. } | NodeKind::Converter)
    }

    fn may_turn(&self, node: NodeId) -> bool {
        match self.kind(node) {
            NodeKind::Transformer | NodeKind::NotKnown => true,
            NodeKind::Source
            | NodeKind::Isolator
            | NodeKind::Cutout
            | NodeKind::Switch
            | NodeKind::Changeover { .. }
            | NodeKind::Ups { .. }
            | NodeKind::Converter
            | NodeKind::Busbar => false,
        }
    }

    fn numbers_anew(&self, node: NodeId) -> bool {
        match self.kind(node) {
            NodeKind::Busbar | NodeKind::Changeover { .. } | NodeKind::Transformer | NodeKind::NotKnown => true,
            NodeKind::Source
            | NodeKind::Isolator
            | NodeKind::Cutout
            | NodeKind::Switch
            | NodeKind::Ups { .. }
            | NodeKind::Converter => false,
        }
    }
}
