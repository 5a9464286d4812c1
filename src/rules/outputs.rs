//! Output terminals of UPSs and converters: where they are not proved, and where a row may speak of something else.

use super::case::Case;
use crate::finding::{Finding, code};
use crate::network::{Gap, NodeId, spelling};
use crate::survey::Column;

/// Reports what of the outputs of one enclosure a person must look at.
pub(super) fn report(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let output = |gap: &Gap| if let Gap::OutputNotProved(device) = gap { Some(*device) } else { None };
    // Where a live path leads through the device, that is an error already.
    let is_passed = |device: &NodeId| case.proof.paths.iter().any(|path| path.nodes.contains(device));
    let devices = case.proof.gaps.iter().filter_map(output).filter(|device| !is_passed(device));
    findings.extend(devices.filter_map(|device| not_proved(case, device)));
    report_doubtful(case, findings);
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

/// Words of what is at the output of a UPS itself.
const OUTPUT: [&str; 12] = [
    "output",
    "outputs",
    "out",
    "outgoing",
    "load",
    "terminal",
    "terminals",
    "ups",
    "inverter",
    "bypass",
    "return",
    "back",
];

/// Reports rows that are held for the output terminals of the UPS, and that by `serves` are none: beyond the isolator they
/// would stay live by what comes back there.
fn report_doubtful(case: &Case<'_>, findings: &mut Vec<Finding>) {
    for (id, row, way) in case.numbered_rows() {
        let Some(ups) = case.network.output_of(id) else { continue };
        let serves = row.serves.as_deref().filter(|serves| !spelling::has_word(serves, &OUTPUT));
        let (Some(serves), Some(fed_from), Some(device)) =
            (serves, row.fed_from.as_deref(), way.isolated.devices().first())
        else {
            continue;
        };
        let isolator = case.device_name(*device);
        let message = format!(
            "circuit `{}`, {serves}, is taken for the output terminals of `{}`: beyond `{isolator}` it would stay live \
             from `{fed_from}`",
            row.circuit,
            case.network.node_name(ups)
        );
        let help = format!(
            "say `output` in `serves` if it is those; else name what parts the circuit from `{fed_from}` in `isolator`"
        );
        findings.push(case.finding(code::PERHAPS_NOT_THE_OUTPUT, message, row, Column::Serves).help(help));
    }
}
