//! What the rows of an enclosure declare, opened in the model.

use std::collections::BTreeMap;

use super::super::graph::{Graph, Terminal};
use super::super::id::{DeviceId, NodeId, WayId};
use super::super::live_parts::{Outputs, Unproved};
use super::super::{Isolated, Lender, Network};
use super::by_rows::ByRows;
use super::conduction::{load, numbers};
use super::prepared::Groundwork;
use super::search::{Reach, Row, may_reach_output, reach};
use super::together::Together;
use super::{Gap, LivePath, ProofResult};

/// The rows of one enclosure, and the devices that they declare.
pub(super) struct Declared<'a> {
    pub(super) graph: &'a Graph,
    pub(super) groundwork: &'a Groundwork,
    /// The rows that can be searched, but for those that are the same copper as one that cannot be isolated.
    pub(super) rows: Vec<DeclaredRow<'a>>,
    /// The devices declared, each once, sorted.
    pub(super) devices: Vec<(DeviceId, NodeId)>,
    /// The nodes that are open with all of them opened, sorted.
    pub(super) open: Vec<NodeId>,
    /// What the rows say of these devices.
    pub(super) by_rows: ByRows,
    /// Whether a row cannot be isolated by the survey's own word.
    pub(super) is_impossible: bool,
    /// Where the live parts of such rows are: they stay live, and the notice says so.
    stays_live: Vec<usize>,
    /// Whether there is a supplies file; without one nothing is known of any network.
    has_supplies_file: bool,
    /// The rows of which it is not said what isolates them, or where they are connected.
    unsaid: Vec<WayId>,
}

/// A row, and where its live parts are.
pub(super) struct DeclaredRow<'a> {
    pub(super) way: WayId,
    pub(super) live_parts: Vec<usize>,
    pub(super) needs: super::super::Needs,
    pub(super) lender: &'a Lender,
    /// Where the circuits hang whose neutral it shares, by how many lines they have there.
    pub(super) lent: Vec<(Option<u8>, Vec<usize>)>,
    /// Where energy comes from outside to the output of the UPS whose enclosure it comes into.
    outputs: Option<&'a Outputs>,
    /// Whether the survey names its devices; without them, it takes part in advice only.
    pub(super) is_searched: bool,
}

impl DeclaredRow<'_> {
    /// What a search needs of it.
    fn as_row<'a>(&'a self, by_rows: &'a ByRows) -> Row<'a> {
        let Self { way, needs, lender, outputs, .. } = *self;
        Row { way, live_parts: &self.live_parts, needs, lender, lent: &self.lent, outputs, by_rows }
    }

    /// What must be parted, and from where.
    pub(super) fn parted(&self) -> (super::super::Needs, &[usize]) {
        (self.needs, &self.live_parts)
    }

    /// Whether its live parts are at the output of a UPS.
    pub(super) const fn has_outputs(&self) -> bool {
        self.outputs.is_some()
    }

    /// The output terminals of which no row speaks and that are proved with this one.
    pub(super) fn further(&self) -> &[Terminal] {
        self.outputs.map_or(&[], |outputs| &outputs.further)
    }

    /// How many lines come to these.
    pub(super) fn lines_to_further(&self, graph: &Graph) -> Option<u8> {
        self.outputs.and_then(|outputs| outputs.lines_to_further(graph, self.needs.lines_to_part()))
    }
}

/// What opening some devices comes to.
pub(super) struct Verdict {
    pub(super) result: ProofResult,
    pub(super) paths: Vec<LivePath>,
    pub(super) gaps: Vec<Gap>,
    /// The opened nodes that the search of a row met, with the row's place among those searched; sorted.
    pub(super) met: Vec<(NodeId, usize)>,
}

impl Verdict {
    /// The same with further gaps.
    pub(super) fn with(mut self, further: Vec<Gap>) -> Self {
        if !further.is_empty() && self.result == ProofResult::NoPathFound {
            self.result = ProofResult::Unknown;
        }
        self.gaps.extend(further);
        self.gaps.sort_unstable();
        self
    }
}

impl<'a> Declared<'a> {
    /// The rows of an enclosure.
    pub(super) fn of(network: &'a Network, ways: &[WayId]) -> Self {
        let graph = network.graph();
        let mut declared = Self {
            graph,
            groundwork: graph.prepared().of(graph),
            rows: Vec::with_capacity(ways.len()),
            devices: Vec::new(),
            open: Vec::new(),
            by_rows: ByRows::default(),
            is_impossible: false,
            stays_live: Vec::new(),
            has_supplies_file: !network.described.is_empty(),
            unsaid: Vec::new(),
        };
        ways.iter().for_each(|way| declared.add(network, *way));
        declared.by_rows.of_one_line = declared.devices_of_one_line();
        let Self { rows, stays_live, groundwork, .. } = &mut declared;
        rows.retain_mut(|row| {
            let is_same_copper = groundwork.copper.is_within(&row.live_parts, stays_live);
            if is_same_copper {
                // That is said already. The outputs proved with it are not.
                (row.live_parts, row.lender, row.lent) = (Vec::new(), &Lender::None, Vec::new());
            }
            !is_same_copper || !row.further().is_empty()
        });
        declared.devices.sort_unstable();
        declared.devices.dedup();
        declared.open = declared.opened(declared.devices.iter().map(|(_, node)| *node));
        declared
    }

    fn add(&mut self, network: &'a Network, id: WayId) {
        let Some(way) = network.ways.get(id.index()) else { return };
        let is_searched = match &way.isolated {
            Isolated::Impossible => {
                self.is_impossible = true;
                self.stays_live.extend(numbers(self.graph, network.live_parts(id)));
                return;
            }
            Isolated::Unknown => false,
            Isolated::By(devices) => {
                let nodes = devices.iter().filter_map(|device| Some((*device, network.device_node(*device)?)));
                let known = self.devices.len();
                self.devices.extend(nodes);
                let of_row = self.devices.iter().skip(known).map(|(_, node)| *node);
                self.by_rows.add_side_by_side(self.graph, of_row);
                true
            }
        };
        let live_parts = numbers(self.graph, network.live_parts(id));
        if !is_searched || live_parts.is_empty() {
            self.unsaid.push(id);
        }
        let (needs, lender, outputs) = (way.needs, network.lender(id), network.outputs.get(&id));
        let lent = lent(network, lender);
        self.rows.push(DeclaredRow { way: id, live_parts, needs, lender, lent, outputs, is_searched });
    }

    /// Only what the cells of the rows say: what follows from the systems there may change with a further source.
    fn devices_of_one_line(&self) -> Vec<NodeId> {
        let hangs_there = |row: &&DeclaredRow<'_>, node: NodeId| row.live_parts.contains(&load(node));
        let is_of_one_line = |node: &NodeId| {
            let mut rows = self.rows.iter().filter(|row| hangs_there(row, *node)).peekable();
            rows.peek().is_some() && rows.all(|row| row.needs.lines == Some(1))
        };
        let mut nodes: Vec<NodeId> = self.devices.iter().map(|(_, node)| *node).filter(is_of_one_line).collect();
        nodes.sort_unstable();
        nodes.dedup();
        nodes
    }

    /// Everything that is open with these devices opened; sorted.
    pub(super) fn opened(&self, devices: impl Iterator<Item = NodeId>) -> Vec<NodeId> {
        let mut open: Vec<NodeId> = devices.flat_map(|node| self.groundwork.operated_with(self.graph, node)).collect();
        open.sort_unstable();
        open.dedup();
        open
    }

    /// What still reaches one row with these nodes open.
    pub(super) fn reach(&self, row: &DeclaredRow<'_>, open: &[NodeId]) -> Reach {
        reach(self.graph, self.groundwork, open, &row.as_row(&self.by_rows))
    }

    /// What opening these nodes comes to for all rows.
    pub(super) fn verdict(&self, open: &[NodeId]) -> Verdict {
        let mut verdict =
            Verdict { result: ProofResult::NoPathFound, paths: Vec::new(), gaps: Vec::new(), met: Vec::new() };
        verdict.gaps.extend(self.unsaid.iter().map(|way| Gap::NothingSaid(*way)));
        let mut together = Together::default();
        for (place, row) in self.rows.iter().enumerate().filter(|(_, row)| row.is_searched) {
            let reach = self.reach(row, open);
            together.add(self, open, row.parted(), &reach);
            verdict.paths.extend(reach.paths);
            verdict.gaps.extend(reach.gaps);
            verdict.met.extend(reach.met.into_iter().map(|(node, _)| (node, place)));
        }
        verdict.gaps.extend(together.too_few(self, open).into_iter().map(Gap::LinesTogetherNotSaid));
        verdict.paths.sort_unstable();
        verdict.gaps.sort_unstable();
        verdict.gaps.dedup();
        verdict.met.sort_unstable();
        let is_live = !verdict.paths.is_empty() || self.is_impossible;
        verdict.result = if !self.has_supplies_file || self.has_no_row() {
            ProofResult::Unknown
        } else if is_live {
            ProofResult::Live
        } else if verdict.gaps.is_empty() {
            ProofResult::NoPathFound
        } else {
            ProofResult::Unknown
        };
        verdict
    }

    /// The devices to whose output terminals energy may come with everything declared open.
    pub(super) fn unproved<'b>(&'b self, outputs: &'b [Unproved]) -> impl Iterator<Item = NodeId> + use<'a, 'b> {
        let may_be_live = |outputs: &&Unproved| {
            may_reach_output(self.graph, self.groundwork, &self.open, (outputs.device, &outputs.terminals))
        };
        outputs.iter().filter(may_be_live).map(|outputs| outputs.device)
    }

    fn has_no_row(&self) -> bool {
        self.rows.is_empty() && !self.is_impossible
    }
}

/// Where the circuits hang whose neutral a row shares, by how many lines they have there.
fn lent(network: &Network, lender: &Lender) -> Vec<(Option<u8>, Vec<usize>)> {
    let Lender::At(terminals) = lender else { return Vec::new() };
    let mut by_lines: BTreeMap<Option<u8>, Vec<usize>> = BTreeMap::new();
    for terminal in terminals {
        let at = numbers(network.graph(), std::slice::from_ref(terminal));
        by_lines.entry(network.lines_sharing(*terminal)).or_default().extend(at);
    }
    by_lines.into_iter().collect()
}
