//! Whether a device parts the lines of several rows together: two circuits of one line each, of different lines, hang on two
//! lines, and a device of one pole parts one of them.

use smallvec::SmallVec;

use super::super::graph::Graph;
use super::super::id::NodeId;
use super::super::lines::Lines;
use super::brought;
use super::conduction::{load, supply};
use super::declared::{Declared, DeclaredRow};
use super::search::{Reach, may_come_to};

/// The opened devices that parted rows from something.
#[derive(Debug, Default)]
pub(super) struct Together(SmallVec<[Parted; 4]>);

/// A device that parted a row from something.
#[derive(Clone, Copy, Debug)]
struct Parted {
    device: NodeId,
    /// The terminal from which that would come.
    from: usize,
    /// The lines that the row names.
    named: Lines,
    /// Whether it has a live midpoint besides.
    midpoint: u8,
}

impl Together {
    /// Takes a row along: only devices within its own system, and that part it as far as it is alone.
    pub(super) fn add(&mut self, declared: &Declared<'_>, row: &DeclaredRow<'_>, reach: &Reach) {
        let named = row.needs.named;
        if !named.is_known() {
            return;
        }
        let midpoint = row.needs.lines.map_or(0, |lines| lines.saturating_sub(named.count().max(1)));
        let extents = &declared.groundwork.extents;
        let home = extents.of_all(&row.live_parts);
        let is_there = |node: NodeId| home.binary_search(&extents.at(load(node))).is_ok();
        let does_alone = |node: NodeId| count(named) + midpoint <= lines_parted(declared.graph, node);
        let devices = reach.met_by_lines.iter().filter(|(node, _)| is_there(*node) && does_alone(*node));
        self.0.extend(devices.map(|(device, from)| Parted { device: *device, from: *from, named, midpoint }));
    }

    /// The devices that are not said to part so many lines, where something would come on those that they leave, with these
    /// nodes open; each once.
    pub(super) fn too_few(mut self, declared: &Declared<'_>, open: &[NodeId]) -> SmallVec<[NodeId; 2]> {
        let graph = declared.graph;
        // Devices one beside the other have the lines in common: three fuses of one pole part three.
        let place = |parted: &Parted| (parted.from == supply(parted.device), feeds(graph, parted), parted.from);
        self.0.sort_unstable_by_key(place);
        let beside = |one: &Parted, other: &Parted| match (place(one), place(other)) {
            ((true, one, _), (true, other, _)) if one.is_some() => one == other,
            ((.., one), (.., other)) => one == other,
        };
        let mut found = SmallVec::new();
        for group in self.0.chunk_by(beside) {
            let mut devices: SmallVec<[NodeId; 4]> = group.iter().map(|parted| parted.device).collect();
            devices.dedup();
            let parted = devices.iter().map(|device| lines_parted(graph, *device)).fold(0, u8::saturating_add);
            let lines = group.iter().fold(Lines::default(), |all, parted| all.union(parted.named));
            let midpoint = group.iter().map(|parted| parted.midpoint).max().unwrap_or(0);
            let needed = count(lines) + midpoint;
            // What comes to a device at one of its terminals has no more lines than stand beyond it.
            let comes_more = |it: &&Parted| {
                !brought::at_most(graph, it.device, it.from, lines_parted(graph, it.device))
                    && may_come_to(graph, declared.groundwork, open, (it.device, it.from), needed)
            };
            if needed > parted {
                found.extend(group.iter().filter(comes_more).map(|parted| parted.device));
            }
        }
        found.sort_unstable();
        found.dedup();
        found
    }
}

/// What alone feeds a device.
fn feeds(graph: &Graph, parted: &Parted) -> Option<NodeId> {
    match graph.into_node(parted.device) {
        [feed] => Some(feed.from),
        _ => None,
    }
}

/// How many lines a device parts, for all that is said.
fn lines_parted(graph: &Graph, device: NodeId) -> u8 {
    graph.node(device).and_then(|node| node.poles).map_or(1, |poles| poles.lines)
}

/// How many lines, or poles where those are more.
fn count(lines: Lines) -> u8 {
    lines.count_for(Lines::default())
}
