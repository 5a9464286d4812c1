//! What the rows of an enclosure say of the devices that they name, beyond what each of these is said to be.

use super::super::copper::joins_its_feeds;
use super::super::graph::{DescribedBy, Graph, NodeKind};
use super::super::id::NodeId;

/// What rows say of devices.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct ByRows {
    /// The devices through which one line comes: every row that hangs on them has no more; sorted.
    pub(super) of_one_line: Vec<NodeId>,
    /// Devices of one pole that one row names and that stand between the same two places, such as the two fuses of a battery.
    pub(super) side_by_side: Vec<Vec<NodeId>>,
}

/// Of devices of which no row is asked.
pub(super) static NOTHING: ByRows = ByRows { of_one_line: Vec::new(), side_by_side: Vec::new() };

impl ByRows {
    /// Whether one line comes through a device by every row that hangs on it.
    pub(super) fn has_one_line(&self, device: NodeId) -> bool {
        self.of_one_line.binary_search(&device).is_ok()
    }

    /// Notes which of the devices that one row names stand side by side.
    pub(super) fn add_side_by_side(&mut self, graph: &Graph, devices: impl Iterator<Item = NodeId>) {
        let mut devices: Vec<NodeId> = devices.filter(|device| is_of_one_pole(graph, *device)).collect();
        if devices.len() < 2 {
            return;
        }
        let between = |device: &NodeId| {
            let above: Vec<NodeId> = graph.into_node(*device).iter().map(|feed| feed.from).collect();
            let below: Vec<NodeId> = graph.out_of_node(*device).iter().map(|feed| feed.to).collect();
            (above, below)
        };
        devices.sort_unstable_by_key(|device| (between(device), *device));
        devices.dedup();
        let all = devices.chunk_by(|one, other| between(one) == between(other)).filter(|all| all.len() > 1);
        self.side_by_side
            .extend(all.filter(|all| all.first().is_some_and(|it| is_one_place(graph, *it))).map(Vec::from));
    }

    /// How many lines an open device parts with those that stand beside it and are open too, each of them another one; `None`
    /// where it stands alone.
    pub(super) fn lines_together(&self, open: &[NodeId], device: NodeId) -> Option<u8> {
        let is_open = |it: &&NodeId| **it == device || open.binary_search(it).is_ok();
        let all = self.side_by_side.iter().filter(|all| all.contains(&device));
        let most = all.map(|all| all.iter().filter(is_open).count()).max();
        most.map(|most| u8::try_from(most).unwrap_or(u8::MAX))
    }
}

/// Whether it is an isolator that is said to have one pole: what lies beside one with more poles may be a line of the same.
fn is_of_one_pole(graph: &Graph, device: NodeId) -> bool {
    let node = graph.node(device).filter(|node| node.described_by() == DescribedBy::SuppliesFile);
    let is_isolator = node.filter(|node| node.kind == NodeKind::Isolator);
    is_isolator.and_then(|node| node.poles).is_some_and(|poles| poles.lines == 1)
}

/// Whether one thing feeds a device, and what it feeds is joined there with what else feeds that.
fn is_one_place(graph: &Graph, device: NodeId) -> bool {
    let joins = |node: NodeId| graph.node(node).is_some_and(|node| joins_its_feeds(node.kind));
    graph.into_node(device).len() == 1 && graph.out_of_node(device).iter().all(|feed| joins(feed.to))
}
