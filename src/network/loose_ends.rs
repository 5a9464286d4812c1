//! What the described network shows as a whole: circles, devices that nothing feeds, devices that feed nothing.

use std::collections::HashSet;

use foldhash::fast::RandomState;

use super::ancestry::Ancestry;
use super::describing::AtRecord;
use super::graph::DescribedBy;
use super::id::NodeId;
use super::naming::Meant;
use super::{Network, spelling};
use crate::finding::{Finding, code};
use crate::supplies::{DescribedDevice, Kind, Supplies, SupplyColumn};
use crate::survey::Survey;

/// Reports every loose end of the feeds that the supplies file describes.
pub(super) fn report(
    network: &Network,
    survey: &Survey,
    file: &Supplies,
    meant: &Meant,
    ancestry: &Ancestry,
    findings: &mut Vec<Finding>,
) {
    let mut circles: Vec<_> = ancestry.circles().filter_map(|members| circle(members, file)).collect();
    circles.sort_by_key(|(first, _)| *first);
    findings.extend(circles.into_iter().map(|(_, finding)| finding));
    findings.extend(file.devices.iter().filter(|device| is_not_fed(device)).map(|device| not_fed(device, file)));
    let rows = file.devices.iter().enumerate();
    let barren: Vec<_> = rows.filter(|(row, _)| network.graph.out_of_node(NodeId::new(*row)).is_empty()).collect();
    if barren.is_empty() {
        return;
    }
    let meant: HashSet<_> = meant.devices.iter().chain(&meant.supplies).chain(&meant.sources).flatten().collect();
    let barren = barren.into_iter().filter(|(row, _)| !meant.contains(row));
    let barren: Vec<_> = barren.map(|(_, device)| (spelling::key(&device.designation), device)).collect();
    let mut unnamed = barren.iter().map(|(key, _)| key.clone()).collect();
    leave_unnamed(&mut unnamed, network, survey);
    let barren = barren.into_iter().filter(|(key, _)| unnamed.contains(key));
    findings.extend(barren.map(|(_, device)| feeds_nothing(device, file)));
}

/// The first member of a circle, and what to report there.
fn circle(members: &[NodeId], file: &Supplies) -> Option<(usize, Finding)> {
    const SHOWN: usize = 8;
    let first = members.first()?.index();
    let device = file.devices.get(first)?;
    let names = members.iter().filter_map(|node| file.devices.get(node.index()));
    let mut names: Vec<_> = names.map(|device| format!("`{}`", device.designation)).collect();
    let further = names.len().saturating_sub(SHOWN);
    if further > 0 {
        names.truncate(SHOWN);
        names.push(format!("{further} more"));
    }
    let last = names.pop()?;
    let message = format!("{} and {last} feed each other in a circle", names.join(", "));
    let help = "a ring that can be closed is described so; otherwise one of them names the wrong device in `fed_from`";
    let finding = Finding::new(code::FED_IN_A_CIRCLE, message).help(help);
    Some((first, finding.at_record(file, device.record, SupplyColumn::FedFrom)))
}

/// Nothing is said to feed it. A row whose kind is not understood may be a source.
fn is_not_fed(device: &DescribedDevice) -> bool {
    device.fed_from.is_empty() && device.kind.is_some_and(|kind| kind != Kind::Source)
}

fn not_fed(device: &DescribedDevice, file: &Supplies) -> Finding {
    let kind = device.kind.map_or("device", Kind::name);
    let message = format!("nothing is said to feed `{}`, a `{kind}`", device.designation);
    Finding::new(code::DEVICE_NOT_FED, message)
        .help("name in `fed_from` what feeds it; where energy comes from is a `source`")
        .at_record(file, device.record, SupplyColumn::FedFrom)
}

fn feeds_nothing(device: &DescribedDevice, file: &Supplies) -> Finding {
    let message = format!("`{}` feeds nothing, and no row of the survey names it", device.designation);
    Finding::new(code::DEVICE_FEEDS_NOTHING, message)
        .help("look whether it is spelt otherwise where it is meant, or whether a row is missing")
        .at_record(file, device.record, SupplyColumn::Device)
}

/// Leaves of these names those that nothing names: neither what the survey alone describes, nor an enclosure, a circuit or a
/// shared neutral.
fn leave_unnamed(unnamed: &mut HashSet<String, RandomState>, network: &Network, survey: &Survey) {
    let of_survey = |described_by: DescribedBy| described_by == DescribedBy::Survey;
    let devices =
        network.devices.iter().filter(|device| of_survey(device.described_by)).map(|device| &*device.designation);
    let supplies = network.supplies.iter().filter(|supply| of_survey(supply.described_by));
    let supplies = supplies.map(|supply| supply.designation.as_str());
    let enclosures = survey.enclosures.iter().flat_map(|enclosure| {
        let rows = enclosure.rows.iter();
        let of_rows = rows.flat_map(|row| [Some(&*row.circuit), row.further().neutral_from.as_deref()]).flatten();
        std::iter::once(enclosure.designation.as_str()).chain(of_rows)
    });
    // A survey has many more names than there are here: none of them is kept.
    let mut key = String::new();
    for name in devices.chain(supplies).chain(enclosures) {
        key.clear();
        spelling::push_key(&mut key, name);
        unnamed.remove(&key);
    }
}
