//! The proof of one enclosure in words: its result, every live path, every gap, and advice apart from both.

use crate::cli::pipeline::Loaded;
use crate::cli::report::{counted, visible};
use crate::network::EnclosureId;
use crate::rules::Decision;

/// Live paths, and gaps, that are written out.
const MOST_LINES: usize = 12;

/// What the proof of an enclosure shows beside its result, in words, as far as anybody reads it.
pub(in crate::cli) struct Proved {
    /// The first live paths.
    pub paths: Vec<String>,
    /// The first reasons why it is not known whether live parts remain.
    pub gaps: Vec<String>,
    /// Advice, which does not replace the points that the survey declares.
    pub advice: Vec<String>,
    /// How many live paths there are.
    all_paths: usize,
    /// How many reasons there are.
    all_gaps: usize,
}

/// The proof of one enclosure in words.
pub(in crate::cli) fn proved(loaded: &Loaded, decision: &Decision) -> Proved {
    let whole = (!loaded.network.is_described()).then(|| loaded.network.proof(EnclosureId::new(decision.enclosure)));
    let proof = whole.as_ref().unwrap_or(&decision.proof);
    let path = |path| loaded.network.path_in_words(&loaded.survey, path);
    let mut gaps = loaded.network.gaps_in_words(&loaded.survey, &proof.gaps);
    let all_gaps = gaps.len();
    gaps.truncate(MOST_LINES);
    Proved {
        paths: proof.paths.iter().take(MOST_LINES).map(path).collect(),
        gaps,
        advice: loaded.network.advice_in_words(proof),
        all_paths: proof.paths.len(),
        all_gaps,
    }
}

/// The section `Proof`.
pub(super) fn section(loaded: &Loaded, decision: &Decision) -> String {
    let Proved { paths, gaps, advice, all_paths, all_gaps } = proved(loaded, decision);
    let mut text = format!("\nProof: {}\n", decision.proof_in_words());
    text.extend(paths.iter().map(|path| format!("  live: {}\n", visible(path))));
    text.push_str(&more(all_paths, "live path"));
    text.extend(gaps.iter().map(|gap| format!("  not known: {}\n", visible(gap))));
    text.push_str(&more(all_gaps, "gap"));
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
