//! What needs no notice, what is left out, and what is lifted or unknown beside a notice.

use std::ops::Range;

use super::{Document, SilentRow};
use crate::pages::texts::{mm, parts, ruled, sentence};
use crate::pages::{Block, Cell, Column, Inside, Style, Text, cautions};
use crate::rules::clause_in_short;
use crate::schedule::Made;

/// Some of the rows, those of one outcome under one heading.
pub(super) fn blocks(document: &Document<'_>, rows: Range<usize>) -> Vec<Block> {
    let is_first = rows.start == 0;
    let rows = document.schedule.silent.get(rows).unwrap_or_default();
    let mut blocks = Vec::new();
    if is_first {
        let word =
            "Everything here is on the survey's word. A row that is wrong means a notice that is missing on site.";
        blocks.push(Block::body(word));
    }
    blocks.push(Block::text(Style::Small, cautions::CLAUSE_WORDS));
    if rows.is_empty() {
        blocks.push(Block::body("There is nothing of the kind among what is asked for."));
    }
    for part in rows.chunk_by(|one, other| (one.made, one.kind) == (other.made, other.kind)) {
        let Some(first) = part.first() else { continue };
        blocks.push(Block::heading(heading(first)));
        let rows = part.chunk_by(SilentRow::is_of_the_same).flat_map(group).collect();
        let columns = vec![
            Column::Share(2),
            Column::Fixed(mm(35)),
            Column::Fixed(mm(19)),
            Column::Share(5),
            Column::Share(2),
            Column::Fixed(mm(47)),
        ];
        let head = [first.kind, "rule", "outcome", "because", "declared, and by whom", "clause"];
        blocks.push(ruled(&head, columns, rows));
    }
    blocks
}

fn heading(row: &SilentRow<'_>) -> String {
    match (row.made, row.kind) {
        (Made::None, "isolator") => "Isolators without a notice, on the survey's word".to_owned(),
        (Made::None, _) => "Enclosures without a notice, on the survey's word".to_owned(),
        (Made::Printed, kind) => format!("Lifted or unknown beside a notice, {kind}s"),
        (Made::LeftOut, _) => "Left out because of errors; to be treated as live".to_owned(),
    }
}

/// The rows of one enclosure or isolator, a rule a line.
fn group(rows: &[SilentRow<'_>]) -> Vec<Vec<Cell>> {
    rows.iter().enumerate().map(|(number, row)| line(row, number == 0)).collect()
}

/// What the rows are about, in full on the first of them.
fn name(row: &SilentRow<'_>, in_full: bool) -> Cell {
    if !in_full {
        return vec![Text::new(Style::Small, row.designation).into()];
    }
    let mut cell: Cell = vec![Text::new(Style::Strong, row.designation).into()];
    let about = parts([row.name, row.area]);
    cell.extend((!about.is_empty()).then(|| Text::new(Style::Body, about).into()));
    cell.extend((!row.basis.is_empty()).then(|| small(format!("rows: {}", row.basis))));
    cell
}

fn small(words: impl Into<String>) -> Inside {
    Text::new(Style::Small, words).into()
}

fn line(row: &SilentRow<'_>, is_first: bool) -> Vec<Cell> {
    let is_rule = !row.rule.is_empty();
    let rule = if is_rule { sentence(&row.rule) } else { String::new() };
    let clause = if is_rule { clause_in_short(row.clause) } else { String::new() };
    vec![
        name(row, is_first),
        vec![Text::new(Style::Strong, rule).into()],
        vec![Text::new(Style::Body, row.outcome.replace('-', " ")).into()],
        vec![Text::new(Style::Body, sentence(&row.because)).into()],
        declared(row),
        vec![small(clause)],
    ]
}

fn declared(row: &SilentRow<'_>) -> Cell {
    let mut cell: Cell = Vec::new();
    cell.extend((!row.declared.what.is_empty()).then(|| Text::new(Style::Body, &row.declared.what).into()));
    cell.extend((!row.declared.by.is_empty()).then(|| small(format!("by {}", row.declared.by))));
    cell
}
