//! How far a system extends: what is connected without passing a transformer, a converter or a UPS.
//!
//! How many lines a row has says nothing of the devices beyond: a direct-current isolator of two poles parts what feeds
//! an inverter, however many lines its output has.

use petgraph::unionfind::UnionFind;
use smallvec::SmallVec;

use super::super::graph::{Feed, Graph, NodeKind};
use super::super::id::NodeId;
use super::conduction::{begins_system, load, supply};

/// Some extents, hardly ever more: nothing is allocated for them.
pub(super) type ExtentsMet = SmallVec<[usize; 4]>;

/// The extents of a network, each known by one of its terminals.
#[derive(Debug)]
pub(super) struct Extents {
    /// The extent of each terminal.
    of: Vec<usize>,
    /// How many lines or poles each extent has, by the terminal that stands for it; `None` where it is not said.
    lines: Vec<Option<u8>>,
}

impl Extents {
    /// The extents of a network.
    pub(super) fn of(graph: &Graph) -> Self {
        let mut joined = UnionFind::<usize>::new(graph.nodes().len() * 2);
        for (index, node) in graph.nodes().iter().enumerate() {
            if !begins_system(node.kind) || node.kind == NodeKind::Source {
                joined.union(supply(NodeId::new(index)), load(NodeId::new(index)));
            }
        }
        for feed in graph.feeds() {
            let direct = graph.direct_feeds(feed.to);
            if direct.is_empty() {
                joined.union(load(feed.from), supply(feed.to));
            }
            // A system of direct current and one of alternating current that come to one converter are two.
            let alike = |other: &&Feed| !direct.is_empty() && direct.contains(other) == direct.contains(feed);
            graph.into_node(feed.to).iter().filter(alike).for_each(|other| {
                joined.union(load(feed.from), load(other.from));
            });
        }
        let transforms = |node: NodeId| graph.node(node).is_some_and(|node| begins_system(node.kind));
        let of = joined.into_labeling();
        let mut lines: Vec<Option<Option<u8>>> = vec![None; of.len()];
        for node in (0..graph.nodes().len()).map(NodeId::new).filter(|node| transforms(*node)) {
            let Some(extent) = of.get(load(node)).and_then(|extent| lines.get_mut(*extent)) else { continue };
            let begun = graph.lines(node);
            *extent = Some(extent.map_or(begun, |known| known.zip(begun).map(|(one, other)| one.max(other))));
        }
        Self { of, lines: lines.into_iter().map(Option::flatten).collect() }
    }

    /// The extent of a terminal.
    pub(super) fn at(&self, terminal: usize) -> usize {
        self.of.get(terminal).copied().unwrap_or(terminal)
    }

    /// The extents of some terminals, each once; sorted.
    pub(super) fn of_all(&self, terminals: &[usize]) -> ExtentsMet {
        let mut extents: ExtentsMet = terminals.iter().map(|terminal| self.at(*terminal)).collect();
        extents.sort_unstable();
        extents.dedup();
        extents
    }

    /// How many lines or poles an extent has.
    pub(super) fn lines(&self, extent: usize) -> Option<u8> {
        self.lines.get(extent).copied().flatten()
    }
}
