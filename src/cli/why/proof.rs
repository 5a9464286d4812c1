//! The proof of one enclosure in words: its result, every live path, every gap, and advice apart from both.

use crate::cli::pipeline::Loaded;
use crate::cli::report::{counted, visible};
use crate::network::{Cut, Gap, Proof, ProofResult};
use crate::rules::Decision;

/// Live paths, and gaps, that are written out.
const MOST_LINES: usize = 12;

/// The section `Proof`.
pub(super) fn section(loaded: &Loaded, decision: &Decision) -> String {
    let proof = &decision.proof;
    let mut text = format!("\nProof: {}\n", result(decision));
    let path = |path| format!("  live: {}\n", visible(&loaded.network.path_in_words(&loaded.survey, path)));
    let gap = |gap| format!("  not known: {}\n", visible(&loaded.network.gap_in_words(&loaded.survey, gap)));
    text.extend(proof.paths.iter().take(MOST_LINES).map(path));
    text.push_str(&more(proof.paths.len(), "live path"));
    text.extend(proof.gaps.iter().take(MOST_LINES).map(gap));
    text.push_str(&more(proof.gaps.len(), "gap"));
    let advice = advice(loaded, proof);
    if !advice.is_empty() {
        text.push_str("  Advice; it does not replace the points that the survey declares\n");
        text.extend(advice.iter().map(|line| format!("  - {}\n", visible(line))));
    }
    text
}

/// How many of a kind are not written out.
fn more(count: usize, word: &str) -> String {
    match count.saturating_sub(MOST_LINES) {
        0 => String::new(),
        left_out => format!("  and {} more; --report json has them all\n", counted(left_out, word)),
    }
}

/// The result, and with what opened.
fn result(decision: &Decision) -> String {
    let opened = match decision.points.len() {
        0 => "with nothing to open declared".to_owned(),
        1 => "with point 1 open".to_owned(),
        2 => "with points 1 and 2 open".to_owned(),
        count => format!("with points 1 to {count} open"),
    };
    match decision.proof.result {
        ProofResult::NoPathFound => {
            format!("no path found {opened}, on the word of survey and supplies file. Prove dead at the point of work")
        }
        ProofResult::Live => format!("live {opened}. Treat as live"),
        ProofResult::Unknown => unknown(&decision.proof.gaps, &opened),
    }
}

/// Why nothing can be said: what a UPS does is no gap of the description.
fn unknown(gaps: &[Gap], opened: &str) -> String {
    if !gaps.is_empty() && gaps.iter().all(|gap| matches!(gap, Gap::BackFeed(..))) {
        return format!("unknown. Whether a UPS feeds back {opened} is not known. Treat as live");
    }
    "unknown. The supply network is not described in full, so it is not proved that opening these leaves nothing live"
        .to_owned()
}

fn advice(loaded: &Loaded, proof: &Proof) -> Vec<String> {
    let mut lines = Vec::new();
    if let Some(cut) = &proof.cut {
        lines.push(smallest(loaded, cut));
    }
    if !proof.surplus.is_empty() {
        let devices = loaded.network.surplus_in_words(proof);
        lines.push(format!("with the others open, this changes nothing in the model: {devices}"));
    }
    lines
}

fn smallest(loaded: &Loaded, cut: &Cut) -> String {
    let devices = loaded.network.cut_in_words(cut);
    let proved = if cut.proved_smallest { "" } else { "; it is not proved that none is smaller" };
    match cut.devices.as_slice() {
        [_] => format!("one device parts it from every source in the model: {devices}"),
        _ => {
            let operations = counted(cut.operations, "operation");
            format!("the smallest set that parts it from every source in the model: {devices} ({operations}){proved}")
        }
    }
}
