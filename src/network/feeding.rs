//! The feeds that the supplies file describes, and the names in it that no row bears.

use std::collections::{HashMap, HashSet};

use super::describing::AtRecord;
use super::designations::{Designations, Found};
use super::graph::{DescribedBy, Graph, Named, Neutral, Node, NodeKind};
use super::id::NodeId;
use super::nodes::Nodes;
use super::{Network, naming, spelling};
use crate::finding::{Finding, code};
use crate::supplies::{DescribedDevice, Supplies, SupplyColumn};

/// Adds the feeds, and nodes for names that no row bears; a name that the survey bears too is one thing in both files.
pub(super) fn feed(
    graph: &mut Graph,
    network: &mut Network,
    file: &Supplies,
    names: &Designations,
    nodes: &Nodes,
    findings: &mut Vec<Finding>,
) {
    let supplies = network.supplies.iter().zip(&nodes.supplies);
    let undescribed = supplies.filter(|(supply, _)| supply.described_by == DescribedBy::Survey);
    let mentioned = undescribed.map(|(supply, node)| (spelling::key(&supply.designation), *node)).collect();
    Feeding { file, names, mentioned, reported: HashSet::new() }.feed(graph, network, findings);
}

struct Feeding<'a> {
    file: &'a Supplies,
    names: &'a Designations,
    /// The nodes of names that no row bears, by the form in which names are compared.
    mentioned: HashMap<String, NodeId>,
    /// What was reported once already.
    reported: HashSet<(SupplyColumn, String)>,
}

impl Feeding<'_> {
    fn feed(&mut self, graph: &mut Graph, network: &mut Network, findings: &mut Vec<Finding>) {
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
                let rows = self.names.rows(name);
                if Designations::is_repeated(rows, &self.file.devices) {
                    return None;
                }
                let locations = rows.iter().map(|row| self.file.devices.get(*row).map_or("", |it| &it.location));
                let places = naming::places(locations);
                let message = format!("`{name}` may mean any of {} devices: they stand {places}", rows.len());
                let help = format!("write `{name}@` and the location of the one that is meant");
                Finding::new(code::DESIGNATION_MEANS_SEVERAL, message).help(help)
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
