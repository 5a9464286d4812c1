//! A region as a flow network: every contact that an operation opens is as wide as the operation costs.

use petgraph::Direction::{Incoming, Outgoing};
use petgraph::algo::dinics;
use petgraph::graph::{DiGraph, EdgeIndex, NodeIndex};
use petgraph::visit::EdgeRef;

use super::conduction::Pass;
use super::operations::{Contact, Operations};
use super::region::Region;

/// How an operation takes part in a flow.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Part {
    /// It is done already.
    Done,
    /// It may be done, and counts one for each contact.
    MayBeDone,
    /// It is not to be done.
    LeftOut,
}

/// A region with the vertices of its contacts.
pub(super) struct Flow<'a> {
    graph: DiGraph<(), u64>,
    /// For each contact, its edge and its operation.
    gates: Vec<(EdgeIndex, usize)>,
    operations: &'a Operations,
}

/// The live parts of the enclosure.
const ENCLOSURE: usize = 0;
/// Everything that energy comes from.
const ORIGIN: usize = 1;

impl<'a> Flow<'a> {
    /// The flow network of a region.
    pub(super) fn of(region: &Region, operations: &'a Operations) -> Self {
        let place = |number: usize| NodeIndex::new(number + 2);
        let near = |number: usize| NodeIndex::new(region.depths.len() + 2 + 2 * number);
        let far = |number: usize| NodeIndex::new(near(number).index() + 1);
        let wide = Self::wide(operations);
        let mut edges: Vec<(NodeIndex, NodeIndex)> = Vec::with_capacity(region.arcs.len() * 2);
        let starts = region.depths.iter().enumerate().filter(|(_, depth)| **depth == 0);
        edges.extend(starts.map(|(start, _)| (NodeIndex::new(ENCLOSURE), place(start))));
        edges.extend(region.origins.iter().map(|origin| (place(*origin), NodeIndex::new(ORIGIN))));
        for arc in &region.arcs {
            let contact = Contact { pass: arc.pass, layer: arc.layer };
            let found = if arc.pass == Pass::Free { None } else { operations.place_of(contact) };
            match found {
                Some(number) => {
                    edges.push((place(arc.from), near(number)));
                    edges.push((far(number), place(arc.to)));
                }
                None => edges.push((place(arc.from), place(arc.to))),
            }
        }
        edges.sort_unstable();
        edges.dedup();
        let vertices = region.depths.len() + 2 + 2 * operations.contacts.len();
        let mut graph = DiGraph::with_capacity(vertices, edges.len() + operations.contacts.len());
        for _ in 0..vertices {
            graph.add_node(());
        }
        for (from, to) in edges {
            graph.add_edge(from, to, wide);
        }
        let mut gates = Vec::with_capacity(operations.contacts.len());
        for (number, (_, operation)) in operations.contacts.iter().enumerate() {
            let edge = graph.add_edge(near(number), far(number), 1);
            gates.push((edge, *operation));
        }
        Self { graph, gates, operations }
    }

    /// Wider than all contacts together, so that only contacts are ever cut.
    fn wide(operations: &Operations) -> u64 {
        operations.contacts.len() as u64 + 1
    }

    /// The fewest contacts that complete a cut, nearest to the enclosure, as operations; sorted, each once.
    pub(super) fn complete(&mut self, part: impl Fn(usize) -> Part) -> Option<Vec<usize>> {
        let wide = Self::wide(self.operations);
        for (edge, operation) in &self.gates {
            let width = match part(*operation) {
                Part::Done => 0,
                Part::MayBeDone => 1,
                Part::LeftOut => wide,
            };
            if let Some(weight) = self.graph.edge_weight_mut(*edge) {
                *weight = width;
            }
        }
        if self.reached(|_, width| width == wide, |_| false).get(ORIGIN) == Some(&true) {
            return None;
        }
        let (_, flows) = dinics(&self.graph, NodeIndex::new(ENCLOSURE), NodeIndex::new(ORIGIN));
        let flow = |edge: EdgeIndex| flows.get(edge.index()).copied().unwrap_or(0);
        let reached = self.reached(|edge, width| flow(edge) < width, |edge| flow(edge) > 0);
        let is_reached = |vertex: NodeIndex| reached.get(vertex.index()) == Some(&true);
        let is_cut = |edge: EdgeIndex| {
            let ends = self.graph.edge_endpoints(edge);
            ends.is_some_and(|(near, far)| is_reached(near) && !is_reached(far))
        };
        let cut = self.gates.iter().filter(|(edge, operation)| part(*operation) != Part::Done && is_cut(*edge));
        let mut cut: Vec<usize> = cut.map(|(_, operation)| *operation).collect();
        cut.sort_unstable();
        cut.dedup();
        Some(cut)
    }

    /// The vertices reached from the enclosure by edges with room forwards, and by edges with a flow backwards.
    fn reached(&self, forwards: impl Fn(EdgeIndex, u64) -> bool, backwards: impl Fn(EdgeIndex) -> bool) -> Vec<bool> {
        let mut reached = vec![false; self.graph.node_count()];
        let mut waiting = vec![NodeIndex::new(ENCLOSURE)];
        while let Some(vertex) = waiting.pop() {
            let Some(mark) = reached.get_mut(vertex.index()).filter(|mark| !**mark) else { continue };
            *mark = true;
            let onwards =
                self.graph.edges_directed(vertex, Outgoing).filter(|edge| forwards(edge.id(), *edge.weight()));
            waiting.extend(onwards.map(|edge| edge.target()));
            let back = self.graph.edges_directed(vertex, Incoming).filter(|edge| backwards(edge.id()));
            waiting.extend(back.map(|edge| edge.source()));
        }
        reached
    }
}
