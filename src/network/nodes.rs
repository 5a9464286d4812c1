//! The nodes of the network: what a row of the supplies file describes, and what only the survey names.

use std::collections::{HashMap, HashSet};

use super::designations::Designations;
use super::device::{AtRow, Device, Said};
use super::graph::{Graph, Named, Neutral, Node, NodeKind};
use super::id::{DeviceId, EnclosureId, InterlockId, NodeId, SourceId, SupplyId};
use super::naming::Meant;
use super::{Interlock, Nature, Network, Way, spelling};
use crate::finding::{Finding, code};
use crate::supplies::{DescribedDevice, Kind, Supplies};
use crate::survey::value::{Current, DeviceKind, Earthing, InterlockKind, Nominal};
use crate::survey::{Column, Survey};
use crate::table::WordList;

/// The nodes of what a survey names, by number.
pub(super) struct Nodes {
    pub(super) devices: Vec<NodeId>,
    pub(super) supplies: Vec<NodeId>,
    pub(super) sources: Vec<NodeId>,
}

/// A node for every row of the supplies file, in its order, and one for everything that only the survey names.
pub(super) fn add(graph: &mut Graph, network: &Network, file: &Supplies, meant: &Meant) -> Nodes {
    let rows: Vec<_> = (0_u32..).zip(&file.devices).map(|(row, device)| graph.add_node(node_of(row, device))).collect();
    for (id, device) in rows.iter().zip(&file.devices) {
        graph.set_lines(*id, device.nominal.map(lines_of));
    }
    let mut add = |row: Option<usize>, kind, named| {
        let of_row = row.and_then(|row| rows.get(row).copied());
        of_row.unwrap_or_else(|| {
            let neutral = if kind == NodeKind::Isolator { Neutral::PassedOn } else { Neutral::NotKnown };
            graph.add_node(Node { kind, named, poles: None, coupled: None, neutral })
        })
    };
    let sources = numbered(&meant.sources)
        .map(|(index, row)| add(row, NodeKind::Source, Named::Source(SourceId::new(index))))
        .collect();
    let supplies = numbered(&meant.supplies)
        .map(|(index, row)| add(row, NodeKind::NotKnown, Named::Supply(SupplyId::new(index))))
        .collect();
    let devices: Vec<_> = numbered(&meant.devices)
        .map(|(index, row)| add(row, NodeKind::Isolator, Named::Device(DeviceId::new(index))))
        .collect();
    for (device, id) in network.devices.iter().zip(&devices) {
        if let Some(node) = graph.node_mut(*id).filter(|node| node.poles.is_none()) {
            node.poles = device.poles.as_ref().map(|told| told.value);
        }
    }
    Nodes { devices, supplies, sources }
}

/// With their numbers.
fn numbered(rows: &[Option<usize>]) -> impl Iterator<Item = (usize, Option<usize>)> {
    rows.iter().copied().enumerate()
}

fn node_of(row: u32, device: &DescribedDevice) -> Node {
    let kind = match device.kind {
        Some(Kind::Source) => NodeKind::Source,
        Some(Kind::Device(DeviceKind::NetworkCutout)) => NodeKind::Cutout,
        Some(Kind::Device(
            DeviceKind::SwitchDisconnector
            | DeviceKind::Disconnector
            | DeviceKind::Breaker
            | DeviceKind::Fuse
            | DeviceKind::Link
            | DeviceKind::PlugSocket,
        )) => NodeKind::Isolator,
        Some(Kind::Isolator) => NodeKind::Isolator,
        Some(Kind::Switch) => NodeKind::Switch,
        Some(Kind::Changeover) => NodeKind::Changeover { off_position: device.off_position == Some(true) },
        Some(Kind::Transformer) => NodeKind::Transformer,
        Some(Kind::Ups) => NodeKind::Ups { own_battery: true },
        Some(Kind::Converter) => NodeKind::Converter,
        Some(Kind::Busbar) => NodeKind::Busbar,
        None => NodeKind::NotKnown,
    };
    Node { kind, named: Named::Described(row), poles: device.poles, coupled: None, neutral: neutral_of(kind, device) }
}

/// How many lines or poles a system of this nominal voltage has.
fn lines_of(nominal: Nominal) -> u8 {
    match (nominal.current, nominal.to_neutral, nominal.between) {
        (Current::Dc, ..) => 2,
        (Current::Ac, Some(half), Some(whole)) if half.to_milli().checked_mul(2) == Some(whole.to_milli()) => 2,
        (Current::Ac, _, Some(_)) => 3,
        (Current::Ac, _, None) => 1,
    }
}

/// Whether the neutral that begins at a described device can be live (BS 7671 461.2, from memory). What the file says of
/// its earthing stands; only a generator or UPS of which it says nothing is taken to run alone.
fn neutral_of(kind: NodeKind, device: &DescribedDevice) -> Neutral {
    let runs_alone = match kind {
        NodeKind::Source => matches!(Nature::of_name(&device.designation), Nature::Generator | Nature::Ups),
        NodeKind::Ups { .. } => true,
        NodeKind::Transformer | NodeKind::Converter => false,
        NodeKind::NotKnown => return Neutral::NotKnown,
        NodeKind::Isolator | NodeKind::Cutout | NodeKind::Switch | NodeKind::Changeover { .. } | NodeKind::Busbar => {
            return neutral_of_installation(device.earthing);
        }
    };
    if runs_alone && device.earthing.is_none() { Neutral::MayBeLive } else { neutral_by_earthing(device.earthing) }
}

/// A source or converter that is held in step with a source whose neutral is earthed follows it: it has no neutral of its
/// own. A generator or UPS may run alone all the same.
pub(super) fn follow_in_step(graph: &mut Graph, file: &Supplies, names: &Designations) {
    for (row, device) in file.devices.iter().enumerate().filter(|(_, device)| !device.in_step_with.is_empty()) {
        let follows = match device.kind {
            Some(Kind::Source) => !matches!(Nature::of_name(&device.designation), Nature::Generator | Nature::Ups),
            Some(Kind::Converter) => true,
            Some(
                Kind::Device(_)
                | Kind::Isolator
                | Kind::Switch
                | Kind::Changeover
                | Kind::Transformer
                | Kind::Ups
                | Kind::Busbar,
            )
            | None => false,
        };
        let mut leaders = device.in_step_with.iter().filter_map(|name| names.find(name).one());
        let is_earthed =
            |leader: usize| graph.node(NodeId::new(leader)).is_some_and(|node| node.neutral == Neutral::Earthed);
        if follows
            && leaders.any(is_earthed)
            && let Some(node) = graph.node_mut(NodeId::new(row))
        {
            node.neutral = Neutral::Earthed;
        }
    }
}

/// Where no energy is transformed, an earthing of its own begins a TT or IT installation, such as an outbuilding on its
/// own electrode. A TN system is earthed where its source is, whatever is repeated further on.
fn neutral_of_installation(earthing: Option<Earthing>) -> Neutral {
    match neutral_by_earthing(earthing) {
        Neutral::MayBeLive => Neutral::MayBeLive,
        Neutral::Earthed | Neutral::NotKnown | Neutral::PassedOn => Neutral::PassedOn,
    }
}

/// Notes which converters a described battery feeds, and of each UPS whether one does: one on its direct side, from which no converter and no
/// transformer parts it. Of a battery whose voltage is not said, a busbar may lie on the alternating side of it. Direct current
/// of which nobody says that it is the sun's may be a battery's, which a converter can charge.
pub(super) fn find_batteries(graph: &mut Graph, network: &Network, file: &Supplies, nodes: &Nodes) {
    let solar = said_to_be(Nature::Solar, network, nodes);
    let batteries = said_to_be(Nature::Battery, network, nodes);
    let is_named = |device: &DescribedDevice| Nature::of_name(&device.designation) == Nature::Battery;
    let is_battery = |row: usize, device: &DescribedDevice| is_named(device) || batteries.contains(&NodeId::new(row));
    let is_solar = |row: usize, device: &DescribedDevice| {
        let is_said = is_solar_by_name(&device.designation) || solar.contains(&NodeId::new(row));
        is_said && !is_battery(row, device)
    };
    let is_source = |row: usize| graph.node(NodeId::new(row)).map(|node| node.kind) == Some(NodeKind::Source);
    let sources: Vec<_> = file.devices.iter().enumerate().filter(|(row, _)| is_source(*row)).collect();
    let is_direct = |device: &DescribedDevice| device.nominal.is_some_and(|nominal| nominal.current == Current::Dc);
    let of = |is_one: &dyn Fn(usize, &DescribedDevice) -> bool| {
        let batteries = sources.iter().filter(|(row, device)| is_one(*row, device));
        batteries.map(|(row, _)| NodeId::new(*row)).collect::<Vec<_>>()
    };
    let direct = of(&|row, device| is_direct(device) && !is_solar(row, device));
    let untold = of(&|row, device| device.nominal.is_none() && is_battery(row, device));
    lead_battery(graph, direct, true);
    lead_battery(graph, untold, false);
}

/// Whether a name speaks of the sun, and not of what keeps what it gave: `Cold store PV`, and not `PV store`.
fn is_solar_by_name(name: &str) -> bool {
    static STORES: WordList = WordList::new(&["store", "storage", "accumulator", "accumulators"]);
    let mut behind = spelling::words(name).skip(1);
    let keeps = spelling::words(name).any(|word| {
        let next = behind.next();
        Nature::of_name(word) == Nature::Solar && next.is_some_and(|next| STORES.has(next))
    });
    Nature::of_name(name) == Nature::Solar && !keeps
}

/// The described sources that rows which they alone feed say are of a nature.
fn said_to_be(nature: Nature, network: &Network, nodes: &Nodes) -> HashSet<NodeId> {
    let is_of = |way: &&Way| way.source.and_then(|id| network.source(id)).is_some_and(|it| it.nature == nature);
    let lone = network.ways.iter().filter(is_of).filter_map(|way| match &*way.supplies {
        [only] => nodes.supplies.get(only.index()).copied(),
        _ => None,
    });
    lone.collect()
}

/// Follows batteries to the UPSs and converters that they feed.
fn lead_battery(graph: &mut Graph, mut open: Vec<NodeId>, through_busbars: bool) {
    let mut met: HashSet<_> = open.iter().copied().collect();
    while let Some(here) = open.pop() {
        let fed: Vec<_> = graph.out_of_node(here).iter().map(|feed| feed.to).collect();
        for node in fed {
            if graph.node(node).map(|node| node.kind) == Some(NodeKind::Converter) {
                graph.set_charging(node);
            }
            let Some(kind) = graph.node_mut(node).map(|node| &mut node.kind) else { continue };
            let leads_on = match kind {
                NodeKind::Ups { own_battery } => {
                    *own_battery = false;
                    false
                }
                NodeKind::Source | NodeKind::Transformer | NodeKind::Converter | NodeKind::NotKnown => false,
                NodeKind::Isolator | NodeKind::Cutout | NodeKind::Switch | NodeKind::Changeover { .. } => true,
                NodeKind::Busbar => through_busbars,
            };
            if leads_on && met.insert(node) {
                open.push(node);
            }
        }
    }
}

pub(super) const fn neutral_by_earthing(earthing: Option<Earthing>) -> Neutral {
    match earthing {
        Some(
            Earthing::TnS
            | Earthing::TnCS
            | Earthing::TnC
            | Earthing::Midpoint
            | Earthing::Selv
            | Earthing::Pelv
            | Earthing::Felv,
        ) => Neutral::Earthed,
        Some(
            Earthing::Tt
            | Earthing::It
            | Earthing::Unearthed
            | Earthing::LineEarthed
            | Earthing::PoleEarthed
            | Earthing::PositiveEarthed
            | Earthing::NegativeEarthed,
        ) => Neutral::MayBeLive,
        None => Neutral::NotKnown,
    }
}

/// Ties nodes to the coupled interlocks of either file; a node that two of them claim keeps the first. One handle stands
/// in one place: where those of a name stand in different places, it is not taken for one.
pub(super) fn couple(
    graph: &mut Graph,
    network: &Network,
    file: &Supplies,
    nodes: &Nodes,
    interlocks: &[Option<InterlockId>],
) {
    let coupled = |id: Option<InterlockId>| id.filter(|id| network.interlock(*id).is_some_and(is_coupled));
    for (row, id) in interlocks.iter().enumerate() {
        if let Some(node) = graph.node_mut(NodeId::new(row)) {
            node.coupled = coupled(*id);
        }
    }
    for way in &network.ways {
        let Some(interlock) = coupled(way.interlock) else { continue };
        for node in way.isolated.devices().iter().filter_map(|device| nodes.devices.get(device.index())) {
            if let Some(node) = graph.node_mut(*node) {
                node.coupled.get_or_insert(interlock);
            }
        }
    }
    let apart = coupled_apart(graph, network, file, nodes);
    for node in (0..graph.nodes().len()).map(NodeId::new) {
        if let Some(node) = graph.node_mut(node).filter(|node| node.coupled.is_some_and(|id| apart.contains(&id))) {
            node.coupled = None;
        }
    }
}

/// The interlocks of which two nodes are known to stand in different places.
fn coupled_apart(graph: &Graph, network: &Network, file: &Supplies, nodes: &Nodes) -> HashSet<InterlockId> {
    let described = (0..).map(NodeId::new).zip(file.devices.iter().map(|device| &*device.location));
    let named = nodes.devices.iter().copied().zip(network.devices.iter().map(|device| &*device.location));
    let mut places = HashMap::new();
    let mut apart = HashSet::new();
    for (node, location) in described.chain(named) {
        let Some(interlock) = graph.node(node).and_then(|node| node.coupled) else { continue };
        if location.is_empty() || spelling::is_own(location) {
            continue;
        }
        let place = spelling::key(location);
        if *places.entry(interlock).or_insert_with(|| place.clone()) != place {
            apart.insert(interlock);
        }
    }
    apart
}

fn is_coupled(interlock: &Interlock) -> bool {
    interlock.kind == Some(InterlockKind::Coupled)
}

/// Reports the devices that two coupled interlocks claim, each once.
pub(super) fn report_coupled_twice(network: &Network, survey: &Survey, findings: &mut Vec<Finding>) {
    let mut reported = HashSet::new();
    for (index, enclosure) in survey.enclosures.iter().enumerate() {
        let id = EnclosureId::new(index);
        for (row, way) in enclosure.rows.iter().zip(network.ways(id)) {
            let Some(here) = way.interlock.and_then(|id| network.interlock(id)).filter(|it| is_coupled(it)) else {
                continue;
            };
            for device in way.isolated.devices() {
                let node = network.device_node(*device).and_then(|node| network.graph.node(node));
                let kept = node.and_then(|node| node.coupled).and_then(|id| network.interlock(id));
                if let Some(kept) = kept.filter(|kept| *kept != here && reported.insert(*device)) {
                    let name = network.device(*device).map(Device::phrase).unwrap_or_default();
                    let said = Said { enclosure: id, record: row.record };
                    findings.push(coupled_twice(&name, kept, here).at_row(survey, said, Column::Interlock));
                }
            }
        }
    }
}

fn coupled_twice(device: &str, kept: &Interlock, other: &Interlock) -> Finding {
    let message = format!(
        "`{device}` is coupled by `{}` and by `{}`, and the second is left aside in the proof",
        kept.name, other.name
    );
    Finding::new(code::INTERLOCK_INCOMPLETE, message).help("one handle has one name: give it in both rows")
}
