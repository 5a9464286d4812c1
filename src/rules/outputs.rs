//! Output terminals of UPSs and converters: where they are not proved, and where a row may speak of something else.

use super::case::Case;
use crate::finding::{Finding, code};
use crate::network::{Gap, NodeId, spelling};
use crate::survey::Column;
use crate::table::WordList;

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

/// What the output of a UPS is called in some of the languages that cells are read in: a row that says so is one whatever else
/// it says. Of a word that is not here the user is asked, which harms nobody.
static OUTPUT: WordList = WordList::new(&[
    "output",
    "outputs",
    "out",
    "outgoing",
    "ausgang",
    "ausgänge",
    "abgang",
    "sortie",
    "salida",
    "uscita",
    "saída",
    "uitgang",
    "utgång",
    "udgang",
    "wyjście",
    "výstup",
    "lähtö",
]);

/// What is said of it without that word, and nothing else: a heating return pump is a load, and a socket in a UPS room another.
static AT_OUTPUT: WordList = WordList::new(&[
    "load",
    "loads",
    "terminal",
    "terminals",
    "ups",
    "usv",
    "inverter",
    "bypass",
    "by",
    "pass",
    "return",
    "back",
    "feed",
    "feeds",
    "supply",
    "side",
    "of",
    "to",
    "the",
    "from",
    "for",
    "at",
    "via",
    "and",
    "o",
    "p",
    "static",
    "switch",
    "maintenance",
    "critical",
    "in",
]);

/// Whether a row says that it is the output of this UPS.
fn says_output(serves: &str, ups: &str) -> bool {
    let own: Vec<String> = spelling::words(ups).map(str::to_lowercase).collect();
    let is_at_output = |word: &str| {
        let is_number = word.bytes().all(|byte| byte.is_ascii_digit());
        is_number || own.contains(&word.to_lowercase()) || spelling::has_word(word, &AT_OUTPUT)
    };
    spelling::has_word(&serves.to_lowercase(), &OUTPUT) || spelling::words(serves).all(is_at_output)
}

/// Reports rows that are held for the output terminals of the UPS, and that by `serves` are none: beyond the isolator they
/// would stay live by what comes back there.
fn report_doubtful(case: &Case<'_>, findings: &mut Vec<Finding>) {
    for (id, row, way) in case.numbered_rows() {
        let Some(ups) = case.network.output_of(id) else { continue };
        let name = case.network.node_name(ups);
        let serves = row.serves.as_deref().filter(|serves| !says_output(serves, &name));
        let (Some(serves), Some(fed_from), Some(device)) =
            (serves, row.fed_from.as_deref(), way.isolated.devices().first())
        else {
            continue;
        };
        let isolator = case.device_name(*device);
        let message = format!(
            "circuit `{}`, {serves}, is taken for the output terminals of `{name}`: beyond `{isolator}` it would stay live \
             from `{fed_from}`",
            row.circuit
        );
        let help = format!(
            "say `output` in `serves` if it is those; else name what parts the circuit from `{fed_from}` in `isolator`"
        );
        findings.push(case.finding(code::PERHAPS_NOT_THE_OUTPUT, message, row, Column::Serves).help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::says_output;

    #[test]
    fn an_output_is_told_from_what_hangs_beyond_it() {
        for serves in [
            "output",
            "UPS-1 output to PDB",
            "USV-Ausgang",
            "Sortie onduleur",
            "UPS-1 terminals",
            "return from bypass",
            "UPS 2",
        ] {
            assert!(says_output(serves, "UPS-1"), "{serves}");
        }
        assert!(says_output("PSU-A terminals", "PSU-A") && !says_output("PSU-A terminals", "UPS-1"));
        for serves in ["UPS room socket", "heating return pump", "bypass valve heater", "load cell heater", "lighting"]
        {
            assert!(!says_output(serves, "UPS-1"), "{serves}");
        }
    }
}
