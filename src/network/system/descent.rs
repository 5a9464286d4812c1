//! Follows the systems down the feeds, what feeds before what is fed.

use std::collections::{BTreeMap, BTreeSet, HashMap, HashSet};

use super::super::graph::{Graph, Named, Node, NodeKind, Side, Terminal};
use super::super::id::NodeId;
use super::super::voltage::is_one_nominal;
use super::circles::circles;
use super::line_numbers::LineNumbers;
use super::{Candidates, Others, Place, Root, System, Systems};
use crate::supplies::{DescribedDevice, Phasing, Supplies};
use crate::survey::value::{Current, Nominal};

/// The systems on both sides of every node, and the nodes that begin no voltage and give another than the one that
/// arrives there.
pub(super) fn descend(graph: &Graph, supplies: &Supplies) -> (Systems, BTreeMap<NodeId, System>) {
    let mut descent = Descent::new(graph, supplies);
    for circle in circles(graph) {
        match circle.as_slice() {
            [node] if !descent.feeds_itself(*node) => {
                let arriving = descent.arriving(*node);
                descent.pass(*node, arriving);
            }
            nodes => descent.pass_circle(nodes),
        }
    }
    descent.finish()
}

/// The systems and places found so far.
pub(super) struct Descent<'a> {
    pub(super) graph: &'a Graph,
    pub(super) supplies: &'a Supplies,
    pub(super) found: Systems,
    pub(super) numbers: LineNumbers,
    /// Nodes that begin no voltage and give another than the one that arrives, with that one.
    contradicted: BTreeMap<NodeId, System>,
}

impl<'a> Descent<'a> {
    fn new(graph: &'a Graph, supplies: &'a Supplies) -> Self {
        let count = graph.nodes().len();
        let nothing = |node| unknown(NodeId::new(node));
        let found = Systems {
            supply_sides: (0..count).map(nothing).collect(),
            load_sides: (0..count).map(nothing).collect(),
            roots: vec![Candidates { known: Vec::new(), others: Others::NotDescribed }],
            systems: vec![Candidates { known: Vec::new(), others: Others::NotDescribed }],
            in_step: Vec::new(),
            behind: vec![None; count],
            ways: Vec::new(),
            in_doubt: HashSet::new(),
            brought_back: HashMap::new(),
        };
        Self { graph, supplies, found, numbers: LineNumbers::new(count), contradicted: BTreeMap::new() }
    }

    fn feeds_itself(&self, node: NodeId) -> bool {
        self.graph.into_node(node).iter().any(|feed| feed.from == node)
    }

    /// The row that describes a node.
    pub(super) fn described(&self, node: NodeId) -> Option<&'a DescribedDevice> {
        match self.graph.node(node)?.named {
            Named::Described(row) => self.supplies.devices.get(row as usize),
            Named::Device(_) | Named::Supply(_) | Named::Source(_) | Named::Mentioned(_) => None,
        }
    }

    pub(super) fn is_proved(&self, node: NodeId) -> bool {
        self.described(node).is_some_and(|device| device.phasing == Some(Phasing::Proved))
    }

    /// What arrives at a node's supply side.
    fn arriving(&mut self, node: NodeId) -> Place {
        let feeds = self.graph.into_node(node).iter();
        let places = feeds.filter_map(|feed| self.found.load_sides.get(feed.from.index()).copied()).collect::<Vec<_>>();
        let junction = Some(Terminal { node, side: Side::Supply }).filter(|_| !self.is_changeover(node));
        self.meet(&places, node, junction, self.is_proved(node))
    }

    fn is_changeover(&self, node: NodeId) -> bool {
        matches!(self.graph.node(node), Some(Node { kind: NodeKind::Changeover { .. }, .. }))
    }

    /// Places that meet: one place if they are alike, else a junction of its own at which each of them can stand.
    pub(super) fn meet(&mut self, places: &[Place], node: NodeId, junction: Option<Terminal>, proved: bool) -> Place {
        let Some((first, rest)) = places.split_first() else { return unknown(node) };
        if rest.iter().all(|place| place == first) {
            return *first;
        }
        let numbered = self.meet_numbers(places, node, proved);
        Place {
            junction,
            transformer: None,
            numbered: Some(numbered.0),
            hours: numbered.1,
            numbered_at: numbered.0,
            roots: self.found.union_of_roots(places),
            systems: self.found.union_of_systems(places),
        }
    }

    /// Where line numbers begin that meet: where they began if that is one beginning, or proved to be one.
    fn meet_numbers(&mut self, places: &[Place], node: NodeId, proved: bool) -> (NodeId, u8) {
        let numbered = |place: &Place| place.numbered.map(|beginning| (beginning, place.hours));
        let Some(first) = places.first().and_then(numbered) else { return (node, 0) };
        if !proved {
            let is_one = places.iter().all(|place| numbered(place) == Some(first));
            return if is_one { first } else { (node, 0) };
        }
        for other in places.iter().filter_map(numbered) {
            self.numbers.join(first, other);
        }
        first
    }

    /// What arrives at a node goes on to its load side as the kind of the node lets it.
    pub(super) fn pass(&mut self, node: NodeId, arriving: Place) {
        let Some(kind) = self.graph.node(node).map(|node| node.kind) else { return };
        let leaving = match kind {
            NodeKind::Source | NodeKind::Converter => self.beginning(node),
            NodeKind::Ups { .. } => self.beginning_or_bypass(node, arriving),
            NodeKind::Transformer => self.transformed(node, arriving),
            NodeKind::Isolator | NodeKind::Cutout | NodeKind::Switch => self.led_on(node, arriving),
            NodeKind::Busbar | NodeKind::Changeover { .. } => self.numbered_anew(node, arriving),
            NodeKind::NotKnown => self.not_known(node, arriving),
        };
        if let Some(place) = self.found.supply_sides.get_mut(node.index()) {
            *place = arriving;
        }
        if let Some(place) = self.found.load_sides.get_mut(node.index()) {
            *place = leaving;
        }
    }

    /// A source or a converter: voltage, angle and line numbers begin here.
    fn beginning(&mut self, node: NodeId) -> Place {
        let Some(device) = self.described(node) else { return unknown(node) };
        let systems = self.found.add_systems(vec![begun(node, device)], Others::None);
        let root = Root { source: node, transformer: None };
        let roots = self.found.add_roots(BTreeSet::from([root]), Others::None);
        Place { roots, systems, ..unknown(node) }
    }

    /// A UPS: its own voltage, or that of its bypass. What is direct feeds its battery side and goes no further.
    fn beginning_or_bypass(&mut self, node: NodeId, arriving: Place) -> Place {
        let Some(device) = self.described(node) else { return unknown(node) };
        let is_direct = |nominal: Option<Nominal>| nominal.is_some_and(|nominal| nominal.current == Current::Dc);
        let (bypass, _) = self.found.systems_at(arriving);
        let mut systems: Vec<_> = bypass.iter().filter(|system| !is_direct(system.nominal)).copied().collect();
        systems.push(begun(node, device));
        let (roots, _) = self.found.roots_at(arriving);
        let nominal_of = |root: Root| self.described(root.source).and_then(|source| source.nominal);
        let mut roots: BTreeSet<_> = roots.filter(|root| !is_direct(nominal_of(*root))).collect();
        roots.insert(Root { source: node, transformer: None });
        let systems = self.found.add_systems(systems, Others::None);
        let roots = self.found.add_roots(roots, Others::None);
        if let Some(beginning) = arriving.numbered.filter(|_| self.is_proved(node)) {
            self.numbers.join((node, 0), (beginning, arriving.hours));
        }
        Place { roots, systems, ..unknown(node) }
    }

    /// A transformer: the voltage begins anew; the angle goes on by the clock number, if the vector group is given.
    fn transformed(&mut self, node: NodeId, arriving: Place) -> Place {
        let Some(device) = self.described(node) else { return self.not_known(node, arriving) };
        let systems = self.found.add_systems(vec![begun(node, device)], Others::None);
        let (numbered, hours, numbered_at) = match (device.phasing, arriving.numbered) {
            (Some(Phasing::Clock(clock)), Some(beginning)) if device.nominal.is_some_and(is_three_phase) => {
                (beginning, (arriving.hours + clock) % 12, arriving.numbered_at)
            }
            (Some(Phasing::Clock(_) | Phasing::Proved) | None, _) => (node, 0, node),
        };
        Place { transformer: Some(node), numbered: Some(numbered), hours, numbered_at, systems, ..arriving }
    }

    /// Something that only switches: line numbers go on, and so does everything that the row does not say anew.
    fn led_on(&mut self, node: NodeId, arriving: Place) -> Place {
        let Some(device) = self.described(node) else { return arriving };
        if device.nominal.is_none() && device.earthing.is_none() {
            return arriving;
        }
        let (known, others) = self.found.systems_at(arriving);
        let mut systems: Vec<_> = known.iter().map(|system| told_anew(*system, node, device)).collect();
        if systems.is_empty() {
            systems.push(begun(node, device));
        }
        let contradicted = known.iter().copied().find(|system| is_another(device, *system));
        if let Some(system) = contradicted {
            systems.push(system);
            self.contradicted.insert(node, system);
        }
        Place { systems: self.found.add_systems(systems, others), ..arriving }
    }

    /// A busbar or changeover: line numbers begin anew unless they are proved to go on.
    fn numbered_anew(&mut self, node: NodeId, arriving: Place) -> Place {
        let mut place = self.led_on(node, arriving);
        place.junction = place.junction.or(Some(Terminal { node, side: Side::Load }));
        if !self.is_proved(node) {
            (place.numbered, place.hours, place.numbered_at) = (Some(node), 0, node);
        }
        place
    }

    /// Something of which only the name is known: it may be a transformer, or be fed from elsewhere too.
    pub(super) fn not_known(&mut self, node: NodeId, arriving: Place) -> Place {
        let (known, _) = self.found.systems_at(arriving);
        let systems = known.to_vec();
        let systems = self.found.add_systems(systems, Others::NotDescribed);
        let roots = self.found.roots_at(arriving).0.collect();
        let roots = self.found.add_roots(roots, Others::NotDescribed);
        Place { roots, systems, ..unknown(node) }
    }

    fn finish(mut self) -> (Systems, BTreeMap<NodeId, System>) {
        self.hold_in_step();
        for place in self.found.supply_sides.iter_mut().chain(&mut self.found.load_sides) {
            let Some(beginning) = place.numbered else { continue };
            let (first, hours) = self.numbers.settled((beginning, place.hours));
            (place.numbered, place.hours) = (Some(first), hours);
        }
        (self.found, self.contradicted)
    }
}

/// The place of which nothing is known but that it is one: the first entry of both lists says so.
pub(super) fn unknown(node: NodeId) -> Place {
    Place {
        junction: Some(Terminal { node, side: Side::Load }),
        transformer: None,
        numbered: Some(node),
        hours: 0,
        numbered_at: node,
        roots: 0,
        systems: 0,
    }
}

const fn begun(node: NodeId, device: &DescribedDevice) -> System {
    System { began: node, nominal: device.nominal, earthed: node, earthing: device.earthing }
}

/// A system past a row that gives its nominal voltage or its earthing anew.
fn told_anew(system: System, node: NodeId, device: &DescribedDevice) -> System {
    let mut told = system;
    if device.nominal.is_some() && device.nominal != system.nominal {
        (told.began, told.nominal) = (node, device.nominal);
    }
    if device.earthing.is_some() && device.earthing != system.earthing {
        (told.earthed, told.earthing) = (node, device.earthing);
    }
    told
}

/// Whether a row that begins no voltage gives another than the one that arrives there.
fn is_another(device: &DescribedDevice, system: System) -> bool {
    let both = device.nominal.zip(system.nominal);
    both.is_some_and(|(here, arriving)| !is_one_nominal(here, arriving))
}

/// Only three lines turn by the clock number of a vector group: a pair such as 230/400, not 55/110.
fn is_three_phase(nominal: Nominal) -> bool {
    let (Some(neutral), Some(lines)) = (nominal.to_neutral, nominal.between) else { return false };
    let ratio = lines.to_volts() / neutral.to_volts();
    nominal.current == Current::Ac && (ratio - 3.0_f64.sqrt()).abs() < 0.05
}
