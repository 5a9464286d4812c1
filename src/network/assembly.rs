//! Puts the network together: what is meant in which file, nodes, feeds, live parts, lenders.

use super::ancestry::Ancestry;
use super::describing::describe;
use super::designations::{Designations, Found};
use super::graph::Graph;
use super::id::InterlockId;
use super::naming::{self, Meant};
use super::{Facts, Network, attachment, feeding, lending, loose_ends, nodes};
use crate::finding::Finding;
use crate::supplies::Supplies;
use crate::survey::Survey;

/// Builds the graph of a network whose rows are joined, and hangs live parts and lenders on it.
///
/// Without a supplies file, what only the survey names is all there is, and there is nothing to report.
pub(super) fn assemble(
    network: &mut Network,
    survey: &Survey,
    (supplies, names): (Option<&Supplies>, &Designations),
    interlocks: &[Option<InterlockId>],
    findings: &mut Vec<Finding>,
) {
    let none = Supplies::default();
    let file = supplies.unwrap_or(&none);
    let meant = match supplies {
        Some(file) => naming::meant(survey, file, names, network, findings),
        None => Meant::nothing(network),
    };
    for (device, row) in network.devices.iter_mut().zip(&meant.devices) {
        if let Some(described) = row.and_then(|row| file.devices.get(row)) {
            describe(device, described, file, survey, findings);
        }
    }
    network.described = told_apart(file, names);
    network.facts = file.devices.iter().map(Facts::of).collect();
    let Meant { devices, supplies: boards, sources } = &meant;
    let mut graph = Graph::with_capacity(file.devices.len() + devices.len() + boards.len() + sources.len());
    let nodes = nodes::add(&mut graph, network, file, &meant);
    nodes::couple(&mut graph, network, file, &nodes, interlocks);
    network.device_nodes.clone_from(&nodes.devices);
    feeding::feed(&mut graph, network, file, names, &nodes, findings);
    graph.finish();
    nodes::find_batteries(&mut graph, network, file, &nodes);
    nodes::follow_in_step(&mut graph, file, names);
    let mut ancestry = if names.is_empty() { Ancestry::default() } else { Ancestry::of(&graph) };
    network.graph = graph;
    if supplies.is_some() {
        nodes::report_coupled_twice(network, survey, findings);
        loose_ends::report(network, survey, file, &meant, &ancestry, findings);
    }
    attachment::attach(network, survey, file, names, &nodes, &mut ancestry);
    network.lenders = lending::lenders(network, survey, names);
    network.sharing = lending::sharing(network, survey);
}

/// The names of the rows, those that several bear with their locations: `Q1 (Board C)`.
fn told_apart(file: &Supplies, names: &Designations) -> Vec<String> {
    let name = |device: &crate::supplies::DescribedDevice| match names.find(&device.designation) {
        Found::Several(_) if !device.location.is_empty() => format!("{} ({})", device.designation, device.location),
        Found::Nowhere | Found::At(_) | Found::Several(_) => device.designation.clone(),
    };
    file.devices.iter().map(name).collect()
}
