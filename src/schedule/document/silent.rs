//! What needs no notice, what is left out, and what is lifted or unknown beside a notice.

use std::ops::Range;

use super::{Document, SilentRow};
use crate::pages::texts::{parts, ruled, sentence};
use crate::pages::{Block, Cell, Column, Inside, Style, Text};
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
    if rows.is_empty() {
        blocks.push(Block::body("There is nothing of the kind among what is asked for."));
    }
    for part in rows.chunk_by(|one, other| (one.made, one.kind) == (other.made, other.kind)) {
        let Some(first) = part.first() else { continue };
        blocks.push(Block::heading(heading(first)));
        let rows = part.chunk_by(SilentRow::is_of_the_same).flat_map(group).collect();
        let columns = vec![Column::Share(8), Column::Share(8), Column::Share(20), Column::Share(10), Column::Share(12)];
        let head = [first.kind, "rule", "because", "what is declared, and by whom", "clause"];
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

/// The rows of one enclosure or isolator: what something lifts or leaves open one by one, what finds nothing to apply to
/// together in one.
fn group(rows: &[SilentRow<'_>]) -> Vec<Vec<Cell>> {
    let (plain, told): (Vec<&SilentRow<'_>>, Vec<&SilentRow<'_>>) =
        rows.iter().partition(|row| row.outcome == crate::rules::Outcome::NotNeeded.name());
    let mut lines: Vec<Vec<Cell>> = told.iter().map(|row| line(row)).collect();
    lines.extend(together(&plain));
    for (number, line) in lines.iter_mut().enumerate() {
        let name = rows.first().map(|row| name(row, number == 0)).unwrap_or_default();
        line.insert(0, name);
    }
    lines
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

fn line(row: &SilentRow<'_>) -> Vec<Cell> {
    let rule = if row.rule.is_empty() { String::new() } else { format!("{}: {}", sentence(&row.rule), row.outcome) };
    vec![
        vec![Text::new(Style::Body, rule).into()],
        vec![Text::new(Style::Body, sentence(&row.because)).into()],
        declared(row),
        vec![small(row.clause_in_words())],
    ]
}

fn declared(row: &SilentRow<'_>) -> Cell {
    let mut cell: Cell = Vec::new();
    cell.extend((!row.declared.what.is_empty()).then(|| Text::new(Style::Body, &row.declared.what).into()));
    cell.extend((!row.declared.by.is_empty()).then(|| small(format!("by {}", row.declared.by))));
    cell
}

/// Rules that find nothing to apply to, in one line.
fn together(rows: &[&SilentRow<'_>]) -> Option<Vec<Cell>> {
    let first = rows.first()?;
    let because = rows.iter().map(|row| format!("{}: {}.", sentence(&row.rule), row.because)).collect::<Vec<_>>();
    Some(vec![
        vec![Text::new(Style::Body, "Rules that do not apply").into()],
        vec![Text::new(Style::Body, because.join(" ")).into()],
        declared(first),
        clauses(rows),
    ])
}

/// The clauses, those that are known alike together.
fn clauses(rows: &[&SilentRow<'_>]) -> Cell {
    let surely = |row: &SilentRow<'_>| row.clause.map(|clause| clause.confidence);
    let alike = rows.chunk_by(|one, other| surely(one) == surely(other));
    let said = alike.map(|alike| {
        let confidence = alike.first().and_then(|row| surely(row));
        let references: Vec<&str> = alike.iter().filter_map(|row| Some(row.clause?.reference)).collect();
        match confidence {
            Some(confidence) => small(format!("{} ({})", references.join(", "), confidence.in_words())),
            None => small("common practice"),
        }
    });
    said.collect()
}
