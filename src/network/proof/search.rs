//! One row at a time: what still reaches its live parts with a given set of devices open.

use smallvec::SmallVec;

use super::super::graph::{Graph, Neutral, Node, NodeKind, Side, Terminal};
use super::super::id::{NodeId, WayId};
use super::super::live_parts::Outputs;
use super::super::needs::{Lender, Needs};
use super::brought;
use super::by_rows::{ByRows, NOTHING};
use super::conduction::{Conduction, End, begins_neutral, is_load, load, node_of, numbers};
use super::extent::ExtentsMet;
use super::flood::{Doubt, Flood, Gate, View};
use super::prepared::Groundwork;
use super::{Carrier, Gap, LivePath};
use crate::survey::value::Poles;

/// The conductors that a search follows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Conductors {
    /// Lines or poles, so many of which must be parted; `None` where it is not said.
    Lines(Option<u8>),
    /// The neutral.
    Neutral,
}

/// A network with some devices open, as one kind of conductor meets it.
pub(super) struct Opened<'a> {
    /// The nodes.
    pub(super) graph: &'a Graph,
    /// What is worked out of them.
    pub(super) groundwork: &'a Groundwork,
    /// The nodes that are open, sorted.
    pub(super) open: &'a [NodeId],
    /// What is searched.
    pub(super) conductors: Conductors,
    /// Whether a live midpoint is among them.
    pub(super) live_midpoint: bool,
    /// The extents of the systems on which the live parts stand, sorted.
    pub(super) home: ExtentsMet,
    /// What the rows say of the devices that they name.
    pub(super) by_rows: &'a ByRows,
    /// What nothing is searched through, whether open or not.
    pub(super) passed: Option<NodeId>,
}

impl View for Opened<'_> {
    fn gate(&self, id: NodeId, from: usize) -> Gate {
        match self.open.binary_search(&id).is_err() {
            true if self.passed == Some(id) => Gate::Blocks,
            true => Gate::Conducts,
            false => self.gate_towards(id, from),
        }
    }

    fn gate_unswitched(&self, changeover: NodeId, to: usize) -> Gate {
        self.gate_beside(changeover, to)
    }

    fn is_end(&self, terminal: usize) -> bool {
        self.conduction().end(terminal) != End::Nothing
    }
}

impl<'a> Opened<'a> {
    /// What a node does to energy that comes to it at one of its terminals, once it is open: of the row's own system, too,
    /// fewer lines may come that way than the row has, and of another one no more than the survey says.
    pub(super) fn gate_towards(&self, id: NodeId, from: usize) -> Gate {
        let gate = self.gate_opened(id);
        let isolator = self.graph.node(id).filter(|node| node.kind == NodeKind::Isolator && gate != Gate::Blocks);
        let Some(isolator) = isolator.filter(|_| node_of(from) == id) else { return gate };
        let parted = self.poles(id, &isolator).map_or(1, |poles| poles.lines);
        let is_parted = match self.is_at_home(id) {
            true => brought::at_most(self.graph, id, from, parted, self.live_midpoint),
            // The row that says so counts as parted by it, so what hangs on that row's conductors does too.
            false => !is_load(from) && parted >= 1 && self.by_rows.has_one_line(id),
        };
        if is_parted && matches!(self.conductors, Conductors::Lines(_)) { Gate::Blocks } else { gate }
    }

    /// What a node parts once it is open, with what stands beside it and is open too.
    fn poles(&self, id: NodeId, node: &Node) -> Option<Poles> {
        let together = self.by_rows.lines_together(self.open, id);
        node.poles.map(|poles| Poles { lines: together.unwrap_or(poles.lines), ..poles })
    }

    /// Whether a node stands in the system of the live parts.
    pub(super) fn is_at_home(&self, id: NodeId) -> bool {
        self.home.binary_search(&self.groundwork.extents.at(load(id))).is_ok()
    }

    /// What a node does to what is searched once it is open, whichever way the energy comes.
    pub(super) fn gate_opened(&self, id: NodeId) -> Gate {
        let Some(node) = self.graph.node(id) else { return Gate::Conducts };
        if node.kind.is_suitable_for_isolation() { self.parted_by(id, self.poles(id, &node)) } else { Gate::Conducts }
    }

    /// What so many poles part where a node stands.
    pub(super) fn parted_by(&self, id: NodeId, poles: Option<Poles>) -> Gate {
        if self.conductors == Conductors::Neutral || self.is_at_home(id) {
            return parts(poles, self.conductors);
        }
        // What a row needs holds within its own system. Of another one some lines may lead on by themselves.
        let extents = &self.groundwork.extents;
        let needed = extents.lines(extents.at(load(id)));
        let is_enough = poles.map_or(needed == Some(1), |poles| poles.lines >= needed.unwrap_or(MOST_LINES));
        if is_enough { Gate::Blocks } else { Gate::Doubtful }
    }

    /// How what is searched conducts.
    pub(super) const fn conduction(&self) -> &'a Conduction {
        match self.conductors {
            Conductors::Lines(_) => &self.groundwork.lines,
            Conductors::Neutral => &self.groundwork.neutrals,
        }
    }

    /// The node whose neutral begins at a terminal.
    pub(super) fn begins_at(&self, terminal: usize) -> Option<Node> {
        self.graph.node(node_of(terminal)).filter(|node| is_load(terminal) && begins_neutral(node))
    }
}

/// Lines of a system of which nothing is said.
pub(super) const MOST_LINES: u8 = 3;

/// What so many poles do to these conductors of their own system.
const fn parts(poles: Option<Poles>, conductors: Conductors) -> Gate {
    match (conductors, poles) {
        (Conductors::Lines(Some(needed)), Some(poles)) if poles.lines < needed => Gate::Conducts,
        (Conductors::Lines(None), Some(poles)) if poles.lines < MOST_LINES => Gate::Doubtful,
        (Conductors::Lines(Some(0 | 1)), None) | (Conductors::Lines(_), Some(_)) => Gate::Blocks,
        (Conductors::Lines(_) | Conductors::Neutral, None) => Gate::Doubtful,
        (Conductors::Neutral, Some(poles)) if poles.neutral => Gate::Blocks,
        (Conductors::Neutral, Some(_)) => Gate::Conducts,
    }
}

/// A network of which one node conducts nothing.
pub(super) struct Without<'a, 'b> {
    /// The network.
    pub(super) view: &'b Opened<'a>,
    /// The node.
    pub(super) node: NodeId,
}

impl View for Without<'_, '_> {
    fn gate(&self, node: NodeId, from: usize) -> Gate {
        if node == self.node { Gate::Blocks } else { self.view.gate(node, from) }
    }

    fn gate_unswitched(&self, changeover: NodeId, to: usize) -> Gate {
        self.view.gate_unswitched(changeover, to)
    }

    fn is_end(&self, terminal: usize) -> bool {
        self.view.is_end(terminal)
    }
}

/// A row whose live parts are searched.
#[derive(Clone, Copy)]
pub(super) struct Row<'a> {
    /// The row.
    pub(super) way: WayId,
    /// Where its live parts are connected, as numbers of terminals.
    pub(super) live_parts: &'a [usize],
    /// What its devices must part.
    pub(super) needs: Needs,
    /// Whose neutral it shares.
    pub(super) lender: &'a Lender,
    /// Where those circuits hang, by how many lines they have there.
    pub(super) lent: &'a [(Option<u8>, Vec<usize>)],
    /// Where energy comes from outside to the output of the UPS whose enclosure it comes into.
    pub(super) outputs: Option<&'a Outputs>,
    /// What the rows of its enclosure say of the devices that they name.
    pub(super) by_rows: &'a ByRows,
}

/// What still reaches a row.
#[derive(Debug, Default)]
pub(super) struct Reach {
    /// A shortest path for each carrier.
    pub(super) paths: Vec<LivePath>,
    /// What is not known.
    pub(super) gaps: Vec<Gap>,
    /// The opened devices that the searches met, with the terminal from which energy would come, sorted: no others bear on
    /// this row.
    pub(super) met: Vec<(NodeId, usize)>,
    /// Those that the search of its lines met.
    pub(super) met_by_lines: SmallVec<[(NodeId, usize); 2]>,
}

/// Searches from the live parts of a row, with these nodes open.
pub(super) fn reach(graph: &Graph, groundwork: &Groundwork, open: &[NodeId], row: &Row<'_>) -> Reach {
    let mut search = Search { graph, groundwork, open, row, passed: None, found: Reach::default() };
    let mut own = row.outputs.map_or_else(Vec::new, |outputs| numbers(graph, &outputs.own));
    own.retain(|terminal| row.live_parts.contains(terminal));
    let mut others = SmallVec::<[usize; 4]>::from_slice(row.live_parts);
    others.retain(|terminal| !own.contains(terminal));
    let needed = row.needs.lines_to_part();
    let mut lines = search.lines(&others);
    if let Some(outputs) = row.outputs {
        search.passed = Some(outputs.ups);
        let from_outside = search.lines(&own);
        lines.path = lines.path.or(from_outside.path);
        lines.gaps.extend(from_outside.gaps);
        let further = numbers(graph, &outputs.further);
        let lines = search.lines_of(&further, outputs.lines_to_further(graph, needed));
        search.keep(Carrier::Output, lines);
    }
    search.keep(Carrier::Lines, lines);
    search.found.met_by_lines.extend_from_slice(&search.found.met);
    if row.needs.neutral != Some(false) {
        search.neutral(Carrier::Neutral, &own);
        search.passed = None;
        search.neutral(Carrier::Neutral, &others);
    }
    search.passed = None;
    match row.lender {
        Lender::None => {}
        Lender::At(terminals) if !terminals.is_empty() => {
            for (needed, starts) in row.lent {
                let lines = search.lines_of(starts, *needed);
                search.keep(Carrier::SharedNeutral, lines);
            }
            // It may be connected with one that is live, past what parts this row.
            if row.needs.neutral != Some(false) {
                row.lent.iter().for_each(|(_, starts)| search.neutral(Carrier::SharedNeutral, starts));
            }
        }
        Lender::At(_) | Lender::NotFound => search.found.gaps.push(Gap::LenderNotFound(row.way)),
    }
    search.found.met.sort_unstable();
    search.found.met.dedup();
    search.found
}

struct Search<'a> {
    graph: &'a Graph,
    groundwork: &'a Groundwork,
    open: &'a [NodeId],
    row: &'a Row<'a>,
    /// The UPS at whose output the live parts are. Whether it keeps them live itself is what other live parts of that
    /// enclosure tell; sought is what comes to them from outside.
    passed: Option<NodeId>,
    found: Reach,
}

/// What the lines bring to some terminals.
#[derive(Debug, Default)]
struct Energy {
    /// A shortest path, source first.
    path: Option<Vec<NodeId>>,
    gaps: Vec<Gap>,
}

impl Energy {
    /// Whether the terminals may be live, known or not.
    fn is_possible(&self) -> bool {
        self.path.is_some() || !self.gaps.is_empty()
    }
}

impl<'a> Search<'a> {
    fn keep(&mut self, carrier: Carrier, energy: Energy) {
        let is_new = self.found.paths.iter().all(|path| path.carrier != carrier);
        let path = energy.path.filter(|_| is_new);
        self.found.paths.extend(path.map(|nodes| LivePath { way: self.row.way, carrier, nodes }));
        self.found.gaps.extend(energy.gaps);
    }

    fn flood(&mut self, conductors: Conductors, starts: &[usize]) -> (Opened<'a>, Flood) {
        let Self { graph, groundwork, open, .. } = *self;
        let home = groundwork.extents.of_all(starts);
        let Self { passed, row: &Row { by_rows, needs: Needs { live_midpoint, .. }, .. }, .. } = *self;
        let view = Opened { graph, groundwork, open, conductors, live_midpoint, home, by_rows, passed };
        let mut flood = Flood::from(view.conduction(), &view, starts);
        self.found.met.append(&mut flood.met);
        (view, flood)
    }

    /// What the lines bring. An opened device in doubt is a gap only where something stands beyond it.
    fn lines(&mut self, starts: &[usize]) -> Energy {
        self.lines_of(starts, self.row.needs.lines_to_part())
    }

    /// What so many lines bring.
    fn lines_of(&mut self, starts: &[usize], needed: Option<u8>) -> Energy {
        let (_, flood) = self.flood(Conductors::Lines(needed), starts);
        let mut energy = Energy::default();
        for (place, reached) in flood.reached.iter().enumerate() {
            let node = node_of(reached.place.terminal);
            match self.groundwork.lines.end(reached.place.terminal) {
                End::Nothing => {}
                // Its battery, as at every output of it.
                End::Live if self.passed == Some(node) => {
                    energy.gaps.push(Gap::BackFeed(self.row.way, flood.way_from(place)));
                }
                End::Live if energy.path.is_some() => {}
                End::Live => energy.path = Some(flood.way_from(place)),
                End::BackFeed => energy.gaps.push(Gap::BackFeed(self.row.way, flood.way_from(place))),
                End::NotDescribed => energy.gaps.push(Gap::NotDescribed(node)),
                End::FeedNotSaid => energy.gaps.push(Gap::FeedNotSaid(node)),
            }
        }
        let doubts = flood.doubts.iter().filter(|doubt| !doubt.beyond.is_empty());
        energy.gaps.extend(doubts.map(|doubt| self.doubted(doubt)));
        energy
    }

    /// What is not known of a node behind which something can bring energy.
    fn doubted(&self, doubt: &Doubt) -> Gap {
        let node = doubt.node;
        let is_converter = self.graph.node(node).is_some_and(|node| node.kind == NodeKind::Converter);
        match (is_converter, doubt.is_unswitched) {
            (true, _) => Gap::AcrossNotSaid(node, self.row.way),
            (false, true) => Gap::SwitchedNotSaid(node, self.row.way),
            (false, false) => Gap::PolesNotSaid(node, self.row.way),
        }
    }

    /// What the neutral brings from where it begins.
    fn neutral(&mut self, carrier: Carrier, live_parts: &[usize]) {
        let groundwork = self.groundwork;
        let starts = live_parts.iter().copied().filter(|terminal| groundwork.neutral_matters(*terminal));
        let starts: Vec<usize> = starts.collect();
        if starts.is_empty() {
            return;
        }
        let (view, flood) = self.flood(Conductors::Neutral, &starts);
        let mut path: Option<Vec<NodeId>> = None;
        for (place, reached) in flood.reached.iter().enumerate() {
            let terminal = reached.place.terminal;
            match groundwork.neutrals.end(terminal) {
                End::NotDescribed => self.found.gaps.push(Gap::NotDescribed(node_of(terminal))),
                End::FeedNotSaid => self.found.gaps.push(Gap::FeedNotSaid(node_of(terminal))),
                End::Nothing | End::Live | End::BackFeed => {}
            }
            let is_outside = self.passed != Some(node_of(terminal));
            let Some(node) = view.begins_at(terminal).filter(|_| is_outside) else { continue };
            let Some(mut nodes) = self.live_neutral(node, terminal) else { continue };
            nodes.extend(flood.way_from(place));
            nodes.dedup();
            if path.as_ref().is_none_or(|known| (nodes.len(), &nodes) < (known.len(), known)) {
                path = Some(nodes);
            }
        }
        match path {
            // Of a row that does not say whether it has a neutral, this is not known to be one of its conductors.
            Some(_) if self.row.needs.neutral.is_none() => self.found.gaps.push(Gap::ConductorsNotSaid(self.row.way)),
            path => self.keep(carrier, Energy { path, gaps: Vec::new() }),
        }
        for doubt in &flood.doubts {
            if doubt.beyond.iter().any(|terminal| self.may_be_live(&view, *terminal)) {
                self.found.gaps.push(self.doubted(doubt));
            }
        }
    }

    /// The path from a source to where a live neutral begins; keeps what is not known of it.
    fn live_neutral(&mut self, node: Node, terminal: usize) -> Option<Vec<NodeId>> {
        match node.neutral {
            Neutral::Earthed | Neutral::PassedOn => None,
            Neutral::MayBeLive => {
                let energy = self.energy_at(node, terminal);
                self.found.gaps.extend(energy.gaps);
                energy.path
            }
            Neutral::NotKnown => {
                if self.energy_at(node, terminal).is_possible() {
                    self.found.gaps.push(Gap::NeutralNotSaid(node_of(terminal), self.row.way));
                }
                None
            }
        }
    }

    fn energy_at(&mut self, node: Node, terminal: usize) -> Energy {
        if matches!(node.kind, NodeKind::Source | NodeKind::Ups { own_battery: true }) {
            return Energy { path: Some(vec![node_of(terminal)]), gaps: Vec::new() };
        }
        self.lines(&[load(node_of(terminal))])
    }

    /// Whether an end of a search for neutrals may bring a live one.
    fn may_be_live(&mut self, view: &Opened<'_>, terminal: usize) -> bool {
        let Some(node) = view.begins_at(terminal) else { return true };
        match node.neutral {
            Neutral::Earthed | Neutral::PassedOn => false,
            Neutral::MayBeLive | Neutral::NotKnown => self.energy_at(node, terminal).is_possible(),
        }
    }
}

/// Whether energy may come to output terminals of a device, for all that is known: past it, or through it from what feeds it.
/// What it keeps inside is not asked here, and an open device that is not said to part every line is held to part them: of
/// both the rows tell that name them.
pub(super) fn may_reach_output(
    graph: &Graph,
    groundwork: &Groundwork,
    open: &[NodeId],
    (device, terminals): (NodeId, &[Terminal]),
) -> bool {
    // Where its input is live it gives out what it makes, or charges what it keeps.
    let input = Terminal { node: device, side: Side::Supply };
    [terminals, &[input]].into_iter().any(|terminals| may_reach(graph, groundwork, open, (device, terminals)))
}

/// Whether energy may come to some terminals of a device from anywhere else.
fn may_reach(
    graph: &Graph,
    groundwork: &Groundwork,
    open: &[NodeId],
    (device, terminals): (NodeId, &[Terminal]),
) -> bool {
    let starts = numbers(graph, terminals);
    let home = groundwork.extents.of_all(&starts);
    let conductors = Conductors::Lines(None);
    let live_midpoint = false;
    let view = Opened { graph, groundwork, open, conductors, live_midpoint, home, by_rows: &NOTHING, passed: None };
    let flood = Flood::from(view.conduction(), &view, &starts);
    let mut reached = flood.reached.iter().map(|reached| reached.place.terminal);
    let is_closed = |doubt: &Doubt| doubt.is_unswitched || open.binary_search(&doubt.node).is_err();
    reached.any(|terminal| node_of(terminal) != device && view.is_end(terminal))
        || flood.doubts.iter().any(|doubt| is_closed(doubt) && !doubt.beyond.is_empty())
}

/// Whether something may come to a device at one of its terminals, past others that are open, so many lines of which must
/// be parted, a live midpoint among them or not.
pub(super) fn may_come_to(
    graph: &Graph,
    groundwork: &Groundwork,
    open: &[NodeId],
    (device, terminal): (NodeId, usize),
    (lines, live_midpoint): (u8, bool),
) -> bool {
    let home = groundwork.extents.of_all(&[terminal]);
    let conductors = Conductors::Lines(Some(lines));
    let view = Opened { graph, groundwork, open, conductors, live_midpoint, home, by_rows: &NOTHING, passed: None };
    let flood = Flood::from(view.conduction(), &Without { view: &view, node: device }, &[terminal]);
    flood.reached.iter().any(|reached| view.is_end(reached.place.terminal))
        || flood.doubts.iter().any(|doubt| !doubt.beyond.is_empty())
}

/// Whether a neutral that begins at a terminal may be live with everything closed.
pub(super) fn live_neutral_possible(graph: &Graph, groundwork: &Groundwork, terminal: usize) -> bool {
    if groundwork.lines.end(terminal) != End::Nothing {
        return true;
    }
    let needs = Needs { neutral: Some(false), ..Needs::default() };
    let (way, live_parts, lender) = (WayId::new(0), &[terminal][..], &Lender::None);
    let row = Row { way, live_parts, needs, lender, lent: &[], outputs: None, by_rows: &NOTHING };
    let found = reach(graph, groundwork, &[], &row);
    !found.paths.is_empty() || !found.gaps.is_empty()
}
