//! Whether energy still reaches an enclosure with everything opened that its notice lists.
//!
//! The result is never "safe": it is that no path was found, that one was found, or that it is not known.

mod declared;

mod brought;
mod by_rows;
mod clear;
mod conduction;
mod extent;
mod flood;
mod joined;
mod prepared;
mod pruning;
mod search;

mod bottleneck;
mod cut;
mod dominators;
mod fitness;
mod flow;
mod line_side;
mod near_flow;
mod nearest;
mod operations;
mod plain;
mod region;
mod surplus;
mod together;
mod trying;

pub(super) use line_side::line_sides;
pub use line_side::{LineSide, LineSideAsked};
pub(super) use prepared::Prepared;

use conduction::{load, numbers};
use declared::{Declared, Verdict};

use super::Network;
use super::id::{DeviceId, EnclosureId, NodeId, WayId};

/// What the search for a path came to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ProofResult {
    /// Everything is described, and no path was found.
    NoPathFound,
    /// The network is not described in full, so nothing can be said.
    Unknown,
    /// A path was found, or a part cannot be isolated by the survey's own word: live parts remain.
    Live,
}

impl ProofResult {
    /// The name in reports.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::NoPathFound => "no-path-found",
            Self::Live => "live",
            Self::Unknown => "unknown",
        }
    }
}

/// What carries the energy of a path.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Carrier {
    /// Line conductors, or poles.
    Lines,
    /// A neutral that can be live and stays connected.
    Neutral,
    /// The neutral of another circuit, which this row shares or borrows.
    SharedNeutral,
    /// Line conductors, to output terminals of a UPS of which no row speaks.
    Output,
}

/// A path by which energy still reaches live parts.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct LivePath {
    /// The row whose live parts it reaches.
    pub way: WayId,
    /// What carries it.
    pub carrier: Carrier,
    /// The nodes that it passes, source first, the one next to the live parts last.
    pub nodes: Vec<NodeId>,
}

/// Why it is not known whether live parts remain.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Gap {
    /// Energy may come to the output terminals of this device, and the enclosure that holds it bears another name, so that
    /// they are not proved.
    OutputNotProved(NodeId),
    /// Nothing says what isolates this row, or what feeds it.
    NothingSaid(WayId),
    /// Only the survey names this node; the supplies file does not describe it, or there is none.
    NotDescribed(NodeId),
    /// The supplies file does not say what feeds this node.
    FeedNotSaid(NodeId),
    /// It is not said which conductors this opened node parts, and this row needs more than one parted; or it stands in
    /// another system than the row, of which it is not said to part every line.
    PolesNotSaid(NodeId, WayId),
    /// It is not said that this changeover switches the neutral, or as many lines as come to it, so that what comes to one of
    /// its feeds may reach this row by another, whatever its position.
    SwitchedNotSaid(NodeId, WayId),
    /// This opened node is not said to part as many lines as the rows of the enclosure behind it name, of which each by
    /// itself has no more than it parts.
    LinesTogetherNotSaid(NodeId),
    /// It is not said whether this row has a neutral, and one that can be live would stay connected.
    ConductorsNotSaid(WayId),
    /// It is not said whether the neutral that begins at this node can be live.
    NeutralNotSaid(NodeId, WayId),
    /// Nothing tells where the circuit runs whose neutral this row shares.
    LenderNotFound(WayId),
    /// It is not said whether this converter lets energy of one kind of current out at a feed of the other kind, along
    /// which it would reach this row.
    AcrossNotSaid(NodeId, WayId),
    /// A UPS may feed back along these nodes, UPS first, the one next to the live parts last.
    BackFeed(WayId, Vec<NodeId>),
}

impl Gap {
    /// The row to which a UPS may feed back, and the nodes along which it does.
    #[must_use]
    pub fn back_feed(&self) -> Option<(WayId, &[NodeId])> {
        match self {
            Self::BackFeed(way, nodes) => Some((*way, nodes)),
            Self::OutputNotProved(_)
            | Self::NothingSaid(_)
            | Self::NotDescribed(_)
            | Self::FeedNotSaid(_)
            | Self::PolesNotSaid(..)
            | Self::SwitchedNotSaid(..)
            | Self::LinesTogetherNotSaid(_)
            | Self::ConductorsNotSaid(_)
            | Self::NeutralNotSaid(..)
            | Self::LenderNotFound(_)
            | Self::AcrossNotSaid(..) => None,
        }
    }
}

/// A smallest set of devices that makes the enclosure dead in the model. Advice: it never replaces what is declared.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cut {
    /// The devices to open, those of one coupled interlock together; sorted.
    pub devices: Vec<NodeId>,
    /// How many operations that takes: devices, and coupled interlocks as one each.
    pub operations: usize,
    /// False where more interlocks bear on it than are looked at one by one, or the network is too large and meshed to
    /// try what else would do.
    pub proved_smallest: bool,
}

/// The search for a path from any source to any live part of one enclosure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Proof {
    /// What it came to.
    pub result: ProofResult,
    /// A shortest path to each row and carrier that is still live, sorted. Rows that the survey declares impossible to
    /// isolate have none: their notice says so.
    pub paths: Vec<LivePath>,
    /// Why it is not known, each reason once, sorted.
    pub gaps: Vec<Gap>,
    /// The smallest set of devices suitable for isolation; nearest to the enclosure where several are as small. `None`
    /// where no such set exists or the network is not described.
    pub cut: Option<Cut>,
    /// Devices declared each of which changes nothing while the others are open; only where no path was found.
    pub surplus: Vec<DeviceId>,
}

impl Proof {
    /// Nothing is known, and nothing says why.
    #[must_use]
    pub const fn unknown() -> Self {
        Self { result: ProofResult::Unknown, paths: Vec::new(), gaps: Vec::new(), cut: None, surplus: Vec::new() }
    }

    /// The one device that would do, if one does.
    #[must_use]
    pub fn single_device(&self) -> Option<NodeId> {
        match self.cut.as_ref()?.devices.as_slice() {
            [only] => Some(*only),
            _ => None,
        }
    }
}

/// Whether a node stands in another system than the live parts of a way: beyond a transformer, a converter or a UPS.
pub(super) fn stands_apart(network: &Network, node: NodeId, way: WayId) -> bool {
    let graph = network.graph();
    let (extents, live_parts) = (&graph.prepared().of(graph).extents, numbers(graph, network.live_parts(way)));
    !live_parts.is_empty() && extents.of_all(&live_parts).binary_search(&extents.at(load(node))).is_err()
}

/// Opens what the rows of an enclosure declare, and looks what still reaches each of them.
pub(super) fn prove(network: &Network, enclosure: EnclosureId) -> Proof {
    let ways: Vec<WayId> = network.way_ids(enclosure).collect();
    let declared = Declared::of(network, &ways);
    let unproved = network.unproved.get(&enclosure.index()).map_or(&[][..], Vec::as_slice);
    let unproved: Vec<Gap> = declared.unproved(unproved).map(Gap::OutputNotProved).collect();
    // What parts the rows from every source leaves those terminals as they are.
    let cut = if unproved.is_empty() { cut::smallest(&declared) } else { None };
    let verdict = declared.verdict(&declared.open).with(unproved);
    let surplus = match verdict.result {
        ProofResult::NoPathFound => surplus::surplus(&declared, &verdict),
        ProofResult::Unknown | ProofResult::Live => Vec::new(),
    };
    let Verdict { result, paths, gaps, .. } = verdict;
    Proof { result, paths, gaps, cut, surplus }
}

#[cfg(test)]
mod tests;
