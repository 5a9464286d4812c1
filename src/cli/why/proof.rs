//! The proof of one enclosure in words: its result, every live path, every gap, and advice apart from both.

use crate::cli::pipeline::Loaded;
use crate::cli::report::{counted, visible};
use crate::network::EnclosureId;
use crate::rules::Decision;

/// Live paths, and gaps, that are written out.
const MOST_LINES: usize = 12;

/// The section `Proof`.
pub(super) fn section(loaded: &Loaded, decision: &Decision) -> String {
    let whole = (!loaded.network.is_described()).then(|| loaded.network.proof(EnclosureId::new(decision.enclosure)));
    let proof = whole.as_ref().unwrap_or(&decision.proof);
    let mut text = format!("\nProof: {}\n", decision.proof_in_words());
    let path = |path| format!("  live: {}\n", visible(&loaded.network.path_in_words(&loaded.survey, path)));
    let gap = |gap| format!("  not known: {}\n", visible(&loaded.network.gap_in_words(&loaded.survey, gap)));
    text.extend(proof.paths.iter().take(MOST_LINES).map(path));
    text.push_str(&more(proof.paths.len(), "live path"));
    text.extend(proof.gaps.iter().take(MOST_LINES).map(gap));
    text.push_str(&more(proof.gaps.len(), "gap"));
    let advice = loaded.network.advice_in_words(proof);
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
