//! Which node lies downstream of which, answered for very many pairs without walking the network for each.
//!
//! Nodes that feed each other in a circle are taken as one, which leaves a network without circles. A walk over it
//! numbers every node so that most questions are answered by comparing two numbers (reachability by interval labels, as
//! in H. Yildirim and others, GRAIL, 2010); the rest are searched for, between the two nodes only.

use std::collections::{HashMap, HashSet};

use petgraph::Direction::Incoming;
use petgraph::algo::condensation;
use petgraph::graph::{DiGraph, NodeIndex};

use super::graph::Graph;
use super::id::NodeId;

/// Nodes passed in all searches of one network together, beyond which a question stays open.
const MOST_STEPS: usize = 5_000_000;

/// Where a node lies in relation to another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Downstream {
    /// Energy can come down to it.
    Yes,
    /// No feeds lead there.
    No,
    /// The network is too tangled to tell in reasonable time.
    NotTold,
}

/// Numbers of a node without circles.
#[derive(Clone, Copy, Debug, Default)]
struct Label {
    /// Number of the first node that the walk finished after it came here.
    start: usize,
    /// Its own number, in the order in which the walk finished with the nodes.
    end: usize,
    /// The lowest number of all that lies downstream.
    lowest: usize,
}

impl Label {
    /// The walk came to the other node from here: it lies downstream for certain.
    const fn walked_to(self, other: Self) -> bool {
        self.start <= other.end && other.end <= self.end
    }

    /// False where the other node does not lie downstream for certain.
    const fn may_reach(self, other: Self) -> bool {
        self.lowest <= other.lowest && other.end <= self.end
    }
}

/// The feeds of a network, ready to be asked.
#[derive(Default)]
pub(super) struct Ancestry {
    /// Nodes that feed each other in a circle taken as one; what is fed comes before what feeds it.
    circles: DiGraph<Vec<NodeId>, ()>,
    circle_of: Vec<NodeIndex>,
    labels: Vec<Label>,
    asked: HashMap<(NodeIndex, NodeIndex), Downstream>,
    steps_left: usize,
}

impl Ancestry {
    /// The ancestry of every node of a graph.
    pub(super) fn of(graph: &Graph) -> Self {
        let mut whole = DiGraph::with_capacity(graph.nodes().len(), graph.feeds().len());
        for index in 0..graph.nodes().len() {
            whole.add_node(NodeId::new(index));
        }
        for feed in graph.feeds() {
            whole.add_edge(NodeIndex::new(feed.from.index()), NodeIndex::new(feed.to.index()), ());
        }
        let circles = condensation(whole, false);
        let mut circle_of = vec![NodeIndex::end(); graph.nodes().len()];
        for index in circles.node_indices() {
            for node in circles.node_weight(index).into_iter().flatten() {
                if let Some(place) = circle_of.get_mut(node.index()) {
                    *place = index;
                }
            }
        }
        let labels = labels(&circles);
        Self { circles, circle_of, labels, asked: HashMap::new(), steps_left: MOST_STEPS }
    }

    /// Whether `lower` lies downstream of `upper`; a node lies downstream of itself.
    pub(super) fn downstream(&mut self, upper: NodeId, lower: NodeId) -> Downstream {
        let (Some(upper), Some(lower)) = (self.circle(upper), self.circle(lower)) else { return Downstream::No };
        let (above, below) = (self.label(upper), self.label(lower));
        if upper == lower || above.walked_to(below) {
            return Downstream::Yes;
        }
        if !above.may_reach(below) {
            return Downstream::No;
        }
        if let Some(answer) = self.asked.get(&(upper, lower)) {
            return *answer;
        }
        let answer = self.search(upper, lower);
        self.asked.insert((upper, lower), answer);
        answer
    }

    /// The nodes that feed each other in a circle, several together, each in the order of the graph.
    pub(super) fn circles(&self) -> impl Iterator<Item = &[NodeId]> {
        self.circles.node_weights().map(Vec::as_slice).filter(|members| members.len() > 1)
    }

    /// For each node, what it and everything upstream of it bears together, as bits.
    pub(super) fn gathered_from_above(&self, own: impl Fn(NodeId) -> u8) -> Vec<u8> {
        let mut bits = vec![0_u8; self.circles.node_count()];
        for index in self.circles.node_indices().rev() {
            let members = self.circles.node_weight(index).into_iter().flatten();
            let above = self.circles.neighbors_directed(index, Incoming).filter_map(|it| bits.get(it.index()));
            let gathered = above.fold(members.fold(0, |bits, node| bits | own(*node)), |bits, more| bits | more);
            if let Some(place) = bits.get_mut(index.index()) {
                *place = gathered;
            }
        }
        self.circle_of.iter().map(|circle| bits.get(circle.index()).copied().unwrap_or_default()).collect()
    }

    fn circle(&self, node: NodeId) -> Option<NodeIndex> {
        self.circle_of.get(node.index()).copied()
    }

    fn label(&self, circle: NodeIndex) -> Label {
        self.labels.get(circle.index()).copied().unwrap_or_default()
    }

    /// Walks up from the lower node, and only where the upper one may still be met.
    fn search(&mut self, upper: NodeIndex, lower: NodeIndex) -> Downstream {
        let above = self.label(upper);
        let mut seen = HashSet::from([lower]);
        let mut open = vec![lower];
        while let Some(here) = open.pop() {
            for feeding in self.circles.neighbors_directed(here, Incoming) {
                if feeding == upper || above.walked_to(self.label(feeding)) {
                    return Downstream::Yes;
                }
                let Some(left) = self.steps_left.checked_sub(1) else { return Downstream::NotTold };
                self.steps_left = left;
                if above.may_reach(self.label(feeding)) && seen.insert(feeding) {
                    open.push(feeding);
                }
            }
        }
        Downstream::No
    }
}

/// Walks the network from everything that nothing feeds, and numbers each node when it is done with it.
fn labels(circles: &DiGraph<Vec<NodeId>, ()>) -> Vec<Label> {
    let mut labels = vec![Label::default(); circles.node_count()];
    let mut met = vec![false; circles.node_count()];
    let mut finished = 0;
    let mut open = Vec::new();
    for root in circles.externals(Incoming).chain(circles.node_indices().rev()) {
        open.push((root, None));
        while let Some((here, walker)) = open.pop() {
            let mut walker = match walker {
                Some(walker) => walker,
                None if met.get(here.index()).copied().unwrap_or(true) => continue,
                None => {
                    set(&mut met, here, |met| *met = true);
                    set(&mut labels, here, |label| label.start = finished);
                    circles.neighbors(here).detach()
                }
            };
            match walker.next_node(circles) {
                Some(next) => open.extend([(here, Some(walker)), (next, None)]),
                None => {
                    set(&mut labels, here, |label| label.end = finished);
                    finished += 1;
                }
            }
        }
    }
    for index in circles.node_indices() {
        let below = circles.neighbors(index).filter(|it| *it != index).filter_map(|it| labels.get(it.index()));
        let lowest = below.map(|label| label.lowest).min();
        set(&mut labels, index, |label| label.lowest = lowest.map_or(label.end, |it| it.min(label.end)));
    }
    labels
}

fn set<T>(list: &mut [T], index: NodeIndex, change: impl FnOnce(&mut T)) {
    if let Some(place) = list.get_mut(index.index()) {
        change(place);
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::graph::{Named, Neutral, Node, NodeKind};
    use super::*;

    fn graph(nodes: usize, feeds: &[(usize, usize)]) -> Graph {
        let mut graph = Graph::default();
        for _ in 0..nodes {
            let (kind, named) = (NodeKind::Busbar, Named::Described(0));
            graph.add_node(Node { kind, named, poles: None, coupled: None, neutral: Neutral::PassedOn });
        }
        feeds.iter().for_each(|(from, to)| graph.add_feed(NodeId::new(*from), NodeId::new(*to)));
        graph.finish();
        graph
    }

    /// Reachability by Warshall's method, as any textbook has it.
    fn by_hand(nodes: usize, feeds: &[(usize, usize)]) -> Vec<Vec<bool>> {
        let mut reach: Vec<Vec<bool>> =
            (0..nodes).map(|row| (0..nodes).map(|column| row == column).collect()).collect();
        feeds.iter().for_each(|(from, to)| reach[*from][*to] = true);
        for middle in 0..nodes {
            for from in 0..nodes {
                for to in 0..nodes {
                    reach[from][to] |= reach[from][middle] && reach[middle][to];
                }
            }
        }
        reach
    }

    fn networks() -> impl Strategy<Value = (usize, Vec<(usize, usize)>)> {
        (2_usize..14).prop_flat_map(|nodes| (Just(nodes), prop::collection::vec((0..nodes, 0..nodes), 0..30)))
    }

    proptest! {
        #[test]
        fn agrees_with_a_search_of_every_pair((nodes, feeds) in networks()) {
            let graph = graph(nodes, &feeds);
            let mut ancestry = Ancestry::of(&graph);
            let expected = by_hand(nodes, &feeds);
            let gathered = ancestry.gathered_from_above(|node| if node.index() < 8 { 1 << node.index() } else { 0 });
            for (from, row) in expected.iter().enumerate() {
                for (to, reached) in row.iter().enumerate() {
                    let answer = ancestry.downstream(NodeId::new(from), NodeId::new(to));
                    prop_assert_eq!(answer == Downstream::Yes, *reached, "{} to {}", from, to);
                    if from < 8 {
                        prop_assert_eq!(gathered[to] & (1 << from) != 0, *reached);
                    }
                }
            }
        }
    }

    #[test]
    fn a_chain_of_a_hundred_thousand_is_walked_without_recursion() {
        let feeds: Vec<_> = (1..100_000).map(|index| (index - 1, index)).collect();
        let mut ancestry = Ancestry::of(&graph(100_000, &feeds));
        assert_eq!(ancestry.downstream(NodeId::new(0), NodeId::new(99_999)), Downstream::Yes);
        assert_eq!(ancestry.downstream(NodeId::new(99_999), NodeId::new(0)), Downstream::No);
        assert_eq!(ancestry.circles().count(), 0);
    }

    #[test]
    fn members_of_a_circle_are_named_in_order() {
        let ancestry = Ancestry::of(&graph(5, &[(3, 1), (1, 2), (2, 3), (3, 4)]));
        let circles: Vec<Vec<_>> = ancestry.circles().map(|it| it.iter().map(|node| node.index()).collect()).collect();
        assert_eq!(circles, [[1, 2, 3]]);
    }
}
