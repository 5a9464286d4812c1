//! Findings as the page shows them, each with its place in the table.

use serde::Serialize;

use super::answer::{Answer, Refused, json};
use super::shown::Shown;
use crate::finding::{self, Finding, Severity};

/// So many findings are listed; of a survey with more the worst come first, and more would be read by nobody.
const LISTED: usize = 2_000;

#[derive(Clone, Debug, Serialize)]
pub(super) struct FindingAnswer {
    severity: &'static str,
    code: &'static str,
    message: String,
    help: Option<String>,
    file: Option<String>,
    of_survey: bool,
    line: Option<u32>,
    address: Option<String>,
    column: Option<String>,
    row: Option<u32>,
    cell: Option<usize>,
    enclosure: Option<String>,
}

#[derive(Serialize)]
struct Listed {
    total: usize,
    findings: Vec<FindingAnswer>,
}

#[derive(Serialize)]
struct Explained {
    name: &'static str,
    severity: &'static str,
    text: String,
}

/// All of them, the worst first.
pub(super) fn listed(shown: &Shown) -> Answer {
    let findings = shown.findings.iter().take(LISTED).map(|finding| one(shown, finding)).collect();
    Ok(json(&Listed { total: shown.findings.len(), findings }))
}

/// What a run found, the worst first.
pub(super) fn several(shown: &Shown, findings: &[Finding]) -> Vec<FindingAnswer> {
    let mut sorted: Vec<&Finding> = findings.iter().collect();
    sorted.sort_by_key(|finding| badness(finding));
    sorted.into_iter().take(LISTED).map(|finding| one(shown, finding)).collect()
}

/// By which the worst comes first.
pub(super) fn badness(finding: &Finding) -> u8 {
    match finding.severity() {
        Severity::Error => 0,
        Severity::Warning => 1,
        Severity::Advice => 2,
    }
}

/// One finding, with its place in the table where it has one.
pub(super) fn one(shown: &Shown, finding: &Finding) -> FindingAnswer {
    let (spot, place) = (shown.spot(finding), finding.place.as_ref());
    let said = |text: &String| (!text.is_empty()).then(|| text.clone());
    FindingAnswer {
        severity: finding.severity().name(),
        code: finding.code.name,
        message: finding.message.clone(),
        help: finding.help.clone(),
        file: place.map(|place| place.file.to_string()),
        of_survey: place.is_some_and(|place| *place.file == *shown.origin.name),
        line: place.map(|place| place.line),
        address: place.and_then(|place| said(&place.address)),
        column: place.and_then(|place| said(&place.column_name)),
        row: spot.and_then(|spot| spot.row),
        cell: spot.map(|spot| spot.cell),
        enclosure: finding.enclosure.clone(),
    }
}

/// What the code of a finding means.
pub(super) fn explained(name: &str) -> Answer {
    let code = finding::find(name).ok_or_else(Refused::not_found)?;
    let unindented = |line: &str| line.strip_prefix(' ').unwrap_or(line).to_owned();
    let text: Vec<String> = code.explanation.lines().map(unindented).collect();
    Ok(json(&Explained { name: code.name, severity: code.severity.name(), text: text.join("\n") }))
}
