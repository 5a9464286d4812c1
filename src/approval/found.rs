//! What was found about an enclosure or about the whole survey, as a table.

use crate::finding::{Finding, Place};
use crate::pages::texts::{mm, quoted, ruled, strong};
use crate::pages::{Block, Cell, Column, Style, Text};

/// The findings; nothing where there are none.
pub(super) fn table(findings: &[&Finding]) -> Vec<Block> {
    if findings.is_empty() {
        return Vec::new();
    }
    vec![Block::heading("Findings"), rows(findings)]
}

/// Severity, what is wrong with what to do, where.
pub(super) fn rows(findings: &[&Finding]) -> Block {
    let row = |finding: &&Finding| -> Vec<Cell> {
        let mut said = vec![Text::new(Style::Body, quoted(&finding.message)).into()];
        said.extend(finding.help.iter().map(|help| Text::new(Style::Small, quoted(help)).into()));
        let place = finding.place.as_ref().map(Place::in_words).unwrap_or_default();
        vec![strong(finding.severity().name()), said, vec![Text::new(Style::Small, place).into()]]
    };
    let columns = vec![Column::Fixed(mm(18)), Column::Share(1), Column::Fitted(mm(80))];
    ruled(&["", "what was found, and what to do", "where"], columns, findings.iter().map(row).collect())
}
