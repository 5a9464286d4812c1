//! The last pages: enclosures for which no notice is made and why, and what is left out because of errors.

use super::{Document, found};
use crate::pages::texts::{body, mm, parts, ruled, sentence, strong};
use crate::pages::{Block, Cell, Column, Section, Style, Text};
use crate::rules::Outcome;

/// Both lists.
pub(super) fn section(document: &Document<'_>) -> Section {
    let mut blocks = vec![Block::text(Style::Title, "No notice, and left out")];
    blocks.extend(left_out(document));
    blocks.extend(silent(document));
    Section { head: "No notice, and left out".to_owned(), blocks }
}

/// What is left out because of errors, with the errors.
fn left_out(document: &Document<'_>) -> Vec<Block> {
    let heading = Block::heading("Left out because of errors");
    if document.prepared.left_out.is_empty() {
        return vec![heading, Block::body("Nothing is left out.")];
    }
    let mut blocks = vec![
        heading,
        Block::body(
            "For these there is no notice to approve. The survey is to be mended first; until then they are to be treated as live.",
        ),
    ];
    for name in document.prepared.left_out {
        blocks.push(Block::text(Style::Subtitle, name));
        let findings = document.names.findings(name);
        blocks.push(if findings.is_empty() {
            Block::body("An isolator whose notice would name an enclosure that is left out.")
        } else {
            found::rows(findings)
        });
    }
    blocks
}

/// The enclosures that need no notice on the survey's word.
fn silent(document: &Document<'_>) -> Vec<Block> {
    let heading = Block::heading("No notice is made, on the survey's word");
    if document.prepared.silent.is_empty() {
        return vec![heading, Block::body("There is no such enclosure among those asked for.")];
    }
    let rows = document.prepared.silent.iter().filter_map(|&place| row(document, place)).collect();
    let columns = vec![Column::Fitted(mm(50)), Column::Fitted(mm(50)), Column::Share(1)];
    vec![
        heading,
        Block::body("A row that is wrong here means a notice that is missing on site. What lifts a rule stands first."),
        ruled(&["enclosure", "name, area", "why"], columns, rows),
    ]
}

fn row(document: &Document<'_>, place: usize) -> Option<Vec<Cell>> {
    let (decision, enclosure) = document.prepared.decided(place)?;
    let said = |text: Option<&str>| text.unwrap_or_default().to_owned();
    let explanation = document.prepared.explanation(decision);
    let because = |outcome: Outcome| {
        let reasons = explanation.reasons.iter().filter(move |one| one.reason.outcome == outcome);
        reasons.map(|one| format!("{}: {}.", sentence(&one.reason.rule.in_words()), one.because))
    };
    let mut why: Cell = because(Outcome::Lifted).map(|line| Text::new(Style::Body, line).into()).collect();
    let plain = because(Outcome::NotNeeded).collect::<Vec<_>>().join(" ");
    why.extend((!plain.is_empty()).then(|| Text::new(Style::Body, plain).into()));
    Some(vec![
        strong(&enclosure.designation),
        body(parts([said(enclosure.name.as_deref()).as_str(), said(enclosure.area.as_deref()).as_str()])),
        why,
    ])
}
