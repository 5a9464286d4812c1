//! Sources that do not say how they are earthed, where another source of the same circuit does: by what the circuit's row and the
//! other source say, the one of them counts as earthed too, and it need not be.

use std::collections::BTreeMap;

use super::super::graph::Named;
use super::super::id::{NodeId, WayId};
use super::super::voltage;
use super::super::{Network, NetworkOptions};
use super::System;
use crate::finding::{Finding, code};
use crate::supplies::{Supplies, SupplyColumn};
use crate::survey::Row;
use crate::survey::value::{Current, Earthing, Volts};

/// One finding for each such source that would bring a higher voltage to earth if it is unearthed.
pub(super) fn report<'a>(
    network: &Network,
    supplies: &Supplies,
    rows: impl Iterator<Item = (WayId, &'a Row)>,
    options: &NetworkOptions,
) -> Vec<Finding> {
    let mut found: BTreeMap<NodeId, String> = BTreeMap::new();
    for (way, row) in rows {
        let systems = network.systems.of_way(way);
        let Some(told) = systems.iter().find(|system| system.earthing.is_some()) else { continue };
        let Some(used) = network.ways.get(way.index()).and_then(|entry| entry.voltage.to_earth) else { continue };
        for untold in systems.iter().filter(|system| system.earthing.is_none()) {
            let unearthed = if_unearthed(network, (way, row), *untold, options);
            let Some(unearthed) = unearthed.filter(|volts| *volts > used) else { continue };
            found.entry(untold.earthed).or_insert_with(|| {
                format!(
                    "`{}` does not say how it is earthed, and `{}`, which feeds circuit `{}` too, does: if it is \
                     unearthed, {unearthed} V to earth can stand there, and {used} V is used",
                    network.node_name(untold.earthed),
                    network.node_name(told.earthed),
                    row.circuit
                )
            });
        }
    }
    found.into_iter().filter_map(|(node, message)| finding(network, supplies, node, message)).collect()
}

/// The voltage to earth of a row if a system on it is unearthed.
fn if_unearthed(
    network: &Network,
    (way, row): (WayId, &Row),
    system: System,
    options: &NetworkOptions,
) -> Option<Volts> {
    let is_alternating = system.nominal.is_some_and(|nominal| nominal.current == Current::Ac);
    let unearthed = System { earthing: Some(Earthing::It), ..system };
    let nature = network.ways.get(way.index()).and_then(|entry| network.nature(entry));
    let voltage = voltage::of_row_among(row, nature, options.measured_tolerance_percent, &[unearthed], true);
    voltage.computed.to_earth.filter(|_| is_alternating).map(|(volts, _)| volts)
}

fn finding(network: &Network, supplies: &Supplies, node: NodeId, message: String) -> Option<Finding> {
    let Named::Described(row) = network.graph.node(node)?.named else { return None };
    let device = supplies.devices.get(row as usize)?;
    let finding = Finding::new(code::SOURCE_EARTHING_NOT_TOLD, message)
        .help("fill in `earthing`, as it is when this source runs alone");
    Some(finding.at(supplies.place(device.record, SupplyColumn::Earthing)))
}
