//! What comes back up the feeds: the generator of one board energises the other through the coupler between them, whichever
//! of the two the supplies file writes as fed by the other.
//!
//! Systems are followed down the feeds. Where several feeds meet, what one of them brings goes up the others too, and on to
//! everything that only switches and busbars part from it; through a changeover what is below it, and never from one of its
//! feeds to another. What comes back through a transformer has another voltage, and is not followed; nor is what a UPS or
//! a converter lets out. Of what nobody describes nothing is known to come back: the proof tells of it.

use std::collections::HashMap;

use super::super::copper::{Copper, joins_its_feeds};
use super::super::graph::{Graph, NodeKind, Side, Terminal, load, supply};
use super::super::id::NodeId;
use super::super::voltage::is_one_nominal;
use super::candidates::{MOST, highest_figure};
use super::circles::circles;
use super::{Others, System, Systems};
use crate::survey::value::Current;

/// Every voltage in one piece of copper, by that piece.
#[derive(Debug, Default)]
pub(super) struct BroughtBack {
    copper: Copper,
    by_piece: HashMap<usize, Piece>,
}

/// What stands in one piece of copper.
#[derive(Debug, Default)]
struct Piece {
    /// The highest come first.
    entries: Vec<Entry>,
    others: Others,
}

/// A system in a piece of copper.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Entry {
    system: System,
    /// The node by which it comes in; `None` of one that is told anew within.
    by: Option<NodeId>,
}

impl BroughtBack {
    /// What comes back in a network whose systems were followed down.
    pub(super) fn of(graph: &Graph, systems: &Systems) -> Self {
        let nodes = || (0..graph.nodes().len()).map(NodeId::new);
        let joins = |node: &NodeId| graph.node(*node).is_some_and(|node| joins_its_feeds(node.kind));
        let mut meeting = nodes().filter(|node| graph.into_node(*node).len() > 1 && joins(node)).peekable();
        if meeting.peek().is_none() {
            return Self::default();
        }
        let mut found = Self { copper: Copper::with_all_closed(graph), by_piece: HashMap::new() };
        for node in nodes().filter(|node| graph.node(*node).is_some_and(|node| is_way_in(node.kind))) {
            found.bring(load(node), systems.on_load_side(node), Some(node));
        }
        for feed in meeting.flat_map(|node| graph.into_node(node)) {
            found.bring(load(feed.from), systems.on_load_side(feed.from), None);
        }
        found.pass_changeovers(graph, systems);
        found
    }

    /// The systems that stand in the copper of some terminals, and whether there may be more.
    pub(super) fn at(&self, graph: &Graph, terminals: &[Terminal]) -> (Vec<System>, Others) {
        let (mut known, mut others) = (Vec::new(), Others::None);
        if self.by_piece.is_empty() {
            return (known, others);
        }
        for number in terminals.iter().flat_map(|terminal| numbers(graph, *terminal)) {
            let Some(there) = self.by_piece.get(&self.copper.piece(number)) else { continue };
            known.extend(there.entries.iter().map(|entry| entry.system));
            others = others.max(there.others);
        }
        (known, others)
    }

    /// Adds systems to the piece of a terminal; whether that changes it.
    fn bring(&mut self, terminal: usize, systems: &[System], by: Option<NodeId>) -> bool {
        let piece = self.by_piece.entry(self.copper.piece(terminal)).or_default();
        let mut is_new = false;
        for system in systems {
            is_new |= piece.take(Entry { system: *system, by });
        }
        is_new
    }

    /// What of a piece comes to a changeover in it that is not brought by that changeover itself.
    fn beside(&self, terminal: usize, changeover: NodeId, through_it: &[System]) -> Vec<System> {
        let entries = self.by_piece.get(&self.copper.piece(terminal)).map_or(&[][..], |piece| &piece.entries);
        let is_beside = |entry: &&Entry| match entry.by {
            Some(by) => by != changeover,
            None => through_it.iter().all(|own| own.began != entry.system.began),
        };
        entries.iter().filter(is_beside).map(|entry| entry.system).collect()
    }

    /// What is below a changeover goes up to each of its feeds, and what is above it down, until nothing more does.
    fn pass_changeovers(&mut self, graph: &Graph, systems: &Systems) {
        let kind = |node: NodeId| graph.node(node).map_or(NodeKind::NotKnown, |node| node.kind);
        let is_ups = |node: NodeId| matches!(kind(node), NodeKind::Ups { .. });
        let passed: Vec<NodeId> = circles(graph).into_iter().flatten().collect();
        let passed = || passed.iter().copied().filter(|node| is_ups(*node) || is_changeover(kind(*node)));
        loop {
            let mut goes_on = false;
            for node in passed().rev().filter(|node| !is_ups(*node)) {
                let rising = self.beside(load(node), node, systems.on_load_side(node));
                for feed in graph.into_node(node) {
                    goes_on |= self.bring(load(feed.from), &rising, Some(node));
                }
            }
            for (node, feed) in passed().flat_map(|node| graph.into_node(node).iter().map(move |feed| (node, feed))) {
                let mut falling = self.beside(load(feed.from), node, &[]);
                // What is direct feeds the battery side of a UPS and goes no further.
                falling.retain(|system| !is_ups(node) || !is_direct(*system));
                goes_on |= self.bring(load(node), &falling, Some(node));
            }
            if !goes_on {
                return;
            }
        }
    }
}

const fn is_changeover(kind: NodeKind) -> bool {
    matches!(kind, NodeKind::Changeover { .. })
}

impl Piece {
    /// Adds a system, of too many the highest; whether the piece changes. Of those that are alike two are kept that come
    /// in by different nodes, so that whichever of these is left out of account, the other tells of it.
    fn take(&mut self, entry: Entry) -> bool {
        let mut alike = self.entries.iter().filter(|known| is_alike(known.system, entry.system));
        let is_told = |known: &Entry| entry.by.is_none() || known.by == entry.by;
        if alike.clone().any(is_told) || alike.nth(1).is_some() {
            return false;
        }
        let figure = |entry: &Entry| entry.system.nominal.map(highest_figure);
        let place = self.entries.partition_point(|known| figure(known) >= figure(&entry));
        self.entries.insert(place, entry);
        if self.entries.len() > MOST_IN_A_PIECE {
            self.entries.pop();
            self.others = Others::TooMany;
        }
        place < MOST_IN_A_PIECE
    }
}

/// So many are told apart in one piece of copper.
const MOST_IN_A_PIECE: usize = 2 * MOST;

/// Whether a voltage comes into the copper behind a node of this kind by the node alone.
const fn is_way_in(kind: NodeKind) -> bool {
    match kind {
        NodeKind::Source
        | NodeKind::Transformer
        | NodeKind::Ups { .. }
        | NodeKind::Converter
        | NodeKind::Changeover { .. } => true,
        NodeKind::Isolator | NodeKind::Cutout | NodeKind::Switch | NodeKind::Busbar | NodeKind::NotKnown => false,
    }
}

/// What comes back to a row on which some systems stand, as far as it brings another voltage or earthing. What does not say
/// how it is earthed is earthed as the others of its voltage are: an inverter mostly leaves that to the mains.
pub(super) fn further(own: &[System], brought_back: &[System]) -> Vec<System> {
    let is_of_one_voltage = |one: &System, other: &System| {
        one.nominal.zip(other.nominal).is_some_and(|(one, other)| is_one_nominal(one, other))
    };
    let adds = |back: &&System| {
        let is_told = |it: &System| is_alike(*it, **back) || back.earthing.is_none() && is_of_one_voltage(it, back);
        let is_told_back = |it: &System| it.earthing.is_some() && is_told(it) && !is_alike(*it, **back);
        back.nominal.is_some() && !own.iter().any(is_told) && !brought_back.iter().any(is_told_back)
    };
    brought_back.iter().filter(adds).copied().collect()
}

fn is_alike(one: System, other: System) -> bool {
    one.nominal == other.nominal && one.earthing == other.earthing
}

fn is_direct(system: System) -> bool {
    system.nominal.is_some_and(|nominal| nominal.current == Current::Dc)
}

/// The numbers at which a terminal is connected: where what feeds a node is not connected there, all of that.
fn numbers(graph: &Graph, terminal: Terminal) -> Vec<usize> {
    let node = terminal.node;
    match terminal.side {
        Side::Load => vec![load(node)],
        Side::Supply if graph.node(node).is_some_and(|node| joins_its_feeds(node.kind)) => vec![supply(node)],
        Side::Supply => graph.into_node(node).iter().map(|feed| load(feed.from)).collect(),
    }
}

#[cfg(test)]
mod tests;
