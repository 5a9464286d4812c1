//! Drawings and notes, materials and quantities, findings.

use std::ops::Range;

use super::{Document, enclosure_anchor};
use crate::pages::texts::{body, mm, named_size, parts, quoted, ruled, sentence, strong};
use crate::pages::{Block, Cell, Column, Inside, Style, Text};
use crate::schedule::{FindingRow, MaterialRow, NoteRow};

fn small(words: impl Into<String>) -> Inside {
    Text::new(Style::Small, words).into()
}

/// Some of the drawings and notes.
pub(super) fn notes(document: &Document<'_>, rows: Range<usize>) -> Vec<Block> {
    let row = |row: &NoteRow<'_>| -> Vec<Cell> {
        vec![
            strong(row.designation),
            body(parts([row.name, row.area])),
            vec![small(row.file)],
            body(row.drawing),
            body(row.note),
        ]
    };
    let rows: Vec<Vec<Cell>> = document.schedule.notes.get(rows).unwrap_or_default().iter().map(row).collect();
    if rows.is_empty() {
        return vec![Block::body("Neither file has a drawing or a note.")];
    }
    let columns =
        vec![Column::Fixed(mm(34)), Column::Share(4), Column::Fixed(mm(24)), Column::Fixed(mm(44)), Column::Share(6)];
    let word = "These columns are printed here alone, never on a notice.";
    vec![Block::body(word), ruled(&["designation", "what and where", "file", "drawing", "note"], columns, rows)]
}

/// What is to be ordered.
pub(super) fn materials(document: &Document<'_>) -> Vec<Block> {
    let rows: Vec<Vec<Cell>> = document.schedule.materials.iter().map(material).collect();
    if rows.is_empty() {
        return vec![Block::body("There is nothing to order.")];
    }
    let columns = vec![
        Column::Fixed(mm(40)),
        Column::Share(4),
        Column::Fixed(mm(28)),
        Column::Share(4),
        Column::Share(5),
        Column::Share(5),
    ];
    let head = ["sheet format", "material", "to order", "notices", "rub test and usual life", "not said by the survey"];
    let word = "Rub test and years are what is usual in the trade, no promise: try a sample before the issue.";
    vec![ruled(&head, columns, rows), Block::body(word)]
}

fn material(row: &MaterialRow<'_>) -> Vec<Cell> {
    let quantity = row.quantity;
    let word = if quantity.is_roll() { "label" } else { "sheet" };
    let (material, notices) = row.areas();
    let (indoors, outdoors) = row.lives();
    let unknown = [
        (quantity.environment_unknown, "what they must stand up to"),
        (quantity.surface_unknown, "what they are fixed on"),
    ];
    let unknown = unknown.into_iter().filter(|(count, _)| *count > 0);
    vec![
        vec![Text::new(Style::Strong, &quantity.format.name).into(), small(named_size(quantity.format.paper))],
        vec![
            Text::new(Style::Body, quantity.material()).into(),
            small(format!("{}, {}", quantity.stock().name(), quantity.process().name())),
        ],
        vec![
            Text::new(Style::Body, crate::pages::texts::counted(quantity.sheets, word)).into(),
            small(format!("{material} m²")),
        ],
        vec![
            Text::new(Style::Body, crate::pages::texts::counted(quantity.notices(), "notice")).into(),
            small(row.sizes()),
            small(format!("{notices} m²")),
        ],
        vec![small(sentence(&row.rub_test())), small(format!("Usual life: {indoors} indoors, {outdoors} in the open"))],
        unknown.map(|(count, what)| small(format!("{count}: {what}"))).collect(),
    ]
}

/// Some of the findings.
pub(super) fn findings(document: &Document<'_>, rows: Range<usize>) -> Vec<Block> {
    let rows = document.schedule.findings.get(rows).unwrap_or_default();
    if rows.is_empty() {
        return vec![Block::body("Nothing was found.")];
    }
    let columns = vec![Column::Fixed(mm(18)), Column::Fixed(mm(32)), Column::Share(6), Column::Share(3)];
    let rows = rows.iter().map(|row| finding(document, row)).collect();
    vec![ruled(&["severity", "enclosure", "what was found, and what to do", "where"], columns, rows)]
}

fn finding(document: &Document<'_>, row: &FindingRow<'_>) -> Vec<Cell> {
    let finding = row.finding;
    let mut said: Cell = vec![Text::new(Style::Body, quoted(&sentence(&finding.message))).into()];
    said.extend(finding.help.iter().map(|help| small(quoted(&sentence(help)))));
    let name = finding.enclosure.as_deref().unwrap_or_default();
    let enclosure = Text::new(Style::Body, name);
    let enclosure = match document.enclosure_named.get(name) {
        Some(&at) => enclosure.leading_to(enclosure_anchor(at)),
        None => enclosure,
    };
    vec![strong(finding.severity().name()), vec![enclosure.into()], said, vec![small(row.place())]]
}
