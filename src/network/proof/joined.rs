//! What comes to a feed of a changeover by another one, past its switches: a changeover of too few poles leaves lines
//! connected, and one that does not switch the neutral leaves that, whatever its position.
//!
//! Which of several lines it switches nobody says. It switches all that a feed has where the device through which that
//! comes is told to have no more poles, or where the sources beyond bring no more.

use super::super::graph::{DescribedBy, Graph, Node, NodeKind};
use super::super::id::NodeId;
use super::brought;
use super::conduction::{load, node_of};
use super::flood::Gate;
use super::search::{Conductors, Opened};

/// How the lines of a feed stand to the poles of the changeover.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Room {
    /// It has no more.
    Enough,
    /// Nobody tells how many poles the device has through which the feed comes.
    NotSaid,
    /// It has more, for all that is said.
    TooLittle,
}

impl Opened<'_> {
    /// What a changeover does to energy that comes by its other feeds to a terminal that feeds it.
    pub(super) fn gate_beside(&self, changeover: NodeId, to: usize) -> Gate {
        let Some(node) = self.graph.node(changeover) else { return Gate::Conducts };
        let gate = self.parted_by(changeover, node.poles);
        let (Conductors::Lines(_), Some(poles)) = (self.conductors, node.poles) else { return gate };
        // What is joined is what both sides have.
        let here = node_of(to);
        let room = |feed: NodeId| self.room(changeover, feed, poles.lines);
        let feeds = self.graph.into_node(changeover).iter().map(|feed| feed.from).filter(|feed| *feed != here);
        let of_others = feeds.map(room).max().unwrap_or(Room::Enough);
        match (of_others.min(room(here)), gate) {
            (Room::Enough, _) => Gate::Blocks,
            // The row may have the very line that is not switched.
            (Room::TooLittle, Gate::Blocks) if self.has_more_lines(changeover, poles.lines) => Gate::Doubtful,
            (Room::NotSaid, Gate::Conducts) => Gate::Doubtful,
            (Room::NotSaid | Room::TooLittle, _) => gate,
        }
    }

    /// Whether the system at a node may have more lines than so many.
    fn has_more_lines(&self, id: NodeId, lines: u8) -> bool {
        let extents = &self.groundwork.extents;
        extents.lines(extents.at(load(id))).is_none_or(|all| all > lines)
    }

    fn room(&self, changeover: NodeId, feed: NodeId, lines: u8) -> Room {
        if brought::by_feed_at_most(self.graph, changeover, feed, lines, self.live_midpoint) {
            return Room::Enough;
        }
        let mut is_said = true;
        for device in alone_above(self.graph, changeover, feed) {
            match device.poles {
                Some(poles) if poles.lines <= lines => return Room::Enough,
                Some(_) => {}
                None => is_said = false,
            }
        }
        if is_said { Room::TooLittle } else { Room::NotSaid }
    }
}

/// The isolators through which a feed of a changeover comes, as far as each feeds nothing else and has one feed.
fn alone_above(graph: &Graph, changeover: NodeId, feed: NodeId) -> Vec<Node> {
    let mut devices = Vec::new();
    let (mut below, mut next) = (changeover, Some(feed));
    // What feeds one thing alone is met once, so that this ends.
    while let Some((id, node)) = next.and_then(|id| Some((id, graph.node(id)?))) {
        let passes = match node.kind {
            NodeKind::Isolator => true,
            NodeKind::Cutout | NodeKind::Switch | NodeKind::Busbar => false,
            NodeKind::Changeover { .. }
            | NodeKind::Source
            | NodeKind::Transformer
            | NodeKind::Ups { .. }
            | NodeKind::Converter
            | NodeKind::NotKnown => break,
        };
        let feeds_this_alone = graph.out_of_node(id).iter().all(|feed| feed.to == below);
        let [above] = graph.into_node(id) else { break };
        if !feeds_this_alone || node.described_by() != DescribedBy::SuppliesFile {
            break;
        }
        devices.extend(Some(node).filter(|_| passes));
        (below, next) = (id, Some(above.from));
    }
    devices
}
