//! How many lines can come through one opened device at all: what stands beyond it may have fewer than the row.
//!
//! A single-phase inverter brings one line to a board of three, and its isolator of one pole parts all that it brings.
//! Whatever is not known of the part beyond lets the row's own number of lines stand. Beyond counts everything that is
//! connected without passing the device or what begins a system, in any position of anything; the sources there are taken
//! for different lines, because nothing says that they are on the same one. The supplies file tells poles alone: where
//! rows name a live midpoint, each source may bring one beside them.

use std::collections::HashSet;

use super::super::graph::{DescribedBy, Graph, NodeKind};
use super::super::id::NodeId;
use super::conduction::{begins_system, is_load, load, node_of, supply};

/// Whether no more than so many lines, or poles and live midpoints, can come to a device at one of its terminals.
pub(super) fn at_most(graph: &Graph, device: NodeId, terminal: usize, lines: u8, live_midpoint: bool) -> bool {
    is_at_most(graph, device, terminal, HashSet::from([terminal]), (lines, live_midpoint))
}

/// Whether no more than so many can come to a changeover by one of its feeds, past none of its others.
pub(super) fn by_feed_at_most(graph: &Graph, changeover: NodeId, feed: NodeId, lines: u8, live_midpoint: bool) -> bool {
    let known = HashSet::from([load(feed), supply(changeover), load(changeover)]);
    is_at_most(graph, changeover, load(feed), known, (lines, live_midpoint))
}

/// The same of what comes to a terminal without passing those that are known.
fn is_at_most(
    graph: &Graph,
    device: NodeId,
    terminal: usize,
    mut known: HashSet<usize>,
    (lines, live_midpoint): (u8, bool),
) -> bool {
    let mut waiting = vec![terminal];
    let mut sources: HashSet<NodeId> = HashSet::new();
    let mut brought = 0_u8;
    while let Some(terminal) = waiting.pop() {
        let id = node_of(terminal);
        let Some(node) = graph.node(id).filter(|node| node.described_by() == DescribedBy::SuppliesFile) else {
            return false;
        };
        let begins = begins_system(node.kind) && (is_load(terminal) || node.kind == NodeKind::Source);
        if begins && sources.insert(id) {
            let Some(more) = graph.lines(id) else { return false };
            brought = brought.saturating_add(more).saturating_add(u8::from(live_midpoint));
        }
        if brought > lines || !begins && may_bring_more(graph, id, node.kind, terminal) {
            return false;
        }
        if id != device && !begins_system(node.kind) {
            let other = if is_load(terminal) { supply(id) } else { load(id) };
            waiting.extend(known.insert(other).then_some(other));
        }
        let feeds = graph.into_node(id).iter().filter(|_| !is_load(terminal)).map(|feed| load(feed.from));
        let fed = graph.out_of_node(id).iter().filter(|_| is_load(terminal)).map(|feed| supply(feed.to));
        waiting.extend(feeds.chain(fed).filter(|next| known.insert(*next)));
    }
    brought > 0
}

/// Whether energy of which nothing is said can come to this terminal: through a device that conducts back, or because
/// what feeds it is not described.
fn may_bring_more(graph: &Graph, id: NodeId, kind: NodeKind, terminal: usize) -> bool {
    match kind {
        NodeKind::NotKnown => true,
        NodeKind::Transformer | NodeKind::Ups { .. } => !is_load(terminal),
        NodeKind::Converter => !is_load(terminal) && graph.is_charging(id),
        NodeKind::Source => false,
        NodeKind::Isolator | NodeKind::Cutout | NodeKind::Switch | NodeKind::Changeover { .. } | NodeKind::Busbar => {
            !is_load(terminal) && graph.into_node(id).is_empty()
        }
    }
}
