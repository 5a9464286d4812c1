//! Whether a device parts the lines of several rows together: two circuits of one line each, of different lines, hang on two
//! lines, and a device of one pole parts one of them.

use smallvec::SmallVec;

use super::super::graph::Graph;
use super::super::id::NodeId;
use super::super::lines::Lines;
use super::brought;
use super::conduction::load;
use super::declared::{Declared, DeclaredRow};
use super::search::Reach;

/// The opened devices that parted rows from something: each with the terminal from which that would come, and the lines that
/// such a row names.
#[derive(Debug, Default)]
pub(super) struct Together(SmallVec<[(NodeId, usize, Lines); 4]>);

impl Together {
    /// Takes a row along: only devices within its own system, and that part it as far as it is alone.
    pub(super) fn add(&mut self, declared: &Declared<'_>, row: &DeclaredRow<'_>, reach: &Reach) {
        let named = row.needs.named;
        if !named.is_known() {
            return;
        }
        let extents = &declared.groundwork.extents;
        let home = extents.of_all(&row.live_parts);
        let is_there = |node: NodeId| home.binary_search(&extents.at(load(node))).is_ok();
        let does_alone = |node: NodeId| count(named) <= lines_parted(declared.graph, node);
        let devices = reach.met_by_lines.iter().filter(|(node, _)| is_there(*node) && does_alone(*node));
        self.0.extend(devices.map(|(node, from)| (*node, *from, named)));
    }

    /// The devices that are not said to part so many lines; each once.
    pub(super) fn too_few(mut self, graph: &Graph) -> impl Iterator<Item = NodeId> {
        self.0.sort_unstable_by_key(|(device, from, _)| (*device, *from));
        let mut found = SmallVec::<[NodeId; 2]>::new();
        // What comes to a device at one of its terminals has no more lines than stand beyond it.
        for behind in self.0.chunk_by(|(one, from, _), (other, there, _)| (one, from) == (other, there)) {
            let Some((device, from, _)) = behind.first().copied() else { continue };
            let lines = behind.iter().fold(Lines::default(), |all, (.., lines)| all.union(*lines));
            let parted = lines_parted(graph, device);
            if count(lines) > parted && !brought::at_most(graph, device, from, parted) {
                found.push(device);
            }
        }
        found.dedup();
        found.into_iter()
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
