//! What the decision about an enclosure goes back to: points of isolation, voltages, the proof, the rules that ask for
//! nothing, and what the survey does not say.

use super::Document;
use super::notice::silent_reasons;
use crate::pages::texts::{MOST_LINES, body, counted, listed, mm, ruled, sentence, strong};
use crate::pages::{Block, Cell, Column, Style, Text};
use crate::rules::{Decision, Explanation, Outcome, PointOfIsolation};
use crate::survey::value::{Basis, DeviceKind};
use crate::survey::{Enclosure, Row};

/// All of it, in the order in which it is read.
pub(super) fn blocks(
    document: &Document<'_>,
    decision: &Decision,
    explanation: &Explanation,
    enclosure: &Enclosure,
) -> Vec<Block> {
    let mut blocks = points(decision);
    let voltages = explanation.voltages.iter().map(|line| sentence(line)).collect();
    blocks.push(Block::Columns(vec![
        vec![Block::heading("Voltages"), Block::List(voltages)],
        proof(document, decision),
        vec![Block::heading("What is not known"), Block::List(unknown(document, decision, enclosure))],
    ]));
    if let Some(table) = silent_reasons(&explanation.reasons) {
        blocks.extend([Block::heading("Rules that ask for nothing here, on the survey's word"), table]);
    }
    blocks
}

fn points(decision: &Decision) -> Vec<Block> {
    if decision.points.is_empty() {
        return vec![Block::heading("Points of isolation"), Block::body("None is declared.")];
    }
    let rows = (1..).zip(&decision.points).map(|(number, point)| point_row(number, point)).collect();
    let columns = vec![
        Column::Fixed(mm(8)),
        Column::Fitted(mm(42)),
        Column::Share(5),
        Column::Fitted(mm(38)),
        Column::Share(4),
        Column::Share(4),
        Column::Share(4),
    ];
    let head = ["", "device", "location", "kind", "how", "circuits", "what they serve here"];
    let mut blocks = vec![Block::heading("Points of isolation"), ruled(&head, columns, rows)];
    if decision.locations_left_out {
        blocks.push(Block::body("By declaration the notice leaves the locations away."));
    }
    blocks
}

fn point_row(number: usize, point: &PointOfIsolation) -> Vec<Cell> {
    let mut how: Cell = point
        .order
        .map(|order| format!("number {order} in the sequence"))
        .into_iter()
        .chain(point.handling())
        .map(|line| Text::new(Style::Body, line).into())
        .collect();
    if point.locking.is_none() {
        how.push(Text::new(Style::Body, "locking not said").into());
    }
    let location = if point.location.is_empty() { "not known" } else { &point.location };
    vec![
        strong(number.to_string()),
        strong(&point.device),
        body(location),
        body(point.kind.map_or("not said", DeviceKind::name)),
        how,
        body(point.circuits.join(", ")),
        body(point.serves.join(", ")),
    ]
}

fn proof(document: &Document<'_>, decision: &Decision) -> Vec<Block> {
    let (network, survey) = (document.prepared.network, document.prepared.survey);
    let mut blocks = vec![Block::heading("Proof"), Block::body(format!("{}.", sentence(&decision.proof_in_words())))];
    let paths = decision.proof.paths.iter().map(|path| format!("live: {}", network.path_in_words(survey, path)));
    let paths = listed(paths, "live path");
    blocks.extend((!paths.is_empty()).then_some(Block::List(paths)));
    let advice = network.advice_in_words(&decision.proof);
    if !advice.is_empty() {
        blocks.push(Block::body("Advice; it does not replace the points that the survey declares:"));
        blocks.push(Block::List(advice));
    }
    blocks
}

/// What the survey and the supplies file leave open.
fn unknown(document: &Document<'_>, decision: &Decision, enclosure: &Enclosure) -> Vec<String> {
    let (network, survey) = (document.prepared.network, document.prepared.survey);
    let mut lines = Vec::new();
    let undecided = decision.reasons.iter().filter(|reason| reason.outcome == Outcome::Unknown);
    let undecided: Vec<String> = undecided.map(|reason| reason.rule.in_words()).collect();
    if !undecided.is_empty() {
        lines.push(format!("By these rules it is not decided whether a notice is needed: {}", undecided.join(", ")));
    }
    if network.is_described() {
        let gaps = network.gaps_in_words(survey, &decision.proof.gaps);
        let gaps = gaps.iter().map(|gap| sentence(gap));
        lines.extend(listed(gaps, "gap"));
    } else {
        lines.push("No supplies file describes the network behind the isolators: nothing is proved".to_owned());
    }
    lines.extend(listed(enclosure.rows.iter().filter_map(not_known), "row"));
    lines.extend(assumed(&enclosure.rows));
    lines.push("A feed that neither file names is not known to this program, and is in no proof".to_owned());
    lines
}

/// The cells of a row that say that nobody knows.
fn not_known(row: &Row) -> Option<String> {
    let columns: Vec<&str> = row.not_known.iter().map(|column| column.name()).collect();
    (!columns.is_empty()).then(|| format!("Of circuit {} the survey says `?` for {}", row.circuit, columns.join(", ")))
}

/// The rows that are assumed.
fn assumed(rows: &[Row]) -> Option<String> {
    let mut circuits: Vec<&str> =
        rows.iter().filter(|row| row.basis == Some(Basis::Assumed)).map(|row| &*row.circuit).collect();
    if circuits.is_empty() {
        return None;
    }
    let more = circuits.len().saturating_sub(MOST_LINES);
    circuits.truncate(MOST_LINES);
    let more = if more > 0 { format!(" and {}", counted(more, "more row")) } else { String::new() };
    Some(format!("Assumed, not traced: {}{more}", circuits.join(", ")))
}
