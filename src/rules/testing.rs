//! What the tests of the rules share: a survey as text, decided.

use super::{Decisions, Explanation, IsolatorEntry, Outcome, Rule, RuleOptions, decide, explain, isolators};
use crate::finding::Finding;
use crate::network::testing::{described, joined, surveyed};
use crate::network::{Network, NetworkOptions};
use crate::survey::{ReadOptions, Survey, read};

/// The columns of [`decided`], without those that a test adds.
const HEADER: &str = "enclosure,circuit,fed_from,source,nominal,conductors,earthing,voltage_to_earth,isolator,isolator_location,poles,locking";

/// A row that needs no notice.
pub(super) const PLAIN: &str = "E1,C/1,DB-C,mains,230,L1 N,TN-S,230,Q1,Board C,1,padlock";

/// Decides a survey of rows under the usual header with further columns.
pub(super) fn decided(further_columns: &str, rows: &[&str]) -> (Decisions, Vec<Finding>) {
    decided_with(further_columns, rows, &RuleOptions::default())
}

pub(super) fn decided_with(further_columns: &str, rows: &[&str], options: &RuleOptions) -> (Decisions, Vec<Finding>) {
    let comma = if further_columns.is_empty() { "" } else { "," };
    decided_text(&format!("{HEADER}{comma}{further_columns}\n{}\n", rows.join("\n")), options)
}

/// Decides a survey of rows with a supplies file of lines `device,kind,fed_from,location,poles,earthing` and further
/// columns.
pub(super) fn decided_by_both(
    further_columns: &str,
    rows: &[&str],
    further_of_supplies: &str,
    lines: &[&str],
) -> (Decisions, Vec<Finding>) {
    let (survey, network) = both(further_columns, rows, further_of_supplies, lines);
    decide(&survey, &network, &RuleOptions::default())
}

/// The isolator index of the same.
pub(super) fn indexed_by_both(
    further_columns: &str,
    rows: &[&str],
    further_of_supplies: &str,
    lines: &[&str],
) -> Vec<IsolatorEntry> {
    let (survey, network) = both(further_columns, rows, further_of_supplies, lines);
    let (decisions, _) = decide(&survey, &network, &RuleOptions::default());
    isolators(&survey, &network, &decisions.enclosures)
}

fn both(further_columns: &str, rows: &[&str], further_of_supplies: &str, lines: &[&str]) -> (Survey, Network) {
    let comma = |columns: &str| if columns.is_empty() { String::new() } else { format!(",{columns}") };
    let survey = surveyed(&format!("{HEADER}{}", comma(further_columns)), rows);
    let header = format!("device,kind,fed_from,location,poles,earthing{}", comma(further_of_supplies));
    let (network, _) = joined(&survey, &described(&header, lines));
    (survey, network)
}

pub(super) fn decided_text(text: &str, options: &RuleOptions) -> (Decisions, Vec<Finding>) {
    let reading = read(text.as_bytes(), &ReadOptions::new("test.csv"));
    let (network, mut findings) = Network::join(&reading.survey, None, &NetworkOptions::default());
    let (decisions, further) = decide(&reading.survey, &network, options);
    findings.extend(further);
    (decisions, findings)
}

/// Why the first enclosure of such a survey is decided as it is.
pub(super) fn explained(further_columns: &str, rows: &[&str]) -> Explanation {
    let survey = surveyed(&format!("{HEADER},{further_columns}"), rows);
    let network = Network::join(&survey, None, &NetworkOptions::default()).0;
    explain(&survey, &network, &RuleOptions::default(), 0)
}

/// The outcome of one rule for the first enclosure.
pub(super) fn outcome(rule: Rule, further_columns: &str, rows: &[&str]) -> Outcome {
    let (decisions, _) = decided(further_columns, rows);
    outcome_in(&decisions, rule)
}

pub(super) fn outcome_in(decisions: &Decisions, rule: Rule) -> Outcome {
    let reasons = &decisions.enclosures.first().unwrap().reasons;
    reasons.iter().find(|reason| reason.rule == rule).unwrap().outcome
}

/// The names of the codes found, in the order in which they are reported.
pub(super) fn codes(findings: &[Finding]) -> Vec<&'static str> {
    findings.iter().map(|finding| finding.code.name).collect()
}
