//! Output terminals of UPSs and converters: where they are not proved.

use super::case::Case;
use crate::finding::{Finding, code};
use crate::network::{Gap, NodeId};
use crate::survey::Column;

/// Reports what of the outputs of one enclosure a person must look at.
pub(super) fn report(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let output = |gap: &Gap| if let Gap::OutputNotProved(device) = gap { Some(*device) } else { None };
    // Where a live path leads through the device, that is an error already.
    let is_passed = |device: &NodeId| case.proof.paths.iter().any(|path| path.nodes.contains(device));
    let devices = case.proof.gaps.iter().filter_map(output).filter(|device| !is_passed(device));
    findings.extend(devices.filter_map(|device| not_proved(case, device)));
}

fn not_proved(case: &Case<'_>, device: NodeId) -> Option<Finding> {
    let (name, phrase) = (case.network.node_name(device), case.network.node_phrase(device));
    let message = format!(
        "with every isolator of `{}` open energy may still come to the output terminals of `{phrase}`: they are not proved",
        case.designation()
    );
    let help = format!(
        "let an enclosure of the survey bear the name `{name}`, with rows of what feeds it, and one of its output: what parts \
         that from other sources in `isolator`, and what energy comes from there in `fed_from`"
    );
    let row = case.enclosure.rows.first()?;
    Some(case.finding(code::OUTPUT_NOT_PROVED, message, row, Column::Enclosure).help(help))
}
