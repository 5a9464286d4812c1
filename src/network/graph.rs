//! The network as a graph: nodes, and the feeds by which energy can pass from one to the next.
//!
//! A survey describes only the last part of every chain: the isolator, the supply before it and the source in the end.
//! What lies between is not known, and a node described only by the survey says so.

use super::id::{DeviceId, NodeId, SourceId, SupplyId, WayId};

/// Which of the user's files describes a thing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum DescribedBy {
    /// A cell of the survey names it; what feeds it is not known in full.
    Survey,
    /// A row of the supplies file describes it and all that feeds it.
    SuppliesFile,
}

/// What a node stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum NodeKind {
    /// Where energy comes from in the end.
    Source(SourceId),
    /// A `fed_from` of the survey: a board, transformer or source, and it is not known which.
    Supply(SupplyId),
    /// A busbar or board.
    Busbar(SupplyId),
    /// A transformer: voltage and earthing begin anew at its output.
    Transformer(SupplyId),
    /// An uninterruptible power supply: a source of its own with its input open.
    Ups(SupplyId),
    /// A converter.
    Converter(SupplyId),
    /// A device suitable for isolation.
    Isolator(DeviceId),
    /// A device that is not suitable for isolation; opening it proves nothing.
    Switch(DeviceId),
    /// A changeover; it isolates only where it has an off position.
    Changeover {
        /// The device.
        device: DeviceId,
        /// Whether it has an off position.
        off_position: bool,
    },
    /// The live parts that one row brings into its enclosure.
    LiveParts(WayId),
}

/// A node of the graph.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Node {
    /// What it stands for.
    pub kind: NodeKind,
    /// Which file describes it.
    pub described_by: DescribedBy,
}

/// A feed: energy can pass this way.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Feed {
    /// Where it ends; first, so that feeds sort by it.
    pub to: NodeId,
    /// Where it begins.
    pub from: NodeId,
}

/// The nodes and feeds of a network, each feed once, sorted by where it ends.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Graph {
    nodes: Vec<Node>,
    feeds: Vec<Feed>,
}

impl Graph {
    /// Every node.
    #[must_use]
    pub fn nodes(&self) -> &[Node] {
        &self.nodes
    }

    /// Every feed, sorted by where it ends.
    #[must_use]
    pub fn feeds(&self) -> &[Feed] {
        &self.feeds
    }

    /// A node.
    #[must_use]
    pub fn node(&self, id: NodeId) -> Option<Node> {
        self.nodes.get(id.index()).copied()
    }

    /// The feeds that end at a node.
    #[must_use]
    pub fn into_node(&self, node: NodeId) -> &[Feed] {
        let start = self.feeds.partition_point(|feed| feed.to < node);
        let rest = self.feeds.get(start..).unwrap_or_default();
        let length = rest.partition_point(|feed| feed.to == node);
        rest.get(..length).unwrap_or_default()
    }

    /// Adds a node.
    pub(super) fn add_node(&mut self, kind: NodeKind, described_by: DescribedBy) -> NodeId {
        let id = NodeId::new(self.nodes.len());
        self.nodes.push(Node { kind, described_by });
        id
    }

    /// Adds a feed; [`Graph::finish`] brings the feeds into order.
    pub(super) fn add_feed(&mut self, from: NodeId, to: NodeId) {
        self.feeds.push(Feed { to, from });
    }

    /// Sorts the feeds and leaves each once.
    pub(super) fn finish(&mut self) {
        self.feeds.sort_unstable();
        self.feeds.dedup();
    }
}
