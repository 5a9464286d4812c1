//! The nodes and feeds of the network: what the supplies file describes, and what only a cell names.

use std::collections::{HashMap, HashSet};

use super::ancestry::Ancestry;
use super::describing::{AtRecord, describe};
use super::designations::{Designations, Found};
use super::device::{AtRow, Device, Said};
use super::graph::{DescribedBy, Graph, Named, Neutral, Node, NodeKind};
use super::id::{DeviceId, EnclosureId, InterlockId, NodeId, SourceId, SupplyId};
use super::naming::{self, Meant};
use super::{Interlock, Nature, Network, attachment, lending, loose_ends, spelling};
use crate::finding::{Finding, code};
use crate::supplies::{DescribedDevice, Kind, Supplies, SupplyColumn};
use crate::survey::value::{DeviceKind, Earthing, InterlockKind};
use crate::survey::{Column, Survey};

/// The nodes of what a survey names, by number.
pub(super) struct Nodes {
    pub(super) devices: Vec<NodeId>,
    pub(super) supplies: Vec<NodeId>,
    pub(super) sources: Vec<NodeId>,
}

/// Builds the graph of a network whose rows are joined, and hangs live parts and lenders on it.
///
/// Without a supplies file, what only the survey names is all there is, and there is nothing to report.
pub(super) fn assemble(
    network: &mut Network,
    survey: &Survey,
    supplies: Option<&Supplies>,
    interlocks: &[Option<InterlockId>],
    findings: &mut Vec<Finding>,
) {
    let none = Supplies::default();
    let file = supplies.unwrap_or(&none);
    let names = Designations::of(&file.devices);
    let meant = match supplies {
        Some(file) => naming::meant(survey, file, &names, network, findings),
        None => Meant::nothing(network),
    };
    for (device, row) in network.devices.iter_mut().zip(&meant.devices) {
        if let Some(described) = row.and_then(|row| file.devices.get(row)) {
            describe(device, described, file, survey, findings);
        }
    }
    network.described = file.devices.iter().map(|device| device.designation.clone()).collect();
    let mut graph = Graph::default();
    let nodes = add_nodes(&mut graph, network, file, &meant);
    couple(&mut graph, network, &nodes, interlocks);
    network.device_nodes.clone_from(&nodes.devices);
    let mut feeding = Feeding { file, names: &names, mentioned: HashMap::new(), reported: HashSet::new() };
    feeding.feed(&mut graph, network, &nodes, findings);
    graph.finish();
    let mut ancestry = if names.is_empty() { Ancestry::default() } else { Ancestry::of(&graph) };
    network.graph = graph;
    if supplies.is_some() {
        report_coupled_twice(network, survey, findings);
        loose_ends::report(network, survey, file, &ancestry, findings);
    }
    attachment::attach(network, survey, file, &names, &nodes, &mut ancestry);
    network.lenders = lending::lenders(network, survey, &names);
}

/// A node for every row of the supplies file, in its order, and one for everything that only the survey names.
fn add_nodes(graph: &mut Graph, network: &Network, file: &Supplies, meant: &Meant) -> Nodes {
    let rows: Vec<_> = (0_u32..).zip(&file.devices).map(|(row, device)| graph.add_node(node_of(row, device))).collect();
    let mut add = |row: Option<usize>, kind, named| {
        let of_row = row.and_then(|row| rows.get(row).copied());
        of_row.unwrap_or_else(|| {
            let neutral = if kind == NodeKind::Isolator { Neutral::PassedOn } else { Neutral::NotKnown };
            graph.add_node(Node { kind, named, poles: None, coupled: None, neutral })
        })
    };
    let numbered = |rows: &[Option<usize>]| rows.iter().copied().enumerate().collect::<Vec<_>>().into_iter();
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
        Some(Kind::Ups) => NodeKind::Ups,
        Some(Kind::Converter) => NodeKind::Converter,
        Some(Kind::Busbar) => NodeKind::Busbar,
        None => NodeKind::NotKnown,
    };
    Node { kind, named: Named::Described(row), poles: device.poles, coupled: None, neutral: neutral_of(kind, device) }
}

/// Whether the neutral that begins at a described device can be live (BS 7671 461.2, from memory).
fn neutral_of(kind: NodeKind, device: &DescribedDevice) -> Neutral {
    match kind {
        NodeKind::Source => match Nature::of_name(&device.designation) {
            Nature::Generator | Nature::Ups => Neutral::MayBeLive,
            Nature::Mains | Nature::Solar | Nature::Battery | Nature::Vehicle | Nature::NotTold => {
                neutral_by_earthing(device.earthing)
            }
        },
        NodeKind::Ups => Neutral::MayBeLive,
        NodeKind::Transformer | NodeKind::Converter => neutral_by_earthing(device.earthing),
        NodeKind::NotKnown => Neutral::NotKnown,
        NodeKind::Isolator | NodeKind::Cutout | NodeKind::Switch | NodeKind::Changeover { .. } | NodeKind::Busbar => {
            Neutral::PassedOn
        }
    }
}

const fn neutral_by_earthing(earthing: Option<Earthing>) -> Neutral {
    match earthing {
        Some(
            Earthing::TnS | Earthing::TnCS | Earthing::Midpoint | Earthing::Selv | Earthing::Pelv | Earthing::Felv,
        ) => Neutral::Earthed,
        Some(Earthing::Tt | Earthing::It | Earthing::Unearthed | Earthing::LineEarthed | Earthing::PoleEarthed) => {
            Neutral::MayBeLive
        }
        None => Neutral::NotKnown,
    }
}

/// Ties nodes to the coupled interlocks of either file; a node that two of them claim keeps the first.
fn couple(graph: &mut Graph, network: &Network, nodes: &Nodes, interlocks: &[Option<InterlockId>]) {
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
}

fn is_coupled(interlock: &Interlock) -> bool {
    interlock.kind == Some(InterlockKind::Coupled)
}

/// Reports the devices that two coupled interlocks claim, each once.
fn report_coupled_twice(network: &Network, survey: &Survey, findings: &mut Vec<Finding>) {
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

/// The feeds that the supplies file describes.
struct Feeding<'a> {
    file: &'a Supplies,
    names: &'a Designations,
    /// The nodes of names that no row bears, by the form in which names are compared.
    mentioned: HashMap<String, NodeId>,
    /// What was reported once already.
    reported: HashSet<(SupplyColumn, String)>,
}

impl Feeding<'_> {
    fn feed(&mut self, graph: &mut Graph, network: &mut Network, nodes: &Nodes, findings: &mut Vec<Finding>) {
        let supplies = network.supplies.iter().zip(&nodes.supplies);
        let undescribed = supplies.filter(|(supply, _)| supply.described_by == DescribedBy::Survey);
        self.mentioned.extend(undescribed.map(|(supply, node)| (spelling::key(&supply.designation), *node)));
        for (row, device) in self.file.devices.iter().enumerate() {
            let to = NodeId::new(row);
            for name in &device.fed_from {
                match self.names.find(name) {
                    Found::At(from) if from == row => findings.push(self.fed_by_itself(device)),
                    Found::At(from) => graph.add_feed(NodeId::new(from), to),
                    found @ (Found::Nowhere | Found::Several(_)) => {
                        findings.extend(self.unclear(name, found, device, SupplyColumn::FedFrom));
                        let from = self.mention(graph, network, name, found);
                        graph.add_feed(from, to);
                    }
                }
            }
            for name in &device.in_step_with {
                let found = self.names.find(name);
                findings.extend(self.unclear(name, found, device, SupplyColumn::InStepWith));
            }
        }
    }

    /// The node of a name that is not known to mean one row. Rows that a name may mean are never taken for one thing.
    fn mention(&mut self, graph: &mut Graph, network: &mut Network, name: &str, found: Found) -> NodeId {
        let key = spelling::key(name);
        if let (Found::Nowhere, Some(node)) = (found, self.mentioned.get(&key)) {
            return *node;
        }
        let place = u32::try_from(network.mentioned.len()).unwrap_or(u32::MAX);
        network.mentioned.push(name.to_owned());
        let (kind, named) = (NodeKind::NotKnown, Named::Mentioned(place));
        let node = graph.add_node(Node { kind, named, poles: None, coupled: None, neutral: Neutral::NotKnown });
        if found == Found::Nowhere {
            self.mentioned.insert(key, node);
        }
        node
    }

    /// Reports a name that does not mean one row, once.
    fn unclear(&mut self, name: &str, found: Found, device: &DescribedDevice, column: SupplyColumn) -> Option<Finding> {
        let is_news =
            matches!(found, Found::Nowhere | Found::Several(_)) && self.reported.insert((column, spelling::key(name)));
        let finding = match found {
            Found::At(_) => return None,
            Found::Nowhere | Found::Several(_) if !is_news => return None,
            Found::Nowhere => {
                let device = &device.designation;
                let message = if column == SupplyColumn::InStepWith {
                    format!("`{device}` is in step with `{name}`, and no row describes that")
                } else {
                    format!("`{name}` feeds `{device}`, and no row describes it")
                };
                let help = naming::help(self.names, &self.file.devices, name);
                Finding::new(code::FEED_NOT_DESCRIBED, message).help(help)
            }
            Found::Several(_) => {
                let rows = self.names.rows(name).iter();
                let locations = rows.map(|row| self.file.devices.get(*row).map_or("", |it| it.location.as_str()));
                let message =
                    format!("`{name}` may mean any of several devices: they stand {}", naming::places(locations));
                Finding::new(code::DESIGNATION_MEANS_SEVERAL, message)
                    .help("give what feeds others a designation that only one device bears")
            }
        };
        Some(finding.at_record(self.file, device.record, column))
    }

    fn fed_by_itself(&self, device: &DescribedDevice) -> Finding {
        Finding::new(code::FED_IN_A_CIRCLE, format!("`{}` is said to feed itself", device.designation))
            .help("name what really feeds it")
            .at_record(self.file, device.record, SupplyColumn::FedFrom)
    }
}
