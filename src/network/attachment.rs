//! Where the live parts of every row hang on the network.
//!
//! A described circuit tells it best. Otherwise it follows from how isolators and supplies lie to each other: below its
//! isolator a circuit hangs on the load side; where energy comes back from below, on the supply side. Names that the
//! supplies file does not describe stand between what is known and the live parts, and so leave the proof unknown.

use std::collections::{HashMap, HashSet};
use std::ops::Range;

use rayon::prelude::*;
use smallvec::SmallVec;

use super::ancestry::{Ancestry, Downstream};
use super::designations::Designations;
use super::graph::{Graph, Named, NodeKind, Side, Terminal};
use super::held::{Held, has_output, held};
use super::id::{NodeId, OfRow, SourceId, WayId};
use super::live_parts::{LiveParts, Outputs, Unproved};
use super::nodes::Nodes;
use super::upstream::feeds_isolators;
use super::{Isolated, Nature, Network, Way};
use crate::supplies::Supplies;
use crate::survey::value::Current;
use crate::survey::{Row, Survey};

/// Finds the terminals of every row, and adds the feeds of what only the survey names.
pub(super) fn attach(
    network: &mut Network,
    survey: &Survey,
    file: &Supplies,
    names: &Designations,
    nodes: &Nodes,
    ancestry: &mut Ancestry,
) {
    let above = ancestry.gathered_from_above(|node| bit_of_source(&network.graph, file, node));
    let mut attaching = Attaching {
        network,
        nodes,
        ancestry,
        above,
        feeds: Vec::new(),
        guesses: Vec::new(),
        ends: HashSet::new(),
        come_back: HashSet::new(),
    };
    let is_described = !names.is_empty();
    // Names are looked up on all cores; what hangs where then follows row after row.
    let find = |name: &str| names.find(name).one().map(NodeId::new);
    let enclosures = &survey.enclosures;
    let own: Vec<_> = enclosures.par_iter().map(|enclosure| find(&enclosure.designation)).collect();
    let circuits = enclosures.par_iter().flat_map_iter(|enclosure| enclosure.rows.iter().map(|row| find(&row.circuit)));
    let circuits: Vec<_> = circuits.collect();
    let mut live_parts = LiveParts::with_capacity(network.ways.len());
    for ((own, ways), enclosure) in own.iter().zip(&network.enclosures).zip(enclosures) {
        let circuits = circuits.get(ways.clone()).unwrap_or_default().iter();
        let rows = enclosure.rows.iter().zip(network.ways.get(ways.clone()).unwrap_or_default());
        for (circuit, (row, way)) in circuits.zip(rows) {
            let mut terminals = if is_described {
                attaching.terminals(*own, *circuit, (row, way))
            } else {
                attaching.undescribed(row, way)
            };
            terminals.sort_unstable();
            terminals.dedup();
            live_parts.push(&terminals);
        }
    }
    let mut inside = Vec::new();
    let mut outputs = HashMap::new();
    for (own, ways) in own.iter().zip(&network.enclosures) {
        let Some(own) = *own else { continue };
        inside.extend(attaching.inside(own, ways.clone(), &live_parts));
        outputs.extend(attaching.outputs(own, ways.clone(), &live_parts));
    }
    let mut unproved: HashMap<usize, Vec<Unproved>> = HashMap::new();
    for held in held(survey, file, names, &network.graph, &own) {
        let found = attaching.unproved(&held, &live_parts);
        found.into_iter().for_each(|found| unproved.entry(held.enclosure).or_default().push(found));
    }
    let Attaching { feeds, guesses, ends, .. } = attaching;
    let beyond_ends = guesses.into_iter().filter(|(_, supply)| !ends.contains(supply));
    for (from, to) in feeds.into_iter().chain(beyond_ends) {
        network.graph.add_feed(from, to);
    }
    network.graph.finish();
    network.live_parts = live_parts.with(&inside);
    (network.outputs, network.unproved) = (outputs, unproved);
}

/// Terminals of one row.
type Terminals = SmallVec<[Terminal; 4]>;

struct Attaching<'a> {
    network: &'a Network,
    nodes: &'a Nodes,
    ancestry: &'a mut Ancestry,
    /// The natures of all sources upstream of each node, as bits.
    above: Vec<u8>,
    feeds: Vec<(NodeId, NodeId)>,
    /// Which source feeds a supply that only the survey names, by the rows that name both.
    guesses: Vec<(NodeId, NodeId)>,
    /// Supplies that only the survey names, and on which parts hang beside a described isolator: energy that comes
    /// through them may come through that isolator too, so that nothing is drawn behind them.
    ends: HashSet<NodeId>,
    /// Isolators through which energy comes up to the output of a device, each with that device.
    come_back: HashSet<(NodeId, NodeId)>,
}

impl Attaching<'_> {
    /// Where the live parts of a row hang, in an enclosure that may itself be described.
    fn terminals(&mut self, own: Option<NodeId>, circuit: Option<NodeId>, (row, way): (&Row, &Way)) -> Terminals {
        let isolators = self.of_devices(way.isolated.devices());
        let supplies: OfRow =
            way.supplies.iter().filter_map(|id| self.nodes.supplies.get(id.index()).copied()).collect();
        let source = way.source.and_then(|id| self.nodes.sources.get(id.index()).copied());
        self.guess(source, &supplies);
        let (known, unknown): (OfRow, OfRow) = isolators.iter().copied().partition(|node| self.is_described(*node));
        let (mut boards, names): (OfRow, OfRow) = supplies.iter().copied().partition(|node| self.is_described(*node));
        let mut before = if supplies.is_empty() { source.into_iter().collect() } else { supplies.clone() };
        // What a described circuit beyond its isolator says is no guess.
        let own_output = own.filter(|_| circuit.is_none());
        if let Some(circuit) = circuit {
            // A circuit elsewhere may bear the same name: what lies off its supplies does not stand for them.
            let is_theirs = boards.is_empty() || boards.iter().any(|board| self.is_related(*board, circuit));
            boards.retain(|_| !is_theirs);
            boards.push(circuit);
            before.clone_from(&boards);
        }
        if isolators.is_empty() {
            return loads(&before);
        }
        // What a device feeds in an enclosure of its own name is its outgoing terminals; a board has devices in it.
        let fed_by_own = own.filter(|own| supplies.contains(own) && !self.is_busbar(*own));
        let told = circuit.or(fed_by_own).filter(|_| unknown.is_empty());
        if let Some(parts) = told.and_then(|circuit| self.own_parts(own, circuit, &supplies, &known)) {
            return parts;
        }
        let (mut terminals, unrelated) = self.related(&known, &boards, way.source, own_output);
        if unknown.is_empty() {
            terminals.extend(loads(&unrelated));
            terminals.extend(loads(&names));
            self.ends.extend(names);
        } else {
            self.lead(&before, (row, way), &unknown);
            terminals.extend(loads(&unknown));
        }
        terminals
    }

    /// The parts of what a row names as its circuit, where they are those and not what its isolators hold below it: bars
    /// in an enclosure of their name, whichever way energy comes to them (one row of each half of a board with a coupler
    /// comes through that against the feed), or that are what the row's supply feeds, or with isolators on either side; and
    /// the outgoing terminals of a device in an enclosure of its name where an isolator beyond them is named.
    fn own_parts(
        &mut self,
        own: Option<NodeId>,
        circuit: NodeId,
        supplies: &[NodeId],
        isolators: &[NodeId],
    ) -> Option<Terminals> {
        let (network, is_own) = (self.network, own == Some(circuit));
        let mut lies = |above: bool| {
            let mut others = isolators.iter().filter(|it| **it != circuit);
            others.any(|it| if above { self.is_below(*it, circuit) } else { self.is_below(circuit, *it) })
        };
        match network.graph.node(circuit)?.kind {
            NodeKind::Busbar => {
                let is_fed = network.graph.into_node(circuit).iter().any(|feed| supplies.contains(&feed.from));
                (is_own || is_fed || lies(true) && lies(false)).then(|| loads(&[circuit]))
            }
            NodeKind::Isolator | NodeKind::Cutout | NodeKind::Switch | NodeKind::Transformer => {
                (is_own && lies(false)).then(|| loads(&[circuit]))
            }
            NodeKind::Source
            | NodeKind::Converter
            | NodeKind::Changeover { .. }
            | NodeKind::Ups { .. }
            | NodeKind::NotKnown => None,
        }
    }

    /// The same where no supplies file describes anything: the isolators hold the parts, whatever feeds them.
    fn undescribed(&mut self, row: &Row, way: &Way) -> Terminals {
        let isolators = self.of_devices(way.isolated.devices());
        let supplies: OfRow =
            way.supplies.iter().filter_map(|id| self.nodes.supplies.get(id.index()).copied()).collect();
        let source = way.source.and_then(|id| self.nodes.sources.get(id.index()).copied());
        self.guess(source, &supplies);
        let before = if supplies.is_empty() { source.into_iter().collect() } else { supplies };
        if isolators.is_empty() {
            return loads(&before);
        }
        self.lead(&before, (row, way), &isolators);
        loads(&isolators)
    }

    /// Where an enclosure that is itself described has live parts that no row of it speaks of, and the row to which they are
    /// counted. Not where a row leaves open what isolates it, or names the enclosure itself as what does.
    fn inside(&mut self, own: NodeId, ways: Range<usize>, live_parts: &LiveParts) -> Vec<(WayId, Terminal)> {
        let Some(kind) = self.network.graph.node(own).map(|node| node.kind) else { return Vec::new() };
        let declared = self.network.ways.get(ways.clone()).unwrap_or_default();
        let leaves_open = |way: &Way| {
            let devices = way.isolated.devices();
            devices.is_empty() || self.of_devices(devices).contains(&own)
        };
        if declared.iter().any(leaves_open) {
            return Vec::new();
        }
        let rows = || ways.clone().map(WayId::new).map(|way| (way, live_parts.of(way)));
        let terminals = || rows().flat_map(|(_, terminals)| terminals);
        let graph = &self.network.graph;
        let further: Vec<NodeId> = match kind {
            NodeKind::Busbar => {
                let is_met = terminals().any(|terminal| self.is_below(terminal.node, own));
                if is_met { Vec::new() } else { vec![own] }
            }
            NodeKind::Source | NodeKind::Converter => {
                let fed = |node| graph.out_of_node(own).iter().any(|feed| feed.to == node);
                let is_output = |terminal: &Terminal| kind == NodeKind::Source || terminal.side == Side::Supply;
                let is_met = |it: &Terminal| it.node == own || is_output(it) && fed(it.node);
                if terminals().any(is_met) { Vec::new() } else { vec![own] }
            }
            // Every feed ends at terminals in there, whether a row speaks of it or not.
            NodeKind::Changeover { .. }
            | NodeKind::Ups { .. }
            | NodeKind::Isolator
            | NodeKind::Cutout
            | NodeKind::Switch
            | NodeKind::Transformer => {
                let feeds: Vec<NodeId> = graph.into_node(own).iter().map(|feed| feed.from).collect();
                let is_met = |attaching: &mut Self, from| terminals().any(|it| attaching.is_below(it.node, from));
                feeds.into_iter().filter(|from| !is_met(self, *from)).collect()
            }
            NodeKind::NotKnown => Vec::new(),
        };
        if further.is_empty() {
            return Vec::new();
        }
        let related = |(_, terminals): &(WayId, &[Terminal])| terminals.iter().any(|it| self.is_related(it.node, own));
        let way = rows().find(related).or_else(|| rows().next()).map(|(way, _)| way);
        let of_way = |way| further.iter().map(|node| (way, Terminal { node: *node, side: Side::Load })).collect();
        way.map(of_way).unwrap_or_default()
    }

    /// The output terminals of an enclosure that is a UPS, where energy comes to them from outside. Those of which no row
    /// speaks are counted to the row of what feeds it, each named by what is connected there. Not where a row leaves open
    /// what isolates it, or names the UPS itself as what does; but the battery inside, which nothing isolates, says nothing
    /// of them.
    fn outputs(&mut self, ups: NodeId, ways: Range<usize>, live_parts: &LiveParts) -> Vec<(WayId, Outputs)> {
        let declared = self.network.ways.get(ways.clone()).unwrap_or_default();
        let leaves_open = |way: &Way| match &way.isolated {
            Isolated::Impossible => false,
            Isolated::Unknown => true,
            Isolated::By(devices) => self.of_devices(devices).contains(&ups),
        };
        if !self.is_ups(ups) || declared.iter().any(leaves_open) {
            return Vec::new();
        }
        let fed: Vec<NodeId> = self.network.graph.out_of_node(ups).iter().map(|feed| feed.to).collect();
        let is_output = |it: &Terminal| it.side == Side::Supply && fed.contains(&it.node);
        let mut found: Vec<(WayId, Outputs)> = Vec::new();
        let mut of_rows: Vec<(WayId, Current)> = Vec::new();
        let mut met: Vec<Terminal> = Vec::new();
        for (id, way) in ways.map(WayId::new).zip(declared) {
            let terminals = live_parts.of(id);
            met.extend(terminals);
            if way.isolated.devices().is_empty() {
                continue;
            }
            if terminals.iter().any(|it| it.node == ups || self.is_related(it.node, ups)) {
                of_rows.push((id, way.voltage.current));
            }
            let own: Vec<Terminal> = terminals
                .iter()
                .copied()
                .filter(|it| self.come_back.contains(&(ups, it.node)) && is_output(it))
                .collect();
            if !own.is_empty() {
                found.push((id, Outputs { ups, own, further: Vec::new() }));
            }
        }
        let is_unsaid =
            |it: &Terminal| !met.contains(it) && self.leads_back(it.node) && self.is_fed_past(&[ups], it.node);
        let terminals = fed.iter().map(|node| Terminal { node: *node, side: Side::Supply });
        let further: Vec<Terminal> = terminals.filter(is_unsaid).collect();
        // What a UPS gives out alternates.
        let alternating = of_rows.iter().find(|(_, current)| *current == Current::Ac);
        if let Some((way, _)) = alternating.or(of_rows.first()).filter(|_| !further.is_empty()) {
            match found.iter_mut().find(|(of, _)| of == way) {
                Some((_, outputs)) => outputs.further = further,
                None => found.push((*way, Outputs { ups, own: Vec::new(), further })),
            }
        }
        found
    }

    /// The output terminals of a device of which the rows of the enclosure that holds it do not speak. Where no file says that
    /// it does, an isolator of its rows must lie before or behind the device.
    fn unproved(&mut self, held: &Held, live_parts: &LiveParts) -> Option<Unproved> {
        let ways = self.network.enclosures.get(held.enclosure)?.clone();
        let device = held.device;
        let declared = self.network.ways.get(ways.clone()).unwrap_or_default();
        let isolators: Vec<NodeId> = declared.iter().flat_map(|way| self.of_devices(way.isolated.devices())).collect();
        if !held.is_said && !isolators.into_iter().any(|isolator| self.is_related(isolator, device)) {
            return None;
        }
        let is_met = |terminal: &Terminal| ways.clone().any(|way| live_parts.of(WayId::new(way)).contains(terminal));
        let fed = self.network.graph.out_of_node(device).iter().map(|feed| feed.to);
        let outputs = fed.filter(|node| self.leads_back(*node)).map(|node| Terminal { node, side: Side::Supply });
        let outputs: Vec<Terminal> = outputs.collect();
        // Where nothing comes back to it, what feeds the device may do all the same.
        let is_proved = !outputs.is_empty() && outputs.iter().all(is_met);
        let terminals = outputs.into_iter().filter(|terminal| !is_met(terminal)).collect();
        (!is_proved).then_some(Unproved { device, terminals })
    }

    /// Whether what a UPS feeds can bring energy up to it. To a changeover, or another UPS, what comes from there comes no
    /// further.
    fn leads_back(&self, node: NodeId) -> bool {
        let kind = self.network.graph.node(node).map(|node| node.kind);
        let conducts = matches!(
            kind,
            Some(NodeKind::Isolator | NodeKind::Cutout | NodeKind::Switch | NodeKind::Transformer | NodeKind::Busbar)
        );
        conducts && self.is_described(node)
    }

    /// Whether energy may come to a node along what is described without passing these: from what feeds it besides, or
    /// through what it feeds.
    fn is_fed_past(&self, passed: &[NodeId], node: NodeId) -> bool {
        let graph = &self.network.graph;
        let mut seen: HashSet<NodeId> = passed.iter().copied().chain([node]).collect();
        let mut waiting = vec![node];
        while let Some(at) = waiting.pop() {
            let kind = graph.node(at).map(|node| node.kind);
            if matches!(kind, None | Some(NodeKind::Source | NodeKind::Ups { .. } | NodeKind::NotKnown)) {
                return true;
            }
            let leads_down = |it: &NodeId| {
                let kind = graph.node(*it).map(|node| node.kind);
                self.leads_back(*it) || matches!(kind, Some(NodeKind::Changeover { .. } | NodeKind::Converter))
            };
            let below = graph.out_of_node(at).iter().map(|feed| feed.to).filter(leads_down);
            // What feeds it is looked at first: mostly it is the shorter way to a source.
            let above = graph.into_node(at).iter().map(|feed| feed.from);
            waiting.extend(below.chain(above).filter(|next| seen.insert(*next)));
        }
        false
    }

    /// Where isolators hold the parts, by how they lie to what feeds them; and the supplies that none of them holds.
    fn related(
        &mut self,
        isolators: &[NodeId],
        supplies: &[NodeId],
        source: Option<SourceId>,
        own: Option<NodeId>,
    ) -> (Terminals, OfRow) {
        if supplies.is_empty() {
            return (loads(isolators), OfRow::new());
        }
        let mut terminals = Terminals::new();
        let mut unrelated = OfRow::new();
        for supply in supplies {
            let below: OfRow = isolators.iter().copied().filter(|it| self.is_below(*supply, *it)).collect();
            if !below.is_empty() {
                terminals.extend(loads(&below));
                continue;
            }
            let above: OfRow = isolators.iter().copied().filter(|it| self.is_below(*it, *supply)).collect();
            // Looked at in this order, so that an output is known for one where the source tells it too.
            let comes_back = !above.is_empty()
                && (self.comes_back_to(own, &above, *supply) || self.comes_back(source, &above, *supply));
            if comes_back {
                let lowest = self.lowest(&above);
                terminals.extend(lowest.into_iter().map(|node| Terminal { node, side: Side::Supply }));
            } else {
                unrelated.push(*supply);
            }
        }
        (terminals, unrelated)
    }

    /// Of isolators above a supply, those next to it: what comes back through several in a row is held by the first.
    fn lowest(&mut self, isolators: &[NodeId]) -> OfRow {
        let mut lowest = OfRow::from_slice(isolators);
        lowest.retain(|upper| !isolators.iter().any(|lower| lower != upper && self.is_below(*upper, *lower)));
        lowest
    }

    fn is_related(&mut self, one: NodeId, other: NodeId) -> bool {
        self.is_below(one, other) || self.is_below(other, one)
    }

    fn is_below(&mut self, upper: NodeId, lower: NodeId) -> bool {
        self.ancestry.downstream(upper, lower) == Downstream::Yes
    }

    /// Whether the energy of a row comes up through isolators from a supply below them: its source feeds the supply,
    /// and none like it lies above. Otherwise the row is one of the supply, isolated by the main switch above it.
    fn comes_back(&mut self, source: Option<SourceId>, isolators: &[NodeId], supply: NodeId) -> bool {
        let Some(id) = source else { return false };
        let node = self.nodes.sources.get(id.index()).copied();
        if let Some(node) = node.filter(|node| self.is_described(*node)) {
            let is_above = |it: &NodeId| self.ancestry.downstream(node, *it) != Downstream::No;
            return !isolators.iter().any(is_above) && self.is_below(node, supply);
        }
        let Some(nature) = self.network.source(id).map(|source| source.nature) else { return false };
        nature != Nature::NotTold
            && self.has_above(nature, supply)
            && !isolators.iter().any(|isolator| self.has_above(nature, *isolator))
    }

    /// Whether the energy of a row of a UPS or converter comes up to its output, through isolators below it, from a supply
    /// that gets it past the device and them too: by a bypass around it. Whatever source the row names, or none: nothing
    /// else can come from there into that enclosure.
    fn comes_back_to(&mut self, own: Option<NodeId>, isolators: &[NodeId], supply: NodeId) -> bool {
        let Some(own) = own.filter(|own| *own != supply && has_output(&self.network.graph, *own)) else { return false };
        let passed: Vec<NodeId> = isolators.iter().copied().chain([own]).collect();
        let comes_back = isolators.iter().all(|it| self.is_below(own, *it) && !self.is_below(*it, own))
            && self.is_fed_past(&passed, supply);
        if comes_back {
            self.come_back.extend(isolators.iter().map(|isolator| (own, *isolator)));
        }
        comes_back
    }

    fn is_ups(&self, node: NodeId) -> bool {
        self.network.graph.node(node).is_some_and(|node| matches!(node.kind, NodeKind::Ups { .. }))
    }

    /// Whether a source of a nature lies upstream of a node.
    fn has_above(&self, nature: Nature, node: NodeId) -> bool {
        self.above.get(node.index()).is_some_and(|above| above & bit_of(nature) != 0)
    }

    /// Leads energy through undescribed devices, upstream ones first; not through one that isolates another part than the
    /// incoming terminals, such as a heater, which need not feed them.
    fn lead(&mut self, before: &[NodeId], (row, way): (&Row, &Way), isolators: &[NodeId]) {
        let upstream = self.of_devices(way.upstream.as_deref().map_or(&[], Isolated::devices));
        let upstream = if feeds_isolators(row, upstream.len() > 1) { upstream } else { OfRow::new() };
        let mut before = before;
        for stage in [&*upstream, isolators] {
            for to in stage {
                if !self.is_described(*to) {
                    self.feeds.extend(before.iter().filter(|from| *from != to).map(|from| (*from, *to)));
                }
            }
            if !stage.is_empty() {
                before = stage;
            }
        }
    }

    fn guess(&mut self, source: Option<NodeId>, supplies: &[NodeId]) {
        let Some(source) = source else { return };
        for supply in supplies.iter().filter(|supply| **supply != source) {
            // Rows of one board mostly follow each other.
            if !self.is_described(*supply) && self.guesses.last() != Some(&(source, *supply)) {
                self.guesses.push((source, *supply));
            }
        }
    }

    fn of_devices(&self, devices: &[super::DeviceId]) -> OfRow {
        devices.iter().filter_map(|id| self.nodes.devices.get(id.index()).copied()).collect()
    }

    fn is_busbar(&self, node: NodeId) -> bool {
        self.network.graph.node(node).is_some_and(|node| node.kind == NodeKind::Busbar)
    }

    fn is_described(&self, node: NodeId) -> bool {
        self.network.graph.node(node).is_some_and(|node| matches!(node.named, Named::Described(_)))
    }
}

fn loads(nodes: &[NodeId]) -> Terminals {
    nodes.iter().map(|node| Terminal { node: *node, side: Side::Load }).collect()
}

/// The bit of the nature of a described source; none for anything else.
fn bit_of_source(graph: &Graph, file: &Supplies, node: NodeId) -> u8 {
    let name = || file.devices.get(node.index()).map_or("", |device| device.designation.as_str());
    let described = graph.node(node).filter(|node| matches!(node.named, Named::Described(_)));
    described.and_then(|node| Nature::of_node(node.kind, name())).map_or(0, bit_of)
}

const fn bit_of(nature: Nature) -> u8 {
    1 << nature as u8
}
