//! Whether energy still reaches an enclosure with everything opened that its notice lists.

use super::Network;
use super::graph::{DescribedBy, NodeKind};
use super::id::{EnclosureId, NodeId};

/// What the search for a path came to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ProofResult {
    /// Everything is described, and no path was found.
    NoPathFound,
    /// A path was found: live parts remain.
    Live,
    /// The chain is not described in full, so nothing can be said.
    Unknown,
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

/// The search for a path from any source to any live part of one enclosure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Proof {
    /// What it came to.
    pub result: ProofResult,
    /// Every path found, source first, by designation.
    pub paths: Vec<Vec<String>>,
    /// Where the description ends: what is known only by name, each once, sorted.
    pub ends: Vec<String>,
}

/// Walks back from the live parts of an enclosure to where the description ends.
///
/// With a survey alone every chain ends at once, so that the result is unknown.
pub(super) fn prove(network: &Network, enclosure: EnclosureId) -> Proof {
    let mut ends = Vec::new();
    for way in network.way_ids(enclosure) {
        let Some(node) = network.live_parts(way) else { continue };
        let before = network.graph().into_node(node);
        if before.is_empty() {
            ends.push(network.node_name(node));
        }
        let undescribed = before.iter().filter(|feed| is_undescribed(network, feed.from));
        ends.extend(undescribed.map(|feed| network.node_name(feed.from)));
    }
    ends.sort_unstable();
    ends.dedup();
    Proof { result: ProofResult::Unknown, paths: Vec::new(), ends }
}

fn is_undescribed(network: &Network, node: NodeId) -> bool {
    network.graph().node(node).is_none_or(|node| match node.described_by {
        DescribedBy::Survey => !matches!(node.kind, NodeKind::LiveParts(_)),
        DescribedBy::SuppliesFile => false,
    })
}
