//! Standing notices in the machine-readable report.

use serde::Serialize;

use crate::rules::StandingDecision;
use crate::standing::{Date, Entry, Standing};

/// One notice of the list, with what was decided.
#[derive(Debug, Serialize)]
pub(super) struct StandingEntry<'a> {
    number: &'a str,
    kind: &'static str,
    notice: &'static str,
    rule: &'static str,
    clause: Option<&'static str>,
    basis: Option<&'static str>,
    because: &'a str,
    area: &'a str,
    position: &'a str,
    /// `own`, `prescribed`, `unverified` or `free`.
    words: &'static str,
    last_inspection: Option<String>,
    next_inspection: Option<String>,
}

/// Every notice of a list.
pub(super) fn entries<'a>(list: &'a Standing, decisions: &'a [StandingDecision]) -> Vec<StandingEntry<'a>> {
    let one = |decision: &'a StandingDecision| Some(entry(list.entries.get(decision.entry)?, decision));
    decisions.iter().filter_map(one).collect()
}

fn entry<'a>(entry: &'a Entry, decision: &'a StandingDecision) -> StandingEntry<'a> {
    let reason = &decision.reason;
    let written = |date: Option<Date>| date.map(|date| date.to_string());
    StandingEntry {
        number: &entry.number,
        kind: entry.kind.name(),
        notice: reason.outcome.name(),
        rule: reason.rule.name(),
        clause: reason.clause.map(|clause| clause.reference),
        basis: reason.clause.map(|clause| clause.confidence.name()),
        because: &decision.because,
        area: &entry.area,
        position: &entry.position,
        words: decision.words.name(),
        last_inspection: written(entry.last_inspection),
        next_inspection: written(entry.next_inspection),
    }
}
