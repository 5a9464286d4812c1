//! The network as a graph: nodes, and the feeds by which energy can pass from one to the next.
//!
//! A node stands for one device, board, transformer or source, and has two sides: what feeds it is connected to its
//! supply side, what it feeds to its load side. Whether it connects the two depends on what it is and on whether it is
//! open. A closed conductor knows no direction: energy passes a feed either way, so that solar modules on a sub-board
//! reach the main board. A node that only the survey names says so, because what feeds it is not known in full.

use rayon::slice::ParallelSliceMut;

use super::id::{DeviceId, InterlockId, NodeId, SourceId, SupplyId};
use super::proof::Prepared;
use crate::survey::value::Poles;

/// Which of the user's files describes a thing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum DescribedBy {
    /// Only a cell names it, of the survey or a `fed_from` of the supplies file; what feeds it is not known in full.
    Survey,
    /// A row of the supplies file describes it and all that feeds it.
    SuppliesFile,
}

/// How a node conducts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum NodeKind {
    /// Where energy comes from in the end: its load side is live, whatever is switched.
    Source,
    /// A device suitable for isolation: conducts either way, and no longer once it is open.
    Isolator,
    /// The network operator's cut-out: conducts either way, and is never the user's to open.
    Cutout,
    /// A device that is not suitable for isolation: conducts either way, open or not.
    Switch,
    /// A changeover: connects its load side to any one of its feeds, but two feeds to each other only in what it does not
    /// switch. It isolates only where it has an off position.
    Changeover {
        /// Whether it has an off position; false where it is not said.
        off_position: bool,
    },
    /// A transformer: conducts either way; voltage, earthing and neutral begin anew at its load side.
    Transformer,
    /// A UPS: conducts from its feeds to its load side. Towards its feeds it may feed back, which its description does
    /// not rule out.
    Ups {
        /// Whether its battery is part of it, so that its load side is live by itself; false where a battery that the
        /// supplies file describes is among what feeds it.
        own_battery: bool,
    },
    /// A converter: conducts from its feeds to its load side only, but for one that charges a battery.
    Converter,
    /// A busbar or board: connects everything, and cannot be opened.
    Busbar,
    /// Something known only by name, such as a `fed_from` that no row describes: what it does is not known.
    NotKnown,
}

impl NodeKind {
    /// Whether it can be where energy comes from: a source, or a UPS with whatever battery.
    #[must_use]
    pub const fn brings_energy(self) -> bool {
        matches!(self, Self::Source | Self::Ups { .. })
    }

    /// Whether opening it isolates.
    #[must_use]
    pub const fn is_suitable_for_isolation(self) -> bool {
        match self {
            Self::Isolator | Self::Changeover { off_position: true } => true,
            Self::Changeover { off_position: false }
            | Self::Source
            | Self::Cutout
            | Self::Switch
            | Self::Transformer
            | Self::Ups { .. }
            | Self::Converter
            | Self::Busbar
            | Self::NotKnown => false,
        }
    }
}

/// What gives a node its name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Named {
    /// The row of the supplies file at this place of its list.
    Described(u32),
    /// A device that only the survey names.
    Device(DeviceId),
    /// A supply that only the survey names.
    Supply(SupplyId),
    /// A source that only the survey names.
    Source(SourceId),
    /// A name at this place of the list of those that only cells of the supplies file bear.
    Mentioned(u32),
}

/// Whether the neutral that begins at a node can be live.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Neutral {
    /// It does not begin here: the node is no source, transformer, UPS or converter.
    PassedOn,
    /// It is earthed in a TN system, or there is none.
    Earthed,
    /// TT, IT, one line earthed, or a source that may run alone.
    MayBeLive,
    /// The file does not say enough.
    NotKnown,
}

/// A node of the graph.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Node {
    /// How it conducts.
    pub kind: NodeKind,
    /// What gives it its name.
    pub named: Named,
    /// What it switches, by either file; `None` where neither says.
    pub poles: Option<Poles>,
    /// The `coupled` interlock whose one handle opens it.
    pub coupled: Option<InterlockId>,
    /// Whether the neutral that begins here can be live.
    pub neutral: Neutral,
}

impl Node {
    /// Which file describes it.
    #[must_use]
    pub const fn described_by(&self) -> DescribedBy {
        match self.named {
            Named::Described(_) => DescribedBy::SuppliesFile,
            Named::Device(_) | Named::Supply(_) | Named::Source(_) | Named::Mentioned(_) => DescribedBy::Survey,
        }
    }
}

/// A feed: `from`'s load side and `to`'s supply side are connected.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Feed {
    /// Where it ends; first, so that feeds sort by it.
    pub to: NodeId,
    /// Where it begins.
    pub from: NodeId,
}

/// A side of a node.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Side {
    /// Where it is fed.
    Supply,
    /// Where it feeds others.
    Load,
}

/// A side of one node: where live parts are connected.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Terminal {
    /// The node.
    pub node: NodeId,
    /// Which side of it.
    pub side: Side,
}

/// The number of a node's supply side, where every terminal has one.
pub(super) const fn supply(node: NodeId) -> usize {
    node.index() * 2
}

/// The number of a node's load side.
pub(super) const fn load(node: NodeId) -> usize {
    node.index() * 2 + 1
}

/// The nodes and feeds of a network, each feed once.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Graph {
    /// The converters that a described battery feeds: what charges it comes back through them.
    charging: Vec<NodeId>,
    /// The feeds that bring direct current to a converter to which others bring alternating current; sorted.
    direct: Vec<Feed>,
    nodes: Vec<Node>,
    by_end: Vec<Feed>,
    by_beginning: Vec<Feed>,
    /// For each node at which a system begins, how many lines or poles that has.
    lines: Vec<Option<u8>>,
    prepared: Prepared,
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
        &self.by_end
    }

    /// A node.
    #[must_use]
    pub fn node(&self, id: NodeId) -> Option<Node> {
        self.nodes.get(id.index()).copied()
    }

    /// The feeds that end at a node.
    #[must_use]
    pub fn into_node(&self, node: NodeId) -> &[Feed] {
        run_of(&self.by_end, node, |feed| feed.to)
    }

    /// The feeds that begin at a node.
    #[must_use]
    pub fn out_of_node(&self, node: NodeId) -> &[Feed] {
        run_of(&self.by_beginning, node, |feed| feed.from)
    }

    /// How many lines or poles the system has that begins at a node; `None` where none begins, or it is not said.
    #[must_use]
    pub fn lines(&self, node: NodeId) -> Option<u8> {
        self.lines.get(node.index()).copied().flatten()
    }

    /// What every proof needs of these nodes and feeds.
    pub(super) const fn prepared(&self) -> &Prepared {
        &self.prepared
    }

    /// One with room for so many nodes.
    pub(super) fn with_capacity(nodes: usize) -> Self {
        Self { nodes: Vec::with_capacity(nodes), lines: Vec::with_capacity(nodes), ..Self::default() }
    }

    /// Adds a node.
    pub(super) fn add_node(&mut self, node: Node) -> NodeId {
        let id = NodeId::new(self.nodes.len());
        self.nodes.push(node);
        self.lines.push(None);
        id
    }

    /// Notes how many lines or poles the system has that begins at a node.
    pub(super) fn set_lines(&mut self, id: NodeId, lines: Option<u8>) {
        if let Some(known) = self.lines.get_mut(id.index()) {
            *known = lines;
        }
    }

    /// Whether a node is a converter that charges a battery, and so conducts towards its feeds too.
    #[must_use]
    pub fn is_charging(&self, id: NodeId) -> bool {
        self.charging.contains(&id)
    }

    /// Notes a converter that charges a battery.
    pub(super) fn set_charging(&mut self, id: NodeId) {
        if !self.is_charging(id) {
            self.charging.push(id);
        }
    }

    /// The feeds that bring direct current to this converter, to which others bring alternating current: the two kinds
    /// are not connected there. None of a converter whose feeds may be of one kind.
    #[must_use]
    pub fn direct_feeds(&self, converter: NodeId) -> &[Feed] {
        run_of(&self.direct, converter, |feed| feed.to)
    }

    /// Notes the feeds that bring direct current to converters to which others bring alternating current.
    pub(super) fn set_direct(&mut self, mut feeds: Vec<Feed>) {
        feeds.sort_unstable();
        self.direct = feeds;
        self.prepared = Prepared::default();
    }

    /// A node that is still being described.
    pub(super) fn node_mut(&mut self, id: NodeId) -> Option<&mut Node> {
        self.nodes.get_mut(id.index())
    }

    /// Adds a feed; [`Graph::finish`] brings the feeds into order.
    pub(super) fn add_feed(&mut self, from: NodeId, to: NodeId) {
        self.by_end.push(Feed { to, from });
    }

    /// Sorts the feeds and leaves each once.
    pub(super) fn finish(&mut self) {
        self.prepared = Prepared::default();
        self.nodes.shrink_to_fit();
        self.lines.shrink_to_fit();
        self.by_end.par_sort_unstable();
        self.by_end.dedup();
        self.by_end.shrink_to_fit();
        self.by_beginning.clone_from(&self.by_end);
        self.by_beginning.par_sort_unstable_by_key(|feed| (feed.from, feed.to));
    }
}

/// The feeds of a sorted list that bear this node.
fn run_of(feeds: &[Feed], node: NodeId, end: impl Fn(&Feed) -> NodeId) -> &[Feed] {
    let start = feeds.partition_point(|feed| end(feed) < node);
    let rest = feeds.get(start..).unwrap_or_default();
    let length = rest.partition_point(|feed| end(feed) == node);
    rest.get(..length).unwrap_or_default()
}
